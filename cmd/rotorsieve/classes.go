package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
)

const classesHead = `rotorsieve classes lists masses at which published rules for unmanned aircraft
change, as a help in choosing weight classes. Rules change: check those in force.

  rotorsieve classes
`

func runClasses(_ context.Context, args []string, stdout, _ io.Writer) error {
	if helped, err := parseFlags(newFlagGroups("classes"), classesHead, args, stdout); helped || err != nil {
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Masses at which published rules change, as of %s, from memory of the rules named:\n\n", model.ThresholdsDate)
	table := textTable{flush: true}
	for _, t := range model.Thresholds {
		sign := "<="
		if t.Below {
			sign = "<"
		}
		u := unit.Mass.Unit("g")
		if t.Limit >= 1 {
			u = unit.Mass.Unit("kg")
		}
		table.add(sign+" "+u.Format(t.Limit, 5), t.Where, t.What, t.Rule)
	}
	width := max(columns(stdout), helpWidth)
	b.WriteString(table.within(width, "MASS", "WHERE", "WHAT", "RULE") + "\n")
	for _, line := range wrapped(model.ThresholdsCaution, width) {
		b.WriteString(line + "\n")
	}
	b.WriteString("\nA class takes a limit and a name of your own: --class 249g=registration\n")
	_, err := io.WriteString(stdout, b.String())
	return err
}
