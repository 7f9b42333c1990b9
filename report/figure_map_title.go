package report

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// mapTitle says what the map alone shows: how far along its axes designs are about as
// good as the best of each class, and of an axis without a continuum what the next
// costs.
func mapTitle(all []*mapper, marks []string) string {
	var found []finds
	for i, m := range all {
		found = append(found, finds{m.extent(), mass(m.class.Class.Limit) + marks[i]})
	}
	best, none := gathered(found)
	if len(best) == 0 {
		return "No design of the grid is feasible at " + none
	}
	if none != "" {
		best = append(best, "none at "+none)
	}
	head := "best"
	if t := all[0].ranking(); t != nil {
		head = superlative(t)
	}
	if all[0].ranges() {
		head = "moving one axis, within " + closeText + " of the " + head
	}
	return upper(head) + ": " + strings.Join(best, "; ")
}

// ranges says whether an axis has a range to tell of.
func (m merging) ranges() bool { return m.smooth() && m.n > 1 }

// ranges says whether the map has a range to tell of.
func (m *mapper) ranges() bool { return m.x.ranges() || m.y.ranges() }

// alikeNote explains the title of a map with ranges.
func alikeNote() string {
	return " Within " + closeText + ", the model's median error in thrust at rest over all sizes: along one axis from the star, the other kept."
}

// extent says how far along each axis from the star a map's designs are about as good,
// or which is next: "3 to 3.5 in, KV 2400 to 2800", "6S (4S with KV 3600 costs 2 %), KV
// 2000 to 2800". It is "" for a map without a star.
func (m *mapper) extent() string {
	if m.best < 0 {
		return ""
	}
	if !m.ranges() {
		text := m.where(" and ")
		if at, cost := m.next(func(int) bool { return true }); at >= 0 {
			d := m.designAt(at)
			text += " (" + inputText(m.spec.X, d) + " and " + inputText(m.spec.Y, d) + " costs " + cost + ")"
		}
		return text
	}
	i, j := m.best%m.x.n, m.best/m.x.n
	var parts []string
	for _, a := range []struct {
		merging
		other  merging
		at     int
		cell   func(k int) int // along the axis from the star
		beside func(c int) bool
	}{
		{m.x, m.y, i, func(k int) int { return j*m.x.n + k }, func(c int) bool { return c%m.x.n != i }},
		{m.y, m.x, j, func(k int) int { return k*m.x.n + i }, func(c int) bool { return c/m.x.n != j }},
	} {
		switch {
		case a.n == 1:
		case a.ranges():
			parts = append(parts, m.along(a.merging, a.at, a.cell))
		default:
			parts = append(parts, m.instead(a.axis.Def, a.other.axis.Def, a.beside))
		}
	}
	return strings.Join(parts, ", ")
}

// along says how far designs are about as good along an axis, whose cells cell gives by
// place, and what they meet there: the end of the grid or what stops them.
func (m *mapper) along(a merging, best int, cell func(k int) int) string {
	def := a.axis.Def
	text := func(k int) string { return inputText(def, m.designAt(cell(k))) }
	near := func(k int) bool { return k >= 0 && k < a.n && m.loss(cell(k)) < closeCall }
	barren := func(k int) bool { return k >= 0 && k < a.n && !m.cells[cell(k)].Any }
	lo, hi := best, best
	for near(lo - 1) {
		lo--
	}
	for near(hi + 1) {
		hi++
	}
	out := fromTo(text(lo), text(hi))
	if lo == hi {
		out = "only " + out
	}
	switch {
	case barren(hi + 1):
		return out + " (above: " + m.wall(cell(hi+1)) + ")"
	case barren(lo - 1):
		return out + " (below: " + m.wall(cell(lo-1)) + ")"
	case a.n < 3 || def == sweep.Payload:
	case lo == 0 && hi == a.n-1:
		return out + " (all of the grid)"
	case lo == 0 && hi == 0:
		return out + " (the grid's lowest)"
	case lo == 0:
		return out + " (from the grid's lowest)"
	case lo == a.n-1:
		return out + " (the grid's highest)"
	case hi == a.n-1:
		return out + " (up to the grid's highest)"
	}
	return out
}

// instead says what the star has on an axis and what the best of the others there
// costs: "6S (4S with KV 3600 costs 2 %)".
func (m *mapper) instead(def, other *sweep.AxisDef, beside func(cell int) bool) string {
	text := inputText(def, m.design())
	at, cost := m.next(beside)
	if at < 0 {
		return "only " + text
	}
	d := m.designAt(at)
	text += " (" + inputText(def, d)
	if with := inputText(other, d); with != inputText(other, m.design()) {
		text += " with " + with
	}
	return text + " costs " + cost + ")"
}

// next is the best of some cells beside the star, -1 for none, and what it costs.
func (m *mapper) next(of func(cell int) bool) (at int, cost string) {
	at = -1
	for c := range m.cells {
		if c != m.best && of(c) && m.cells[c].Any && (at < 0 || better(m.cells[c].Ranked, m.cells[at].Ranked)) {
			at = c
		}
	}
	if at < 0 || math.IsInf(m.loss(at), 1) { // of a best that is 0
		return -1, ""
	}
	share := 100 * m.loss(at)
	if share < 1 {
		return at, "< 1 %"
	}
	return at, fmt.Sprintf("%.0f %%", share)
}

// designAt is the best design of a cell.
func (m *mapper) designAt(cell int) model.Design { return m.run.Study.Grid.Design(m.cells[cell].Index) }

// ranking is the metric that the map ranks by, nil for the merit.
func (m *mapper) ranking() *model.Metric {
	if t := m.spec.Metric; t != nil && t.Better != model.Neither {
		return t
	}
	return nil
}

// wall names in few words what stops designs in a cell.
func (m *mapper) wall(cell int) string {
	label := gateLabel(m.run.Result.Gates[m.cells[cell].Gate])
	if short := shortGates(m.run.Result.Gates)[label]; short != "" {
		return short
	}
	return strings.TrimSuffix(label, " for the class")
}

// value is what the map ranks a cell's design by.
func (m *mapper) value(cell int) float64 {
	if t := m.ranking(); t != nil {
		return t.Unit.FromSI(t.Of(m.craft[cell]))
	}
	return m.cells[cell].Score
}

// loss is the share by which a cell falls short of the best of the map; it is Inf where
// nothing is feasible.
func (m *mapper) loss(cell int) float64 {
	if !m.cells[cell].Any {
		return math.Inf(1)
	}
	v, best := m.value(cell), m.value(m.best)
	if v == best {
		return 0
	}
	return math.Abs(v-best) / math.Abs(best)
}

// laden says for a map over payload what the heaviest takes in place of the lightest:
// "4.25 in (0 g: 4 in), 12 % less merit", with the two cells that it speaks of. It is ""
// where one of them has no design.
func (m *mapper) laden() (text, payload string, cells []int) {
	other, rows := m.spec.X, m.y.n
	cell := func(row, k int) int { return row*m.x.n + k }
	n := m.x.n
	if m.spec.X == sweep.Payload {
		other, rows, n = m.spec.Y, m.x.n, m.y.n
		cell = func(row, k int) int { return k*m.x.n + row }
	}
	best := func(row int) int {
		at := -1
		for k := range n {
			if c := cell(row, k); m.cells[c].Any && (at < 0 || better(m.cells[c].Ranked, m.cells[at].Ranked)) {
				at = c
			}
		}
		return at
	}
	heavy, light := best(rows-1), best(0)
	if rows < 2 || heavy < 0 || light < 0 {
		return "", "", nil
	}
	payload = mass(m.designAt(heavy).Payload)
	text = inputText(other, m.designAt(heavy))
	if was := inputText(other, m.designAt(light)); was != text {
		text += " (" + mass(m.designAt(light).Payload) + ": " + was + ")"
	}
	what := "merit"
	if t := m.ranking(); t != nil {
		what = lower(t.Title)
	}
	change, way := 100*(m.value(heavy)/m.value(light)-1), "more"
	if change < 0 {
		change, way = -change, "less"
	}
	if finite(change) {
		text += fmt.Sprintf(", %.0f %% %s %s", change, way, what)
	}
	return text, payload, []int{heavy, light}
}

// ladenTitle says for a map over payload what carrying the heaviest takes in each
// class; it is "" where none carries it.
func (r *Run) ladenTitle(all []*mapper, out *outside) string {
	var found []finds
	payload := ""
	for _, m := range all {
		limit := mass(m.class.Class.Limit)
		text, carried, cells := m.laden()
		var warnings []string
		for _, c := range cells {
			payload = carried
			warnings = append(warnings, m.craft[c].Warnings()...)
		}
		found = append(found, finds{text, limit + out.add(r.at(limit), warnings)})
	}
	best, none := gathered(found)
	if len(best) == 0 {
		return ""
	}
	if none != "" {
		best = append(best, "none at "+none)
	}
	return "Carrying " + payload + ": " + strings.Join(best, "; ")
}

// fromTo joins the ends of a range, what both say once: "KV 2400 to 2800",
// "3 to 3.5 in".
func fromTo(lo, hi string) string {
	if lo == hi {
		return lo
	}
	a, b := strings.Fields(lo), strings.Fields(hi)
	head, tail := 0, 0
	for a[head] == b[head] {
		head++
	}
	for a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	return strings.Join(a[:len(a)-tail], " ") + " to " + strings.Join(b[head:], " ")
}
