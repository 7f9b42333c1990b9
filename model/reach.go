package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// Reach bounds the level flight of the crafts that share their propellers, motors
// and cells in series, whatever their pack's capacity and payload. A sweep need not fly
// crafts that by it cannot improve on what has been found.
//
// The zero Reach is empty; Begin makes it so again for other parts.
type Reach struct {
	Sight Sight // what it bounds of some metrics alone, as well

	// Least gives the least resistance in ohm of the packs of crafts up to a mass in kg, as far as
	// they will come: a bound that holds for all of them is made once. Nil where none is known.
	Least func(mass float64) float64

	base float64 // kg, of the lightest
	per  float64 // rows for a kg
	rows [reachRows]reachRow

	asked *[reachRows]askedRow // of the same rows; nil until it is needed
}

// reachRow bounds the crafts from one mass on.
type reachRow struct {
	mass               float64 // kg
	rating, resistance float64 // of controllers at most, of the pack at least
	bound              flight.Bound
	climb              float64 // fastest straight up, m/s
	cool               float64 // conductance of a motor at top speed, W/K
	ok, known          bool
	at                 int // its place
}

const (
	reachRows = 48
	reachStep = 0.06 // of the lightest mass, between rows
)

// Begin empties a reach, for other propellers, motors or cells, and crafts from a mass in kg on.
// Lighter ones may follow all the same.
func (r *Reach) Begin(base float64) {
	r.base, r.per = base, 1/(reachStep*base)
	for k := range r.rows {
		r.rows[k].known, r.rows[k].rating = false, 0
	}
}

// foreseen is the most that the level flight of a craft can be.
type foreseen struct {
	top   float64 // m/s
	climb float64 // m/s
	power float64 // W
	time  float64 // s
	far   float64 // m

	// At the airspeed asked for, at that of the wind, and over the speed over ground with the
	// wind ahead and behind: at least, 0 where nothing is known.
	stated, station float64 // W
	up, down        float64 // W s/m

	share float64 // of the motors' current at top speed in that of full throttle at rest, at least
	cool  float64 // conductance of a motor at top speed, W/K
}

// Foresee bounds the craft's level flight, from which Metric.AtBest then follows. The craft
// has been operated.
func (c *Craft) Foresee(r *Reach) {
	c.foreseen = unknown
	row := r.row(c)
	if !row.ok {
		return
	}
	c.foreseen.own(row, c)
	r.ask(row, c)
}

// unknown is what is foreseen where nothing bounds it.
var unknown = foreseen{top: math.Inf(1), climb: math.Inf(1), time: math.Inf(1), far: math.Inf(1)}

// own is what a row gives of a craft.
func (f *foreseen) own(row *reachRow, c *Craft) {
	power, per := row.bound.For(min(c.Mass/row.mass, 1+reachStep), c.Hover.PackVoltage,
		&c.Powertrain.Drive.Pack) // the last row has no next one
	f.top, f.climb = row.bound.Top, row.climb
	f.share, f.cool = row.bound.Share, row.cool
	f.power = min(power, c.Hover.Power*(1-flight.BoundMargin))
	f.time = c.Powertrain.Drive.Pack.Endurance(f.power)
	// Range is airspeed over power times the energy that the pack gives, which falls
	// with the power drawn.
	f.far = f.power * f.time / per
}

// row bounds a craft and all heavier ones.
func (r *Reach) row(c *Craft) *reachRow {
	if !(c.Mass >= r.base && r.base > 0) {
		r.Begin(c.Mass)
	}
	k := min(int((c.Mass-r.base)*r.per), reachRows-1)
	row := &r.rows[k]
	t := c.Powertrain
	ctl := t.Full.Controller
	if slow := !row.known || ctl.Rating > row.rating; slow || row.ok && t.Drive.Pack.R < row.resistance {
		d := t.Drive
		if r.Least != nil { // spans ask for a pack of the next row
			d.Pack.R = min(d.Pack.R, r.Least(r.base*(1+reachStep*float64(k+2))))
		}
		e := t.Propeller.Envelope()
		row.known, row.at, row.rating, row.resistance = true, k, max(ctl.Rating, row.rating), d.Pack.R
		row.mass = r.base * (1 + reachStep*float64(k))
		if slow {
			row.bound, row.ok = d.Bound(&t.Propeller.Propulsor, e, ctl, row.mass, t.Full.Speed)
			if r.Sight&^seesClimb != 0 {
				if r.asked == nil {
					r.asked = new([reachRows]askedRow)
				}
				r.asked[k] = askedRow{}
				r.asked[k].fill(r.Sight, &c.Model.Assume, &d, e, ctl, row.mass)
			}
		} else {
			row.ok = d.Faster(&row.bound, &t.Propeller.Propulsor, e, d.Motor.Rated(row.rating), row.mass, t.Full.Speed)
		}
		row.cool = t.conductance(row.bound.Wash)
		row.climb = math.Inf(1)
		if r.Sight&seesClimb != 0 {
			full := flight.FullThrottle{Speed: t.Full.Speed, Controller: d.Motor.Rated(row.rating)}
			v, _ := d.Climb(e, &full, row.mass)
			row.climb = v * (1 + flight.BoundMargin)
		}
	}
	return row
}

// AtBest is a bound on the metric in its better direction, for a craft that has been
// foreseen but not flown: never worse than Of would be, in the SI unit of its
// kind. It equals Of where Known; where nothing is known it is infinite, or NaN where
// neither direction is better.
func (m *Metric) AtBest(c *Craft) float64 {
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

// Known says whether AtBest is not a bound but the metric itself.
func (m *Metric) Known() bool { return m.Stage < StageFlight && !m.Slow }

// Foreseen is AtBest as a function, nil where nothing is known.
func (m *Metric) Foreseen() func(*Craft) float64 {
	if m.Known() {
		return m.of
	}
	return m.atBest
}

// AtWorst is a bound on the metric in its worse direction, for a craft that has been
// operated but not flown: never better than Of would be. It is NaN where nothing
// is known.
func (m *Metric) AtWorst(c *Craft) float64 {
	switch {
	case m.Stage < StageFlight:
		return m.of(c)
	case m.atWorst != nil:
		return m.atWorst(c)
	}
	return math.NaN()
}

// warmestCruise bounds the motors' temperature at the airspeed of least power, in
// K: less current than in hover, in a slipstream that is little slower, and a chopping
// loss of half duty. Where the minimum of power is shallow, at a thrust to weight near 1
// or with a bulky payload, the motors may be warmer than in hover. The factor was chosen
// from measurements, see DEVELOPERS.md.
func (c *Craft) warmestCruise() float64 {
	d := &c.Powertrain.Drive
	T, perWatt := c.steadySlope()
	if T >= motor.Hottest {
		return T
	}
	more := d.Motor.Chopping(d.Pack.Mean/2, d.Pack.Mean) - c.Hover.Chopping
	return c.cruiseOver(1.25, T+more*perWatt)
}

// coolestCruise bounds it from below, without chopping loss; the factor was chosen from
// measurements, see DEVELOPERS.md. Hot windings are left out: near runaway a little less
// current may leave them much cooler.
func (c *Craft) coolestCruise() float64 {
	T, perWatt := c.steadySlope()
	if T > motor.BurstLimit {
		return c.Model.Air.Temperature
	}
	return c.cruiseOver(0.5, T-c.Hover.Chopping*perWatt)
}

// cruiseOver is the temperature in K whose excess over the air is a part of T's.
func (c *Craft) cruiseOver(part, T float64) float64 {
	air := c.Model.Air.Temperature
	return air + part*(T-air)
}

// longestDash bounds the time at top speed: with the least current there, in the
// slipstream that cools most. Nothing is known where full duty does not bound the
// airspeed.
func (c *Craft) longestDash() float64 { return c.longestDashWarmer(0) }

// longestDashWarmer is longestDash from a temperature so many kelvin higher.
func (c *Craft) longestDashWarmer(by float64) float64 {
	t := c.Powertrain
	if !c.fullDuty() {
		return motor.Longest
	}
	h := c.fullHeat()
	h.Current *= c.foreseen.share
	h.Speed *= slowestTop
	h.Conductance = coolestTop * max(h.Conductance, c.foreseen.cool)
	return t.Drive.Motor.Reach(h, c.steady()+by, motor.BurstLimit)
}

// slowestMach bounds the Mach number of the advancing tips at top speed from below.
func (c *Craft) slowestMach() float64 {
	n := slowestFlight * c.Hover.Speed
	if c.fullDuty() {
		n = max(n, slowestTop*c.Powertrain.Full.Speed)
	}
	return c.tipSpeed(n) / c.Model.Air.SoundSpeed
}

// What these bounds are taken from: turns at top speed over those of full throttle at
// rest, where full duty is the limit, and over those of hover elsewhere; conductance over
// that at rest or in the bound's flight. Chosen from measurements, see DEVELOPERS.md.
const (
	slowestTop    = 0.7
	slowestFlight = 0.8
	coolestTop    = 1.03
)

// fullDuty says whether the craft flies level and only full duty bounds its airspeed.
func (c *Craft) fullDuty() bool {
	t := c.Powertrain
	const spare = 1.02 // below, full duty may not support the craft in flight
	return c.foreseen.share > 0 && c.thrustToWeight > spare && c.Model.Assume.TiltLimit >= math.Pi/2 &&
		t.Propeller.Envelope().Carries(c.Mass) && t.Drive.Keeps(&t.Full)
}
