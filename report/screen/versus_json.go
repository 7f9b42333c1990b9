package screen

import (
	"io"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// PrintVersusJSON prints two designs side by side for machines, in SI units but for rpm.
// Differences are of b less a; what a design does not have is null.
func PrintVersusJSON(w io.Writer, v *finding.Versus) error {
	var sides [2]finding.Object
	for i := range v.Sides {
		s := &v.Sides[i]
		sides[i] = finding.Object{{Name: "design", Value: words.Design(s.Design)},
			{Name: "told", Value: words.SideTold(s)},
			{Name: "run", Value: takenRecord(s.Of)}, {Name: "inputs", Value: words.DesignRecord(s.Design)},
			{Name: "class", Value: classRecord(s.Craft)}, {Name: "keeps_all", Value: v.Keeps(i)}}
		if in := s.Scenarios; in != nil {
			merits := []any{}
			for _, m := range in.Merits {
				merits = append(merits, finding.OrNull(m))
			}
			sides[i] = append(sides[i], finding.Member{Name: "scenarios", Value: finding.Object{
				{Name: "over", Value: in.Over.String()}, {Name: "told_in", Value: in.Telling + 1},
				{Name: "merits", Value: merits}}})
		}
	}
	merits := v.Merits()
	terms := []finding.Object{}
	for _, t := range v.Terms() {
		terms = append(terms, finding.Object{{Name: "metric", Value: t.Metric.Name}, {Name: "weight", Value: t.Share},
			{Name: "a", Value: t.Gives[0]}, {Name: "b", Value: t.Gives[1]},
			{Name: "difference", Value: t.Gives[1] - t.Gives[0]}})
	}
	require := []finding.Object{}
	of := [2][]finding.Object{requirementRecord(v.Sides[0].Craft, v.Require),
		requirementRecord(v.Sides[1].Craft, v.Require)}
	for i := range v.Require {
		require = append(require, finding.Object{{Name: "metric", Value: v.Require[i].Metric.Name},
			{Name: "a", Value: of[0][i]}, {Name: "b", Value: of[1][i]}})
	}
	masses := finding.Object{}
	a, b := v.Sides[0].Craft, v.Sides[1].Craft
	other := append(words.Masses(b), words.WholeMass(b))
	for i, x := range append(words.Masses(a), words.WholeMass(a)) {
		masses = append(masses, finding.Member{Name: slug(x.Title), Value: pairRecord(x.Mass, other[i].Mass, "kg")})
	}
	metrics := finding.Object{}
	for _, m := range model.Metrics {
		u := finding.ExportUnit(m)
		a, b := &v.Sides[0], &v.Sides[1]
		x, y := u.FromSI(a.Value(m)), u.FromSI(b.Value(m))
		if finding.Finite(x) || finding.Finite(y) {
			of := pairRecord(x, y, u.Symbol)
			of = append(of, finding.Member{Name: "or_more", Value: []bool{a.Beyond(m), b.Beyond(m)}})
			metrics = append(metrics, finding.Member{Name: m.Name, Value: of})
		}
	}
	return finding.WriteJSON(w, finding.Object{{Name: "a", Value: sides[0]}, {Name: "b", Value: sides[1]},
		{Name: "finding", Value: words.WhyBetter(v)},
		{Name: "merit", Value: finding.Object{{Name: "a", Value: merits[0]}, {Name: "b", Value: merits[1]},
			{Name: "difference", Value: merits[1] - merits[0]}, {Name: "terms", Value: terms}}},
		{Name: "requirements", Value: require}, {Name: "masses", Value: masses}, {Name: "metrics", Value: metrics},
		{Name: "draws", Value: drawsRecord(v)}, {Name: "notes", Value: finding.List(words.VersusNotes(v))}})
}

// pairRecord is a quantity of both designs.
func pairRecord(a, b float64, unit string) finding.Object {
	return finding.Object{{Name: "a", Value: finding.OrNull(a)}, {Name: "b", Value: finding.OrNull(b)},
		{Name: "difference", Value: finding.OrNull(b - a)}, {Name: "unit", Value: unit}}
}

// takenRecord is a design of a run; nil of none.
func takenRecord(h *finding.InHand) any {
	if h == nil {
		return nil
	}
	var rank any
	if h.Rank > 0 {
		rank = h.Rank
	}
	return finding.Object{{Name: "folder", Value: h.Run.Dir}, {Name: "name", Value: h.Run.Name},
		{Name: "class", Value: h.Class.Class.Label}, {Name: "index", Value: h.Index}, {Name: "rank", Value: rank},
		{Name: "recommended", Value: h.Recommended}, {Name: "changed", Value: h.Changed}}
}

// drawsRecord is how both stand over draws; nil without.
func drawsRecord(v *finding.Versus) any {
	if v.Pair == nil {
		return nil
	}
	p := v.Pair
	of := func(b *decide.Build) finding.Object {
		return finding.Object{{Name: "p_feasible", Value: b.Feasible}, {Name: "cautious", Value: b.Cautious},
			{Name: "merit", Value: finding.Object{{Name: "p10", Value: b.Merit.P10}, {Name: "p50", Value: b.Merit.P50},
				{Name: "p90", Value: b.Merit.P90}}}}
	}
	return finding.Object{{Name: "draws", Value: p.Draws}, {Name: "seed", Value: p.Seed},
		{Name: "p_better", Value: p.First.Better}, {Name: "ahead", Value: p.First.Ahead},
		{Name: "level", Value: p.First.Level}, {Name: "behind", Value: p.First.Behind},
		{Name: "difference", Value: -p.First.Difference}, {Name: "se", Value: p.First.Standard},
		{Name: "a", Value: of(&p.Of[0])}, {Name: "b", Value: of(&p.Of[1])}}
}
