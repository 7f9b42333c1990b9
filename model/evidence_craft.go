package model

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/model/field"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
	"rotorsieve/model/root"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
)

// avionicsSpread is the standard deviation of the logarithm of the power of all that does
// not turn in a craft whose hover is measured, over that assumed (chosen here).
const avionicsSpread = 0.25

// seenCraft is a craft whose power in hover was measured, and what its propellers take of
// it.
type seenCraft struct {
	subject record.Subject
	air     air.Air
	place   string

	speed, lift float64 // of a propeller in hover, rev/s, and its open thrust, N
	power       float64 // at its shaft, W
	over        float64 // the same over that of the model
	// Standard deviation of the logarithm of it, by the power measured and by all else
	// between pack and propellers.
	own, chain float64
}

// sigma is the standard deviation of ln(over), of a craft whose chain shares its errors with
// those of so many, itself among them.
func (c *seenCraft) sigma(crafts float64) float64 {
	return math.Sqrt(c.own*c.own + crafts*c.chain*c.chain)
}

// point is where its propeller stands in the field.
func (c *seenCraft) point() field.Point {
	s := &c.subject
	return fieldPoint(s.Diameter, s.Pitch, s.Blades, s.Chord)
}

// withCrafts is the evidence with what the hover of crafts says of their propellers: the
// power at the shaft that, with all else as the model has it, makes the power measured.
//
// Errors of motors, controllers and pack, and of the slipstream's part on the arms, are put
// into the uncertainty of that power; what the measurement says of them is not taken. They
// are taken to be the same in all crafts, so that many on one propeller say no more of it
// than one with their mean power would. Both know less than they could.
func (e *Evidence) withCrafts(a *Assumptions, all []rotor.Specimen, records []record.Record) (*Evidence, error) {
	all = slices.Clone(all)
	for i := range records {
		r := &records[i]
		if r.Subject.Kind != record.Craft {
			continue
		}
		c, err := e.hovering(a, r)
		if err != nil {
			return nil, fmt.Errorf("%s: craft %s: %w", r.Place, r.Subject.Key(), err)
		}
		for k := range e.crafts {
			if err := c.contradicts(&e.crafts[k]); err != nil {
				return nil, err
			}
		}
		e.crafts = append(e.crafts, c)
	}
	if len(e.crafts) == 0 {
		return e, nil
	}
	for i := range e.crafts {
		c := &e.crafts[i]
		together := 0.0
		for j := range e.crafts {
			together += field.Covariance(c.point(), e.crafts[j].point())
		}
		var to int
		all, to = specimenOf(all, &c.subject, c.air, c.place)
		all[to].Points = append(slices.Clone(all[to].Points), rotor.Measurement{N: c.speed, ThrustSigma: math.Inf(1),
			Power: c.power, PowerSigma: c.sigma(together), Lift: c.lift, Place: c.place})
	}
	out, err := propellersGiven(all, e.propellers)
	if err != nil {
		return nil, err
	}
	out.motors, out.frames, out.packs, out.crafts = e.motors, e.frames, e.packs, e.crafts
	return out, nil
}

// hovering is what the propellers of a craft take.
func (e *Evidence) hovering(a *Assumptions, r *record.Record) (c seenCraft, err error) {
	s := &r.Subject
	of := *a
	of.Altitude, of.Temperature, of.Evidence = r.At.Altitude, r.At.Temperature, e
	if _, of.PackGrade, err = packMeasured(a, s); err != nil {
		return c, err
	}
	m, err := New(of)
	if err != nil {
		return c, err
	}
	d, h := unit.StatorSize(s.Stator)
	design := Design{Diameter: s.Diameter, Pitch: s.Pitch, Blades: s.Blades, Chord: s.Chord,
		Stator: motor.Stator{Diameter: d, Height: h}, KV: s.KV, Cells: s.Cells, Capacity: s.Capacity}
	if err := design.Check(); err != nil {
		return c, err
	}
	p, err := m.Propeller(s.Diameter, s.Pitch, s.Blades, s.Chord)
	if err != nil {
		return c, err
	}
	x := hoverChain{of: m, design: design, propeller: p, mass: s.AllUp}
	base := x.as(r.Value)
	c = seenCraft{subject: *s, place: r.Place}
	if c.air, err = airOf(r.At); err != nil {
		return c, err
	}
	if err := x.solve(&base, &c); err != nil {
		return c, err
	}
	if c.own, c.chain, err = x.spread(&base, r.Relative()); err != nil {
		return c, err
	}
	before, err := x.before(c.speed)
	if err != nil {
		return c, err
	}
	if sigma := c.sigma(1); tooFar(math.Log(c.over), sigma, before) {
		return c, fmt.Errorf("%.4g W of hover ask for propellers that take %.3g times the shaft power of the "+
			"model, which is known to ±%.0f %%: want the power that leaves the pack in steady hover, and the true "+
			"all-up weight", r.Value, c.over, 100*math.Hypot(before, sigma))
	}
	return c, nil
}

// contradicts says why the hover of two crafts on the same propellers cannot both be.
func (c *seenCraft) contradicts(o *seenCraft) error {
	a, b := &c.subject, &o.subject
	if a.Diameter != b.Diameter || a.Pitch != b.Pitch || a.Blades != b.Blades || a.Chord != b.Chord {
		return nil
	}
	if d := math.Abs(math.Log(c.over/o.over)) / math.Hypot(c.sigma(1), o.sigma(1)); d > mostApart {
		return fmt.Errorf("%s: craft %s asks for propellers that take %.3g times the shaft power of the model, but %s "+
			"at %s for %.3g: %.0f of their sigmas apart; want at most %d, larger sigmas, or one of the two",
			c.place, a.Key(), c.over, b.Key(), o.place, o.over, d, mostApart)
	}
	return nil
}

// hoverChain is a craft in hover, whose propellers may take another power than the model's.
type hoverChain struct {
	of        *Model
	design    Design
	propeller *Propeller
	mass      float64 // all-up weight, kg
}

// hoverCase is such a craft with a power in W, and all else that may err moved.
type hoverCase struct {
	power, avionics float64 // W
	parameters      Parameters
	motor           motor.Scale
	packR           float64 // factor on the pack's resistance
}

// as is the craft as the model has it.
func (x *hoverChain) as(power float64) hoverCase {
	return hoverCase{power: power, avionics: x.of.Assume.AvionicsPower, parameters: x.of.parameters,
		motor: motor.NoScale, packR: 1}
}

// solve finds what the propellers take so that the pack gives the power of the case.
func (x *hoverChain) solve(of *hoverCase, to *seenCraft) error {
	m := x.of
	if of.parameters != m.parameters {
		var err error
		if m, err = NewWith(m.Assume, of.parameters); err != nil {
			return err
		}
	}
	a, d := &m.Assume, &x.design
	p := *x.propeller // its table hardly follows the air
	p.Propulsor = flight.NewPropulsor(p.Table, p.Diameter, m.Air.Density, m.installed(p.clearance))
	k, err := m.Pack(d.Cells, d.Capacity)
	if err != nil {
		return err
	}
	k.R *= of.packR
	t := m.Powertrain(&p, m.Motor(d.Stator, d.KV).Scaled(of.motor), k)
	t.Drive.Avionics = of.avionics
	thrust := x.mass * gravity / rotors
	n, Q, ok := p.Hold(thrust)
	if !ok || !t.Full.OK {
		return x.grounded()
	}
	const widest = 8 // times the model's power
	left := func(ln float64) float64 {
		h := t.Drive.Turn(t.Full.Controller, k.Mean, n, Q*math.Exp(ln))
		if !h.OK {
			return math.Inf(-1)
		}
		return of.power - h.Power
	}
	end := math.Log(widest)
	low, high := left(-end), left(end)
	if math.IsInf(low, -1) {
		return x.grounded()
	}
	if !(low >= 0 && high < 0) {
		return fmt.Errorf("%.4g W of hover leave the propellers less than 1/%d or more than %d times the shaft power "+
			"of the model at %.5g g: want the power that leaves the pack, all-up weight and the power of all that "+
			"does not turn (%.3g W assumed)", of.power, widest, widest, x.mass*grams, a.AvionicsPower)
	}
	ln := root.Secant{Step: 1e-6, Halve: 4}.Between(left, -end, end, low, high)
	to.over = math.Exp(ln)
	to.speed, to.lift, to.power = n, thrust/p.Installed, 2*math.Pi*n*Q*to.over
	return nil
}

// grounded says that the craft does not fly.
func (x *hoverChain) grounded() error {
	return fmt.Errorf("there is no hover at %.5g g in the model: want the parts and the all-up weight of a craft that "+
		"flies", x.mass*grams)
}

// spread is the standard deviation of the logarithm of what solve finds over that of the
// model, by a power known to a relative uncertainty and by all that errs between pack and
// propellers, from central differences. What was measured of motors and pack errs by what
// is left.
func (x *hoverChain) spread(base *hoverCase, relative float64) (own, chain float64, err error) {
	move := func(sum *float64, by func(c *hoverCase, sigmas float64)) error {
		var ln [2]float64
		for k, sigmas := range [2]float64{-0.5, 0.5} {
			c, to := *base, seenCraft{}
			by(&c, sigmas)
			if err := x.solve(&c, &to); err != nil {
				return err
			}
			ln[k] = math.Log(to.over)
		}
		d := ln[1] - ln[0]
		*sum += d * d
		return nil
	}
	if err := move(&own, func(c *hoverCase, s float64) { c.power *= math.Exp(s * relative) }); err != nil {
		return 0, 0, err
	}
	d, e := &x.design, x.of.Assume.Evidence
	fit, k := e.Motor(d.Stator, d.KV), e.packField(packOf{record.PackResistance, x.of.Assume.PackGrade})
	for _, by := range []func(*hoverCase, float64){
		func(c *hoverCase, s float64) { c.avionics *= math.Exp(s * avionicsSpread) },
		func(c *hoverCase, s float64) { c.motor.KV *= math.Exp(s * fit.KV.After) },
		func(c *hoverCase, s float64) { c.motor.Resistance *= math.Exp(s * fit.Resistance.After) },
		func(c *hoverCase, s float64) { c.motor.Loss *= math.Exp(s * fit.Loss.After) },
		func(c *hoverCase, s float64) { c.motor.Chopping *= math.Exp(s * fit.Chopping.After) },
		func(c *hoverCase, s float64) { c.packR *= math.Exp(s * k.at(d.Capacity).After) },
	} {
		if err := move(&chain, by); err != nil {
			return 0, 0, err
		}
	}
	others := x.others()
	for i := range others {
		p := &others[i]
		if p.With != "" {
			continue // moves with another
		}
		err := move(&chain, func(c *hoverCase, s float64) {
			for j := range others {
				if q := &others[j]; i == j || q.With == p.Symbol {
					q.Move(&c.parameters, s)
				}
			}
		})
		if err != nil {
			return 0, 0, err
		}
	}
	return math.Sqrt(own), math.Sqrt(chain), nil
}

// others are the parameters between pack and propellers that no factor of a motor or a
// pack stands for.
func (x *hoverChain) others() (out []basis.Entry[Parameters]) {
	g := x.of.Assume.PackGrade
	fields := []string{"Km scale", "motor mass scale", "T0 static", "T0 slope", "KV under load", "c", "f stand",
		g.Name + cellSymbol(g)}
	blades := rotor.Entries()
	for _, e := range ParameterTable {
		if !slices.Contains(fields, e.Symbol) &&
			!slices.ContainsFunc(blades, func(b basis.Entry[rotor.Parameters]) bool { return b.Symbol == e.Symbol }) {
			out = append(out, e)
		}
	}
	return out
}

// before is the standard deviation of the logarithm of the shaft power at a thrust, at
// about n rev/s, of propellers of which none was measured.
func (x *hoverChain) before(n float64) (float64, error) {
	g := x.propeller.Geometry
	g.Correction = rotor.Correction{}
	s, together, err := StaticSpread(g, x.of.Air, n)
	return math.Sqrt(s[1]*s[1] + perThrust*s[0]*(perThrust*s[0]-2*together*s[1])), err
}

// perThrust is the exponent with which the power of a propeller grows with its thrust.
const perThrust = 1.5

// learntOfCrafts gives a line for each craft that was measured.
func (e *Evidence) learntOfCrafts() (lines []string) {
	for i := range e.crafts {
		s := &e.crafts[i].subject
		at := slices.IndexFunc(e.propellers, func(m Measured) bool {
			return m.Diameter == s.Diameter && m.Pitch == s.Pitch && m.Blades == s.Blades && m.Chord == s.Chord
		})
		k := make([]float64, len(e.points))
		for j, q := range e.points {
			k[j] = field.Covariance(e.points[at], q)
		}
		y, left := e.given.At(k)
		v := mat.NewVecDense(rotor.Unknowns, nil)
		S := &e.propellers[at].estimate.Sensitivity
		v.AddScaledVec(mat.NewVecDense(rotor.Unknowns, S[1][:]), -perThrust, mat.NewVecDense(rotor.Unknowns, S[0][:]))
		lines = append(lines, fmt.Sprintf("craft %s: shaft power in hover %s that of the model, ±%.2g %%, was ±%.2g %%",
			s.Key(), times(math.Exp(mat.Dot(v, mat.NewVecDense(rotor.Unknowns, y)))),
			100*math.Sqrt(math.Max(0, mat.Inner(v, left, v))), 100*mat.Norm(v, 2)))
	}
	return lines
}
