package report

import (
	"math"
	"slices"
	"strconv"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// point is an operating point as tables show it.
type point struct {
	model.OperatingPoint
	Heat string // in place of a steady temperature, "" where there is one
}

// points are the operating points of a craft that has them: at rest, and in
// level flight where it flies.
func points(c *model.Craft) []point {
	var out []point
	for _, p := range c.Points() {
		if p.Title == model.TopSpeedPoint {
			p.Title += ", by " + c.TopLimit()
		}
		q := point{OperatingPoint: p}
		if p.Stands != "" {
			q.Heat = heatText(c, p.Stands)
		}
		out = append(out, q)
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
	{"Shaft power", unit.Power.Unit("W"), (*point).Shaft, "of one motor, 2 π n Q", false},
	{"Motor current", unit.Current.Unit("A"), func(p *point) float64 { return p.Current }, "of one motor", false},
	{"Motor voltage", unit.Voltage.Unit("V"), func(p *point) float64 { return p.Voltage }, "behind the controller", false},
	{"Throttle", unit.Ratio.Unit("%"), func(p *point) float64 { return p.Duty }, "duty of the controller", false},
	{"Pack current", unit.Current.Unit("A"), func(p *point) float64 { return p.PackCurrent }, "", false},
	{"Pack voltage", unit.Voltage.Unit("V"), func(p *point) float64 { return p.PackVoltage }, "loaded", false},
	{"Pack power", unit.Power.Unit("W"), func(p *point) float64 { return p.Power }, "avionics included", false},
	{"Motor efficiency", unit.Ratio.Unit("%"), (*point).Efficiency, "shaft power over electrical power of a motor", false},
	{"Thrust per power", unit.ThrustPerPower.Unit("g/W"), (*point).ThrustPerPower, "thrust of all rotors over pack power", false},
	{"Steady motor temperature", celsi, func(p *point) float64 { return p.Temperature }, "of the windings, were the point held; where it cannot be, how soon they warm from their temperature in hover", false},
}

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
