package trial

import (
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model/bench"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/rotor"
	"rotorsieve/report/finding"
)

// StandRig is an invented motor with a propeller on a stand, at volts in V.
func StandRig(t testing.TB, volts float64) *bench.Rig {
	t.Helper()
	const D, pitch, blades = 0.127, 0.1016, 3
	by := Parameters()
	a, err := by.Air.Offset(0, 0)
	if err != nil {
		t.Fatal(err)
	}
	b, err := by.Rotor.Generic(D, pitch, blades, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: blades, Blade: b}, a)
	if err != nil {
		t.Fatal(err)
	}
	tab, err := rotor.NewTable(s)
	if err != nil {
		t.Fatal(err)
	}
	p := flight.NewPropulsor(tab, D, a.Density, 1)
	use := motor.Use{Winding: 333.15, PulseRate: 48e3}
	m := by.Motor.New(motor.Stator{Diameter: 0.022, Height: 0.005}, 2400, use)
	return &bench.Rig{Stand: flight.NewStand(m, &p, volts, 0.010), Rotor: s, Use: use, Diameter: D, Pitch: pitch,
		Blades: blades}
}

// StandStates are its states at ten throttles.
func StandStates(t testing.TB, r *bench.Rig) (all []bench.State) {
	t.Helper()
	for d := 1; d <= 10; d++ {
		p, ok := r.AtDuty(float64(d) / 10)
		if !ok {
			t.Fatalf("no state at duty %g", float64(d)/10)
		}
		all = append(all, r.State(p))
	}
	return all
}

// StandMeasured is a comparison with rows that are off by factors in thrust and
// power, at two voltages; invented.
func StandMeasured(t testing.TB, r *bench.Rig, fit bool) *finding.StandComparison {
	t.Helper()
	var text strings.Builder
	text.WriteString("throttle,voltage_V,current_A,rpm,thrust_N\n")
	for _, volts := range []float64{7.4, 11.1} {
		q := *r
		q.Volts = volts
		for _, s := range StandStates(t, &q) {
			for _, v := range []float64{s.Duty, s.Voltage, 0.92 * s.Current, 60 * s.Speed, 0.95 * s.Thrust} {
				text.WriteString(strconv.FormatFloat(v, 'g', 8, 64) + ",")
			}
			text.WriteString("\n")
		}
	}
	f, err := bench.Read(strings.NewReader(strings.ReplaceAll(text.String(), ",\n", "\n")), "own.csv")
	if err != nil {
		t.Fatal(err)
	}
	u, err := f.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	c := finding.CompareStand(r, u)
	if fit {
		if err := c.FitTo(r); err != nil {
			t.Fatal(err)
		}
	}
	return c
}
