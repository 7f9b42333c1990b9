package sweep

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"rotorsieve/sweep/spent"
)

// traded is the front of n designs, each of which has more of one metric than the last
// by a share of it, and less of another.
func traded(n int, share float64) []FrontPoint {
	var f front
	for i := range n {
		gain := math.Pow(1+share, float64(i))
		v := [maxFront]float64{600 * gain, 9 / gain}
		f.add(FrontPoint{Ranked: Ranked{Index: uint64(i)}, box: box(v)})
	}
	return f.sorted()
}

// A front tells designs apart that differ by more than one per cent, and of those that
// differ by less keeps one for each per cent.
func TestFrontResolution(t *testing.T) {
	if got := len(traded(100, 0.0101)); got != 100 {
		t.Errorf("of 100 designs that differ by 1.01 %% each, %d are on the front", got)
	}
	const n, share = 1000, 0.001
	want := n * share / 0.01 // one for each per cent, but for what rounding merges
	if got := float64(len(traded(n, share))); math.Abs(got-want) > 5 {
		t.Errorf("of %d designs that differ by 0.1 %% each, %g are on the front, want %g", n, got, want)
	}
}

// The points of a front are the same whether they come one by one or all at once, of one to
// three metrics, with boxes and designs that come again.
func TestPareto(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	for round := range 600 {
		metrics, span := 1+round%maxFront, 1+rng.IntN(12)
		var f front
		var all []FrontPoint
		for range rng.IntN(60) {
			x := FrontPoint{Ranked: Ranked{Index: rng.Uint64N(40), Score: float64(rng.IntN(4))}}
			for i := range metrics {
				x.box[i] = int32(rng.IntN(2*span) - span)
			}
			all = append(all, x)
			f.add(x)
		}
		cut := rng.IntN(len(all) + 1)
		halves := front{points: pareto(slices.Clone(all[:cut]))}
		halves.merge(&front{points: all[cut:]})
		want := f.sorted()
		if got := halves.sorted(); !slices.Equal(got, want) {
			t.Fatalf("of %v: %v, want %v", all, got, want)
		}
	}
}

// A shortfall is a share of the bound, however small in SI a bound is; of a bound at
// zero, which has no share, it still says which of two values is nearer.
func TestShortfall(t *testing.T) {
	for _, bound := range []float64{1e-6, 3.6e-4, 0.75, 373.15, 1e6} {
		for _, atLeast := range []bool{true, false} {
			for _, miss := range []float64{1e-3, 0.1, 2} {
				v := bound * (1 + miss)
				if atLeast {
					v = bound * (1 - miss)
				}
				r := Requirement{AtLeast: atLeast, Bound: bound}
				if got := r.Shortfall(v); math.Abs(got-miss) > 1e-9 {
					t.Errorf("bound %g, at least %v: %g falls short by %g, want %g", bound, atLeast, v, got, miss)
				}
			}
		}
	}
	zero := Requirement{AtLeast: true}
	near, far := zero.Shortfall(-1e-3), zero.Shortfall(-2e-3)
	if !(near > 0 && near < far && far < math.Inf(1)) {
		t.Errorf("-1e-3 and -2e-3 miss zero by %g and %g, want the first nearer and both finite", near, far)
	}
	for v, want := range map[float64]float64{0: 0, 1: 0, math.NaN(): math.Inf(1)} {
		if got := zero.Shortfall(v); got != want {
			t.Errorf("%g misses zero by %g, want %g", v, got, want)
		}
	}
}

// A front that somebody has made up may be long, and takes n log n steps: n*n were minutes.
func TestLongFront(t *testing.T) {
	const n, most = 300_000, 10 * time.Second
	points := make([]FrontPoint, n)
	for i := range points { // none dominates another
		points[i] = FrontPoint{Ranked: Ranked{Index: uint64(i)}, box: [3]int32{int32(i), int32(n - i), int32(i * 7919 % n)}}
	}
	var left int
	took, err := spent.On(func() error { left = len(pareto(points)); return nil })
	if err != nil || left != n || took > most {
		t.Errorf("%d of %d points are left, in %v of processor time", left, n, took)
	}
}
