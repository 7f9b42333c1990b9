package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/sweep"
)

// shortHeads are the heads of the headline metrics in a terminal, with their need of room.
var shortHeads = map[string]struct {
	head string
	need int
}{
	"auw": {"AUW", 0}, "hover-time": {"hover", 0}, "thrust-to-weight": {"T/W", 0}, "top-speed": {"top", 0},
	"tip-mach": {"tip M", 1}, "disk-loading": {"disk load", 2},
}

// PrintRunJSON prints what PrintRun does, for machines: the record of the run with
// the first designs of each ranking.
func PrintRunJSON(w io.Writer, r *Run) error {
	found, err := r.findings()
	if err != nil {
		return err
	}
	return writeJSON(w, recordOf(r, found, shownRanks, nil))
}

// PrintRun prints the first designs of each class, the tally by gate, what lies
// outside the model's validity, the defaults used and the cautions. It keeps
// within width characters where the words allow it, and within 80 at least.
func PrintRun(w io.Writer, r *Run, width int) error {
	found, err := r.findings()
	if err != nil {
		return err
	}
	p := &printer{w: w, width: max(width, 80)}
	size := r.Study.Grid.Size()
	p.line("%s: %s designs, %d %s", oneLine(r.Study.Name), grouped(size), len(found), plural(len(found), "weight class", "weight classes"))
	p.hung("air      ", airText(r.Study.Model))
	p.hung("merit    ", meritText(r.Study.Merit))
	if mark := runMark(r); mark != "" {
		p.line("%s", mark)
	}
	for i := range found {
		p.line("")
		printClass(r, p, &found[i])
	}
	p.line("")
	p.line("Turned away, by the first requirement that a design does not keep:")
	p.table(tallyColumns(r, found))
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

func printClass(r *Run, p *printer, f *finding) {
	name := oneLine(className(f.Class))
	if len(f.First) == 0 {
		p.line("Class %s: no feasible design", name)
		if f.Missed != nil {
			p.hung("  nearest: ", missText(f.Missed))
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
	printPayloads(r, p, f)
	p.hung("decided: ", strings.Join(decisionTexts(r, f), "; "))
	if at := edgesText(edges(r.Study.Grid, top[0].Index)); at != "" {
		p.hung("edge of the grid: ", at+": a wider grid may have a better design")
	}
	if past := pastsText(saturated(r.Study.Merit, top[0].Craft)); past != "" {
		p.hung("past the merit: ", past+": a wider range may rank otherwise")
	}
	var said []string // warnings, in the order in which they come
	of := map[string][]string{}
	mark := func(head string, e *entry) {
		for _, w := range markTexts(e.Craft.Warnings()) {
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
func printPayloads(r *Run, p *printer, f *finding) {
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
			if x.marked() {
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
		at, short := place(h), shortHeads[h.Name]
		most := 0.0
		for i := range top {
			if v := h.Unit.FromSI(top[i].values[at]); finite(v) {
				most = max(most, math.Abs(v))
			}
		}
		c := text(short.head, h.Unit.Label, false, func(x *row) string {
			v := h.Unit.FromSI(x.values[at])
			if !finite(v) {
				return "-"
			}
			return strconv.FormatFloat(v, 'f', decimals(most), 64)
		})
		c.Need = short.need
		columns = append(columns, c)
	}
	return append(columns, text("merit", "", false, func(x *row) string { return strconv.FormatFloat(x.Score, 'f', 4, 64) }))
}

// tallyColumns are those of the tally: gates down, classes across.
func tallyColumns(r *Run, found []finding) []textColumn {
	size := r.Study.Grid.Size()
	gates := textColumn{Head: "requirement", Left: true}
	bounds := textColumn{Left: true}
	for _, g := range r.Result.Gates {
		gates.Cells = append(gates.Cells, lower(gateTitle(g)))
		bounds.Cells = append(bounds.Cells, gateBound(g)+defaultMark(g))
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
