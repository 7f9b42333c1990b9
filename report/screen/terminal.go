package screen

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
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
func PrintRunJSON(w io.Writer, r *finding.Run) error {
	found, err := r.Findings()
	if err != nil {
		return err
	}
	return finding.WriteJSON(w, words.RecordOf(r, found, finding.ShownRanks, nil))
}

// PrintRun prints the first designs of each class, the tally by gate, what lies
// outside the model's validity, the defaults used and the cautions. It keeps
// within width characters where the words allow it, and within 80 at least.
func PrintRun(w io.Writer, r *finding.Run, width int) error {
	found, err := r.Findings()
	if err != nil {
		return err
	}
	p := &printer{w: w, width: max(width, 80)}
	size := r.Study.Grid.Size()
	p.line("%s: %s designs, %d %s", texts.OneLine(r.Study.Name), texts.Grouped(size), len(found),
		texts.Plural(len(found), "weight class", "weight classes"))
	p.hung("air      ", words.Air(r.Study.Model))
	p.hung("merit    ", words.Merit(r.Study.Merit))
	if r.Decides() {
		p.hung("draws    ", words.Draws(r.Decision))
	}
	if mark := words.RunMark(r); mark != "" {
		p.line("%s", mark)
	}
	if !r.Result.Complete {
		p.hung("judged   ", "of each diameter, in every class: "+words.JudgedShares(r))
	}
	for i := range found {
		p.line("")
		printClass(r, p, &found[i])
	}
	p.line("")
	p.line("Rejected, by the first requirement that a design does not keep:")
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
	if len(r.Undrawn) > 0 {
		p.hung("left out ", "figures: "+strings.Join(r.Undrawn, "; "))
	}
	p.hung("trust    ", words.Trust(r.Study))
	p.hung("caution  ", words.Caution())
	return p.err
}

func printClass(r *finding.Run, p *printer, f *finding.Class) {
	name := texts.OneLine(words.ClassName(f.Class))
	if len(f.First) == 0 {
		p.line("Class %s: no feasible design%s", name, words.SoFar(r))
		if f.Missed != nil {
			p.hung("  nearest"+words.SoFar(r)+": ", words.Miss(f.Missed))
		}
		printRest(r, p, f)
		return
	}
	top := f.First
	if f.Choice != nil {
		p.line("Class %s: %s feasible designs, the build to order", name, texts.Grouped(f.Feasible))
		printChoice(p, f.Choice)
		p.line("By the nominal model, before any error, the best %d designs:", len(top))
	} else {
		soFar := words.SoFar(r)
		p.line("Class %s: %s feasible designs%s, the best %d%s", name, texts.Grouped(f.Feasible), soFar, len(top),
			soFar)
	}
	var rows []finding.Row
	for i := range top {
		rows = append(rows, top[i].Row(&f.Class))
	}
	p.table(rankColumns(rows, r.Swept(sweep.Payload)))
	printPayloads(r, p, f)
	printDecided(r, p, f)
	var said []string // warnings, in the order in which they come
	of := map[string][]string{}
	mark := func(head string, e *finding.Entry) {
		for _, w := range words.Marks(e.Craft.Warnings()) {
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
		if e != nil && !slices.ContainsFunc(top, func(o finding.Entry) bool { return o.Index == e.Index }) {
			mark("payload "+words.Mass(e.Design.Payload), e)
		}
	}
	if len(said) > 0 {
		p.line("* outside the model's validity, to be trusted less:")
	}
	for _, w := range said {
		p.hung("  ", strings.Join(of[w], ", ")+": "+w)
	}
}

// printDecided prints what decides a class and where a wider grid may; of one that was not
// judged whole what is left.
func printDecided(r *finding.Run, p *printer, f *finding.Class) {
	if !r.Result.Complete {
		printRest(r, p, f)
		return
	}
	best := &f.First[0]
	p.hung("decided: ", strings.Join(words.Decisions(r, f), "; "))
	if at := words.Edges(finding.Edges(r.Study.Grid, best.Index, best.Craft.Mass)); at != "" {
		p.hung("edge of the grid: ", at+": a wider grid may have a better design")
	}
	if past := words.Pasts(finding.Saturated(r.Study.Merit, best.Craft)); past != "" {
		p.hung("past the merit: ", past+": a wider range may rank otherwise")
	}
}

// printRest prints what may be left in a class that was not judged whole.
func printRest(r *finding.Run, p *printer, f *finding.Class) {
	if !r.Result.Complete {
		p.hung("the rest: ", words.Rest(r.Rest(f), f.Best() != nil))
	}
}

// printPayloads prints the best design with each payload that was swept.
func printPayloads(r *finding.Run, p *printer, f *finding.Class) {
	if len(f.ByPayload) == 0 {
		return
	}
	var best []finding.Row
	var none []string
	for n, e := range f.ByPayload {
		if e == nil {
			none = append(none, words.Mass(r.Values(sweep.Payload)[n]))
			continue
		}
		best = append(best, e.Row(&f.Class))
	}
	p.line("The best%s with each payload:", words.SoFar(r))
	p.table(rankColumns(best, true))
	if len(none) > 0 {
		p.line("none%s with a payload of %s", words.SoFar(r), texts.JoinOr(none))
	}
}

// rankColumns are those of a ranking: design, headline metrics, merit.
func rankColumns(top []finding.Row, payload bool) []texts.Column {
	text := func(head, unit string, left bool, of func(*finding.Row) string) texts.Column {
		c := texts.Column{Head: head, Unit: unit, Left: left}
		for i := range top {
			c.Cells = append(c.Cells, of(&top[i]))
		}
		return c
	}
	columns := []texts.Column{
		text("", "", false, func(x *finding.Row) string {
			rank, mark := "", " "
			if x.Rank > 0 {
				rank = strconv.Itoa(x.Rank)
			}
			if x.Marked() {
				mark = "*"
			}
			return rank + mark
		}),
	}
	// A part that exists has its name in place of its numbers.
	exist := map[string]bool{}
	for _, k := range finding.PartsIn(top) {
		exist[k.Name] = true
	}
	unit := map[bool]string{false: "in"}[exist["propeller"]]
	columns = append(columns,
		text("propeller", unit, true, func(x *finding.Row) string {
			return words.Propeller(words.Abridge(x.Design), "×")
		}))
	if !exist["motor"] {
		columns = append(columns,
			text("stator", "mm", true, func(x *finding.Row) string { return words.Stator(x.Design) }),
			text("KV", "rpm/V", false, func(x *finding.Row) string { return sweep.KV.Unit.Number(x.Design.KV, 5) }))
	}
	if !exist["pack"] {
		columns = append(columns,
			text("cells", "", false, func(x *finding.Row) string { return sweep.Cells.Text(float64(x.Design.Cells)) }),
			text("pack", "mAh", false, func(x *finding.Row) string { return finding.MAh.Number(x.Design.Capacity, 6) }))
	}
	for _, k := range finding.PartsIn(top) {
		if k.Name == "propeller" {
			continue
		}
		c := text(k.Name, "", true, func(x *finding.Row) string { return words.Abridged(k.Of(x.Design)) })
		columns = append(columns, c)
	}
	if payload {
		columns = append(columns, text("payload", "g", false,
			func(x *finding.Row) string { return finding.Gram.Number(x.Design.Payload, 5) }))
	}
	for _, h := range finding.Headline {
		at, short := finding.Place(h), shortHeads[h.Name]
		most := 0.0
		for i := range top {
			if v := h.Unit.FromSI(top[i].Values[at]); finding.Finite(v) {
				most = max(most, math.Abs(v))
			}
		}
		c := text(short.head, h.Unit.Label, false, func(x *finding.Row) string {
			v := h.Unit.FromSI(x.Values[at])
			if !finding.Finite(v) {
				return "-"
			}
			return strconv.FormatFloat(v, 'f', words.Decimals(most), 64)
		})
		c.Need = short.need
		columns = append(columns, c)
	}
	return append(columns, text("merit", "", false,
		func(x *finding.Row) string { return strconv.FormatFloat(x.Score, 'f', 4, 64) }))
}

// tallyColumns are those of the tally: gates down, classes across.
func tallyColumns(r *finding.Run, found []finding.Class) []texts.Column {
	size := r.Study.Grid.Size()
	gates := texts.Column{Head: "requirement", Left: true}
	bounds := texts.Column{Left: true}
	for _, g := range r.Result.Gates {
		gates.Cells = append(gates.Cells, texts.Lower(words.GateTitle(g)))
		bounds.Cells = append(bounds.Cells, words.GateBound(g)+words.DefaultMark(g))
	}
	gates.Cells = append(gates.Cells, "feasible")
	bounds.Cells = append(bounds.Cells, "")
	columns := []texts.Column{gates, bounds}
	if !r.Result.Complete {
		gates.Cells = append(gates.Cells, "not judged")
		bounds.Cells = append(bounds.Cells, "")
		columns = []texts.Column{gates, bounds}
	}
	for i := range found {
		f := &found[i]
		c := texts.Column{Head: texts.OneLine(words.ClassLabel(f.Class))}
		for _, n := range f.Rejected {
			c.Cells = append(c.Cells, texts.Grouped(n))
		}
		c.Cells = append(c.Cells, texts.Grouped(f.Feasible))
		if !r.Result.Complete {
			c.Cells = append(c.Cells, texts.Grouped(size-r.Result.Done))
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
	for i, l := range texts.Wrap(texts.OneLine(text), p.width-len(indent)) {
		if i == 0 {
			p.line("%s%s", head, l)
		} else {
			p.line("%s%s", indent, l)
		}
	}
}

func (p *printer) table(columns []texts.Column) {
	kept, gap, out := texts.Fit(columns, p.width)
	if p.err == nil {
		p.err = texts.WriteTable(p.w, kept, gap)
	}
	if len(out) > 0 {
		p.line("left out at this width: %s", strings.Join(out, ", "))
	}
}
