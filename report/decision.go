package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/sweep"
)

// nearBound is the share of a bound within which a design is said to be held by
// it.
const nearBound = 0.05

// closeCall is the lead in merit, as a share, below which this model does not tell
// two designs apart: its median error in thrust at rest.
var closeCall = bySize.CT.Median / 100

// decisions says in words what decides a class: how far the best design leads
// the best of another diameter and that of the class before, which bounds hold
// it, and what turns most designs away.
func (r *Run) decisions(f *finding) []string {
	if f.Best() == nil {
		return nil
	}
	out := []string{r.lead(f)}
	if before := r.before(f); before != nil {
		out = append(out, r.gain(before, f))
	}
	return append(out, r.held(f)...)
}

// held says which bounds hold the best design, and what turns most designs away.
func (r *Run) held(f *finding) []string {
	out := []string{"closest bounds: " + strings.Join(r.closest(f, f.Best()), ", ")}
	if gate, share := r.sieve(f); gate != "" {
		out = append(out, fmt.Sprintf("what most designs that are light enough do not keep: %s (%s)", gate, share))
	}
	return out
}

// lead says how far the best design leads that of the next diameter.
func (r *Run) lead(f *finding) string {
	next := f.secondDiameter()
	if next == nil {
		return "no other diameter has a feasible design"
	}
	best := f.Best()
	share := 1 - next.Score/best.Score
	verdict := "a clear lead"
	if f.close() {
		verdict = "too close to call"
	}
	by := fmt.Sprintf("by %.2g %%", 100*share)
	if 100*share < 0.1 {
		by = "by less than 0.1 %"
	}
	return fmt.Sprintf("%s leads %s, the next best diameter (%s), %s in merit: %s", inch.Format(best.Design.Diameter, 4),
		inch.Format(next.Design.Diameter, 4), reaches(next.Craft), by, verdict)
}

// close says whether the lead over the next best diameter is too close to call.
func (f *finding) close() bool {
	next := f.secondDiameter()
	return next != nil && 1-next.Score/f.Best().Score < closeCall
}

// before is the next lighter class with a feasible design, nil for none.
func (r *Run) before(f *finding) *finding {
	var out *finding
	for i := range r.evaluated {
		k := &r.evaluated[i]
		if k.Best() != nil && k.Class.Limit < f.Class.Limit && (out == nil || k.Class.Limit > out.Class.Limit) {
			out = k
		}
	}
	return out
}

// gain says what a class has over a lighter one, in the metrics that rank.
func (r *Run) gain(from, to *finding) string {
	a, b := from.Best(), to.Best()
	if a.Index == b.Index {
		return "the same design as at " + mass(from.Class.Limit) + ", so that the weight allowed beyond is not used"
	}
	var all []string
	for _, t := range r.Study.Merit {
		x, y := t.Metric.Of(a.Craft), t.Metric.Of(b.Craft)
		if finite(x) && finite(y) && x > 0 && relative(t.Metric) && beyond(t.Metric, x)+beyond(t.Metric, y) == "" {
			all = append(all, fmt.Sprintf("%s %+.0f %%", lower(t.Metric.Title), 100*(y/x-1)))
		}
	}
	if len(all) == 0 {
		return fmt.Sprintf("against the best at %s: merit %.3f, there %.3f", mass(from.Class.Limit), b.Score, a.Score)
	}
	return "against the best at " + mass(from.Class.Limit) + ": " + strings.Join(all, ", ")
}

// answer says what is best in a class: parts, and what they reach.
func (r *Run) answer(f *finding) string {
	e := f.Best()
	d, c := e.Design, e.Craft
	words := fmt.Sprintf("%s × %s propellers of %d blades, %s motors of %s, pack %dS %s: %s", inch.Number(d.Diameter, 4), inch.Format(d.Pitch, 4), d.Blades,
		statorText(d), inputText(sweep.KV, d), d.Cells, mAh.Format(d.Capacity, 4), gram.Format(c.Mass, 3))
	if d.Payload > 0 {
		words += " with " + mass(d.Payload) + " of payload"
	}
	words += ", hovers " + brief(metric("hover-time"), metric("hover-time").Of(c)) + ", thrust to weight " + brief(metric("thrust-to-weight"), metric("thrust-to-weight").Of(c))
	for _, t := range r.Study.Merit {
		if v := t.Metric.Of(c); finite(v) && t.Metric.Name != "hover-time" && t.Metric.Name != "thrust-to-weight" && t.Metric.Name != "payload" {
			words += ", " + lower(t.Metric.Title) + " " + t.Metric.Unit.Format(v, 3)
			if stand := metric("top-speed-time"); t.Metric.Name == "top-speed" && beyond(stand, stand.Of(c)) == "" {
				words += ", which the motors stand for " + stand.Unit.Format(stand.Of(c), 2)
			}
		}
	}
	return words
}

// secondDiameter is the best design of any diameter but that of the best; nil
// for none.
func (f *finding) secondDiameter() *entry {
	var next *entry
	for _, e := range f.ByDiameter {
		if e != nil && e.Design.Diameter != f.Best().Design.Diameter && (next == nil || e.Score > next.Score) {
			next = e
		}
	}
	return next
}

// closest names the bounds that a design is nearest to, over the bound: those
// within nearBound, or the one nearest.
func (r *Run) closest(f *finding, e *entry) []string {
	type held struct {
		words string
		slack float64
	}
	all := []held{{
		fmt.Sprintf("all-up weight %s of %s", gram.Format(e.Craft.Mass, 4), mass(f.Class.Limit)), 1 - e.Craft.Mass/f.Class.Limit,
	}}
	for _, g := range r.Result.Gates {
		q := g.Requirement
		if q == nil || q.Bound == 0 {
			continue
		}
		v := q.Metric.Of(e.Craft)
		if slack := math.Abs(v-q.Bound) / math.Abs(q.Bound); finite(slack) {
			all = append(all, held{fmt.Sprintf("%s %s (%s)", lower(q.Metric.Title), shown(q.Metric, v), boundText(q)), slack})
		}
	}
	slices.SortStableFunc(all, func(a, b held) int {
		switch {
		case a.slack < b.slack:
			return -1
		case a.slack > b.slack:
			return 1
		}
		return 0
	})
	var out []string
	for i, h := range all {
		if i == 0 || h.slack < nearBound {
			out = append(out, h.words)
		}
	}
	return out
}

// sieve names the gate that turns away most of the designs within the class, and
// its share of them; "" where none does.
func (r *Run) sieve(f *finding) (gate, share string) {
	within := r.Result.Done - f.Turned[sweep.GateClass]
	most := uint64(0)
	at := 0
	for n, g := range f.Turned {
		if n != sweep.GateClass && g > most {
			most, at = g, n
		}
	}
	if most == 0 {
		return "", ""
	}
	return lower(gateTitle(r.Result.Gates[at])), shareText(most, within)
}
