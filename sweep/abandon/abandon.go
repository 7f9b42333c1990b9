// Package abandon ends what cannot be interrupted from within: a computation that keeps
// nothing, or a write that nobody takes, is left to itself when its context ends.
package abandon

import (
	"context"
	"sync"
	"time"
)

// Grace is how long what runs may still take to end by itself, so that what has seen the
// end of the context as well can tidy up and say where it stopped.
const Grace = 250 * time.Millisecond

// Run runs f and returns its error. Where the context ends first, f has the Grace to end
// by itself; one that does not is abandoned, and the error is that of the context. What is
// abandoned goes on until the process ends: f must write nothing that is read thereafter,
// and make no file that it would have to remove but in Finish.
func Run(ctx context.Context, f func() error) error {
	if ctx.Done() == nil {
		return f()
	}
	done := make(chan error, 1) // so that what is abandoned ends all the same
	go func() { done <- f() }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	late := time.NewTimer(Grace)
	defer late.Stop()
	select {
	case err := <-done:
		return err
	case <-late.C:
		finishing.Lock() // what has begun
		defer finishing.Unlock()
		return ctx.Err()
	}
}

// finishing is held by what is not to be abandoned.
var finishing sync.RWMutex

// Finish runs f, which makes a file, to its end: what would abandon it waits. Where the context has
// ended it begins nothing and returns its error.
func Finish(ctx context.Context, f func() error) error {
	finishing.RLock()
	defer finishing.RUnlock()
	if err := ctx.Err(); err != nil {
		return err
	}
	return f()
}
