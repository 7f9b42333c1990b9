package words

import (
	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
)

// Point is an operating point as tables show it.
type Point struct {
	model.OperatingPoint
	by   string // what limits it, "" for none
	Heat string // in place of a steady temperature, "" where there is one
}

// Head is the title with what limits the point.
func (p *Point) Head() string {
	if p.by == "" {
		return p.Title
	}
	return p.Title + ", by " + p.by
}

// Points are the operating points of a craft that has them: at rest, and in
// level flight where it flies.
func Points(c *model.Craft) []Point {
	var out []Point
	for _, p := range c.Points() {
		q := Point{OperatingPoint: p}
		if p.Title == model.TopSpeedPoint {
			q.by = TopLimit(c.TopLimit())
		}
		if p.Stands != "" {
			q.Heat = heatText(c, p.Stands)
		}
		out = append(out, q)
	}
	return out
}

// heatText says how long the motors stand full throttle or top speed.
func heatText(c *model.Craft, time string) string {
	burst := finding.Metric(time)
	limit := finding.Celsius.Format(motor.BurstLimit, 4)
	if v := burst.Of(c); Beyond(burst, v) == "" {
		return "not steady: " + burst.Unit.Format(v, 3) + " to " + limit
	}
	return "steady: below " + limit
}

// pointColumn is a quantity of the operating points.
type pointColumn struct {
	Title string
	Unit  unit.Unit              // in which it is shown
	Of    func(p *Point) float64 // SI
	Note  string                 // of what it is; may be empty
	Short bool                   // to three significant figures, to which thrust needed and available meet at top speed
}

// PointColumns are the quantities of the operating points, in the order of tables.
var PointColumns = []pointColumn{
	{"Airspeed", unit.Speed.Unit("m/s"), func(p *Point) float64 { return p.Airspeed }, "", false},
	{"Thrust", finding.Gram, func(p *Point) float64 { return p.Thrust },
		"of all rotors along their axes, as the mass that it would hold; in level flight what trim needs", true},
	{"Thrust available", finding.Gram, func(p *Point) float64 { return p.Available },
		"that of full throttle at the same airspeed and tilt, at the charge at which full throttle is judged", true},
	{"Speed of rotation", unit.Rotation.Unit("rpm"), func(p *Point) float64 { return p.Speed }, "", false},
	{"Tip Mach number", unit.Ratio.Unit(""), func(p *Point) float64 { return p.Mach },
		"of the blade tips; in flight of the advancing ones", false},
	{"Shaft power", unit.Power.Unit("W"), (*Point).Shaft, "of one motor, 2 π n Q", false},
	{"Motor current", unit.Current.Unit("A"), func(p *Point) float64 { return p.Current }, "of one motor", false},
	{"Motor voltage", unit.Voltage.Unit("V"), func(p *Point) float64 { return p.Voltage }, "behind the controller",
		false},
	{"Throttle", unit.Ratio.Unit("%"), func(p *Point) float64 { return p.Duty }, "duty of the controller", false},
	{"Pack current", unit.Current.Unit("A"), func(p *Point) float64 { return p.PackCurrent }, "", false},
	{"Pack voltage", unit.Voltage.Unit("V"), func(p *Point) float64 { return p.PackVoltage }, "loaded", false},
	{"Pack power", unit.Power.Unit("W"), func(p *Point) float64 { return p.Power }, "avionics included", false},
	{"Motor efficiency", unit.Ratio.Unit("%"), (*Point).Efficiency, "shaft power over electrical power of a motor",
		false},
	{"Thrust per power", unit.ThrustPerPower.Unit("g/W"), (*Point).ThrustPerPower,
		"thrust of all rotors over pack power", false},
	{"Steady motor temperature", finding.Celsius, func(p *Point) float64 { return p.Temperature },
		"of the windings, were the point held; where it cannot be, how soon they warm from their temperature in hover",
		false},
}
