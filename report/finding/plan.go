package finding

import (
	"cmp"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Plan is the way from a review to the bench for one design: what to buy, what to measure, and
// how each requirement is shown.
type Plan struct {
	Design model.Design
	Craft  *model.Craft   // of several scenarios in the first, whose air is that of the tests
	In     []*model.Craft // in all scenarios
	Drawn  bool           // over draws; otherwise there are no tests, and numbers are nominal alone
	Loads  decide.Loads
	Tests  []PlannedTest
	Checks []Check
}

// Plan is that of the recommended build of a class with the pack that was planned, or of the best
// design where there are no draws; nil where no design is feasible.
func (f *Class) Plan(gates []sweep.Gate) *Plan {
	if k := f.Choice; k != nil {
		b := k.Recommended()
		p := &Plan{Design: f.Planned.Design, Craft: f.Planned.In[0], In: f.Planned.In, Drawn: true,
			Loads: k.Loads}
		p.take(k.Tests, p.Design, p.Craft, nil)
		for _, x := range k.Class.Rivals {
			if other := k.At(x.Build); other != nil && k.worth[other.Index] != nil {
				e := k.worth[other.Index]
				p.take(x.Tests, e.Design, e.In[0], other)
			}
		}
		p.check(gates, k.Tests, b.Margins, b.Kept, 1-b.Causes[sweep.GateClass])
		return p
	}
	e := f.Best()
	if e == nil {
		return nil
	}
	p := &Plan{Design: e.Design, Craft: e.In[0], In: e.In}
	p.check(gates, nil, nil, nil, math.NaN())
	return p
}

// PlanOf is that of one design by its crafts in all scenarios, over draws where there are any.
func PlanOf(d model.Design, in []*model.Craft, over *decide.Drawn, require []sweep.Requirement) *Plan {
	c := in[0]
	p := &Plan{Design: d, Craft: c, In: in}
	var gates []sweep.Gate
	if c.Limit > 0 {
		gates = append(gates, sweep.Gate{Name: "class"})
	}
	for i := range require {
		gates = append(gates, sweep.Gate{Name: require[i].Metric.Name, Requirement: &require[i]})
	}
	if over == nil {
		p.check(gates, nil, nil, nil, math.NaN())
		return p
	}
	p.Drawn, p.Loads = true, over.Loads
	p.take(over.Tests, d, c, nil)
	p.check(gates, over.Tests, over.Margins, over.Kept, over.InClass)
	return p
}

// Load is what a part must bear.
type Load int

// Loads of parts: at full throttle at rest, but for the room of a frame.
const (
	NoLoad       Load = iota
	MotorCurrent      // A
	Turns             // rev/s
	PackCurrent       // A, for seconds
	BoardCurrent      // A, of each motor
	Room              // diameter of a propeller, m
)

// Purchase is a line of what to buy.
type Purchase struct {
	Kind  string // of PartKinds; "" for what stands with no part, which Title names
	Title string
	Name  string // of a part that exists; "" for none
	Count int
	Mass  float64 // of one, kg
	Price float64 // of one, in the unit of its list; NaN where none is stated

	Load Load
	// Needs is what it must bear by the nominal model and Most in nine of ten draws, SI; NaN without
	// draws. Rated is what it may bear, NaN where that is not known; Stated says that its owner says so,
	// the model otherwise.
	Needs, Most, Rated float64
	Stated             bool
}

// Margin is by what share of what it must bear in nine of ten draws, or by the nominal model
// without draws, a part may bear more; NaN where that is not known.
func (p *Purchase) Margin() float64 {
	needs := p.Most
	if math.IsNaN(needs) {
		needs = p.Needs
	}
	return p.Rated/needs - 1
}

const rotors = 4

// Purchases are what the craft is made of: the parts to choose, and the rest by its mass. The
// masses times the counts add up to the all-up weight.
func (p *Plan) Purchases() (all []Purchase) {
	c, t := p.Craft, &p.Design.Parts
	m, none, full := c.Masses(), math.NaN(), &c.Powertrain.Full
	price := func(s part.Stated) float64 { return s.Or(none) }
	most := func(q decide.Quantiles) float64 {
		if !p.Drawn {
			return none
		}
		return q.P90
	}
	add := func(x Purchase, kind string) {
		for _, k := range PartKinds {
			if k.Name == kind {
				x.Kind, x.Title, x.Name = k.Name, k.Title, k.Of(p.Design)
			}
		}
		if x.Load == NoLoad {
			x.Needs, x.Most, x.Rated = none, none, none
		}
		all = append(all, x)
	}
	motor := Purchase{Count: rotors, Mass: m.Motors / rotors, Price: none, Load: MotorCurrent, Needs: full.Current,
		Most: most(p.Loads.Motor), Rated: none}
	if k := t.Motor; k != nil {
		motor.Price, motor.Rated, motor.Stated = price(k.Price), k.Current.Or(none), k.Current.Known
	}
	add(motor, "motor")
	propeller := Purchase{Count: rotors, Mass: m.Propellers / rotors, Price: none, Load: Turns, Needs: full.Speed,
		Most: most(p.Loads.Turns), Rated: none}
	if k := t.Propeller; k != nil {
		propeller.Price, propeller.Rated, propeller.Stated = price(k.Price), k.Turns.Or(none), k.Turns.Known
	}
	add(propeller, "propeller")
	bought := Purchase{Count: 1, Mass: m.Pack, Price: none, Load: PackCurrent, Needs: full.PackCurrent,
		Most: most(p.Loads.Pack), Rated: c.Powertrain.Drive.Pack.BurstLimit()}
	if k := t.Pack; k != nil {
		bought.Price, bought.Stated = price(k.Price), k.Current.Known || k.Burst.Known
	}
	add(bought, "pack")
	frame := Purchase{Count: 1, Mass: m.Frame, Price: none, Load: Room, Needs: c.Powertrain.Propeller.Diameter,
		Most: none, Rated: none}
	if k := t.Frame; k != nil {
		frame.Price, frame.Rated, frame.Stated = price(k.Price), k.Largest, true
	}
	add(frame, "frame")
	board := Purchase{Count: 1, Mass: m.Controller, Price: none, Load: BoardCurrent, Needs: full.Current,
		Most: most(p.Loads.Motor), Rated: full.Controller.Rating}
	if k := t.Board; k != nil {
		board.Price, board.Stated = price(k.Price), true
	}
	add(board, "board")
	for _, x := range []Purchase{{Title: "Hardware", Mass: m.Hardware}, {Title: "Wiring", Mass: m.Wiring},
		{Title: "Avionics", Mass: m.Avionics}, {Title: "Payload", Mass: m.Payload}} {
		if x.Mass > 0 {
			x.Count, x.Price = 1, none
			add(x, "")
		}
	}
	return all
}

// Cost is the sum of the prices that are known.
func Cost(all []Purchase) (sum float64) {
	for i := range all {
		if x := &all[i]; !math.IsNaN(x.Price) {
			sum += float64(x.Count) * x.Price
		}
	}
	return sum
}

// Overload is what full throttle at rest asks of the pack of the recommended build over the rating that is stated of
// it, by the nominal model and in nine of ten draws; not ok where none is stated or it is never more.
func (f *Class) Overload() (nominal, most float64, ok bool) {
	if f.Choice == nil || f.Planned == nil {
		return 0, 0, false
	}
	k, c := f.Planned.Design.Pack, f.Planned.In[0]
	if k == nil || !k.Current.Known && !k.Burst.Known {
		return 0, 0, false
	}
	rated := c.Powertrain.Drive.Pack.BurstLimit()
	nominal, most = c.Powertrain.Full.PackCurrent/rated, f.Choice.Loads.Pack.P90/rated
	return nominal, most, max(nominal, most) > 1
}

// How a requirement is shown to be kept.
type Shown int

// A requirement that nearly all draws keep is shown by computing; another by a test that says
// enough of it; what no test does is open.
const (
	ShownComputed Shown = iota
	ShownByTest
	ShownOpen
)

// Chosen here: the share of draws that keep a requirement from which it is taken as shown, and
// the share of the variance of its margin from which a test is taken to tell of it.
const (
	SureEnough   = 0.95
	TellsEnough  = 0.25
	mostTellings = 2
)

// Check is how a requirement stands.
type Check struct {
	Gate   sweep.Gate
	Value  float64          // by the nominal model, SI
	Bound  float64          // SI
	Margin decide.Quantiles // see decide.Build.Margins; NaN for none
	Kept   float64          // share of draws; NaN without draws
	Shown  Shown
	By     []Telling // tests that tell of it, the most telling first; of the class none: it is weighed
}

// Telling is a test and what share of the variance of a margin goes along with it.
type Telling struct {
	What  decide.Measurable
	Share float64
}

// Relative says whether the margin is a logarithm of the share of the bound.
func (c *Check) Relative() bool { return c.Bound > 0 }

func (p *Plan) check(gates []sweep.Gate, tests []decide.Test, margins []decide.Quantiles, kept []float64,
	inClass float64) {
	none := math.NaN()
	at := 0
	for _, g := range gates {
		c := Check{Gate: g, Margin: decide.Quantiles{P10: none, P50: none, P90: none}, Kept: none}
		q := g.Requirement
		switch {
		case g.Name == "class":
			c.Value, c.Bound, c.Kept = p.Craft.Mass, p.Craft.Limit, inClass
		case q == nil:
			continue
		default:
			c.Value, c.Bound = nearestTo(q, p.In), q.Bound
			if at < len(margins) && at < len(kept) {
				c.Margin, c.Kept = margins[at], kept[at]
			}
		}
		if p.Drawn && c.Kept < SureEnough {
			if c.Shown = ShownByTest; q != nil {
				if c.By = telling(tests, at); len(c.By) == 0 {
					c.Shown = ShownOpen
				}
			}
		}
		if q != nil {
			at++
		}
		p.Checks = append(p.Checks, c)
	}
}

// nearestTo is the value of a requirement's metric in the scenario in which it is nearest to the bound,
// or furthest beyond it.
func nearestTo(q *sweep.Requirement, in []*model.Craft) float64 {
	v := q.Metric.Of(in[0])
	for _, c := range in[1:] {
		if q.AtLeast {
			v = min(v, q.Metric.Of(c))
		} else {
			v = max(v, q.Metric.Of(c))
		}
	}
	return v
}

// telling are the tests that tell most of a requirement, by its place.
func telling(tests []decide.Test, at int) (out []Telling) {
	for _, t := range tests {
		if at < len(t.Explains) && t.Explains[at] >= TellsEnough {
			out = append(out, Telling{t.What, t.Explains[at]})
		}
	}
	slices.SortStableFunc(out, func(a, b Telling) int { return cmp.Compare(b.Share, a.Share) })
	return out[:min(len(out), mostTellings)]
}
