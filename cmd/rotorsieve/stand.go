package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rotorsieve/model"
	"rotorsieve/model/bench"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

const standHead = `rotorsieve stand prints what a thrust stand would show of one motor and propeller
on a supply: voltage at the controller, current, speed, thrust, torque, thrust
over electrical power, efficiency of the motor, the temperature of its winding
10 s after a start from that of the air and in the end, when it is steady, and
what bounds a state. Throttle is the duty of the controller; --rpm and --thrust ask
for a state in its place.

With --compare it reads what a stand has measured, in the columns that
rotorsieve help files names; rows of other motors and propellers, by stator, KV, diameter, pitch and
blades, are passed over. It prints how far the model is off, and names what
cannot be. --fit finds what the measurement can tell of propeller and motor, with
the uncertainty that is left, and writes it as records for --measured. State the
--pulse-rate of the stand's controller where it is known: the loss from chopping
goes with its inverse square.

  rotorsieve stand --stator 2205 --kv 2400 --diameter 5in --pitch 4in \
      --blades 3 --voltage 11.1V --source-resistance 10mohm
  rotorsieve stand --stator 2207 --kv 1750 --blades 3 --voltage 25V \
      --thrust 200:1000:200g --format text
  rotorsieve stand --stator 2205 --kv 2400 --blades 3 \
      --compare stand.csv --fit fitted.csv --draw out/stand
`

func standCommand() *cobra.Command {
	s := newStandFlags()
	var o standOutput
	o.declare(s.group("Output"))
	return s.command(&cobra.Command{
		GroupID: ofDesigns, Short: "print what a thrust stand would show of a motor and a propeller", Long: standHead,
	}, func(c *cobra.Command, _ []argument) error {
		return o.run(c.Context(), s, c.OutOrStdout(), c.ErrOrStderr())
	})
}

// usual is the text for a value that the model chooses.
const usual = "usual"

// standFlags are those of a motor and a propeller on a stand.
type standFlags struct {
	*rotorFlags
	stator, kv          float64
	voltage, resistance float64
	rating              float64
	use                 motor.Use
	stated              motor.Stated
	idle                *idleFlag

	throttles, speeds, thrusts []float64
}

func newStandFlags() *standFlags {
	s := &standFlags{rotorFlags: newRotorFlags("stand", "they correct the propeller")}
	f := s.group("Motor and supply")
	f.Var(newQuantity(&s.stator, unit.Stator, unbounded, "2207"), "stator",
		"of the motor, the trade's code DDHH: width and height in mm")
	f.Var(newQuantity(&s.kv, unit.SpeedConstant, bound(model.KVBound), "1750"), "kv", "of the motor's label")
	f.Var(newQuantity(&s.voltage, unit.Voltage, unit.Range{Min: 1, Max: 100}, "11.1V"), "voltage",
		"of the supply at rest")
	f.Var(newQuantity(&s.resistance, unit.Resistance, unit.Range{Min: 0, Max: 10}, "0mohm"), "source-resistance",
		"of the supply and its leads")
	f.Var(newQuantityOr(usual, 0, &s.rating, unit.Current, unit.Range{Min: 1, Max: 500}, usual), "controller",
		"rating of the speed controller; usual is the smallest that stands full throttle")
	f.Var(newAssumed("pulse-rate", &s.use.PulseRate), "pulse-rate", "of the speed controller below full duty")
	f.Var(newAssumed("winding-temperature", &s.use.Winding), "winding-temperature",
		"for which the states are computed")
	f.Var(newQuantityOr(usual, 0, &s.stated.Mass, unit.Mass, unit.Range{Min: 0.0005, Max: 5}, usual), "motor-mass",
		"of the motor; losses, heat and cooling follow it")
	f.Var(newQuantityOr(usual, 0, &s.stated.Resistance, unit.Resistance.WithDefault("mohm"),
		unit.Range{Min: 1e-4, Max: 20}, usual), "motor-resistance", "of the winding between two leads, at 20 degC")
	s.idle = &idleFlag{to: &s.stated, text: usual}
	f.Var(s.idle, "motor-idle", "current without a propeller at full throttle and its voltage, 0.8A@10V; "+
		"sets the loss torque")
	f = s.group("Points, one of")
	f.Var(newAxis(&s.throttles, unit.Ratio.WithDefault("%"), share, "10:100:10%"), "throttle",
		"duty of the controller, in per cent")
	f.Var(newPoints(&s.speeds, unit.Rotation), "rpm", "speeds of rotation (default none)")
	f.Var(newPoints(&s.thrusts, unit.Mass), "thrust", "each as the mass that it holds up (default none)")
	return s
}

// newPoints makes the value of a flag that takes positive values of a kind, and none
// by default.
func newPoints(to *[]float64, kind *unit.Kind) *axisValues {
	return &axisValues{to: to, kind: kind, check: func(v float64) error {
		if !(v > 0) {
			return fmt.Errorf("%s, want more than 0", kind.Text(v))
		}
		return nil
	}}
}

func share(d float64) error {
	if !(d > 0 && d <= 1) {
		return fmt.Errorf("throttle of %.4g %%, want more than 0, at most 100", 100*d)
	}
	return nil
}

// idleFlag is the value of a flag that takes a current at a voltage.
type idleFlag struct {
	to   *motor.Stated
	text string
}

func (f *idleFlag) Set(text string) error {
	text = strings.TrimSpace(text)
	if text == usual {
		f.to.IdleCurrent, f.to.IdleVoltage, f.text = 0, 0, text
		return nil
	}
	amps, volts, ok := strings.Cut(text, "@")
	i, errI := unit.Current.Parse(amps)
	u, errU := unit.Voltage.Parse(volts)
	if !ok || errI != nil || errU != nil || !(i > 0 && u > 0) {
		return fmt.Errorf("%q: want a current at a voltage such as 0.8A@10V, or %s", text, usual)
	}
	f.to.IdleCurrent, f.to.IdleVoltage, f.text = i, u, text
	return nil
}

func (f *idleFlag) String() string   { return f.text }
func (f *idleFlag) Type() string     { return "current@voltage" }
func (f *idleFlag) offers() []string { return []string{usual} }

// rig builds what the flags state. The notes say how measurements corrected it.
func (s *standFlags) rig() (r *bench.Rig, notes []string, err error) {
	if err := sweep.Stator.Check(s.stator); err != nil {
		return nil, nil, fmt.Errorf("--stator: %w", err)
	}
	c, err := s.curves()
	if err != nil {
		return nil, nil, err
	}
	t, err := rotor.NewTable(c.Solver)
	if err != nil {
		return nil, nil, err
	}
	a := c.Air()
	p := flight.NewPropulsor(t, s.diameter, a.Density, 1)
	_, records, _, err := s.read()
	if err != nil {
		return nil, nil, err
	}
	records = slices.DeleteFunc(records, func(r record.Record) bool { return r.Subject.Kind != record.Motor })
	seen, err := model.NewEvidence(nil, records)
	if err != nil {
		return nil, nil, err
	}
	d, h := unit.StatorSize(s.stator)
	of := motor.Stator{Diameter: d, Height: h}
	m, err := motor.New(of, s.kv, s.use).Scaled(seen.Motor(of, s.kv).Scale()).Stating(s.stated)
	if err != nil {
		if bad, ok := errors.AsType[*motor.StatedError](err); ok {
			return nil, nil, fmt.Errorf("--motor-%s: %w", bad.Of, err)
		}
		return nil, nil, err
	}
	r = &bench.Rig{Stand: flight.NewStand(m, &p, s.voltage, s.resistance), Rotor: c.Solver, Told: c.told, Use: s.use,
		RateKnown: s.origin("pulse-rate") != "default",
		Diameter:  s.diameter, Blades: int(s.blades), Chord: s.chord}
	if s.blade == "" {
		r.Pitch = s.pitch
	}
	if s.rating != 0 {
		r.Controller = r.Motor.Rated(s.rating)
	}
	return r, c.notes, nil
}
