package words

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// Decisions say what decides the nominal ranking of a class: how far the best design leads
// the best of another diameter, where no draws tell more, and that of the class before, why
// it leaves weight unused, which bounds hold it, and what rejects most designs.
func Decisions(r *finding.Run, f *finding.Class) []string {
	if f.Best() == nil {
		return nil
	}
	var out []string
	if f.Choice == nil {
		out = append(out, Lead(r.Study.Merit, f.Lead()))
	}
	if s := Within(f); s != "" {
		out = append(out, s)
	}
	if before := r.Before(f); before != nil {
		out = append(out, Gain(r.Gain(before, f)))
	}
	if s := Unused(r.Unused(f)); s != "" {
		out = append(out, s)
	}
	return append(out, Held(r.Held(f, f.Best()))...)
}

// Within names the best within the model's validity, "" where that is the best of all.
func Within(f *finding.Class) string {
	if !f.Outside() {
		return ""
	}
	words := "within the model's validity: "
	switch best, x := f.Best(), f.Within; {
	case x == nil:
		return words + "none of the ranked"
	case x.Score == best.Score:
		return fmt.Sprintf("%srank %d, %s, of the same merit", words, x.Rank, finding.Inch.Format(x.Design.Diameter, 4))
	default:
		return fmt.Sprintf("%srank %d, %s, %s less", words, x.Rank, finding.Inch.Format(x.Design.Diameter, 4),
			Less(best.Score, x.Score))
	}
}

// Lead says how far the best design leads that of the next diameter: by the draws where
// there are some, otherwise by nominal merit, which is no verdict.
func Lead(merit sweep.Merit, l finding.Lead) string {
	switch {
	case l.Next == nil:
		return "no other diameter has a feasible design"
	case l.Best.Score == 0:
		return "every feasible design has a merit of 0: its ranges tell none apart"
	case l.Draws != nil:
		return "against the strongest other diameter, " + Rival(l.Draws)
	}
	return fmt.Sprintf("%s leads %s, the next best diameter (%s), by %s in nominal merit: no verdict, which --draws "+
		"gives",
		finding.Inch.Format(l.Best.Design.Diameter, 4), finding.Inch.Format(l.Next.Design.Diameter, 4),
		Reaches(merit, l.Next.Craft), Less(l.Best.Score, l.Next.Score))
}

// Diameters is a range of diameters: "2.5 to 3.5 in", "4 in".
func Diameters(s finding.Stretch) string {
	if s.To > s.From {
		return finding.Inch.Number(s.From, 4) + " to " + finding.Inch.Format(s.To, 4)
	}
	return finding.Inch.Format(s.To, 4)
}

// Less says by what share a score is less than another above 0: "0.81 %".
func Less(best, other float64) string {
	if p := 100 * (1 - other/best); p >= 0.1 {
		return fmt.Sprintf("%.2g %%", p)
	}
	return "less than 0.1 %"
}

// Gain says what a class has over a lighter one, in the metrics that rank.
func Gain(g finding.Gain) string {
	limit := Mass(g.From.Class.Limit)
	switch {
	case g.Same:
		return "the same design as at " + limit
	case len(g.Changes) == 0:
		return fmt.Sprintf("against the best at %s: merit %.3f, there %.3f", limit,
			g.To.Best().Score, g.From.Best().Score)
	}
	return "against the best at " + limit + ": " + changesText(g.Changes, 0)
}

// Against holds a class against the next lighter one that has a feasible design; it
// is "" for the lightest class.
func Against(r *finding.Run, f *finding.Class) string {
	if before := r.Before(f); before != nil {
		return Gain(r.Gain(before, f))
	}
	if !r.Lightest(f) {
		return "no lighter class has a feasible design"
	}
	return ""
}

// Unused says of a best design far below the limit why none heavier is best; it is
// "" for one that is not far below.
func Unused(u *finding.Unused) string {
	if u == nil {
		return ""
	}
	words := fmt.Sprintf("of %s only %s is used", Mass(u.Limit), finding.Gram.Format(u.Used, 3))
	above := finding.Gram.Format(u.Least, 4) + " or more"
	switch u.Why {
	case finding.NotKnown:
		return words
	case finding.NoneInGrid:
		return words + ": the grid has no design of " + above
	case finding.NoneFeasible:
		return fmt.Sprintf("%s: no design of %s is feasible; the furthest fail at %s", words, above,
			texts.Lower(GateTitle(u.Gate)))
	case finding.NoneBetter:
		return words + ": no design of " + above + " scores more"
	}
	words += fmt.Sprintf(": the best of those of %s (%s, %s) scores %s less", above,
		finding.Inch.Format(u.Heavy.Design.Diameter, 4), finding.Gram.Format(u.Heavy.Craft.Mass, 3),
		Less(u.Best.Score, u.Heavy.Score))
	if len(u.Changes) > 0 {
		words += " (" + changesText(u.Changes, 0) + ")"
	}
	return words
}

// changesText lists changes of metrics, in per cent to n decimals: "range +5 %, speed ±0 %", of times that
// are better for being short "thrust response, up 8 % faster".
func changesText(all []finding.Change, n int) string {
	return strings.Join(Each(all, func(c finding.Change) string {
		return texts.Lower(c.Metric.Title) + " " + changeText(c.Metric, c.Percent(), n)
	}), ", ")
}

// changeText is how a metric changes: "+5 %", "8 % faster".
func changeText(m *model.Metric, p float64, n int) string {
	text := percentText(p, n)
	if m.Kind != unit.Time || m.Better != model.Lower || strings.HasPrefix(text, "±") {
		return text
	}
	if p < 0 {
		return text[1:] + " faster"
	}
	return text[1:] + " slower"
}

// percentText is a difference in per cent to n decimals: "+5 %".
func percentText(p float64, n int) string {
	if math.Abs(p) <= 0.5*math.Pow10(-n) {
		return fmt.Sprintf("±%.*f %%", n, 0.0)
	}
	return fmt.Sprintf("%+.*f %%", n, p)
}

// noneNear is said of a design that no bound holds.
const noneNear = "no bound within 5 %"

// Held say which bounds hold a design, what holds its top speed, and what
// rejects most designs.
func Held(h finding.Held) []string {
	out := []string{noneNear}
	if len(h.Bounds) > 0 {
		out[0] = "closest bounds: " + strings.Join(Each(h.Bounds, Closest), ", ")
	}
	if h.Top != nil {
		out = append(out, "top speed is held by "+TopLimit(*h.Top))
	}
	if h.Sieve != nil {
		out = append(out, Sieve(*h.Sieve))
	}
	return out
}

// Closest says what a design makes of a bound.
func Closest(b finding.Bound) string {
	q := b.Requirement
	if q == nil {
		return "all-up weight " + WeightOf(b.Value, b.Limit)
	}
	where := ""
	if b.Scenario >= 0 {
		where = fmt.Sprintf(" in scenario %d", b.Scenario+1)
	}
	return fmt.Sprintf("%s %s%s (%s)", texts.Lower(q.Metric.Title), shown(q.Metric, b.Value), where, Bound(q))
}

// Sieve says which gate rejects most of the designs within the class, and what
// share of them.
func Sieve(s finding.Sieve) string {
	words := "fail at " + texts.Lower(GateTitle(s.Gate))
	if s.Gate.Requirement == nil {
		words = "have " + NoPoint
	}
	share := Share(s.Rejected, s.Within)
	return fmt.Sprintf("of the designs light enough, %s %s, the commonest failure", share, words)
}

// Edge says at which end of the grid a design lies: "pitch ratio 0.5 is the lowest".
func Edge(e finding.Edge) string {
	end := "lowest"
	if e.Highest {
		end = "highest"
	}
	return AxisTitle(e.Axis) + " " + e.Axis.Text(e.Value) + " is the " + end
}

// Edges says it of all axes, "" for none.
func Edges(all []finding.Edge) string { return strings.Join(Each(all, Edge), ", ") }

// Wider says what may have a better design beyond an end of a grid.
func Wider(g *sweep.Grid) string {
	for _, a := range g.Axes() {
		if a.Def.IsPart() {
			return "a longer list of parts may have a better design"
		}
	}
	return "a wider grid may have a better design"
}

// pastText says of a term of the merit that more of it no longer counts.
func pastText(p finding.Past) string {
	u := p.Metric.Unit
	return fmt.Sprintf("%s of %s counts no more than %s", texts.Lower(p.Metric.Title), u.Format(p.Value, 3),
		u.Format(p.Best, 4))
}

// Pasts says it of all terms, "" for none.
func Pasts(all []finding.Past) string { return strings.Join(Each(all, pastText), ", ") }

// Miss says which design came nearest in a class without a feasible one, which
// gate it failed and by how much; "" for none.
func Miss(m *finding.Miss) string {
	if m == nil {
		return ""
	}
	what := Design(m.Design)
	if len(m.In) > 1 || m.Scenario > 0 {
		what += fmt.Sprintf(", in scenario %d", m.Scenario+1)
	}
	value, bound, short := Shortfall(m)
	switch q := m.Gate.Requirement; {
	case m.At == sweep.GateClass:
		return fmt.Sprintf("%s: all-up weight of %s is %s over the limit of %s", what, value, short, bound)
	case q == nil:
		return fmt.Sprintf("%s: it has %s", what, NoPoint)
	default:
		words := fmt.Sprintf("%s: %s of %s, where %s is required", what, texts.Lower(q.Metric.Title), value, bound)
		if short != "" {
			words += " (short by " + short + ")"
		}
		return words
	}
}

// Shortfall say what the nearest design has at the gate that it fails, what is
// wanted there and by how much it fails; "" for what has no number.
func Shortfall(m *finding.Miss) (value, bound, short string) {
	switch q := m.Gate.Requirement; {
	case m.At == sweep.GateClass:
		return finding.Gram.Format(m.Value, 4), Mass(m.Bound), finding.Gram.Format(m.Short, 3)
	case q == nil:
		return "", "", ""
	default:
		if !math.IsNaN(m.Short) {
			short = fmt.Sprintf("%.2g %%", 100*m.Short)
		}
		return shown(q.Metric, m.Value), Bound(q), short
	}
}

// NoPoint is what a design lacks that does not keep the requirement that hover and full throttle exist.
const NoPoint = "no hover or full throttle"

// GateLabel names, in a figure, what stops designs at a gate.
func GateLabel(g sweep.Gate) string {
	switch q := g.Requirement; {
	case q != nil:
		return texts.Lower(q.Metric.Title) + " " + BoundSign(q)
	case g.Name == "class":
		return "too heavy for the class"
	}
	return NoPoint
}

// BoundSign is the bound of a requirement with its sign: "≤ 0.8".
func BoundSign(q *sweep.Requirement) string {
	sign := "≤"
	if q.AtLeast {
		sign = "≥"
	}
	return sign + " " + q.Metric.Unit.Format(q.Bound, 4)
}
