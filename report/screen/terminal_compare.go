package screen

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// PrintComparison prints the best designs side by side, class by class, and what the
// studies differ in.
func PrintComparison(w io.Writer, c *finding.Comparison, width int) error {
	p := &printer{w: w, width: max(width, 80)}
	for i, f := range c.Runs {
		p.hung(fmt.Sprintf("%d  ", i+1),
			fmt.Sprintf("%s: %s designs, %s%s", f.Name, texts.Grouped(f.Designs), f.Dir, words.OtherModel(f)))
	}
	p.line("")
	p.line("The runs differ in:")
	some := false
	for _, a := range c.Aspects() {
		if !a.Differs() {
			continue
		}
		some = true
		p.line("  %s", words.AspectTitle(&a))
		for i, wording := range words.AspectValues(&a) {
			p.hung(fmt.Sprintf("    %d  ", i+1), texts.Or(wording, words.NotAsked))
		}
	}
	if !some {
		p.line("  nothing that their results depend on")
	}
	printReordered(c, p)
	for _, limit := range c.Limits() {
		p.line("")
		printRecommended(c, p, limit)
		p.line("Class %s, the nominal best design of each run:", texts.OneLine(words.ClassOf(c, limit)))
		var rows []finding.Row
		var none []string
		for i, o := range c.Outcomes(limit) {
			if o.Row == nil {
				none = append(none, fmt.Sprintf("%d %s", i+1, words.None(o)))
				continue
			}
			x := *o.Row
			x.Rank = i + 1
			rows = append(rows, x)
		}
		if len(rows) > 0 {
			columns := rankColumns(c.Asked(), rowsOf(rows), slices.ContainsFunc(rows,
				func(x finding.Row) bool { return x.Design.Payload != rows[0].Design.Payload }))
			columns[0].Head = "run"
			p.table(columns)
			printDifferences(c, p, rows)
			p.hung("finding: ", words.Verdict(c, limit).Text)
		}
		if len(none) > 0 {
			p.line("no design: %s", strings.Join(none, ", "))
		}
		if slices.ContainsFunc(rows, func(x finding.Row) bool { return x.Marked() }) {
			p.line("* outside the model's validity, to be trusted less")
		}
	}
	p.line("")
	p.hung("caution  ", words.Caution())
	return p.err
}

// printReordered says first what the runs' answers come to: what is to be ordered in place of what.
func printReordered(c *finding.Comparison, p *printer) {
	head := false
	for _, limit := range c.Limits() {
		for _, text := range words.Reordered(c, limit) {
			if !head {
				p.line("")
				p.line("What to order, by the first run and then by the %s:", texts.Plural(len(c.Runs)-1, "second",
					"others"))
				head = true
			}
			p.hung("  "+texts.OneLine(words.ClassOf(c, limit))+"  ", text)
		}
	}
}

// printRecommended prints the builds that the runs recommend within a limit, where any had draws.
func printRecommended(c *finding.Comparison, p *printer, limit float64) {
	var runs, builds, sure, cautious []string
	var all []*decide.Build
	var metrics []*model.Metric
	for i, o := range c.Outcomes(limit) {
		if o.Chosen == nil {
			continue
		}
		b := o.Chosen.Recommended
		if len(all) == 0 {
			metrics = rankedBy(b)
		}
		runs, builds = append(runs, fmt.Sprintf("%2d", i+1)), append(builds, words.RecordedBuild(b))
		sure, cautious = append(sure, words.Probability(b.Feasible)), append(cautious, words.Merits(b.Cautious))
		all = append(all, drawnBuild(b, metrics))
	}
	if len(all) == 0 {
		return
	}
	columns := []texts.Column{{Head: "run", Cells: runs}, {Head: "build to order", Left: true, Cells: builds},
		{Head: "pack", Unit: finding.MAh.Label, Cells: words.Each(all, words.PackNumbers)},
		{Head: "P(feas)", Cells: sure}, {Head: "cautious", Unit: "merit", Cells: cautious}}
	for n, m := range metrics {
		columns = append(columns, texts.Column{Head: words.MetricHead(m), Unit: m.Unit.Label,
			Cells: words.Ranges(m, all, n), Need: 2 + n})
	}
	p.line("Class %s, what each run recommends over draws:", texts.OneLine(words.ClassOf(c, limit)))
	p.table(columns)
	p.line("")
}

// rankedBy are the metrics that a build was ranked by, of those that this version knows.
func rankedBy(b *finding.BuildRecord) (out []*model.Metric) {
	for _, q := range b.Metrics {
		if m, ok := model.LookupMetric(q.Name); ok {
			out = append(out, m)
		}
	}
	return out
}

// drawnBuild is what a record tells of a build over the draws: its pack and some metrics, NaN where
// it does not tell one.
func drawnBuild(b *finding.BuildRecord, metrics []*model.Metric) *decide.Build {
	read := func(q finding.QuantilesRecord, toSI func(float64) float64) decide.Quantiles {
		value := func(v *float64) float64 {
			if v == nil {
				return math.NaN()
			}
			return toSI(*v)
		}
		return decide.Quantiles{P10: value(q.P10), P50: value(q.P50), P90: value(q.P90)}
	}
	out := &decide.Build{Pack: read(b.Pack, sweep.Capacity.Kind.SI().ToSI)}
	for _, m := range metrics {
		q := decide.Quantiles{P10: math.NaN(), P50: math.NaN(), P90: math.NaN()}
		for _, x := range b.Metrics {
			if x.Name == m.Name {
				q = read(x.QuantilesRecord, finding.ExportUnit(m).ToSI)
			}
		}
		out.Metrics = append(out.Metrics, q)
	}
	return out
}

// printDifferences says by how much the headline metrics of the others differ
// from those of the first.
func printDifferences(c *finding.Comparison, p *printer, rows []finding.Row) {
	for i := range rows[1:] {
		x := &rows[i+1]
		p.hung(fmt.Sprintf("%d to %d: ", x.Rank, rows[0].Rank), words.Differences(c, &rows[0], x))
	}
}

// PrintComparisonJSON prints the same for machines, in SI units but for rpm.
func PrintComparisonJSON(w io.Writer, c *finding.Comparison) error {
	var runs, differences, classes []finding.Object
	for _, f := range c.Runs {
		runs = append(runs, finding.Object{{Name: "name", Value: f.Name}, {Name: "folder", Value: f.Dir},
			{Name: "program", Value: f.Program}, {Name: "model", Value: f.Model},
			{Name: "fingerprint", Value: f.Fingerprint}, {Name: "designs", Value: f.Designs}})
	}
	for _, a := range c.Aspects() {
		if a.Differs() {
			differences = append(differences, finding.Object{{Name: "what", Value: words.AspectTitle(&a)},
				{Name: "runs", Value: words.AspectValues(&a)}})
		}
	}
	for _, limit := range c.Limits() {
		var best, recommended []any // null where there is none
		for _, o := range c.Outcomes(limit) {
			if o.Row == nil {
				best = append(best, nil)
			} else {
				best = append(best, readRecord(o.Row))
			}
			if o.Chosen == nil {
				recommended = append(recommended, nil)
			} else {
				recommended = append(recommended, o.Chosen.Recommended)
			}
		}
		classes = append(classes, finding.Object{{Name: "limit", Value: finding.Quantity{Value: limit, Unit: "kg"}},
			{Name: "class", Value: words.ClassOf(c, limit)}, {Name: "best", Value: best},
			{Name: "recommended", Value: recommended}, {Name: "contests", Value: contestRecords(c, limit)}})
	}
	if differences == nil {
		differences = []finding.Object{}
	}
	return finding.WriteJSON(w, finding.Object{{Name: "runs", Value: runs}, {Name: "differences", Value: differences},
		{Name: "classes", Value: classes}})
}

// contestRecords say how the recommended builds of the runs stand within a limit.
func contestRecords(c *finding.Comparison, limit float64) []finding.Object {
	out := []finding.Object{}
	for _, k := range c.Verdict(limit).Contests {
		out = append(out, finding.Object{{Name: "better", Value: k.A.Run}, {Name: "other", Value: k.B.Run},
			{Name: "equal", Value: k.Equal}, {Name: "paired", Value: k.Paired}, {Name: "draws", Value: k.Draws},
			{Name: "p_better", Value: finding.OrNull(k.Better)}})
	}
	return out
}

// readRecord is that of a design read back.
func readRecord(x *finding.Row) finding.Object {
	var metrics finding.Named[float64]
	for n, m := range model.Metrics {
		if v := words.Exported(m, x.Values[n]); finding.Finite(v.Value) {
			metrics.Add(m.Name, v.Value, v.Unit)
		}
	}
	out := finding.Object{{Name: "merit", Value: x.Score}, {Name: "inputs", Value: words.DesignRecord(x.Design)},
		{Name: "metrics", Value: metrics}}
	if parts := finding.NamedParts(x.Design); parts != nil {
		out = append(out, finding.Member{Name: "parts", Value: parts})
	}
	if beyond := x.AtLeast(); beyond != nil {
		out = append(out, finding.Member{Name: "at_least", Value: beyond})
	}
	return out
}
