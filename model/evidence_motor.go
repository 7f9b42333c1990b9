package model

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/basis"
	"rotorsieve/model/field"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
	"rotorsieve/model/unit"
)

// Factor is what measurements say of a quantity over that of the model.
type Factor struct {
	Value         float64 // the most probable one; 1 where nothing is said
	Before, After float64 // standard deviation of its logarithm without and with the measurements
	Share         float64 // as that of a Fit
}

// MotorFit is what measurements say of a motor: factors on the model.
type MotorFit struct{ KV, Resistance, Loss, Chopping, Mass Factor }

// Scale is the fit as package motor takes it.
func (f MotorFit) Scale() motor.Scale {
	return motor.Scale{
		KV: f.KV.Value, Resistance: f.Resistance.Value, Loss: f.Loss.Value, Chopping: f.Chopping.Value,
		Mass: f.Mass.Value,
	}
}

// String says what is corrected and by how much: "KV ×0.97, resistance ×1.25". It
// is "none" for no correction.
func (f MotorFit) String() string {
	var said []string
	for _, c := range []struct {
		name string
		f    Factor
	}{{"KV", f.KV}, {"resistance", f.Resistance}, {"loss torque", f.Loss}, {"chopping", f.Chopping}, {"mass", f.Mass}} {
		if c.f.Share >= leastSaid {
			said = append(said, fmt.Sprintf("%s ×%.3g ±%.2g %%", c.name, c.f.Value, 100*c.f.After))
		}
	}
	if said == nil {
		return "none"
	}
	return strings.Join(said, ", ")
}

// Standard deviations of ln(motor/model) before a measurement: those that package
// motor states of its regressions and constants. The resistance goes with the inverse
// square of the motor constant, and the chopping loss with that of a pulse rate that
// is seldom known.
var motorSpread = func() map[*record.Quantity]float64 {
	constants := motor.Basis()
	sigma := func(symbol string) float64 { return basis.Find(constants, symbol).Sigma }
	return map[*record.Quantity]float64{
		record.KV:         sigma("KV under load"),
		record.Resistance: 2 * sigma("Km scale"),
		record.Loss:       sigma("T0 static"),
		record.Chopping:   math.Hypot(sigma("c"), 2*sigma("f stand")),
		record.Mass:       sigma("motor mass scale"),
	}
}()

// ChoppingSpread is the standard deviation of the logarithm of the chopping loss over
// that of the model where the pulse rate is known: of its scale and of how the controller
// makes pulses (common practice).
const ChoppingSpread = 0.40

// MotorSpread is the standard deviation of the logarithm of a quantity of a motor over
// that of the model before any is measured, which NewEvidence takes: of KV, resistance,
// loss torque, mass, and chopping loss at a pulse rate that is not known.
func MotorSpread(q *record.Quantity) float64 { return motorSpread[q] }

// How the errors of the model at two motors are correlated, chosen here: motors of one
// stator diameter share lamination, magnets and bearings, so that height says little and
// the winding, by which the KV is set, next to nothing; a sixth more in diameter is another
// lamination. A fifth of the variance is the motor's own.
const (
	motorShare    = 0.8
	motorDiameter = 0.15 // of ln d
	motorHeight   = 0.5  // of ln h
	motorKV       = 1.5  // of ln KV
	motorOwn      = 0.03 // of all three, for the part that is its own
)

// motorField is what was measured of one quantity of motors.
type motorField struct {
	spread float64
	seen   []motorSeen
	given  *field.Conditional
}

// motorSeen is ln(motor/model) of one motor, with its standard deviation.
type motorSeen struct {
	stator    motor.Stator
	kv        float64 // of the label, rpm/V
	ln, sigma float64
	key       string
	rate      float64 // of a chopping loss, Hz; 0 of all else
	place     string
}

// motorCorrelation is that of the errors of the model at two motors.
func motorCorrelation(a, b motor.Stator, kvA, kvB float64) float64 {
	d, h, kv := math.Log(a.Diameter/b.Diameter), math.Log(a.Height/b.Height), math.Log(kvA/kvB)
	return motorShare*bell(d/motorDiameter)*bell(h/motorHeight)*bell(kv/motorKV) +
		(1-motorShare)*bell(math.Hypot(math.Hypot(d, h), kv)/motorOwn)
}

func bell(x float64) float64 { return math.Exp(-x * x / 2) }

// motorFields gathers the records of motors by quantity; a current without load is
// one of the loss torque. An error names what is implausible.
func motorFields(records []record.Record) (map[*record.Quantity]*motorField, error) {
	out := map[*record.Quantity]*motorField{}
	if err := addMotors(out, records, false); err != nil {
		return nil, err
	}
	// What a current without load says of the loss depends on KV and resistance.
	return out, addMotors(out, records, true)
}

// addMotors adds the records of motors without load, or all others.
func addMotors(out map[*record.Quantity]*motorField, records []record.Record, idle bool) error {
	for i := range records {
		r := &records[i]
		if r.Subject.Kind != record.Motor || (r.Quantity == record.IdleCurrent) != idle {
			continue
		}
		q, s, err := seen(r, out)
		if err != nil {
			return fmt.Errorf("%s: %w", r.Place, err)
		}
		f := out[q]
		if f == nil {
			f = &motorField{spread: motorSpread[q]}
			out[q] = f
		}
		for _, o := range f.seen {
			apart := 2 * (1 - motorCorrelation(s.stator, o.stator, s.kv, o.kv)) * f.spread * f.spread
			if d := math.Abs(s.ln-o.ln) / math.Sqrt(apart+s.sigma*s.sigma+o.sigma*o.sigma); d > mostApart {
				return fmt.Errorf("%s: motor %s asks for %.3g times the %s of the model, but %s at %s for %.3g: "+
					"%.0f of their sigmas apart; want at most %d, larger sigmas, or one of the two",
					s.place, s.key, math.Exp(s.ln), q.Name, o.key, o.place, math.Exp(o.ln), d, mostApart)
			}
		}
		f.seen = append(f.seen, s)
	}
	for _, q := range record.Quantities {
		if f := out[q]; f != nil {
			if err := f.condition(); err != nil {
				return fmt.Errorf("motors, %s: %w", q.Name, err)
			}
		}
	}
	return nil
}

// seen is a record of a motor over the model, which other records may have
// corrected.
func seen(r *record.Record, others map[*record.Quantity]*motorField) (*record.Quantity, motorSeen, error) {
	d, h := unit.StatorSize(r.Subject.Stator)
	s := motorSeen{
		stator: motor.Stator{Diameter: d, Height: h}, kv: r.Subject.KV, sigma: r.Relative(),
		key: r.Subject.Key(), rate: r.At.PulseRate, place: r.Place,
	}
	const windings = 293.15 // K, of a record of the resistance
	m := motor.New(s.stator, s.kv, motor.Use{Winding: windings, PulseRate: motor.StandPulseRate})
	q, over := r.Quantity, r.Value
	switch q {
	case record.KV:
		over /= s.kv
	case record.Resistance:
		over /= m.R
	case record.Mass:
		over /= m.Mass
	case record.IdleCurrent:
		scale := motor.NoScale
		scale.KV = others[record.KV].at(s.stator, s.kv, motorSpread[record.KV]).Value
		scale.Resistance = others[record.Resistance].at(s.stator, s.kv, motorSpread[record.Resistance]).Value
		m = m.Scaled(scale)
		torque, n := m.IdleLoss(r.Value, r.At.Voltage)
		if !(n > 0) {
			return nil, s, fmt.Errorf("motor %s: %.3g A at %.3g V do not turn it; want the current without a propeller",
				s.key, r.Value, r.At.Voltage)
		}
		q, over = record.Loss, torque/m.LossTorque(n)
	}
	s.ln = math.Log(over)
	const most = 4
	if spread := motorSpread[q]; math.Abs(s.ln) > most*math.Hypot(spread, s.sigma) {
		return nil, s, fmt.Errorf("motor %s: the %s asks for %.3g times that of the model, which is known to ±%.0f "+
			"%%: "+
			"want it per motor, of the true stator and KV", s.key, r.Quantity.Name, over, 100*spread)
	}
	return q, s, nil
}

func (f *motorField) condition() error {
	K := mat.NewSymDense(len(f.seen), nil)
	for i, a := range f.seen {
		for j := i; j < len(f.seen); j++ {
			b := f.seen[j]
			K.SetSym(i, j, motorCorrelation(a.stator, b.stator, a.kv, b.kv))
		}
	}
	return f.conditionOn(K)
}

// conditionOn conditions the field on the motors measured, with correlations K.
func (f *motorField) conditionOn(K *mat.SymDense) (err error) {
	var given []field.Given
	for _, s := range f.seen {
		w := f.spread * f.spread / (s.sigma * s.sigma)
		given = append(given, field.Given{
			Estimate: []float64{s.ln / f.spread * w / (1 + w)}, Information: mat.NewSymDense(1, []float64{w}),
		})
	}
	f.given, err = field.Condition(K, given)
	return err
}

// at is what a field says of a motor; a nil one says nothing.
func (f *motorField) at(s motor.Stator, kv, spread float64) Factor {
	if f == nil {
		return Factor{Value: 1, Before: spread, After: spread}
	}
	return f.factor(f.correlations(s, kv))
}

// factor is what a field says at a motor whose correlations with those measured are k.
func (f *motorField) factor(k []float64) Factor {
	mean, left := f.given.At(k)
	return Factor{
		Value: math.Exp(mean[0] * f.spread), Share: f.given.Correlation(k),
		Before: f.spread, After: f.spread * math.Sqrt(left.At(0, 0)),
	}
}

// Motor is what the measurements say of the motor of a stator and a KV in rpm/V.
func (e *Evidence) Motor(s motor.Stator, kv float64) MotorFit {
	at := func(q *record.Quantity) Factor {
		if e == nil {
			return (*motorField)(nil).at(s, kv, motorSpread[q])
		}
		return e.motors[q].at(s, kv, motorSpread[q])
	}
	return MotorFit{
		KV: at(record.KV), Resistance: at(record.Resistance), Loss: at(record.Loss),
		Chopping: at(record.Chopping), Mass: at(record.Mass),
	}
}

// MotorMass is the factor that the measurements put on the mass of that motor.
func (e *Evidence) MotorMass(s motor.Stator, kv float64) float64 {
	if e == nil || e.motors[record.Mass] == nil {
		return 1
	}
	return e.motors[record.Mass].at(s, kv, motorSpread[record.Mass]).Value
}

// Motors names the motors that were measured, each once: "2207 1750KV".
func (e *Evidence) Motors() (keys []string) {
	if e == nil {
		return nil
	}
	for _, q := range record.Quantities {
		if f := e.motors[q]; f != nil {
			for _, s := range f.seen {
				if !slices.Contains(keys, s.key) {
					keys = append(keys, s.key)
				}
			}
		}
	}
	return keys
}

// learntOfMotors gives a line for each quantity of a motor that was measured.
func (e *Evidence) learntOfMotors() (lines []string) {
	for _, q := range record.Quantities {
		f := e.motors[q]
		if f == nil {
			continue
		}
		told := map[string]bool{}
		for _, s := range f.seen {
			name := q.Name
			if s.rate != 0 {
				name += " at " + unit.Frequency.WithDefault("kHz").Text(s.rate)
			}
			if told[s.key+name] {
				continue
			}
			told[s.key+name] = true
			v := f.at(s.stator, s.kv, f.spread)
			lines = append(lines, fmt.Sprintf("motor %s: %s %s that of the model, ±%.2g %%, was ±%.2g %%",
				s.key, name, times(v.Value), 100*v.After, 100*v.Before))
		}
	}
	return lines
}

// times is a factor in words.
func times(x float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.3g", x), ".0") + " times"
}
