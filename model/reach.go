package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// Reach bounds the level flight of the crafts that share their propellers, motors
// and cells in series, whatever their pack's capacity and payload. It spares a
// sweep the flight of crafts that could not better what has been found.
//
// The zero Reach is empty; Reset makes it so again for other parts.
type Reach struct {
	Climbs bool // bounds the rate of climb as well

	base float64 // kg, of the lightest
	per  float64 // rows for a kg
	rows [reachRows]reachRow
}

// reachRow bounds the crafts from one mass on.
type reachRow struct {
	mass               float64 // kg
	rating, resistance float64 // of controllers at most, of the pack at least
	bound              flight.Bound
	climb              float64 // fastest straight up, m/s
	cool               float64 // conductance of a motor at top speed, W/K
	ok, known          bool
}

const (
	reachRows = 48
	reachStep = 0.06 // of the lightest mass, between rows
)

// Reset empties a reach, for other propellers, motors or cells.
func (r *Reach) Reset() {
	if r.base != 0 {
		*r = Reach{Climbs: r.Climbs}
	}
}

// best is what the level flight of a craft can at most be.
type best struct {
	top   float64 // m/s
	climb float64 // m/s
	power float64 // W
	time  float64 // s
	far   float64 // m
	share float64 // of the motors' current at top speed in that of full throttle at rest, at least
	cool  float64 // conductance of a motor at top speed, W/K
}

// Foresee bounds the craft's level flight, after which Metric.Best tells more of
// it than the metric's direction. The craft has been operated. A bound holds for
// packs down to a resistance in ohm, so that one below the craft's own lets the
// next crafts share it.
func (c *Craft) Foresee(r *Reach, resistance float64) {
	c.best = best{top: math.Inf(1), climb: math.Inf(1), time: math.Inf(1), far: math.Inf(1)}
	if !(c.Mass >= r.base && r.base > 0) {
		*r = Reach{Climbs: r.Climbs, base: c.Mass, per: 1 / (reachStep * c.Mass)}
	}
	k := min(int((c.Mass-r.base)*r.per), reachRows-1)
	row := &r.rows[k]
	t := c.Powertrain
	ctl := t.Full.Controller
	if slow := !row.known || ctl.Rating > row.rating; slow || row.ok && t.Drive.Pack.R < row.resistance {
		d := t.Drive
		d.Pack.R = min(resistance, d.Pack.R)
		e := t.Propeller.Envelope()
		row.known, row.rating, row.resistance = true, max(ctl.Rating, row.rating), d.Pack.R
		row.mass = r.base * (1 + reachStep*float64(k))
		if slow {
			row.bound, row.ok = d.Bound(&t.Propeller.Propulsor, e, ctl, row.mass, t.Full.Speed)
		} else {
			row.ok = d.Faster(&row.bound, &t.Propeller.Propulsor, e, d.Motor.Rated(row.rating), row.mass, t.Full.Speed)
		}
		row.cool = t.conductance(row.bound.Wash)
		row.climb = math.Inf(1)
		if r.Climbs {
			full := flight.FullThrottle{Speed: t.Full.Speed, Controller: d.Motor.Rated(row.rating)}
			v, _ := d.Climb(e, &full, row.mass)
			row.climb = v * (1 + flight.BoundMargin)
		}
	}
	if !row.ok {
		return
	}
	power, per := row.bound.For(min(c.Mass/row.mass, 1+reachStep), c.Hover.PackVoltage) // the last row has no next one
	c.best.top, c.best.climb = row.bound.Top, row.climb
	c.best.share, c.best.cool = row.bound.Share, row.cool
	c.best.power = min(power, c.Hover.Power*(1-flight.BoundMargin))
	c.best.time = t.Drive.Pack.Endurance(c.best.power)
	// Range is airspeed over power times the energy that the pack gives, which is
	// the less the faster it is drawn.
	c.best.far = c.best.power * c.best.time / per
}

// Best is a bound on the metric in its better direction, for a craft that has been
// foreseen but not flown: never worse than Of would be. It is what Of gives where
// that is Known, and infinite, or NaN where neither direction is better, where
// nothing is known.
func (m *Metric) Best(c *Craft) float64 {
	if of := m.Foreseen(); of != nil {
		return of(c)
	}
	switch m.Better {
	case Higher:
		return math.Inf(1)
	case Lower:
		return math.Inf(-1)
	}
	return math.NaN()
}

// Known says that Best is no bound but the metric itself.
func (m *Metric) Known() bool { return m.Stage < StageFlight && !m.Slow }

// Foreseen is Best as a function, nil where nothing is known.
func (m *Metric) Foreseen() func(*Craft) float64 {
	if m.Known() {
		return m.of
	}
	return m.best
}

// Worst is a bound on the metric in its worse direction, for a craft that has been
// operated but not flown: never better than Of would be. It is NaN where nothing
// is known.
func (m *Metric) Worst(c *Craft) float64 {
	switch {
	case m.Stage < StageFlight:
		return m.of(c)
	case m.worst != nil:
		return m.worst(c)
	}
	return math.NaN()
}

// warmestCruise bounds the motors' temperature at the airspeed of least power, in
// K: less current than in hover, in a slipstream that is little slower, and a chopping
// loss of half duty. Where the least of power is shallow, at a thrust to weight near 1
// or with a bulky payload, the motors were seen to be warmer than in hover, by up to a
// tenth of what they are above the air.
func (c *Craft) warmestCruise() float64 {
	d := &c.Powertrain.Drive
	T, perWatt := c.steadySlope()
	if T >= motor.Hottest {
		return T
	}
	more := d.Motor.Chopping(d.Pack.Mean/2, d.Pack.Mean) - c.Hover.Chopping
	return c.cruiseOver(1.25, T+more*perWatt)
}

// coolestCruise bounds it from below: where power falls farthest from hover, to 0.64
// of it, 0.65 of what they are above the air were seen, without chopping loss. Hot
// windings are left out: near runaway little less current may leave them much cooler.
func (c *Craft) coolestCruise() float64 {
	T, perWatt := c.steadySlope()
	if T > motor.BurstLimit {
		return c.Model.Air.Temperature
	}
	return c.cruiseOver(0.5, T-c.Hover.Chopping*perWatt)
}

// cruiseOver is the temperature a part of what another has above the air.
func (c *Craft) cruiseOver(part, T float64) float64 {
	air := c.Model.Air.Temperature
	return air + part*(T-air)
}

// longestDash bounds the time at top speed: with the least current there, in the
// slipstream that cools most. Nothing is known where full duty does not bound the
// airspeed.
func (c *Craft) longestDash() float64 {
	t := c.Powertrain
	if !c.fullDuty() {
		return motor.Longest
	}
	h := c.fullHeat()
	h.Current *= c.best.share
	h.Speed *= slowestTop
	h.Conductance = coolestTop * max(h.Conductance, c.best.cool)
	return t.Drive.Motor.Reach(h, c.steady(), motor.BurstLimit)
}

// slowestMach bounds the Mach number of the advancing tips at top speed from below.
func (c *Craft) slowestMach() float64 {
	n := slowestFlight * c.Hover.Speed
	if c.fullDuty() {
		n = max(n, slowestTop*c.Powertrain.Full.Speed)
	}
	return c.tipSpeed(n) / c.Model.Air.SoundSpeed
}

// What these bounds are taken from, at the worst that was seen of some 500 000 crafts:
// turns at top speed, 0.76 of those of full throttle at rest where full duty is the
// limit, with blades of much pitch and little drag that are stalled at rest; 0.91 of
// those of hover elsewhere, at pitches of a tenth of the diameter; half a percent
// more conductance than at rest or in the bound's flight.
const (
	slowestTop    = 0.7
	slowestFlight = 0.8
	coolestTop    = 1.03
)

// fullDuty says that the craft flies level and nothing but full duty bounds its
// airspeed.
func (c *Craft) fullDuty() bool {
	t := c.Powertrain
	const spare = 1.02 // below, full duty may hold nothing up in flight
	return c.best.share > 0 && c.thrustToWeight > spare && c.Model.Assume.TiltLimit >= math.Pi/2 &&
		t.Propeller.Envelope().Carries(c.Mass) && t.Drive.Within(&t.Full)
}
