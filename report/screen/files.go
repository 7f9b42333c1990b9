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

// PrintFiles prints what was written to a folder: the paths, or on a page that is not whole
// what there is, and how to go on; and where every feasible design is kept, if anywhere.
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
	pictures, tables, planned := 0, 0, false
	for _, name := range files {
		in, err := filepath.Rel(dir, name)
		if err != nil {
			in = name
		}
		switch planned = planned || in == finding.TestPlanName; {
		case filepath.Dir(in) == "figures":
			pictures++
		case filepath.Ext(in) == ".csv":
			tables++
		default:
			names = append(names, filepath.ToSlash(in))
		}
	}
	if pictures > 0 {
		names = append(names, fmt.Sprintf("figures (%d)", pictures))
	}
	if tables > 0 {
		names = append(names, fmt.Sprintf("%d tables (.csv)", tables))
	}
	p := &printer{w: w, width: max(page.Width, 80)}
	dir = filepath.ToSlash(dir)
	text := dir + ": " + strings.Join(names, ", ")
	if dump != nil {
		text += "; " + kept
	}
	p.hung("files    ", text)
	next := "--verbose for all of this page; rotorsieve explain " + dir + " for every number of a design"
	if planned {
		next += "; measure, fill in " + finding.TestPlanName + " there, and run again with --measured"
	}
	p.hung("next     ", next)
}
