package flight

import (
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// Demand is what a level flight that is asked for takes at least, of no craft less that is as
// heavy or heavier, with the same propellers and motors, as many cells in series, and a pack
// and controllers of as much resistance or more. The zero Demand says nothing.
type Demand struct {
	power, volts float64 // W, and loaded, V
	over         float64 // speed over ground, m/s; 0 where it is not the same for all
	draw         draw
}

// DemandAt is that at an airspeed in m/s.
func (d *Drive) DemandAt(e *Envelope, c motor.Controller, mass, airspeed float64) Demand {
	x, ok := d.Level(e, c, mass, airspeed)
	if !ok {
		return Demand{}
	}
	return d.demand(&x, 1)
}

// DemandAgainst is that of the least power over the speed over ground into a head wind in m/s.
func (d *Drive) DemandAgainst(e *Envelope, c motor.Controller, mass, wind float64) Demand {
	var x Cruise
	var r row
	if !e.find(&r, mass) {
		return Demand{}
	}
	d.against(&x, &r.level, c, wind, float64(r.level.nodes-1))
	if !x.OK || !(x.Airspeed > wind) {
		return Demand{}
	}
	return d.demand(&x, x.Airspeed-wind)
}

func (d *Drive) demand(x *Cruise, over float64) Demand {
	return Demand{power: x.Power, volts: x.PackVoltage, over: over, draw: d.drawn(x)}
}

// Power bounds the power in W of a mass that is times as much, at least 1, on a pack; 0 where
// nothing is known.
func (b *Demand) Power(times float64, k *pack.Pack) float64 {
	return b.least(times, k) * (1 - statedMargin)
}

// Per bounds the power over the speed over ground, W s/m.
func (b *Demand) Per(times float64, k *pack.Pack) float64 {
	if b.power == 0 {
		return 0
	}
	return b.least(times, k) * (1 - groundMargin) / b.over
}

// Margins as BoundMargin is one. At a stated airspeed a heavier craft tilts less, which
// unloads propellers near the end of their pitch. Chosen from measurements, see
// DEVELOPERS.md.
const (
	statedMargin = 0.01
	groundMargin = 0.004
)

// least bounds the power without a margin. That which turns the rotors is taken to be no
// less than of the lighter craft.
func (b *Demand) least(times float64, k *pack.Pack) float64 {
	if b.power == 0 {
		return 0
	}
	return b.draw.loading(b.power, b.volts, times, 0, k)
}
