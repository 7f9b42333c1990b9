package figure

import (
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// Names in legends of the marks of designs that classes are shown by.
const (
	recommendedStar = "recommended build"
	nominalRing     = "nominal best"
)

// nominally stands before what a design reaches by the nominal model where the draws recommend it, which tell
// otherwise of it; "" for others.
func nominally(p finding.Part) string {
	if p.Recommends() {
		return "nominal "
	}
	return ""
}

// partsNote says which classes have their nominal best recommended.
func partsNote(found []finding.Class) string {
	var limits []string
	for i := range found {
		if p := found[i].Picks(); len(p) > 0 && p[0].Part == finding.BothPart {
			limits = append(limits, words.Mass(found[i].Class.Limit))
		}
	}
	if len(limits) == 0 {
		return ""
	}
	return " The nominal best is recommended at " + texts.JoinAnd(limits) + "."
}

// recommendedAt says what of the recommended build of each class, or of the best one where
// no draws choose, is told in a title.
func recommendedAt(found []finding.Class, of func(*finding.Entry) string) (where []finds) {
	for i := range found {
		f := finds{limit: words.Mass(found[i].Class.Limit)}
		if p := found[i].Picks(); len(p) > 0 {
			f.where = of(p[0].Entry)
			f.limit += words.Star(p[0].Marked())
		}
		where = append(where, f)
	}
	return where
}

// recommendedMarks marks the classes whose recommended build lies outside the model's
// validity: " *", and says in the note why; "" for the others.
func recommendedMarks(r *finding.Run, found []finding.Class, out *words.Outside) []string {
	marks := make([]string, len(found))
	for i := range found {
		if found[i].Choice == nil {
			continue
		}
		marks[i] = out.AddCraft(atClass(r, words.Mass(found[i].Class.Limit)), found[i].Planned.Craft)
	}
	return marks
}
