package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/texts"
	"rotorsieve/sweep/abandon"
)

const compareHead = `rotorsieve compare puts finished runs side by side: what they were asked, in what
they differ, and the best designs of each weight class, held against the first.

  rotorsieve compare out/ridge-scout out/heavier
  rotorsieve compare out/a out/b out/c --out out/three --format json
`

func compareCommand() *cobra.Command {
	g := newFlagGroups("compare")
	g.tidies = true
	f := g.group("Output")
	var to results
	to.declare(f)
	f.Lookup("out").Usage = "for the workbook and figures (default out/comparison)"
	return g.command(&cobra.Command{
		GroupID: ofStudies, Short: "put finished runs side by side", Long: compareHead,
		ValidArgsFunction: folders,
	}, func(c *cobra.Command, folders []argument) error {
		return compare(c.Context(), folders, to, c.OutOrStdout())
	})
}

// eachOnce refuses folders that are one, under whatever names. One that is not there is
// left to who reads it.
func eachOnce(dirs []string) error {
	at := make([]os.FileInfo, len(dirs))
	for i, dir := range dirs {
		var err error
		if at[i], err = os.Stat(dir); err != nil {
			continue
		}
		for j, other := range at[:i] {
			if other != nil && os.SameFile(other, at[i]) {
				return fmt.Errorf("%s: the same folder as %s, want each run once", dir, dirs[j])
			}
		}
	}
	return nil
}

// compare compares the runs in folders.
func compare(ctx context.Context, folders []argument, to results, stdout io.Writer) error {
	if to.out == "" {
		to.out = filepath.Join("out", "comparison")
	}
	if len(folders) < 2 {
		return fmt.Errorf("%d %s to compare, want those of two finished runs or more", len(folders),
			texts.Plural(len(folders), "folder", "folders"))
	}
	var dirs []string
	for _, a := range folders {
		dirs = append(dirs, a.text)
	}
	if err := eachOnce(dirs); err != nil {
		return err
	}
	if err := roomToCompare(to); err != nil {
		return err
	}
	var c *finding.Comparison
	err := abandon.Run(ctx, func() (err error) {
		c, err = finding.Compare(dirs...)
		return err
	})
	if errors.Is(err, finding.ErrUnfinished) {
		return fmt.Errorf("%w: rotorsieve sweep --resume goes on with it", err)
	}
	if err != nil {
		return err
	}
	home, err := hold(to.out)
	if err != nil {
		return err
	}
	defer home.release()
	home.sweepUp()
	c.Version = programVersion()
	files, err := report.WriteComparison(ctx, c, to.out)
	if err != nil {
		return fmt.Errorf("--out %s: %w", to.out, wantRoom(err, ""))
	}
	return abandon.Run(ctx, func() error {
		if to.format == "json" {
			return screen.PrintComparisonJSON(stdout, c)
		}
		if err := screen.PrintComparison(stdout, c, columns(stdout)); err != nil {
			return err
		}
		fmt.Fprintln(stdout, "\nWritten:")
		for _, name := range files {
			fmt.Fprintln(stdout, "  "+name)
		}
		return nil
	})
}

// roomToCompare errs where a comparison would replace another or go among the results of a
// run, which force allows, or cannot be written.
func roomToCompare(to results) error {
	at := place{"--out", to.out}
	f := &folder{dir: to.out}
	if err := at.fits(append(report.ComparisonNames(), lockName)...); err != nil {
		return err
	}
	if err := f.regular(lockName); err != nil || to.force {
		return err
	}
	switch {
	case f.has(finding.ComparisonName):
		return at.errorf("holds a comparison, want another folder or --force to replace it")
	case f.has(finding.RecordName), f.has(checkpointName):
		return at.errorf("holds a run, want another folder, or --force to write beside it")
	}
	return at.vacant(to.force, report.ComparisonNames()...)
}
