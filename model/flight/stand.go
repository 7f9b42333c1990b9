package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/root"
)

// Stand is one rotor at rest on a supply, as thrust stands have it: the chain of a
// Drive for a single motor.
type Stand struct {
	Motor      motor.Motor
	Controller motor.Controller
	Propulsor  *Propulsor // its Installed is 1 with a free slipstream
	Volts      float64    // rested, of the supply, V
	Resistance float64    // of the supply and its leads, at least 0, ohm

	// Factors on thrust and shaft power of the propulsor, 1 for none.
	Thrust, Power float64
}

// StandPoint is a steady state of a stand.
type StandPoint struct {
	Speed  float64 // rev/s
	Thrust float64 // N
	Torque float64 // at the shaft, N m

	Duty         float64 // of the controller, 0..1; above 1 the voltage is too low
	Voltage      float64 // loaded, at the controller, V
	Current      float64 // of the supply, A
	MotorVoltage float64 // V
	MotorCurrent float64 // A

	// Where the electrical power goes, in W.
	Shaft, Winding, Friction, Chopping, Leads, Switches, Idle float64
}

// Electrical is the power that enters the controller, in W.
func (p *StandPoint) Electrical() float64 { return p.Voltage * p.Current }

// PerWatt is the thrust over the electrical power in N/W.
func (p *StandPoint) PerWatt() float64 { return p.Thrust / p.Electrical() }

// MotorEfficiency is the shaft power over all that enters the motor, 0..1.
func (p *StandPoint) MotorEfficiency() float64 {
	return p.Shaft / (p.Shaft + p.Winding + p.Friction + p.Chopping)
}

// What bounds a state of a stand.
const (
	ByDuty   = "full duty"
	ByRotor  = "rotor model's end"
	ByRating = "controller rating"
	BySource = "source's most power"
)

// NewStand puts a motor and a propulsor on a supply that rests at volts. The
// controller is the one that its full throttle asks for, as in Drive.Static.
func NewStand(m motor.Motor, p *Propulsor, volts, resistance float64) Stand {
	s := Stand{Motor: m, Propulsor: p, Volts: volts, Resistance: resistance, Thrust: 1, Power: 1}
	d := s.drive()
	s.Controller = d.Static(p).Controller
	return s
}

// drive is the drive of four such stands on one source of a quarter of the
// resistance: each of them has the state that it has alone.
func (s *Stand) drive() Drive {
	return Drive{Motor: s.Motor, RestedTop: s.Volts, Pack: pack.Pack{R: s.Resistance / frame.Rotors}}
}

// load is thrust in N and torque in N m at n rev/s.
func (s *Stand) load(n float64) (T, Q float64) {
	T, Q = s.Propulsor.static(n)
	return s.Thrust * T, s.Power * Q
}

// point is the state at n rev/s with a loaded voltage V; edges says whether the
// controller switches, as it does below full duty.
func (s *Stand) point(n, V float64, edges bool) (p StandPoint) {
	m := &s.Motor
	p.Speed, p.Voltage = n, V
	p.Thrust, p.Torque = s.load(n)
	i := m.Current(p.Torque, n)
	p.MotorCurrent, p.MotorVoltage = i, m.Voltage(i, n)
	u := p.MotorVoltage + s.Controller.Series()*i
	p.Duty = u / V
	p.Shaft = 2 * math.Pi * n * p.Torque
	p.Friction = 2 * math.Pi * n * m.LossTorque(n)
	p.Winding = m.R * i * i
	p.Leads = s.Controller.Leads * i * i
	p.Switches = s.Controller.R * i * i
	p.Idle = m.Logic
	if edges {
		p.Chopping = m.Chopping(u, V)
		p.Switches += m.Switching(i) * V
	}
	p.Current = (u*i + p.Chopping + p.Idle) / V
	if edges {
		p.Current += m.Switching(i)
	}
	return p
}

// Speeds are those of rotation in rev/s that the rotor model covers.
func (s *Stand) Speeds() (least, most float64) { return s.Propulsor.nMin, s.Propulsor.nMax }

// AtDuty is the state at a duty of the controller, above 0, up to 1. At a duty the
// loaded voltage follows from the speed, and there is one speed at which the supply
// gives it. It is false where that is not among the speeds that the rotor model
// covers.
func (s *Stand) AtDuty(duty float64) (StandPoint, bool) {
	var p StandPoint
	spare := func(n float64) float64 {
		_, Q := s.load(n)
		i := s.Motor.Current(Q, n)
		p = s.point(n, (s.Motor.Voltage(i, n)+s.Controller.Series()*i)/duty, duty < 1)
		return s.Volts - s.Resistance*p.Current - p.Voltage
	}
	n, ok := s.falls(spare)
	if !(duty > 0 && ok) {
		return StandPoint{}, false
	}
	spare(n)
	p.Duty = duty // exactly
	return p, true
}

// AtSpeed is the state at n rev/s, of the two that the supply may have the one of
// higher voltage. Its duty may be above 1: the supply then gives too little voltage.
// It is false past the speeds that the rotor model covers and the most power of the
// supply.
func (s *Stand) AtSpeed(n float64) (StandPoint, bool) {
	least, most := s.Speeds()
	if !(n >= least && n <= most) {
		return StandPoint{}, false
	}
	_, Q := s.load(n)
	d := s.drive()
	if t := d.Turn(s.Controller, s.Volts, n, Q); t.OK && t.Duty < 1 && !rounded(t.Duty) {
		return s.point(n, t.PackVoltage, true), true
	}
	return s.Unswitched(n)
}

// Unswitched is AtSpeed without what a controller loses by switching, whatever the duty:
// of a state that is known to be one of full throttle.
func (s *Stand) Unswitched(n float64) (StandPoint, bool) {
	least, most := s.Speeds()
	if !(n >= least && n <= most) {
		return StandPoint{}, false
	}
	_, Q := s.load(n)
	i := s.Motor.Current(Q, n)
	u := s.Motor.Voltage(i, n) + s.Controller.Series()*i
	disc := s.Volts*s.Volts - 4*s.Resistance*(u*i+s.Motor.Logic)
	if !(disc >= 0) {
		return StandPoint{}, false
	}
	p := s.point(n, (s.Volts+math.Sqrt(disc))/2, false)
	if rounded(p.Duty) {
		p.Duty = 1
	}
	return p, true
}

// rounded says whether a duty is 1 but for the digits that a speed was written down with.
func rounded(duty float64) bool { return math.Abs(duty-1) < 1e-6 }

// AtThrust is AtSpeed for the speed that gives a thrust in N.
func (s *Stand) AtThrust(thrust float64) (StandPoint, bool) {
	short := func(n float64) float64 {
		T, _ := s.load(n)
		return thrust - T
	}
	n, ok := s.falls(short)
	if !ok {
		return StandPoint{}, false
	}
	return s.AtSpeed(n)
}

// falls is the speed at which a function falls through 0, to the last bits. It is false
// where it does not do so within the speeds that the rotor model covers.
func (s *Stand) falls(f func(n float64) float64) (n float64, ok bool) {
	least, most := s.Speeds()
	low, high := f(least), f(most)
	if !(low >= 0 && high < 0) {
		return 0, false
	}
	return root.Secant{Step: 1e-10}.Between(f, least, most, low, high), true
}

// Top is the fastest state and what bounds it: ByDuty, ByRotor or BySource.
func (s *Stand) Top() (StandPoint, string) {
	least, most := s.Speeds()
	full, ok := s.AtDuty(1)
	switch {
	case !ok:
		p, ok := s.AtSpeed(most)
		if ok && p.Duty <= 1 {
			return p, ByRotor
		}
		full.Speed = least // too little for any speed
	case 2*full.Voltage >= s.Volts:
		return full, ByDuty
	}
	// Full duty drags the supply past its most power: less of it turns faster.
	last := full
	root.Last(func(n float64) bool {
		p, ok := s.AtSpeed(n)
		if ok = ok && p.Duty <= 1; ok {
			last = p
		}
		return ok
	}, full.Speed, most, 0)
	return last, BySource
}

// Bounds lists the bounds that a state is at or past: ByDuty, BySource and ByRating.
func (s *Stand) Bounds(p *StandPoint) (by []string) {
	if p.Duty >= 1 {
		by = append(by, ByDuty)
	}
	if 2*p.Voltage < s.Volts {
		by = append(by, BySource)
	}
	if p.MotorCurrent > s.Controller.Rating {
		by = append(by, ByRating)
	}
	return by
}

// Heat is what warms the motor in a state, in air of a temperature in K.
func (s *Stand) Heat(p *StandPoint, air float64) motor.Heat {
	return motor.Heat{Current: p.MotorCurrent, Speed: p.Speed, Air: air, Chopping: p.Chopping,
		Conductance: s.Motor.Conductance(s.Propulsor.Density * s.Propulsor.Wash(p.Thrust))}
}
