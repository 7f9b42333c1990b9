package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
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

// compare compares the runs in folders.
func compare(ctx context.Context, folders []argument, to results, stdout io.Writer) error {
	if to.out == "" {
		to.out = filepath.Join("out", "comparison")
	}
	if len(folders) < 2 {
		return fmt.Errorf("%d %s to compare, want those of two finished runs or more", len(folders), plural(len(folders), "folder", "folders"))
	}
	var dirs []string
	for _, a := range folders {
		dirs = append(dirs, a.text)
	}
	var c *finding.Comparison
	err := abandon.Run(ctx, func() (err error) {
		c, err = finding.Compare(dirs...)
		return err
	})
	if err != nil {
		return err
	}
	c.Version = programVersion()
	if _, err := os.Stat(filepath.Join(to.out, finding.ComparisonName)); err == nil && !to.force {
		return fmt.Errorf("--out %s: holds a comparison, want another folder or --force to replace it", to.out)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("--out %s: %w", to.out, cause(err))
	}
	files, err := report.WriteComparison(ctx, c, to.out)
	if err != nil {
		return fmt.Errorf("--out %s: %w", to.out, err)
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
