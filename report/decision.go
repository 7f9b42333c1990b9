package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/sweep"
)

// closeCall is the lead in merit, as a share, below which this model does not tell
// two designs apart: its median error in thrust at rest.
var closeCall = bySize.CT.Median / 100

// closeText is closeCall as it is printed: "9.0 %".
var closeText = fmt.Sprintf("%.1f %%", 100*closeCall)

// tooClose says of a lead that it is within closeCall.
const tooClose = "too close to call"

// decisions says in words what decides a class: how far the best design leads
// the best of another diameter and that of the class before, why it leaves weight
// unused, which bounds hold it, and what turns most designs away.
func (r *Run) decisions(f *finding) []string {
	if f.Best() == nil {
		return nil
	}
	out := []string{r.lead(f)}
	if s := f.valid(); s != "" {
		out = append(out, s)
	}
	if before := r.before(f); before != nil {
		out = append(out, r.gain(before, f))
	}
	if s := r.unused(f); s != "" {
		out = append(out, s)
	}
	return append(out, r.held(f)...)
}

// valid names the best within the model's validity, "" where that is the best of all.
func (f *finding) valid() string {
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

// lead says how far the best design leads that of the next diameter, and which
// diameters the model does not tell from the best.
func (r *Run) lead(f *finding) string {
	next, best := f.secondDiameter(), f.Best()
	switch {
	case next == nil:
		return "no other diameter has a feasible design"
	case best.Score == 0:
		return "every feasible design has a merit of 0: its ranges tell none apart"
	}
	verdict := "a clear lead"
	if f.close() {
		verdict = fmt.Sprintf(tooClose+"; tied, within %s of the best merit: %s", closeText, f.tied())
	}
	return fmt.Sprintf("%s leads %s, the next best diameter (%s), by %s in merit: %s", inch.Format(best.Design.Diameter, 4),
		inch.Format(next.Design.Diameter, 4), reaches(next.Craft), lessText(best.Score, next.Score), verdict)
}

// lessText says by what share a score is less than another above 0: "0.81 %".
func lessText(best, other float64) string {
	if p := 100 * (1 - other/best); p >= 0.1 {
		return fmt.Sprintf("%.2g %%", p)
	}
	return "less than 0.1 %"
}

// tied names the diameters whose best designs the model does not tell from the
// best of all, neighbours of the grid as a range: "2.5 to 3.5 in, 4 in".
func (f *finding) tied() string {
	within := func(n int) bool {
		return n < len(f.ByDiameter) && f.ByDiameter[n] != nil && 1-f.ByDiameter[n].Score/f.Best().Score < closeCall
	}
	var out []string
	for n := 0; n < len(f.ByDiameter); n++ {
		if !within(n) {
			continue
		}
		first := f.ByDiameter[n].Design.Diameter
		for within(n + 1) {
			n++
		}
		words := inch.Format(f.ByDiameter[n].Design.Diameter, 4)
		if last := f.ByDiameter[n].Design.Diameter; last > first {
			words = inch.Number(first, 4) + " to " + words
		}
		out = append(out, words)
	}
	return strings.Join(out, ", ")
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

// against holds a class against the next lighter one that has a feasible design; it
// is "" for the lightest class.
func (r *Run) against(f *finding) string {
	if before := r.before(f); before != nil {
		return r.gain(before, f)
	}
	if slices.ContainsFunc(r.evaluated, func(k finding) bool { return k.Class.Limit < f.Class.Limit }) {
		return "no lighter class has a feasible design"
	}
	return ""
}

// gain says what a class has over a lighter one, in the metrics that rank.
func (r *Run) gain(from, to *finding) string {
	a, b := from.Best(), to.Best()
	if a.Index == b.Index {
		return "the same design as at " + mass(from.Class.Limit)
	}
	all := r.changes(a, b)
	if len(all) == 0 {
		return fmt.Sprintf("against the best at %s: merit %.3f, there %.3f", mass(from.Class.Limit), b.Score, a.Score)
	}
	return "against the best at " + mass(from.Class.Limit) + ": " + strings.Join(all, ", ")
}

// farBelow is the share of a class's limit beneath which its best design leaves
// weight unused.
const farBelow = 0.9

// heaviest is what a class has near its limit, from the first weight bin that lies
// within farBelow of it.
type heaviest struct {
	Least float64 // kg; at the limit or above where no bin lies so near to it
	Seen  bool    // the grid has designs of so much
	Best  *entry  // of them; nil where none is feasible
	Gate  int     // the furthest at which one of them was turned away
}

// heaviest finds what a class has near its limit.
func (r *Run) heaviest(k *sweep.ClassResult) (heaviest, error) {
	s := &k.Size
	from := int(math.Ceil(farBelow*k.Class.Limit/s.Width - 1e-9))
	h := heaviest{Least: s.Width * float64(from)}
	var best sweep.Cell
	for d := range s.Diameters {
		for b := from; b < s.Bins; b++ {
			best.Gate = max(best.Gate, s.Cells[d*s.Bins+b].Gate)
			h.Seen = h.Seen || s.Seen[d*s.Bins+b]
			if c := s.Cells[d*s.Bins+b]; c.Any && (!best.Any || c.Score > best.Score) {
				best.Best = c.Best
			}
		}
	}
	h.Gate = int(best.Gate)
	if !best.Any {
		return h, nil
	}
	e, err := r.entry(k, best.Ranked)
	h.Best = &e
	return h, err
}

// unused says of a best design far below the limit why none heavier is best: by how
// much the best of the heaviest scores less, or what turns all of those away. It is
// "" for a design that is not far below.
func (r *Run) unused(f *finding) string {
	best, h := f.Best(), &f.Heaviest
	if best.Craft.Mass >= farBelow*f.Class.Limit {
		return ""
	}
	words := fmt.Sprintf("of %s only %s is used", mass(f.Class.Limit), gram.Format(best.Craft.Mass, 3))
	above := gram.Format(h.Least, 4) + " or more"
	switch {
	case h.Least >= f.Class.Limit, h.Best == nil && !r.Result.Complete: // not known
		return words
	case !h.Seen:
		return words + ": the grid has no design of " + above
	case h.Best == nil:
		return fmt.Sprintf("%s: no design of %s is feasible; the furthest fail at %s", words, above, lower(gateTitle(r.Result.Gates[h.Gate])))
	case best.Score == 0 || h.Best.Score == best.Score:
		return words + ": no design of " + above + " scores more"
	}
	words += fmt.Sprintf(": the best of those of %s (%s, %s) scores %s less", above, inch.Format(h.Best.Design.Diameter, 4),
		gram.Format(h.Best.Craft.Mass, 3), lessText(best.Score, h.Best.Score))
	if all := r.changes(best, h.Best); len(all) > 0 {
		words += " (" + strings.Join(all, ", ") + ")"
	}
	return words
}

// changes are those of the metrics that rank, from one design to another.
func (r *Run) changes(from, to *entry) []string {
	var all []string
	for _, t := range r.Study.Merit {
		x, y := t.Metric.Of(from.Craft), t.Metric.Of(to.Craft)
		if finite(x) && finite(y) && x > 0 && relative(t.Metric) && beyond(t.Metric, x)+beyond(t.Metric, y) == "" {
			all = append(all, lower(t.Metric.Title)+" "+change(x, y, 0))
		}
	}
	return all
}

// change says by how much a value changes, to n decimals: "+5 %".
func change(from, to float64, n int) string {
	s := fmt.Sprintf("%+.*f %%", n, 100*(to/from-1))
	if !strings.ContainsAny(s, "123456789") {
		s = "±" + s[1:]
	}
	return s
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

// stood says whether a time that the motors stand is known and has an end.
func stood(time *model.Metric, c *model.Craft) bool {
	v := time.Of(c)
	return finite(v) && beyond(time, v) == ""
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
