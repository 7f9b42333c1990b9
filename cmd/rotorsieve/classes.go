package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

const classesHead = `rotorsieve classes lists masses at which published rules for unmanned aircraft
change, as a help in choosing weight classes. Rules change: check those in force.

  rotorsieve classes
`

func classesCommand() *cobra.Command {
	g := newFlagGroups("classes")
	var format string
	g.group("Output").Var(newFormat(&format), "format", "text or json")
	return g.command(&cobra.Command{
		GroupID: ofLists, Short: "list masses at which published rules change", Long: classesHead,
	}, func(c *cobra.Command, _ []argument) error {
		if format == "json" {
			return printClassesJSON(c.OutOrStdout())
		}
		return printClasses(c.OutOrStdout())
	})
}

func printClassesJSON(stdout io.Writer) error {
	out := []finding.Object{}
	for _, t := range model.Thresholds {
		out = append(out, finding.Object{{Name: "limit", Value: finding.Quantity{Value: t.Limit, Unit: "kg"}},
			{Name: "below", Value: t.Below}, {Name: "where", Value: t.Where}, {Name: "what", Value: t.What},
			{Name: "rule", Value: t.Rule}})
	}
	return finding.WriteJSON(stdout, finding.Object{{Name: "as_of", Value: model.ThresholdsDate},
		{Name: "thresholds", Value: out}, {Name: "caution", Value: model.ThresholdsCaution}})
}

func printClasses(stdout io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Masses at which published rules change, as of %s, from memory of the rules named:\n\n",
		model.ThresholdsDate)
	table := texts.Listing{Flush: true}
	for _, t := range model.Thresholds {
		sign := "<="
		if t.Below {
			sign = "<"
		}
		u := unit.Mass.Unit("g")
		if t.Limit >= 1 {
			u = unit.Mass.Unit("kg")
		}
		table.Add(sign+" "+u.Format(t.Limit, 5), t.Where, t.What, t.Rule)
	}
	width := max(columns(stdout), helpWidth)
	b.WriteString(table.Text(width, "MASS", "WHERE", "WHAT", "RULE") + "\n")
	for _, line := range texts.Wrap(model.ThresholdsCaution, width) {
		b.WriteString(line + "\n")
	}
	b.WriteString("\nA class takes a limit and a name of your own: --class 249g=registration\n")
	_, err := io.WriteString(stdout, b.String())
	return err
}
