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

// What leads is told as far as there is room, and never beyond it.
func TestLeading(t *testing.T) {
	all := []sweep.Leading{{Class: sweep.Class{Limit: 0.249, Label: "249g"}, Diameter: 0.0889, Score: 0.70149},
		{Class: sweep.Class{Limit: 0.5, Label: "500g"}, Diameter: 0.127, Score: 0.68},
		{Class: sweep.Class{Limit: 0.9, Label: "900g"}, Diameter: 0.1524, Score: 1}}
	for _, c := range []struct {
		classes, room int
		want          string
	}{
		{0, 100, ""}, {1, 100, "best 249 g: 3.5 in 0.701"}, {1, 24, "best 249 g: 3.5 in 0.701"}, {1, 23, ""},
		{3, 100, "best 249 g: 3.5 in 0.701, 500 g: 5 in 0.680, 900 g: 6 in 1.000"},
		{3, 61, "best 249 g: 3.5 in 0.701, 500 g: 5 in 0.680, ..."}, {3, 30, "best 249 g: 3.5 in 0.701, ..."}, {3, 28, ""},
	} {
		if got := leading(all[:c.classes], c.room); got != c.want || len(got) > c.room {
			t.Errorf("%d classes in %d: %q, want %q", c.classes, c.room, got, c.want)
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
	at.Done, at.Fresh = 500, 500
	at.Best = []sweep.Leading{{Class: sweep.Class{Limit: 0.249, Label: "249g"}, Diameter: 0.0889, Score: 0.70149}}
	p.show(at)
	at.Done, at.Fresh = 1000, 1000
	p.show(at)
	p.end()
	want := " 25.0 %  3 feasible, 250 designs/s, 3 s left\n" +
		" 50.0 %  3 feasible, 500 designs/s, 1 s left, best 249 g: 3.5 in 0.701\nsmall, shard 1/2: 1,000 designs judged in 1 s, 3 feasible\n"
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
		at := sweep.Progress{Total: 45_489_600, Best: []sweep.Leading{
			{Class: sweep.Class{Limit: 0.249, Label: "249g"}, Diameter: 0.0889, Score: 0.70149},
			{Class: sweep.Class{Limit: 0.5, Label: "500g"}, Diameter: 0.127, Score: 0.68}}}
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
			if strings.Contains(line, "feasible") && strings.Contains(line, "left, best 249 g: 3.5 in 0.701, ") {
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
