package model

import (
	"math"

	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// flightMetrics are the metrics of flight.
var flightMetrics = []*Metric{
	{Name: "top-speed", Even: true, Title: "Top speed", Symbol: "V_max",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Higher,
		Meaning: "fastest level flight, where full throttle, " +
			"the pack's current or voltage as far as pack-load and voltage-margin are required (else burst current " +
			"and floor), the controller's rating or the tilt limit gives out",
		Formula: words("W sin tilt = D cos tilt + H, T = W cos tilt + D sin tilt"),
		Source:  trim,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.Flight.Top.Airspeed },
		atBest:  func(c *Craft) float64 { return c.foreseen.top }},
	{Name: "top-speed-time", Title: "Time at top speed", Symbol: "t_V",
		Kind: unit.Time, Unit: unit.Time.Unit("s"), Better: Higher,
		Meaning: "time at top speed in which the windings warm from their temperature in hover to 120 degC; an " +
			"hour stands for never",
		Formula: words("as time at full throttle, P(T) with P_c where it is flown below full duty"),
		Source:  heat,
		Stage:   StageFlight, Cap: motor.Longest,
		start:  (*Craft).Heat,
		of:     (*Craft).dash,
		atBest: (*Craft).longestDash, warmer: (*Craft).longestDashWarmer},
	{Name: "top-tilt", Title: "Tilt at top speed", Symbol: "theta",
		Kind: unit.Angle, Unit: unit.Angle.Unit("deg"), Better: Neither,
		Meaning: "tilt of the discs from the level at top speed",
		Formula: words("W sin tilt = D cos tilt + H"),
		Source:  trim,
		Stage:   StageFlight, Most: upright,
		of: func(c *Craft) float64 { tilt, _ := c.attitude(&c.Flight.Top); return tilt }},
	{Name: "flight-rpm", Title: "Speed of rotation at top speed", Symbol: "n_V",
		Kind: unit.Rotation, Unit: unit.Rotation.Unit("rpm"), Better: Neither,
		Meaning: "speed of rotation in the fastest level flight: at full throttle mostly above that at rest, " +
			"since the flow unloads the propellers, at part throttle often below",
		Formula: words("as top speed"),
		Source:  trim,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.Flight.Top.Speed }},
	{Name: "flight-tip-mach", Title: "Tip Mach number at top speed", Symbol: "M_V",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Lower,
		Meaning: "speed of the advancing blade tips through the air at top speed, " +
			"at the throttle that it needs, over speed of sound",
		Formula: words("sqrt((pi n D + V cos tilt)^2 + (V sin tilt)^2)/a"),
		Source:  defined,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.AdvancingMach(&c.Flight.Top) },
		atBest:  (*Craft).slowestMach},
	{Name: "best-endurance-speed", Title: "Airspeed of least power", Symbol: "V_t",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "level flight that draws the least power",
		Formula: words("least P(V)"),
		Source:  trim,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.Flight.Endurance.Airspeed }},
	{Name: "cruise-power", Even: true, Title: "Least power in flight", Symbol: "P_c",
		Kind: unit.Power, Unit: unit.Power.Unit("W"), Better: Lower,
		Meaning: "electrical power in level flight at the airspeed of least power, avionics included",
		Formula: symbols(`"as hover power"`).solved("V_b{cruise} I_b{cruise}"),
		Source:  trim,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.Flight.Endurance.Power },
		atBest:  func(c *Craft) float64 { return c.foreseen.power }},
	{Name: "cruise-time", Even: true, Title: "Cruise time", Symbol: "t_c",
		Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time in level flight at the airspeed of least power until the usable charge but the landing " +
			"reserve is drawn or the voltage floor is reached",
		Formula: words("integral of Q dDoD/I(P_c, V(DoD))"),
		Source:  derived,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.CruiseTime },
		atBest:  func(c *Craft) float64 { return c.foreseen.time }},
	{Name: "cruise-motor-temperature", Title: "Motor temperature in cruise", Symbol: "T_mc",
		Kind: unit.Temperature, Unit: unit.Temperature.Unit("degC"), Better: Lower,
		Meaning: "steady temperature of the windings in level flight at the airspeed of least power; 500 degC " +
			"stands for all above and for runaway",
		Formula: words("as in hover"),
		Source:  heat,
		Stage:   StageFlight, Cap: motor.Hottest,
		start:   (*Craft).Heat,
		of:      func(c *Craft) float64 { return c.Powertrain.Drive.Motor.Steady(c.cruiseHeat()) },
		atBest:  (*Craft).coolestCruise,
		atWorst: (*Craft).warmestCruise},
	{Name: "best-range-speed", Title: "Airspeed of best range", Symbol: "V_r",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "level flight that draws the least power over airspeed, in still air",
		Formula: words("least P(V)/V"),
		Source:  trim,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.Flight.Range.Airspeed }},
	{Name: "range", Even: true, Title: "Range", Symbol: "R",
		Kind: unit.Length, Unit: unit.Length.Unit("km"), Better: Higher,
		Meaning: "distance in still air at the airspeed of best range until the usable charge but the landing " +
			"reserve is drawn or the voltage floor is reached",
		Formula: symbols(`"V_r times integral of Q dDoD/I(P, V(DoD))"`).solved("V_r t_r"),
		Source:  derived,
		Stage:   StageFlight,
		of:      func(c *Craft) float64 { return c.Range },
		atBest:  func(c *Craft) float64 { return c.foreseen.far }},
	{Name: "climb-rate", Even: true, Title: "Climb rate", Symbol: "V_z",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Higher,
		Meaning: "fastest steady vertical climb at full throttle",
		Formula: words("T(V) = W + D(V)"),
		Source:  bemt,
		Stage:   StageFlight,
		of: func(c *Craft) float64 {
			t := c.Powertrain
			v, _ := t.Drive.Climb(t.Propeller.Envelope(), &t.Full, c.Mass)
			return v
		},
		atBest: func(c *Craft) float64 { return c.foreseen.climb }, sight: seesClimb},
	{Name: "ceiling", Title: "Ceiling", Symbol: "H_c",
		Kind: unit.Length, Unit: unit.Length.Unit("m"), Better: Higher,
		Meaning: "altitude at which static thrust to weight has fallen to the reserve, " +
			"at most 11 000 m; the rotor solved in the air of each altitude",
		Formula: words("4 CT rho(H) n^2 D^4 = reserve AUW g"),
		Source:  bemt,
		Stage:   StageExplain,
		of: func(c *Craft) float64 {
			if !c.explained {
				return math.NaN()
			}
			return c.ceiling
		}},
}
