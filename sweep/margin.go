package sweep

import (
	"math"

	"rotorsieve/model"
)

// Levels is the number of levels by which the requirements of candidates are tightened.
const Levels = 6

// LevelSigmas are the levels: by how many standard deviations of its margin a value keeps a
// requirement. Every feasible design reaches the first.
var LevelSigmas = [Levels]float64{0, 0.5, 1, 1.5, 2, 2.5}

// massLoosened is by how many of its standard deviations mass is tightened less: who builds a
// craft that comes out heavy buys the smaller pack.
const massLoosened = 1.5

const (
	massSpread  = 0.045
	otherSpread = 0.12 // chosen here, between thrust and controller
)

// marginSpreads are standard deviations of what a requirement asks, of the logarithm of its
// value over its bound, by the metric's name. They choose candidates and judge nothing.
// From an ensemble of whole grids that was drawn for it (DEVELOPERS.md); by hand: torque in
// both its forms and temperatures of motors, of which it has one each, and 0 for what
// follows from axes and labels alone.
var marginSpreads = map[string]float64{
	"auw": massSpread, "class-margin": massSpread,
	"thrust-to-weight": 0.125,
	"tip-mach":         0.05, "tip-speed": 0.05, "full-throttle-rpm": 0.05,
	"torque-per-volume": 0.125, "torque-load": 0.125,
	"controller-rating": 0.15, "motor-current-use": 0.15, "board-current-use": 0.15,
	"propeller-speed-use": 0.05,
	"pack-load":           0.23,
	"voltage-margin":      0.02, "pack-voltage": 0.02,
	"motor-temperature": 0.35, "cruise-motor-temperature": 0.35,
	"burst-time": 0.35, "top-speed-time": 0.35,
	"hover-throttle": 0.125,
	"payload":        0, "wheelbase": 0, "capacity-per-cell": 0, "rim-speed": 0, "winding-load": 0,
	"frame-use": 0, "motor-cells-use": 0, "board-cells-use": 0, "price": 0,
}

// margin is a requirement as levels read it: with its bound at each level.
type margin struct {
	metric  *model.Metric
	of      func(*model.Craft) float64 // known before flight; nil for others
	start   func(*model.Craft)         // see model.Metric.Start; nil for nothing
	atLeast bool
	along   bool              // asks for the metric's better direction
	bounds  [][Levels]float64 // by class

	// Of a bound in V on what a cell has above its floor: the floor of a cell of the first pack, from
	// which its bounds are worked out.
	bound, floor float64
	ofFloor      bool
}

// own is a value of a craft as the bounds read it. These move from the floor of the first pack;
// the distance of a craft with other cells is put in proportion to that.
func (m *margin) own(v float64, c *model.Craft) float64 {
	if !m.ofFloor {
		return v
	}
	k := &c.Powertrain.Drive.Pack
	floor := k.Floor / float64(k.Cells)
	if floor == m.floor || (m.bound+floor > 0) != (m.bound+m.floor > 0) {
		return v
	}
	return m.bound + (v-m.bound)*(m.bound+m.floor)/(m.bound+floor)
}

// keeps is as Requirement.Kept of the bound at a level.
func (m *margin) keeps(v float64, class, level int) bool {
	if m.atLeast {
		return v >= m.bounds[class][level]
	}
	return v <= m.bounds[class][level]
}

// planMargins works out the bounds at all levels, so that a level costs comparisons.
func (p *plan) planMargins() {
	s := p.study
	for i := range p.require {
		r := &p.require[i]
		m := margin{metric: r.Metric, start: r.Metric.Start(), atLeast: r.AtLeast,
			along: r.AtLeast == (r.Metric.Better == model.Higher) && r.Metric.Better != model.Neither}
		if r.Metric.Known() {
			m.of = r.Metric.Foreseen()
		}
		m.bound, m.floor, m.ofFloor = r.Bound, p.floor(), r.Metric.Name == "voltage-margin"
		moved := false
		for _, k := range s.Classes {
			b := p.bounds(r, k.Limit)
			moved = moved || b[0] != b[Levels-1]
			m.bounds = append(m.bounds, b)
		}
		if moved { // otherwise every feasible design keeps it at all levels
			p.margins = append(p.margins, m)
		}
	}
	for _, k := range s.Classes {
		p.limits = append(p.limits, p.bounds(&Requirement{Metric: allUpWeight, Bound: k.Limit}, k.Limit))
	}
}

var allUpWeight, _ = model.LookupMetric("auw")

// bounds are those of a requirement at each level in a class of a limit in kg: at the first
// its own, from there rising where the value is to be at least the bound, falling where it
// is to be at most. What moves by a share is the bound's distance from where the quantity
// that errs is none: a cell's voltage above the floor from no voltage, a temperature from
// that of the air, what a class leaves from no mass. A bound that lies there does not move.
func (p *plan) bounds(r *Requirement, limit float64) (b [Levels]float64) {
	name := r.Metric.Name
	sigma, ok := marginSpreads[name]
	if !ok {
		sigma = otherSpread
	}
	origin := 0.0
	switch name {
	case "voltage-margin":
		origin = -p.floor()
	case "motor-temperature", "cruise-motor-temperature":
		origin = p.study.Model.Air.Temperature
	case "class-margin":
		origin = limit
	}
	for i, s := range LevelSigmas {
		if name == "auw" || name == "class-margin" {
			s = max(0, s-massLoosened)
		}
		if r.AtLeast != (r.Bound > origin) {
			s = -s
		}
		v := r.Bound
		if s != 0 {
			v = origin + (r.Bound-origin)*math.Exp(s*sigma)
		}
		if top := r.Metric.Cap; r.AtLeast && top > 0 {
			v = min(v, max(top, r.Bound)) // the cap stands for all beyond
		}
		if i > 0 { // whatever rounding does
			if r.AtLeast {
				v = max(v, b[i-1])
			} else {
				v = min(v, b[i-1])
			}
		}
		b[i] = v
	}
	return b
}

// floor is that of a cell of the first pack, V; see margin.own for others.
func (p *plan) floor() float64 { return p.packs[0].Floor / float64(p.packs[0].Cells) }

// value is the metric of an operated craft, where it is known before flight.
func (m *margin) value(c *model.Craft) float64 {
	if m.start != nil {
		m.start(c)
	}
	return m.own(m.of(c), c)
}

// lower is the highest level up to the given one at which a value of a feasible craft keeps
// the bound.
func (m *margin) lower(v float64, class, level int) int {
	for level > 0 && !m.keeps(v, class, level) {
		level--
	}
	return level
}

// levelByMass is the highest level that a mass reaches in a class.
func (p *plan) levelByMass(mass float64, class int) int {
	level := Levels - 1
	for level > 0 && !(mass <= p.limits[class][level]) {
		level--
	}
	return level
}

// level is the highest level that the feasible craft computed reaches in a class, in which
// it is.
func (a *again) level(class int) int {
	level := a.levelByMass(a.craft.Mass, class)
	for i := range a.margins {
		m := &a.margins[i]
		level = m.lower(m.own(m.metric.Of(&a.craft), &a.craft), class, level)
	}
	for _, o := range a.others {
		level = min(level, o.level(class))
	}
	return level
}
