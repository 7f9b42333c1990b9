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

const whyNotCaption = "How many designs each requirement rejected, class by class, on a logarithmic scale. " +
	"A design is counted at the first requirement that it does not keep, in the order from above, so that a later " +
	"one may stop more than its bar shows. What stops none has no bar."

// whyNotFigure draws the tally. What rejected none in any class has no bar.
func whyNotFigure(r *finding.Run, found []finding.Class) *chart.Figure {
	found, left := someClasses(found)
	gates := r.Result.Gates
	var drawn []int // places in gates
	var idle []string
	for g := range gates {
		if slices.ContainsFunc(found, func(k finding.Class) bool { return k.Rejected[g] > 0 }) ||
			g <= sweep.GateOperating {
			drawn = append(drawn, g)
		} else {
			idle = append(idle, stops(gates[g]))
		}
	}
	n := len(drawn)
	y := chart.Axis{Names: make([]string, n+1)} // from below
	y.Names[0] = "feasible"
	defaults := false
	for k, g := range drawn {
		name := words.GateLabel(gates[g])
		if q := gates[g].Requirement; q != nil && q.Default {
			name += " †"
			defaults = true
		}
		y.Names[n-k] = name
	}
	x := countAxis(r.Study.Grid.Size())
	f := &chart.Figure{
		Title:    whyNotTitle(gates, found, words.SoFar(r)),
		Subtitle: subtitleOf(r),
		Note:     "A design is counted at the first requirement that it does not keep, in the order from above.",
		Height:   0.17 * float64(n+1),
	}
	if defaults {
		f.Note += " † by default."
	}
	if len(idle) > 0 {
		f.Note += " None fails" + words.SoFar(r) + " at: " + strings.Join(idle, ", ") + "."
	}
	f.Note += left
	switch {
	case len(found) == 1:
		f.Width = 8.5
	case len(found) > 3: // rows of panels
		f.Height = 0.155 * float64(n+1)
	}
	for i := range found {
		k := &found[i]
		p := chart.Panel{Title: words.ClassName(k.Class), X: x, Y: y}
		add := func(at int, family string, count uint64) {
			label := "0"
			if count > 0 {
				label = texts.Grouped(count) + " · " + words.Share(count, r.Result.Done)
			}
			p.Stacks = append(p.Stacks, chart.Stack{At: at, Label: label,
				Pieces: []chart.Piece{{Family: family, Length: float64(count)}}})
		}
		for at, g := range drawn {
			add(n-at, "rejected", k.Rejected[g])
		}
		add(0, "feasible", k.Feasible)
		f.Panels = append(f.Panels, p)
	}
	return f
}

// countAxis is a logarithmic axis for counts up to most, on which a single
// design shows.
func countAxis(most uint64) chart.Axis {
	a := chart.Axis{Label: "designs [-]", Log: true, Min: 0.5, Max: math.Max(10, float64(most))}
	for e := 0; math.Pow10(e) <= a.Max; e++ {
		a.Ticks = append(a.Ticks, math.Pow10(e))
		prefix := [...]string{"", " k", " M", " G", " T", " P", " E"}[e/3]
		a.Texts = append(a.Texts, fmt.Sprintf("%.0f%s", math.Pow10(e%3), prefix))
	}
	return a
}

// whyNotTitle says which gate rejected most designs of each class.
func whyNotTitle(gates []sweep.Gate, found []finding.Class, soFar string) string {
	var what []finds
	for i := range found {
		k := &found[i]
		f := finds{limit: words.Mass(k.Class.Limit)}
		if g, ok := k.Commonest(gates); ok {
			f.where = stops(g)
		}
		what = append(what, f)
	}
	best, none := gathered(what)
	if len(best) == 0 {
		return "Nothing is rejected" + soFar + " at " + none
	}
	title := "The commonest reason to fail" + soFar + ": " + allAt(best, "", ", ")
	if none != "" {
		title += "; none fails" + soFar + " at " + none
	}
	return title
}

// stops names a gate within a sentence.
func stops(g sweep.Gate) string {
	switch {
	case g.Requirement != nil:
		return texts.Lower(g.Requirement.Metric.Title)
	case g.Name == "class":
		return "weight"
	}
	return "having no operating point"
}
