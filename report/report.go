package report

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
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
// record run.json comes last and lists the others. A file that stands there
// already, to the last byte, is left as it is, and one that is not the program's
// own is moved aside, as r.Aside notes, see Earlier. Files of an earlier report
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
	flags, err := flagFile(r, dir)
	if err != nil {
		return nil, err
	}
	earlier := ReadEarlier(dir)
	var written []finding.FileRecord
	put := func(name string, write func(io.Writer) error) error {
		f, err := put(ctx, dir, name, write, func() error { return earlier.yield(r, name) })
		if err != nil && !errors.Is(err, errSame) {
			return err
		}
		written = append(written, f)
		if err == nil {
			files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
		}
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
	if err := put(finding.RankingName, func(w io.Writer) error { return writeRanking(ctx, w, r, found) }); err != nil {
		return files, err
	}
	if len(r.Study.Front) > 0 {
		if err := put(finding.FrontName, func(w io.Writer) error { return writeFront(ctx, w, r, found) }); err != nil {
			return files, err
		}
	}
	if err := put(finding.SizeName, func(w io.Writer) error { return finding.WriteSize(w, r) }); err != nil {
		return files, err
	}
	if r.Decides() {
		err := put(finding.RobustName, func(w io.Writer) error { return writeRobust(w, r, found) })
		if err == nil {
			err = put(finding.ConfidenceName, func(w io.Writer) error { return writeConfidence(w, found) })
		}
		if err == nil {
			err = put(finding.TestPlanName, func(w io.Writer) error { return writeTestPlan(w, r, found) })
		}
		if err != nil {
			return files, err
		}
	}
	if err := put(finding.FlagsName, func(w io.Writer) error { _, err := w.Write(flags); return err }); err != nil {
		return files, err
	}
	err = put(finding.RecordName, func(w io.Writer) error {
		return finding.WriteJSON(w,
			words.RecordOf(r, found, 0, written))
	})
	return files, err
}

// flagFile is the text of effective.flags in a folder, from which the paths in it go. It
// returns an error for a flag that does not fit on one line.
func flagFile(r *finding.Run, dir string) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("# The flags of this study. To run it again: rotorsieve sweep @" + finding.FlagsName + "\n")
	for _, f := range r.Flags {
		if strings.ContainsAny(f, "\r\n") {
			return nil, fmt.Errorf("%s: flag %q holds a line break, want one line", finding.FlagsName, f)
		}
		if name, path, ok := strings.Cut(strings.TrimPrefix(f, "--"), "="); ok && slices.Contains(r.Paths, name) {
			f = "--" + name + "=" + PathFrom(dir, path)
		}
		b.WriteString(f + "\n")
	}
	return b.Bytes(), nil
}

// PathFrom is the path of a file as it is from a folder: the run's folder may be read from
// anywhere, and moved with what it was made of. An absolute path stays.
func PathFrom(dir, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	from, errFrom := filepath.Abs(dir)
	to, errTo := filepath.Abs(path)
	if errFrom != nil || errTo != nil {
		return path
	}
	for _, p := range []*string{&from, &to} { // a way up goes by what links lead to
		if real, err := filepath.EvalSymlinks(*p); err == nil {
			*p = real
		}
	}
	if rel, err := filepath.Rel(from, to); err == nil {
		return filepath.ToSlash(rel)
	}
	return to // on another drive
}
