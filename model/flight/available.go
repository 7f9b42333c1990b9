package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/rotor"
)

// Thrusts are the thrust that level flight at an airspeed needs and that available,
// of all rotors along their axes, in N, net of the drag of the arms in the slipstream.
type Thrusts struct {
	Airspeed float64 // m/s
	Tilt     float64 // of the discs from the level in the trim, rad
	Needed   float64 // for trim, T = W cos tilt + D sin tilt; nearly sqrt(W^2 + D^2)
	// Available is that of full duty in the flow of the trim, at its tilt, with
	// the pack at the charge of full throttle and sagging under the current.
	Available float64
	Turns     float64 // of full duty in the same flow, rev/s
}

// Thrusts compares the thrust that level flight of a mass in kg and its body needs at an
// airspeed in m/s, at least 0, with that of full throttle. The two are equal at
// the top speed of a craft that the throttle limits. At rest the one is the
// weight, the other the thrust of Static. It is false where no speed of rotation that
// the rotor model covers supports the craft, or full duty drives the propellers
// past those speeds.
func (d *Drive) Thrusts(p *Propulsor, c motor.Controller, mass float64, b Body, airspeed float64) (Thrusts, bool) {
	t, ok := p.Level(mass*Gravity, b, airspeed)
	if !ok {
		return Thrusts{}, false
	}
	sin, cos := math.Sincos(t.Tilt)
	full := d.inFlow(p, c, rotor.Flow{Axial: airspeed * sin, InPlane: airspeed * cos})
	return Thrusts{Airspeed: airspeed, Tilt: t.Tilt, Needed: t.Thrust, Available: frame.Rotors * full.Thrust,
		Turns: full.Speed}, full.OK
}

// inFlow finds the full-throttle point in a flow, where Static finds it at rest:
// full duty, the pack at the charge of full throttle. The propellers unload in a
// flow through their discs, so that they turn faster and draw less. Where OK is
// false the rest is zero.
func (d *Drive) inFlow(p *Propulsor, c motor.Controller, f rotor.Flow) FullThrottle {
	at := FullThrottle{Controller: c}
	// spare is the voltage that full duty leaves, in V, and falls with the speed.
	spare := func(n float64) float64 {
		load, ok := p.inclined(f, n)
		if !ok {
			return math.Inf(-1)
		}
		at.Speed, at.Thrust, at.Torque = n, load.Thrust*p.Installed, load.Power/(2*math.Pi*n)
		at.Current = d.Motor.Current(at.Torque, n)
		at.PackVoltage, _, at.OK = d.sag(at.Current)
		if !at.OK {
			return math.Inf(-1)
		}
		return at.PackVoltage - c.Series()*at.Current - d.Motor.Voltage(at.Current, n)
	}
	lo, hi := p.nMin, p.nMax
	flo, fhi := spare(lo), spare(hi)
	if !(flo >= 0 && fhi < 0) {
		return FullThrottle{}
	}
	if spare(seek.Between(spare, lo, hi, flo, fhi)); !at.OK {
		return FullThrottle{}
	}
	at.PackCurrent = frame.Rotors*at.Current + d.steady()/at.PackVoltage
	return at
}
