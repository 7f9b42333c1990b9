package sweep

import (
	"errors"
	"fmt"
)

// StudyError is what is wrong with one part of a study, named as it is in a study's
// text: "class", "map diameter-kv".
type StudyError struct {
	Part string
	Err  error
}

func (e *StudyError) Error() string { return e.Part + ": " + e.Err.Error() }
func (e *StudyError) Unwrap() error { return e.Err }

// StateError is a checkpoint that cannot be gone on with, or merged.
type StateError struct {
	Path   string
	Err    error
	Want   Remedy
	Shard  Shard  // of the checkpoint, where that is to be run
	Detail string // in what the studies differ
}

// Remedy is what would be right in place of a checkpoint that cannot be used.
type Remedy int

const (
	Afresh    Remedy = iota // the checkpoint dropped: the run, or the shard, is begun again
	SameStudy               // the study of the checkpoint, or Afresh
	SameShard               // the shard of the checkpoint, or another place
	Finished                // the shard run to its end
)

func (e *StateError) Error() string {
	s := e.Path + ": " + e.Err.Error()
	if e.Detail != "" {
		s += ": " + e.Detail
	}
	return s
}

func (e *StateError) Unwrap() error { return e.Err }

// unusable is the error of a checkpoint that helps nobody any more.
func unusable(format string, args ...any) error {
	return &StateError{Err: fmt.Errorf(format, args...)}
}

// at says of which file an error is.
func at(path string, err error) error {
	if e, ok := errors.AsType[*StateError](err); ok {
		e.Path = path
		return e
	}
	return fmt.Errorf("%s: %w", path, err)
}
