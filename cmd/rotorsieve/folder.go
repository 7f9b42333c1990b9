package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"github.com/gofrs/flock"

	"rotorsieve/model"
	"rotorsieve/report/finding"
)

const (
	checkpointName = "checkpoint"
	lockName       = ".lock"
)

// folder is the place of a run's results, held against other runs.
type folder struct {
	dir  string
	lock *flock.Flock
}

// claim makes the folder, holds it, and tries to write there, so that a long run
// does not end with nowhere to put its results. It refuses a folder that another
// run holds; results of a finished run, unless force is given; and the state of
// an unfinished one, unless force or resume is given. force drops that state. Where
// resume finds the finished run of the study whose fingerprint is whole, the error is
// errFinished.
func claim(dir string, force, resume bool, whole string) (*folder, error) {
	at := func(format string, args ...any) error {
		return fmt.Errorf("--out %s: %w", dir, fmt.Errorf(format, args...))
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, at("cannot be made: %w, want a folder to write in", cause(err))
	}
	probe, err := os.CreateTemp(dir, ".rotorsieve-*")
	if err != nil {
		return nil, at("cannot be written: %w, want a folder to write in", cause(err))
	}
	if err := errors.Join(probe.Close(), os.Remove(probe.Name())); err != nil {
		return nil, at("cannot be written: %w, want a folder to write in", cause(err))
	}
	f := &folder{dir: dir, lock: flock.New(filepath.Join(dir, lockName))}
	held, err := f.lock.TryLock()
	if err != nil {
		return nil, at("cannot be locked: %w", cause(err))
	}
	if !held {
		return nil, at("another run is writing there, want another folder, or wait for it to end")
	}
	unfinished := f.has(checkpointName)
	complete, of, broken := f.complete()
	other := model.Other(of.model)
	switch {
	case force:
		err = f.drop()
	case broken != nil && !unfinished:
		err = at("%s cannot be read: %w, want it restored, another folder, or --force to start afresh",
			finding.RecordName, broken)
	case complete && !unfinished && resume && whole != "" && whole == of.fingerprint:
		err = errFinished
	case complete && !unfinished && resume && of.model != "" && other != "":
		err = at("holds the results of model %s, want another folder or --force to replace them", other)
	case complete && !unfinished && resume:
		err = at("holds results that are not those of this run, want another folder or --force to replace them")
	case complete && !unfinished:
		err = at("holds the results of a run, want another folder or --force to replace them")
	case unfinished && !resume:
		err = at("holds an unfinished run, want --resume to go on with it or --force to start afresh")
	}
	if err != nil {
		f.release()
		return nil, err
	}
	f.sweepUp()
	return f, nil
}

func (f *folder) path(name string) string { return filepath.Join(f.dir, name) }

func (f *folder) has(name string) bool {
	_, err := os.Stat(f.path(name))
	return err == nil
}

// errFinished says that nothing is left of a run to go on with.
var errFinished = errors.New("the run is finished")

// studied is which study a record is of, and the version of the model that ran it.
type studied struct{ fingerprint, model string }

// complete says whether the folder holds a record that is not that of an
// unfinished run, and of which study; one that cannot be read, and why, is not ours
// to replace.
func (f *folder) complete() (ok bool, of studied, err error) {
	b, err := os.ReadFile(f.path(finding.RecordName))
	if errors.Is(err, fs.ErrNotExist) {
		return false, of, nil
	}
	if err != nil {
		return false, of, cause(err)
	}
	var record finding.RunRecord
	if err := json.Unmarshal(b, &record); err != nil {
		return false, of, err
	}
	of = studied{record.Study.Fingerprint, record.Program.Model}
	return record.Result.Complete == nil || *record.Result.Complete, of, nil
}

// leftover is the name of a temporary file: a dot, the name of a file that a run
// writes, and digits.
var leftover = regexp.MustCompile(`^\.(rotorsieve-|checkpoint|[a-z-]+\.(xlsx|csv|json|flags|png))[0-9]+$`)

// spooled is the name of a folder in which a workbook lay while it was written.
var spooled = regexp.MustCompile(`^\.spool-[0-9]+$`)

// sweepUp removes the temporary files of runs that were killed while they wrote.
func (f *folder) sweepUp() {
	for _, dir := range []string{f.dir, f.path("figures")} {
		entries, _ := os.ReadDir(dir) // there may be no figures
		for _, e := range entries {
			if e.Type().IsRegular() && leftover.MatchString(e.Name()) {
				_ = os.Remove(filepath.Join(dir, e.Name())) // what stays does no harm
			}
			if e.IsDir() && spooled.MatchString(e.Name()) {
				_ = os.RemoveAll(filepath.Join(dir, e.Name()))
			}
		}
	}
}

// ownFile is the name of a file that a run writes and lists in its record.
var ownFile = regexp.MustCompile(`^(review\.xlsx|(ranking|front|size)\.csv|effective\.flags|figures/[a-z0-9-]+\.png)$`)

// drop removes what an earlier run left: its state, and of the files that its record
// names those that a run writes. What others have put there stays, whatever a record says.
func (f *folder) drop() error {
	var record finding.RunRecord
	old := []string{checkpointName}
	if b, err := os.ReadFile(f.path(finding.RecordName)); err == nil && json.Unmarshal(b, &record) == nil {
		for _, x := range record.Files {
			if ownFile.MatchString(x.Name) {
				old = append(old, filepath.FromSlash(x.Name))
			}
		}
		old = append(old, finding.RecordName)
	}
	root, err := os.OpenRoot(f.dir) // a link in it leads nowhere else
	if err != nil {
		return fmt.Errorf("--out %s: %w", f.dir, cause(err))
	}
	defer root.Close()
	for _, name := range old {
		if err := root.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("--out %s: an earlier result cannot be removed: %w", f.dir, cause(err))
		}
	}
	return nil
}

// finish removes the state of a run whose report is written.
func (f *folder) finish() error {
	if err := os.Remove(f.path(checkpointName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("--out %s: %w", f.dir, cause(err))
	}
	return nil
}

// release lets other runs in. The lock file stays: removing it would let two
// runs hold two files of one name.
func (f *folder) release() { _ = f.lock.Unlock() }
