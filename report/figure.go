package report

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"runtime"
	"slices"
	"strings"
	"sync"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/sweep"
)

// plan is a figure that a study can have.
type plan struct {
	name    string
	caption string
	usual   bool // drawn without being asked for by name
	// draw makes the figure, or says why this study has none.
	draw func() (f *chart.Figure, lacks string, err error)
}

// Names of the figures beside the maps, in the order of a report.
const (
	sizeName     = "size"
	whyNotName   = "why-not"
	frontName    = "front"
	classesName  = "classes"
	massName     = "mass"
	envelopeName = "envelope"
	rotorName    = "rotor"
)

// AllFigures stands for all usual figures among those to draw.
const AllFigures = "all"

// FigureNames lists the figures that can be asked for of a study.
func FigureNames(s *sweep.Study) []string {
	var names []string
	for _, p := range (&Run{Study: s}).plans(nil) {
		names = append(names, p.name)
	}
	return names
}

// plans lists the figures of the study in the order of a report.
func (r *Run) plans(found []finding) []plan {
	always := func(draw func() (*chart.Figure, error)) func() (*chart.Figure, string, error) {
		return func() (*chart.Figure, string, error) {
			f, err := draw()
			return f, "", err
		}
	}
	out := []plan{{sizeName, sizeCaption, true, always(func() (*chart.Figure, error) { return r.sizeFigure(found), nil })}}
	for n, m := range r.Study.Maps {
		out = append(out, plan{m.Name(), mapCaption, !m.Implied || usualMap(m), always(func() (*chart.Figure, error) { return r.mapFigure(n) })})
	}
	return append(out,
		plan{whyNotName, whyNotCaption, true, always(func() (*chart.Figure, error) { return r.whyNotFigure(found), nil })},
		plan{frontName, frontCaption, true, func() (*chart.Figure, string, error) { return r.frontFigure(found) }},
		plan{classesName, classesCaption, true, func() (*chart.Figure, string, error) { return r.classesFigure(found) }},
		plan{massName, massCaption, true, func() (*chart.Figure, string, error) { return r.massFigure(found) }},
		plan{envelopeName, envelopeCaption, true, func() (*chart.Figure, string, error) { return r.envelopeFigure(found) }},
		plan{rotorName, rotorCaption, true, func() (*chart.Figure, string, error) { return r.rotorFigure(found) }},
	)
}

// wants says whether a figure is to be drawn.
func (r *Run) wants(p *plan) bool {
	return p.usual && r.all() || slices.Contains(r.Figures, p.name)
}

// all says whether the usual figures are to be drawn.
func (r *Run) all() bool { return r.Figures == nil || slices.Contains(r.Figures, AllFigures) }

// figures draws the figures of the report, each on a goroutine of its own, and
// notes what is left out and why.
func (r *Run) figures() ([]Figure, error) {
	found, err := r.findings()
	if err != nil {
		return nil, err
	}
	plans := r.plans(found)
	drawn := make([]Figure, len(plans))
	lacks := make([]string, len(plans))
	errs := make([]error, len(plans))
	room := make(chan struct{}, runtime.GOMAXPROCS(0)) // a picture takes some megabytes
	var wait sync.WaitGroup
	for n := range plans {
		p := &plans[n]
		if !r.wants(p) {
			continue
		}
		wait.Go(func() {
			room <- struct{}{}
			defer func() { <-room }()
			f, why, err := p.draw()
			if lacks[n] = why; f != nil && err == nil {
				f.DPI = r.DPI
				drawn[n], err = picture(p.name, p.caption, f)
			}
			if err != nil {
				errs[n] = fmt.Errorf("figure %s: %w", p.name, err)
			}
		})
	}
	wait.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	r.undrawn = r.leftOut(plans, lacks)
	return slices.DeleteFunc(drawn, func(f Figure) bool { return f.PNG == nil }), nil
}

// leftOut says which figures are not drawn, and why: those that the study lacks,
// and maps that nobody asked for.
func (r *Run) leftOut(plans []plan, lacks []string) []string {
	var out, more []string
	for n, p := range plans {
		switch {
		case lacks[n] != "":
			out = append(out, p.name+": "+lacks[n])
		case r.all() && !r.wants(&p):
			more = append(more, p.name)
		}
	}
	if r.all() {
		for _, m := range usualMaps {
			for _, a := range [2]*sweep.AxisDef{m.X, m.Y} {
				if !r.swept(a) {
					out = append(out, m.Name()+": one value of "+axisTitle(a))
					break
				}
			}
		}
	}
	if len(more) > 0 {
		out = append(out, fmt.Sprintf("%d other %s of swept axes: --figures draws them by name, such as %s", len(more), plural(len(more), "pair", "pairs"), more[0]))
	}
	return out
}

// usualMaps are drawn without being asked for, where their axes are swept.
var usualMaps = []sweep.MapSpec{
	{X: sweep.Diameter, Y: sweep.KV}, {X: sweep.Cells, Y: sweep.KV},
	{X: sweep.Diameter, Y: sweep.Payload}, {X: sweep.Diameter, Y: sweep.Capacity},
}

func usualMap(m sweep.MapSpec) bool {
	return slices.Contains(usualMaps, sweep.MapSpec{X: m.X, Y: m.Y})
}

// picture draws a figure. Texts that matter and have no room in it are told in
// its note.
func picture(name, caption string, f *chart.Figure) (Figure, error) {
	p := Figure{Name: "figures/" + name + ".png", Title: f.Title, Caption: caption}
	var b bytes.Buffer
	l, err := f.Draw(&b)
	if more := placed(f, &l); err == nil && more != "" {
		f.Note = strings.TrimSpace(f.Note + more)
		b.Reset()
		_, err = f.Draw(&b)
	}
	if err != nil {
		return p, err
	}
	p.PNG = b.Bytes()
	size, err := png.DecodeConfig(bytes.NewReader(p.PNG))
	if err != nil {
		return p, err
	}
	p.Width, p.Height = size.Width, size.Height
	return p, nil
}

// placed says what stands in a figure by its symbol alone, and what there is no
// room to write.
func placed(f *chart.Figure, l *chart.Layout) string {
	var symbols []string
	for _, name := range l.Shortened {
		for k := range f.Panels {
			if fd := f.Panels[k].Field; fd != nil && fd.Short[name] != "" {
				symbols = append(symbols, fd.Short[name]+": "+name)
				break
			}
		}
	}
	once := func(texts []string) string {
		slices.Sort(texts)
		return strings.Join(slices.Compact(texts), "; ")
	}
	// told lists texts panel by panel.
	told := func(lost []chart.Lost) string {
		var parts []string
		for k := range f.Panels {
			var texts []string
			for _, x := range lost {
				if x.Panel == k && !slices.Contains(texts, x.Text) {
					texts = append(texts, x.Text)
				}
			}
			switch name := textOr(f.Panels[k].Title, f.Panels[k].Y.Label); {
			case len(texts) == 0:
			case len(f.Panels) == 1:
				parts = append(parts, strings.Join(texts, ", "))
			default:
				parts = append(parts, name+": "+strings.Join(texts, ", "))
			}
		}
		return strings.Join(parts, "; ")
	}
	out := ""
	if len(symbols) > 0 {
		out += " " + once(symbols) + "."
	}
	if l.Hidden > 0 {
		out += " Lines without room for their number are left out."
	}
	if len(l.Dropped) > 0 {
		out += " No room to write: " + told(l.Dropped) + "."
	}
	if len(l.Unnamed) > 0 {
		out += " Hatched without room for the name: " + told(l.Unnamed) + "."
	}
	return out
}

// subtitle says what a figure is drawn from.
func (r *Run) subtitle(more ...string) string {
	m := r.Study.Model
	parts := []string{fmt.Sprintf("altitude %.6g m, %s", m.Air.Altitude, celsi.Format(m.Air.Temperature, 3)), grouped(r.Study.Grid.Size()) + " designs"}
	return r.subtitled(append(parts, more...)...)
}

// subtitled names the study before what is said of it.
func (r *Run) subtitled(parts ...string) string {
	parts = append([]string{oneLine(r.Study.Name)}, parts...)
	if mark := r.mark(); mark != "" {
		parts = append([]string{mark}, parts...)
	}
	return strings.Join(parts, " · ")
}

// gateLabel names, in a figure, what stops designs at a gate.
func gateLabel(g sweep.Gate) string {
	switch q := g.Requirement; {
	case q != nil:
		sign := "≤"
		if q.AtLeast {
			sign = "≥"
		}
		return lower(q.Metric.Title) + " " + sign + " " + q.Metric.Unit.Format(q.Bound, 4)
	case g.Name == "class":
		return "too heavy for the class"
	}
	return "no operating point"
}

// shortTitles are metrics in few words, where a figure has little room.
var shortTitles = map[string]string{
	"tip-mach": "tip Mach", "flight-tip-mach": "Mach in flight", "thrust-to-weight": "T/W", "hover-throttle": "throttle", "hover-time": "hover",
	"burst-time": "full throttle", "top-speed": "speed", "top-speed-time": "top speed", "motor-temperature": "motor", "cruise-motor-temperature": "motor in cruise",
	"voltage-margin": "cell margin", "pack-load": "pack load", "arm-ratio": "arm bending", "motor-current": "motor current", "esc-rating": "controller",
}

// shortGates gives for the labels of requirements shorter ones: "tip Mach ≤ 0.8".
func shortGates(gates []sweep.Gate) map[string]string {
	out := map[string]string{}
	for _, g := range gates {
		if q := g.Requirement; q != nil {
			label := gateLabel(g)
			if short := shortTitles[q.Metric.Name]; short != "" {
				out[label] = short + strings.TrimPrefix(label, lower(q.Metric.Title))
			}
		}
	}
	return out
}

// reaches says briefly what a craft is capable of: "16.0 min, T/W 4.2".
func reaches(c *model.Craft) string {
	hover, tw := metric("hover-time"), metric("thrust-to-weight")
	return brief(hover, hover.Of(c)) + ", T/W " + brief(tw, tw.Of(c))
}

// finds is where a class is best, "" for nowhere, and the limit of the class.
type finds struct{ where, limit string }

// gathered says "3 in at 249 g", "5 in at 500 g and 900 g" and, apart, at which
// limits nothing was found.
func gathered(found []finds) (best []string, none string) {
	var places []string
	limits := map[string][]string{}
	for _, f := range found {
		if limits[f.where] == nil && f.where != "" {
			places = append(places, f.where)
		}
		limits[f.where] = append(limits[f.where], f.limit)
	}
	for _, p := range places {
		best = append(best, p+" at "+joinAnd(limits[p]))
	}
	return best, joinOr(limits[""])
}

func joinAnd(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}

const infeasible = "no feasible design; named: the requirement at which the last one fails"
