package model

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/model/draw"
	"rotorsieve/model/field"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// standBlade is a propeller of the stand as the model has it, and the spreads that ln CT
// and ln CP are drawn with there, with their correlation.
type standBlade struct {
	propulsor flight.Propulsor
	spread    [2]float64
	together  float64
}

// bladeOf is a propeller known by its label, or with what was measured of propellers.
func bladeOf(r *standRow, e *Evidence) (*standBlade, error) {
	a, err := air.At(0, standAir)
	if err != nil {
		return nil, err
	}
	blade, err := rotor.Generic(r.diameter, r.pitch, r.blades, 0)
	if err != nil {
		return nil, err
	}
	g := rotor.Geometry{Diameter: r.diameter, Blades: r.blades, Blade: blade}
	b := &standBlade{}
	if e == nil {
		const tip = 100.0 // m/s
		b.spread, b.together, err = StaticSpread(g, a, tip/(math.Pi*r.diameter))
	} else {
		g.Correction = e.Propeller(r.diameter, r.pitch, r.blades, 0).Correction
		b.spread, b.together = left(e, r)
	}
	s, err2 := rotor.New(g, a)
	if err = errors.Join(err, err2); err != nil {
		return nil, err
	}
	t, err := rotor.NewTable(s)
	if err != nil {
		return nil, err
	}
	b.propulsor = flight.NewPropulsor(t, r.diameter, a.Density, 1)
	return b, nil
}

// left is what measurements leave of the spreads of a propeller.
func left(e *Evidence, r *standRow) (spread [2]float64, together float64) {
	p := fieldPoint(r.diameter, r.pitch, r.blades, 0)
	k := make([]float64, len(e.points))
	nearest := 0
	for i, q := range e.points {
		k[i] = field.Covariance(p, q)
		if k[i] > k[nearest] {
			nearest = i
		}
	}
	_, covariance := e.given.At(k)
	s := e.propellers[nearest].estimate.Sensitivity
	v := [2]*mat.VecDense{mat.NewVecDense(rotor.Unknowns, s[0][:]), mat.NewVecDense(rotor.Unknowns, s[1][:])}
	for q := range v {
		spread[q] = math.Sqrt(mat.Inner(v[q], covariance, v[q]))
	}
	return spread, mat.Inner(v[0], covariance, v[1]) / (spread[0] * spread[1])
}

// propellersMeasured are CT and CP of each propeller on some motors, as a user would tell them
// with a stand: the means of the logarithms at the mean of ln n, over the rows below full throttle
// above 8 000 rpm. CP is what the chain as it is makes of the electrical power.
func propellersMeasured(rows []standRow) (out []record.Record, err error) {
	a, err := air.At(0, standAir)
	if err != nil {
		return nil, err
	}
	for _, name := range names(rows, func(r *standRow) string { return r.propeller }) {
		var ct, cp, speed, k float64
		var of *standRow
		for i := range rows {
			r := &rows[i]
			if r.propeller != name || r.full() || r.n*60 < 8000 {
				continue
			}
			force := a.Density * r.n * r.n * math.Pow(r.diameter, 4)
			power, err := shaftPower(r)
			if err != nil {
				return nil, err
			}
			ct += math.Log(r.thrust / force)
			cp += math.Log(power / (force * r.n * r.diameter))
			speed += math.Log(r.n)
			k++
			of = r
		}
		add := func(q *record.Quantity, ln, sigma float64) {
			v := math.Exp(ln / k)
			out = append(out, record.Record{Quantity: q, Value: v, Sigma: sigma * v, Place: name,
				Subject: record.Subject{Kind: record.Propeller, Diameter: of.diameter, Pitch: of.pitch, Blades: of.blades},
				At:      record.Conditions{N: math.Exp(speed / k), Temperature: standAir}})
		}
		add(record.CT, ct, standScatter)
		add(record.CP, cp, chainSpread)
	}
	return out, nil
}

// shaftPower is that at which the chain as it is draws a row's electrical power, in W.
func shaftPower(r *standRow) (float64, error) {
	s, err := stands.of(r, r.volts)
	if err != nil {
		return 0, err
	}
	for range 20 {
		p, ok := s.AtSpeed(r.n)
		if !ok {
			return 0, fmt.Errorf("%s: no state at %g rpm", r.run, 60*r.n)
		}
		short := r.power() - p.Electrical()
		if math.Abs(short) < 1e-6*r.power() {
			return p.Shaft, nil
		}
		s.Power *= math.Max(0.5, 1+short/p.Shaft)
	}
	return 0, fmt.Errorf("%s: no shaft power for %g W", r.run, r.power())
}

// chainSpread is what the spreads of motors and controllers leave of the shaft power where
// the electrical power is measured, which TestChainSpread holds.
const chainSpread = 0.10

func TestChainSpread(t *testing.T) {
	t.Parallel()
	draws := standDraws(256, 1)
	var spreads misfit
	rows := rowsOf(t, func(r *standRow) bool { return s1(r) && !r.full() })
	for i := 0; i < len(rows); i += 10 {
		r := &rows[i]
		b, err := bladeOf(r, nil)
		if err != nil {
			t.Fatal(err)
		}
		b.spread = [2]float64{}
		var lns misfit
		for k := range draws {
			y, err := draws[k].answer(r, b)
			if err != nil {
				t.Fatal(err)
			}
			lns = append(lns, math.Log(y[1]))
		}
		mean := lns.mean()
		for k := range lns {
			lns[k] -= mean
		}
		spreads = append(spreads, lns.rms())
	}
	if m := spreads.mean(); math.Abs(m-chainSpread) > 0.01 {
		t.Errorf("the electrical power at a shaft power is drawn with %.1f %%, want %.0f", 100*m, 100*chainSpread)
	}
}

// standScatter is that of the measured CT of one propeller from motor to motor, see
// testdata/stand/SOURCES.md.
const standScatter = 0.03

// ofMotors are the parameters of reach all in place of which the errors of motors are drawn.
var ofMotors = []string{"KV under load", "T0 static", "T0 slope", "c", "f stand"}

// standDraw is one draw of all that a stand's rows depend on.
type standDraw struct {
	motors  motor.Parameters
	scale   motor.Scale
	blade   [2]float64 // two normal numbers
	scatter float64    // of the thrust that a stand shows, a factor
}

// standDraws are drawn once for all rows, with all spreads times widen. The chopping loss is
// drawn as where the pulse rate is known: its constant was fitted to these controllers,
// whatever their rate is.
func standDraws(count int, widen float64) []standDraw {
	const seed = 1
	table := motor.Entries()
	out := make([]standDraw, count)
	for k, z := range draw.Even(seed, count, len(table)+7) {
		next := func() float64 {
			v := widen * z[0]
			z = z[1:]
			return v
		}
		factor := func(sigma float64) float64 { return math.Exp(sigma * next()) }
		d := &out[k]
		d.blade = [2]float64{next(), next()}
		d.scatter = factor(standScatter)
		d.scale = motor.Scale{KV: factor(MotorSpread(record.KV)), Resistance: factor(MotorSpread(record.Resistance)),
			Loss: factor(MotorSpread(record.Loss)), Chopping: factor(ChoppingSpread), Mass: 1}
		d.motors = motor.Nominal()
		by := map[string]float64{}
		for i := range table {
			e := &table[i]
			if e.Reach != basis.All || slices.Contains(ofMotors, e.Symbol) {
				continue
			}
			v, drawn := by[e.With]
			if !drawn {
				v = next()
			}
			by[e.Symbol] = v
			e.Move(&d.motors, v)
		}
	}
	return out
}

// answer is what a row is asked for: the thrust and the current at full throttle and the
// measured voltage, the thrust and the electrical power at the measured speed below it.
func (d *standDraw) answer(r *standRow, b *standBlade) (y [2]float64, err error) {
	m := d.motors.New(r.stator, r.kv, motor.Use{Winding: standWinding, PulseRate: standPulse})
	m = m.Scaled(d.scale)
	s := flight.NewStand(m, &b.propulsor, r.volts, 0)
	s.Controller = m.Rated(standRating)
	ct := d.blade[0]
	cp := b.together*ct + math.Sqrt(1-b.together*b.together)*d.blade[1]
	s.Thrust, s.Power = math.Exp(b.spread[0]*ct), math.Exp(b.spread[1]*cp)
	p, ok := s.AtSpeed(r.n)
	y = [2]float64{d.scatter * p.Thrust, p.Electrical()}
	if r.full() {
		p, ok = s.AtDuty(1)
		y = [2]float64{d.scatter * p.Thrust, p.Current}
	}
	if !ok {
		return y, fmt.Errorf("%s: no state of the stand at %g rpm", r.run, 60*r.n)
	}
	return y, nil
}

func (r *standRow) answered() [2]float64 {
	if r.full() {
		return [2]float64{r.thrust, r.amps}
	}
	return [2]float64{r.thrust, r.power()}
}

// standCoverage says of rows whether what was measured lies within what is drawn: at full
// throttle thrust and current, below it thrust and electrical power.
type standCoverage struct{ thrust, current, lift, power []covered }

func (c *standCoverage) add(rows []standRow, e *Evidence, draws []standDraw) error {
	blades := map[string]*standBlade{}
	for i := range rows {
		r := &rows[i]
		b := blades[r.propeller]
		if b == nil {
			var err error
			if b, err = bladeOf(r, e); err != nil {
				return err
			}
			blades[r.propeller] = b
		}
		measured := r.answered()
		var below [2]float64
		for k := range draws {
			y, err := draws[k].answer(r, b)
			if err != nil {
				return err
			}
			for q := range y {
				if y[q] < measured[q] {
					below[q] += 1 / float64(len(draws))
				}
			}
		}
		to := [2]*[]covered{&c.lift, &c.power}
		if r.full() {
			to = [2]*[]covered{&c.thrust, &c.current}
		}
		for q, u := range below {
			inside := 0.0
			if u >= 0.1 && u <= 0.9 {
				inside = 1
			}
			*to[q] = append(*to[q], covered{cluster: r.motor, share: inside, propeller: r.propeller})
		}
	}
	return nil
}

// standBy says what is known of the propellers of a stand.
type standBy int

const (
	byLabel standBy = iota
	byStand         // of each half of the motors: CT and CP as the other half shows them
)

// standCovered is the coverage of the rows of a stand.
func standCovered(keep func(*standRow) bool, known standBy, widen float64, count int) (c standCoverage, err error) {
	draws := standDraws(count, widen)
	all, err := standRows()
	if err != nil {
		return c, err
	}
	of := func(half map[string]bool) []standRow {
		return slices.DeleteFunc(slices.Clone(all),
			func(r standRow) bool { return !keep(&r) || half != nil && !half[r.motor] })
	}
	if known == byLabel {
		return c, c.add(of(nil), nil, draws)
	}
	for k, half := range halves {
		records, err := propellersMeasured(of(half))
		if err != nil {
			return c, err
		}
		e, err := NewEvidence(nil, records)
		if err != nil {
			return c, err
		}
		if err := c.add(of(halves[1-k]), e, draws); err != nil {
			return c, err
		}
	}
	return c, nil
}

// The 5 in stand with propellers known by their labels, and as half of the motors shows them.
var (
	standByLabel = sync.OnceValues(func() (standCoverage, error) { return standCovered(s1, byLabel, 1, 1024) })
	standByStand = sync.OnceValues(func() (standCoverage, error) { return standCovered(s1, byStand, 1, 1024) })
)

// named is the coverage of a quantity.
type named struct {
	name string
	of   []covered
}

// quantities are the parts of a coverage.
func (c *standCoverage) quantities() []named {
	return []named{{"thrust at full throttle", c.thrust}, {"current at full throttle", c.current},
		{"electrical power below it", c.power}, {"thrust at the speed", c.lift}}
}

// judged are those of the quantities that motors decide: the thrust at a measured speed is that of
// the propeller alone.
func (c *standCoverage) judged() []named { return c.quantities()[:3] }

// labelled is the coverage of propellers known by their labels: on the 5 in stand and on that of 8
// and 9.4 in, whose clusters are motors, and on both, whose clusters are propellers.
func labelled(t testing.TB) (small, large, all []named) {
	t.Helper()
	a, err := standByLabel()
	b, err2 := standCovered(func(r *standRow) bool { return r.source == "S3" }, byLabel, 1, 1024)
	if err := errors.Join(err, err2); err != nil {
		t.Fatal(err)
	}
	small, large = a.quantities(), b.quantities()
	for i, q := range small {
		all = append(all, named{q.name, byPropeller(slices.Concat(q.of, large[i].of))})
	}
	return small, large, all
}

// The spreads that motors are drawn with, and what is left of those of propellers whose thrust and
// power other motors have shown, are those by which the model errs on motors: P. Cao, J. Strawson,
// Motor and propeller testing, 2018. Half as much again or half of all of them would be told.
func TestStandCoverage(t *testing.T) {
	t.Parallel()
	s, err := standByStand()
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range s.judged() {
		b := bootstrap(q.name, q.of, alike)
		t.Logf("%s: %v, of %d", q.name, b, len(q.of))
		if len(q.of) < 90 || !b.right() {
			t.Errorf("%s: P10 to P90 cover %v of the rows, want 80 %%", q.name, b)
		}
	}
	_, _, all := labelled(t)
	for _, q := range all { // few propellers on one or two stands tell no more
		b := bootstrap(q.name, q.of, single)
		t.Logf("%s, propellers by their labels: %v", q.name, b)
		if clusters(q.of) < 10 || !b.right() {
			t.Errorf("%s: P10 to P90 cover %v of propellers known by their labels, want 80 %%", q.name, b)
		}
	}
	for _, widen := range []float64{1.5, 0.5} {
		s, err := standCovered(s1, byStand, widen, 128)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range s.judged() {
			b := bootstrap(q.name, q.of, alike)
			t.Logf("%s, spreads x %g: %v", q.name, widen, b)
			if b.right() {
				t.Errorf("%s, spreads x %g: P10 to P90 cover %v, which is told to be right", q.name, widen, b)
			}
		}
	}
}

// standBlades are the errors of ln CT of the propellers of the 5 in stand, known by their
// labels, in units of their spread; nobody says which are of one family.
func standBlades(t testing.TB) (off, spread []float64) {
	t.Helper()
	rows := rowsOf(t, s1)
	for _, name := range names(rows, func(r *standRow) string { return r.propeller }) {
		var ln, k float64
		var b *standBlade
		for i := range rows {
			r := &rows[i]
			if r.propeller != name {
				continue
			}
			if b == nil {
				var err error
				if b, err = bladeOf(r, nil); err != nil {
					t.Fatal(err)
				}
			}
			s := flight.NewStand(motor.New(r.stator, r.kv, motor.Use{Winding: standWinding, PulseRate: standPulse}),
				&b.propulsor, r.volts, 0)
			p, ok := s.AtSpeed(r.n)
			if !ok {
				t.Fatalf("%s: no state at %g rpm", r.run, 60*r.n)
			}
			ln += math.Log(r.thrust / p.Thrust)
			k++
		}
		off, spread = append(off, ln/k), append(spread, b.spread[0])
	}
	return off, spread
}
