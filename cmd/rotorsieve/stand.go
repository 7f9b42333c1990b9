package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"
	"golang.org/x/term"

	"rotorsieve/model"
	"rotorsieve/model/bench"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/sweep"
	"rotorsieve/sweep/whole"
)

const standHead = `rotorsieve stand prints what a thrust stand would show of one motor and propeller
on a supply: voltage at the controller, current, speed, thrust, torque, thrust
over electrical power, efficiency of the motor, the temperature of its winding
10 s after a start from that of the air and when it has come to rest, and what
bounds a state. Throttle is the duty of the controller; --rpm and --thrust ask
for a state in its place.

With --compare it reads what a stand has measured, in the columns that help files
names; rows of other motors and propellers, by stator, KV, diameter, pitch and
blades, are passed over. It prints how far the model is off, and names what
cannot be. --fit finds what the measurement can tell of propeller and motor, with
the uncertainty that is left, and writes it as records.

  rotorsieve stand --stator 2205 --kv 2400 --diameter 5in --pitch 4in \
      --blades 3 --voltage 11.1V --source-resistance 10mohm
  rotorsieve stand --stator 2207 --kv 1750 --blades 3 --voltage 25V \
      --thrust 200:1000:200g --format text
  rotorsieve stand --stator 2205 --kv 2400 --blades 3 --compare bench.csv \
      --fit fitted.csv --draw out/stand
`

// usual stands for a value that the model chooses.
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
	s := &standFlags{rotorFlags: newRotorFlags("stand")}
	f := s.group("Motor and supply")
	f.Var(newQuantity(&s.stator, unit.Stator, unbounded, "2207"), "stator", "of the motor, the trade's code DDHH: width and height in mm")
	f.Var(newQuantity(&s.kv, unit.SpeedConstant, bound(model.KVBound), "1750"), "kv", "of the motor's label")
	f.Var(newQuantity(&s.voltage, unit.Voltage, unit.Range{Min: 1, Max: 100}, "11.1V"), "voltage", "of the supply at rest")
	f.Var(newQuantity(&s.resistance, unit.Resistance, unit.Range{Min: 0, Max: 10}, "0mohm"), "source-resistance", "of the supply and its leads")
	f.Var(newQuantityOr(usual, 0, &s.rating, unit.Current, unit.Range{Min: 1, Max: 500}, usual), "controller", "rating of the speed controller; usual is the smallest that stands full throttle")
	f.Var(newQuantity(&s.use.PulseRate, unit.Frequency, bound(model.PulseRateBound), "48kHz"), "pulse-rate", "of the speed controller below full duty")
	f.Var(newQuantity(&s.use.Winding, unit.Temperature, bound(model.WindingBound), "60degC"), "winding-temperature", "for which the states are computed")
	f.Var(newQuantityOr(usual, 0, &s.stated.Mass, unit.Mass, unit.Range{Min: 0.0005, Max: 5}, usual), "motor-mass", "of the motor; losses, heat and cooling follow it")
	f.Var(newQuantityOr(usual, 0, &s.stated.Resistance, unit.Resistance.WithDefault("mohm"), unit.Range{Min: 1e-4, Max: 20}, usual), "motor-resistance", "of the winding between two leads, at 20 degC")
	s.idle = &idleFlag{to: &s.stated, text: usual}
	f.Var(s.idle, "motor-idle", "current without a propeller at full throttle and its voltage, 0.8A@10V; sets the loss torque")
	f = s.group("Points, one of")
	f.Var(newAxis(&s.throttles, unit.Ratio.WithDefault("%"), share, "10:100:10%"), "throttle", "duty of the controller, in per cent")
	f.Var(newPoints(&s.speeds, unit.Rotation), "rpm", "speeds of rotation (default none)")
	f.Var(newPoints(&s.thrusts, unit.Mass), "thrust", "thrusts, each as the mass that it would hold up (default none)")
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
		return fmt.Errorf("throttle of %g %%, want more than 0, at most 100", 100*d)
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

// rig builds what the flags state. The note says how the propeller was corrected, ""
// where it was not.
func (s *standFlags) rig() (r *bench.Rig, note string, err error) {
	if err := sweep.Stator.Check(s.stator); err != nil {
		return nil, "", fmt.Errorf("--stator: %w", err)
	}
	c, err := s.curves()
	if err != nil {
		return nil, "", err
	}
	t, err := rotor.NewTable(c.Solver)
	if err != nil {
		return nil, "", err
	}
	a := c.Air()
	p := flight.NewPropulsor(t, s.diameter, a.Density, 1)
	d, h := unit.StatorSize(s.stator)
	m, err := motor.New(motor.Stator{Diameter: d, Height: h}, s.kv, s.use).Stating(s.stated)
	if err != nil {
		return nil, "", fmt.Errorf("--motor-idle: %w", err)
	}
	r = &bench.Rig{Stand: flight.NewStand(m, &p, s.voltage, s.resistance), Rotor: c.Solver, Use: s.use, Diameter: s.diameter, Blades: int(s.blades), Chord: s.chord}
	if s.blade == "" {
		r.Pitch = s.pitch
	}
	if s.rating != 0 {
		r.Controller = motor.Rated(s.rating)
	}
	return r, c.note, nil
}

// pointFlags are those that ask for states.
var pointFlags = []string{"throttle", "rpm", "thrust"}

// states are those that the flags ask for. An error names the nearest that there is.
func (s *standFlags) states(r *bench.Rig) ([]bench.State, error) {
	asked := 0
	for _, name := range pointFlags {
		if s.origin(name) != "default" {
			asked++
		}
	}
	if asked > 1 {
		return nil, fmt.Errorf("--throttle, --rpm, --thrust: %d of them, want one", asked)
	}
	var out []bench.State
	add := func(name string, values []float64, at func(float64) (flight.StandPoint, bool), text func(float64) string, of func(*flight.StandPoint) float64) error {
		for _, v := range values {
			p, ok := at(v)
			if !ok || p.Duty > 1 {
				return unreached(r, name, text, of, v)
			}
			out = append(out, r.State(p))
		}
		return nil
	}
	switch {
	case s.speeds != nil:
		return out, add("rpm", s.speeds, r.AtSpeed, func(n float64) string { return fmt.Sprintf("%.0f rpm", 60*n) },
			func(p *flight.StandPoint) float64 { return p.Speed })
	case s.thrusts != nil:
		force := func(m float64) (flight.StandPoint, bool) { return r.AtThrust(m * flight.Gravity) }
		return out, add("thrust", s.thrusts, force, func(m float64) string { return fmt.Sprintf("%.4g g", 1e3*m) },
			func(p *flight.StandPoint) float64 { return p.Thrust / flight.Gravity })
	}
	return out, add("throttle", s.throttles, r.AtDuty, func(d float64) string { return fmt.Sprintf("%.4g %%", 100*d) },
		func(p *flight.StandPoint) float64 { return p.Duty })
}

// unreached says what of a value there is at most, or at least.
func unreached(r *bench.Rig, name string, text func(float64) string, of func(*flight.StandPoint) float64, v float64) error {
	top, by := r.Top()
	if least, _ := r.Speeds(); v < of(&top) {
		if p, ok := r.AtSpeed(least); ok && v < of(&p) {
			return fmt.Errorf("--%s: %s is below %s, the least that the rotor model covers", name, text(v), text(of(&p)))
		}
	}
	if by == flight.ByRotor {
		by = "the " + by
	}
	return fmt.Errorf("--%s: %s is above %s, the most that is reached, bounded by %s", name, text(v), text(of(&top)), by)
}

// formatFor is the form in which a table is printed that nobody asked for in another.
func formatFor(w io.Writer) string {
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return "text"
	}
	return "csv"
}

// standOutput is what a stand's command leaves and how.
type standOutput struct{ format, compare, fit, draw string }

func (o *standOutput) declare(f *pflag.FlagSet) {
	f.Var(newWords(&o.compare, aFile), "compare", "CSV of a stand, compared in place of the points; columns rpm or throttle, voltage_V, current_A, thrust_N or thrust_g, torque_Nm where known (default none)")
	f.Var(newWords(&o.fit, aFile), "fit", "to write with what --compare tells of propeller and motor, as records with their uncertainty (default none)")
	f.Var(newWords(&o.draw, aFolder), "draw", "for stand.png, which draws thrust and power with what --compare has measured (default none)")
	f.Var(newChoice(&o.format, "format", "auto", "text", "csv", "json"), "format", "text, csv, or json with the units in the names; auto is text on a terminal and csv elsewhere")
}

func runStand(_ context.Context, args []string, stdout, stderr io.Writer) error {
	s := newStandFlags()
	var o standOutput
	o.declare(s.group("Output"))
	if helped, err := parseFlags(s.flagGroups, standHead, args, stdout); helped || err != nil {
		return err
	}
	if o.fit != "" && o.compare == "" {
		return errors.New("--fit: nothing to fit to, want --compare with the measurements")
	}
	for _, name := range pointFlags {
		if o.compare != "" && s.origin(name) != "default" {
			return fmt.Errorf("--%s: the points are those of --compare, want one of the two", name)
		}
	}
	r, note, err := s.rig()
	if err != nil {
		return err
	}
	if o.format == "auto" {
		o.format = formatFor(stdout)
	}
	var states []bench.State
	var c *report.StandComparison
	if o.compare == "" {
		states, err = s.states(r)
	} else {
		c, err = compareStand(r, o.compare, o.fit != "")
	}
	if err != nil {
		return err
	}
	if err := o.files(s, r, c); err != nil {
		return err
	}
	if note != "" {
		fmt.Fprintln(stderr, "rotorsieve:", note)
	}
	if c == nil {
		return printStates(stdout, o.format, states)
	}
	return printComparison(stdout, stderr, o.format, c)
}

// compareStand reads the file of --compare and puts it beside the model.
func compareStand(r *bench.Rig, path string, fit bool) (*report.StandComparison, error) {
	in, err := openTable(path)
	if err != nil {
		return nil, fmt.Errorf("--compare %s: %w, want a CSV of a stand", path, err)
	}
	defer in.Close()
	f, err := bench.Read(bufio.NewReader(in), path)
	if err != nil {
		return nil, err
	}
	u, err := f.Of(r)
	if err != nil {
		return nil, err
	}
	return report.CompareStand(r, u, fit)
}

// files writes the records of a fit and the picture.
func (o *standOutput) files(s *standFlags, r *bench.Rig, c *report.StandComparison) error {
	if o.fit != "" {
		all := c.Fit.Records(c.Used)
		if len(all) == 0 {
			return fmt.Errorf("%s: the rows say nothing that was not known before, want more of them, over more of the throttle", o.compare)
		}
		if err := whole.Write(o.fit, func(w io.Writer) error { return record.Write(w, all) }); err != nil {
			return fmt.Errorf("--fit %s: %w, want a file to write", o.fit, cause(err))
		}
	}
	if o.draw == "" {
		return nil
	}
	curves := report.StandCurves{Rig: r, Comparison: c, Propeller: s.propeller(),
		Motor: fmt.Sprintf("%s, %s", unit.Stator.Text(s.stator), unit.SpeedConstant.Default().Format(s.kv, 6))}
	if _, err := report.WriteStand(o.draw, &curves); err != nil {
		return fmt.Errorf("--draw %s: %w, want a folder to write in", o.draw, cause(err))
	}
	return nil
}

func printStates(w io.Writer, format string, states []bench.State) error {
	switch format {
	case "json":
		return report.StandJSON(w, states)
	case "csv":
		return report.StandCSV(w, states)
	}
	return report.StandTable(w, states, columns(w))
}

func printComparison(stdout, stderr io.Writer, format string, c *report.StandComparison) error {
	switch format {
	case "json":
		return c.JSON(stdout)
	case "csv":
		for _, l := range c.Notes() {
			fmt.Fprintln(stderr, l)
		}
		return c.CSV(stdout)
	}
	return c.Print(stdout, columns(stdout))
}
