package bench

import (
	"math"
	"slices"
	"strings"
	"testing"
)

const head = "throttle,voltage_V,current_A,rpm,thrust_N\n"

// Names and units of columns, and what is not known.
func TestRead(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ what, text string }{
		{"bare", "\ufeffthrottle,voltage_V,current_A,rpm,thrust_N,remark\n0.5,11,3,12000,2,warm\n# the end\n"},
		{"per cent and grams",
			"throttle_percent,voltage_V,current_A,rpm,thrust_g,torque_Nm\n50,11,3,12000,203.94324259559,\n"},
		{"as rotorsieve stand writes",
			"throttle (%),voltage (V),current (A),speed (rpm),thrust (N),thrust (g),duty (%)\n50,11,3,12000,2,204,1\n"},
	} {
		f, err := Read(strings.NewReader(c.text), "f")
		if err != nil || len(f.Rows) != 1 || !f.Turns {
			t.Errorf("%s: %v, %+v", c.what, err, f)
			continue
		}
		r := f.Rows[0]
		if r.Throttle != 0.5 || r.Volts != 11 || r.Amps != 3 ||
			math.Abs(r.Speed-200) > 1e-12 || math.Abs(r.Thrust-2) > 1e-9 || !math.IsNaN(r.Torque) || !math.IsNaN(r.KV) {
			t.Errorf("%s: %+v", c.what, r)
		}
	}
}

// Bad files are named with line and what would be right.
func TestReadErrors(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"", "f:1: no header; want rpm or throttle, voltage_V, current_A and thrust_N or thrust_g"},
		{head, "f:1: no row below the header; want at least one"},
		{"rpm,current_A,thrust_N\n1,2,3\n", "f:1: no column of the voltage; want rpm or throttle, voltage_V, " +
			"current_A " +
			"and thrust_N or thrust_g"},
		{"voltage_V,current_A,thrust_N\n1,2,3\n", "f:1: no column of the speed or the throttle; want rpm or " +
			"throttle, " +
			"voltage_V, current_A and thrust_N or thrust_g"},
		{head + "0.5,11,3,fast,2\n", `f:2: rpm "fast"; want a number`},
		{head + "0.5,11,3,NaN,2\n", `f:2: rpm "NaN"; want a number`},
		{head + "0.5,11,3,1e300,2\n", `f:2: rpm "1e300" is out of range; want at most 1e+09`},
		{head + "0.5,11,3,-1e400,2\n", `f:2: rpm "-1e400" is out of range; want at most 1e+09`},
		{head + "0.5,11,3,-Inf,2\n", `f:2: rpm "-Inf"; want a number`},
		{strings.ReplaceAll(head, ",", ";"), "f:1: the columns are separated by semicolons, want commas"},
		{strings.ReplaceAll(head, ",", "\t"), "f:1: the columns are separated by tabs, want commas"},
		{"rpm,voltage_V,current_A,thrust_N,rpm\n1,2,3,4,1\n", "f:1: two columns rpm; want one"},
		{"rpm,voltage_V,current_A,thrust_g,thrust_N\n10000,11,3,200,1.96\n10000,11,3,200,2.05\n",
			"f:3: thrust_g of 200, but thrust_N of 2.05; want one thrust"},
		{"rpm,throttle,throttle_percent,voltage_V,current_A,thrust_g\n10000,0.5,60,11,3,200\n",
			"f:2: throttle of 0.5, but throttle_percent of 60; want one throttle"},
		{head + "50,11,3,12000,2\n", "f:2: throttle 50; want up to 1, or a column throttle_percent"},
		{head + "0.5,11,3,12000\n", "f:2: wrong number of fields; want as many fields as the header has"},
	} {
		if _, err := Read(strings.NewReader(c.text), "f"); err == nil || err.Error() != c.want {
			t.Errorf("%q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}

// Rows of other motors and propellers are left out, those that say nothing are taken.
func TestOf(t *testing.T) {
	t.Parallel()
	r := rig(t)
	const named = "diameter_in,pitch_in,blades,stator_d_mm,stator_h_mm,kv,voltage_V,current_A,rpm,thrust_N\n"
	f, err := Read(strings.NewReader(named+
		"5,4,3,22,5,2400,11,3,12000,2\n"+
		"5,4.5,3,22,5,2400,11,3,12000,2\n"+
		"5,,3,22,5,2400,11,3,12000,2\n"+
		"5,4,3,23,6,1750,11,3,12000,2\n"+
		"5,4,3,22,5,2400,11,3,,2\n"), "f")
	if err != nil {
		t.Fatal(err)
	}
	u, err := f.Of(r)
	if err != nil || len(u.Rows) != 2 || u.Of != 5 || u.Others != 2 || u.Lacking != 1 {
		t.Errorf("%v: %d rows, %+v", err, len(u.Rows), u)
	}
	for _, c := range []struct{ rows, want string }{
		{"5,4.5,3,23,6.5,1750,11,3,12000,2\n5,4,2,22,,2400,11,3,12000,2\n",
			"f: no row of 2205 2400KV with 5x4x3; it has 23x6.5 1750KV with 5x4.5x3, 22x? 2400KV with 5x4x2"},
		{"5,4,3,22,5,2400,11,3,,2\n", "f: no row of 2205 2400KV with 5x4x3 has speed, voltage, current and thrust " +
			"above " +
			"0, want at least one; rows that lack one: 1"},
	} {
		f, err := Read(strings.NewReader(named+c.rows), "f")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Of(r); err == nil || err.Error() != c.want {
			t.Errorf(" got %v\nwant %s", err, c.want)
		}
	}
}

// What cannot be is named, and so is what another row contradicts; a fit leaves it
// out.
func TestOdd(t *testing.T) {
	t.Parallel()
	r := rig(t)
	f, err := Read(strings.NewReader("voltage_V,current_A,rpm,thrust_N,torque_Nm,propeller,motor\n"+
		"11,3,12000,2.0,0.020,a,\n"+ // 33 W
		"11,1,9000,4.4,,a,\n"+ // 11 W; ideal 52 W
		"11,3,15000,2.9,0.03,a,\n"+ // 33 W; shaft 47 W
		"11,3,30000,1,,a,\n"+ // KV times voltage is 26 400 rpm
		"11,3,12050,2.7,,a,\n"+ // 35 % above that of line 2
		"11,3,12020,2.7,,b,\n"+ // another propeller
		"11,4,14000,2.9,,c,m\n"+ // 44 W
		"11.2,5.5,14050,2.9,,c,m\n"+ // 40 % above that
		"12,5.1,14050,2.9,,c,m\n"+ // another voltage
		"11,5.5,14000,2.9,,c,n\n"+ // another motor
		"11,4,16000,3.7,,c,m\n"+ // three that agree in current but for one
		"11,5.4,16000,3.7,,c,m\n"+
		"11,5.5,16000,3.7,,c,m\n"), "f")
	if err != nil {
		t.Fatal(err)
	}
	u, err := f.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, o := range r.Odd(u) {
		got = append(got, o.Text)
	}
	want := []string{
		"f:3: the ideal power of 4.4 N is 52.39 W, above the electrical power of 11 W",
		"f:4: the torque of 0.03 N m takes 47.12 W, above the electrical power of 33 W",
		"f:5: 30000 rpm is above 26400 rpm, KV times the voltage, by more than 10 %",
		"f:6: 2.7 N at 12050 rpm, but 2 N at 12000 rpm on line 2, of the same propeller",
		"f:9: 61.6 W at 14050 rpm and 11.2 V, but 44 W at 14000 rpm and 11 V on line 8, of the same motor and " +
			"propeller",
		"f:12: 44 W at 16000 rpm and 11 V, but 59.4 W at 16000 rpm and 11 V on line 13, of the same motor and " +
			"propeller",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf(" got %s\nwant %s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if s := Summarise(r.Compare(u), ThrustAtSpeed); s.Points != 5 {
		t.Errorf("%d rows count, want the 5 that are not odd", s.Points)
	}
	fit, err := newFitting(r, u)
	if err != nil {
		t.Fatal(err)
	}
	var lines []int
	for _, row := range fit.rows {
		lines = append(lines, row.Line)
	}
	if !slices.Equal(lines, []int{7, 10, 11, 13, 14}) {
		t.Errorf("lines %v are fitted", lines)
	}
	// Where none is left the first is named.
	u.Rows = u.Rows[1:4]
	if _, err := r.Fit(u); err == nil || err.Error() != want[0]+"; no other row is left to fit, want some that are "+
		"possible" {
		t.Errorf("all odd: %v", err)
	}
}

// A file without speeds is compared at its throttle. What the model has written it
// finds again.
func TestCompareOwn(t *testing.T) {
	t.Parallel()
	r := rig(t)
	for _, turns := range []bool{true, false} {
		u := &Used{Turns: turns, Name: "f"}
		for _, d := range []float64{0.3, 0.7, 1} {
			p, ok := r.AtDuty(d)
			if !ok {
				t.Fatal("no state")
			}
			row := unknownRow()
			row.Throttle, row.Volts, row.Amps, row.Thrust, row.Torque = d, p.Voltage, p.Current, p.Thrust, p.Torque
			if turns {
				row.Speed = p.Speed
			}
			u.Rows = append(u.Rows, row)
		}
		all := r.Compare(u)
		for _, q := range Quantities {
			s := Summarise(all, q)
			want := 3
			if q >= FullSpeed {
				want = 1
			}
			if q == FullSpeed && !turns {
				want = 0
			}
			if s.Points != want || s.RMS > 1e-9 {
				t.Errorf("speeds %v: %s: %d points, want %d, rms %g", turns, q, s.Points, want, s.RMS)
			}
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(head + "0.5,11,3,12000,2\n")
	f.Add("throttle_percent,voltage_V,current_A,thrust_g,propeller\n50,11,3,200,a\n\n#x\n100,11,,,b\n")
	f.Fuzz(func(t *testing.T, text string) {
		file, err := Read(strings.NewReader(text), "f")
		if (err == nil) != (file != nil) {
			t.Fatalf("%v, %v", file, err)
		}
		if err != nil {
			if !strings.HasPrefix(err.Error(), "f") {
				t.Errorf("an error without the name: %v", err)
			}
			return
		}
		for i := range file.Rows {
			r := &file.Rows[i]
			for _, c := range columns {
				if math.IsInf(*c.to(r), 0) {
					t.Errorf("infinite %s on line %d", c.what, r.Line)
				}
			}
		}
	})
}
