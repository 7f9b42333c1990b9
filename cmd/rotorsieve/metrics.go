package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

const metricsHead = `rotorsieve metrics lists what is computed of a design: the metrics that
--require, --merit, --map and --front take, with the unit of a number alone (a
share is the exception: where % stands, 0.65 alone is 65%).

  rotorsieve metrics
  rotorsieve metrics --sources
`

func metricsCommand() *cobra.Command {
	g := newFlagGroups("metrics")
	var sources bool
	var format string
	f := g.group("Output")
	f.Var(newFormat(&format), "format", "text, or json, which has formula and source as well")
	f.BoolVar(&sources, "sources", false, "formula and source of each metric in place of its meaning")
	return g.command(&cobra.Command{
		GroupID: ofLists, Short: "list what is computed of a design", Long: metricsHead,
	}, func(c *cobra.Command, _ []argument) error {
		if format == "json" {
			return printMetricsJSON(c.OutOrStdout())
		}
		return printMetrics(c.OutOrStdout(), sources)
	})
}

func printMetricsJSON(stdout io.Writer) error {
	out := []finding.Object{}
	for _, m := range model.Metrics {
		r := m.Natural()
		out = append(out, finding.Object{{Name: "name", Value: m.Name}, {Name: "title", Value: m.Title},
			{Name: "symbol", Value: m.Symbol}, {Name: "unit", Value: m.Unit.Symbol},
			{Name: "better", Value: m.Better.String()},
			{Name: "meaning", Value: m.Meaning}, {Name: "formula", Value: m.FormulaText()},
			{Name: "source", Value: m.Source},
			{Name: "swept", Value: inSweep(m)}, {Name: "least", Value: finding.OrNull(m.Unit.FromSI(r.Min))},
			{Name: "most", Value: finding.OrNull(m.Unit.FromSI(r.Max))}})
	}
	return finding.WriteJSON(stdout, finding.Object{{Name: "metrics", Value: out}})
}

func printMetrics(stdout io.Writer, sources bool) error {
	t := texts.Listing{Flush: true}
	for _, m := range model.Metrics {
		if sources {
			t.Add(m.Name, m.Formula.String()+" ("+m.Source+")")
			continue
		}
		what := m.Meaning
		if !inSweep(m) {
			what += "; for explain alone"
		}
		t.Add(m.Name, sign(m.Unit.Symbol), m.Better.String(), what)
	}
	heads := []string{"METRIC", "UNIT", "DIRECTION", "MEANING"}
	if sources {
		heads = []string{"METRIC", "FORMULA AND SOURCE"}
	}
	_, err := fmt.Fprint(stdout, t.Text(max(columns(stdout), helpWidth), heads...))
	return err
}
