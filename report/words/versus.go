package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// Taken says which design of a run was taken.
func Taken(h *finding.InHand) string {
	var what []string
	if h.Recommended {
		what = append(what, "the recommended build")
	}
	switch {
	case h.Rank > 0:
		what = append(what, fmt.Sprintf("rank %d of %d", h.Rank, len(h.Class.Ranking)))
	case !h.Recommended:
		what = append(what, "not among the ranked")
	}
	what = append(what, fmt.Sprintf("design %d", h.Index))
	if h.Changed {
		what = append(what, "under other flags than the run's")
	}
	return fmt.Sprintf("%s, class %s: %s", texts.OneLine(h.Run.Dir), ClassName(h.Class.Class), strings.Join(what, ", "))
}

// Sides names the designs of a comparison.
var Sides = [2]string{"A", "B"}

// SideTold says what a design that is compared is.
func SideTold(s *finding.Side) string {
	of := "as the flags state it"
	switch {
	case s.Of != nil:
		of = Taken(s.Of)
	case s.File != "":
		of = texts.OneLine(s.File)
	}
	return of + ": " + Design(s.Design)
}

// WhyBetter says which of two designs is better, and what makes it so.
func WhyBetter(v *finding.Versus) string {
	m, win := v.Merits(), v.Winner()
	if win < 0 {
		return fmt.Sprintf("A and B have the same merit, %s", Merits(m[0]))
	}
	lose := 1 - win
	text := ""
	switch {
	case v.Keeps(win) && !v.Keeps(lose):
		text = fmt.Sprintf("%s keeps all requirements and %s does not (%s)", Sides[win], Sides[lose],
			brokenText(v, lose))
		if m[win] == m[lose] {
			return text
		}
		text += fmt.Sprintf("; its merit is %s against %s", Merits(m[win]), Merits(m[lose]))
	default:
		text = fmt.Sprintf("%s has the higher merit by the nominal model, %s against %s", Sides[win],
			Merits(m[win]), Merits(m[lose]))
	}
	terms := v.Terms()
	slices.SortStableFunc(terms, func(a, b finding.TermPair) int {
		return cmp.Compare(math.Abs(b.Gives[0]-b.Gives[1]), math.Abs(a.Gives[0]-a.Gives[1]))
	})
	var gives, takes []string
	for _, t := range terms {
		d := t.Gives[win] - t.Gives[lose]
		if math.Abs(d) < leastTold {
			continue
		}
		said := fmt.Sprintf("%s %s (%s against %s)", texts.Lower(t.Metric.Title), Merits(math.Abs(d)),
			told(&t, win), told(&t, lose))
		if d > 0 {
			gives = append(gives, said)
		} else {
			takes = append(takes, said)
		}
	}
	if len(gives) > 0 {
		text += ": it gains by " + texts.JoinAnd(gives)
	}
	switch {
	case len(takes) > 0 && len(gives) > 0:
		text += ", and loses by " + texts.JoinAnd(takes)
	case len(takes) > 0:
		text += ": it loses by " + texts.JoinAnd(takes)
	}
	if !v.Keeps(win) {
		text += fmt.Sprintf("; neither keeps all requirements (A: %s; B: %s)", brokenText(v, 0), brokenText(v, 1))
	}
	return text
}

// leastTold is the least share of the merit that is told.
const leastTold = 0.0005

func told(t *finding.TermPair, side int) string {
	if !finding.Finite(t.Values[side]) {
		return "none"
	}
	return shown(t.Metric, t.Values[side])
}

// brokenText says what a design does not keep.
func brokenText(v *finding.Versus, side int) string {
	s := &v.Sides[side]
	var all []string
	if s.TooHeavy() {
		all = append(all, fmt.Sprintf("%s, class limit %s", Mass(s.Craft.Mass), Mass(s.Craft.Limit)))
	}
	if !finding.Operates(s.Craft) {
		return strings.Join(append(all, "it does not fly"), ", ")
	}
	for _, r := range v.Broken(side) {
		value := "none"
		if x := s.Value(r.Metric); finding.Finite(x) {
			value = shown(r.Metric, x)
		}
		all = append(all, texts.Lower(r.Metric.Title)+" "+value+", want "+Bound(&r))
	}
	return strings.Join(all, "; ")
}

// PairTold says how two designs stand draw by draw.
func PairTold(v *finding.Versus) string {
	p := v.Pair
	a, b := &p.Of[0], &p.Of[1]
	text := fmt.Sprintf("A is better than B in %s of %d draws of what the model may err by, which both share "+
		"(seed %d; merit %s of A less that of B); all requirements are kept in %s against %s",
		Probability(p.First.Better), p.Draws, p.Seed, differs(p.First.Difference, p.First.Standard),
		Probability(a.Feasible),
		Probability(b.Feasible))
	if a.Cautious == 0 && b.Cautious == 0 { // which tells nothing of the two
		text += ", so that the cautious merit of both is 0: each fails in half of the draws or more"
	} else {
		text += fmt.Sprintf(", with a cautious merit of %s against %s", Merits(a.Cautious), Merits(b.Cautious))
	}
	switch {
	case a.Filled && b.Filled:
		text += "; the packs are in each draw the largest that keep the class"
	case a.Filled || b.Filled:
		text += fmt.Sprintf("; the pack of %s is in each draw the largest that keeps the class", Sides[side(b.Filled)])
	}
	return text
}

// side is the first of two, or the second.
func side(second bool) int {
	if second {
		return 1
	}
	return 0
}

// VersusNotes say what of a comparison is not alike.
func VersusNotes(v *finding.Versus) (out []string) {
	if v.OtherMerit {
		out = append(out, "B is of a study of another merit; both are ranked by that of A")
	}
	if v.OtherRequire {
		out = append(out, "B is of a study of other requirements; both are held against those of A")
	}
	return out
}

// KeptText says whether a design keeps a requirement.
func KeptText(r *sweep.Requirement, v float64) string {
	switch {
	case r.Idle(v):
		return "no such part"
	case r.Kept(v):
		return "kept"
	}
	return "NOT KEPT"
}
