package report

import (
	"context"
	"io"
	"path/filepath"

	"rotorsieve/report/chart"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/sweep/abandon"
)

// WriteComparison writes the comparison to a folder, which it makes where it is missing,
// and returns the paths of its files. Where the context ends first the error is its own,
// and nothing is written: the figure takes its place once the workbook that has it is whole.
func WriteComparison(ctx context.Context, c *finding.Comparison, dir string) (files []string, err error) {
	var overlay chart.Picture
	err = abandon.Run(ctx, func() (err error) {
		overlay, err = figure.Overlay(c)
		return err
	})
	if err != nil {
		return nil, err
	}
	err = spooled(dir, func(spool string) error {
		_, err := writeFile(ctx, dir, finding.ComparisonName, func(w io.Writer) error {
			if err := sheet.WriteComparison(ctx, w, spool, c, []chart.Picture{overlay}); err != nil {
				return err
			}
			_, err := writeFile(ctx, dir, overlay.Name, func(w io.Writer) error {
				_, err := w.Write(overlay.PNG)
				return err
			})
			return err
		})
		return err
	})
	if err != nil {
		return nil, err
	}
	for _, name := range []string{overlay.Name, finding.ComparisonName} {
		files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
	}
	return files, nil
}
