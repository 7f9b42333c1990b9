package main

import (
	"strings"
	"testing"
	"time"

	"rotorsieve/sweep"
)

// The time that a dry run tells is that with the workers asked for, and of a shard
// its share.
func TestDryRunTellsTheTime(t *testing.T) {
	defer func(f func(*sweep.Study, sweep.Options, time.Duration) (sweep.Forecast, error)) { estimate = f }(estimate)
	told := estimate
	estimate = func(s *sweep.Study, o sweep.Options, _ time.Duration) (sweep.Forecast, error) {
		f, err := told(s, o, 0)
		f.Time = 24 * time.Hour / time.Duration(o.Workers*o.Shard.Of)
		return f, err
	}
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--workers", "1"}, "about 24 h with 1 worker,"},
		{[]string{"--workers", "4"}, "about 6 h with 4 workers,"},
		{[]string{"--workers", "4", "--shard", "2/3"}, "about 2 h with 4 workers,"},
	} {
		text := said(t, append(append([]string{"sweep", "--dry-run"}, small...), c.args...)...)
		if got := strings.Join(strings.Fields(text), " "); !strings.Contains(got, c.want) {
			t.Errorf("%q: no %q in\n%s", c.args, c.want, text)
		}
	}
}
