package main

import (
	"strings"
	"testing"
	"time"

	"rotorsieve/sweep"
)

func TestPace(t *testing.T) {
	for _, c := range []struct {
		at   sweep.Progress
		want string
	}{
		{sweep.Progress{Total: 100}, "0 feasible"},
		{sweep.Progress{Total: 100, Elapsed: time.Second}, "0 feasible"},
		{sweep.Progress{Done: 12_345_678, Total: 50_000_000, Fresh: 12_345_678, Feasible: 1234,
			Elapsed: 5 * time.Second},
			"1,234 feasible, 2,470,000 designs/s, 15 s left"},
		// What was judged before says nothing of the speed.
		{sweep.Progress{Done: 9_000, Total: 10_000, Fresh: 100, Elapsed: 10 * time.Second},
			"0 feasible, 10 designs/s, 2 min left"},
	} {
		if got := pace(c.at); got != c.want {
			t.Errorf("%+v: %s, want %s", c.at, got, c.want)
		}
	}
}

func TestThreeDigits(t *testing.T) {
	for v, want := range map[float64]uint64{0.4: 0, 7: 7, 999.6: 1000, 1234: 1230, 1235: 1240, 99_960: 100_000,
		2.4691e6: 2_470_000} {
		if got := threeDigits(v); got != want {
			t.Errorf("%g: %d, want %d", v, got, want)
		}
	}
}

// Elsewhere than on a terminal progress is plain lines, the last of which says
// what was done.
func TestPlainProgress(t *testing.T) {
	var b strings.Builder
	p := &progress{w: &b, what: "small, shard 1/2"}
	at := sweep.Progress{Done: 250, Total: 1000, Fresh: 250, Feasible: 3, Elapsed: time.Second}
	p.show(at)
	at.Done, at.Fresh = 1000, 1000
	p.show(at)
	p.end()
	want := " 25.0 %  3 feasible, 250 designs/s, 3 s left\nsmall, shard 1/2: 1,000 designs judged in 1 s, 3 feasible\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

// The bar keeps within a terminal of any width, and what comes after it begins a
// line.
func TestBar(t *testing.T) {
	t.Parallel()
	for _, width := range []int{80, 100, 200} {
		var b strings.Builder
		p := &progress{w: &b, what: "small", width: width}
		at := sweep.Progress{Total: 45_489_600}
		for at.Done < at.Total/2 {
			at.Done += 4_548_960
			at.Fresh, at.Feasible, at.Elapsed = at.Done, at.Done, at.Elapsed+time.Second
			p.show(at)
			time.Sleep(110 * time.Millisecond) // drawn ten times a second at most
		}
		p.clear()
		drawn := 0
		for _, line := range strings.Split(b.String(), "\r") {
			if n := len([]rune(line)); n > width {
				t.Errorf("%d columns, the terminal has %d: %s", n, width, line)
			}
			if strings.Contains(line, "feasible") {
				drawn++
			}
		}
		if drawn < 4 {
			t.Errorf("drawn %d times: %q", drawn, b.String())
		}
		if !strings.HasSuffix(b.String(), "\r") {
			t.Errorf("left at %q", b.String()[max(0, b.Len()-20):])
		}
	}
}
