package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rotorsieve/model"
)

// PrintComparison prints the best designs side by side, class by class, and what the
// studies differ in.
func PrintComparison(w io.Writer, c *Comparison, width int) error {
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
		p.line("  %s", aspectTitle(&a))
		for i, words := range aspectTexts(&a) {
			p.hung(fmt.Sprintf("    %d  ", i+1), textOr(words, notAsked))
		}
	}
	if !some {
		p.line("  nothing that their results depend on")
	}
	for _, limit := range c.limits() {
		p.line("")
		p.line("Class %s, the best design of each run:", oneLine(classOf(c, limit)))
		var rows []row
		var none []string
		for i, o := range c.outcomes(limit) {
			if o.Row == nil {
				none = append(none, fmt.Sprintf("%d %s", i+1, noneText(o)))
				continue
			}
			x := *o.Row
			x.Rank = i + 1
			rows = append(rows, x)
		}
		if len(rows) > 0 {
			columns := rankColumns(rows, slices.ContainsFunc(rows, func(x row) bool { return x.Design.Payload != rows[0].Design.Payload }))
			columns[0].Head = "run"
			p.table(columns)
			printDifferences(c, p, rows)
			p.hung("finding: ", verdictText(c, limit).Text)
		}
		if len(none) > 0 {
			p.line("no design: %s", strings.Join(none, ", "))
		}
		if slices.ContainsFunc(rows, func(x row) bool { return x.marked() }) {
			p.line("* outside the model's validity, to be trusted less")
		}
	}
	p.line("")
	p.hung("caution  ", caution())
	return p.err
}

// printDifferences says by how much the headline metrics of the others differ
// from those of the first.
func printDifferences(c *Comparison, p *printer, rows []row) {
	for i := range rows[1:] {
		x := &rows[i+1]
		p.hung(fmt.Sprintf("%d to %d: ", x.Rank, rows[0].Rank), differencesText(c, &rows[0], x))
	}
}

// PrintComparisonJSON prints the same for machines, in SI units but for rpm.
func PrintComparisonJSON(w io.Writer, c *Comparison) error {
	var runs, differences, classes []object
	for _, f := range c.Runs {
		runs = append(runs, object{{"name", f.Name}, {"folder", f.Dir}, {"program", f.Program}, {"model", f.Model}, {"fingerprint", f.Fingerprint}, {"designs", f.Designs}})
	}
	for _, a := range c.aspects() {
		if a.differs() {
			differences = append(differences, object{{"what", aspectTitle(&a)}, {"runs", aspectTexts(&a)}})
		}
	}
	for _, limit := range c.limits() {
		var best []any // null where there is none
		for _, o := range c.outcomes(limit) {
			if o.Row == nil {
				best = append(best, nil)
			} else {
				best = append(best, readRecord(o.Row))
			}
		}
		classes = append(classes, object{{"limit", quantity{limit, "kg"}}, {"class", classOf(c, limit)}, {"best", best}})
	}
	if differences == nil {
		differences = []object{}
	}
	return writeJSON(w, object{{"runs", runs}, {"differences", differences}, {"classes", classes}})
}

// readRecord is that of a design read back.
func readRecord(x *row) object {
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
