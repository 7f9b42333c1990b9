package screen

import (
	"strconv"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// sideBySide is how many scenarios stand in one table.
const sideBySide = 6

// scenarioTables print the metrics that a design is judged by in all scenarios, and which binds.
func scenarioTables(p *printer, x *finding.Scenarios) {
	for i, m := range x.Models {
		p.line("  %-3d%s", i+1, model.ScenarioName(m, x.Models))
	}
	for from := 0; from < len(x.Models); from += sideBySide {
		p.line("")
		p.table(scenarioColumns(x, from, min(from+sideBySide, len(x.Models))))
	}
}

func scenarioColumns(x *finding.Scenarios, from, to int) []texts.Column {
	name := texts.Column{Head: "", Left: true}
	bound := texts.Column{Head: "wanted", Left: true}
	binds := texts.Column{Head: "binds"}
	cells := make([]texts.Column, to-from)
	for i := range cells {
		cells[i].Head = strconv.Itoa(from + i + 1)
	}
	for _, l := range x.Lines {
		label := ""
		if l.Metric.Unit.Label != "" {
			label = " (" + l.Metric.Unit.Label + ")"
		}
		name.Cells = append(name.Cells, "  "+l.Metric.Title+label)
		wanted, at := "", ""
		if l.Require != nil {
			wanted = words.Bound(l.Require)
		}
		if l.Binds >= 0 {
			at = strconv.Itoa(l.Binds + 1)
		}
		bound.Cells, binds.Cells = append(bound.Cells, wanted), append(binds.Cells, at)
		for i := range cells {
			v := l.Values[from+i]
			text := "-"
			if finding.Finite(v) {
				text = l.Metric.Unit.Number(v, 4)
				if l.Require != nil && !l.Require.Kept(v) {
					text += " !"
				}
			}
			cells[i].Cells = append(cells[i].Cells, text)
		}
	}
	name.Cells, bound.Cells = append(name.Cells, "  Merit"), append(bound.Cells, "")
	least := 0
	for i, v := range x.Merits {
		if v < x.Merits[least] {
			least = i
		}
	}
	binds.Cells = append(binds.Cells, strconv.Itoa(least+1))
	for i := range cells {
		text := "-"
		if v := x.Merits[from+i]; finding.Finite(v) {
			text = strconv.FormatFloat(v, 'f', 4, 64)
		}
		cells[i].Cells = append(cells[i].Cells, text)
	}
	return append(append([]texts.Column{name, bound}, cells...), binds)
}

// scenarioRecord is the same for machines.
func scenarioRecord(x *finding.Scenarios) finding.Object {
	var all []finding.Object
	for i, m := range x.Models {
		values := finding.Object{}
		for _, l := range x.Lines {
			u := finding.ExportUnit(l.Metric)
			values = append(values, finding.Member{Name: l.Metric.Name,
				Value: finding.Quantity{Value: finding.OrNull(u.FromSI(l.Values[i])), Unit: u.Symbol}})
		}
		all = append(all, finding.Object{{Name: "name", Value: model.ScenarioName(m, x.Models)},
			{Name: "assumptions", Value: words.ScenarioAssumptions(m, x.Models)},
			{Name: "merit", Value: finding.OrNull(x.Merits[i])}, {Name: "metrics", Value: values}})
	}
	binds := finding.Object{}
	for _, l := range x.Lines {
		if l.Binds >= 0 {
			binds = append(binds, finding.Member{Name: l.Metric.Name, Value: l.Binds + 1})
		}
	}
	return finding.Object{{Name: "over", Value: x.Over.String()}, {Name: "merit", Value: finding.OrNull(x.Merit)},
		{Name: "shown", Value: x.Telling + 1}, {Name: "binds", Value: binds}, {Name: "each", Value: all}}
}
