package sheet

import (
	"fmt"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// byNominal stands under the title of a sheet that ranks by the nominal model, where draws recommend.
const byNominal = "By the nominal model, before any error; what is recommended over the draws stands on page one"

// namedAbsent is of how many classes a line names what is not listed.
const namedAbsent = 4

// recommends says whether a row is the recommended build of its class, with its planned pack.
func (b *review) recommends(x *finding.Row) bool {
	for i := range b.found {
		if f := &b.found[i]; f.Choice != nil && x.Class != nil && x.Class.Label == f.Class.Label {
			return x.Index == f.Choice.Recommended().Index
		}
	}
	return false
}

// nominalLine is byNominal with where the recommended build of each of some classes stands among the rows that are
// listed; "" where no draws choose.
func (b *review) nominalLine(classes []finding.Class, rows []finding.Row) string {
	listed := map[string]bool{}
	for i := range rows {
		if b.recommends(&rows[i]) {
			listed[rows[i].Class.Label] = true
		}
	}
	chosen := 0
	var absent []string
	for i := range classes {
		f := &classes[i]
		if f.Choice == nil {
			continue
		}
		chosen++
		if listed[f.Class.Label] {
			continue
		}
		name := words.ClassName(f.Class)
		if n := f.Ranks()[f.Choice.Recommended().Index]; n > 0 {
			name += fmt.Sprintf(" (rank %d)", n)
		}
		absent = append(absent, name)
	}
	if chosen == 0 {
		return ""
	}
	said, tinted := byNominal, ", its row tinted here"
	if len(classes) == 1 && len(absent) == 0 { // which may be beyond what is printed
		f := &classes[0]
		tinted = fmt.Sprintf(", its row tinted here, rank %d", f.Ranks()[f.Choice.Recommended().Index])
	}
	switch n := len(absent); {
	case n == 0:
		said += tinted
	case len(classes) == 1 && len(rows) == len(classes[0].Ranking):
		said += fmt.Sprintf("; it is not among the %d listed here", len(rows))
	case n == chosen:
		said += "; not listed here: that of " + strings.Join(some(absent), ", ")
	default:
		said += tinted + "; not listed: that of " + strings.Join(some(absent), ", ")
	}
	return said + "."
}

// nominal puts that line under the title of a table, and tints what is recommended.
func (b *review) nominal(t *table, classes []finding.Class) {
	if said := b.nominalLine(classes, t.rows); said != "" {
		t.note, t.lit = said+"\n"+t.note, b.recommends
	}
}

// some are the first of what is named, and how many more there are.
func some(all []string) []string {
	if n := len(all); n > namedAbsent {
		return append(all[:namedAbsent:namedAbsent], fmt.Sprintf("%d more classes", n-namedAbsent))
	}
	return all
}
