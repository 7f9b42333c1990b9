package main

import (
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

const parametersHead = `rotorsieve parameters lists what the model may err by, with the standard deviation
that the draws of a study take: of the logarithm (10 % and 0.10 are one), or in the
unit where one is given. An error is one for all designs, or shared by a family of
parts that are near each other, or a part's own.

  rotorsieve parameters
  rotorsieve parameters --pack-grade 18650-power --sources
`

func parametersCommand() *cobra.Command {
	g := newFlagGroups("parameters")
	a := model.Defaults()
	grade, _ := model.LookupAssumption("pack-grade")
	g.group("Assumptions").Var(newAssumedChoice(&a, grade.Form.(*model.Choice)), grade.Name,
		"whose cells' spreads are listed")
	var sources bool
	var format string
	f := g.group("Output")
	f.Var(newFormat(&format), "format", "text, or json, which has meaning and source")
	f.BoolVar(&sources, "sources", false, "where each spread is from in place of its meaning")
	return g.command(&cobra.Command{
		GroupID: ofLists, Short: "list what the model may err by, and by how much", Long: parametersHead,
	}, func(c *cobra.Command, _ []argument) error {
		m, err := model.New(a)
		if err != nil {
			return err
		}
		if format == "json" {
			return printParametersJSON(c.OutOrStdout(), m)
		}
		return printParameters(c.OutOrStdout(), m, sources)
	})
}

func printParametersJSON(stdout io.Writer, m *model.Model) error {
	out := []finding.Object{}
	for _, s := range m.Sources() {
		out = append(out, finding.Object{{Name: "name", Value: s.Name}, {Name: "sigma", Value: s.Sigma},
			{Name: "of_logarithm", Value: s.Distribution != basis.Normal}, {Name: "unit", Value: s.Unit},
			{Name: "shared_by", Value: s.Reach.String()}, {Name: "meaning", Value: s.Meaning},
			{Name: "source", Value: s.From}})
	}
	return finding.WriteJSON(stdout, finding.Object{{Name: "parameters", Value: out}})
}

func printParameters(stdout io.Writer, m *model.Model, sources bool) error {
	t := texts.Listing{Flush: true}
	for _, s := range m.Sources() {
		spread := strconv.FormatFloat(100*s.Sigma, 'g', 3, 64) + " %"
		if s.Distribution == basis.Normal {
			spread = strconv.FormatFloat(s.Sigma, 'g', 3, 64)
			if s.Unit != "" {
				spread += " " + s.Unit
			}
		}
		what := s.Meaning
		if sources {
			what = s.From
		}
		t.Add(s.Name, spread, s.Reach.String(), what)
	}
	last := "MEANING"
	if sources {
		last = "SOURCE OF THE SPREAD"
	}
	_, err := fmt.Fprint(stdout, t.Text(max(columns(stdout), helpWidth), "PARAMETER", "SPREAD", "SHARED BY", last))
	return err
}
