package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// At gives the craft's steady level flight at an airspeed in m/s that it keeps up, hover at
// none. It is false past the top speed, and where the pack's mean voltage is too little. The
// craft has been flown.
func (c *Craft) At(airspeed float64) (flight.Cruise, bool) {
	if airspeed == 0 {
		return flight.Cruise{Point: c.Hover}, c.Hover.OK
	}
	t := c.Powertrain
	return t.Drive.At(t.Propeller.Envelope(), &c.Flight, t.Full.Controller, c.Mass, airspeed)
}

// asked is the flight at the airspeed that is asked for.
func (c *Craft) asked() (flight.Cruise, bool) {
	V := c.Model.Assume.Airspeed
	if V == 0 {
		return flight.Cruise{}, false
	}
	return c.At(V)
}

// lasting is the time in s that the pack keeps up a flight.
func (c *Craft) lasting(x *flight.Cruise) float64 { return c.Powertrain.Drive.Pack.Endurance(x.Power) }

// stationTime is the time in s that the craft holds a place in the wind.
func (c *Craft) stationTime() float64 {
	x, ok := c.At(c.Model.Assume.Wind)
	if !ok {
		return math.NaN()
	}
	return c.lasting(&x)
}

// Against gives the flight of best range over ground into a head wind in m/s; below 0 is a
// tail wind. It is false where the craft comes no way forward.
func (c *Craft) Against(wind float64) (flight.Cruise, bool) {
	if wind == 0 {
		return c.Flight.Range, c.Flight.Range.Airspeed > 0
	}
	t := c.Powertrain
	return t.Drive.Against(t.Propeller.Envelope(), &c.Flight, t.Full.Controller, c.Mass, wind)
}

func (c *Craft) upwindSpeed() float64 {
	x, ok := c.Against(c.Model.Assume.Wind)
	if !ok {
		return math.NaN()
	}
	return x.Airspeed
}

// upwindRange is a distance in m.
func (c *Craft) upwindRange() float64 {
	w := c.Model.Assume.Wind
	x, ok := c.Against(w)
	if !ok {
		return math.NaN()
	}
	return (x.Airspeed - w) * c.lasting(&x)
}

// returnTrip is a flight out and back.
type returnTrip struct {
	up, down flight.Cruise // against the wind and with it
	per      float64       // time for a metre there and back, s/m
	time     float64       // in all, s
}

func (c *Craft) returnTrip() (r returnTrip, ok bool) {
	w := c.Model.Assume.Wind
	var way, back bool
	r.up, way = c.Against(w)
	r.down, back = c.Against(-w)
	if !way || !back {
		return r, false
	}
	a, b := 1/(r.up.Airspeed-w), 1/(r.down.Airspeed+w)
	r.per = a + b
	r.time = c.Powertrain.Drive.Pack.Endurance((r.up.Power*a + r.down.Power*b) / r.per)
	return r, true
}

// returnRange is a distance in m.
func (c *Craft) returnRange() float64 {
	r, ok := c.returnTrip()
	if !ok {
		return math.NaN()
	}
	return r.time / r.per
}

// Sight is what a Reach bounds of some metrics alone, since it takes time.
type Sight uint8

const (
	seesClimb    Sight = 1 << iota // the rate of climb
	seesAirspeed                   // flight at the airspeed asked for
	seesStation                    // and at that of the wind
	seesWind                       // ranges over ground
)

// WholeSight is that of all metrics.
const WholeSight = seesClimb | seesAirspeed | seesStation | seesWind

// Sight is what a Reach has to see for the bounds of the metric.
func (m *Metric) Sight() Sight { return m.sight }

// askedRow is what a row of a Reach says of the flights that are asked for.
type askedRow struct {
	stated, station, up, down flight.Demand
}

// fill bounds them for a drive, a controller and a mass in kg.
func (a *askedRow) fill(s Sight, of *Assumptions, d *flight.Drive, e *flight.Envelope, c motor.Controller,
	mass float64) {
	if s&seesAirspeed != 0 && of.Airspeed > 0 {
		a.stated = d.DemandAt(e, c, mass, of.Airspeed)
	}
	if of.Wind > 0 && s&seesStation != 0 {
		a.station = d.DemandAt(e, c, mass, of.Wind)
	}
	if of.Wind > 0 && s&seesWind != 0 {
		a.up, a.down = d.DemandAgainst(e, c, mass, of.Wind), d.DemandAgainst(e, c, mass, -of.Wind)
	}
}

// ask foresees what a row says of a craft's flights that are asked for.
func (r *Reach) ask(row *reachRow, c *Craft) {
	if r.asked == nil {
		return
	}
	a, f := &r.asked[row.at], &c.foreseen
	k := &c.Powertrain.Drive.Pack
	times := min(c.Mass/row.mass, 1+reachStep)
	of := &c.Model.Assume
	at := func(d *flight.Demand, V float64) float64 {
		if V > f.top {
			return math.Inf(1) // it does not fly so fast
		}
		return d.Power(times, k)
	}
	f.stated, f.station = at(&a.stated, of.Airspeed), at(&a.station, of.Wind)
	f.up, f.down = a.up.Per(times, k), a.down.Per(times, k)
}

// leastCurrent bounds the pack's current in A at the airspeed asked for.
func (c *Craft) leastCurrent() float64 {
	P := c.foreseen.stated
	if math.IsInf(P, 1) {
		return P
	}
	V, _ := c.Powertrain.Drive.Pack.Loaded(P)
	return P / V
}

// longest is the time in s that a power that is bounded from below can be drawn.
func (c *Craft) longest(power float64) float64 {
	if power == 0 { // nothing is known
		return math.Inf(1)
	}
	return c.Powertrain.Drive.Pack.Endurance(power)
}

func (c *Craft) longestStation() float64 {
	if c.Model.Assume.Wind == 0 {
		return c.HoverTime
	}
	return c.longest(c.foreseen.station)
}

// farthestUpwind bounds a distance in m as foreseen.far is bounded: power over the speed
// over ground, and the energy that the pack gives at the least power.
func (c *Craft) farthestUpwind() float64 { return c.farthest(c.foreseen.up, 1) }

func (c *Craft) farthestReturn() float64 { return c.farthest(c.foreseen.up+c.foreseen.down, 2) }

// farthest is so far for ways of that power over the speed over ground in all.
func (c *Craft) farthest(per, ways float64) float64 {
	f := &c.foreseen
	switch w := c.Model.Assume.Wind; {
	case w == 0:
		return f.far / ways
	case w > f.top:
		return 0
	case per == 0 || f.power == 0:
		return math.Inf(1)
	}
	return f.power * f.time / per
}
