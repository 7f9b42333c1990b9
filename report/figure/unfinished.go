package figure

import (
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// Of a run that has not judged all designs, figures show the best so far and nothing that
// rests on there being no better one. Those that do nothing else are left out.
const (
	notJudged   = "not all judged" // in place of a gate
	unfinished  = "not all designs were judged"
	plainGround = "no feasible design so far; named: that not all were judged, or the requirement at which the " +
		"last fails"
	soFarNote = "Found so far: better ones may be left. "
	soFarTold = "Of an unfinished run, what was found so far. "
)

// unjudged marks a figure over designs of which some were not judged: ground without a
// feasible one is hatched only where all were.
func unjudged(r *finding.Run, f *chart.Figure) *chart.Figure {
	if r.Result.Complete {
		return f
	}
	f.Note = soFarNote + f.Note
	for k := range f.Panels {
		if f.Panels[k].Field == nil {
			continue
		}
		for _, row := range f.Panels[k].Field.Gate {
			for _, gate := range row {
				if gate == notJudged {
					f.Plain, f.Infeasible = true, plainGround
				}
			}
		}
	}
	return f
}

// soFarTitle says where the best so far of each class is, and no more.
func soFarTitle(where []finds) string {
	best, none := gathered(where)
	if len(best) == 0 {
		return "No feasible design so far at " + none
	}
	title := "Best so far: " + allAt(best, "", "; ")
	if none != "" {
		title += "; none so far at " + none
	}
	return title
}

// mapPlaces are the places of the stars of a map.
func mapPlaces(all []*finding.Mapper, stars []string) (where []finds) {
	for i, m := range all {
		f := finds{limit: words.Mass(m.Class.Class.Limit) + stars[i]}
		if m.Best >= 0 {
			f.where = whereText(m, m.Design())
		}
		where = append(where, f)
	}
	return where
}

// rests says whether a figure says nothing but of the best, so that an unfinished run has none.
func (p *plan) rests() bool {
	switch p.name {
	case frontName, sharesName, classesName, massName, envelopeName, rotorName:
		return true
	}
	return false
}
