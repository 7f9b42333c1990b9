package screen

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
)

// PrintFiles prints what was written to a folder: the paths, or on a page that is not whole their
// names in it.
func PrintFiles(w io.Writer, dir string, files []string, page Page) {
	if page.Whole {
		fmt.Fprintln(w, "\nWritten:")
		for _, name := range files {
			fmt.Fprintln(w, "  "+name)
		}
		return
	}
	var names []string
	figures := 0
	for _, name := range files {
		in, err := filepath.Rel(dir, name)
		if err != nil {
			in = name
		}
		if filepath.Dir(in) == "figures" && figures > 0 {
			names[figures-1] += ", " + filepath.Base(in)
			continue
		}
		names = append(names, filepath.ToSlash(in))
		if filepath.Dir(in) == "figures" {
			figures = len(names)
		}
	}
	p := &printer{w: w, width: max(page.Width, 80)}
	p.hung("files    ", filepath.ToSlash(dir)+": "+strings.Join(names, ", "))
}
