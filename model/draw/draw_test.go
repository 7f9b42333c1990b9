package draw

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// The quantile against that of a library, over the whole range of uniform numbers.
func TestNormal(t *testing.T) {
	t.Parallel()
	worst := 0.0
	for i := range 20000 {
		for _, u := range []float64{(float64(i) + 0.5) / 20000, math.Ldexp(1+float64(i)/20000, -20-i%5)} {
			for _, u := range []float64{u, 1 - u} {
				want := distuv.UnitNormal.Quantile(u)
				worst = math.Max(worst, math.Abs(Normal(u)-want)/math.Max(1, math.Abs(want)))
			}
		}
	}
	if worst > 1e-13 {
		t.Errorf("the quantile is off by %g", worst)
	}
}

func TestLogarithm(t *testing.T) {
	t.Parallel()
	for x := 1e-30; x < 1; x *= 1.37 {
		if got, want := logarithm(x), math.Log(x); math.Abs(got-want) > 1e-15*math.Abs(want) {
			t.Errorf("ln %g = %g, want %g", x, got, want)
		}
	}
}

// moments are mean and variance.
func moments(x []float64) (mean, variance float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		variance += (v - mean) * (v - mean) / float64(len(x))
	}
	return mean, variance
}

// Numbers of one name over the draws, of one draw over names, and of neighbours of both
// are standard normal and know nothing of each other.
func TestHash(t *testing.T) {
	t.Parallel()
	const n = 20000
	var draws, names, seeds, product []float64
	for k := range n {
		name := fmt.Sprintf("motor %d", k)
		draws = append(draws, Hash(7, "pack", k))
		names = append(names, Hash(7, name, 3))
		seeds = append(seeds, Hash(uint64(k), "pack", 3))
		product = append(product, Hash(7, "pack", k)*Hash(7, "pack", k+1), Hash(7, name, 3)*Hash(7, name, 4),
			Hash(7, "frame", k)*Hash(7, "pack", k))
	}
	const allowed = 4 // standard errors
	for what, x := range map[string][]float64{"draws": draws, "names": names, "seeds": seeds} {
		mean, variance := moments(x)
		if math.Abs(mean) > allowed/math.Sqrt(n) || math.Abs(variance-1) > allowed*math.Sqrt(2.0/n) {
			t.Errorf("%s: mean %.4f, variance %.4f", what, mean, variance)
		}
	}
	if mean, _ := moments(product); math.Abs(mean) > allowed/math.Sqrt(3*n) {
		t.Errorf("neighbours are correlated by %.4f", mean)
	}
}

// An even set has the moments of independent draws with far less scatter, and a larger set
// begins with a smaller one.
func TestEven(t *testing.T) {
	t.Parallel()
	const n, numbers = 256, 60
	x := Even(1, n, numbers)
	larger := Even(1, 2*n, numbers+9)
	for i := range numbers {
		column := make([]float64, n)
		for k := range n {
			column[k] = x[k][i]
			if larger[k][i] != x[k][i] {
				t.Fatalf("draw %d, number %d: %g in a larger set, %g", k, i, larger[k][i], x[k][i])
			}
		}
		mean, variance := moments(column)
		if math.Abs(mean) > 2.5/math.Sqrt(n) || math.Abs(variance-1) > 0.25 {
			t.Errorf("number %d: mean %.4f, variance %.4f", i, mean, variance)
		}
	}
	first := 0.0
	for k := range n {
		first += x[k][0] / n
	}
	if math.Abs(first) > 0.02 { // of independent ones 0.06
		t.Errorf("the first number has a mean of %.4f", first)
	}
	if Even(2, 1, 1)[0][0] == x[0][0] {
		t.Error("another seed gives the same")
	}
}

// The numbers of a seed are these, on every platform.
func TestSamePlatforms(t *testing.T) {
	t.Parallel()
	h := sha256.New()
	put := func(v float64) {
		var b [8]byte
		binary.LittleEndian.PutUint64(b[:], math.Float64bits(v))
		h.Write(b[:])
	}
	for k := range 4096 {
		put(Hash(1, "motor", k))
		put(Hash(uint64(k), fmt.Sprint("part ", k), k))
	}
	for _, draw := range Even(1, 1024, 80) {
		for _, v := range draw {
			put(v)
		}
	}
	const want = "64d31e102ff6413d9c85c79d508236a5d4e01432c43b3e972f8129384236ef7d"
	if got := fmt.Sprintf("%x", h.Sum(nil)); got != want {
		t.Errorf("numbers have the sum %s, want %s", got, want)
	}
}
