package figure

import (
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// mapCaption says which design of each cell a map shows.
func mapCaption(spec sweep.MapSpec) string {
	of := "the best feasible design"
	if t := spec.Metric; t != nil && t.Better != model.Neither {
		of = "the feasible design with the " + superlative(t)
	}
	return "In each cell " + of + " over all other axes, class by class on one scale. " +
		"Where there is none the ground is hatched and names the requirement at which the last one fails."
}

// mapFigure draws one map of the study, a panel for each class.
func mapFigure(r *finding.Run, found []finding.Class, n int) (*chart.Figure, error) {
	found, left := someClasses(found)
	spec := r.Study.Maps[n]
	f := &chart.Figure{Infeasible: infeasible, Star: "best" + words.SoFar(r) + " of the class", Subtitle: subtitleOf(r)}
	lo, hi := math.Inf(1), math.Inf(-1)
	var stars []string
	var out words.Outside
	var merged string
	cropped := false
	var all []*finding.Mapper
	if finding.AnyChoice(found) {
		f.Star, f.Ring = recommendedStar, nominalRing
		if t := spec.Metric; t != nil && t.Better != model.Neither {
			f.Ring = superlative(t) + " of the class"
		}
	}
	for i := range found {
		m := r.NewMapper(found[i].ClassResult, n)
		if err := m.Evaluate(); err != nil {
			return nil, err
		}
		all = append(all, m)
	}
	for i, m := range all {
		p := mapPanel(m, &found[i])
		cropped = cropToGround(&p) || cropped
		lo, hi = bounds(p.Field.Z, lo, hi)
		f.Panels = append(f.Panels, p)
		limit := words.Mass(found[i].Class.Limit)
		best := finding.BestPart
		if picks := found[i].Picks(); len(picks) > 1 {
			best = picks[1].Part
		}
		stars = append(stars, out.Add(ofPart(atClass(r, limit), best), words.Each(m.Marks(), words.MarkShort)))
		if e := found[i].Planned; e != nil {
			out.AddCraft(atClass(r, limit), e.Craft)
		}
		merged = mergedText(m)
	}
	label := "best merit" + words.SoFar(r) + " [-]"
	if t := spec.Metric; t != nil {
		name := texts.Lower(t.Title)
		if t.Better != model.Neither {
			name = superlative(t)
		}
		label = words.Bracketed(name, t.Unit.Label)
	}
	if f.Bar = bar(label, lo, hi); spec.Metric == nil {
		f.Bar = finerBar(label, lo, hi)
	}
	f.Title = mapTitle(all, stars)
	laden := ""
	switch {
	case !r.Result.Complete:
		f.Title = soFarTitle(mapPlaces(all, stars))
	case spec.X == sweep.Payload || spec.Y == sweep.Payload:
		if laden = ladenTitle(r, all, &out); laden != "" { // it tells more than where the lightest is best
			f.Title = laden
		}
	}
	f.Note = "In each cell the best feasible design over all other axes" + merged + "."
	if t := spec.Metric; t != nil && t.Better != model.Neither {
		f.Note = "In each cell the design with the " + superlative(t) + " over all other axes" + merged +
			words.Surely(r.Study) + "."
	}
	if cropped {
		f.Note += " Axes end where hatched ground alone would follow."
	}
	if r.Result.Complete && finding.AnyChoice(found) {
		more := " " + f.Title + ", by the nominal model."
		best, none := gathered(recommendedAt(found, func(e *finding.Entry) string {
			return whereText(all[0],
				e.Design)
		}))
		if recommended := "Recommended by the draws: " + endsAt(best, none, "; "); laden == "" {
			f.Title = recommended
			if t := all[0].Ranking(); t != nil {
				f.Title = texts.Upper(superlative(t)) + "; " + texts.Lower(recommended)
			}
		} else {
			more = " " + recommended + "."
		}
		if len(f.Note)+len(more) <= mostNote(len(all)) {
			f.Note += more
		}
	}
	f.Note += out.NoteWithin(mostNote(len(all))-len(f.Note)-len(left)) + left
	return unjudged(r, f), nil
}

// mostReasons is how many letters of a note may say why designs lie outside the model's validity;
// of more the tables tell.
const mostReasons = 200

// mostNote is how many letters of a note stand in two lines below so many panels.
func mostNote(panels int) int {
	if panels == 1 {
		return 230
	}
	return 340
}

// written are the metrics of the best designs that are written into the cells of a map over
// two axes of single values. Lines of them over a continuum would follow designs that differ
// in every respect from cell to cell.
var written = []struct{ Metric, Name, Cell string }{
	{"tip-mach", "full-throttle tip Mach", "M %.2f"},
	{"auw", "all-up weight", "%.0f g"},
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

// ofPart names the nominal best of a place beside the design that is recommended there.
func ofPart(place string, p finding.Part) string {
	if p != finding.NominalPart {
		return place
	}
	return strings.TrimSpace(place + " the nominal best:")
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
		out.Log = a.Def == sweep.KV && at[0] > 0 // a step of it is a share of it
	}
	return out, at
}
