package abandon

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
	"time"
)

func TestRun(t *testing.T) {
	own := errors.New("its own")
	for _, c := range []struct {
		name      string
		takes     time.Duration
		cancelled time.Duration // 0 for never
		want      error
		within    time.Duration
	}{
		{"ends by itself", time.Hour, 0, own, time.Hour},
		{"before the context", time.Second, 2 * time.Second, own, time.Second},
		{"within the grace", time.Second, time.Second - Grace/2, own, time.Second},
		{"never", 1000 * time.Hour, time.Second, context.Canceled, time.Second + Grace},
	} {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				ctx, cancel := context.WithCancel(context.Background())
				defer cancel()
				if c.cancelled > 0 {
					time.AfterFunc(c.cancelled, cancel)
				}
				began := time.Now()
				err := Run(ctx, func() error { time.Sleep(c.takes); return own })
				if took := time.Since(began); !errors.Is(err, c.want) || took != c.within {
					t.Errorf("%v after %v, want %v after %v", err, took, c.want, c.within)
				}
				time.Sleep(c.takes) // what was abandoned has ended then
			})
		})
	}
}

// Where a context cannot end, nothing is run beside.
func TestNoGoroutine(t *testing.T) {
	err := errors.New("its own")
	if got := Run(context.Background(), func() error { return err }); got != err {
		t.Errorf("%v, want %v", got, err)
	}
}

// What makes a file is not abandoned once it has begun, and does not begin once the context has ended.
func TestFinish(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	again, over := make(chan error, 1), make(chan struct{})
	defer close(over)
	whole := make(chan struct{})
	err := Run(ctx, func() error {
		err := Finish(ctx, func() error {
			cancel()
			time.Sleep(2 * Grace) // until it would be abandoned
			close(whole)
			return nil
		})
		if err != nil {
			t.Error(err)
		}
		again <- Finish(ctx, func() error { panic("begun") })
		<-over
		return nil
	})
	select {
	case <-whole:
	default:
		t.Error("abandoned")
	}
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if err := <-again; !errors.Is(err, context.Canceled) {
		t.Errorf("begun after the end: %v", err)
	}
}
