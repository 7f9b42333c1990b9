package screen

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// PrintFiles prints what was written to a folder: the paths, or on a page that is not whole their
// names in it; and where every feasible design is kept, if anywhere.
func PrintFiles(w io.Writer, dir string, files []string, dump *finding.DumpRecord, page Page) {
	kept := ""
	if dump != nil {
		in := filepath.FromSlash(dump.Folder)
		if !filepath.IsAbs(in) {
			in = filepath.Join(dir, in)
		}
		kept = words.Dumped(filepath.ToSlash(in), dump)
	}
	if page.Whole && dump != nil {
		files = append(slices.Clip(files), kept)
	}
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
	text := filepath.ToSlash(dir) + ": " + strings.Join(names, ", ")
	if dump != nil {
		text += "; " + kept
	}
	p.hung("files    ", text)
}
