package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/model/unit"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

const (
	envelopeCaption = "Level flight of the best design of each class" + envelopeShows
	envelopeChosen  = "Level flight of the recommended build and of the nominal best of each class" + envelopeShows
	envelopeShows   = ": electrical power, thrust needed and " +
		"available, and tip Mach number against airspeed, with the airspeeds of least power, of best range and of " +
		"the end."
)

// Most designs that the lines of a plain panel can tell apart, and of how many of them the nominal
// best are drawn as well; and points of a line.
const (
	mostFlown      = 6
	mostBeside     = 2
	envelopePoints = 60
)

// widePower is the ratio of powers from which a logarithmic axis shows the least of
// them better.
const widePower = 5

// Flown is a best design that flies level, and the classes that it is best in.
type Flown struct {
	Craft  *model.Craft
	index  uint64
	part   finding.Part
	Class  string // in the legend
	Limits []string
}

// flownOf lists the designs that the classes are shown by and that fly level, each once,
// the recommended builds first.
func flownOf(found []finding.Class) []Flown {
	var out []Flown
	for _, k := range finding.PicksOf(found) {
		if !k.Craft.Flight.OK || k.Craft.Flight.Top.Airspeed == 0 {
			continue
		}
		limit := words.Mass(k.Class.Class.Limit)
		if n := slices.IndexFunc(out, func(o Flown) bool { return o.index == k.Index && o.part == k.Part }); n >= 0 {
			out[n].Limits = append(out[n].Limits, limit)
			out[n].Class = flownName(&k, texts.JoinAnd(out[n].Limits))
			continue
		}
		out = append(out, Flown{k.Craft, k.Index, k.Part, flownName(&k, words.ClassName(k.Class.Class)),
			[]string{limit}})
	}
	return out
}

// flownName is how a legend names a design by its classes.
func flownName(k *finding.Pick, limits string) string {
	if k.Part != finding.BestPart {
		limits += " " + words.PartName(k.Part)
	}
	return limits + words.Star(k.Marked())
}

// envelopeFigure draws the level flight of the designs that the classes are shown by.
func envelopeFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	all := flownOf(found)
	if len(all) == 0 {
		return nil, "no design that flies level", nil
	}
	title := EnvelopeTitle(all)
	if first := slices.DeleteFunc(slices.Clone(all), func(k Flown) bool {
		return !k.part.Recommends()
	}); len(first) > 0 {
		title = texts.Plural(len(first), "Recommended build: ", "Recommended builds: ") +
			texts.Lower(EnvelopeTitle(first))
	}
	note := ""
	if chosen := slices.DeleteFunc(slices.Clone(all), func(k Flown) bool {
		return !k.part.Recommends()
	}); len(all) > mostBeside && len(chosen) > 0 && len(chosen) < len(all) {
		all, note = chosen, " The nominal best are not drawn."
	}
	f := envelope(all, title, subtitleOf(r), ranksRange(r.Study.Merit))
	f.Note += note
	if len(r.Study.Others) > 0 {
		var in []int
		for _, k := range all {
			in = append(in, r.Study.Scenario(k.Craft))
		}
		f.Note += " " + words.InScenarios(r.Study, in) + "."
	}
	return f, "", nil
}

// Envelope draws the level flight of designs under the same assumptions, with the range where a wind or
// an airspeed is stated.
func Envelope(all []Flown, title, subtitle string) *chart.Figure {
	return envelope(all, title, subtitle, false)
}

// envelope is Envelope, with the range where it is asked for as well.
func envelope(all []Flown, title, subtitle string, ranged bool) *chart.Figure {
	f := &chart.Figure{
		Title:    title,
		Subtitle: subtitle,
		Note: "Power and tip Mach number at the pack's mean voltage; thrust available, at full throttle in the flow " +
			"of level flight, and top speed at " +
			unit.Ratio.Unit("%").Format(all[0].Craft.Model.Assume.Charge, 3) + " charge. Top speed is limited by " +
			endsBy(all) + ".",
	}
	if len(all) > mostFlown {
		f.Note += fmt.Sprintf(" The first %d of %d designs are drawn.", mostFlown, len(all))
		all = all[:mostFlown]
	}
	all = slices.Clone(all)
	for i := range all {
		if len(all) > 1 { // beside their marks numbers would lie over the lines of others
			star := words.Star(len(all[i].Craft.Warnings()) > 0)
			all[i].Class = strings.TrimSuffix(all[i].Class, star) + ": top speed " +
				tenths(all[i].Craft.Flight.Top.Airspeed) + " m/s" + star
		}
	}
	var out words.Outside
	for _, k := range all {
		place := ""
		if len(all) > 1 {
			place = "at " + texts.JoinAnd(k.Limits)
			if k.part != finding.BestPart {
				place += " (" + words.PartName(k.part) + ")"
			}
		}
		out.AddCraft(place, k.Craft)
	}
	if len(all) > 1 {
		f.Note += bestAirspeeds(all)
	}
	f.Note += out.NoteWithin(mostReasons)
	f.Panels = []chart.Panel{
		levelPanel(all, words.Bracketed("electrical power", "W"),
			func(_ *model.Craft, x *flight.Cruise) float64 { return x.Power }),
		thrustPanel(all),
		levelPanel(all, words.Bracketed("tip Mach number", "-"), (*model.Craft).AdvancingMach),
	}
	if ranged || slices.ContainsFunc(all, func(k Flown) bool {
		return k.Craft.Model.Assume.Wind > 0 || k.Craft.Model.Assume.Airspeed > 0
	}) {
		f.Panels = append(f.Panels, rangePanel(all))
		f.Note += rangeNote(all)
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
		power.Y.Log, power.Y.Min, power.Y.Max = true, lo/1.3, 1.4*hi
		if len(all) == 1 {
			power.Y.Max = 2 * hi // with room for what is written
		}
	} else {
		power.Y.Max = 1.12 * hi
	}
	return f
}

// levelPanel draws one quantity of level flight against airspeed.
func levelPanel(all []Flown, label string, of func(*model.Craft, *flight.Cruise) float64) chart.Panel {
	p := chart.Panel{Title: label, X: chart.Axis{Label: words.Bracketed("airspeed", "m/s")}}
	for _, k := range all {
		top := k.Craft.Flight.Top.Airspeed
		l := chart.Line{Family: k.Class}
		for n := range envelopePoints {
			V := top * float64(n) / (envelopePoints - 1)
			x, ok := k.Craft.Level(V)
			y := of(k.Craft, &x)
			if !ok || !finding.Finite(y) {
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

// mostNamed is of how many designs each line of thrust is named.
const mostNamed = 2

// heldBack is the share by which the thrust available exceeds that needed where something else
// than thrust holds top speed.
const heldBack = 0.02

// thrustPanel draws thrust needed and available over weight against airspeed.
func thrustPanel(all []Flown) chart.Panel {
	p := chart.Panel{Title: words.Bracketed("thrust over weight", "-"),
		X: chart.Axis{Label: words.Bracketed("airspeed", "m/s")}}
	for n, k := range all {
		top := k.Craft.Flight.Top.Airspeed
		W := k.Craft.Weight()
		// Named well before they meet, where the mark of top speed stands, and of many once.
		needed, available := chart.Line{Family: k.Class}, chart.Line{Family: k.Class}
		if n == 0 || len(all) <= mostNamed {
			needed.Label, needed.Part = "needed", 0.65
			available.Label, available.Part = "available", 0.4
		}
		for n := range envelopePoints {
			V := pastTop * top * float64(n) / (envelopePoints - 1)
			at, ok := k.Craft.Thrusts(V)
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
		if at, ok := k.Craft.Thrusts(top); ok {
			by := words.TopLimit(k.Craft.TopLimit())
			if at.Available > (1+heldBack)*at.Needed { // the line that holds it back, before they cross
				p.Lines = append(p.Lines, chart.Line{Family: k.Class, Label: by, Part: 0.5,
					X: []float64{top, top}, Y: []float64{at.Needed / W, at.Available / W}})
			}
			p.Points = append(p.Points, chart.Points{Family: "top speed", Hollow: true, Ink: k.Class,
				X: []float64{top}, Y: []float64{at.Needed / W}})
		}
		p.X.Max = max(p.X.Max, pastTop*top)
	}
	return p
}

// bestAirspeeds says where the designs fly longest and farthest, in their order, or the airspeed
// that is best for all.
func bestAirspeeds(all []Flown) string {
	var longest, farthest []string
	for _, k := range all {
		longest = append(longest, tenths(k.Craft.Flight.Endurance.Airspeed))
		farthest = append(farthest, tenths(k.Craft.Flight.Range.Airspeed))
	}
	once := func(airspeeds []string) string {
		if one := slices.Compact(slices.Clone(airspeeds)); len(one) == 1 {
			return one[0]
		}
		return texts.JoinAnd(airspeeds)
	}
	return fmt.Sprintf(" In the order of the legend, least power at %s m/s, best range at %s m/s.", once(longest),
		once(farthest))
}

// flightMarks are the named airspeeds of each design, of a single one with their numbers where asked for.
func flightMarks(all []Flown, numbered bool, of func(*model.Craft, *flight.Cruise) float64) []chart.Points {
	var marks []chart.Points
	for _, k := range all {
		f := &k.Craft.Flight
		for _, m := range []struct {
			name string
			at   *flight.Cruise
		}{{"least power", &f.Endurance}, {"best range", &f.Range}, {"top speed", &f.Top}} {
			q := chart.Points{Family: m.name, Hollow: true, Ink: k.Class, X: []float64{m.at.Airspeed},
				Y: []float64{of(k.Craft, m.at)}}
			if numbered && len(all) == 1 {
				q.Labels = []string{tenths(m.at.Airspeed) + " m/s"}
			}
			marks = append(marks, q)
		}
	}
	return marks
}

// endsBy says what bounds the top speed of each class.
func endsBy(all []Flown) string {
	if len(all) == 1 && len(all[0].Limits) == 1 {
		return words.TopLimit(all[0].Craft.TopLimit())
	}
	var what []finds
	for _, k := range all {
		for _, limit := range k.Limits {
			if k.part != finding.BestPart && len(all) > 1 {
				limit += " (" + words.PartName(k.part) + ")"
			}
			what = append(what, finds{words.TopLimit(k.Craft.TopLimit()), limit})
		}
	}
	best, _ := gathered(what)
	if len(best) == 1 && all[0].part != finding.BestPart {
		return best[0].where
	}
	return allAt(best, "", ", ")
}

// EnvelopeTitle says how fast the best designs are, of many the slowest and the fastest, and where they
// fly farthest.
func EnvelopeTitle(all []Flown) string {
	best, _ := gathered(topsOf(all))
	if len(best) > mostTold {
		rising := slices.Clone(all)
		slices.SortStableFunc(rising, func(a, b Flown) int {
			return cmp.Compare(a.Craft.Flight.Top.Airspeed, b.Craft.Flight.Top.Airspeed)
		})
		best, _ = gathered(topsOf(rising))
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, k := range all {
		lo, hi = min(lo, k.Craft.Flight.Range.Airspeed), max(hi, k.Craft.Flight.Range.Airspeed)
	}
	far := tenths(hi) + " m/s"
	if from := tenths(lo); from != tenths(hi) {
		far = from + " to " + far
	}
	return "Top speed " + endsAt(best, "", ", ") + "; best range at " + far
}

// tenths prints an airspeed in m/s, alike for all that are compared.
func tenths(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
