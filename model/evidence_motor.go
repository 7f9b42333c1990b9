package model

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model/basis"
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
type MotorFit struct{ KV, Resistance, Loss, Chopping, Mass, Cooling Factor }

// Scale is the fit as package motor takes it.
func (f MotorFit) Scale() motor.Scale {
	return motor.Scale{
		KV: f.KV.Value, Resistance: f.Resistance.Value, Loss: f.Loss.Value, Chopping: f.Chopping.Value,
		Mass: f.Mass.Value, Cooling: f.Cooling.Value,
	}
}

// String says what is corrected and by how much: "KV ×0.97, resistance ×1.25". It
// is "none" for no correction.
func (f MotorFit) String() string {
	return corrected(f.KV.told("KV"), f.Resistance.told("resistance"), f.Loss.told("loss torque"),
		f.Chopping.told("chopping"), f.Mass.told("mass"), f.Cooling.told("cooling"))
}

// corrected are corrections that are said, in one line.
func corrected(all ...string) string {
	if all = slices.DeleteFunc(all, func(s string) bool { return s == "" }); len(all) == 0 {
		return "none"
	}
	return strings.Join(all, ", ")
}

// told is the factor on what has a name: "mass ×1.03 ±2 %"; "" for nothing worth a word.
func (f Factor) told(name string) string {
	if f.Share < leastSaid {
		return ""
	}
	return fmt.Sprintf("%s ×%.3g ±%.2g %%", name, f.Value, 100*f.After)
}

// Said says the factor on what has a name, as told by MotorFit.String; "none" for none.
func (f Factor) Said(name string) string { return corrected(f.told(name)) }

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
		record.Cooling:    sigma("G"),
	}
}()

// ChoppingSpread is the standard deviation of the logarithm of the chopping loss over
// that of the model where the pulse rate is known: of its scale and of how the controller
// makes pulses (common practice).
const ChoppingSpread = 0.40

// MotorSpread is the standard deviation of the logarithm of a quantity of a motor over
// that of the model before any is measured, which NewEvidence takes: of KV, resistance,
// loss torque, mass, cooling, and chopping loss at a pulse rate that is not known.
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

// motorPart is where a motor stands among others.
type motorPart struct {
	stator motor.Stator
	kv     float64 // of the label, rpm/V
}

// nearMotors is the correlation of the errors of the model at two motors.
func nearMotors(a, b motorPart) float64 {
	d, h := math.Log(a.stator.Diameter/b.stator.Diameter), math.Log(a.stator.Height/b.stator.Height)
	kv := math.Log(a.kv / b.kv)
	return motorShare*bell(d/motorDiameter)*bell(h/motorHeight)*bell(kv/motorKV) +
		(1-motorShare)*bell(math.Hypot(math.Hypot(d, h), kv)/motorOwn)
}

// newMotorField is the field of a quantity of motors of which none was measured.
func newMotorField(q *record.Quantity) *scalarField[motorPart] {
	return &scalarField[motorPart]{spread: motorSpread[q], near: nearMotors}
}

// unmeasured are the fields of motors where nothing was measured.
var unmeasured = func() map[*record.Quantity]*scalarField[motorPart] {
	out := map[*record.Quantity]*scalarField[motorPart]{}
	for q := range motorSpread {
		out[q] = newMotorField(q)
	}
	return out
}()

// motor is the field of a quantity of motors.
func (e *Evidence) motor(q *record.Quantity) *scalarField[motorPart] {
	if e != nil && e.motors[q] != nil {
		return e.motors[q]
	}
	return unmeasured[q]
}

// motorFields adds the records of motors, by quantity; a current without load is one of
// the loss torque. An error names what is implausible.
func (e *Evidence) motorFields(records []record.Record) error {
	e.motors = map[*record.Quantity]*scalarField[motorPart]{}
	// What a current without load says of the loss depends on KV and resistance, and what
	// a motor passes to the air on its mass.
	follows := func(q *record.Quantity) bool { return q == record.IdleCurrent || q == record.Cooling }
	for _, late := range []bool{false, true} {
		for i := range records {
			r := &records[i]
			if r.Subject.Kind != record.Motor || follows(r.Quantity) != late {
				continue
			}
			q, s, err := e.seenMotor(r)
			if err != nil {
				return fmt.Errorf("%s: %w", r.Place, err)
			}
			f := e.motors[q]
			if f == nil {
				f = newMotorField(q)
				e.motors[q] = f
			}
			if err := f.add(s, record.Motor, q.Name); err != nil {
				return fmt.Errorf("%s: %w", r.Place, err)
			}
		}
		for _, q := range record.Quantities {
			if f := e.motors[q]; f != nil {
				if err := f.condition(); err != nil {
					return fmt.Errorf("motors, %s: %w", q.Name, err)
				}
			}
		}
	}
	return nil
}

// seenMotor is a record of a motor over the model, which other records may have
// corrected.
func (e *Evidence) seenMotor(r *record.Record) (*record.Quantity, seenPart[motorPart], error) {
	d, h := unit.StatorSize(r.Subject.Stator)
	of := motorPart{motor.Stator{Diameter: d, Height: h}, r.Subject.KV}
	s := seenPart[motorPart]{part: of, sigma: r.Relative(), key: r.Subject.Key(), rate: r.At.PulseRate, place: r.Place}
	const windings = 293.15 // K, of a record of the resistance
	m := motor.New(of.stator, of.kv, motor.Use{Winding: windings, PulseRate: motor.StandPulseRate})
	q, over := r.Quantity, r.Value
	scale := motor.NoScale
	switch q {
	case record.KV:
		over /= of.kv
	case record.Resistance:
		over /= m.R
	case record.Mass:
		over /= m.Mass
	case record.IdleCurrent:
		scale.KV = e.motor(record.KV).at(of).Value
		scale.Resistance = e.motor(record.Resistance).at(of).Value
		m = m.Scaled(scale)
		torque, n := m.IdleLoss(r.Value, r.At.Voltage)
		if !(n > 0) {
			return nil, s, fmt.Errorf("motor %s: %.3g A at %.3g V do not turn it; want the current without a propeller",
				s.key, r.Value, r.At.Voltage)
		}
		q, over = record.Loss, torque/m.LossTorque(n)
	case record.Cooling:
		a, err := airOf(r.At)
		if err != nil {
			return nil, s, err
		}
		scale.Mass = e.motor(record.Mass).at(of).Value
		m = m.Scaled(scale)
		over /= m.Conductance(a.Density * r.At.Wash)
	}
	s.ln = math.Log(over)
	if tooFar(s.ln, s.sigma, motorSpread[q]) {
		return nil, s, fmt.Errorf("motor %s: the %s asks for %.3g times that of the model, which is known to ±%.0f "+
			"%%: "+
			"want it per motor, of the true stator and KV", s.key, r.Quantity.Name, over, 100*motorSpread[q])
	}
	return q, s, nil
}

// Motor is what the measurements say of the motor of a stator and a KV in rpm/V.
func (e *Evidence) Motor(s motor.Stator, kv float64) MotorFit {
	at := func(q *record.Quantity) Factor { return e.motor(q).at(motorPart{s, kv}) }
	return MotorFit{
		KV: at(record.KV), Resistance: at(record.Resistance), Loss: at(record.Loss),
		Chopping: at(record.Chopping), Mass: at(record.Mass), Cooling: at(record.Cooling),
	}
}

// MotorMass is the factor that the measurements put on the mass of that motor.
func (e *Evidence) MotorMass(s motor.Stator, kv float64) float64 {
	return e.motor(record.Mass).at(motorPart{s, kv}).Value
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
			v := f.at(s.part)
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
