package main

import (
	"errors"
	"fmt"
	"strings"
	"syscall"
	"time"

	"rotorsieve/sweep"
)

// How counts, times and lists are written.

// spell prints a time as a person would say it.
func spell(d time.Duration) string {
	switch s := d.Seconds(); {
	case s < 90:
		return fmt.Sprintf("%.0f s", s)
	case s < 90*60:
		return fmt.Sprintf("%.0f min", s/60)
	case s < 48*3600:
		return fmt.Sprintf("%.0f h", s/3600)
	case s < 2*365*86400:
		return fmt.Sprintf("%.0f days", s/86400)
	default:
		return fmt.Sprintf("%.0f years", s/(365.25*86400))
	}
}

// spellFinely is spell with tenths of few seconds.
func spellFinely(d time.Duration) string {
	const few = 9.95
	if s := d.Seconds(); s < few {
		return fmt.Sprintf("%.1f s", s)
	}
	return spell(d)
}

// wantRoom adds to an error of the disk what would be right; then says what follows, "" for nothing.
func wantRoom(err error, then string) error {
	if _, ok := errors.AsType[syscall.Errno](err); !ok {
		return err
	}
	if then != "" {
		then = ": " + then
	}
	return fmt.Errorf("%w, want room and leave to write there%s", err, then)
}

// listed joins words, and says where there are none.
func listed(words []string) string {
	if len(words) == 0 {
		return none
	}
	return strings.Join(words, ", ")
}

// withFlags words an error of package sweep, which knows no flags.
func withFlags(err error) error {
	if _, ok := errors.AsType[*sweep.StudyError](err); ok {
		return fmt.Errorf("--%w", err) // parts of a study are named as their flags
	}
	e, ok := errors.AsType[*sweep.StateError](err)
	if !ok {
		return err
	}
	var want string
	switch e.Want {
	case sweep.Afresh:
		want = "--force to start afresh; a shard is run again"
	case sweep.SameStudy:
		want = "the same flags, or --force to start afresh"
	case sweep.SameShard:
		want = fmt.Sprintf("--shard %v here, or another --out", e.Shard)
	case sweep.Finished:
		want = "it run again with --resume"
	}
	if e.Detail != "" {
		want += ": " + e.Detail
	}
	return fmt.Errorf("%s: %w, want %s", e.Path, e.Err, want)
}
