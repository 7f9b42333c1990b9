package report

import (
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Comparison puts finished runs side by side.
type Comparison struct {
	Runs    []*Finished
	Version string // of the program
}

// ComparisonName is the workbook of a comparison.
const ComparisonName = "comparison.xlsx"

// comparisonFigures draws the figures of a comparison; the files that draw them
// add themselves.
var comparisonFigures []func(*Comparison) (Figure, error)

// Compare reads finished runs from their folders, two at least, to be put side
// by side in that order. Others are held against the first.
func Compare(dirs ...string) (*Comparison, error) {
	if len(dirs) < 2 {
		return nil, fmt.Errorf("%d folders to compare, want those of two finished runs or more", len(dirs))
	}
	c := new(Comparison)
	names := map[string]int{}
	for _, dir := range dirs {
		f, err := ReadFinished(dir)
		if err != nil {
			return nil, err
		}
		c.Runs = append(c.Runs, f)
		names[f.Name]++
	}
	for _, f := range c.Runs {
		if names[f.Name] > 1 { // the study's name does not tell them apart
			f.Name = filepath.ToSlash(filepath.Clean(f.Dir))
		}
	}
	return c, nil
}

// Write writes the comparison to a folder, which it makes where it is missing,
// and returns the paths of its files.
func (c *Comparison) Write(dir string) (files []string, err error) {
	put := func(name string, write func(io.Writer) error) error {
		if _, err := writeFile(dir, name, write); err != nil {
			return err
		}
		files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
		return nil
	}
	var figures []Figure
	for _, draw := range comparisonFigures {
		f, err := draw(c)
		if err != nil {
			return nil, err
		}
		figures = append(figures, f)
	}
	for _, f := range figures {
		if err := put(f.Name, func(w io.Writer) error { _, err := w.Write(f.PNG); return err }); err != nil {
			return files, err
		}
	}
	return files, put(ComparisonName, func(w io.Writer) error { return c.writeWorkbook(w, figures) })
}

// limits are those of all classes in kg, the lightest first.
func (c *Comparison) limits() []float64 {
	var out []float64
	for _, f := range c.Runs {
		for i := range f.Classes {
			out = append(out, f.Classes[i].Class.Limit)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// className is that of the class of a limit, as the first run that has it says.
func (c *Comparison) className(limit float64) string {
	for _, f := range c.Runs {
		if k := f.Class(limit); k != nil {
			return className(k.Class)
		}
	}
	return mass(limit)
}

// sides are the best designs of the runs within a limit.
func (c *Comparison) sides(limit float64) []side {
	var out []side
	for _, f := range c.Runs {
		s := side{Name: f.Name, None: "not asked"}
		if k := f.Class(limit); k != nil {
			s.Row, s.None = k.Best, "none"
		}
		out = append(out, s)
	}
	return out
}

// aspect is something asked of a study, as each run was asked it.
type aspect struct {
	What  string
	Words []string // by run; "" where it was not asked
}

func (a *aspect) differs() bool {
	return slices.ContainsFunc(a.Words, func(s string) bool { return s != a.Words[0] })
}

// aspects lists what the runs were asked: version of the model, axes,
// assumptions, requirements and merit.
func (c *Comparison) aspects() []aspect {
	var out []aspect
	at := map[string]int{}
	set := func(run int, what, words string) {
		n, ok := at[what]
		if !ok {
			n = len(out)
			at[what] = n
			out = append(out, aspect{what, make([]string, len(c.Runs))})
		}
		out[n].Words[run] = words
	}
	for i, f := range c.Runs {
		set(i, "Model", cmp.Or(model.Other(f.Model), f.Model))
		set(i, "Program", f.Program)
		var classes []string
		for n := range f.Classes {
			classes = append(classes, className(f.Classes[n].Class))
		}
		set(i, "Classes", strings.Join(classes, ", "))
		for _, a := range f.Axes {
			set(i, a.Def.Title, axisText(a))
		}
		for _, s := range f.Assumptions {
			set(i, s.What, s.Words)
		}
		for _, g := range f.Gates {
			if g.Requirement != nil {
				set(i, "Required: "+lower(gateTitle(g)), gateBound(g)+defaultMark(g))
			}
		}
		set(i, "Ranked by", meritText(f.Merit))
	}
	return out
}

// otherModel labels a run of another version of the model than this program's.
func otherModel(f *Finished) string {
	if other := model.Other(f.Model); other != "" {
		return ", model " + other
	}
	return ""
}

// defaultMark says of a gate whose bound nobody set that it is the default.
func defaultMark(g sweep.Gate) string {
	if g.Requirement != nil && g.Requirement.Default {
		return " (default)"
	}
	return ""
}

// Print prints the best designs side by side, class by class, and what the
// studies differ in.
func (c *Comparison) Print(w io.Writer, width int) error {
	p := &printer{w: w, width: max(width, 80)}
	for i, f := range c.Runs {
		p.hung(fmt.Sprintf("%d  ", i+1),
			fmt.Sprintf("%s: %s designs, %s%s", f.Name, grouped(f.Designs), f.Dir, otherModel(f)))
	}
	p.line("")
	p.line("The runs differ in:")
	some := false
	for _, a := range c.aspects() {
		if !a.differs() {
			continue
		}
		some = true
		p.line("  %s", a.What)
		for i, words := range a.Words {
			p.hung(fmt.Sprintf("    %d  ", i+1), textOr(words, "not asked"))
		}
	}
	if !some {
		p.line("  nothing that their results depend on")
	}
	for _, limit := range c.limits() {
		p.line("")
		p.line("Class %s, the best design of each run:", oneLine(c.className(limit)))
		var rows []row
		var none []string
		for i, s := range c.sides(limit) {
			if s.Row == nil {
				none = append(none, fmt.Sprintf("%d %s", i+1, s.None))
				continue
			}
			x := *s.Row
			x.Rank = i + 1
			rows = append(rows, x)
		}
		if len(rows) > 0 {
			columns := rankColumns(rows, slices.ContainsFunc(rows, func(x row) bool { return x.Design.Payload != rows[0].Design.Payload }))
			columns[0].Head = "run"
			p.table(columns)
			c.printDifferences(p, rows)
			p.hung("finding: ", c.verdict(limit))
		}
		if len(none) > 0 {
			p.line("no design: %s", strings.Join(none, ", "))
		}
		if slices.ContainsFunc(rows, func(x row) bool { return x.Warnings != "" }) {
			p.line("* outside the model's validity, to be trusted less")
		}
	}
	p.line("")
	p.hung("caution  ", caution())
	return p.err
}

// printDifferences says by how much the headline metrics of the others differ
// from those of the first.
func (c *Comparison) printDifferences(p *printer, rows []row) {
	for i := range rows[1:] {
		x := &rows[i+1]
		p.hung(fmt.Sprintf("%d to %d: ", x.Rank, rows[0].Rank), strings.Join(c.differences(&rows[0], x), ", "))
	}
}

// differences are those of the headline metrics, and of those that rank in a run,
// of a design to those of another.
func (c *Comparison) differences(from, to *row) []string {
	var main []*model.Metric
	add := func(m *model.Metric) {
		if !slices.Contains(main, m) && relative(m) {
			main = append(main, m)
		}
	}
	for _, h := range headline {
		add(h.Metric)
	}
	for _, f := range c.Runs {
		for _, t := range f.Merit {
			add(t.Metric)
		}
	}
	var all []string
	for _, m := range main {
		a, b := from.values[place(m)], to.values[place(m)]
		if finite(a) && finite(b) && a != 0 && !from.beyond(m) && !to.beyond(m) {
			all = append(all, lower(m.Title)+" "+change(a, b, 1))
		}
	}
	return all
}

// PrintJSON prints the same for machines, in SI units but for rpm.
func (c *Comparison) PrintJSON(w io.Writer) error {
	var runs, differences, classes []object
	for _, f := range c.Runs {
		runs = append(runs, object{{"name", f.Name}, {"folder", f.Dir}, {"program", f.Program}, {"model", f.Model}, {"fingerprint", f.Fingerprint}, {"designs", f.Designs}})
	}
	for _, a := range c.aspects() {
		if a.differs() {
			differences = append(differences, object{{"what", a.What}, {"runs", a.Words}})
		}
	}
	for _, limit := range c.limits() {
		var best []any // null where there is none
		for _, s := range c.sides(limit) {
			if s.Row == nil {
				best = append(best, nil)
			} else {
				best = append(best, s.Row.record())
			}
		}
		classes = append(classes, object{{"limit", quantity{limit, "kg"}}, {"class", c.className(limit)}, {"best", best}})
	}
	if differences == nil {
		differences = []object{}
	}
	return writeJSON(w, object{{"runs", runs}, {"differences", differences}, {"classes", classes}})
}

// record is that of a design read back.
func (x *row) record() object {
	var metrics Named[float64]
	for n, m := range model.Metrics {
		if v := exported(m, x.values[n]); finite(v.Value) {
			metrics.add(m.Name, v.Value, v.Unit)
		}
	}
	out := object{{"merit", x.Score}, {"inputs", designRecord(x.Design)}, {"metrics", metrics}}
	if beyond := x.atLeast(); beyond != nil {
		out = append(out, member{"at_least", beyond})
	}
	return out
}

// places says where the best design of each run stands in the rankings of the
// others, 0 for nowhere: [of][in].
func (c *Comparison) places(limit float64) [][]int {
	out := make([][]int, len(c.Runs))
	for i, f := range c.Runs {
		out[i] = make([]int, len(c.Runs))
		k := f.Class(limit)
		if k == nil || k.Best == nil {
			continue
		}
		for j, g := range c.Runs {
			if other := g.Class(limit); other != nil {
				out[i][j] = other.ranks[designKey(k.Best.Design)]
			}
		}
	}
	return out
}

// byDiameter are the diameters in m at which some run has a design within a
// limit, rising.
func (c *Comparison) byDiameter(limit float64) []float64 {
	var out []float64
	for _, f := range c.Runs {
		if k := f.Class(limit); k != nil {
			for _, l := range k.Leaders {
				out = append(out, l.Diameter)
			}
		}
	}
	slices.SortFunc(out, cmp.Compare)
	return slices.Compact(out)
}
