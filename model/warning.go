package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/rotor"
)

// Limits within which the model has been compared with measurements, or its
// regressions derived.
var (
	ValidDiameter    = Bound{0.0254 * 3, 0.0254 * 10}
	ValidMass        = Bound{0.1, 3}
	ValidTemperature = Bound{263.15, 313.15}
)

// ValidInFlow is the highest ratio of flow along the disc to tip speed at which
// the error of inclined flow against blade-element solutions stays near that of
// the rotor model itself, 10 to 17 %, and ValidReynolds the Reynolds number below which
// the measurements are few.
const (
	ValidInFlow   = 0.3
	ValidReynolds = 20e3
)

// ValidTipMach is the highest tip Mach number that the model claims.
const ValidTipMach = 0.8

// Warnings lists what of a craft lies outside the validity of the model, and which parts
// no maker sells. Results are computed all the same, with larger errors.
// Each is of one of Validities.
func (c *Craft) Warnings() []Mark {
	var out marks
	p := c.Powertrain.Propeller
	if !ValidDiameter.Contains(p.Diameter) {
		out.add(Mark{Limit: validDiameter, Of: OfDiameter, Value: p.Diameter})
	}
	if len(c.Model.Assume.Evidence.Propellers()) > 0 && p.Fit.Share < LeastShare {
		out.add(Mark{Limit: validMeasured, Of: OfCorrection, Value: p.Fit.Share})
	}
	if !ValidMass.Contains(c.Mass) {
		out.add(Mark{Limit: validMass, Of: OfMass, Value: c.Mass})
	}
	if T := c.Model.Air.Temperature; !ValidTemperature.Contains(T) {
		out.add(Mark{Limit: validTemperature, Of: OfAir, Value: T})
	}
	if T := c.Model.Assume.PackTemperature; !ValidTemperature.Contains(T) {
		out.add(Mark{Limit: validTemperature, Of: OfPack, Value: T})
	}
	if s := c.Powertrain.Drive.Motor.Stator; !s.InRange() {
		limit := validStatorHeight
		if !validStator.Contains(s.Diameter) {
			limit = validStatorDiameter
		}
		out.add(Mark{Limit: limit, Of: OfStator, Value: s.Diameter, Other: s.Height})
	}
	if mach := c.tipSpeed(c.Powertrain.Full.Speed) / c.Model.Air.SoundSpeed; mach > ValidTipMach {
		out.add(Mark{Limit: validTipMach, Of: OfTipMach, At: FullThrottle, Value: mach})
	}
	if re := c.reynolds(c.Hover.Speed); c.Hover.OK && re < ValidReynolds {
		out.add(Mark{Limit: validReynolds, Of: OfReynolds, At: Hovering, Value: re})
	}
	rating := c.Powertrain.Full.Controller.Rating
	if rating > motor.MaxRating {
		out.add(Mark{Limit: validRating, Of: OfRating, Value: rating})
	}
	if p.Board == motor.Joined && rating > motor.MaxJoined {
		out.add(Mark{Limit: validJoined, Of: OfJoinedRating, Value: rating})
	}
	if c.Hover.OK {
		c.hot(&out)
		c.flightMarks(&out)
	}
	return out
}

// hot says where a motor has no steady temperature, or one above the limit of the
// windings.
func (c *Craft) hot(out *marks) {
	m := &c.Powertrain.Drive.Motor
	for _, x := range []struct {
		at   Moment
		heat motor.Heat
	}{{Hovering, c.hoverHeat()}, {Cruising, c.cruiseHeat()}} {
		if x.at == Cruising && c.Flight.Endurance.Airspeed == 0 {
			break // it does not cruise, or has not been flown
		}
		steady := m.Steady(x.heat)
		if m.Runaway(x.heat) {
			steady = math.Inf(1)
		}
		if steady >= motor.BurstLimit {
			out.add(Mark{Limit: validHeat, Of: OfHeat, At: x.at, Value: steady})
		}
	}
}

// flightMarks says where level flight lies outside the model of inclined flow.
func (c *Craft) flightMarks(out *marks) {
	f := &c.Flight
	switch {
	case f.Top.Speed == 0:
		return // not flown
	case !f.OK:
		out.add(Mark{Limit: validFlight, Of: OfLevelFlight})
		return
	case f.Limit == flight.ByPropeller:
		out.add(Mark{Limit: validFlight, Of: OfTopSpeed, At: FastestLevel, Value: f.Top.Airspeed})
		return
	}
	for _, x := range []struct {
		at Moment
		c  *flight.Cruise
	}{{Cruising, &f.Endurance}, {Ranging, &f.Range}, {FastestLevel, &f.Top}} {
		tilt, _ := c.attitude(x.c)
		if mu := x.c.Airspeed * math.Cos(tilt) / c.tipSpeed(x.c.Speed); mu > ValidInFlow {
			out.add(Mark{Limit: validInFlow, Of: OfInFlow, At: x.at, Value: mu})
		}
	}
	if mach := c.AdvancingMach(&f.Top); mach > ValidTipMach {
		out.add(Mark{Limit: validFlightMach, Of: OfTipMach, At: FastestLevel, Value: mach})
	}
}

// tipSpeed is that of the blades at n rev/s, in m/s.
func (c *Craft) tipSpeed(n float64) float64 {
	return rotor.TipSpeed(c.Powertrain.Propeller.Diameter, n)
}

// AdvancingMach is the Mach number of the advancing blade tips in one of the craft's
// level flights.
func (c *Craft) AdvancingMach(x *flight.Cruise) float64 {
	tilt, _ := c.attitude(x)
	sin, cos := math.Sincos(tilt)
	return math.Hypot(c.tipSpeed(x.Speed)+x.Airspeed*cos, x.Airspeed*sin) / c.Model.Air.SoundSpeed
}

// reynolds is that of a blade at 75 % radius at n rev/s.
func (c *Craft) reynolds(n float64) float64 {
	s, err := rotor.New(c.Powertrain.Propeller.Geometry, c.Model.Air)
	if err != nil {
		panic("model: a propeller that has been built is refused: " + err.Error())
	}
	return s.Reynolds(n)
}
