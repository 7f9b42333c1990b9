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
	"os"
	"path/filepath"
	"strings"
	"time"

	"rotorsieve/sweep"
)

// Run is one run of a study, with what a reader needs to know of how it came
// about.
type Run struct {
	Study  *sweep.Study
	Result *sweep.Result

	Flags    []string // lines of a flag file that reproduces the study
	Defaults []string // what was left at its default, for example "--pack-grade high-rate"
	Version  string   // of the program
	Started  time.Time
	Host     string // where it ran; may be empty

	Figures []string // names of those to draw, of FigureNames or AllFigures; nil for all usual ones
	DPI     int      // of the figures, dots per inch; 0 for 200

	undrawn   []string // figures left out, and why; see figures
	evaluator *sweep.Evaluator
	evaluated []finding // by class; see findings
}

// Figure is one picture of a report.
type Figure struct {
	Name          string // path in the report's folder, for example "figures/size.png"
	Title         string // the finding or the question
	Caption       string
	PNG           []byte
	Width, Height int // pixels
}

// Names of the files of a report in its folder.
const (
	WorkbookName = "review.xlsx"
	RankingName  = "ranking.csv"
	FrontName    = "front.csv" // where the study has a front
	SizeName     = "size.csv"  // what the figure of sizes is drawn from
	FlagsName    = "effective.flags"
	RecordName   = "run.json"
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
	figures, err := r.figures()
	if err != nil {
		return nil, err
	}
	flags, err := r.flagFile()
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
	if err := put(RankingName, func(w io.Writer) error { return r.writeRanking(w, found) }); err != nil {
		return files, err
	}
	if len(r.Study.Front) > 0 {
		if err := put(FrontName, func(w io.Writer) error { return r.writeFront(w, found) }); err != nil {
			return files, err
		}
	}
	if err := put(SizeName, func(w io.Writer) error { return r.writeSize(w) }); err != nil {
		return files, err
	}
	if err := put(FlagsName, func(w io.Writer) error { _, err := w.Write(flags); return err }); err != nil {
		return files, err
	}
	err = put(RecordName, func(w io.Writer) error { return writeJSON(w, r.record(found, 0, written)) })
	return files, err
}

// flagFile is the text of effective.flags. It returns an error for a flag that
// does not fit on one line.
func (r *Run) flagFile() ([]byte, error) {
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

// incomplete marks a run that did not judge the whole grid: "INCOMPLETE: 41.2 %
// of the designs judged". It is "" for one that did.
func (r *Run) incomplete() string {
	if r.Result.Complete {
		return ""
	}
	return fmt.Sprintf("INCOMPLETE: %s %% of the designs judged", doneShare(r.Result.Done, r.Study.Grid.Size()))
}

// doneShare is rounded down, so that nothing unfinished reads 100.
func doneShare(done, size uint64) string {
	permille := uint64(float64(done) / float64(size) * 1000)
	if done < size {
		permille = min(permille, 999)
	}
	return fmt.Sprintf("%d.%d", permille/10, permille%10)
}

// makeDir makes the folder that a file stands in.
func makeDir(path string) error { return os.MkdirAll(filepath.Dir(path), 0o777) }
