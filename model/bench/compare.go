package bench

import (
	"math"
	"slices"

	"rotorsieve/model/flight"
)

// Quantity is one in which the model and a measurement are compared.
type Quantity int

// The quantities: at the measured speed and voltage, and for rows of full throttle
// at full duty of the measured voltage. Where a file has no speeds, the first three
// are at the measured throttle.
const (
	ThrustAtSpeed Quantity = iota
	PowerAtSpeed
	TorqueAtSpeed
	FullSpeed
	FullCurrent
	FullThrust
	quantities
)

// Quantities lists them.
var Quantities = [...]Quantity{ThrustAtSpeed, PowerAtSpeed, TorqueAtSpeed, FullSpeed, FullCurrent, FullThrust}

// String names the quantity.
func (q Quantity) String() string {
	return [...]string{"thrust", "electrical power", "torque", "speed at full throttle", "current at full throttle",
		"thrust at full throttle"}[q]
}

// Compared is a measured row with the state of the model at it.
type Compared struct {
	Row
	At   flight.StandPoint // of the model, at the speed and voltage of the row
	Full flight.StandPoint // at full duty; of a row of full throttle alone
	// Off is the model over the measurement less 1; NaN where there is none.
	Off [quantities]float64
	Odd bool // impossible, or contradicted by another row; see Rig.Odd
}

// Compare sets rows against the model. A row past the speeds that the model covers has
// no differences.
func (r *Rig) Compare(u *Used) []Compared {
	out := make([]Compared, 0, len(u.Rows))
	drop := r.oddRows(u)
	for i, row := range u.Rows {
		c := Compared{Row: row, Odd: slices.Contains(drop, i)}
		for q := range c.Off {
			c.Off[q] = math.NaN()
		}
		s := r.Stand
		s.Volts, s.Resistance = row.Volts, 0 // the voltage is loaded
		if p, ok := r.at(&row, u.Turns); ok {
			c.At = p
			c.Off[ThrustAtSpeed] = p.Thrust/row.Thrust - 1
			c.Off[PowerAtSpeed] = p.Electrical()/row.Electrical() - 1
			if row.Torque > 0 {
				c.Off[TorqueAtSpeed] = p.Torque/row.Torque - 1
			}
		}
		if row.Full() {
			if p, ok := s.AtDuty(1); ok {
				c.Full = p
				c.Off[FullSpeed] = p.Speed/row.Speed - 1 // NaN where it was not measured
				c.Off[FullCurrent] = p.Current/row.Amps - 1
				c.Off[FullThrust] = p.Thrust/row.Thrust - 1
			}
		}
		out = append(out, c)
	}
	return out
}

// at is the model's state at a row's speed, or at its throttle where its file has no
// speeds, and at its loaded voltage.
func (r *Rig) at(row *Row, turns bool) (flight.StandPoint, bool) {
	s := r.Stand
	s.Volts, s.Resistance = row.Volts, 0
	if turns {
		return s.AtSpeed(row.Speed)
	}
	return s.AtDuty(min(1, row.Throttle))
}

// fitted is at, for a fit: what a controller loses by switching begins just below full duty,
// a step on which a fit would stick, and take its estimate for certain.
func (r *Rig) fitted(row *Row, turns bool) (flight.StandPoint, bool) {
	if !(turns && row.Full()) {
		return r.at(row, turns)
	}
	s := r.Stand
	s.Volts, s.Resistance = row.Volts, 0
	return s.Unswitched(row.Speed)
}

// Summary is how far the model is off in one quantity.
type Summary struct {
	Points    int
	Mean, RMS float64 // of Compared.Off
}

// Summarise sums up a quantity over the rows that are not odd; Points is 0 where none
// has it.
func Summarise(all []Compared, q Quantity) (s Summary) {
	for i := range all {
		if v := all[i].Off[q]; finite(v) && !all[i].Odd {
			s.Points++
			s.Mean += v
			s.RMS += v * v
		}
	}
	if s.Points > 0 {
		s.Mean /= float64(s.Points)
		s.RMS = math.Sqrt(s.RMS / float64(s.Points))
	}
	return s
}
