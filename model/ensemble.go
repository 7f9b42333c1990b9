package model

import (
	"fmt"
	"math"
	"sync"

	"rotorsieve/model/draw"
	"rotorsieve/model/field"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// Ensemble is a number of draws of all that a model may err by. Draws depend on the seed
// and on what a part is alone, so that a part has the same errors in every study, and the
// first draws of a larger ensemble are those of a smaller one. It is safe for concurrent
// use.
type Ensemble struct {
	nominal *Model
	seed    uint64
	sources []Source
	even    [][]float64 // [draw][number]: of parameters, then of the first modes of blades
	shared  *fieldBasis
}

// evenModes is how many modes of each error of blades are drawn evenly: the others, and all
// that belongs to parts, are drawn independently.
const evenModes = 24

// NewEnsemble draws what a nominal model may err by.
func NewEnsemble(m *Model, seed uint64, draws int) (*Ensemble, error) {
	if draws < 1 {
		return nil, fmt.Errorf("an ensemble of %d draws, want 1 or more", draws)
	}
	if m.variation != nil {
		return nil, fmt.Errorf("an ensemble of a model that is a draw itself, want a nominal one")
	}
	e := &Ensemble{nominal: m, seed: seed, sources: m.sources(), shared: newFieldBasis(m)}
	e.even = draw.Even(seed, draws, e.parameters()+3*evenModes)
	return e, nil
}

// parameters is how many sources are parameters.
func (e *Ensemble) parameters() (n int) {
	for i := range e.sources {
		if e.sources[i].field == 0 {
			n++
		}
	}
	return n
}

// Draws is their number.
func (e *Ensemble) Draws() int { return len(e.even) }

// Model is the model in draw k, from 0. It is made anew each time, in a fraction of a
// millisecond, and takes some tens of kilobytes.
func (e *Ensemble) Model(k int) *Model {
	m := *e.nominal
	n := 0
	for i := range e.sources {
		if s := &e.sources[i]; s.field == 0 {
			s.move(&m.parameters, e.even[k][n])
			n++
		}
	}
	v := &variation{shared: e.shared, base: &e.nominal.parameters}
	numbers := func(f, count int) []float64 {
		key := draw.Key(e.seed, errorFields[f].name)
		z := make([]float64, count)
		for i := range z {
			z[i] = draw.From(key+uint64(i), k)
		}
		return z
	}
	for f := range fieldCount {
		z := numbers(f, e.shared.count(f))
		if f <= bladeChord {
			copy(z, e.even[k][n+f*evenModes:][:evenModes])
		}
		v.fields[f].weights = z
	}
	m.vary(v)
	e.condition(&m, k)
	return &m
}

// Shifted is the model with one of Sources moved by so many of its standard deviations,
// alike for all parts, and nothing else.
func (m *Model) Shifted(source int, by float64) (*Model, error) {
	all := m.sources()
	if source < 0 || source >= len(all) {
		return nil, fmt.Errorf("source %d of errors, want 0 to %d", source, len(all)-1)
	}
	out := *m
	s := &all[source]
	v := &variation{shared: newFieldBasis(m), base: &m.parameters}
	if s.field == 0 {
		s.move(&out.parameters, by)
	} else {
		v.fields[s.field-1].shift = by
	}
	m.learn(v)
	out.vary(v)
	return &out, nil
}

// move moves the parameters of a source. What must stay below a bound stops short of it.
func (s *Source) move(p *Parameters, by float64) {
	for _, i := range s.at {
		e := &ParameterTable[i]
		e.Move(p, by)
		const short = 0.98
		if v := e.At(p); e.Below != 0 && *v > short*e.Below {
			*v = short * e.Below
		}
	}
}

// vary makes a model that of a draw: with its air, and the errors of its parts.
func (m *Model) vary(v *variation) {
	nominal := m.Air
	if m.Assume.Temperature == 0 {
		m.Air, _ = m.parameters.Air.Offset(m.Assume.Altitude, 0) // as of the nominal one, which has been checked
	} else {
		m.Air, _ = m.parameters.Air.At(m.Assume.Altitude, m.Assume.Temperature)
	}
	v.density = m.Air.Density / nominal.Density
	m.variation = v
}

// variation is what a draw's parts differ by from those of its parameters. A nil one is no
// difference.
type variation struct {
	shared  *fieldBasis
	base    *Parameters // from which those of the draw differ
	density float64     // of the air over the nominal
	fields  [fieldCount]drawnField
}

// drawnField is one field in one draw: at a part it is the shift and the sum of its basis
// there, each times a weight, in its own spreads; and what is known of it from parts that
// were measured, in the spreads of what all parts of the kind err by.
type drawnField struct {
	shift   float64
	weights []float64
	given   []float64 // by part that was measured
	per     float64   // spread of those
}

// at is the field at a part in its spreads, less what is known from measurements.
func (f *drawnField) at(basis []float64) float64 {
	z := f.shift
	for i, w := range f.weights {
		z += w * basis[i]
	}
	return z
}

// learnt is what measurements say at a part with correlations with those measured.
func (f *drawnField) learnt(to []float64) (z float64) {
	if f.given == nil {
		return 0
	}
	for i, k := range to {
		z += k * f.given[i]
	}
	return z
}

// factor is the error of a part as a factor.
func (v *variation) factor(f int, b *partBasis) float64 {
	x := &v.fields[f]
	return math.Exp(errorFields[f].spread()*x.at(b.basis) + x.per*x.learnt(b.to[f]))
}

// Vary is the propeller, built by the nominal model, as it is in the draw of a model: its
// thrust and power scaled at all speeds, since solving it anew would take a thousand times
// as long. It is p itself for a nominal model.
func (m *Model) Vary(p *Propeller) *Propeller {
	v := m.variation
	if v == nil {
		return p
	}
	e := p.errs()
	s := flight.Scale{Density: v.density}
	var ln [2]float64
	for k := range e.sense[0] {
		f := &v.fields[bladePitch+k]
		z := f.at(e.blade.basis) + f.learnt(e.blade.to[bladePitch]) - e.known[k]
		for q := range ln {
			ln[q] += e.sense[q][k] * z
		}
	}
	s.CT, s.CP = math.Exp(ln[0]), math.Exp(ln[1])
	installed := p.Installed * (1 - m.parameters.Frame.Download) / (1 - p.by.Frame.Download)
	out := &Propeller{Airframe: m.AirframeOf(p.Diameter, p.Geometry.Blades, &p.Parts), Geometry: p.Geometry, Fit: p.Fit,
		Propulsor: p.Propulsor.Scaled(s, installed), errs: p.errs, bodies: p.bodies,
		lightest: p.lightest, solver: p.solver}
	out.envelope = sync.OnceValue(func() *flight.Envelope {
		out.scaled = p.bodies().Scaled(s, &m.parameters.Flight, m.hull(&p.Parts))
		return out.scaled
	})
	return out
}

// Release says that nobody flies the propeller any more, so that memory of its flight serves
// another one. Only one that Vary has made for a draw keeps any of its own.
func (p *Propeller) Release() {
	if p.scaled != nil {
		p.scaled.Release()
	}
}

// motor is the scale of a motor in the draw.
func (v *variation) motor(s motor.Stator, kv float64) motor.Scale {
	b := v.shared.motor(s, kv)
	return motor.Scale{
		KV: v.factor(motorKVError, b), Resistance: v.factor(motorResistance, b), Loss: v.factor(motorLoss, b),
		Chopping: v.factor(motorChopping, b), Mass: v.factor(motorMassError, b), Cooling: v.factor(motorCooling, b),
	}
}

// pack puts the errors of a pack on it.
func (v *variation) pack(k *pack.Pack) {
	b := v.shared.pack(k.Capacity)
	k.Mass *= v.factor(packMass, b)
	k.R *= v.factor(packResistance, b)
	k.Limit *= v.factor(packLimit, b)
}

// bladeErrors prepares the errors of a propeller of a pitch in m and a chord as in Design.
func (m *Model) bladeErrors(p *Propeller, pitch, chord float64) *bladeErrors {
	const middling = 0.35 // tip Mach number at which the sensitivities stand
	g := &p.Geometry
	at := fieldPoint(g.Diameter, pitch, g.Blades, chord)
	e := &bladeErrors{blade: partBasis{basis: field.Functions(at)}}
	n := middling * m.Air.SoundSpeed / (math.Pi * g.Diameter)
	s, err := rotor.SensitivityOf(*g, m.Air, n)
	for q := range s {
		if err == nil { // a rotor that gives hardly any thrust has no errors of it
			e.sense[q] = sensitivity(s[q])
		}
	}
	if ev := m.Assume.Evidence; ev != nil && p.Fit.Share > 0 {
		k := ev.correlations(at)
		y, _ := ev.given.At(k)
		e.blade.to[bladePitch] = k
		e.known = sensitivity(y)
	}
	return e
}

// statedPitch is the pitch in m of a blade of stated geometry, by its angle at 75 % radius.
func statedPitch(g *rotor.Geometry) float64 {
	const at = 0.75
	_, angle := g.Blade.At(at)
	return at * math.Pi * g.Diameter * math.Tan(angle)
}
