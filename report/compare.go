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
// and the files are those that are written, each whole.
func WriteComparison(ctx context.Context, c *finding.Comparison, dir string) (files []string, err error) {
	put := func(name string, write func(io.Writer) error) error {
		if _, err := writeFile(ctx, dir, name, write); err != nil {
			return err
		}
		files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
		return nil
	}
	var overlay chart.Picture
	err = abandon.Run(ctx, func() (err error) {
		overlay, err = figure.Overlay(c)
		return err
	})
	if err != nil {
		return nil, err
	}
	figures := []chart.Picture{overlay}
	for _, f := range figures {
		if err := put(f.Name, func(w io.Writer) error { _, err := w.Write(f.PNG); return err }); err != nil {
			return files, err
		}
	}
	err = spooled(dir, func(spool string) error {
		return put(finding.ComparisonName, func(w io.Writer) error {
			return sheet.WriteComparison(ctx, w, spool, c, figures)
		})
	})
	return files, err
}
