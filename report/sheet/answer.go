package sheet

import (
	"slices"

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

// answers are the columns after the class, for the designs of a table.
func answers(rows []finding.Row) []answer {
	var exist []answer
	for _, k := range finding.PartsIn(rows) {
		exist = append(exist, answer{head: k.Title, width: 18,
			cell: func(x *finding.Row) any { return k.Of(x.Design) }})
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
	for _, name := range []string{"auw", "class-margin", "hover-time", "thrust-to-weight", "top-speed", "tip-mach",
		"disk-loading"} {
		m, ok := model.LookupMetric(name)
		if !ok {
			continue
		}
		c := MetricColumn(m, rows)
		width := 10.5
		switch name { // heads of long words
		case "tip-mach":
			width = 15
		case "disk-loading":
			width = 12.5
		}
		out = append(out, answer{c.head, width, c.Look(nil).Number, c.cell, ""})
	}
	return append(out, answer{"Merit", 7, "0.000", func(x *finding.Row) any { return x.Score }, ""})
}
