package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/unit"
)

// askedMetrics are those of level flight at the airspeed and in the wind that are stated.
var askedMetrics = []*Metric{
	{Name: "airspeed-power", Even: true, Title: "Power at the airspeed", Symbol: "P_a",
		Kind: unit.Power, Unit: unit.Power.Unit("W"), Better: Lower,
		Meaning: "electrical power in level flight at the airspeed asked for, avionics included; none past the top " +
			"speed, and where full duty at the pack's mean voltage is too little",
		Formula: symbols(`"as hover power"`).solved("V_b{asked} I_b{asked}"),
		Source:  trim,
		Stage:   StageFlight, Asks: "airspeed",
		of:     asked(func(_ *Craft, x *flight.Cruise) float64 { return x.Power }),
		atBest: func(c *Craft) float64 { return c.foreseen.stated }, sight: seesAirspeed},
	{Name: "airspeed-current", Even: true, Title: "Pack current at the airspeed", Symbol: "I_a",
		Kind: unit.Current, Unit: unit.Current.Unit("A"), Better: Lower,
		Meaning: "current of the pack in that flight, at its mean voltage",
		Formula: symbols("P_a/V_b{asked}"),
		Source:  derived,
		Stage:   StageFlight, Asks: "airspeed",
		of:     asked(func(_ *Craft, x *flight.Cruise) float64 { return x.PackCurrent }),
		atBest: (*Craft).leastCurrent, sight: seesAirspeed},
	{Name: "airspeed-time", Even: true, Title: "Time at the airspeed", Symbol: "t_a",
		Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time in that flight until the usable charge but the landing reserve is drawn or the voltage floor " +
			"is reached",
		Formula: words("integral of Q dDoD/I(P_a, V(DoD))"),
		Source:  derived,
		Stage:   StageFlight, Asks: "airspeed",
		of:     asked((*Craft).lasting),
		atBest: func(c *Craft) float64 { return c.longest(c.foreseen.stated) }, sight: seesAirspeed},
	{Name: "airspeed-range", Even: true, Title: "Range at the airspeed", Symbol: "R_a",
		Kind: unit.Length, Unit: unit.Length.Unit("km"), Better: Higher,
		Meaning: "distance in still air in that time",
		Formula: symbols("V_a t_a"),
		Source:  defined,
		Stage:   StageFlight, Asks: "airspeed",
		of: asked(func(c *Craft, x *flight.Cruise) float64 { return c.Model.Assume.Airspeed * c.lasting(x) }),
		atBest: func(c *Craft) float64 {
			return c.Model.Assume.Airspeed * c.longest(c.foreseen.stated)
		}, sight: seesAirspeed},
	{Name: "airspeed-duty", Title: "Throttle at the airspeed", Symbol: "d_a",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "duty of the controllers in that flight at the pack's mean voltage",
		Formula: words("as hover throttle"),
		Source:  circuit,
		Stage:   StageFlight, Asks: "airspeed",
		of: asked(func(_ *Craft, x *flight.Cruise) float64 { return x.Duty })},
	{Name: "airspeed-tilt", Title: "Tilt at the airspeed", Symbol: "theta_a",
		Kind: unit.Angle, Unit: unit.Angle.Unit("deg"), Better: Neither,
		Meaning: "tilt of the discs from the level in that flight",
		Formula: words("W sin tilt = D cos tilt + H"),
		Source:  trim,
		Stage:   StageFlight, Asks: "airspeed",
		of: asked(func(c *Craft, x *flight.Cruise) float64 { tilt, _ := c.attitude(x); return tilt })},
	{Name: "station-time", Even: true, Title: "Time on station", Symbol: "t_s",
		Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time for which the craft holds a place in the wind, flying into it at an airspeed of the wind, " +
			"until the usable charge but the landing reserve is drawn or the voltage floor is reached; hover time " +
			"where there is no wind, none where the wind is faster than the craft",
		Formula: words("integral of Q dDoD/I(P(V = wind), V(DoD))"),
		Source:  derived,
		Stage:   StageFlight, Windy: true,
		of:     (*Craft).stationTime,
		atBest: (*Craft).longestStation, sight: seesStation},
	{Name: "best-upwind-speed", Title: "Airspeed of best range upwind", Symbol: "V_u",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "level flight that draws the least power over the speed over ground, the wind ahead: where a line " +
			"from the wind's airspeed touches the curve of power",
		Formula: words("least P(V)/(V - wind)"),
		Source:  textbook,
		Stage:   StageFlight, Windy: true,
		of: (*Craft).upwindSpeed},
	{Name: "range-upwind", Even: true, Title: "Range upwind", Symbol: "R_u",
		Kind: unit.Length, Unit: unit.Length.Unit("km"), Better: Higher,
		Meaning: "distance over ground one way against the wind, at the airspeed that is best for it, until the " +
			"usable charge but the landing reserve is drawn or the voltage floor is reached; none where the wind is " +
			"faster than the craft",
		Formula: symbols(`"(V_u - wind) times integral of Q dDoD/I(P, V(DoD))"`).solved("(V_u - V_w) t_u"),
		Source:  derived,
		Stage:   StageFlight, Windy: true,
		of:     (*Craft).upwindRange,
		atBest: (*Craft).farthestUpwind, sight: seesWind},
	{Name: "range-return", Even: true, Title: "Range out and back", Symbol: "R_b",
		Kind: unit.Length, Unit: unit.Length.Unit("km"), Better: Higher,
		Meaning: "distance over ground from which the craft comes back, the wind against it on one way and with it " +
			"on the other, each at the airspeed that is best for it; the mean of the two powers is drawn",
		Formula: words("integral of Q dDoD/I(P, V(DoD)) over 1/(V_u - wind) + 1/(V_d + wind)").
			solved("t_b{ground}/(1/(V_u - V_w) + 1/(V_d + V_w))"),
		Source: derived,
		Stage:  StageFlight, Windy: true,
		of:     (*Craft).returnRange,
		atBest: (*Craft).farthestReturn, sight: seesWind},
}

// asked is a metric of level flight at the airspeed asked for; NaN where there is none.
func asked(of func(*Craft, *flight.Cruise) float64) func(*Craft) float64 {
	return func(c *Craft) float64 {
		x, ok := c.asked()
		if !ok {
			return math.NaN()
		}
		return of(c, &x)
	}
}
