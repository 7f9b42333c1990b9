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
		PackCurrent: f.PackCurrent, PackVoltage: f.PackVoltage, Power: f.PackCurrent * f.PackVoltage, Temperature: math.NaN(), Heat: heatText(c)}
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
		{"Top speed, by " + c.Flight.Limit.String(), &c.Flight.Top},
	} {
		if x.at.Airspeed == 0 {
			continue
		}
		p := pointOf(x.title, &x.at.Point)
		p.Airspeed = x.at.Airspeed
		there := *c // as if this were its top speed and its cruise
		there.Flight.Top, there.Flight.Endurance = *x.at, *x.at
		p.Mach = metric("flight-tip-mach").Of(&there)
		if at, ok := c.Thrusts(x.at.Airspeed); ok {
			p.Thrust, p.Available = at.Needed/flight.Gravity, at.Available/flight.Gravity
		}
		p.Temperature = metric("cruise-motor-temperature").Of(&there)
		out = append(out, p)
	}
	return out
}

// heatText says how long the motors stand full throttle.
func heatText(c *model.Craft) string {
	burst := metric("burst-time")
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
}

var pointColumns = []pointColumn{
	{"Airspeed", unit.Speed.Unit("m/s"), func(p *point) float64 { return p.Airspeed }, ""},
	{"Thrust", gram, func(p *point) float64 { return p.Thrust }, "of all rotors along their axes, as the mass that it would hold; in level flight what trim needs"},
	{"Thrust available", gram, func(p *point) float64 { return p.Available }, "that of full throttle at the same airspeed and tilt, at the charge at which full throttle is judged"},
	{"Speed of rotation", unit.Rotation.Unit("rpm"), func(p *point) float64 { return p.Speed }, ""},
	{"Tip Mach number", unit.Ratio.Unit(""), func(p *point) float64 { return p.Mach }, "of the blade tips; in flight of the advancing ones"},
	{"Shaft power", unit.Power.Unit("W"), func(p *point) float64 { return p.shaft() }, "of one motor, 2 π n Q"},
	{"Motor current", unit.Current.Unit("A"), func(p *point) float64 { return p.Current }, "of one motor"},
	{"Motor voltage", unit.Voltage.Unit("V"), func(p *point) float64 { return p.Voltage }, "behind the controller"},
	{"Throttle", unit.Ratio.Unit("%"), func(p *point) float64 { return p.Duty }, "duty of the controller"},
	{"Pack current", unit.Current.Unit("A"), func(p *point) float64 { return p.PackCurrent }, ""},
	{"Pack voltage", unit.Voltage.Unit("V"), func(p *point) float64 { return p.PackVoltage }, "loaded"},
	{"Pack power", unit.Power.Unit("W"), func(p *point) float64 { return p.Power }, "avionics included"},
	{"Motor efficiency", unit.Ratio.Unit("%"), func(p *point) float64 { return p.shaft() / (p.Current * p.Voltage) }, "shaft power over electrical power of a motor"},
	{"Thrust per power", unit.ThrustPerPower.Unit("g/W"), func(p *point) float64 { return p.Thrust / p.Power }, "thrust of all rotors over pack power"},
	{"Steady motor temperature", celsi, func(p *point) float64 { return p.Temperature }, "of the windings, were the point held; at full throttle at rest how soon they warm from their temperature in hover"},
}

// pointWidth leaves room between heads, which are aligned right.
func pointWidth(c pointColumn) float64 {
	if c.Unit == celsi {
		return 18 // words
	}
	return 12.5
}

func (p *point) shaft() float64 { return 2 * math.Pi * p.Speed * p.Torque }

// points is the sheet of the operating points of the best designs.
func (b *review) points() {
	type line struct {
		class string
		point
	}
	var lines []line
	for i := range b.found {
		if e := b.found[i].Best(); e != nil {
			for _, p := range points(e.Craft) {
				lines = append(lines, line{className(b.found[i].Class), p})
			}
		}
	}
	var columns []pointColumn // of which something is known
	var most []float64
	for _, c := range pointColumns {
		top := math.Inf(-1)
		for i := range lines {
			if v := c.Of(&lines[i].point); finite(v) {
				top = max(top, c.Unit.FromSI(v))
			}
		}
		if !math.IsInf(top, -1) && top != 0 {
			columns, most = append(columns, c), append(most, top)
		}
	}
	widths, heads := []float64{14, 22}, []string{"Class", "Point"}
	var numbers []int
	for _, c := range columns {
		widths, heads = append(widths, pointWidth(c)), append(heads, headed(c.Title, c.Unit.Label))
		numbers = append(numbers, len(heads))
	}
	p := b.newPage(pointsSheet, widths...)
	p.printed = len(widths)
	p.wide(1, p.printed, "Operating points of the best design of each class", title)
	p.next()
	p.wide(1, p.printed, "Hover, least power and best range are at the mean voltage of the pack over its usable charge; full throttle and top speed at the charge that they are judged at. Point at a head for its meaning.", note)
	p.next()
	p.marked()
	p.gap()
	for k, c := range columns {
		if c.Note != "" {
			p.comment(p.Name, cellName(3+k, p.row), c.Note)
		}
	}
	p.head(heads, numbers...)
	for i := range lines {
		l := &lines[i]
		class := l.class
		if i > 0 && lines[i-1].class == class {
			class = ""
		}
		p.put(1, class, ruled(look{Bold: true, Colour: accent, Wrap: true}))
		p.put(2, l.Title, ruled(plain))
		for k, c := range columns {
			if c.Unit == celsi && l.Heat != "" {
				p.put(3+k, l.Heat, ruled(look{Align: "right", Wrap: true}))
				continue
			}
			number := numberFormat(most[k])
			if c.Unit == celsi && l.Temperature >= motor.Hottest {
				number = `"≥ "` + number
			}
			p.put(3+k, c.Unit.FromSI(c.Of(&l.point)), ruled(look{Number: number}))
		}
		p.next()
	}
	p.end("")
}
