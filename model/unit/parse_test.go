package unit_test

import (
	"math"
	"strings"
	"testing"

	"rotorsieve/model/unit"
)

func TestParse(t *testing.T) {
	// The wanted values are untyped constants, which Go computes exactly and
	// rounds once.
	for _, c := range []struct {
		kind *unit.Kind
		text string
		want float64
	}{
		{unit.Length, "5in", 5 * 0.0254},
		{unit.Length, "5", 5 * 0.0254},
		{unit.Length, " 5 in ", 5 * 0.0254},
		{unit.Length, "3in", 3 * 0.0254},
		{unit.Length, "76.2mm", 0.0762},
		{unit.Length, "3.25in", 3.25 * 0.0254},
		{unit.Length, "+.5cm", 0.005},
		{unit.Length, "-5.m", -5},
		{unit.Length, "2e3ft", 609.6},
		{unit.Length, "1.5E-1km", 150},
		{unit.Length.WithDefault("m"), "1600", 1600},
		{unit.Mass, "249g", 0.249},
		{unit.Mass, "0.55lb", 0.2494758035}, // 0.55 x 0.45359237 kg
		{unit.Mass, "16oz", 0.45359237},
		{unit.Time, "6min", 360},
		{unit.Time, "40ms", 0.04},
		{unit.Speed, "36km/h", 10},
		{unit.Speed, "100mph", 44.704},
		{unit.Speed, "9kn", 4.63},
		{unit.Temperature, "35degC", 308.15},
		{unit.Temperature, "-10", 263.15},
		{unit.Temperature, "32degF", 273.15},
		{unit.Temperature, "-40degF", 233.15},
		{unit.Temperature, "288.15K", 288.15},
		{unit.TemperatureDifference, "-10degC", -10},
		{unit.TemperatureDifference, "18degF", 10},
		{unit.Charge, "1300mAh", 4680},
		{unit.Charge, "1.3Ah", 4680},
		{unit.CRate, "30C", 30},
		{unit.Energy, "22Wh", 79200},
		{unit.Resistance, "60mohm", 0.06},
		{unit.Force, "1kgf", 9.80665},
		{unit.Torque, "50mNm", 0.05},
		{unit.TorqueDensity, "30", 30000},
		{unit.DiskLoading, "1g/in2", 0.00980665 / (0.0254 * 0.0254)},
		{unit.DiskLoading, "1kg/m2", 9.80665},
		{unit.ThrustPerPower, "5g/W", 0.005},
		{unit.Rotation, "25200rpm", 420},
		{unit.SpeedConstant, "1750", 1750},
		{unit.SpeedConstant, "1750KV", 1750},
		{unit.Angle, "180deg", math.Pi},
		{unit.AngularAcceleration, "180deg/s2", math.Pi},
		{unit.Ratio, "85%", 0.85},
		{unit.Ratio, "0.85", 0.85},
		{unit.Count, "3", 3},
		{unit.Cells, "4S", 4},
		{unit.Cells, "4", 4},
		{unit.Stator, "2207", 2207},
		{unit.Stator, "2306.5", 2306.5},
		{unit.Stator, "22x7", 2207},
		{unit.Stator, "23 x 6.5", 2306.5},
		{unit.Stator, "0806", 806},
	} {
		got, err := c.kind.Parse(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.kind.Name(), err)
		} else if got != c.want {
			t.Errorf("%s %q = %v, want %v", c.kind.Name(), c.text, got, c.want)
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		kind *unit.Kind
		text string
		want string
	}{
		{unit.Length, "5g", `"5g": g is a unit of mass, want a length such as 5in or 127mm`},
		{unit.Length, "", `"": empty, want a length such as 5in or 127mm`},
		{unit.Length, "five", `"five": no number, want a length such as 5in or 127mm`},
		{unit.Length, ".in", `".in": no number, want a length such as 5in or 127mm`},
		{unit.Length, "NaN", `"NaN": no number, want a length such as 5in or 127mm`},
		{unit.Length, "-Inf", `"-Inf": no number, want a length such as 5in or 127mm`},
		{unit.Length, "5inch", `"5inch": "inch" is not a unit of length, want a length such as 5in or 127mm`},
		{unit.Length, "5IN", `"5IN": "IN" is not a unit, want in as in 5in`},
		{unit.Length, "0x10", `"0x10": "x10" is not a unit of length, want a length such as 5in or 127mm`},
		{unit.Length, "3,5in", `"3,5in": one value is wanted here, not a list or a range: want a length such as 5in ` +
			`or 127mm`},
		{unit.Length, "3:6:1", `"3:6:1": one value is wanted here, not a list or a range: want a length such as 5in ` +
			`or 127mm`},
		{unit.Length, "1e310m", `"1e310m": too large a number, want one below 1e300`},
		{unit.Length, "1e999m", `"1e999m": exponent beyond 350, want a smaller one`},
		{unit.Length, "1e99999999999999999999m", `"1e99999999999999999999m": exponent beyond 350, want a smaller one`},
		{unit.Length, "1e-340m", `"1e-340m": too small a number, want 0 or more than 1e-300`},
		{unit.Length, strings.Repeat("1", 41), `"11111111111111111111"...: a number of 41 characters, want at most 40`},
		{unit.Temperature, "20C", `"20C": C is a unit of C rate, want a temperature such as 35degC or 308.15K`},
		{unit.Temperature, "20 °C", `"20 °C": "°C" is not a unit, want degC as in 20degC`},
		{unit.Count, "2.5", `"2.5": not a whole number, want a whole number such as 3`},
		{unit.Count, "2S", `"2S": S is a unit of cells in series, want a whole number such as 3`},
		{unit.Cells, "4s", `"4s": "s" is not a unit, want S as in 4S`},
		{unit.Stator, "207", `"207": not a stator code of four digits, want a stator size such as 2207 (22 mm x 7 ` +
			`mm), 2306.5 or 22x7`},
		{unit.Stator, "-2207", `"-2207": not a stator code of four digits, want a stator size such as 2207 (22 mm x ` +
			`7 mm), 2306.5 or 22x7`},
		{unit.Stator, "22.5x7", `"22.5x7": the code has no place for a fraction of the diameter, want a stator size ` +
			`such as 2207 (22 mm x 7 mm), 2306.5 or 22x7`},
		{unit.Stator, "100x7", `"100x7": diameter outside 1 to 99 mm, want a stator size such as 2207 (22 mm x 7 ` +
			`mm), 2306.5 or 22x7`},
		{unit.Stator, "2200", `"2200": height not above 0 and below 100 mm, want a stator size such as 2207 (22 mm x ` +
			`7 mm), 2306.5 or 22x7`},
		{unit.Stator, "22x7mm", `"22x7mm": not a diameter and a height in mm, want a stator size such as 2207 (22 mm ` +
			`x 7 mm), 2306.5 or 22x7`},
	} {
		got, err := c.kind.Parse(c.text)
		if err == nil {
			t.Errorf("%s %q = %v, want error %s", c.kind.Name(), c.text, got, c.want)
		} else if err.Error() != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.kind.Name(), err, c.want)
		}
	}
}

func TestStatorSize(t *testing.T) {
	for _, c := range []struct{ code, diameter, height float64 }{
		{2207, 0.022, 0.007},
		{2306.5, 0.023, 0.0065},
		{2306.3, 0.023, 0.0063},
		{2812, 0.028, 0.012},
		{806, 0.008, 0.006},
	} {
		d, h := unit.StatorSize(c.code)
		if d != c.diameter || h != c.height {
			t.Errorf("StatorSize(%v) = %v, %v, want %v, %v", c.code, d, h, c.diameter, c.height)
		}
	}
}

// Every example an error offers must be right.
func TestWantedExamplesParse(t *testing.T) {
	for _, k := range unit.Kinds {
		_, err := k.Parse("")
		if err == nil {
			t.Fatalf("%s reads the empty text", k.Name())
		}
		_, want, _ := strings.Cut(err.Error(), "such as ")
		for w := range strings.FieldsSeq(strings.NewReplacer(" (22 mm x 7 mm)", "", ",", "", " or ",
			" ").Replace(want)) {
			if _, err := k.Parse(w); err != nil {
				t.Errorf("the error of %s offers %q: %v", k.Name(), w, err)
			}
		}
	}
}
