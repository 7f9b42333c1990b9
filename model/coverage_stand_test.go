package model

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
	"rotorsieve/model/basis"
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

// thrustMeasured is CT of each propeller on some motors, as a user would measure it: the
// mean of ln CT over all rows at the mean of ln n. Propellers on one motor after another
// scatter by 3 %, see testdata/stand/SOURCES.md.
func thrustMeasured(rows []standRow) (out []record.Record, err error) {
	const scatter = 0.03
	a, err := air.At(0, standAir)
	if err != nil {
		return nil, err
	}
	for _, name := range names(rows, func(r *standRow) string { return r.propeller }) {
		var ln, speed, k float64
		var of *standRow
		for i := range rows {
			if r := &rows[i]; r.propeller == name {
				ln += math.Log(r.thrust / (a.Density * r.n * r.n * math.Pow(r.diameter, 4)))
				speed += math.Log(r.n)
				k++
				of = r
			}
		}
		ct := math.Exp(ln / k)
		out = append(out, record.Record{Quantity: record.CT, Value: ct, Sigma: scatter * ct, Place: name,
			Subject: record.Subject{Kind: record.Propeller, Diameter: of.diameter, Pitch: of.pitch, Blades: of.blades},
			At:      record.Conditions{N: math.Exp(speed / k), Temperature: standAir}})
	}
	return out, nil
}

// ofMotors are the parameters in place of which the errors of motors are drawn.
var ofMotors = []string{"KV under load", "T0 static", "T0 slope", "c", "f stand"}

// standDraw is one draw of all that a stand's rows depend on.
type standDraw struct {
	motors motor.Parameters
	scale  motor.Scale
	blade  [2]float64 // two standard normal numbers
}

// standDraws are drawn once for all rows. The chopping loss is drawn as where the pulse
// rate is known: its constant was fitted to these controllers, whatever their rate is.
func standDraws(count int) []standDraw {
	r := numbers("stand")
	out := make([]standDraw, count)
	for k := range out {
		p := Nominal()
		z := map[string]float64{}
		for i := range ParameterTable {
			e := &ParameterTable[i]
			by, drawn := z[e.With]
			if !drawn {
				by = r.NormFloat64()
			}
			z[e.Symbol] = by
			if e.Reach == basis.All && !slices.Contains(ofMotors, e.Symbol) {
				e.Move(&p, by)
			}
		}
		factor := func(sigma float64) float64 { return math.Exp(sigma * r.NormFloat64()) }
		out[k] = standDraw{motors: p.Motor, blade: [2]float64{r.NormFloat64(), r.NormFloat64()},
			scale: motor.Scale{KV: factor(MotorSpread(record.KV)), Resistance: factor(MotorSpread(record.Resistance)),
				Loss: factor(MotorSpread(record.Loss)), Chopping: factor(ChoppingSpread), Mass: 1}}
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
	y = [2]float64{p.Thrust, p.Electrical()}
	if r.full() {
		p, ok = s.AtDuty(1)
		y = [2]float64{p.Thrust, p.Current}
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
			*to[q] = append(*to[q], covered{r.motor, inside})
		}
	}
	return nil
}

// standCovered is the coverage of the 5 in stand: of propellers known by their labels, or
// of each half of the motors with the thrust of the propellers measured on the other.
func standCovered(byLabel bool) (c standCoverage, err error) {
	draws := standDraws(256)
	all, err := standRows()
	if err != nil {
		return c, err
	}
	if byLabel {
		return c, c.add(slices.DeleteFunc(slices.Clone(all), func(r standRow) bool { return !s1(&r) }), nil, draws)
	}
	for k, half := range halves {
		var seen, rest []standRow
		for _, r := range all {
			switch {
			case !s1(&r):
			case half[r.motor]:
				seen = append(seen, r)
			case halves[1-k][r.motor]:
				rest = append(rest, r)
			}
		}
		records, err := thrustMeasured(seen)
		if err != nil {
			return c, err
		}
		e, err := NewEvidence(nil, records)
		if err != nil {
			return c, err
		}
		if err := c.add(rest, e, draws); err != nil {
			return c, err
		}
	}
	return c, nil
}

func TestStandCoverage(t *testing.T) {
	t.Parallel()
	for _, byLabel := range []bool{true, false} {
		c, err := standCovered(byLabel)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range []struct {
			name string
			of   []covered
		}{{"thrust at full throttle", c.thrust}, {"current at full throttle", c.current}, {"thrust at the speed", c.lift},
			{"power at the speed", c.power}} {
			t.Logf("by label %t: %s %v of %d", byLabel, q.name, bootstrap(q.name, q.of, alike), len(q.of))
		}
	}
}
