package air

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// TestStandard compares with the table of ISO 2533:1975 in testdata, to the
// digits printed there.
func TestStandard(t *testing.T) {
	f, err := os.Open("testdata/isa1976.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows := 0
	for s := bufio.NewScanner(f); s.Scan(); {
		line := s.Text()
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "H_m") {
			continue
		}
		var H, T, p, rho, a, mu float64
		if _, err := fmt.Sscanf(strings.ReplaceAll(line, ",", " "), "%g %g %g %g %g %g", &H, &T, &p, &rho, &a,
			&mu); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		got, err := Standard(H)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			name            string
			got, want, half float64 // half a unit of the last printed digit
		}{
			{"T", got.Temperature, T, 0.5e-3},
			{"p", got.Pressure, p, 0.5e-2},
			{"rho", got.Density, rho, 0.5e-6},
			{"a", got.SoundSpeed, a, 0.5e-4},
			{"mu", got.Viscosity, mu, 0.5e-10},
		} {
			if math.Abs(c.got-c.want) > c.half*1.001 {
				t.Errorf("H = %g m: %s = %.10g, want %g", H, c.name, c.got, c.want)
			}
		}
		if got.Altitude != H {
			t.Errorf("Altitude = %g, want %g", got.Altitude, H)
		}
		rows++
	}
	if rows != 15 {
		t.Errorf("read %d rows of testdata, want 15", rows)
	}
}

// Hand values: 1 500 m standard is 1.0581 kg/m³, and the ideal hover power of
// the same craft rises by sqrt(1.225/1.0581) = 1.076 (momentum theory).
func TestHoverPowerRatio(t *testing.T) {
	a0, _ := Standard(0)
	a, err := Standard(1500)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(a.Density-1.0581) > 5e-5 {
		t.Errorf("density at 1500 m = %.5f, want 1.0581", a.Density)
	}
	if r := math.Sqrt(a0.Density / a.Density); math.Abs(r-1.076) > 5e-4 {
		t.Errorf("hover power ratio = %.4f, want 1.076", r)
	}
}

func TestTemperature(t *testing.T) {
	std, _ := Standard(1600)
	for _, dT := range []float64{-30, 0, 15} {
		off, err := Offset(1600, dT)
		if err != nil {
			t.Fatal(err)
		}
		at, err := At(1600, std.Temperature+dT)
		if err != nil {
			t.Fatal(err)
		}
		if off != at {
			t.Errorf("dT = %g: Offset = %+v, At = %+v, want the same", dT, off, at)
		}
		if off.Pressure != std.Pressure {
			t.Errorf("dT = %g changes the pressure to %g from %g", dT, off.Pressure, std.Pressure)
		}
		// Perfect gas at one pressure: rho T is constant, a² / T is constant.
		if r := off.Density * off.Temperature / (std.Density * std.Temperature); math.Abs(r-1) > 1e-14 {
			t.Errorf("dT = %g: rho T changes by %g", dT, r-1)
		}
		if r := math.Pow(off.SoundSpeed/std.SoundSpeed, 2) * std.Temperature / off.Temperature; math.Abs(r-1) > 1e-14 {
			t.Errorf("dT = %g: a²/T changes by %g", dT, r-1)
		}
	}
}

func TestRange(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		err  func() error
		want string
	}{
		{"too low", func() error { _, err := Standard(-501); return err },
			"altitude -501 m is outside the atmosphere model, want -500 to 20000 m"},
		{"too high", func() error { _, err := At(20001, 288); return err }, "altitude 20001 m"},
		{"not a number", func() error { _, err := Offset(nan, 0); return err }, "altitude NaN m"},
		{"too hot", func() error { _, err := At(0, 400); return err },
			"temperature 126.85 °C at 0 m is outside the model, want -100 to 70 °C"},
		{"too cold", func() error { _, err := Offset(10000, -60); return err }, "temperature -110.00 °C"},
		{"temperature not a number", func() error { _, err := At(0, nan); return err }, "temperature NaN °C"},
	} {
		err := c.err()
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", c.name, err, c.want)
		}
	}
	for _, H := range []float64{MinAltitude, tropopause, MaxAltitude} {
		if _, err := Standard(H); err != nil {
			t.Errorf("Standard(%g): %v", H, err)
		}
	}
}

func TestBasis(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Basis() {
		if c.Symbol == "" || c.Meaning == "" || c.Source == "" || seen[c.Symbol] {
			t.Errorf("incomplete or doubled constant %+v", c)
		}
		seen[c.Symbol] = true
	}
}
