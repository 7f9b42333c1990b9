package report

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/words"
	"rotorsieve/sweep/abandon"
)

// Write writes the report to a folder, which it makes where it is missing, and
// returns the paths of the files in the order in which they were written. The
// record run.json comes last and lists the others. Files of an earlier report
// that this one does not have are left alone. Where the context ends first the error is
// its own, and the files are those that are written, each whole; r is not to be used again.
func Write(ctx context.Context, r *finding.Run, dir string) (files []string, err error) {
	var found []finding.Class
	var figures []chart.Picture
	err = abandon.Run(ctx, func() (err error) {
		if found, err = r.Findings(); err == nil {
			figures, err = figure.Draw(ctx, r)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	flags, err := flagFile(r)
	if err != nil {
		return nil, err
	}
	var written []finding.FileRecord
	put := func(name string, write func(io.Writer) error) error {
		f, err := writeFile(ctx, dir, name, write)
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
	err = spooled(dir, func(spool string) error {
		return put(finding.WorkbookName, func(w io.Writer) error {
			return sheet.WriteReview(ctx, w, spool, r, found, figures)
		})
	})
	if err != nil {
		return files, err
	}
	if err := put(finding.RankingName, func(w io.Writer) error { return writeRanking(ctx, r, w, found) }); err != nil {
		return files, err
	}
	if len(r.Study.Front) > 0 {
		if err := put(finding.FrontName, func(w io.Writer) error { return writeFront(ctx, r, w, found) }); err != nil {
			return files, err
		}
	}
	if err := put(finding.SizeName, func(w io.Writer) error { return finding.WriteSize(r, w) }); err != nil {
		return files, err
	}
	if err := put(finding.FlagsName, func(w io.Writer) error { _, err := w.Write(flags); return err }); err != nil {
		return files, err
	}
	err = put(finding.RecordName, func(w io.Writer) error { return finding.WriteJSON(w, words.RecordOf(r, found, 0, written)) })
	return files, err
}

// flagFile is the text of effective.flags. It returns an error for a flag that
// does not fit on one line.
func flagFile(r *finding.Run) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("# The flags of this study. To run it again: rotorsieve sweep @" + finding.FlagsName + "\n")
	for _, f := range r.Flags {
		if strings.ContainsAny(f, "\r\n") {
			return nil, fmt.Errorf("%s: flag %q holds a line break, want one line", finding.FlagsName, f)
		}
		b.WriteString(f + "\n")
	}
	return b.Bytes(), nil
}
