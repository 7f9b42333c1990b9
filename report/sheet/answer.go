package sheet

import (
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/words"
)

// answer is a column of the table that answers a study.
type answer struct {
	head   string
	width  float64
	number string // format; "" for words
	cell   func(*finding.Row) any
	part   string // kind of the parts that exist whose name says it
}

// printedMetrics is how many metrics a printed table has room for.
const printedMetrics = 6

// told are the first of the metrics that a study asks for, the all-up weight among them.
func told(asked []*model.Metric, most int) []*model.Metric {
	weight := finding.Metric("auw")
	out := slices.Clone(asked[:min(most, len(asked))])
	if !slices.Contains(out, weight) {
		out[len(out)-1] = weight
	}
	return out
}

// widest is the width of a column that has room for the longest word of its head, in characters.
func widest(head string) float64 {
	most := 0
	for _, word := range strings.Fields(head) {
		most = max(most, len([]rune(word)))
	}
	return 1.15 * float64(most)
}

// answers are the columns after the class, for the designs of a table: the parts, then what was
// asked for.
func answers(asked []*model.Metric, rows []finding.Row) []answer {
	var exist []answer
	for _, k := range finding.PartsIn(rows) {
		exist = append(exist, answer{head: k.Title, width: namedWidth(k, rows),
			cell: func(x *finding.Row) any { return words.PartOf(k, x.Design) }})
	}
	out := []answer{
		{"Propeller D × P × blades (in)", 14, "", func(x *finding.Row) any { return words.Propeller(x.Design, " × ") },
			"propeller"},
		{"Motor stator", 8, "", func(x *finding.Row) any { return words.Stator(x.Design) }, "motor"},
		{"KV (rpm/V)", 8, "General", func(x *finding.Row) any { return xlsx.Round10(x.Design.KV) }, "motor"},
		{"Cells (S)", 6.5, "0", func(x *finding.Row) any { return x.Design.Cells }, "pack"},
		{"Capacity (mAh)", 9.5, "General", func(x *finding.Row) any {
			return xlsx.Round10(finding.MAh.FromSI(x.Design.Capacity))
		}, "pack"},
		{"Payload (g)", 8, "General", func(x *finding.Row) any {
			return xlsx.Round10(finding.Gram.FromSI(x.Design.Payload))
		}, ""},
	}
	if len(exist) > 0 { // the numbers of a part stand on the sheet of its class
		out = append(exist, slices.DeleteFunc(out, func(c answer) bool {
			return slices.ContainsFunc(finding.PartsIn(rows), func(k finding.PartKind) bool { return k.Name == c.part })
		})...)
	}
	for _, m := range append(told(asked, printedMetrics), finding.Metric("class-margin")) {
		c := MetricColumn(m, rows)
		out = append(out, answer{c.head, max(10.5, widest(c.head)), c.Look(nil).Number, c.cell, ""})
	}
	return append(out, answer{"Merit", 7, "0.000", func(x *finding.Row) any { return x.Score }, ""})
}
