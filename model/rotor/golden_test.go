package rotor

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"rotorsieve/model/air"
)

// laidOut returns a rotor of constant chord and true helical pitch, with its
// stations where the solver has them.
func laidOut(t testing.TB, D, P float64, B int, chord float64) Geometry {
	t.Helper()
	var x, c, beta []float64
	for i := range strips {
		x = append(x, (stripEdge(i)+stripEdge(i+1))/2)
		c = append(c, chord)
		beta = append(beta, math.Atan(P/(math.Pi*x[i]*D)))
	}
	b, err := newBlade(x, c, beta)
	if err != nil {
		t.Fatal(err)
	}
	return Geometry{Diameter: D, Blades: B, Blade: b}
}

// TestGolden compares with an independent implementation; the simpler drag rise
// and lift are the ones its file states.
func TestGolden(t *testing.T) {
	f, err := os.Open("testdata/rotor-golden.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p := section
	p.mirror = false
	p.rise = compressibility{floor: 0.15, critical: 0.8, lift: 0.1, gain: 20, power: 3}
	a := air.Air{Density: 1.225, Viscosity: 1.789e-5, SoundSpeed: 340.3}
	rows := 0
	for in := bufio.NewScanner(f); in.Scan(); {
		line := in.Text()
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "diameter") {
			continue
		}
		var D, P, chord, rpm, J, CT, CP float64
		var B int
		if _, err := fmt.Sscanf(strings.ReplaceAll(line, ",", " "), "%g %g %d %g %g %g %g %g", &D, &P, &B, &chord, &rpm,
			&J, &CT, &CP); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		s, err := newSolver(laidOut(t, D*inch, P*inch, B, chord), a, &p)
		if err != nil {
			t.Fatal(err)
		}
		pt, err := s.Solve(J, rpm/60)
		if err != nil {
			t.Fatal(err)
		}
		// The file has 8 decimals: 2e-7 of the smallest.
		if math.Abs(pt.CT/CT-1) > 1e-6 || math.Abs(pt.CP/CP-1) > 1e-6 {
			t.Errorf("%s: CT %.8f (%+.1e), CP %.8f (%+.1e)", line, pt.CT, pt.CT/CT-1, pt.CP, pt.CP/CP-1)
		}
		rows++
	}
	if rows != 18 {
		t.Errorf("read %d rows, want 18", rows)
	}
}
