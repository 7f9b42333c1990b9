package unit_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model/unit"
)

// An axis is what its values, written out one by one, parse to.
func TestParseAxis(t *testing.T) {
	for _, c := range []struct {
		kind *unit.Kind
		text string
		want string
	}{
		{unit.Length, "5in", "5in"},
		{unit.Length, "3:6:0.25in", "3in 3.25in 3.5in 3.75in 4in 4.25in 4.5in 4.75in 5in 5.25in 5.5in 5.75in 6in"},
		{unit.Length, "3in : 6in : 1in", "3in 4in 5in 6in"},
		{unit.Length, "5,3,4", "3in 4in 5in"},
		{unit.Length, "5:5:1in", "5in"},
		{unit.Length, "3in,80mm", "3in 80mm"},
		{unit.Length, "0.1:0.7:0.1m", "0.1m 0.2m 0.3m 0.4m 0.5m 0.6m 0.7m"},
		{unit.Length, "-0.2:0.1:0.1m", "-0.2m -0.1m 0m 0.1m"},
		{unit.Mass, "0,22g,0.06kg", "0g 22g 60g"},
		{unit.Mass, "0,25g", "0g 25g"},
		{unit.Mass, "0g,25g", "0g 25g"},
		{unit.Mass, "100,250g", "100g 250g"},
		{unit.Mass, "20,250g", "20g 250g"},
		{unit.Mass, "2,5,7g", "2g 5g 7g"},
		{unit.Mass, "2,3", "2g 3g"},
		{unit.Mass, "2.5,5g", "2.5g 5g"},
		{unit.Count, "2,3", "2 3"},
		{unit.SpeedConstant, "1300,1500rpm/V", "1300rpm/V 1500rpm/V"},
		{unit.Charge, "300:1500:50mAh,1700:5100:200mAh", "300mAh 350mAh 400mAh 450mAh 500mAh 550mAh 600mAh 650mAh " +
			"700mAh 750mAh 800mAh 850mAh 900mAh 950mAh 1000mAh 1050mAh 1100mAh 1150mAh 1200mAh 1250mAh 1300mAh " +
			"1350mAh 1400mAh 1450mAh 1500mAh 1700mAh 1900mAh 2100mAh 2300mAh 2500mAh 2700mAh 2900mAh 3100mAh 3300mAh " +
			"3500mAh 3700mAh 3900mAh 4100mAh 4300mAh 4500mAh 4700mAh 4900mAh 5100mAh"},
		{unit.Charge, "300mAh,450:1300:50mAh", "300mAh 450mAh 500mAh 550mAh 600mAh 650mAh 700mAh 750mAh 800mAh " +
			"850mAh 900mAh 950mAh 1000mAh 1050mAh 1100mAh 1150mAh 1200mAh 1250mAh 1300mAh"},
		{unit.Temperature, "-10:40:25degC", "-10degC 15degC 40degC"},
		{unit.Temperature, "32:212:90degF", "32degF 122degF 212degF"},
		{unit.Cells, "3:6:1S", "3S 4S 5S 6S"},
		{unit.Cells, "6,4S", "4S 6S"},
		{unit.Ratio, "10:30:10%", "0.1 0.2 0.3"},
		{unit.Stator, "2207,1404,22x8", "2207 1404 2208"},
		{unit.Stator, "2306:23x7:0.5", "2306 2306.5 2307"},
	} {
		got, err := unit.ParseAxis(c.kind, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.kind.Name(), err)
			continue
		}
		var want []float64
		for w := range strings.FieldsSeq(c.want) {
			v, err := c.kind.Parse(w)
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, v)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s %q (-want +got):\n%s", c.kind.Name(), c.text, diff)
		}
	}
}

// A long range in a step that no float64 holds shows any accumulated error.
func TestParseAxisDoesNotAccumulate(t *testing.T) {
	got, err := unit.ParseAxis(unit.Length, "0.001:100:0.001in")
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 100_000 {
		t.Fatalf("%d values, want 100000", len(got))
	}
	for i, v := range got {
		want, err := unit.Length.Parse(fmt.Sprintf("%d.%03din", (i+1)/1000, (i+1)%1000))
		if err != nil {
			t.Fatal(err)
		}
		if v != want {
			t.Fatalf("value %d is %v, want %v", i, v, want)
		}
	}
}

func TestParseAxisLargest(t *testing.T) {
	got, err := unit.ParseAxis(unit.Mass, "1:1000000:1g")
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != unit.MaxAxis || got[0] != 0.001 || got[len(got)-1] != 1000 {
		t.Errorf("%d values from %v to %v, want 1000000 from 0.001 to 1000", len(got), got[0], got[len(got)-1])
	}
}

func TestParseAxisErrors(t *testing.T) {
	for _, c := range []struct {
		kind *unit.Kind
		text string
		want string
	}{
		{unit.Length, " ", `" ": no value, want a length such as 5in or 127mm, a list a,b,c or a range ` +
			`first:last:step`},
		{unit.Length, "3,,4", `"3,,4": nothing between two commas or at an end, want a list such as a,b,c`},
		{unit.Length, "3,4,", `"3,4,": nothing between two commas or at an end, want a list such as a,b,c`},
		{unit.Length, "3:6:0.4in", `"3:6:0.4in": steps of 0.4in from 3in do not land on 6in, want a last value of ` +
			`5.8in or 6.2in`},
		{unit.Length, "3:3.2:0.4", `"3:3.2:0.4": steps of 0.4 from 3 do not land on 3.2, want a last value of 3 or ` +
			`3.4`},
		{unit.Stator, "0804:0807:2", `"0804:0807:2": steps of 2 from 0804 do not land on 0807, want a last value of ` +
			`0806 or 0808`},
		{unit.Length, "6:3:1in", `"6:3:1in": last 3in is below first 6in, want first:last:step in rising order`},
		{unit.Length, "3:6:0in", `"3:6:0in": step 0in is not above 0, want first:last:step in rising order`},
		{unit.Length, "3:6:-1in", `"3:6:-1in": step -1in is not above 0, want first:last:step in rising order`},
		{unit.Length, "3:6in", `"3:6in": 2 numbers in a range, want first:last:step`},
		{unit.Length, "3:4:5:6in", `"3:4:5:6in": 4 numbers in a range, want first:last:step`},
		{unit.Length, "3::1in", `"3::1in": no number in "", want first:last:step`},
		{unit.Length, "3:nan:1in", `"3:nan:1in": no number in "nan", want first:last:step`},
		{unit.Length, "3:1e999:1in", `"1e999": exponent beyond 350, want a smaller one`},
		{unit.Length, "0:1e310:1e309m", `"0:1e310:1e309m": too large a number, want one below 1e300`},
		{unit.Length, "3in:6:1", `"3in:6:1": a range has one unit, at its end, as in first:last:step with in`},
		{unit.Length, "3mm:6:1in", `"3mm:6:1in": a range has one unit, at its end, as in first:last:step with in`},
		{unit.Length, "3:6:1g", `"3:6:1g": g is a unit of mass, want a length such as 5in or 127mm`},
		{unit.Length, "5in,127mm", `"127mm": 5in is already given by "5in", want each value once`},
		{unit.Length, "3:6:1in,5in", `"5in": 5in is already given by "3:6:1in", want each value once`},
		{unit.Stator, "2207,1404,22x7", `"22x7": 2207 is already given by "2207", want each value once`},
		{unit.Mass, "2,5g", `"2,5g": did you mean 2.5g, or 2g,5g?`},
		{unit.Mass, "12 , 50 g", `"12 , 50 g": did you mean 12.50 g, or 12g,50 g?`},
		{unit.Mass, "1,5kg", `"1,5kg": did you mean 1.5kg, or 1kg,5kg?`},
		{unit.Mass, "2,5g,7g", `"2,5g,7g": did you mean 2.5g, or 2g,5g?`},
		{unit.Mass, "1g,2,5g", `"1g,2,5g": did you mean 2.5g, or 2g,5g?`},
		{unit.Length, "3,25in", `"3,25in": did you mean 3.25in, or 3in,25in?`},
		{unit.Ratio, "7,5%", `"7,5%": did you mean 7.5%, or 7%,5%?`},
		{unit.Length, "3,4,5mm", `"3": no unit beside "5mm", want 3mm or 3in`},
		{unit.Temperature, "0,300K", `"0": no unit beside "300K", want 0K or 0degC`},
		{unit.Length, "0:1:1e-7in", `"0:1:1e-7in": more than 1000000 values on one axis, want a larger step`},
		{unit.Length, "0:1e300:1e-300in", `"0:1e300:1e-300in": more than 1000000 values on one axis, want a larger ` +
			`step`},
		{unit.Mass, "1:1000000:1g,2000kg", `"1:1000000:1g,2000kg": more than 1000000 values on one axis, want a ` +
			`larger step`},
		{unit.Cells, "3:4:0.5S", `"3:4:0.5S": 0.5 is not a whole number, want a number of cells such as 4 or 4S`},
		{unit.Stator, "2204:2304:1", `"2204:2304:1": a range of stators keeps one diameter, want a range such as ` +
			`2204:2208:1 or a list such as 1404,2004,2207`},
		{unit.Stator, "2204:2208:1mm", `"2204:2208:1mm": mm is a unit of length, want a stator size such as 2207 (22 ` +
			`mm x 7 mm), 2306.5 or 22x7`},
	} {
		got, err := unit.ParseAxis(c.kind, c.text)
		if err == nil {
			t.Errorf("%s %q = %v, want error %s", c.kind.Name(), c.text, got, c.want)
		} else if err.Error() != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.kind.Name(), err, c.want)
		}
	}
}
