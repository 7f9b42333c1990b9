package report

import (
	"math"
	"slices"
	"strconv"

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
		{"Top speed, by " + c.TopLimit(), &c.Flight.Top},
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

// points is the sheet of the operating points of the best designs, class by class.
func (b *review) points() {
	type block struct {
		class string
		of    []point
	}
	var blocks []block
	most, count := slices.Repeat([]float64{math.Inf(-1)}, len(pointColumns)), 0
	for i := range b.found {
		e := b.found[i].Best()
		if e == nil {
			continue
		}
		k := block{className(b.found[i].Class), points(e.Craft)}
		blocks, count = append(blocks, k), max(count, len(k.of))
		for n, c := range pointColumns {
			for i := range k.of {
				if v := c.Of(&k.of[i]); finite(v) {
					most[n] = max(most[n], c.Unit.FromSI(v))
				}
			}
		}
	}
	var known []int // quantities
	for n := range pointColumns {
		if most[n] != 0 && !math.IsInf(most[n], -1) {
			known = append(known, n)
		}
	}
	widths := []float64{27}
	for range count {
		widths = append(widths, 17)
	}
	p := b.newPage(pointsSheet, append(widths, 56)...)
	last := len(p.widths)
	p.wide(1, last, "Operating points of the best design of each class", title)
	p.next()
	p.wide(1, last, "Hover, least power and best range are at the mean voltage of the pack over its usable charge; full throttle and top speed at the charge that they are judged at.", note)
	p.next()
	p.marked()
	for _, k := range blocks {
		p.gap()
		p.block(0, func() {
			heads, numbers := []string{k.class}, []int(nil)
			for i := range k.of {
				heads, numbers = append(heads, k.of[i].Title), append(numbers, 2+i)
			}
			for len(heads) < last {
				heads = append(heads, "")
			}
			p.head(heads, numbers...)
			for _, n := range known {
				c := &pointColumns[n]
				p.put(1, headed(c.Title, c.Unit.Label), ruled(plain))
				for i := range last - 2 {
					p.put(2+i, "", ruled(plain))
					if i >= len(k.of) {
						continue
					}
					x := &k.of[i]
					if c.Unit == celsi && x.Heat != "" {
						p.put(2+i, x.Heat, ruled(look{Align: "right", Wrap: true}))
						continue
					}
					number := numberFormat(most[n])
					if c.Unit == celsi && x.Temperature >= motor.Hottest {
						number = `"≥ "` + number
					}
					v := c.Unit.FromSI(c.Of(x))
					if c.Short {
						v, number = significant(v, 3), "General"
					}
					p.put(2+i, v, ruled(look{Number: number}))
				}
				p.put(last, c.Note, ruled(look{Wrap: true, Indent: 1, Colour: quiet}))
				p.next()
			}
		})
	}
	p.end("")
}

// significant rounds a value to n significant figures.
func significant(v float64, n int) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', n-1, 64), 64)
	if err != nil {
		panic("report: " + err.Error()) // what was printed reads back
	}
	return out
}
