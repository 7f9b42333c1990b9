package report

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/model/unit"
	"rotorsieve/report/chart"
)

const envelopeCaption = "Level flight of the best design of each class: electrical power, thrust needed and available, and tip Mach number against airspeed, with the airspeeds of least power, of best range and of the end."

// Most designs that the lines of a plain panel can tell apart, and points of a
// line.
const (
	mostFlown      = 6
	envelopePoints = 60
)

// widePower is the ratio of powers from which a logarithmic axis shows the least of
// them better.
const widePower = 5

// flown is a best design that flies level, and the classes that it is best in.
type flown struct {
	craft  *model.Craft
	index  uint64
	class  string // in the legend
	limits []string
}

// flownOf lists the best designs that fly level, each once.
func flownOf(found []finding) []flown {
	var out []flown
	for i := range found {
		e := found[i].Best()
		if e == nil || !e.Craft.Flight.OK || e.Craft.Flight.Top.Airspeed == 0 {
			continue
		}
		limit := mass(found[i].Class.Limit)
		if n := slices.IndexFunc(out, func(k flown) bool { return k.index == e.Index }); n >= 0 {
			out[n].limits = append(out[n].limits, limit)
			out[n].class = joinAnd(out[n].limits) + star(e.marked())
			continue
		}
		out = append(out, flown{e.Craft, e.Index, className(found[i].Class) + star(e.marked()), []string{limit}})
	}
	return out
}

// envelopeFigure draws the level flight of the best designs.
func envelopeFigure(r *Run, found []finding) (*chart.Figure, string, error) {
	all := flownOf(found)
	if len(all) == 0 {
		return nil, "no design that flies level", nil
	}
	return drawEnvelope(all, envelopeTitle(all), subtitleOf(r)), "", nil
}

// WriteEnvelope draws the level flight of one design into envelope.png in a
// folder, which it makes where it is missing, and returns the path: "" for a
// craft that does not fly level.
func WriteEnvelope(dir string, d model.Design, c *model.Craft) (string, error) {
	if !c.Flight.OK || c.Flight.Top.Airspeed == 0 {
		return "", nil
	}
	one := []flown{{craft: c, class: mass(c.Mass) + star(len(c.Warnings()) > 0), limits: []string{mass(c.Mass)}}}
	f := drawEnvelope(one, envelopeTitle(one), designText(d))
	file, err := writeFile(dir, "envelope.png", func(w io.Writer) error { return f.WritePNG(w) })
	return filepath.Join(dir, file.Name), err
}

// drawEnvelope draws the level flight of designs under the same assumptions.
func drawEnvelope(all []flown, title, subtitle string) *chart.Figure {
	f := &chart.Figure{
		Title:    title,
		Subtitle: subtitle,
		Note: "Power and tip Mach number at the pack's mean voltage; thrust available, at full throttle in the flow of level flight, and top speed at " +
			unit.Ratio.Unit("%").Format(all[0].craft.Model.Assume.Charge, 3) + " charge. Top speed is limited by " + endsBy(all) + ".",
	}
	if len(all) > mostFlown {
		f.Note += fmt.Sprintf(" The first %d of %d designs are drawn.", mostFlown, len(all))
		all = all[:mostFlown]
	}
	var out outside
	for _, k := range all {
		place := ""
		if len(all) > 1 {
			place = "at " + joinAnd(k.limits)
		}
		out.addCraft(place, k.craft)
	}
	if len(all) > 1 {
		f.Note += bestAirspeeds(all)
	}
	f.Note += out.note()
	f.Panels = []chart.Panel{
		levelPanel(all, bracketed("electrical power", "W"), func(_ *model.Craft, x *flight.Cruise) float64 { return x.Power }),
		thrustPanel(all),
		levelPanel(all, bracketed("tip Mach number", "-"), (*model.Craft).AdvancingMach),
	}
	power := &f.Panels[0]
	power.Points = flightMarks(all, true, func(_ *model.Craft, x *flight.Cruise) float64 { return x.Power })
	f.Panels[2].Points = flightMarks(all, false, (*model.Craft).AdvancingMach)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, l := range power.Lines {
		lo, hi = bounds([][]float64{l.Y}, lo, hi)
	}
	for _, q := range power.Points {
		lo, hi = bounds([][]float64{q.Y}, lo, hi)
	}
	if hi > widePower*lo {
		power.Y.Log, power.Y.Min, power.Y.Max = true, lo/1.3, 1.3*hi
	} else {
		power.Y.Max = 1.12 * hi
	}
	return f
}

// levelPanel draws one quantity of level flight against airspeed.
func levelPanel(all []flown, label string, of func(*model.Craft, *flight.Cruise) float64) chart.Panel {
	p := chart.Panel{Title: label, X: chart.Axis{Label: bracketed("airspeed", "m/s")}}
	for _, k := range all {
		top := k.craft.Flight.Top.Airspeed
		l := chart.Line{Family: k.class}
		for n := range envelopePoints {
			V := top * float64(n) / (envelopePoints - 1)
			x, ok := k.craft.Level(V)
			y := of(k.craft, &x)
			if !ok || !finite(y) {
				continue
			}
			l.X, l.Y = append(l.X, V), append(l.Y, y)
			p.Y.Max = max(p.Y.Max, 1.08*y)
		}
		if len(l.X) > 1 {
			p.Lines = append(p.Lines, l)
		}
		p.X.Max = max(p.X.Max, pastTop*top)
	}
	return p
}

// pastTop is how far past the top speed thrusts are drawn, to show whether they
// cross there.
const pastTop = 1.06

// thrustPanel draws thrust needed and available over weight against airspeed.
func thrustPanel(all []flown) chart.Panel {
	p := chart.Panel{Title: bracketed("thrust over weight", "-"), X: chart.Axis{Label: bracketed("airspeed", "m/s")}}
	for _, k := range all {
		top := k.craft.Flight.Top.Airspeed
		W := k.craft.Weight()
		// Named well before they meet, where the mark of top speed stands.
		needed := chart.Line{Family: k.class, Label: "needed", Part: 0.65}
		available := chart.Line{Family: k.class, Label: "available", Part: 0.4}
		for n := range envelopePoints {
			V := pastTop * top * float64(n) / (envelopePoints - 1)
			at, ok := k.craft.Thrusts(V)
			if !ok {
				continue
			}
			needed.X, needed.Y = append(needed.X, V), append(needed.Y, at.Needed/W)
			available.X, available.Y = append(available.X, V), append(available.Y, at.Available/W)
			p.Y.Max = max(p.Y.Max, 1.08*max(at.Needed, at.Available)/W)
		}
		if len(needed.X) > 1 {
			p.Lines = append(p.Lines, available, needed)
		}
		if at, ok := k.craft.Thrusts(top); ok {
			p.Points = append(p.Points, chart.Points{Family: "top speed", Hollow: true, Ink: k.class,
				X: []float64{top}, Y: []float64{at.Needed / W}})
		}
		p.X.Max = max(p.X.Max, pastTop*top)
	}
	return p
}

// bestAirspeeds says where the designs fly longest and farthest, in their order.
func bestAirspeeds(all []flown) string {
	var longest, farthest []string
	for _, k := range all {
		longest = append(longest, tenths(k.craft.Flight.Endurance.Airspeed))
		farthest = append(farthest, tenths(k.craft.Flight.Range.Airspeed))
	}
	return fmt.Sprintf(" Best endurance at %s m/s, best range at %s m/s.", joinAnd(longest), joinAnd(farthest))
}

// flightMarks are the named airspeeds of each design, with their numbers where asked
// for: all of a single design, of several only top speed, since the others lie so close
// that a number would stand at the wrong mark.
func flightMarks(all []flown, numbered bool, of func(*model.Craft, *flight.Cruise) float64) []chart.Points {
	var marks []chart.Points
	for _, k := range all {
		f := &k.craft.Flight
		for _, m := range []struct {
			name string
			at   *flight.Cruise
		}{{"best endurance", &f.Endurance}, {"best range", &f.Range}, {"top speed", &f.Top}} {
			q := chart.Points{Family: m.name, Hollow: true, Ink: k.class, X: []float64{m.at.Airspeed}, Y: []float64{of(k.craft, m.at)}}
			if numbered && (len(all) == 1 || m.at == &f.Top) {
				q.Labels = []string{tenths(m.at.Airspeed)}
			}
			marks = append(marks, q)
		}
	}
	return marks
}

// endsBy says what bounds the top speed of each class.
func endsBy(all []flown) string {
	if len(all) == 1 && len(all[0].limits) == 1 {
		return topLimitText(all[0].craft.TopLimit())
	}
	var what []finds
	for _, k := range all {
		for _, limit := range k.limits {
			what = append(what, finds{topLimitText(k.craft.TopLimit()), limit})
		}
	}
	best, _ := gathered(what)
	return allAt(best, "", ", ")
}

// envelopeTitle says how fast the best designs are, and where they fly farthest.
func envelopeTitle(all []flown) string {
	var tops []finds
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, k := range all {
		f := &k.craft.Flight
		for _, limit := range k.limits {
			tops = append(tops, finds{tenths(f.Top.Airspeed) + " m/s", limit + star(len(k.craft.Warnings()) > 0)})
		}
		lo, hi = min(lo, f.Range.Airspeed), max(hi, f.Range.Airspeed)
	}
	far := tenths(hi) + " m/s"
	if from := tenths(lo); from != tenths(hi) {
		far = from + " to " + far
	}
	best, _ := gathered(tops)
	return "Top speed " + allAt(best, "", ", ") + "; best range at " + far
}

// tenths prints an airspeed in m/s, alike for all that are compared.
func tenths(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
