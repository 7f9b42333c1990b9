package report

import (
	"io"
	"path/filepath"

	"rotorsieve/report/chart"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
)

// WriteComparison writes the comparison to a folder, which it makes where it is missing,
// and returns the paths of its files.
func WriteComparison(c *finding.Comparison, dir string) (files []string, err error) {
	put := func(name string, write func(io.Writer) error) error {
		if _, err := writeFile(dir, name, write); err != nil {
			return err
		}
		files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
		return nil
	}
	figure, err := figure.Overlay(c)
	if err != nil {
		return nil, err
	}
	figures := []chart.Picture{figure}
	for _, f := range figures {
		if err := put(f.Name, func(w io.Writer) error { _, err := w.Write(f.PNG); return err }); err != nil {
			return files, err
		}
	}
	return files, put(finding.ComparisonName, func(w io.Writer) error { return sheet.WriteComparison(w, c, figures) })
}
