package finding

import (
	"cmp"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Choice is what the draws make of a class that has a build.
type Choice struct {
	*decide.Class
	Of    *decide.Decision
	Grid  *sweep.Grid
	Gates []sweep.Gate
	Merit sweep.Merit
	AUW   float64 // by the nominal model, of the planned design of the recommended build, kg
	// Planned designs of which something is worth measuring, by their index.
	worth map[uint64]*Entry
}

// choice is that of a class of the result, nil for none.
func (r *Run) choice(at int) *Choice {
	d := r.Decision
	if d == nil || !r.Result.Complete || at >= len(d.Classes) || len(d.Classes[at].Builds) == 0 {
		return nil
	}
	return &Choice{Class: &d.Classes[at], Of: d, Grid: r.Study.Grid, Gates: r.Result.Gates, Merit: r.Study.Merit}
}

// Decides says whether the run has a Decision to tell of.
func (r *Run) Decides() bool { return r.Decision != nil && r.Result.Complete }

// MayDecide says whether the report of the run has a Decision to tell of, or will have.
func (r *Run) MayDecide() bool { return r.Decides() || r.Decision == nil && r.Draws > 0 }

// At is a build by its place in Builds, nil for -1.
func (c *Choice) At(n int) *decide.Build {
	if n < 0 || n >= len(c.Builds) {
		return nil
	}
	return &c.Builds[n]
}

// Swept says whether the grid has more than one value of an axis.
func (c *Choice) Swept(d *sweep.AxisDef) bool { return len(AxisValues(c.Grid, d)) > 1 }

// Recommended is the build of the highest cautious merit.
func (c *Choice) Recommended() *decide.Build { return &c.Builds[0] }

// Failing is a gate at which draws fail.
type Failing struct {
	At    int // in Gates
	Gate  sweep.Gate
	Share float64 // of all draws
	First bool    // of draws that fail there first alone: what fails elsewhere before is not counted
}

// Fails is the gate that most draws break, whatever else they do, the first of equal ones; false where none
// does. Where no more is at hand it is that at which most fail first.
func (c *Choice) Fails(b *decide.Build) (Failing, bool) {
	if len(b.Fails) == len(c.Gates) {
		f := Failing{At: -1}
		for g, v := range b.Fails {
			if v > f.Share {
				f.At, f.Gate, f.Share = g, c.Gates[g], v
			}
		}
		return f, f.At >= 0
	}
	if b.Cause < 0 || b.Cause >= len(c.Gates) || b.Cause >= len(b.Causes) {
		return Failing{}, false
	}
	return Failing{b.Cause, c.Gates[b.Cause], b.Causes[b.Cause], true}, true
}

// Sure is the P(feasible) that a build is to reach; where none does, the highest is told.
const Sure = 0.8

// Reached says whether some build reaches Sure.
func (c *Choice) Reached() bool { return c.Surest >= 0 && c.Builds[c.Surest].Feasible >= Sure }

// Along are the values of an axis held against the recommended build, nil where the axis
// is not swept or does not belong to a build.
func (c *Choice) Along(d *sweep.AxisDef) *decide.AxisValues {
	for i := range c.Axes {
		if c.Grid.Axes()[c.Axes[i].Axis].Def == d {
			return &c.Axes[i]
		}
	}
	return nil
}

// Others are the values of an axis but for that of the recommended build, the best cautious
// merit first; none where it is not swept.
func (c *Choice) Others(d *sweep.AxisDef) []decide.AxisValue {
	all := c.Along(d)
	if all == nil {
		return nil
	}
	var out []decide.AxisValue
	for _, v := range all.Values {
		if v.Any && v.Build != 0 && c.At(v.Build) != nil { // 0 is the recommended itself
			out = append(out, v)
		}
	}
	slices.SortStableFunc(out, func(a, b decide.AxisValue) int {
		return cmp.Compare(c.Builds[b.Build].Cautious, c.Builds[a.Build].Cautious)
	})
	return out
}

// Ties are the builds that are not told from the recommended one, without it.
func (c *Choice) Ties() []*decide.Build {
	var out []*decide.Build
	for n := range c.Builds {
		if n > 0 && c.Builds[n].Tied {
			out = append(out, &c.Builds[n])
		}
	}
	return out
}

// Stretch is a range of neighbours of the grid; of one alone both ends are it.
type Stretch struct{ From, To float64 }

// TiedSizes are the diameters in m that are tied: that of the recommended build, and those whose best
// build is not told from it.
func (c *Choice) TiedSizes() []Stretch {
	own := c.Recommended().Design.Diameter
	all := c.Along(sweep.Diameter)
	if all == nil {
		return []Stretch{{own, own}}
	}
	var out []Stretch
	for _, run := range Runs(c.TiedAlong(all)) {
		out = append(out, Stretch{all.Values[run[0]].Value, all.Values[run[1]].Value})
	}
	return out
}

// Price is what the recommended build costs and buys against the nominal best.
type Price struct {
	Recommended, Nominal *decide.Build
	Changes              []Change // of the medians of what ranks, from the nominal best
}

// Price is nil where the nominal best is recommended.
func (c *Choice) Price() *Price {
	n := c.At(c.Nominal)
	if n == nil || c.Nominal == 0 {
		return nil
	}
	p := &Price{Recommended: c.Recommended(), Nominal: n}
	p.Changes = c.Medians(p.Nominal, p.Recommended)
	return p
}

// Medians are the changes of the medians of what ranks from one build to another.
func (c *Choice) Medians(from, to *decide.Build) []Change {
	var all []Change
	for at, m := range c.Ranking() {
		if at >= min(len(from.Metrics), len(to.Metrics)) {
			break
		}
		x, y := from.Metrics[at].P50, to.Metrics[at].P50
		if Finite(x) && Finite(y) && x > 0 && Relative(m) && !Capped(m, x) && !Capped(m, y) {
			all = append(all, Change{m, x, y})
		}
	}
	return all
}

// Ranking are the metrics of the merit: the first of those whose quantiles a build has.
func (c *Choice) Ranking() []*model.Metric {
	return c.Of.Metrics[:min(len(c.Merit), len(c.Of.Metrics))]
}

// leastGain is the share of the best merit from which on a better answer is worth telling:
// what 2 % of each metric would change.
const leastGain = 0.02

// Gaining are the bounds that alone, a tenth looser, have a better answer by the nominal
// model, the largest gain first.
func (c *Choice) Gaining() []*decide.Loosened {
	var out []*decide.Loosened
	for i := range c.Loosened {
		if l := &c.Loosened[i]; l.Any && l.Gain >= leastGain*(l.Merit-l.Gain) && l.Gain > 0 {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b *decide.Loosened) int { return cmp.Compare(b.Gain, a.Gain) })
	return out
}

// Measure is something worth measuring.
type Measure struct {
	decide.Worth
	Of  *decide.Build
	RPM float64 // in hover, for a propeller to be measured at; 0 for others
}

// Measures are what is worth measuring, the most valuable first, the best pair apart.
func (c *Choice) Measures() (single []Measure, pair *Measure) {
	speed := Metric("hover-rpm")
	for _, w := range c.Worth {
		if !c.Tells(w) {
			continue
		}
		m := Measure{Worth: w, Of: c.At(w.Build)}
		if m.Of != nil && (OfPropeller(w.What) || w.Pair && OfPropeller(w.Another)) {
			if e := c.worth[m.Of.Index]; e != nil {
				m.RPM = speed.Unit.FromSI(speed.Of(e.Craft))
			}
		}
		switch {
		case !w.Pair:
			single = append(single, m)
		case pair == nil:
			pair = &m
		}
	}
	return single, pair
}

// Tells says whether a run can be told what was measured: of a craft of parts that exist hovering is a check alone,
// which nothing reads back.
func (c *Choice) Tells(w decide.Worth) bool {
	b := c.At(w.Build)
	if b == nil || c.worth[b.Index] == nil {
		return true
	}
	e := c.worth[b.Index]
	nowhere := func(x decide.Measurable) bool {
		return backOf(x, &b.Design.Parts, &e.Craft.Model.Assume) == Nowhere
	}
	return !nowhere(w.What) && !(w.Pair && nowhere(w.Another))
}

// OfPropeller says whether it is measured of a propeller, at a speed of rotation.
func OfPropeller(m decide.Measurable) bool {
	return m == decide.PropellerThrust || m == decide.PropellerPower
}

// measured finds the planned designs of which something is worth measuring.
func (r *Run) measured(k *sweep.ClassResult, c *Choice) error {
	c.worth = map[uint64]*Entry{}
	for _, w := range c.Worth {
		b := c.At(w.Build)
		if b == nil || c.worth[b.Index] != nil {
			continue
		}
		e, err := r.entry(k, sweep.Ranked{Index: b.Index})
		if err != nil {
			return err
		}
		c.worth[b.Index] = &e
	}
	return nil
}
