package words

import (
	"fmt"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Fails says at what a build fails most often: "most often at use of the pack's rating, in
// 13 % of the draws".
func Fails(c *finding.Choice, b *decide.Build) string {
	f, ok := c.Fails(b)
	if !ok {
		return "in no draw"
	}
	return fmt.Sprintf("most often %sat %s, in %s of the draws", firstly(f), CauseName(f.Gate), Probability(f.Share))
}

// FailsBriefly says it in fewer words: "fails at use of the pack's rating (13 % of draws)".
func FailsBriefly(c *finding.Choice, b *decide.Build) string {
	f, ok := c.Fails(b)
	if !ok {
		return "fails in no draw"
	}
	return fmt.Sprintf("fails %sat %s (%s of draws)", firstly(f), CauseName(f.Gate), Probability(f.Share))
}

// firstly is put before what is counted of draws that fail there before elsewhere.
func firstly(f finding.Failing) string {
	if f.First {
		return "first "
	}
	return ""
}

// CauseName names a requirement at which draws fail, within a sentence.
func CauseName(g sweep.Gate) string {
	switch {
	case g.Requirement != nil:
		return texts.Lower(g.Requirement.Metric.Title)
	case g.Name == "class":
		return "the weight limit"
	}
	return "hover or full throttle, one of which does not exist"
}

// FailsBoth says it of the recommended build and of the nominal best where that is another.
func FailsBoth(c *finding.Choice) string {
	b, n := c.Recommended(), c.At(c.Nominal)
	s := Fails(c, b)
	if n == nil || c.Nominal == 0 {
		return s
	}
	own, some := c.Fails(b)
	if f, ok := c.Fails(n); ok && some && f.At == own.At && f.First == own.First {
		return s + "; the nominal best there too, in " + Probability(f.Share)
	}
	return s + "; the nominal best " + Fails(c, n)
}
