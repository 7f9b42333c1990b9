package bench

import (
	"fmt"
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

func (q Quantity) String() string {
	return [...]string{"thrust", "electrical power", "torque", "speed at full throttle", "current at full throttle",
		"thrust at full throttle"}[q]
}

// Compared is a measured row beside the model.
type Compared struct {
	Row
	At   flight.StandPoint // of the model, at the speed and voltage of the row
	Full flight.StandPoint // at full duty; of a row of full throttle alone
	// Off is the model over the measurement less 1; NaN where there is none.
	Off [quantities]float64
	Odd bool // it cannot be, or another row contradicts it; see Rig.Odd
}

// Compare puts rows beside the model. A row that the model has no state for, past the
// speeds that it covers, has no differences.
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

// at is the model's state for a row: at its speed, or at its throttle where its file
// has no speeds, and at its loaded voltage.
func (r *Rig) at(row *Row, turns bool) (flight.StandPoint, bool) {
	s := r.Stand
	s.Volts, s.Resistance = row.Volts, 0
	if turns {
		return s.AtSpeed(row.Speed)
	}
	return s.AtDuty(min(1, row.Throttle))
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

// Oddity is a row that cannot be, or that another contradicts.
type Oddity struct {
	Line int
	Text string // file:line and what is wrong
	rows []int  // which are not believed
}

// oddRows are the places of the rows that Odd names.
func (r *Rig) oddRows(u *Used) (rows []int) {
	for _, o := range r.Odd(u) {
		rows = append(rows, o.rows...)
	}
	return rows
}

// Odd names what is impossible or contradictory in rows: thrust whose ideal power
// (momentum theory) is more than the electrical, shaft power that is, speeds that
// the label's KV does not give, and thrusts at one speed that are too far apart.
func (r *Rig) Odd(u *Used) (all []Oddity) {
	const (
		overspeed = 1.1  // of KV times voltage
		same      = 0.01 // of the speed
		apart     = 0.25 // of the thrust
	)
	rho, disc := r.Rotor.Air().Density, math.Pi/4*r.Diameter*r.Diameter
	for i := range u.Rows {
		m := &u.Rows[i]
		odd := func(format string, args ...any) {
			place := fmt.Sprintf("%s:%d: ", u.Name, m.Line)
			all = append(all, Oddity{Line: m.Line, rows: []int{i}, Text: place + fmt.Sprintf(format, args...)})
		}
		P := m.Electrical()
		if ideal := m.Thrust * math.Sqrt(m.Thrust/(2*rho*disc)); ideal > P {
			odd("the ideal power of %.4g N is %.4g W, above the electrical power of %.4g W", m.Thrust, ideal, P)
		}
		if shaft := 2 * math.Pi * m.Speed * m.Torque; shaft > P {
			odd("the torque of %.4g N m takes %.4g W, above the electrical power of %.4g W", m.Torque, shaft, P)
		}
		if free := r.Motor.KV * m.Volts / 60; m.Speed > overspeed*free {
			odd("%.0f rpm is above %.0f rpm, KV times the voltage, by more than 10 %%", 60*m.Speed, 60*free)
		}
		// Against the others at its speed; of two that contradict each other the later
		// is named and neither believed.
		near, against := 0, []int{}
		for j := range u.Rows {
			o := &u.Rows[j]
			if j == i || o.Propeller != m.Propeller || !(math.Abs(o.Speed-m.Speed) <= same*m.Speed) {
				continue
			}
			near++
			a, b := m.Thrust/(m.Speed*m.Speed), o.Thrust/(o.Speed*o.Speed)
			if max(a, b) > (1+apart)*min(a, b) {
				against = append(against, j)
			}
		}
		if len(against) == 0 || 2*len(against) < near {
			continue
		}
		o := &u.Rows[against[0]]
		if pair := near == 1; pair && against[0] > i {
			continue
		} else if pair {
			against = append(against, i)
		} else {
			against = []int{i}
		}
		odd("%.4g N at %.0f rpm, but %.4g N at %.0f rpm on line %d, of the same propeller", m.Thrust, 60*m.Speed, o.Thrust,
			60*o.Speed, o.Line)
		all[len(all)-1].rows = against
	}
	return all
}
