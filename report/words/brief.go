package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// What a page that is to be seen at once says, in the fewest words.

// AirBriefly is Air without what follows from it: "1600 m, 5 °C".
func AirBriefly(m *model.Model) string {
	return fmt.Sprintf("%.6g m, %s", m.Air.Altitude, finding.Celsius.Format(m.Air.Temperature, 3))
}

// MeritBriefly is Merit in fewer words: "40 % hover time (5 to 30 min), 60 % top speed (12 to 50 m/s)".
func MeritBriefly(m sweep.Merit) string {
	var sum float64
	for _, t := range m {
		sum += t.Weight
	}
	return strings.Join(Each(m, func(t sweep.Term) string {
		u := t.Metric.Unit
		return fmt.Sprintf("%.3g %% %s (%s to %s)", 100*t.Weight/sum, texts.Lower(t.Metric.Title), u.Number(t.Worst, 5),
			u.Format(t.Best, 5))
	}), ", ")
}

// MissionBriefly is what was asked, in a line: "Within 250 g at 0 m, 15 °C; ranked by 40 % hover time (5 to 30
// min), 60 % top speed (12 to 50 m/s)".
func MissionBriefly(s *sweep.Study) string {
	var limits []string
	for _, c := range s.Classes {
		limits = append(limits, ClassName(c))
	}
	text := "Within " + texts.JoinOr(limits)
	if loads := finding.AxisValues(s.Grid, sweep.Payload); len(loads) > 1 || len(loads) == 1 && loads[0] > 0 {
		text += ", payload " + texts.JoinOr(Each(loads, Mass))
	}
	return text + ", " + PlaceBriefly(s) + "; ranked by " + MeritBriefly(s.Merit) + "."
}

// ReachesBriefly says what ranks of a build, from the 10th to the 90th percentile of the draws: "reaches
// hover 5.8-12.3 min, T/W 5.5-7.7".
func ReachesBriefly(c *finding.Choice, b *decide.Build) string {
	var all []string
	for n, m := range c.Ranking() {
		all = append(all, MetricHead(m)+" "+Spaced(Ranges(m, []*decide.Build{b}, n)[0], m.Unit.Label))
	}
	return "reaches " + strings.Join(all, ", ")
}

// DrawsBriefly says what the shares of a choice rest on, and what stands in its ranges.
func DrawsBriefly(s *sweep.Study, d *decide.Decision) string {
	text := fmt.Sprintf("%s, more of the best, %s fresh ones tell; ranges from the 10th to the 90th percentile",
		texts.Grouped(uint64(d.Draws)), texts.Grouped(uint64(d.Fresh)))
	if len(s.Others) > 0 {
		text += ", where a metric is worst"
	}
	return text
}

// RangesBriefly says of a table of answers what its ranges are: "ranges: 10th to 90th percentile of 1,024 draws".
func RangesBriefly(s *sweep.Study, d *decide.Decision) string {
	text := fmt.Sprintf("ranges: 10th to 90th percentile of %s draws", texts.Grouped(uint64(d.Fresh)))
	if len(s.Others) > 0 {
		text += ", where worst"
	}
	return text
}

// FeasibleBriefly says what stands beneath P(feas).
const FeasibleBriefly = "P(feas): share that keeps all"

// CautionBriefly is what must not be left out of any page.
func CautionBriefly() string {
	return "a sizing estimate, not an airworthiness or flight clearance; lithium packs burn, spinning propellers " +
		"injure: keep within the makers' ratings and the local rules in force"
}

// ChoiceBriefly says what the recommended build costs and buys, and with what it is tied.
func ChoiceBriefly(c *finding.Choice) string {
	s := "is the nominal best"
	if c.At(c.Nominal) == nil {
		s = "the nominal best was not among what was drawn"
	} else if p := c.Price(); p != nil {
		s = "costs " + lost(p.Recommended.Nominal, p.Nominal.Nominal) + " of nominal merit"
	}
	if !c.Reached() && c.Surest > 0 {
		b := c.At(c.Surest)
		s += fmt.Sprintf("; the surest, %s, keeps all in %s", BuildOf(c, b), Probability(b.Feasible))
	}
	n := len(c.Ties())
	if n == 0 {
		return s + "; tied with none"
	}
	return s + fmt.Sprintf("; tied with %d %s; by size %s", n, texts.Plural(n, "build", "builds"),
		texts.JoinAnd(Each(c.TiedSizes(), Diameters)))
}

// HeldBriefly says at what the recommended build fails most often, and to which bounds its
// planned design is nearest.
func HeldBriefly(c *finding.Choice, bounds []finding.Bound) string {
	f, ok := c.Fails(c.Recommended())
	if !ok {
		return "nothing in any draw; " + BoundsBriefly(bounds)
	}
	return fmt.Sprintf("%s (fails %s%s of draws); %s", CauseName(f.Gate), firstly(f), Probability(f.Share),
		BoundsBriefly(bounds))
}

// PackBriefly says where full throttle asks more of the pack of the recommended build than is stated that it bears;
// "" where it does not.
func PackBriefly(f *finding.Class) string {
	nominal, most, ok := f.Overload()
	switch {
	case !ok:
		return ""
	case nominal > 1:
		return fmt.Sprintf("pack at %.0f %% of its stated burst rating at full throttle (P90 %.0f %%)", 100*nominal,
			100*most)
	}
	return fmt.Sprintf("pack at up to %.0f %% of its stated burst rating at full throttle (P90)", 100*most)
}

// mostBounds is how many bounds a brief page names.
const mostBounds = 2

// BoundsBriefly are the nearest bounds.
func BoundsBriefly(all []finding.Bound) string {
	if len(all) == 0 {
		return noneNear
	}
	s := strings.Join(Each(all[:min(mostBounds, len(all))], func(b finding.Bound) string {
		if b.Requirement == nil {
			return WeightOf(b.Value, b.Limit)
		}
		return Closest(b)
	}), ", ")
	if n := len(all) - mostBounds; n > 0 {
		s += fmt.Sprintf(", %d more", n)
	}
	return s
}

// MeasureBriefly says what to measure first, at most that many.
func MeasureBriefly(c *finding.Choice, most int) string {
	single, _ := c.Measures()
	var all, told []string
	for _, m := range single {
		if m.Class != decide.WithinNoise && len(all) < most {
			of := ""
			if m.Of != nil && m.Build != 0 {
				of = "of " + Build(m.Of.Design) + "; "
				m.Of = nil
			}
			said := Measure(&m)
			if slices.Contains(told, said) {
				continue // of another build
			}
			told = append(told, said)
			all = append(all, said+" ("+of+worthBriefly(c, m.Gain)+")")
		}
	}
	switch {
	case len(single) == 0:
		return "nothing was looked at"
	case len(all) == 0:
		return "nothing that would move the choice by more than noise"
	}
	return strings.Join(all, "; ")
}

// worthBriefly is what knowing something gains: "merit +1.1 %".
func worthBriefly(c *finding.Choice, gain float64) string {
	if of := c.Recommended().Merit.P50; of > 0 {
		return fmt.Sprintf("merit +%.2g %%", 100*gain/of)
	}
	return "merit +" + Merits(gain)
}

// GainBriefly says what a class has over a lighter one: of the recommended builds by their
// medians over the draws, or else of the nominal bests.
func GainBriefly(r *finding.Run, before, f *finding.Class) string {
	if before.Choice == nil || f.Choice == nil {
		return Gain(r.Gain(before, f))
	}
	from, to := before.Choice.Recommended(), f.Choice.Recommended()
	s := Mass(f.Class.Limit-before.Class.Limit) + " more than " + Mass(before.Class.Limit) + ": "
	if changes := f.Choice.Medians(from, to); len(changes) > 0 {
		return s + "median " + changesText(changes, 0)
	}
	return s + fmt.Sprintf("median merit %.3f in place of %.3f", to.Merit.P50, from.Merit.P50)
}

// mostPayloads is how many payloads a brief page tells of.
const mostPayloads = 6

// PayloadsBriefly says what the nominal best with each payload, or with some of many, reaches
// in what ranks most: "0, 50 and 100 g: hover time 26.2, 23.0 and 19.7 min".
func PayloadsBriefly(r *finding.Run, f *finding.Class) string {
	all := r.Values(sweep.Payload)
	n := min(mostPayloads, len(all))
	masses := make([]string, n)
	var at []*finding.Entry
	for k := range n {
		i := int(math.Round(float64(k*(len(all)-1)) / float64(max(n-1, 1))))
		masses[k] = finding.Gram.Number(all[i], 5)
		at = append(at, f.ByPayload[i])
	}
	said := []string{}
	for _, m := range finding.Asked(r.Study) {
		if m.Name == "payload" || len(said) == 2 {
			continue
		}
		var numbers []string
		for _, e := range at {
			text := "-"
			if e != nil && finding.Finite(m.Of(e.Craft)) {
				text = BriefNumber(m, m.Of(e.Craft))
			}
			numbers = append(numbers, text)
		}
		said = append(said, texts.Lower(m.Title)+" "+Spaced(strings.Join(numbers, ", "), m.Unit.Label))
	}
	return fmt.Sprintf("%s (the nominal best of each): %s", Spaced(strings.Join(masses, ", "), finding.Gram.Label),
		strings.Join(said, "; "))
}

// LimitsBriefly says of a design where the grid ends, where the merit ends and what of it lies
// outside the model's validity; "" for nothing.
func LimitsBriefly(r *finding.Run, e *finding.Entry) string {
	var all []string
	if at := Edges(finding.Edges(r.Study.Grid, e.Index, e.Craft.Mass)); at != "" {
		all = append(all, at+" of the grid")
	}
	if past := Pasts(finding.Saturated(r.Study.Merit, e.Craft)); past != "" {
		all = append(all, past)
	}
	if found := e.Craft.Warnings(); len(found) > 0 {
		all = append(all, "outside the model's validity: "+strings.Join(Each(found, MarkShort), ", "))
	}
	return strings.Join(all, "; ")
}
