package main

import (
	"context"
	"fmt"
	"io"
	"text/tabwriter"

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
	fmt.Fprintf(stdout, "Masses at which published rules change, as of %s, from memory of the rules named:\n\n", model.ThresholdsDate)
	w := tabwriter.NewWriter(stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "MASS\tWHERE\tWHAT\tRULE")
	for _, t := range model.Thresholds {
		sign := "<="
		if t.Below {
			sign = "<"
		}
		u := unit.Mass.Unit("g")
		if t.Limit >= 1 {
			u = unit.Mass.Unit("kg")
		}
		fmt.Fprintf(w, "%s %s\t%s\t%s\t%s\n", sign, u.Format(t.Limit, 5), t.Where, t.What, t.Rule)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(stdout, "\n%s\n\nA class takes a limit and a name of your own: --class 249g=registration\n", model.ThresholdsCaution)
	return nil
}
