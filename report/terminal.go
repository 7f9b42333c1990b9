package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// headline names the metrics of the tables that answer a study, with the short
// heads and the need of room that a terminal asks for.
var headline = headlines()

type headlineMetric struct {
	Metric *model.Metric
	Head   string
	Need   int
}

// headlines leaves out what the registry does not have.
func headlines() []headlineMetric {
	var out []headlineMetric
	for _, h := range []struct {
		name, head string
		need       int
	}{
		{"auw", "AUW", 0},
		{"hover-time", "hover", 0},
		{"thrust-to-weight", "T/W", 0},
		{"top-speed", "top", 0},
		{"tip-mach", "tip M", 1},
		{"disk-loading", "disk load", 2},
	} {
		if m, ok := model.LookupMetric(h.name); ok {
			out = append(out, headlineMetric{m, h.head, h.need})
		}
	}
	return out
}

// metric finds a metric that the registry must have.
func metric(name string) *model.Metric {
	m, ok := model.LookupMetric(name)
	if !ok {
		panic("report: no metric " + name)
	}
	return m
}

// Print prints the first designs of each class, the tally by gate, what lies
// outside the model's validity, the defaults used and the cautions. It keeps
// within width characters where the words allow it, and within 80 at least.
func (r *Run) Print(w io.Writer, width int) error {
	found, err := r.findings()
	if err != nil {
		return err
	}
	p := &printer{w: w, width: max(width, 80)}
	size := r.Study.Grid.Size()
	p.line("%s: %s designs, %d %s", oneLine(r.Study.Name), grouped(size), len(found), plural(len(found), "weight class", "weight classes"))
	p.hung("air      ", airText(r.Study.Model))
	p.hung("merit    ", meritText(r.Study.Merit))
	if mark := r.mark(); mark != "" {
		p.line("%s", mark)
	}
	for i := range found {
		p.line("")
		r.printClass(p, &found[i])
	}
	p.line("")
	p.line("Turned away, by the first requirement that a design does not keep:")
	p.table(r.tallyColumns(found))
	p.line("")
	if len(r.Result.Failed) > 0 {
		p.line("Propellers that the model could not solve:")
		for _, f := range r.Result.Failed {
			p.hung("  ", f)
		}
		p.line("")
	}
	if len(r.Defaults) > 0 {
		p.hung("defaults ", strings.Join(r.Defaults, ", "))
	}
	if len(r.undrawn) > 0 {
		p.hung("left out ", "figures: "+strings.Join(r.undrawn, "; "))
	}
	p.hung("trust    ", trust(r.Study))
	p.hung("caution  ", caution())
	return p.err
}

func (r *Run) printClass(p *printer, f *finding) {
	name := oneLine(className(f.Class))
	if len(f.First) == 0 {
		p.line("Class %s: no feasible design", name)
		if f.Miss != "" {
			p.hung("  nearest: ", f.Miss)
		}
		return
	}
	top := f.First
	p.line("Class %s: %s feasible designs, the best %d", name, grouped(f.Feasible), len(top))
	var rows []row
	for i := range top {
		rows = append(rows, top[i].row(&f.Class))
	}
	p.table(rankColumns(rows, r.swept(sweep.Payload)))
	r.printPayloads(p, f)
	p.hung("decided: ", strings.Join(r.decisions(f), "; "))
	if at := edges(r.Study.Grid, top[0].Index); len(at) > 0 {
		p.hung("edge of the grid: ", strings.Join(at, ", ")+": a wider grid may have a better design")
	}
	if past := saturated(r.Study.Merit, top[0].Craft); len(past) > 0 {
		p.hung("past the merit: ", strings.Join(past, ", ")+": a wider range may rank otherwise")
	}
	var said []string // warnings, in the order in which they come
	of := map[string][]string{}
	mark := func(head string, e *entry) {
		for _, w := range e.Craft.Warnings() {
			if len(of[w]) == 0 {
				said = append(said, w)
			}
			of[w] = append(of[w], head)
		}
	}
	for i := range top {
		mark(strconv.Itoa(top[i].Rank), &top[i])
	}
	for _, e := range f.ByPayload {
		if e != nil && !slices.ContainsFunc(top, func(o entry) bool { return o.Index == e.Index }) {
			mark("payload "+mass(e.Design.Payload), e)
		}
	}
	if len(said) > 0 {
		p.line("* outside the model's validity, to be trusted less:")
	}
	for _, w := range said {
		p.hung("  ", strings.Join(of[w], ", ")+": "+w)
	}
}

// printPayloads prints the best design with each payload that was swept.
func (r *Run) printPayloads(p *printer, f *finding) {
	if len(f.ByPayload) == 0 {
		return
	}
	var best []row
	var none []string
	for n, e := range f.ByPayload {
		if e == nil {
			none = append(none, mass(r.values(sweep.Payload)[n]))
			continue
		}
		best = append(best, e.row(&f.Class))
	}
	p.line("The best with each payload:")
	p.table(rankColumns(best, true))
	if len(none) > 0 {
		p.line("none with a payload of %s", joinOr(none))
	}
}

// rankColumns are those of a ranking: design, headline metrics, merit.
func rankColumns(top []row, payload bool) []textColumn {
	text := func(head, unit string, left bool, of func(*row) string) textColumn {
		c := textColumn{Head: head, Unit: unit, Left: left}
		for i := range top {
			c.Cells = append(c.Cells, of(&top[i]))
		}
		return c
	}
	columns := []textColumn{
		text("", "", false, func(x *row) string {
			rank, mark := "", " "
			if x.Rank > 0 {
				rank = strconv.Itoa(x.Rank)
			}
			if x.Warnings != "" {
				mark = "*"
			}
			return rank + mark
		}),
		text("propeller", "in", true, func(x *row) string { return propellerText(x.Design, "×") }),
		text("stator", "mm", true, func(x *row) string { return statorText(x.Design) }),
		text("KV", "rpm/V", false, func(x *row) string { return sweep.KV.Unit.Number(x.Design.KV, 5) }),
		text("cells", "", false, func(x *row) string { return sweep.Cells.Text(float64(x.Design.Cells)) }),
		text("pack", "mAh", false, func(x *row) string { return mAh.Number(x.Design.Capacity, 6) }),
	}
	if payload {
		columns = append(columns, text("payload", "g", false, func(x *row) string { return gram.Number(x.Design.Payload, 5) }))
	}
	for _, h := range headline {
		at := place(h.Metric)
		most := 0.0
		for i := range top {
			if v := h.Metric.Unit.FromSI(top[i].values[at]); finite(v) {
				most = max(most, math.Abs(v))
			}
		}
		c := text(h.Head, h.Metric.Unit.Label, false, func(x *row) string {
			v := h.Metric.Unit.FromSI(x.values[at])
			if !finite(v) {
				return "-"
			}
			return strconv.FormatFloat(v, 'f', decimals(most), 64)
		})
		c.Need = h.Need
		columns = append(columns, c)
	}
	return append(columns, text("merit", "", false, func(x *row) string { return strconv.FormatFloat(x.Score, 'f', 4, 64) }))
}

// tallyColumns are those of the tally: gates down, classes across.
func (r *Run) tallyColumns(found []finding) []textColumn {
	size := r.Study.Grid.Size()
	gates := textColumn{Head: "requirement", Left: true}
	bounds := textColumn{Left: true}
	for _, g := range r.Result.Gates {
		gates.Cells = append(gates.Cells, lower(gateTitle(g)))
		s := gateBound(g)
		if g.Requirement != nil && g.Requirement.Default {
			s += " (default)"
		}
		bounds.Cells = append(bounds.Cells, s)
	}
	gates.Cells = append(gates.Cells, "feasible")
	bounds.Cells = append(bounds.Cells, "")
	columns := []textColumn{gates, bounds}
	if !r.Result.Complete {
		gates.Cells = append(gates.Cells, "not judged")
		bounds.Cells = append(bounds.Cells, "")
		columns = []textColumn{gates, bounds}
	}
	for i := range found {
		f := &found[i]
		c := textColumn{Head: oneLine(f.Class.Label)}
		for _, n := range f.Turned {
			c.Cells = append(c.Cells, grouped(n))
		}
		c.Cells = append(c.Cells, grouped(f.Feasible))
		if !r.Result.Complete {
			c.Cells = append(c.Cells, grouped(size-r.Result.Done))
		}
		columns = append(columns, c)
	}
	return columns
}

// values are those of an axis of the grid.
func (r *Run) values(d *sweep.AxisDef) []float64 {
	at, ok := r.Study.Grid.Place(d.Name)
	if !ok {
		return nil
	}
	return r.Study.Grid.Axes()[at].Values
}

func (r *Run) swept(d *sweep.AxisDef) bool { return len(r.values(d)) > 1 }

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// printer writes lines to a terminal and keeps the first error.
type printer struct {
	w     io.Writer
	width int
	err   error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// hung prints text in lines that hang under their start after head.
func (p *printer) hung(head, text string) {
	indent := strings.Repeat(" ", len([]rune(head)))
	for i, l := range wrap(oneLine(text), p.width-len(indent)) {
		if i == 0 {
			p.line("%s%s", head, l)
		} else {
			p.line("%s%s", indent, l)
		}
	}
}

func (p *printer) table(columns []textColumn) {
	kept, gap, out := fit(columns, p.width)
	if p.err == nil {
		p.err = writeTable(p.w, kept, gap)
	}
	if len(out) > 0 {
		p.line("left out at this width: %s", strings.Join(out, ", "))
	}
}
