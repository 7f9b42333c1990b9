package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rotorsieve/report"
	"rotorsieve/report/finding"
)

// again says what a finished run, which r is to go on with, has to write again: a file is
// missing or was changed since, or it is asked for with other names or figures. It is ""
// where there is nothing.
func (f *folder) again(earlier *report.Earlier, r *finding.Run, names []string) string {
	if earlier.Record == nil {
		return finding.RecordName + " is of another version"
	}
	why := append(earlier.Amiss(names), otherFlags(earlier.Record.Study.Flags, r.Flags)...)
	const most = 6
	if n := len(why); n > most {
		why = append(why[:most:most], fmt.Sprintf("and %d more", n-most))
	}
	return strings.Join(why, ", ")
}

// amiss says whether there is something to write again, and tells what. It errs where no
// checkpoint was kept that it could be written from. What is written is of the run that
// found it.
func (f *folder) amiss(r *finding.Run, names []string, stderr io.Writer) (bool, error) {
	earlier := report.ReadEarlier(f.dir)
	why := f.again(earlier, r, names)
	if why == "" {
		return false, nil
	}
	if !f.has(checkpointName) {
		return false, place{"--out", f.dir}.errorf("%s, and no %s is there to write it from, "+
			"want it restored, or --force to run the study again", why, checkpointName)
	}
	if earlier.Record != nil {
		r.Origin = &earlier.Record.Run
	}
	fmt.Fprintf(stderr, "rotorsieve: %s holds this study, finished, but %s: that alone is written again\n", f.dir, why)
	return true, nil
}

// otherFlags says in what flags a report is asked for that differ from those before.
func otherFlags(before, now []string) (out []string) {
	for _, flag := range now {
		if !slices.Contains(before, flag) {
			out = append(out, fmt.Sprintf("%.80q is asked for", flag))
		}
	}
	for _, flag := range before {
		if !slices.Contains(now, flag) {
			out = append(out, fmt.Sprintf("%.80q was before", flag))
		}
	}
	return out
}

// tellAside says where files are now that were not the program's own.
func tellAside(w io.Writer, r *finding.Run) {
	for _, name := range r.Aside {
		fmt.Fprintf(w, "rotorsieve: what stood there and was not the program's own is now %s\n", name)
	}
}
