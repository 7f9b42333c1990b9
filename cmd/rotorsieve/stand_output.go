package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"rotorsieve/model/bench"
	"rotorsieve/model/record"
	"rotorsieve/model/table"
	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/sweep/abandon"
	"rotorsieve/sweep/whole"
)

// formatFor is the default form in which a table is printed.
func formatFor(w io.Writer) string {
	if terminal(w) != nil {
		return "text"
	}
	return "csv"
}

// standOutput is what a stand's command leaves and how.
type standOutput struct {
	format, compare, fit string
	draw                 drawing
}

func (o *standOutput) declare(f *pflag.FlagSet) {
	f.Var(newFile(&o.compare), "compare", "CSV of a stand, compared in place of the points; columns rpm or "+
		"throttle, voltage_V, current_A, thrust_N or thrust_g, torque_Nm where known (default none)")
	f.Var(newPlace(&o.fit, aFile), "fit", "to write with what --compare tells of propeller and motor, as records with "+
		"their uncertainty (default none)")
	o.draw.declare(f, "for stand.png, which draws thrust and power with what --compare has measured")
	f.Var(newChoice(&o.format, "format", "auto", "text", "csv", "json"), "format",
		"text, csv, or json with the units in the names; auto is text on a terminal and csv elsewhere")
}

// run prints what the stand that the flags state would show.
func (o *standOutput) run(ctx context.Context, s *standFlags, stdout, stderr io.Writer) error {
	if o.fit != "" && o.compare == "" {
		return errors.New("--fit: nothing to fit to, want --compare with the measurements")
	}
	for _, name := range pointFlags {
		if o.compare != "" && s.origin(name) != "default" {
			return fmt.Errorf("--%s: the points are those of --compare, want one of the two", name)
		}
	}
	if err := o.spares(); err != nil {
		return err
	}
	r, notes, err := s.rig()
	if err != nil {
		return err
	}
	if o.format == "auto" {
		o.format = formatFor(stdout)
	}
	if o.compare == "" {
		states, err := s.states(r)
		if err != nil {
			return err
		}
		if err := o.picture(ctx, s, r, nil); err != nil {
			return err
		}
		printNotes(stderr, notes)
		return printStates(stdout, o.format, states)
	}
	c, err := compareStand(r, o.compare)
	if err != nil {
		return err
	}
	var refused error // the comparison is valid without the fit
	if o.fit != "" {
		if refused = c.FitTo(r); refused == nil {
			refused = o.records(ctx, c.Fit)
		}
		if bad, ok := errors.AsType[*bench.Unlikely](refused); ok && bad.Term == bench.Chopping {
			refused = fmt.Errorf("%w of the controller (--pulse-rate)", refused)
		}
	}
	if refused == nil {
		if err := o.picture(ctx, s, r, c); err != nil {
			return err
		}
	}
	printNotes(stderr, notes)
	return errors.Join(printComparison(stdout, stderr, o.format, c), refused)
}

func printNotes(w io.Writer, notes []string) {
	for _, note := range notes {
		fmt.Fprintln(w, "rotorsieve:", note)
	}
}

// spares errs where what is to be written would replace what is not the program's own,
// which force allows, but for the measurements themselves.
func (o *standOutput) spares() error {
	if err := o.draw.room(report.StandName); err != nil || o.fit == "" {
		return err
	}
	old, err := os.Lstat(o.fit)
	from, _ := os.Stat(o.compare)
	to, _ := os.Stat(o.fit)
	switch at := (place{"--fit", o.fit}); {
	case err != nil:
		if err := portablePath(o.fit); err != nil {
			return at.errorf("%w", err)
		}
		if err := unreachable(filepath.Dir(o.fit)); err != nil {
			return at.errorf("%w, want a file to write", err)
		}
	case old.IsDir():
		return at.errorf("is a folder, want a file to write")
	case from != nil && to != nil && os.SameFile(from, to):
		return at.errorf("holds the measurements of --compare, want another file")
	case !o.draw.force:
		return at.errorf("is there already, want a new file, or --force to replace it")
	}
	return nil
}

// compareStand reads the file of --compare and compares it with the model.
func compareStand(r *bench.Rig, path string) (*finding.StandComparison, error) {
	in, err := whole.Open(path, table.MaxBytes)
	if err != nil {
		return nil, fmt.Errorf("--compare %s: %w, want a CSV of a stand", path, err)
	}
	defer in.Close()
	f, err := bench.Read(bufio.NewReader(in), path)
	if err != nil {
		return nil, err
	}
	u, err := f.Of(r)
	if err != nil {
		return nil, err
	}
	return finding.CompareStand(r, u), nil
}

// records writes what a fit has found.
func (o *standOutput) records(ctx context.Context, f *bench.Fit) error {
	all := f.Records()
	if len(all) == 0 {
		return fmt.Errorf("%s: the rows say nothing that was not known before, want more of them, over more of the "+
			"throttle",
			o.compare)
	}
	err := abandon.Finish(ctx, func() error {
		whole.Clear(o.fit)
		return whole.Write(o.fit, func(w io.Writer) error { return record.Write(w, all) })
	})
	if err != nil {
		return fmt.Errorf("--fit %s: %w, want a file to write", o.fit, cause(err))
	}
	return nil
}

// picture draws what was computed, with what was measured where c is not nil.
func (o *standOutput) picture(ctx context.Context, s *standFlags, r *bench.Rig, c *finding.StandComparison) error {
	if o.draw.folder == "" {
		return nil
	}
	curves := figure.StandCurves{Rig: r, Comparison: c, Propeller: s.propeller(),
		Motor: fmt.Sprintf("%s, %s", unit.Stator.Text(s.stator), unit.SpeedConstant.Default().Format(s.kv, 6))}
	if _, err := report.WriteStand(ctx, o.draw.folder, &curves); err != nil {
		return fmt.Errorf("--draw %s: %w, want a folder to write in", o.draw.folder, cause(err))
	}
	return nil
}

func printStates(w io.Writer, format string, states []bench.State) error {
	switch format {
	case "json":
		return screen.StandJSON(w, states)
	case "csv":
		return screen.StandCSV(w, states)
	}
	return screen.StandTable(w, states, columns(w))
}

func printComparison(stdout, stderr io.Writer, format string, c *finding.StandComparison) error {
	switch format {
	case "json":
		return screen.StandComparisonJSON(stdout, c)
	case "csv":
		for _, l := range screen.StandComparisonNotes(c) {
			fmt.Fprintln(stderr, l)
		}
		return screen.StandComparisonCSV(stdout, c)
	}
	return screen.StandComparisonTable(stdout, c, columns(stdout))
}
