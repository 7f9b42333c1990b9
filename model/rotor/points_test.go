package rotor

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rotorsieve/model/air"
)

// pointTexts are CSV texts and what the error of each contains; the first is
// good.
var pointTexts = []struct{ csv, want string }{
	{"\ufeffdiameter_in,pitch_in,blades,chord,voltage,rpm,thrust_g,torque_Nm,J,altitude_m,temperature_degC\n" +
		"# a bench on a hill\n5,4.3,3,,15.1,12000,350,0.045,,1200,28\n3, 3 " +
		",2,0.2,15,30000,150,0.01,,,\n5,4.3,3,,15,18000, 801 " +
		",0.101,0,1200,28\n5,4.3,3,,15,18000,-2,0.004,1.1,1200,28\n", ""},
	{"", "s.csv:1: no header; want diameter_in,pitch_in,blades,rpm,thrust_N,power_W"},
	{"diameter_in,pitch_in,blades,rpm,thrust_N,power_W,Chord\n5,4.3,3,12000,3.5,60,0.2",
		"s.csv:1: column Chord; want chord, or a remark under a name that starts otherwise"},
	{"diameter_in,pitch_in,blades,rpm,thrust_N,power_W,j\n5,4.3,3,12000,3.5,60,0.2",
		"s.csv:1: column j; want J, or a remark"},
	{"diameter_in,pitch_in,blades,rpm,thrust,power_W\n", "s.csv:1: column thrust; want thrust_N or thrust_g, or a " +
		"remark"},
	{"# empty\n\ndiameter_in,pitch_in,blades,rpm,thrust_N,watts\n",
		"s.csv:3: columns diameter_in,pitch_in,blades,rpm,thrust_N,watts; want one named power_W or torque_Nm"},
	{"diameter_in,pitch_in,blades,speed,thrust_N,power_W\n", "want one named rpm"},
	{"rpm,thrust_N,power_W\n", "want one named diameter_in"},
	{"diameter_in,pitch_in,blades,rpm,thrust_N,thrust_g,power_W\n",
		"s.csv:1: columns thrust_N and thrust_g; want one of them"},
	{"rpm,rpm\n", "s.csv:1: columns rpm and rpm; want one of them"},
	{points(), "s.csv:1: no measurement below the header; want at least one"},
	{points("5,4.3,3,12000,3.5"), "s.csv:2: wrong number of fields; want as many fields as the header has"},
	{points(`5,4.3,3,12000,3.5,60,0,20,"`), "s.csv:2: "},
	{points("5,4.3,3,12000,3.5,60,0,20", "5,4.3,3,0,3.5,60,0,20"), `s.csv:3: rpm "0"; want a positive number`},
	{points("5,4.3,3,12000,3.5 N,60,0,20"), `s.csv:2: thrust_N "3.5 N"; want a number`},
	{points("5,4.3,3,12000,3.5,Inf,0,20"), `s.csv:2: power_W "Inf"; want a number`},
	{points("5,4.3,3,12000,3.5,,0,20"), `s.csv:2: power_W ""; want a number`},
	{points("5,4.3,3,12000,-3.5,60,0,20"), `s.csv:2: thrust_N "-3.5"; want a positive number`},
	{points("5,4.3,3,12000,-3.5,60,-0.1,20"), `s.csv:2: thrust_N "-3.5"; want a positive number`},
	{points("5,4.3,3,12000,3.5,60,-0.1,20"), `s.csv:2: J "-0.1"; want 0 or more`},
	{points("5,4.3,2.5,12000,3.5,60,0,20"), `s.csv:2: blades "2.5"; want a whole number`},
	{points("5,4.3,3,12000,3.5,60,0,200"), "s.csv:2: air: temperature 200.00 °C at 0 m is outside the model"},
	{points("5,4.3,3,12000,3.5,60,0,20", "5,4.3,3,15000,5.5,90,0,21"),
		"s.csv:3: altitude or temperature differs from line 2, of the same propeller; want one air for each propeller"},
	{points("5,4.3,3,12000,3.5,60,0,20", "6,4,2,12000,5,70,0,20", "5,4.3,3,12000,7,60,0,20"),
		"s.csv:4: thrust of 7 N at 12000 rpm, but thrust of 3.5 N at 12000 rpm at s.csv:2, of the same propeller: " +
			"22 of their sigmas apart; want at most 5, or one of the two"},
	{points("5,4.3,3,12000,3.5,60,0,20", "5,4.3,3,12005,3.5,90,0,20"),
		"s.csv:3: power of 90 W at 12005 rpm, but power of 60 W at 12000 rpm at s.csv:2, of the same propeller: "},
	{points("5,4.3,3,12000,3.5,60,0,20", "5,4.3,3,12000,0.1,20,0.9,20", "5,4.3,3,12000,-1,20,0.9,20"),
		"s.csv:4: thrust of -1 N at 12000 rpm and J 0.9, but thrust of 0.1 N at 12000 rpm and J 0.9 at s.csv:3"},
	{points(manyPropellers(maxSpecimens + 1)), "s.csv:1002: more than 1000 propellers; want fewer, or a file for each"},
}

// manyPropellers are rows, each of another propeller.
func manyPropellers(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%g,4.3,3,12000,3.5,60,0,20\n", 5+float64(i)*1e-3)
	}
	return b.String()
}

// Measurements of one state may differ as stands do, by 5 of their uncertainties; those of
// other speeds, of other advance ratios or with uncertainties of their own may by more.
func TestSpecimenContradiction(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what  string
		m     [2]Measurement
		clash bool
	}{
		{"as stands do", [2]Measurement{{N: 200, Thrust: 3.5, Power: 60}, {N: 200, Thrust: 3.9, Power: 62}}, false},
		{"by more", [2]Measurement{{N: 200, Thrust: 3.5, Power: 60}, {N: 200, Thrust: 4.1, Power: 62}}, true},
		{"of two speeds", [2]Measurement{{N: 200, Thrust: 3.5, Power: 60}, {N: 201, Thrust: 4.1, Power: 62}}, false},
		{"uncertain", [2]Measurement{{N: 200, Thrust: 3.5, Power: 60, ThrustSigma: 0.1},
			{N: 200, Thrust: 5, Power: 62, ThrustSigma: 0.1}}, false},
		{"not measured", [2]Measurement{{N: 200, Thrust: 3.5, Power: 60, ThrustSigma: math.Inf(1)},
			{N: 200, Thrust: 5, Power: 62}}, false},
		{"near zero in the wind", [2]Measurement{{J: 0.9, N: 200, Thrust: 0.01, Power: 20},
			{J: 0.9, N: 200, Thrust: 0.04, Power: 20}}, false},
	} {
		s := Specimen{Points: append(c.m[:], Measurement{N: 300, Thrust: 8, Power: 200})}
		if err := s.Contradiction(); (err != nil) != c.clash {
			t.Errorf("%s: %v", c.what, err)
		}
	}
}

func points(rows ...string) string {
	return "diameter_in,pitch_in,blades,rpm,thrust_N,power_W,J,temperature_degC\n" + strings.Join(rows, "\n")
}

func readPoints(text string) ([]Specimen, error) {
	return ReadPoints(strings.NewReader(text), "s.csv")
}

func TestReadPointsErrors(t *testing.T) {
	for _, c := range pointTexts[1:] {
		if _, err := readPoints(c.csv); err == nil || !strings.Contains(err.Error(), c.want) ||
			strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: error %v, want %q", c.csv, err, c.want)
		}
	}
}

func TestReadPoints(t *testing.T) {
	all, err := readPoints(pointTexts[0].csv)
	if err != nil {
		t.Fatal(err)
	}
	hill, err := air.At(1200, 301.15)
	if err != nil {
		t.Fatal(err)
	}
	sea := standard(t)
	const g = 9.80665e-3
	want := []Specimen{
		{Diameter: 5 * inch, Pitch: 4.3 * inch, Blades: 3, Air: hill, Place: "s.csv:3", Points: []Measurement{
			{J: 0, N: 200, Thrust: 350 * g, Power: 2 * math.Pi * 200 * 0.045},
			{J: 0, N: 300, Thrust: 801 * g, Power: 2 * math.Pi * 300 * 0.101},
			{J: 1.1, N: 300, Thrust: -2 * g, Power: 2 * math.Pi * 300 * 0.004},
		}},
		{Diameter: 3 * inch, Pitch: 3 * inch, Blades: 2, Chord: 0.2, Air: sea, Place: "s.csv:4", Points: []Measurement{
			{J: 0, N: 500, Thrust: 150 * g, Power: 2 * math.Pi * 500 * 0.01},
		}},
	}
	if len(all) != len(want) {
		t.Fatalf("%d specimens, want %d", len(all), len(want))
	}
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) }
	for i, s := range all {
		w := want[i]
		if !near(s.Diameter, w.Diameter) || !near(s.Pitch, w.Pitch) || s.Blades != w.Blades || s.Chord != w.Chord ||
			s.Air != w.Air || s.Place != w.Place || len(s.Points) != len(w.Points) {
			t.Fatalf("specimen %+v, want %+v", s, w)
		}
		for k, m := range s.Points {
			if o := w.Points[k]; m.J != o.J || !near(m.N, o.N) || !near(m.Thrust, o.Thrust) || !near(m.Power, o.Power) {
				t.Errorf("%s, point %d: %+v, want %+v", s.Place, k, m, o)
			}
		}
	}
	if n := len(all[0].Static()); n != 2 {
		t.Errorf("%d points at rest, want 2", n)
	}
	CT, CP := all[1].Coefficients(all[1].Points[0])
	q := sea.Density * 500 * 500 * math.Pow(3*inch, 4)
	if !near(CT*q, 150*g) || !near(CP*q*500*3*inch, 2*math.Pi*500*0.01) {
		t.Errorf("CT %g, CP %g do not give back thrust and power", CT, CP)
	}
}
