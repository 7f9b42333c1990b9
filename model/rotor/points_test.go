package rotor

import (
	"math"
	"strings"
	"testing"

	"rotorsieve/model/air"
)

// pointTexts are CSV texts and what the error of each contains; the first is
// good.
var pointTexts = []struct{ csv, want string }{
	{"\ufeffdiameter_in,pitch_in,blades,chord,voltage,rpm,thrust_g,torque_Nm,J,altitude_m,temperature_degC\n" +
		"# a bench on a hill\n5,4.3,3,,15.1,12000,350,0.045,,1200,28\n3, 3 ,2,0.2,15,30000,150,0.01,,,\n5,4.3,3,,15,18000, 801 ,0.101,0,1200,28\n5,4.3,3,,15,18000,-2,0.004,1.1,1200,28\n", ""},
	{"", "s.csv:1: no header; want diameter_in,pitch_in,blades,rpm,thrust_N,power_W"},
	{"diameter_in,pitch_in,blades,rpm,thrust_N,power_W,Chord\n5,4.3,3,12000,3.5,60,0.2", "s.csv:1: column Chord; want chord, or a remark under a name that starts otherwise"},
	{"diameter_in,pitch_in,blades,rpm,thrust_N,power_W,j\n5,4.3,3,12000,3.5,60,0.2", "s.csv:1: column j; want J, or a remark"},
	{"diameter_in,pitch_in,blades,rpm,thrust,power_W\n", "s.csv:1: column thrust; want thrust_N or thrust_g, or a remark"},
	{"# empty\n\ndiameter_in,pitch_in,blades,rpm,thrust_N,watts\n", "s.csv:3: columns diameter_in,pitch_in,blades,rpm,thrust_N,watts; want one named power_W or torque_Nm"},
	{"diameter_in,pitch_in,blades,speed,thrust_N,power_W\n", "want one named rpm"},
	{"rpm,thrust_N,power_W\n", "want one named diameter_in"},
	{"diameter_in,pitch_in,blades,rpm,thrust_N,thrust_g,power_W\n", "s.csv:1: columns thrust_N and thrust_g; want one of them"},
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
	{points("5,4.3,3,12000,3.5,60,0,20", "5,4.3,3,15000,5.5,90,0,21"), "s.csv:3: altitude or temperature differs from line 2, of the same propeller; want one air for each propeller"},
}

func points(rows ...string) string {
	return "diameter_in,pitch_in,blades,rpm,thrust_N,power_W,J,temperature_degC\n" + strings.Join(rows, "\n")
}

func readPoints(text string) ([]Specimen, error) {
	return ReadPoints(strings.NewReader(text), "s.csv")
}

func TestReadPointsErrors(t *testing.T) {
	for _, c := range pointTexts[1:] {
		if _, err := readPoints(c.csv); err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
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
		if !near(s.Diameter, w.Diameter) || !near(s.Pitch, w.Pitch) || s.Blades != w.Blades || s.Chord != w.Chord || s.Air != w.Air || s.Place != w.Place || len(s.Points) != len(w.Points) {
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
