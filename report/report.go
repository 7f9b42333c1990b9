// Package report writes up what a study found: the workbook for a design
// review, figures, lossless tables and a record for machines, and prints the
// same to a terminal. It puts finished runs side by side as well. It computes no
// physics: every number comes from the model's registry of metrics.
//
// Files are written beside their place, synced and renamed, so that a file that
// is there is whole. Two runs of one study give the same bytes in every file but
// run.json, which alone holds the date, the host and the timings.
package report

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"
)

// Write writes the report to a folder, which it makes where it is missing, and
// returns the paths of the files in the order in which they were written. The
// record run.json comes last and lists the others. Files of an earlier report
// that this one does not have are left alone.
func (r *Run) Write(dir string) (files []string, err error) {
	found, err := r.findings()
	if err != nil {
		return nil, err
	}
	figures, err := drawFigures(r)
	if err != nil {
		return nil, err
	}
	flags, err := flagFile(r)
	if err != nil {
		return nil, err
	}
	var written []FileRecord
	put := func(name string, write func(io.Writer) error) error {
		f, err := writeFile(dir, name, write)
		if err != nil {
			return err
		}
		written = append(written, f)
		files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
		return nil
	}
	for _, f := range figures {
		if err := put(f.Name, func(w io.Writer) error { _, err := w.Write(f.PNG); return err }); err != nil {
			return files, err
		}
	}
	if err := put(WorkbookName, func(w io.Writer) error { return writeWorkbook(w, r, found, figures) }); err != nil {
		return files, err
	}
	if err := put(RankingName, func(w io.Writer) error { return writeRanking(r, w, found) }); err != nil {
		return files, err
	}
	if len(r.Study.Front) > 0 {
		if err := put(FrontName, func(w io.Writer) error { return writeFront(r, w, found) }); err != nil {
			return files, err
		}
	}
	if err := put(SizeName, func(w io.Writer) error { return writeSize(r, w) }); err != nil {
		return files, err
	}
	if err := put(FlagsName, func(w io.Writer) error { _, err := w.Write(flags); return err }); err != nil {
		return files, err
	}
	err = put(RecordName, func(w io.Writer) error { return writeJSON(w, recordOf(r, found, 0, written)) })
	return files, err
}

// flagFile is the text of effective.flags. It returns an error for a flag that
// does not fit on one line.
func flagFile(r *Run) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("# The flags of this study. To run it again: rotorsieve sweep @" + FlagsName + "\n")
	for _, f := range r.Flags {
		if strings.ContainsAny(f, "\r\n") {
			return nil, fmt.Errorf("%s: flag %q holds a line break, want one line", FlagsName, f)
		}
		b.WriteString(f + "\n")
	}
	return b.Bytes(), nil
}
