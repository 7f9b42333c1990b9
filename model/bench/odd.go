package bench

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Oddity is a row that is impossible or that another contradicts.
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

// Bounds on rows that contradict each other, chosen here: a stand errs by a few per
// cent, and all rows are of one propeller and one motor.
const (
	sameSpeed   = 0.01
	sameVoltage = 0.03
	apart       = 0.25 // of thrust or power
)

// Odd names what is impossible or contradictory in rows, by line: thrust whose ideal
// power (momentum theory) exceeds the electrical, shaft power that does, speeds that
// the label's KV does not give, thrusts at one speed, and electrical powers at one speed
// and voltage, that are more than 25 % apart.
func (r *Rig) Odd(u *Used) (all []Oddity) {
	impossible := make([]bool, len(u.Rows))
	for i := range u.Rows {
		for _, text := range r.impossible(&u.Rows[i]) {
			impossible[i] = true
			all = append(all, Oddity{Line: u.Rows[i].Line, rows: []int{i}, Text: text})
		}
	}
	for i := range u.Rows {
		if impossible[i] {
			continue
		}
		for _, c := range clashes {
			if o, ok := c.at(u, i, impossible); ok {
				all = append(all, o)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Oddity) int { return cmp.Compare(a.Line, b.Line) })
	for i := range all {
		all[i].Text = fmt.Sprintf("%s:%d: %s", u.Name, all[i].Line, all[i].Text)
	}
	return all
}

// impossible says what in a row is impossible.
func (r *Rig) impossible(m *Row) (why []string) {
	const overspeed = 1.1 // of KV times voltage
	disc := math.Pi / 4 * r.Diameter * r.Diameter
	P := m.Electrical()
	if ideal := m.Thrust * math.Sqrt(m.Thrust/(2*r.Rotor.Air().Density*disc)); ideal > P {
		why = append(why, fmt.Sprintf("the ideal power of %.4g N is %.4g W, above the electrical power of %.4g W",
			m.Thrust, ideal, P))
	}
	if shaft := 2 * math.Pi * m.Speed * m.Torque; shaft > P {
		why = append(why, fmt.Sprintf("the torque of %.4g N m takes %.4g W, above the electrical power of %.4g W",
			m.Torque, shaft, P))
	}
	if free := r.Motor.KV * m.Volts / 60; m.Speed > overspeed*free {
		why = append(why, fmt.Sprintf("%.0f rpm is above %.0f rpm, KV times the voltage, by more than 10 %%",
			60*m.Speed, 60*free))
	}
	return why
}

// clash is a quantity that rows in one state agree in.
type clash struct {
	value func(*Row) float64 // at a speed that is nearly the same
	same  func(a, b *Row) bool
	said  func(*Row) string
	of    string
}

var clashes = []clash{
	{
		value: func(r *Row) float64 { return r.Thrust / (r.Speed * r.Speed) },
		same:  func(a, b *Row) bool { return a.Propeller == b.Propeller && near(a.Speed, b.Speed, sameSpeed) },
		said:  func(r *Row) string { return fmt.Sprintf("%.4g N at %.0f rpm", r.Thrust, 60*r.Speed) },
		of:    "propeller",
	},
	{
		value: func(r *Row) float64 { return r.Electrical() / (r.Speed * r.Speed * r.Speed) },
		same: func(a, b *Row) bool {
			return a.Propeller == b.Propeller && a.Motor == b.Motor && near(a.Speed, b.Speed, sameSpeed) &&
				near(a.Volts, b.Volts, sameVoltage)
		},
		said: func(r *Row) string {
			return fmt.Sprintf("%.4g W at %.0f rpm and %.4g V", r.Electrical(), 60*r.Speed, r.Volts)
		},
		of: "motor and propeller",
	},
}

// near is false where either number is NaN.
func near(a, b, share float64) bool { return math.Abs(a-b) <= share*b }

// at is what row i has against it of the others in its state. Of two that contradict
// each other the later is named and neither believed; of more, those in the minority.
func (c *clash) at(u *Used, i int, leave []bool) (Oddity, bool) {
	m := &u.Rows[i]
	alike, against := 0, []int{}
	for j := range u.Rows {
		o := &u.Rows[j]
		if j == i || leave[j] || !c.same(o, m) {
			continue
		}
		alike++
		if a, b := c.value(m), c.value(o); max(a, b) > (1+apart)*min(a, b) {
			against = append(against, j)
		}
	}
	pair := alike == 1
	if len(against) == 0 || pair && against[0] > i || !pair && 2*len(against) <= alike {
		return Oddity{}, false
	}
	o := &u.Rows[against[0]]
	rows := []int{i}
	if pair {
		rows = append(rows, against[0])
	}
	return Oddity{Line: m.Line, rows: rows,
		Text: fmt.Sprintf("%s, but %s on line %d, of the same %s", c.said(m), c.said(o), o.Line, c.of)}, true
}
