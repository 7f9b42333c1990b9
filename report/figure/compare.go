package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// CompareCaption stands under the overlay.
const CompareCaption = "The charts of size of the runs over each other: on a line the best feasible design no " +
	"heavier has the merit that the line names. Points are the best designs of the classes."

// mostOverlaid is how many runs can be told apart in one chart.
const mostOverlaid = 6

// Overlay draws the charts of size of finished runs over each other.
func Overlay(c *finding.Comparison) (chart.Picture, error) {
	f, err := OverlayFigure(c)
	if err != nil {
		return chart.Picture{}, err
	}
	return Picture(OverlayName, CompareCaption, f)
}

// OverlayFigure is the overlay before it is drawn. It returns an error for a run whose table
// of sizes cannot be read.
func OverlayFigure(c *finding.Comparison) (*chart.Figure, error) {
	p := chart.Panel{
		X: chart.Axis{Label: "all-up weight, at most [g]", Min: math.Inf(1), Max: math.Inf(-1)},
		Y: chart.Axis{Label: "propeller diameter [in]", Min: math.Inf(1), Max: math.Inf(-1)},
	}
	f := &chart.Figure{
		Title: overlayTitle(c),
		Note: "Lines: equal merit of the best feasible design no heavier than that, each run judged in its widest " +
			"class. Points: the " + overlayPoints(c) + ".",
	}
	runs := c.Runs[:min(len(c.Runs), mostOverlaid)]
	lo, hi := math.Inf(1), math.Inf(-1)
	var names, flat []string
	var out words.Outside
	for _, run := range runs {
		names = append(names, run.Name)
		field := run.Sizes
		for k, axis := range []*chart.Axis{&p.X, &p.Y} {
			v := [2][]float64{field.X, field.Y}[k]
			axis.Min, axis.Max = min(axis.Min, v[0]), max(axis.Max, v[len(v)-1])
		}
		lo, hi = bounds(field.Merit, lo, hi)
		if len(field.X) < 2 || len(field.Y) < 2 {
			flat = append(flat, run.Name)
		} else {
			p.Overlays = append(p.Overlays, chart.Overlay{Name: run.Name, X: field.X, Y: field.Y, Z: field.Merit})
		}
		q := bestSizes(run, chosenAll(c), &out)
		q.Ring = len(p.Points) // a design that is best in several runs shows the marks of all
		p.Points = append(p.Points, q)
	}
	if lo < hi {
		levels := finerTop(chart.Levels(lo, hi, 4), 3, hi)
		levels = levels[1 : len(levels)-1]
		for k := range p.Overlays {
			p.Overlays[k].Levels = levels
			p.Overlays[k].Format = "%.3g"
		}
	}
	var limits []float64
	for _, k := range runs[0].Classes {
		limits = append(limits, k.Class.Limit)
	}
	p.Lines = limitLines(limits, p.X, p.Y)
	p.X, p.Y = padded(p.X), padded(p.Y)
	if len(flat) > 0 {
		f.Note += " Without lines, having one diameter: " + strings.Join(flat, ", ") + "."
	}
	if n := len(c.Runs); n > len(runs) {
		f.Note += fmt.Sprintf(" The first %d of %d runs are drawn.", len(runs), n)
	}
	if slices.ContainsFunc(runs, func(r *finding.Finished) bool { return !finding.SameMerit(r.Merit, runs[0].Merit) }) {
		f.Note += " The runs do not rank by the same merit: equal lines do not mean equal craft."
	} else {
		f.Note += " Merit: " + words.Merit(runs[0].Merit) + "."
	}
	if chosenAll(c) {
		f.Ring = nominalRing
		p.Markers = nominalRings(runs)
	}
	f.Note += out.Note()
	f.Subtitle = strings.Join(append(names, apartTexts(c)...), " · ")
	f.Panels = []chart.Panel{p}
	return f, nil
}

// apartTexts says in few words what sets the runs apart, in the order of their names,
// and what they share: the first statement in which they differ, air and designs.
func apartTexts(c *finding.Comparison) []string {
	var differ, later, air []string
	for _, a := range c.Aspects() {
		said := words.Each(words.AspectValues(&a), func(s string) string { return texts.Or(s, words.NotAsked) })
		wording := texts.Lower(words.AspectTitle(&a)) + " " + joinSame(said)
		switch {
		case a.Kind == finding.AssumptionAspect && words.OfPlace(a.Name):
			air = append(air, wording)
		case !a.Differs():
		case a.Matters() && a.Kind != finding.ModelAspect:
			differ = append(differ, wording)
		default:
			later = append(later, wording)
		}
	}
	if len(differ) == 0 {
		differ = later
	}
	var designs []string
	for _, f := range c.Runs {
		designs = append(designs, texts.Grouped(f.Designs))
	}
	return append(append(differ[:min(1, len(differ))], strings.Join(air, ", ")), joinSame(designs)+" designs")
}

// joinSame joins words of the runs, those of all of them once.
func joinSame(words []string) string {
	return strings.Join(slices.Compact(slices.Clone(words)), " / ")
}

// overlayPoints says what the points of an overlay are.
func overlayPoints(c *finding.Comparison) string {
	if chosenAll(c) {
		return "recommended build of each class, as planned"
	}
	return "best design of each class"
}

// chosenAll says whether every run recommends a build wherever it has a best design, and
// tells what that weighs.
func chosenAll(c *finding.Comparison) bool {
	some := false
	for _, run := range c.Runs {
		for i := range run.Classes {
			if k := &run.Classes[i]; k.Best != nil {
				if some = true; k.Chosen == nil || k.Chosen.PlannedAUW == nil {
					return false
				}
			}
		}
	}
	return some
}

// nominalRings mark the nominal best designs of runs, each place once.
func nominalRings(runs []*finding.Finished) (out []chart.Marker) {
	var no words.Outside
	for _, run := range runs {
		q := bestSizes(run, false, &no)
		for n := range q.X {
			m := chart.Marker{X: q.X[n], Y: q.Y[n], Ring: true}
			if !slices.ContainsFunc(out, func(x chart.Marker) bool { return x.X == m.X && x.Y == m.Y }) {
				out = append(out, m)
			}
		}
	}
	return out
}

// bestSizes are the recommended builds of a run as planned, or its best designs; those
// outside the model's validity are noted.
func bestSizes(run *finding.Finished, chosen bool, out *words.Outside) chart.Points {
	q := chart.Points{Family: run.Name}
	auw := finding.Metric("auw")
	for i := range run.Classes {
		k := &run.Classes[i]
		if k.Best == nil {
			continue
		}
		if chosen {
			diameter, _ := k.Chosen.Recommended.Inputs.Of(sweep.Diameter.Name)
			q.X = append(q.X, finding.Gram.FromSI(*k.Chosen.PlannedAUW))
			q.Y = append(q.Y, finding.Inch.FromSI(diameter))
			q.Labels = append(q.Labels, words.ClassName(k.Class))
			continue
		}
		q.X = append(q.X, auw.Unit.FromSI(k.Best.Values[finding.Place(auw)]))
		q.Y = append(q.Y, finding.Inch.FromSI(k.Best.Design.Diameter))
		q.Labels = append(q.Labels, words.ClassName(k.Class)+out.Add(run.Name+" at "+words.Mass(k.Class.Limit),
			words.WarningsShort(k.Best)))
	}
	return q
}

// overlayTitle says which diameters are best in the classes that the runs share:
// first where they agree, then where not. "In both runs 3 in is best at 250 g; best
// at 500 g: 4 in (low), 4.5 in (high)".
func overlayTitle(c *finding.Comparison) string {
	var agreed []finds
	var shared, single []string
	chosen, best, are := chosenAll(c), "best", "is best"
	if chosen {
		best, are = "recommended", "is recommended"
	}
	for _, limit := range c.Limits() {
		var what []finds // where is the diameter, limit the run
		asked := 0
		for _, o := range c.Outcomes(limit) {
			if o.Asked {
				asked++
			}
			switch {
			case o.Row == nil:
			case chosen:
				diameter, _ := o.Chosen.Recommended.Inputs.Of(sweep.Diameter.Name)
				what = append(what, finds{finding.Inch.Format(diameter, 4), o.Run})
			default:
				what = append(what, finds{finding.Inch.Format(o.Row.Design.Diameter, 4), o.Run})
			}
		}
		places, _ := gathered(what)
		switch {
		case len(places) == 0:
		case len(places) == 1 && len(what) == len(c.Runs):
			agreed = append(agreed, finds{what[0].where, words.Mass(limit)})
		default:
			text := best + " at " + words.Mass(limit) + ": " + strings.Join(words.Each(places, gathering.of), ", ")
			if asked > 1 {
				shared = append(shared, text)
			} else {
				single = append(single, text)
			}
		}
	}
	var parts []string
	if all, _ := gathered(agreed); len(all) > 0 {
		first := all[0].where + " " + are + " at " + texts.JoinAnd(all[0].limits)
		all := append([]string{first}, words.Each(all[1:], gathering.at)...)
		parts = append(parts, fmt.Sprintf("in %s %s", texts.Plural(len(c.Runs)-1, "both runs", "all runs"),
			texts.JoinAnd(all)))
	}
	if parts = append(parts, shared...); len(parts) == 0 {
		parts = single
	}
	if len(parts) == 0 {
		return "No run has a feasible design"
	}
	return texts.Upper(strings.Join(parts, "; "))
}
