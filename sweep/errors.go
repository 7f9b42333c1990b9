package sweep

import (
	"errors"
	"fmt"
)

// StudyError is an error in one part of a study, named as it is in a study's text: "class",
// "map diameter-kv".
type StudyError struct {
	Part string
	Err  error
}

// Error begins with the part of the study.
func (e *StudyError) Error() string { return e.Part + ": " + e.Err.Error() }

// Unwrap returns what is wrong.
func (e *StudyError) Unwrap() error { return e.Err }

// StateError is a checkpoint that cannot be resumed, or merged.
type StateError struct {
	Path   string
	Err    error
	Want   Remedy
	Shard  Shard  // of the checkpoint, where that one is to be run
	Detail string // in what the studies differ
}

// Remedy is what to do about a checkpoint that cannot be used.
type Remedy int

const (
	Afresh    Remedy = iota // the checkpoint dropped: the run, or the shard, is begun again
	SameStudy               // the study of the checkpoint, or Afresh
	SameShard               // the shard of the checkpoint, or another place
	Finished                // the shard run to its end
)

// Error is one line that begins with the path.
func (e *StateError) Error() string {
	s := e.Path + ": " + e.Err.Error()
	if e.Detail != "" {
		s += ": " + e.Detail
	}
	return s
}

// Unwrap returns what is wrong.
func (e *StateError) Unwrap() error { return e.Err }

// unusable is the error of a checkpoint that nothing can use any more.
func unusable(format string, args ...any) error {
	return &StateError{Err: fmt.Errorf(format, args...)}
}

// at names the file of an error.
func at(path string, err error) error {
	if e, ok := errors.AsType[*StateError](err); ok {
		e.Path = path
		return e
	}
	return fmt.Errorf("%s: %w", path, err)
}
