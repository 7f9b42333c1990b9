package report

import (
	"math"
	"slices"

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

func better(a, b sweep.Ranked) bool {
	return a.Score > b.Score || a.Score == b.Score && a.Index < b.Index
}

// at names a class among several, for the note of a figure.
func (r *Run) at(limit string) string {
	if len(r.Result.Classes) < 2 {
		return ""
	}
	return "at " + limit
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
