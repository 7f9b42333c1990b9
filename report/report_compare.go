package report

import (
	"io"
	"path/filepath"
)

// Write writes the comparison to a folder, which it makes where it is missing,
// and returns the paths of its files.
func (c *Comparison) Write(dir string) (files []string, err error) {
	put := func(name string, write func(io.Writer) error) error {
		if _, err := writeFile(dir, name, write); err != nil {
			return err
		}
		files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
		return nil
	}
	figure, err := overlayFigure(c)
	if err != nil {
		return nil, err
	}
	figures := []Figure{figure}
	for _, f := range figures {
		if err := put(f.Name, func(w io.Writer) error { _, err := w.Write(f.PNG); return err }); err != nil {
			return files, err
		}
	}
	return files, put(ComparisonName, func(w io.Writer) error { return writeComparison(c, w, figures) })
}
