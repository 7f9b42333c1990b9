package figure

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

const mapCaption = "In each cell the best feasible design over all other axes, class by class on one scale. " +
	"Where there is none the ground is hatched and names the requirement at which the last one fails; lines show " +
	"other metrics of the best designs."

// mapFigure draws one map of the study, a panel for each class.
func mapFigure(r *finding.Run, found []finding.Class, n int) (*chart.Figure, error) {
	spec := r.Study.Maps[n]
	f := &chart.Figure{Infeasible: infeasible, Star: "best" + words.SoFar(r) + " of the class", Subtitle: subtitleOf(r)}
	lo, hi := math.Inf(1), math.Inf(-1)
	var stars []string
	var out words.Outside
	var merged string
	contrary := 0
	var all []*finding.Mapper
	if finding.AnyChoice(found) {
		f.Star, f.Ring = recommendedStar, nominalRing
		if t := spec.Metric; t != nil && t.Better != model.Neither {
			f.Ring = superlative(t) + " of the class"
		}
	}
	for i := range r.Result.Classes {
		m := r.NewMapper(&r.Result.Classes[i], n)
		if err := m.Evaluate(); err != nil {
			return nil, err
		}
		all = append(all, m)
	}
	levels := overlayLevels(all)
	for i, m := range all {
		p, n := mapPanel(m, &found[i], levels)
		contrary += n
		lo, hi = bounds(p.Field.Z, lo, hi)
		f.Panels = append(f.Panels, p)
		limit := words.Mass(r.Result.Classes[i].Class.Limit)
		stars = append(stars, out.Add(atClass(r, limit), words.Each(m.Marks(), words.MarkShort)))
		if e := found[i].Planned; e != nil {
			out.AddCraft(atClass(r, limit), e.Craft)
		}
		merged = mergedText(m)
	}
	label := "best merit" + words.SoFar(r) + " [-]"
	if t := spec.Metric; t != nil {
		label = words.Bracketed(texts.Lower(t.Title), t.Unit.Label)
	}
	if f.Bar = bar(label, lo, hi); spec.Metric == nil {
		f.Bar = finerBar(label, lo, hi)
	}
	f.Title = mapTitle(all, stars)
	switch {
	case !r.Result.Complete:
		f.Title = soFarTitle(mapPlaces(all, stars))
	case spec.X == sweep.Payload || spec.Y == sweep.Payload:
		if title := ladenTitle(r, all, &out); title != "" {
			f.Title = title
		}
	}
	f.Note = "In each cell the best feasible design over all other axes" + merged + ". Merit: " +
		words.Merit(r.Study.Merit) + "."
	if t := spec.Metric; t != nil && t.Better != model.Neither {
		f.Note = "In each cell the design with the " + superlative(t) + " over all other axes" + merged +
			words.Surely(r.Study) + "."
	}
	if contrary > 0 {
		f.Note += " Smoothed lines that would contradict a star are left out."
	}
	if r.Result.Complete && finding.AnyChoice(found) {
		f.Note += " " + f.Title + ", by the nominal model."
		best, none := gathered(recommendedAt(found, func(e *finding.Entry) string {
			return whereText(all[0],
				e.Design)
		}))
		f.Title = "Recommended by the draws: " + allAt(best, none, "; ")
	}
	f.Note += out.Note()
	return unjudged(r, f), nil
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
func overlayLevels(all []*finding.Mapper) [][]float64 {
	out := make([][]float64, len(overlays))
	for k, o := range overlays {
		lo, hi := math.Inf(1), math.Inf(-1)
		var z [][][]float64 // of each panel
		for _, m := range all {
			z = append(z, m.ValuesOf(finding.Metric(o.Metric)))
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

// mergedPlaces returns the axis of a chart and where the merged values lie on it.
func mergedPlaces(m finding.Merging) (chart.Axis, []float64) {
	axis, at := mapAxis(m.Axis, m.Smooth())
	if m.Stride == 1 {
		return axis, at
	}
	out := make([]float64, m.N)
	for k := range out {
		last := min((k+1)*m.Stride, len(at)) - 1
		out[k] = (at[k*m.Stride] + at[last]) / 2
	}
	axis.Min, axis.Max = out[0], out[m.N-1]
	return axis, out
}

// atClass names a class among several, for the note of a figure.
func atClass(r *finding.Run, limit string) string {
	if len(r.Result.Classes) < 2 {
		return ""
	}
	return "at " + limit
}

// mapAxis makes a chart's axis of a swept one, and the places of its values: where
// smooth by what they are, else by their order, each with its name.
func mapAxis(a sweep.Axis, smooth bool) (chart.Axis, []float64) {
	out := chart.Axis{Label: words.Bracketed(words.AxisTitle(a.Def), a.Def.Unit.Label)}
	switch a.Def {
	case sweep.Cells:
		out.Label = words.Bracketed("cells in series", "")
	case sweep.Stator:
		out.Label = words.Bracketed("stator diameter and height", "mm")
	}
	if a.Def.IsPart() {
		out.Label = texts.Lower(a.Def.Title)
	}
	at := make([]float64, len(a.Values))
	for k, v := range a.Values {
		if smooth {
			at[k] = a.Def.Shown(v)
			continue
		}
		at[k] = float64(k)
		name := words.Abridged(a.Def.Text(v))
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
