package words

import (
	"fmt"

	"rotorsieve/report/finding"
	"rotorsieve/sweep/decide"
)

// Rival says how the recommended diameter stands against another: "4 in against 2.5 in:
// ahead in 71 %, level in 20 %, behind in 9 % of the draws".
func Rival(r *finding.Rival) string {
	return fmt.Sprintf("%s against %s: %s", finding.Inch.Format(r.From, 4), finding.Inch.Format(r.To, 4),
		Standing(&r.Against))
}

// Standing says how the recommended build stands against the best with another value of
// an axis.
func Standing(v *decide.AxisValue) string {
	p := Hundred(v.Behind, v.Level, v.Ahead)
	return fmt.Sprintf("ahead in %d %%, level in %d %%, behind in %d %% of the draws (cautious merit %s)", p[0], p[1],
		p[2], lead(v))
}

// lead is by how much the cautious merit of the recommended build is above another, ± two
// standard errors, and whether that tells them apart: "+0.044 ± 0.008", "+0.008 ± 0.010: tied".
// The draws that tell are not those that chose, and may put the other before.
func lead(v *decide.AxisValue) string {
	s := differs(-v.Difference, v.Standard)
	switch {
	case v.Difference > decide.Apart*v.Standard:
		s += ": the other does better in the fresh draws"
	case before(v):
		s += ": the other does better in the fresh draws, not told apart"
	case v.Difference >= -decide.Apart*v.Standard:
		s += ": tied"
	}
	return s
}

// differs is a difference of merits ± as many standard errors as tell two builds apart: "+0.044 ± 0.008".
func differs(more, standard float64) string {
	return Signed(more) + " ± " + Merits(decide.Apart*standard)
}

// before says whether a build has more cautious merit than the recommended one, in the digits that are told.
func before(v *decide.AxisValue) bool { return v.Difference >= leastSigned }

// Overtaken says which other diameter does better in the fresh draws than the one that those that chose
// put first: "the draws that chose put 7 in first, the fresh ones 6.5 in, not told apart"; "" for none.
func Overtaken(c *finding.Choice) string {
	all := c.Rivals()
	if len(all) == 0 || !before(&all[0].Against) {
		return ""
	}
	r := &all[0]
	s := fmt.Sprintf("the draws that chose put %s first, the fresh ones %s", finding.Inch.Format(r.From, 4),
		finding.Inch.Format(r.To, 4))
	if r.Against.Difference <= decide.Apart*r.Against.Standard {
		s += ", not told apart"
	}
	return s
}

// Rivals say it of the best other diameters, as many as asked for; "" where there is none.
func Rivals(c *finding.Choice, most int) string {
	all := c.Rivals()
	if len(all) == 0 {
		return ""
	}
	s := Rival(&all[0])
	for n := range all[1:min(most, len(all))] {
		r := &all[1+n]
		p := Hundred(r.Against.Behind, r.Against.Level, r.Against.Ahead)
		s += fmt.Sprintf("; against %s %d, %d and %d %% (%s)", finding.Inch.Format(r.To, 4), p[0], p[1], p[2],
			lead(&r.Against))
	}
	if n := len(all) - most; n > 0 {
		s += fmt.Sprintf("; %d more in %s", n, finding.ConfidenceName)
	}
	return s
}
