package unit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model/unit"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		unit   unit.Unit
		si     float64
		digits int
		want   string
	}{
		{unit.Length.Unit("in"), 3.25 * 0.0254, 3, "3.25 in"},
		{unit.Length.Unit("in"), 3 * 0.0254, 3, "3 in"},
		{unit.Mass.Default(), 1.5123, 3, "1510 g"},
		{unit.Mass.Default(), 1.5123, 0, "1512.3 g"},
		{unit.Mass.Default(), 9.999, 3, "10000 g"},
		{unit.Mass.Default(), -0.0001, 1, "-0.1 g"},
		{unit.Mass.Default(), math.Copysign(0, -1), 3, "0 g"},
		{unit.Mass.Default(), 1e-9, 3, "1e-06 g"},
		{unit.Mass.Default(), 1e13, 3, "1e+16 g"},
		{unit.Mass.Default(), math.NaN(), 3, "NaN g"},
		{unit.DiskLoading.Default(), 7.5 * 0.00980665 / (0.0254 * 0.0254), 3, "7.5 g/in²"},
		{unit.DiskLoading.SI(), 114.0028, 3, "114 N/m²"},
		{unit.Temperature.Default(), 308.15, 3, "35 °C"},
		{unit.Temperature.Unit("degF"), 233.15, 4, "-40 °F"},
		{unit.Angle.Default(), math.Pi / 6, 3, "30°"},
		{unit.Cells.Default(), 4, 3, "4S"},
		{unit.CRate.Default(), 30, 3, "30C"},
		{unit.Ratio.Unit("%"), 0.333, 2, "33 %"},
		{unit.Ratio.SI(), 0.333, 2, "0.33"},
		{unit.Stator.SI(), 2306.5, 5, "2306.5"},
		{unit.Stator.SI(), 806, 5, "0806"},
		{unit.Resistance.Default(), 0.06, 3, "60 mΩ"},
		{unit.Rotation.Default(), 630, 3, "37800 rpm"},
	} {
		if got := c.unit.Format(c.si, c.digits); got != c.want {
			t.Errorf("Format(%v, %d) in %s = %q, want %q", c.si, c.digits, c.unit.Symbol, got, c.want)
		}
	}
}

func TestText(t *testing.T) {
	for _, c := range []struct {
		kind *unit.Kind
		si   float64
		want string
	}{
		{unit.Length, 0.127, "5in"},
		{unit.Length, 0.3048, "12in"},
		{unit.Length, 0.3, "0.3m"},
		{unit.Length.WithDefault("mm"), 0.3, "300mm"},
		{unit.Length.WithDefault("m"), 1600, "1600m"},
		{unit.Mass, 0.249, "249g"},
		{unit.Charge, 4680, "1300mAh"},
		{unit.Temperature, 308.15, "35degC"},
		{unit.Cells, 4, "4S"},
		{unit.Stator, 806, "0806"},
		{unit.Stator, 2306.5, "2306.5"},
		{unit.Ratio, 0.85, "0.85"},
		{unit.DiskLoading, 114, "114N/m2"},
	} {
		if got := c.kind.Text(c.si); got != c.want {
			t.Errorf("Text(%v) of %s = %q, want %q", c.si, c.kind.Name(), got, c.want)
		}
	}
}

// Text is read back bit for bit, whatever the value.
func TestTextRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, k := range unit.Kinds {
		for range 100 {
			si := (r.Float64() - 0.3) * math.Pow(10, float64(r.IntN(12)-6))
			switch k {
			case unit.Cells, unit.Count:
				si = math.Round(si)
			case unit.Stator:
				si = float64(100*(1+r.IntN(99))) + math.Round(1+r.Float64()*980)/10
			}
			text := k.Text(si)
			if back, err := k.Parse(text); err != nil || back != si {
				t.Errorf("%s %v prints as %q, which reads as %v (%v)", k.Name(), si, text, back, err)
			}
		}
	}
}

// The two float64 conversions undo each other and agree with the exact one.
func TestConversions(t *testing.T) {
	for _, k := range unit.Kinds {
		for _, u := range k.Units() {
			const v = 1234.5
			si := u.ToSI(v)
			if back := u.FromSI(si); math.Abs(back-v) > 1e-12*v {
				t.Errorf("%s: %v %s comes back as %v", k.Name(), v, u.Symbol, back)
			}
			if k == unit.Count || k == unit.Cells || k == unit.Stator {
				continue // 1234.5 is none
			}
			exact, err := k.Parse("1234.5" + u.Symbol)
			if err != nil {
				t.Errorf("%s: %v", k.Name(), err)
			} else if math.Abs(si-exact) > 1e-15*math.Abs(exact) {
				t.Errorf("%s: 1234.5 %s is %v, and %v exactly", k.Name(), u.Symbol, si, exact)
			}
		}
	}
}

func TestWrongSymbolPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("Length.Unit(\"g\") returned")
		}
	}()
	unit.Length.Unit("g")
}

func TestRange(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		r    unit.Range
		v    float64
		want string
	}{
		{unit.Range{Min: 0.0508, Max: 0.3048}, 0.3048, ""},
		{unit.Range{Min: 0.0508, Max: 0.3048}, 0.381, "15in is out of bounds, want 2in to 12in"},
		{unit.Range{Min: 0.0508, Max: inf}, 0.0254, "1in is too little, want at least 2in"},
		{unit.Range{Min: -inf, Max: 0.3048}, 0.381, "15in is too much, want at most 12in"},
		{unit.Range{Min: -inf, Max: inf}, math.NaN(), "not a finite number, want a length such as 5in or 127mm"},
	} {
		got := ""
		if err := c.r.Check(unit.Length, 0.0762, c.v); err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%v of %v: got %q, want %q", c.r, c.v, got, c.want)
		}
	}
}
