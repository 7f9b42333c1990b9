package figure

import (
	"slices"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// apartLines are, about the cautious merit of each value's best build, two standard errors
// of its difference to that of the recommended build, whose level they reach where both are
// tied.
func apartLines(c *finding.Choice, a *decide.AxisValues, s *seats) (out []chart.Line) {
	level := c.Recommended().Cautious
	for k, v := range a.Values {
		b := c.At(v.Build)
		if !v.Any || b == nil || v.Build == 0 {
			continue
		}
		reach, x, cap := decide.Apart*v.Standard, s.at[k], 0.4*s.half
		lo, hi := max(0, b.Cautious-reach), b.Cautious+reach
		out = append(out, chart.Line{Family: apartFamily, X: []float64{x - cap, x + cap, x, x, x - cap, x + cap},
			Y: []float64{lo, lo, lo, hi, hi, hi}})
	}
	if n := len(s.at); len(out) > 0 {
		out = append(out, chart.Line{Family: firstFamily, X: []float64{s.at[0] - s.half, s.at[n-1] + s.half},
			Y: []float64{level, level}})
	}
	return out
}

// leastReach is how far, as a share of the axis, the longest of such lines must reach to be seen about a
// dot and between other lines.
const leastReach = 0.03

// leaveHidden takes such lines out of panels side by side of one scale, in all of which none is long enough to
// be seen, and says how long they are at most, 0 where they stay.
func leaveHidden(panels []chart.Panel) (longest float64) {
	top := 0.0
	apart := func(l chart.Line) bool { return l.Family == apartFamily }
	for i := range panels {
		top = max(top, panels[i].Y.Max)
		for _, l := range panels[i].Lines {
			if apart(l) {
				longest = max(longest, (l.Y[len(l.Y)-1]-l.Y[0])/2)
			}
		}
	}
	if longest >= leastReach*top {
		return 0
	}
	for i := range panels {
		panels[i].Lines = slices.DeleteFunc(panels[i].Lines, apart)
	}
	return longest
}

// apartText says what the lines are, or where they are left out why.
func apartText(left float64) string {
	if left > 0 {
		return "; tied: at most two standard errors of the difference below the recommended build (" +
			words.Merits(left) + " or less, too short to be drawn)"
	}
	return "; bars about it: two standard errors of the difference to that of the recommended build, which is tied " +
		"where they reach its level"
}

// choiceText says what is chosen and how sure it is: "3 in (tied: 2.5 to 3.5 in); all
// requirements kept in 83 % of draws".
func choiceText(c *finding.Choice) string {
	text := "all requirements kept in " + words.Probability(c.Recommended().Feasible) + " of draws"
	if len(c.Axes) > 0 {
		text = valuesText(c, &c.Axes[0]) + "; " + text
	}
	if rest := restText(c); rest != "" {
		text += " (" + rest + ")"
	}
	return text
}

// mostTied is how many panels side by side have room for what is tied in a line above each.
const mostTied = 2

// panelText says the same above one of several panels: "3 in (tied: 2.5 to 3.5 in); kept in
// 83 %", of many without what is tied, which the heavy line tells.
func panelText(c *finding.Choice, abreast int) string {
	text := "kept in " + words.Probability(c.Recommended().Feasible)
	switch {
	case len(c.Axes) == 0:
	case abreast > mostTied:
		text = words.Input(c.Def(&c.Axes[0]), c.Recommended().Design) + "; " + text
	default:
		text = valuesText(c, &c.Axes[0]) + "; " + text
	}
	return text
}

// restText says at what the draws fail that do not keep all requirements, where these are many.
func restText(c *finding.Choice) string {
	fails, ok := c.Fails(c.Recommended())
	if !ok || c.Reached() {
		return ""
	}
	text := "the rest mostly fail at " + words.CauseName(fails.Gate)
	if c.Surest > 0 {
		text += "; no build keeps all in more than " + words.Probability(c.At(c.Surest).Feasible)
	}
	return text
}

// valuesText names the recommended value of an axis and those that are not told from it.
func valuesText(c *finding.Choice, a *decide.AxisValues) string {
	d, b := c.Def(a), c.Recommended()
	own := words.Input(d, b.Design)
	tied := c.TiedAlong(a)
	if d.IsPart() {
		return partsText(d, own, a, tied)
	}
	var ranges []string
	for _, run := range finding.Runs(tied) {
		from, to := b.Design, b.Design
		d.Apply(&from, a.Values[run[0]].Value)
		d.Apply(&to, a.Values[run[1]].Value)
		ranges = append(ranges, words.InputRange(d, from, to))
	}
	switch {
	case !slices.Contains(tied, false):
		return own + " (all are tied)"
	case len(ranges) == 1 && ranges[0] == own:
		return "only " + own
	case len(ranges) == 1:
		return own + " (tied: " + ranges[0] + ")"
	}
	return own + " (tied: " + texts.JoinAnd(ranges) + ")"
}

// confidenceTitle says what is chosen in each class and how sure it is.
func confidenceTitle(found []finding.Class, marks []string) string {
	var chosen []finds
	var single *finding.Class
	lo, hi := 1.0, 0.0
	for i := range found {
		k := &found[i]
		f := finds{limit: words.Mass(k.Class.Limit) + marks[i]}
		if c := k.Choice; c != nil {
			single = k
			f.where = "a build"
			if len(c.Axes) > 0 {
				f.where = words.Input(c.Def(&c.Axes[0]), c.Recommended().Design)
			}
			lo, hi = min(lo, c.Recommended().Feasible), max(hi, c.Recommended().Feasible)
		}
		chosen = append(chosen, f)
	}
	if len(found) == 1 && single != nil {
		return texts.Upper(choiceText(single.Choice)) + marks[0]
	}
	best, none := gathered(chosen)
	kept := words.Probability(hi)
	if from := words.Probability(lo); from != kept {
		kept = strings.TrimSuffix(from, " %") + " to " + kept
	}
	return "Recommended: " + endsAt(best, none, ", ") + "; all requirements kept in " + kept + " of draws"
}
