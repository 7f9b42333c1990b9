package report

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model/motor"
	"rotorsieve/sweep"
)

// closeText is closeCall as it is printed: "9.0 %".
var closeText = fmt.Sprintf("%.1f %%", 100*closeCall)

// tooClose says of a lead that it is within closeCall.
const tooClose = "too close to call"

// decisionTexts say what decides a class: how far the best design leads
// the best of another diameter and that of the class before, why it leaves weight
// unused, which bounds hold it, and what turns most designs away.
func decisionTexts(r *Run, f *finding) []string {
	if f.Best() == nil {
		return nil
	}
	out := []string{leadText(f.lead())}
	if s := validText(f); s != "" {
		out = append(out, s)
	}
	if before := r.before(f); before != nil {
		out = append(out, gainText(r.gain(before, f)))
	}
	if s := unusedText(r.unused(f)); s != "" {
		out = append(out, s)
	}
	return append(out, heldTexts(r.held(f))...)
}

// validText names the best within the model's validity, "" where that is the best of all.
func validText(f *finding) string {
	if !f.outside() {
		return ""
	}
	words := "within the model's validity: "
	switch best, x := f.Best(), f.Within; {
	case x == nil:
		return words + "none of the ranked"
	case x.Score == best.Score:
		return fmt.Sprintf("%srank %d, %s, of the same merit", words, x.Rank, inch.Format(x.Design.Diameter, 4))
	default:
		return fmt.Sprintf("%srank %d, %s, %s less", words, x.Rank, inch.Format(x.Design.Diameter, 4), lessText(best.Score, x.Score))
	}
}

// leadText says how far the best design leads that of the next diameter, and which
// diameters the model does not tell from the best.
func leadText(l lead) string {
	switch {
	case l.Next == nil:
		return "no other diameter has a feasible design"
	case l.Best.Score == 0:
		return "every feasible design has a merit of 0: its ranges tell none apart"
	}
	verdict := "a clear lead"
	if l.Close {
		tied := strings.Join(each(l.Tied, diametersText), ", ")
		verdict = fmt.Sprintf(tooClose+"; tied, within %s of the best merit: %s", closeText, tied)
	}
	return fmt.Sprintf("%s leads %s, the next best diameter (%s), by %s in merit: %s",
		inch.Format(l.Best.Design.Diameter, 4), inch.Format(l.Next.Design.Diameter, 4), reaches(l.Next.Craft), lessText(l.Best.Score, l.Next.Score), verdict)
}

// diametersText is a range of diameters: "2.5 to 3.5 in", "4 in".
func diametersText(s stretch) string {
	if s.To > s.From {
		return inch.Number(s.From, 4) + " to " + inch.Format(s.To, 4)
	}
	return inch.Format(s.To, 4)
}

// lessText says by what share a score is less than another above 0: "0.81 %".
func lessText(best, other float64) string {
	if p := 100 * (1 - other/best); p >= 0.1 {
		return fmt.Sprintf("%.2g %%", p)
	}
	return "less than 0.1 %"
}

// gainText says what a class has over a lighter one, in the metrics that rank.
func gainText(g gain) string {
	limit := mass(g.From.Class.Limit)
	switch {
	case g.Same:
		return "the same design as at " + limit
	case len(g.Changes) == 0:
		return fmt.Sprintf("against the best at %s: merit %.3f, there %.3f", limit,
			g.To.Best().Score, g.From.Best().Score)
	}
	return "against the best at " + limit + ": " + changesText(g.Changes, 0)
}

// againstText holds a class against the next lighter one that has a feasible design; it
// is "" for the lightest class.
func againstText(r *Run, f *finding) string {
	if before := r.before(f); before != nil {
		return gainText(r.gain(before, f))
	}
	if !r.lightest(f) {
		return "no lighter class has a feasible design"
	}
	return ""
}

// unusedText says of a best design far below the limit why none heavier is best; it is
// "" for one that is not far below.
func unusedText(u *unused) string {
	if u == nil {
		return ""
	}
	words := fmt.Sprintf("of %s only %s is used", mass(u.Limit), gram.Format(u.Used, 3))
	above := gram.Format(u.Least, 4) + " or more"
	switch u.Why {
	case notKnown:
		return words
	case noneInGrid:
		return words + ": the grid has no design of " + above
	case noneFeasible:
		return fmt.Sprintf("%s: no design of %s is feasible; the furthest fail at %s", words, above,
			lower(gateTitle(u.Gate)))
	case noneBetter:
		return words + ": no design of " + above + " scores more"
	}
	words += fmt.Sprintf(": the best of those of %s (%s, %s) scores %s less", above,
		inch.Format(u.Heavy.Design.Diameter, 4), gram.Format(u.Heavy.Craft.Mass, 3), lessText(u.Best.Score, u.Heavy.Score))
	if len(u.Changes) > 0 {
		words += " (" + changesText(u.Changes, 0) + ")"
	}
	return words
}

// changesText lists changes of metrics, in per cent to n decimals: "range +5 %, speed ±0 %".
func changesText(all []change, n int) string {
	return strings.Join(each(all, func(c change) string {
		return lower(c.Metric.Title) + " " + percentText(c.percent(), n)
	}), ", ")
}

// percentText is a difference in per cent to n decimals: "+5 %".
func percentText(p float64, n int) string {
	if math.Abs(p) <= 0.5*math.Pow10(-n) {
		return fmt.Sprintf("±%.*f %%", n, 0.0)
	}
	return fmt.Sprintf("%+.*f %%", n, p)
}

// heldTexts say which bounds hold the best design, what holds its top speed, and what
// turns most designs away.
func heldTexts(h held) []string {
	out := []string{"closest bounds: " + strings.Join(each(h.Bounds, closestText), ", ")}
	if h.Top != nil {
		out = append(out, "top speed is held by "+topLimitText(*h.Top))
	}
	if h.Sieve != nil {
		out = append(out, sieveText(*h.Sieve))
	}
	return out
}

// closestText says what a design makes of a bound.
func closestText(b bound) string {
	q := b.Requirement
	if q == nil {
		return fmt.Sprintf("all-up weight %s of %s", gram.Format(b.Value, 4), mass(b.Limit))
	}
	return fmt.Sprintf("%s %s (%s)", lower(q.Metric.Title), shown(q.Metric, b.Value), boundText(q))
}

// sieveText says which gate turns away most of the designs within the class, and what
// share of them.
func sieveText(s sieve) string {
	words := "fail at " + lower(gateTitle(s.Gate))
	if s.Gate.Requirement == nil {
		words = "have no hover or full-throttle point"
	}
	share := shareText(s.Turned, s.Within)
	return fmt.Sprintf("of the designs light enough, %s %s, the commonest failure", share, words)
}

// answerText says what is best in a class: parts, and what they reach.
func answerText(r *Run, f *finding) string {
	e := f.Best()
	d, c := e.Design, e.Craft
	words := fmt.Sprintf("%s × %s propellers of %d blades, %s motors of %s, pack %dS %s: %s", inch.Number(d.Diameter, 4), inch.Format(d.Pitch, 4), d.Blades,
		statorText(d), inputText(sweep.KV, d), d.Cells, mAh.Format(d.Capacity, 4), gram.Format(c.Mass, 3))
	if d.Payload > 0 {
		words += " with " + mass(d.Payload) + " of payload"
	}
	words += ", hovers " + brief(metric("hover-time"), metric("hover-time").Of(c)) + ", thrust to weight " + brief(metric("thrust-to-weight"), metric("thrust-to-weight").Of(c))
	if stand := metric("burst-time"); stood(stand, c) {
		words += " for " + stand.Unit.Format(stand.Of(c), 2)
	}
	for _, t := range r.Study.Merit {
		if v := t.Metric.Of(c); finite(v) && t.Metric.Name != "hover-time" && t.Metric.Name != "thrust-to-weight" && t.Metric.Name != "payload" {
			words += ", " + lower(t.Metric.Title) + " " + t.Metric.Unit.Format(v, 3)
			if stand := metric("top-speed-time"); t.Metric.Name == "top-speed" && stood(stand, c) {
				words += fmt.Sprintf(", held %s before the windings reach %s", stand.Unit.Format(stand.Of(c), 2), celsi.Format(motor.BurstLimit, 4))
			}
		}
	}
	return words
}

// edgeText says at which end of the grid a design lies: "pitch ratio 0.5 is the lowest".
func edgeText(e edge) string {
	end := "lowest"
	if e.Highest {
		end = "highest"
	}
	return axisTitle(e.Axis) + " " + e.Axis.Text(e.Value) + " is the " + end
}

// edgesText says it of all axes, "" for none.
func edgesText(all []edge) string { return strings.Join(each(all, edgeText), ", ") }

// pastText says of a term of the merit that more of it no longer counts.
func pastText(p past) string {
	u := p.Metric.Unit
	return fmt.Sprintf("%s of %s counts no more than %s", lower(p.Metric.Title), u.Format(p.Value, 3), u.Format(p.Best, 4))
}

// pastsText says it of all terms, "" for none.
func pastsText(all []past) string { return strings.Join(each(all, pastText), ", ") }

// missText says which design came nearest in a class without a feasible one, which
// gate it failed and by how much; "" for none.
func missText(m *miss) string {
	if m == nil {
		return ""
	}
	what := designText(m.Design)
	value, bound, short := shortfallTexts(m)
	switch q := m.Gate.Requirement; {
	case m.At == sweep.GateClass:
		return fmt.Sprintf("%s: all-up weight of %s is %s over the limit of %s", what, value, short, bound)
	case q == nil:
		return fmt.Sprintf("%s: it has no operating point in hover or at full throttle", what)
	default:
		words := fmt.Sprintf("%s: %s of %s, where %s is required", what, lower(q.Metric.Title), value, bound)
		if short != "" {
			words += " (short by " + short + ")"
		}
		return words
	}
}

// shortfallTexts say what the nearest design has at the gate that it fails, what is
// wanted there and by how much it fails; "" for what has no number.
func shortfallTexts(m *miss) (value, bound, short string) {
	switch q := m.Gate.Requirement; {
	case m.At == sweep.GateClass:
		return gram.Format(m.Value, 4), mass(m.Bound), gram.Format(m.Short, 3)
	case q == nil:
		return "", "", ""
	default:
		if !math.IsNaN(m.Short) {
			short = fmt.Sprintf("%.2g %%", 100*m.Short)
		}
		return shown(q.Metric, m.Value), boundText(q), short
	}
}

// gateLabel names, in a figure, what stops designs at a gate.
func gateLabel(g sweep.Gate) string {
	switch q := g.Requirement; {
	case q != nil:
		return lower(q.Metric.Title) + " " + boundSign(q)
	case g.Name == "class":
		return "too heavy for the class"
	}
	return "no operating point"
}

// boundSign is the bound of a requirement with its sign: "≤ 0.8".
func boundSign(q *sweep.Requirement) string {
	sign := "≤"
	if q.AtLeast {
		sign = "≥"
	}
	return sign + " " + q.Metric.Unit.Format(q.Bound, 4)
}
