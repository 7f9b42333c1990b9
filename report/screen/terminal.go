package screen

import (
	"fmt"
	"io"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// Page is how an answer is printed.
type Page struct {
	Width int  // characters, where the words allow it; at least 80
	Whole bool // with the ranking, the tally of what was rejected, all defaults and how far to trust the model
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

// PrintRun prints what a study found: of each class which build to order, why, what holds it and
// what to measure, on one screen of 80 columns where the classes are few enough. A whole page has
// all of that at length, the designs that rank first, the tally by gate and the defaults besides.
func PrintRun(w io.Writer, r *finding.Run, page Page) error {
	found, err := r.Findings()
	if err != nil {
		return err
	}
	if !page.Whole {
		return printBrief(w, r, found, max(page.Width, 80))
	}
	p := &printer{w: w, width: max(page.Width, 80)}
	size := r.Study.Grid.Size()
	p.line("%s: %s designs, %d %s", texts.OneLine(r.Study.Name), texts.Grouped(size), len(found),
		texts.Plural(len(found), "weight class", "weight classes"))
	if len(r.Study.Others) > 0 {
		p.hung("scenarios ", words.Scenarios(r.Study))
	} else {
		p.hung("air      ", words.Air(r.Study.Model))
	}
	p.hung("merit    ", words.Merit(r.Study.Merit))
	if r.Decides() {
		p.hung("draws    ", words.Draws(r.Decision)+words.DrawnOver(r.Study))
	}
	if price := words.PriceOf(r.Study.Grid); price != "" {
		p.hung("price    ", price)
	}
	if mark := words.RunMark(r); mark != "" {
		p.line("%s", mark)
	}
	if !r.Result.Complete {
		p.hung("judged   ", "of each diameter, in every class: "+words.JudgedShares(r))
	}
	for i := range found {
		p.line("")
		if err := printClass(r, p, &found[i]); err != nil {
			return err
		}
	}
	p.line("")
	p.line("Rejected, by the first requirement that a design does not keep:")
	p.table(tallyColumns(r, found))
	for i := range found {
		if fall := words.ScenarioFall(r.Study, found[i].ClassResult); fall != "" {
			p.hung("  ", "class "+texts.OneLine(words.ClassLabel(found[i].Class))+": "+fall)
		}
	}
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
