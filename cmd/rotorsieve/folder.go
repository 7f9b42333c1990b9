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
	"rotorsieve/report"
	"rotorsieve/report/finding"
)

const (
	checkpointName = "checkpoint"
	lockName       = ".lock"
)

// folder is the folder of a run's results, locked against other runs.
type folder struct {
	dir  string
	lock *flock.Flock
}

// claim makes the folder, locks it, and tries to write there, so that a long run
// does not end with nowhere to put its results. It refuses a folder that another
// run has locked; results of a finished run, unless force is given; and the state of
// an unfinished one, unless force or resume is given; and one where a file of the names
// would replace what is not the program's own, unless force is given. force drops all of
// that. Where resume finds the finished run of the study whose fingerprint is whole, the
// folder is locked and the error is errFinished.
func claim(dir string, force, resume bool, whole string, names ...string) (*folder, error) {
	at := place{"--out", dir}.errorf
	if err := (&folder{dir: dir}).room(force, names); err != nil {
		return nil, err
	}
	f, err := hold(dir)
	if err != nil {
		return nil, err
	}
	unfinished := f.has(checkpointName)
	complete, of, broken := f.complete()
	other := model.Other(of.model)
	switch {
	case force:
		err = f.drop(names)
	case broken != nil && !unfinished:
		err = at("%s cannot be read: %w, want it restored, another folder, or --force to start afresh",
			finding.RecordName, broken)
	case complete && resume && whole != "" && whole == of.fingerprint:
		f.sweepUp()
		return f, errFinished
	case complete && resume && of.model != "" && other != "":
		err = at("holds the results of model %s, want another folder or --force to replace them", other)
	case complete && resume:
		err = at("holds results that are not those of this run, want another folder or --force to replace them")
	case complete:
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

// room errs where files of the names, and those that hold the state, cannot be written, or
// would replace what is not the program's own. What runs have left is for claim to judge.
func (f *folder) room(force bool, names []string) error {
	to := place{"--out", f.dir}
	state := []string{lockName, checkpointName, finding.RecordName}
	if err := to.fits(append(state, names...)...); err != nil {
		return err
	}
	if err := f.regular(state...); err != nil {
		return err
	}
	complete, _, broken := f.complete()
	return to.vacant(force || complete || broken != nil || f.has(checkpointName), names...)
}

// hold makes the folder, tries to write there, and locks it, so that nothing that lies there
// unfinished is of a process that is still at it.
func hold(dir string) (*folder, error) {
	at := place{"--out", dir}.errorf
	// Who shares the folder opens the lock as well, as far as the umask lets them.
	f := &folder{dir: dir, lock: flock.New(filepath.Join(dir, lockName), flock.SetPermissions(0o666))}
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
	held, err := f.lock.TryLock()
	if err != nil {
		return nil, at("%s cannot be locked: %w, want one that may be read, or another folder", lockName, cause(err))
	}
	if !held {
		return nil, at("another run is writing there, want another folder, or wait for it to end")
	}
	return f, nil
}

// regular errs where something else than a file stands at one of the names.
func (f *folder) regular(names ...string) error {
	for _, name := range names {
		if there, err := os.Lstat(f.path(name)); err == nil && !there.Mode().IsRegular() {
			return place{"--out", f.dir}.errorf("%s there is a link or a device, want it removed, or another folder",
				name)
		}
	}
	return nil
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

// complete says whether the folder has a record that is not that of an unfinished run,
// and of which study. One that cannot be read is an error, and is not replaced.
func (f *folder) complete() (ok bool, of studied, err error) {
	b, err := finding.ReadRecordFile(f.path(finding.RecordName))
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
		if there, err := os.Lstat(dir); dir != f.dir && (err != nil || !there.IsDir()) {
			continue // no figures, or a link to those of others
		}
		entries, _ := os.ReadDir(dir)
		for _, e := range entries {
			if e.Type().IsRegular() && leftover.MatchString(e.Name()) {
				_ = os.Remove(filepath.Join(dir, e.Name())) // a file that stays does no harm
			}
			if e.IsDir() && spooled.MatchString(e.Name()) {
				_ = os.RemoveAll(filepath.Join(dir, e.Name()))
			}
		}
	}
}

// drop removes what an earlier run left: its state, of the files that its record names
// those that a run writes, and what stands at the names of files to come. What else others
// have put there stays, whatever a record says.
func (f *folder) drop(names []string) error {
	var record finding.RunRecord
	old := append([]string{checkpointName}, names...)
	if b, err := finding.ReadRecordFile(f.path(finding.RecordName)); err == nil && json.Unmarshal(b, &record) == nil {
		for _, x := range record.Files {
			if report.OwnName(x.Name) {
				old = append(old, x.Name)
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
		if err := root.Remove(filepath.FromSlash(name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("--out %s: an earlier result cannot be removed: %w", f.dir, cause(err))
		}
	}
	return nil
}

// release lets other runs in. The lock file stays: removing it would let two
// runs hold two files of one name.
func (f *folder) release() { _ = f.lock.Unlock() }
