package words

import (
	"fmt"
	"strings"

	"rotorsieve/report/finding"
)

// RecordedBuild names a build of a record as it is printed: "5×3.5×2, 2207 1800KV, 6S".
func RecordedBuild(b *finding.BuildRecord) string { return strings.ReplaceAll(b.Build, " x ", "×") }

// Reordered says what each run but the first recommends within a limit in place of what the first
// does: "4×2.8×2, 1507 3800KV, 3S becomes 3.5×2.45×2, 1404 3600KV, 3S; cautious merit 0.313 to 0.219,
// P(feasible) 88 % to 90 %"; nothing where no two runs had draws, or were asked.
func Reordered(c *finding.Comparison, limit float64) (out []string) {
	all := c.Outcomes(limit)
	some := 0
	for _, o := range all {
		if o.Chosen != nil {
			some++
		}
	}
	if some == 0 || !all[0].Asked {
		return nil
	}
	for _, o := range all[1:] {
		if !o.Asked || some < 2 && o.Chosen == nil && o.Row != nil {
			continue
		}
		text := reordered(&all[0], &o, c.OneMerit())
		if len(all) > 2 {
			text = o.Run + ": " + text
		}
		out = append(out, text)
	}
	return out
}

// reordered says what another run recommends in place of the first.
func reordered(first, other *finding.Outcome, oneMerit bool) string {
	name := func(o *finding.Outcome) string {
		switch {
		case o.Chosen != nil:
			return RecordedBuild(o.Chosen.Recommended)
		case o.Row == nil:
			return "nothing feasible"
		}
		return "no choice over draws"
	}
	was, is := name(first), name(other)
	text := was + " becomes " + is
	if was == is {
		text = was + " stays"
	}
	if first.Chosen == nil || other.Chosen == nil {
		return text
	}
	a, b := first.Chosen.Recommended, other.Chosen.Recommended
	text += "; "
	if oneMerit {
		text += fmt.Sprintf("cautious merit %s to %s, ", Merits(a.Cautious), Merits(b.Cautious))
	}
	return text + fmt.Sprintf("P(feasible) %s to %s", Probability(a.Feasible), Probability(b.Feasible))
}
