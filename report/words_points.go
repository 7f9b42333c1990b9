package report

import (
	"math"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// point is a state in which a craft is looked at. What is not known of it is NaN.
type point struct {
	Title       string
	By          string  // what limits it, "" for none
	Airspeed    float64 // m/s
	Thrust      float64 // of all rotors, as the mass that it would hold, kg
	Available   float64 // of the same, at full throttle
	Speed       float64 // of rotation, rev/s
	Mach        float64 // of the tips
	Torque      float64 // of one motor, N m
	Current     float64 // of one motor, A
	Voltage     float64 // of one motor, V
	Duty        float64 // of the controller
	PackCurrent float64 // A
	PackVoltage float64 // V
	Power       float64 // from the pack, W
	Temperature float64 // of the motors when steady, K
	Heat        string  // in place of a steady temperature, "" where there is one
}

// head is the title with what limits the point.
func (p *point) head() string {
	if p.By == "" {
		return p.Title
	}
	return p.Title + ", by " + p.By
}

// points are the operating points of a craft that has them: at rest, and in
// level flight where it flies.
func points(c *model.Craft) []point {
	f := &c.Powertrain.Full
	static := metric("thrust-to-weight").Of(c) * c.Mass
	hover := pointOf("Hover", &c.Hover)
	hover.Thrust, hover.Available, hover.Mach = c.Mass, static, metric("hover-tip-speed").Of(c)/c.Model.Air.SoundSpeed
	hover.Temperature = metric("motor-temperature").Of(c)
	full := point{Title: "Full throttle at rest", Thrust: static, Available: static, Speed: f.Speed, Mach: metric("tip-mach").Of(c),
		Torque: f.Torque, Current: f.Current, Voltage: c.Powertrain.Drive.Motor.Voltage(f.Current, f.Speed), Duty: 1,
		PackCurrent: f.PackCurrent, PackVoltage: f.PackVoltage, Power: f.PackCurrent * f.PackVoltage, Temperature: math.NaN(), Heat: heatText(c, "burst-time")}
	out := []point{hover, full}
	if !c.Flight.OK {
		return out
	}
	for _, x := range []struct {
		title string
		at    *flight.Cruise
	}{
		{"Least power", &c.Flight.Endurance},
		{"Best range", &c.Flight.Range},
		{"Top speed", &c.Flight.Top},
	} {
		if x.at.Airspeed == 0 {
			continue
		}
		p := pointOf(x.title, &x.at.Point)
		if x.at == &c.Flight.Top {
			p.By = topLimitText(c.TopLimit())
		}
		p.Airspeed = x.at.Airspeed
		there := *c // as if this were its top speed and its cruise
		there.Flight.Top, there.Flight.Endurance = *x.at, *x.at
		p.Mach = metric("flight-tip-mach").Of(&there)
		if at, ok := c.Thrusts(x.at.Airspeed); ok {
			p.Thrust, p.Available = at.Needed/flight.Gravity, at.Available/flight.Gravity
		}
		p.Temperature = metric("cruise-motor-temperature").Of(&there)
		if x.at == &c.Flight.Top && p.Temperature > motor.BurstLimit {
			p.Temperature, p.Heat = math.NaN(), heatText(c, "top-speed-time")
		}
		out = append(out, p)
	}
	return out
}

// heatText says how long the motors stand full throttle or top speed.
func heatText(c *model.Craft, time string) string {
	burst := metric(time)
	limit := celsi.Format(motor.BurstLimit, 4)
	if v := burst.Of(c); beyond(burst, v) == "" {
		return "not steady: " + burst.Unit.Format(v, 3) + " to " + limit
	}
	return "below " + limit + " for an hour"
}

// pointOf takes what the electrical chain says of a point.
func pointOf(title string, p *flight.Point) point {
	return point{Title: title, Thrust: math.NaN(), Available: math.NaN(), Speed: p.Speed, Mach: math.NaN(), Torque: p.Torque, Current: p.Current, Voltage: p.Voltage, Duty: p.Duty,
		PackCurrent: p.PackCurrent, PackVoltage: p.PackVoltage, Power: p.Power, Temperature: math.NaN()}
}

// pointColumn is a quantity of the operating points.
type pointColumn struct {
	Title string
	Unit  unit.Unit
	Of    func(p *point) float64 // SI
	Note  string
	Short bool // to three significant figures, to which thrust needed and available meet at top speed
}

var pointColumns = []pointColumn{
	{"Airspeed", unit.Speed.Unit("m/s"), func(p *point) float64 { return p.Airspeed }, "", false},
	{"Thrust", gram, func(p *point) float64 { return p.Thrust }, "of all rotors along their axes, as the mass that it would hold; in level flight what trim needs", true},
	{"Thrust available", gram, func(p *point) float64 { return p.Available }, "that of full throttle at the same airspeed and tilt, at the charge at which full throttle is judged", true},
	{"Speed of rotation", unit.Rotation.Unit("rpm"), func(p *point) float64 { return p.Speed }, "", false},
	{"Tip Mach number", unit.Ratio.Unit(""), func(p *point) float64 { return p.Mach }, "of the blade tips; in flight of the advancing ones", false},
	{"Shaft power", unit.Power.Unit("W"), func(p *point) float64 { return p.shaft() }, "of one motor, 2 π n Q", false},
	{"Motor current", unit.Current.Unit("A"), func(p *point) float64 { return p.Current }, "of one motor", false},
	{"Motor voltage", unit.Voltage.Unit("V"), func(p *point) float64 { return p.Voltage }, "behind the controller", false},
	{"Throttle", unit.Ratio.Unit("%"), func(p *point) float64 { return p.Duty }, "duty of the controller", false},
	{"Pack current", unit.Current.Unit("A"), func(p *point) float64 { return p.PackCurrent }, "", false},
	{"Pack voltage", unit.Voltage.Unit("V"), func(p *point) float64 { return p.PackVoltage }, "loaded", false},
	{"Pack power", unit.Power.Unit("W"), func(p *point) float64 { return p.Power }, "avionics included", false},
	{"Motor efficiency", unit.Ratio.Unit("%"), func(p *point) float64 { return p.shaft() / (p.Current * p.Voltage) }, "shaft power over electrical power of a motor", false},
	{"Thrust per power", unit.ThrustPerPower.Unit("g/W"), func(p *point) float64 { return p.Thrust / p.Power }, "thrust of all rotors over pack power", false},
	{"Steady motor temperature", celsi, func(p *point) float64 { return p.Temperature }, "of the windings, were the point held; where it cannot be, how soon they warm from their temperature in hover", false},
}

func (p *point) shaft() float64 { return 2 * math.Pi * p.Speed * p.Torque }
