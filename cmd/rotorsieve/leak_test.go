package main

import (
	"bytes"
	"context"
	"testing"
	"time"

	"go.uber.org/goleak"
)

// A command leaves nothing running: neither a run that ends, nor one that is
// interrupted, with its bar of progress.
func TestNothingLeftRunning(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	t.Chdir(t.TempDir())
	study := []string{"sweep", "--class", "250g", "--diameter", "3in,4in", "--pitch-ratio", "0.7", "--stator", "1404",
		"--kv", "2000:4000:50",
		"--cells", "4", "--capacity", "500:900:20mAh", "--payload", "0", "--figures", "none", "--draws", "32"}
	for _, c := range []struct {
		after  time.Duration
		status int
	}{{time.Hour, exitDone}, {0, exitEarly}} {
		ctx, cancel := context.WithTimeout(context.Background(), c.after)
		var stdout, stderr bytes.Buffer
		status := run(ctx, append(study, "--out", c.after.String()), &stdout, &stderr)
		cancel()
		if status != c.status {
			t.Errorf("ended after %s: status %d, want %d: %s", c.after, status, c.status, &stderr)
		}
	}
}
