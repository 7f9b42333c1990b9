package decide

import (
	"math"
	"slices"
	"testing"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

func TestCautious(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		x    []float64
		want float64
	}{
		{"whole draws", []float64{9, 1, 2, 3, 4, 5, 6, 7, 8, 10}, (2 + 3 + 4 + 5) / 4.0},
		// Of five draws each is a fifth: the 10th percentile cuts the first in two, the
		// 50th the third.
		{"parts of draws", []float64{5, 1, 4, 2, 3}, (0.5*1 + 2 + 0.5*3) / 2},
		{"one draw", []float64{0.7}, 0.7},
		{"half fail", []float64{0, 1, 0, 1}, 0},
		{"a quarter fail", []float64{0, 1, 1, 1}, (0.25-0.1)/0.4*0 + 0.25/0.4},
	} {
		memory := make([]float64, len(c.x))
		if got := cautiousOf(c.x, memory); !near(got, c.want, 1e-12) {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
		if got := cautiousIn(slices.Clone(c.x)); !near(got, c.want, 1e-12) {
			t.Errorf("%s, unsorted: %g, want %g", c.name, got, c.want)
		}
		// The same by counting each draw once.
		ones := make([]uint8, len(c.x))
		for i := range ones {
			ones[i] = 1
		}
		r := rise(c.x)
		if got := r.cautious(ones); !near(got, c.want, 1e-12) {
			t.Errorf("%s, counted: %g, want %g", c.name, got, c.want)
		}
	}
}

// A sample by counts is that sample.
func TestCounted(t *testing.T) {
	t.Parallel()
	x := []float64{0.3, 0, 0.9, 0.5, 0.5, 0.1, 0.8}
	for s, count := range bootstrap(len(x), 3)[:50] {
		var sample []float64
		for k, n := range count {
			for range n {
				sample = append(sample, x[k])
			}
		}
		if len(sample) != len(x) {
			t.Fatalf("sample %d has %d draws", s, len(sample))
		}
		r := rise(x)
		want := cautiousOf(sample, make([]float64, len(x)))
		if got := r.cautious(count); !near(got, want, 1e-12) {
			t.Errorf("sample %d: %g, want %g", s, got, want)
		}
		if got := cautiousIn(sample); !near(got, want, 1e-12) {
			t.Errorf("sample %d, unsorted: %g, want %g", s, got, want)
		}
	}
}

func TestQuantiles(t *testing.T) {
	t.Parallel()
	if got, want := quantilesOf([]float64{3, 1, 2, 5, 4, 6}), (Quantiles{1.5, 3.5, 5.5}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got := quantilesOf([]float64{7}); got != (Quantiles{7, 7, 7}) {
		t.Errorf("of one: %v", got)
	}
	if got := quantilesOf(nil); !math.IsNaN(got.P50) {
		t.Errorf("of none: %v", got)
	}
	// Of values of an axis they are on it: nine in ten of these ten are at most 9.
	if got, want := stepsOf([]float64{3, 1, 2, 5, 4, 6, 7, 10, 9, 8}), (Quantiles{1, 5, 9}); got != want {
		t.Errorf("on an axis: %v, want %v", got, want)
	}
	if got := stepsOf([]float64{7}); got != (Quantiles{7, 7, 7}) {
		t.Errorf("of one on an axis: %v", got)
	}
	if got := stepsOf(nil); !math.IsNaN(got.P50) {
		t.Errorf("of none on an axis: %v", got)
	}
}

// A bootstrap of a mean's half finds the spread that fresh samples have.
func TestBootstrapSpread(t *testing.T) {
	t.Parallel()
	const n, samples = 400, 300
	uniform := func(i int) float64 { return float64(mix(uint64(i))>>11) / (1 << 53) }
	var found []float64
	for s := range samples {
		x := make([]float64, n)
		for k := range x {
			x[k] = uniform(s*n + k)
		}
		found = append(found, cautiousOf(x, make([]float64, n)))
	}
	_, se := moments(found)
	want := se * math.Sqrt(samples)
	x := make([]float64, n)
	for k := range x {
		x[k] = uniform(1000*n + k)
	}
	r := rise(x)
	var again []float64
	for _, count := range bootstrap(n, 9) {
		again = append(again, r.cautious(count))
	}
	if got := standardOf(again, make([]float64, len(again))); math.Abs(got/want-1) > 0.25 {
		t.Errorf("the bootstrap says %g, fresh samples %g", got, want)
	}
}

func TestShuffled(t *testing.T) {
	t.Parallel()
	x := shuffled(1000, 5)
	moved := 0
	for i, v := range x {
		if v != i {
			moved++
		}
	}
	slices.Sort(x)
	for i, v := range x {
		if i != v {
			t.Fatalf("%d is missing", i)
		}
	}
	if moved < 980 {
		t.Errorf("only %d have moved", moved)
	}
}
