package words

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Probability is a share of draws: "83 %"; nothing but 0 reads 0 and nothing but 1 reads 100.
func Probability(p float64) string {
	switch {
	case p > 0 && p < 0.005:
		return "< 1 %"
	case p < 1 && p >= 0.995:
		return "> 99 %"
	}
	return fmt.Sprintf("%.0f %%", math.Round(100*p))
}

// PartName names what a design is to its class.
func PartName(p finding.Part) string {
	return [...]string{"best", "recommended", "nominal best", "recommended, nominal best"}[p]
}

// Merits is a merit, or a difference of two, as it is told of draws: "0.214".
func Merits(v float64) string { return fmt.Sprintf("%.3f", v) }

// Build names a build, which is a design without its pack's capacity, where that varies: "5×4.3×3, 2207 1750KV,
// 4S", with its payload where it has one.
func Build(d model.Design) string {
	s := BuildName(d, "×")
	if d.Payload > 0 {
		s += ", payload " + Mass(d.Payload)
	}
	return s
}

// BuildOf names a build of a choice, with its payload where that was swept.
func BuildOf(c *finding.Choice, b *decide.Build) string {
	if c.Swept(sweep.Payload) {
		return Build(b.Design)
	}
	return BuildName(b.Design, "×")
}

// PackBought is the capacity that is bought over the draws, P10 to P90: "700 to 850 mAh".
func PackBought(b *decide.Build) string { return PackNumbers(b) + " " + finding.MAh.Label }

// PackNumbers is PackBought without the unit.
func PackNumbers(b *decide.Build) string {
	from, to := finding.MAh.Number(b.Pack.P10, 4), finding.MAh.Number(b.Pack.P90, 4)
	if from == to {
		return to
	}
	return from + " to " + to
}

// Draws says what draws a decision rests on.
func Draws(d *decide.Decision) string {
	return drawsText(d.Draws, d.Fresh, d.Seed,
		Each(d.ByThrottle, func(m *model.Metric) string { return texts.Lower(m.Title) }))
}

// drawsTold says it of a run that was read back.
func drawsTold(d finding.DrawsRecord) string {
	return drawsText(d.Draws, d.Fresh, d.Seed, Each(d.ByThrottle, func(name string) string {
		if m, ok := model.LookupMetric(name); ok {
			return texts.Lower(m.Title)
		}
		return texts.OneLine(name)
	}))
}

func drawsText(draws, fresh int, seed uint64, byThrottle []string) string {
	s := fmt.Sprintf("%s for every build that keeps up, more for the best, and %s fresh ones that tell of them, "+
		"seed %d", texts.Grouped(uint64(draws)), texts.Grouped(uint64(fresh)), seed)
	if len(byThrottle) > 0 {
		s += "; with the throttle held back in a draw that would break " + texts.JoinOr(byThrottle)
	}
	return s
}

// Chances says how a build does over the draws.
func Chances(b *decide.Build) string {
	return fmt.Sprintf("keeps all requirements in %s of the draws, cautious merit %s, merit %s to %s (P10 to P90) "+
		"with a median of %s, expected regret %s, pack bought %s", Probability(b.Feasible), Merits(b.Cautious),
		Merits(b.Merit.P10), Merits(b.Merit.P90), Merits(b.Merit.P50), Merits(b.Regret), PackBought(b))
}

// Recommended says which build a class should order.
func Recommended(c *finding.Choice) string {
	b := c.Recommended()
	return BuildOf(c, b) + ": " + Chances(b)
}

// Price says what the recommended build costs and buys against the nominal best.
func Price(c *finding.Choice) string {
	if c.At(c.Nominal) == nil {
		return "the nominal best was not among what was drawn"
	}
	p := c.Price()
	if p == nil {
		return "none: the nominal best is recommended"
	}
	b, n := p.Recommended, p.Nominal
	s := fmt.Sprintf("%s less nominal merit than the nominal best (%s instead of %s); in return all requirements "+
		"are kept "+
		"in %s of the draws instead of %s, and the cautious merit is %s instead of %s", lost(b.Nominal, n.Nominal),
		Merits(b.Nominal), Merits(n.Nominal), Probability(b.Feasible), Probability(n.Feasible), Merits(b.Cautious),
		Merits(n.Cautious))
	if len(p.Changes) > 0 {
		s += " (medians: " + changesText(p.Changes, 0) + ")"
	}
	return s
}

// lost is the share of a merit that another falls short by: "32 %".
func lost(v, of float64) string {
	if !(of > 0) || v >= of {
		return "nothing"
	}
	return Probability(1 - v/of)
}

// namedTies is how many tied builds are named one by one.
const namedTies = 2

// Ties say which builds the draws do not tell from the recommended one.
func Ties(c *finding.Choice) string {
	ties := c.Ties()
	if len(ties) == 0 {
		return "with no other build that is told of"
	}
	named := Each(ties[:min(namedTies, len(ties))], func(b *decide.Build) string { return BuildOf(c, b) })
	if more := len(ties) - len(named); more > 0 {
		named = append(named, fmt.Sprintf("%d more", more))
	}
	return "with " + strings.Join(named, "; ") + "; by the best of each size: " + TiedRange(c)
}

// TiedRange says of what diameters the best build is the recommended one or tied with it: "anything
// from 2.5 to 4 in".
func TiedRange(c *finding.Choice) string {
	all := c.TiedSizes()
	said := texts.JoinOr(Each(all, Diameters))
	switch {
	case len(all) == 1 && all[0].From == all[0].To:
		return "only " + said
	case len(all) == 1:
		return "anything from " + said
	}
	return said
}

// TiedSizes say it of all classes that have a choice: "By the draws anything from 2.5 to 4
// in is tied at 249 g, only 5 in at 600 g"; "" for none.
func TiedSizes(found []finding.Class) string {
	var all []string
	for i := range found {
		if c := found[i].Choice; c != nil {
			all = append(all, TiedRange(c)+" at "+Mass(found[i].Class.Limit))
		}
	}
	if len(all) == 0 {
		return ""
	}
	return "Tied by the draws: " + strings.Join(all, "; ")
}

// Line says what the best builds at each P(feasible) reach, and where none is as sure as
// finding.Sure, how sure the surest is and what it fails at.
func Line(c *finding.Choice) string {
	var all []string
	last := -1 // point that some build reaches
	for n := 0; n < len(c.Line) && c.Line[n].Any; n++ {
		first := c.Line[n]
		for n+1 < len(c.Line) && c.Line[n+1].Any && c.Line[n+1].Build == first.Build {
			n++
		}
		at := fmt.Sprintf("%.0f", 100*first.Feasible)
		if c.Line[n].Feasible > first.Feasible {
			at += fmt.Sprintf(" to %.0f", 100*c.Line[n].Feasible)
		}
		b := &c.Builds[first.Build]
		tied := ""
		if first.Build > 0 && b.Tied {
			tied = ", tied"
		}
		all = append(all, fmt.Sprintf("at %s %% %s (%s%s)", at, Merits(first.Cautious),
			finding.Inch.Format(b.Design.Diameter, 4), tied))
		last = n
	}
	if last+1 < len(c.Line) {
		all = append(all, fmt.Sprintf("from %.0f %% on none", 100*c.Line[last+1].Feasible))
	}
	s := "best cautious merit by P(feasible): " + strings.Join(all, ", ")
	if last >= 0 {
		s += fmt.Sprintf("; best median %s at %.0f %%", Merits(c.Line[0].Median), 100*c.Line[0].Feasible)
		if last > 0 {
			s += fmt.Sprintf(", %s at %.0f %%", Merits(c.Line[last].Median), 100*c.Line[last].Feasible)
		}
	}
	if !c.Reached() {
		s += "; " + Surest(c)
	}
	return s
}

// Surest says which build keeps the requirements in most draws, and at what it fails.
func Surest(c *finding.Choice) string {
	b := c.At(c.Surest)
	switch {
	case b == nil || b.Feasible == 0:
		return "no build keeps all requirements in any draw"
	case c.Surest == 0:
		return "none is surer than the recommended one"
	}
	return fmt.Sprintf("the surest, %s, keeps all requirements in %s and fails %s", BuildOf(c, b),
		Probability(b.Feasible), Fails(c, b))
}

// Hundred are shares that add up to 1 in whole per cent that add up to 100: what is left
// goes to those that lose most by rounding down, the first of equal ones first.
func Hundred(shares ...float64) []int {
	out := make([]int, len(shares))
	left := 100
	for n, v := range shares {
		out[n] = int(math.Floor(100*v + 1e-9))
		left -= out[n]
	}
	for ; left > 0; left-- {
		most := 0
		for n, v := range shares {
			if 100*v-float64(out[n]) > 100*shares[most]-float64(out[most]) {
				most = n
			}
		}
		out[most]++
	}
	return out
}

// leastSigned is the least difference in merit that is told as one.
const leastSigned = 0.0005

// Signed is a difference in merit: "+0.044".
func Signed(v float64) string {
	if math.Abs(v) < leastSigned {
		return "±0.000"
	}
	return fmt.Sprintf("%+.3f", v)
}
