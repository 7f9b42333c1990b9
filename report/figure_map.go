package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/sweep"
)

const mapCaption = "In each cell the best feasible design over all other axes, class by class on one scale. " +
	"Where there is none the ground is hatched and names the requirement at which the last one fails; lines show other metrics of the best designs."

// mapFigure draws one map of the study, a panel for each class.
func (r *Run) mapFigure(n int) (*chart.Figure, error) {
	spec := r.Study.Maps[n]
	f := &chart.Figure{Infeasible: infeasible, Star: "best of the class", Subtitle: r.subtitle()}
	lo, hi := math.Inf(1), math.Inf(-1)
	var marks []string
	var out outside
	var merged string
	contrary := 0
	var all []*mapper
	for i := range r.Result.Classes {
		m := r.newMapper(&r.Result.Classes[i], n)
		if err := m.evaluate(); err != nil {
			return nil, err
		}
		all = append(all, m)
	}
	levels := overlayLevels(all)
	for i, m := range all {
		p, n := m.panel(levels)
		contrary += n
		lo, hi = bounds(p.Field.Z, lo, hi)
		f.Panels = append(f.Panels, p)
		limit := mass(r.Result.Classes[i].Class.Limit)
		marks = append(marks, out.add(r.at(limit), m.warnings()))
		merged = m.merged()
	}
	label := "best merit [-]"
	if t := spec.Metric; t != nil {
		label = bracketed(lower(t.Title), t.Unit.Label)
	}
	if f.Bar = bar(label, lo, hi); spec.Metric == nil {
		f.Bar = finerBar(label, lo, hi)
	}
	f.Title = mapTitle(all, marks)
	ranges := all[0].ranges()
	if spec.X == sweep.Payload || spec.Y == sweep.Payload {
		if title := r.ladenTitle(all, &out); title != "" {
			f.Title, ranges = title, false
		}
	}
	f.Note = "In each cell the best feasible design over all other axes" + merged + ". Merit: " + meritText(r.Study.Merit) + "."
	if t := spec.Metric; t != nil && t.Better != model.Neither {
		f.Note = "In each cell the design with the " + superlative(t) + " over all other axes" + merged + "."
	}
	if ranges && slices.ContainsFunc(all, func(m *mapper) bool { return m.best >= 0 }) {
		f.Note += alikeNote()
	}
	if contrary > 0 {
		f.Note += " Smoothed lines that would contradict a star are left out."
	}
	f.Note += out.note()
	return f, nil
}

func superlative(t *model.Metric) string {
	if t.Better == model.Lower {
		return "lowest " + lower(t.Title)
	}
	return "highest " + lower(t.Title)
}

// overlays are the metrics whose lines are laid over a map.
var overlays = []struct {
	Metric, Name, Line, Cell string
	Lines                    int // in a panel, at most
}{
	{"tip-mach", "full-throttle tip Mach", "M %.4g", "M %.2f", 5},
	{"auw", "all-up weight", "%.4g g", "%.0f g", 4},
}

// overlayLevels gives for each of the overlays the levels of its lines, the same
// for all panels of a figure: the finest round steps that cross none of them more
// often than the overlay may.
func overlayLevels(all []*mapper) [][]float64 {
	out := make([][]float64, len(overlays))
	for k, o := range overlays {
		lo, hi := math.Inf(1), math.Inf(-1)
		var z [][][]float64 // of each panel
		for _, m := range all {
			z = append(z, m.valuesOf(metric(o.Metric)))
			lo, hi = bounds(z[len(z)-1], lo, hi)
		}
		if lo >= hi {
			continue
		}
		for n := 3 * o.Lines; n > 0; n-- {
			out[k] = chart.Levels(lo, hi, n)
			if !slices.ContainsFunc(z, func(z [][]float64) bool { return len(crossing(out[k], z)) > o.Lines }) {
				break
			}
		}
	}
	return out
}

// crossing picks the levels that lie among the values of a panel.
func crossing(levels []float64, z [][]float64) []float64 {
	lo, hi := bounds(z, math.Inf(1), math.Inf(-1))
	var out []float64
	for _, l := range levels {
		if l > lo && l < hi {
			out = append(out, l)
		}
	}
	return out
}

// mapper makes the panel of one map of one class.
type mapper struct {
	run   *Run
	class *sweep.ClassResult
	spec  sweep.MapSpec
	x, y  merging
	cells []sweep.Cell   // merged, [y*x.n + x]
	craft []*model.Craft // of the best design of each cell; nil where there is none
	best  int            // the best cell, -1 for none
}

// mostPlaces is how many places of a continuous axis a panel can show; more
// would take long to evaluate and fall together.
const mostPlaces = 100

// merging joins neighbouring values of a continuous axis with too many of them.
type merging struct {
	axis   sweep.Axis
	stride int
	n      int
}

func newMerging(a sweep.Axis) merging {
	m := merging{axis: a, stride: 1}
	if a.Def.Continuous {
		m.stride = (len(a.Values) + mostPlaces - 1) / mostPlaces
	}
	m.n = (len(a.Values) + m.stride - 1) / m.stride
	return m
}

// smooth says whether a map may draw what lies between the values; two tell nothing
// of that.
func (m merging) smooth() bool { return m.axis.Def.Continuous && len(m.axis.Values) > 2 }

// places returns the axis of a chart and where the merged values lie on it.
func (m merging) places() (chart.Axis, []float64) {
	axis, at := mapAxis(m.axis, m.smooth())
	if m.stride == 1 {
		return axis, at
	}
	out := make([]float64, m.n)
	for k := range out {
		last := min((k+1)*m.stride, len(at)) - 1
		out[k] = (at[k*m.stride] + at[last]) / 2
	}
	axis.Min, axis.Max = out[0], out[m.n-1]
	return axis, out
}

func (r *Run) newMapper(k *sweep.ClassResult, n int) *mapper {
	g := r.Study.Grid
	full := &k.Maps[n]
	m := &mapper{run: r, class: k, spec: full.Spec, best: -1}
	m.x = newMerging(g.Axes()[mustPlace(g, full.Spec.X)])
	m.y = newMerging(g.Axes()[mustPlace(g, full.Spec.Y)])
	m.cells = make([]sweep.Cell, m.x.n*m.y.n)
	for j := range full.NY {
		for i := range full.NX {
			from, to := &full.Cells[j*full.NX+i], &m.cells[j/m.y.stride*m.x.n+i/m.x.stride]
			to.Gate = max(to.Gate, from.Gate)
			if from.Any && (!to.Any || better(from.Ranked, to.Ranked)) {
				to.Best = from.Best
			}
		}
	}
	for n := range m.cells {
		if m.cells[n].Any && (m.best < 0 || better(m.cells[n].Ranked, m.cells[m.best].Ranked)) {
			m.best = n
		}
	}
	return m
}

func better(a, b sweep.Ranked) bool {
	return a.Score > b.Score || a.Score == b.Score && a.Index < b.Index
}

// merged says what was merged, "" for nothing.
func (m *mapper) merged() string {
	var out []string
	for _, a := range [2]merging{m.x, m.y} {
		if a.stride > 1 {
			out = append(out, fmt.Sprintf("%d neighbouring values of %s", a.stride, axisTitle(a.axis.Def)))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " (and over " + strings.Join(out, ", ") + ")"
}

func (m *mapper) evaluate() error {
	m.craft = make([]*model.Craft, len(m.cells))
	for n, c := range m.cells {
		if !c.Any {
			continue
		}
		e, err := m.run.entry(m.class, c.Ranked)
		if err != nil {
			return err
		}
		m.craft[n] = e.Craft
	}
	return nil
}

// panel draws the map, and says how many lines were left out for the star.
func (m *mapper) panel(levels [][]float64) (p chart.Panel, contrary int) {
	p = chart.Panel{Title: className(m.class.Class)}
	f := &chart.Field{Z: blank(m.x.n, m.y.n), Gate: blankNames(m.x.n, m.y.n), Short: shortGates(m.run.Result.Gates)}
	p.Field = f
	p.X, f.X = m.x.places()
	p.Y, f.Y = m.y.places()
	for n, c := range m.cells {
		j, i := n/m.x.n, n%m.x.n
		switch t := m.spec.Metric; {
		case !c.Any:
			f.Gate[j][i] = gateLabel(m.run.Result.Gates[c.Gate])
			continue
		case t != nil:
			f.Z[j][i] = t.Unit.FromSI(t.Of(m.craft[n]))
		default:
			f.Z[j][i] = c.Score
		}
	}
	for k, o := range overlays {
		t := metric(o.Metric)
		if t == m.spec.Metric {
			continue
		}
		over := chart.Overlay{Name: o.Name + " of the best design", Format: o.Cell, Z: m.valuesOf(t)}
		if p.X.Names == nil || p.Y.Names == nil {
			over.Name += ", smoothed"
			over.Format = o.Line
			over.Smooth = true // the best designs of neighbouring cells differ in every respect
		}
		over.Levels = crossing(levels[k], over.Z)
		if over.Smooth && m.best >= 0 {
			contrary += over.Agree(m.best%m.x.n, m.best/m.x.n, p.X.Names == nil, p.Y.Names == nil)
		}
		p.Overlays = append(p.Overlays, over)
	}
	if m.best >= 0 {
		p.Markers = []chart.Marker{{X: f.X[m.best%m.x.n], Y: f.Y[m.best/m.x.n], Lines: m.callout()}}
	}
	return p, contrary
}

// valuesOf gives a metric of the best design of each cell, NaN where there is none.
func (m *mapper) valuesOf(t *model.Metric) [][]float64 {
	z := blank(m.x.n, m.y.n)
	for n, c := range m.craft {
		if c != nil {
			z[n/m.x.n][n%m.x.n] = t.Unit.FromSI(t.Of(c))
		}
	}
	return z
}

// design is the best of the map.
func (m *mapper) design() model.Design { return m.run.Study.Grid.Design(m.cells[m.best].Index) }

// where says where on the axes the best design of the map is, "" for none.
func (m *mapper) where(and string) string {
	if m.best < 0 {
		return ""
	}
	d := m.design()
	return inputText(m.spec.X, d) + and + inputText(m.spec.Y, d)
}

// warnings are those of the best design of the map.
func (m *mapper) warnings() []string {
	if m.best < 0 {
		return nil
	}
	return m.craft[m.best].Warnings()
}

// at names a class among several, for the note of a figure.
func (r *Run) at(limit string) string {
	if len(r.Result.Classes) < 2 {
		return ""
	}
	return "at " + limit
}

// callout says what stands at the star and what the design reaches.
func (m *mapper) callout() []string {
	d, c := m.design(), m.craft[m.best]
	head := m.where(", ")
	on := func(a *sweep.AxisDef) bool { return a == m.spec.X || a == m.spec.Y }
	if on(sweep.Capacity) && !on(sweep.Cells) { // 4S 850 mAh
		capacity := inputText(sweep.Capacity, d)
		head = strings.Replace(head, capacity, inputText(sweep.Cells, d)+" "+capacity, 1)
	}
	var others []string
	for _, a := range []*sweep.AxisDef{sweep.Diameter, sweep.KV, sweep.Stator, sweep.Cells, sweep.Capacity} {
		switch {
		case on(a), a == sweep.Cells && on(sweep.Capacity):
		case a == sweep.Capacity && !on(sweep.Cells):
			others[len(others)-1] += " " + inputText(a, d) // 4S 850 mAh
		default:
			others = append(others, inputText(a, d))
		}
	}
	lines := []string{head + mark(strings.Join(m.warnings(), ""))}
	for len(others) > 0 {
		n := min(2, len(others))
		lines = append(lines, strings.Join(others[:n], ", "))
		others = others[n:]
	}
	can := reaches(c)
	if t := metric("tip-mach"); t != m.spec.Metric && (m.spec.X.Continuous || m.spec.Y.Continuous) {
		can += fmt.Sprintf(", M %.2f", t.Of(c)) // there may be no line near
	}
	lines = append(lines, can)
	if d.Payload > 0 && !on(sweep.Payload) {
		lines = append(lines, inputText(sweep.Payload, d))
	}
	return lines
}

// inputText is what a design has on an axis, as the trade says it: "3.5 in",
// "KV 2400", "2207 stator".
func inputText(a *sweep.AxisDef, d model.Design) string {
	var v float64
	switch a {
	case sweep.PitchRatio:
		v = d.Pitch / d.Diameter
	default:
		for _, n := range inputs {
			if n.AxisDef == a {
				v = n.of(d)
			}
		}
	}
	switch a {
	case sweep.KV:
		return "KV " + a.Unit.Number(v, 4)
	case sweep.Stator:
		return a.Text(v) + " stator"
	case sweep.Blades:
		return a.Text(v) + " blades"
	case sweep.PitchRatio, sweep.Chord:
		return a.Symbol + " " + a.Unit.Number(v, 3)
	case sweep.Pitch:
		return "pitch " + a.Unit.Format(v, 3)
	case sweep.Payload:
		return "payload " + a.Unit.Format(v, 4)
	}
	return a.Unit.Format(v, 4)
}

// mapAxis makes a chart's axis of a swept one, and the places of its values: where
// smooth by what they are, else by their order, each with its name.
func mapAxis(a sweep.Axis, smooth bool) (chart.Axis, []float64) {
	out := chart.Axis{Label: bracketed(axisTitle(a.Def), a.Def.Unit.Label)}
	switch a.Def {
	case sweep.Cells:
		out.Label = bracketed("cells in series", "")
	case sweep.Stator:
		out.Label = bracketed("stator diameter and height", "mm")
	}
	at := make([]float64, len(a.Values))
	for k, v := range a.Values {
		if smooth {
			at[k] = a.Def.Shown(v)
			continue
		}
		at[k] = float64(k)
		name := a.Def.Text(v)
		if a.Def.Continuous { // its unit stands beside the axis
			name = a.Def.Unit.Number(v, 6)
		}
		out.Names = append(out.Names, name)
	}
	if smooth {
		out.Min, out.Max = at[0], at[len(at)-1]
	}
	return out, at
}

// mustPlace finds an axis that the study has been checked to have.
func mustPlace(g *sweep.Grid, d *sweep.AxisDef) int {
	at, ok := g.Place(d.Name)
	if !ok {
		panic("report: the grid has no axis " + d.Name)
	}
	return at
}
