package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/report/figure"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

const rotorHead = `rotorsieve rotor prints the curves of one propeller, as CSV or JSON: advance ratio,
speed, thrust and power coefficient, efficiency, tip Mach number and Reynolds
number at 75 % radius, from the blade-element solution or, with --table, from
the table that sweeps use. The last column says in what a point lies outside the
validity of the model or beyond what was measured at its diameter, where it does:
its numbers are to be trusted less.

  rotorsieve rotor --diameter 5in --pitch 4.3in --blades 3 --rpm 20000
  rotorsieve rotor --diameter 5in --blade myblade.csv --advance 0:1:0.1
  rotorsieve rotor --pitch 4.3in --blades 3 --rotor-points bench.csv \
      --draw out/rotor
`

// rotorFlags are those of one propeller in one air.
type rotorFlags struct {
	*flagGroups
	diameter, pitch, chord float64
	blades                 float64
	blade                  string
	evidenceFlags
	altitude, temperature float64
}

// newRotorFlags declares them for a command in which points of --rotor-points do as
// effect says.
func newRotorFlags(command, effect string) *rotorFlags {
	r := &rotorFlags{flagGroups: newFlagGroups(command)}
	r.of = []string{record.Propeller, record.Motor}
	f := r.group("Propeller")
	f.Var(newQuantity(&r.diameter, unit.Length, bound(model.DiameterBound), "5in"), "diameter", "of the propeller")
	f.Var(newQuantity(&r.pitch, unit.Length, unit.Range{Min: 0.001, Max: 1}, "4in"), "pitch", "of the generic blade")
	f.Var(newQuantity(&r.blades, unit.Count, bound(model.BladesBound), "2"), "blades", "of the propeller")
	f.Var(newQuantity(&r.chord, unit.Ratio, unit.Range{Min: 0, Max: model.ChordBound.Max}, "0"), "chord",
		"of the generic blade at 75 % radius over the radius; 0 takes the usual chord of the diameter")
	f.Var(newFile(&r.blade), "blade", "CSV of your own blade, columns r/R, c/R, beta in degrees, in place of pitch "+
		"and chord")
	r.evidenceFlags.declare(f, effect)
	f = r.group("Air")
	f.Var(newAssumed("altitude", &r.altitude), "altitude", "above sea level")
	f.Var(newAssumed("temperature", &r.temperature), "temperature", "of the air")
	return r
}

// curves is the solution that the flags state, and the measurements of the same
// propeller.
type curves struct {
	*rotor.Solver
	measured *rotor.Specimen // nil where there are none
	notes    []string        // on the correction; none where none was asked for
	told     model.Told      // what measurements say of the propeller itself
}

// curves builds the blade-element solution that the flags state.
func (r *rotorFlags) curves() (*curves, error) {
	if r.chord != 0 {
		if err := sweep.Chord.Check(r.chord); err != nil {
			return nil, fmt.Errorf("--chord: %w", err)
		}
	}
	c := &curves{}
	g := rotor.Geometry{Diameter: r.diameter, Blades: int(r.blades)}
	var err error
	if r.blade != "" {
		for _, name := range []string{"pitch", "chord"} {
			if r.origin(name) != "default" {
				return nil, fmt.Errorf("--%s: the blade of --blade has its own, want one of the two flags", name)
			}
		}
		g.Blade, err = readBlade(nil, "", r.blade)
		c.told.Blade = true
	} else {
		if q := r.pitch / r.diameter; !model.PitchRatioBound.Contains(q) {
			return nil, fmt.Errorf("--pitch: %s on a diameter of %s is a ratio of %.3g, want %g to %g",
				sweep.Pitch.Text(r.pitch),
				sweep.Diameter.Text(r.diameter), q, model.PitchRatioBound.Min, model.PitchRatioBound.Max)
		}
		g.Blade, err = rotor.Generic(r.diameter, r.pitch, int(r.blades), r.chord)
	}
	if err != nil {
		return nil, err
	}
	a, err := air.Standard(r.altitude)
	if r.temperature != 0 {
		a, err = air.At(r.altitude, r.temperature)
	}
	if err != nil {
		return nil, err
	}
	if r.any() {
		if err := r.correct(c, &g); err != nil {
			return nil, err
		}
	}
	c.told.Specimen = c.measured
	c.Solver, err = rotor.New(g, a)
	return c, err
}

// correct calibrates the rotor by what was measured: a blade of the user's own by
// the propeller of its diameter and blades, the generic one as sweeps do.
func (r *rotorFlags) correct(c *curves, g *rotor.Geometry) error {
	specimens, records, left, err := r.read()
	if err != nil {
		return err
	}
	c.notes = append(c.notes, r.unfilled...)
	if left > 0 {
		c.notes = append(c.notes, fmt.Sprintf("not read here: %d %s of frames, packs or crafts", left,
			texts.Plural(left, "record", "records")))
	}
	if r.blade != "" {
		all, err := model.Specimens(specimens, records)
		if err != nil {
			return err
		}
		if c.measured, err = ownSpecimen(r.files(), all, g.Diameter, g.Blades); err != nil {
			return err
		}
		if g.Correction, err = rotor.Calibrate(*g, c.measured.Air, c.measured.Static()); err != nil {
			return model.SpecimenError(c.measured, err)
		}
		m := model.Measured{Diameter: g.Diameter, Pitch: c.measured.Pitch, Blades: g.Blades,
			Points: len(c.measured.Static())}
		c.notes = append(c.notes, "corrected: "+m.Said(g.Correction))
		return nil
	}
	seen, err := model.NewEvidence(specimens, records)
	if err != nil {
		return err
	}
	f := seen.Propeller(g.Diameter, r.pitch, g.Blades, r.chord)
	g.Correction = f.Correction
	switch note := "corrected: " + f.String(); {
	case f.From == nil:
		c.notes = append(c.notes, "not corrected: nothing near it in diameter, pitch ratio and blades was measured")
	case f.Share < model.LeastShare:
		c.notes = append(c.notes, fmt.Sprintf("%s, below %g", note, model.LeastShare))
	default:
		c.notes = append(c.notes, note)
		c.told.Blade = true
	}
	for _, line := range seen.Learnt() {
		c.notes = append(c.notes, "learnt of "+line)
	}
	if f.Own() {
		c.measured = f.From.Specimen
	}
	return nil
}

// sameSize says whether two diameters are one, to 1 %.
func sameSize(a, b float64) bool { return math.Abs(a-b) <= 0.01*b }

func rotorCommand() *cobra.Command {
	r := newRotorFlags("rotor", "they correct the propeller. Points in axial flow, with a column J, are only drawn")
	var o curveOptions
	o.declare(r.group("Points"), r.group("Output"))
	return r.command(&cobra.Command{
		GroupID: ofDesigns, Short: "print the curves of one propeller as CSV", Long: rotorHead,
	}, func(c *cobra.Command, _ []argument) error {
		return r.print(c.Context(), &o, c.OutOrStdout(), c.ErrOrStderr())
	})
}

// curveOptions say which points of the curves are printed, and from what.
type curveOptions struct {
	speeds, advances []float64 // rev/s, J
	table            bool
	format           string
	draw             drawing
}

func (o *curveOptions) declare(points, output *pflag.FlagSet) {
	points.Var(newAxis(&o.speeds, unit.Rotation, spins, "5000:25000:5000"), "rpm", "speeds of rotation")
	points.Var(newAxis(&o.advances, unit.Ratio, finiteAdvance, "0:1:0.05"), "advance", "advance ratios J = V/(n D)")
	points.BoolVar(&o.table, "table", false, "from the table that sweeps use, in place of the direct solution")
	output.Var(newChoice(&o.format, "format", "csv", "json"), "format", "csv, or json, one object a point")
	o.draw.declare(output, "for rotor.png, which draws the curves from rest to zero thrust")
}

// print prints the curves of the propeller that the flags state.
func (r *rotorFlags) print(ctx context.Context, o *curveOptions, stdout, stderr io.Writer) error {
	if err := o.draw.room(report.RotorName); err != nil {
		return err
	}
	s, err := r.curves()
	if err != nil {
		return err
	}
	for _, note := range s.notes {
		fmt.Fprintln(stderr, "rotorsieve:", note)
	}
	at := func(J, n float64) (CT, CP float64, err error) {
		p, err := s.Solve(J, n)
		return p.CT, p.CP, err
	}
	if o.table {
		t, err := rotor.NewTable(s.Solver)
		if err != nil {
			return err
		}
		nMin, nMax := t.SpeedRange()
		Jmin, Jmax := t.AdvanceRange()
		for _, n := range o.speeds {
			if n < nMin || n > nMax {
				return fmt.Errorf("--rpm: %.6g is outside the table, want %.6g to %.6g", n*60, nMin*60, nMax*60)
			}
		}
		for _, J := range o.advances {
			if J < Jmin || J > Jmax {
				return fmt.Errorf("--advance: %.4g is outside the table, want %.4g to %.4g", J, Jmin, Jmax)
			}
		}
		at = func(J, n float64) (CT, CP float64, err error) {
			CT, CP = t.At(J, n)
			return CT, CP, nil
		}
	}
	if o.draw.folder != "" {
		if err := r.draw(ctx, o, s, at); err != nil {
			return err
		}
	}
	marked, err := o.write(stdout, s, at)
	if err != nil {
		return err
	}
	if marked > 0 {
		fmt.Fprintf(stderr, "rotorsieve: %d of %d points lie outside the validity of the model or beyond what was "+
			"measured, "+
			"as the column outside says\n", marked, len(o.speeds)*len(o.advances))
	}
	return nil
}

// write writes the points, each as it is found, and says how many are marked.
func (o *curveOptions) write(to io.Writer, s *curves, at func(J, n float64) (CT, CP float64, err error)) (marked int,
	err error) {
	w := newCurvePoints(to, o.format)
	for _, n := range o.speeds {
		for _, J := range o.advances {
			CT, CP, err := at(J, n)
			if err != nil {
				return marked, err
			}
			eta := math.NaN() // a windmill has none
			if CT > 0 && CP > 0 {
				eta = rotor.Eta(J, CT, CP)
			}
			outside := s.outside(J, n, CT)
			if outside != "" {
				marked++
			}
			if err := w.point([]float64{J, n * 60, CT, CP, eta, s.TipMach(n), s.Reynolds(n)}, outside); err != nil {
				return marked, err
			}
		}
	}
	return marked, w.end()
}

// outside names what of a point lies outside the validity of the model, or beyond
// what was measured at its diameter, joined by semicolons; "" for nothing.
func (c *curves) outside(J, n, CT float64) string {
	marks := append(model.Outside(c.Solver, J, n, CT), model.Beyond(c.Solver, n, c.told)...)
	return strings.Join(words.StateMarks(marks), "; ")
}

// draw writes rotor.png into a folder.
func (r *rotorFlags) draw(ctx context.Context, o *curveOptions, c *curves,
	at func(J, n float64) (CT, CP float64, err error)) error {
	p := figure.RotorCurves{
		Propeller: r.propeller(),
		From:      "blade-element solution",
		Air:       c.Air(), Diameter: r.diameter,
		Speeds: slices.Sorted(slices.Values(o.speeds)),
		At:     at, Measured: c.measured, MeasuredTipMach: model.MeasuredTipMach(r.diameter, c.measured),
	}
	if o.table {
		p.From = "table of the blade-element solution"
	}
	if c.Geometry().Correction != (rotor.Correction{}) {
		p.From += " · corrected by measurement"
	}
	if _, err := report.WriteRotor(ctx, o.draw.folder, &p); err != nil {
		return fmt.Errorf("--draw %s: %w, want a folder to write in", o.draw.folder, cause(err))
	}
	return nil
}

// propeller names it for a picture.
func (r *rotorFlags) propeller() string {
	inches := func(m float64) string { return unit.Length.Unit("in").Number(m, 4) }
	if r.blade != "" {
		return fmt.Sprintf("%s in, %d blades of %s", inches(r.diameter), int(r.blades), filepath.Base(r.blade))
	}
	return fmt.Sprintf("%s × %s in, %d blades", inches(r.diameter), inches(r.pitch), int(r.blades))
}

func spins(n float64) error {
	if !(n > 0) {
		return fmt.Errorf("%g rpm, want more than 0", n*60)
	}
	return nil
}

func finiteAdvance(J float64) error {
	if J < -0.5 || J > 3 {
		return fmt.Errorf("advance ratio %g, want -0.5 to 3", J)
	}
	return nil
}
