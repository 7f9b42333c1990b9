package decide

import (
	"context"
	"maps"
	"math"
	"runtime"
	"time"

	"rotorsieve/sweep"
)

// Forecast is what a choice will take, as a trial has shown.
type Forecast struct {
	Builds int                   // candidates of all classes
	CPU    time.Duration         // of the choice, of all processors together
	Time   time.Duration         // of the same, where the run has its processors for itself
	Memory float64               // that it holds at most besides what the sweep has left, in bytes
	Works  Works                 // of its stages
	Stages [Stages]time.Duration // of CPU
	Sketch *Decision             // as large as that to come and not as right; nil where there is no build
}

// Measured on whole choices: what a propeller holds with the flight that draws are scaled
// from, and by how much the heap reaches over what is held.
const (
	perPropeller = 160e3
	overHeld     = 1.5

	triedClasses = 4 // at most, that stand for the others
)

// Estimate tells what a choice among the builds of a result would take, on the processors that it
// would have: what its stages do follows from the builds, and what each of that takes from a
// trial of some of them. The result may be of a part of a study; whole says how much more
// the study will have of each class, and is nil where nothing is left.
func Estimate(ctx context.Context, s *sweep.Study, found *sweep.Result, whole []sweep.Growth, o Options) (
	out Forecast, err error) {
	if o.Fresh == 0 {
		o.Fresh = Fresh
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	rules := newRules(s, o.ByThrottle)
	lists := make([][]*build, len(found.Classes))
	keys := make([]map[propellerKey]bool, len(lists))
	for i := range lists {
		lists[i] = rules.space.candidates(i, &found.Classes[i])
		if whole != nil {
			lists[i] = grown(lists[i], whole[i].Builds, whole[i].Propellers)
		}
		out.Builds += len(lists[i])
		keys[i] = map[propellerKey]bool{}
		for _, b := range lists[i] {
			keys[i][b.propeller] = true
		}
	}
	if out.Builds == 0 {
		return out, nil
	}
	moved := shifts{s.Models()}
	others := alternativesIn(s.Models())
	same := 0
	for _, every := range others {
		if !every[0].blows {
			same++
		}
	}
	t := &trying{runner: newRunner(rules, s.Models(), o.Workers), ctx: ctx}
	var rates rates
	f := &foretelling{rules: rules, shelf: newShelf()}
	next, every := 0, (len(lists)+triedClasses-1)/triedClasses
	var seconds [Stages]float64
	var blown float64 // s of a propeller in other air
	classes := make([]Class, len(lists))
	for i, list := range lists {
		later := map[propellerKey]bool{}
		for _, of := range keys[i+1:] {
			for k := range of {
				later[k] = true
			}
		}
		before := f.works
		classes[i] = Class{Nominal: -1, Surest: -1}
		f.class(moved, same, list, later, o)
		if len(list) == 0 {
			continue
		}
		if i >= next {
			next = i + every
			if rates = t.class(&f.lists, f.works.less(&before), o); t.err != nil {
				return out, t.err
			}
			if blown == 0 {
				blown = t.inOtherAir(others, f.lists.told)
			}
		}
		if classes[i] = t.sketch(i, &f.lists, o); t.err != nil {
			return out, t.err
		}
		solve, trace := t.each()
		for stage := range Stages {
			w := f.works[stage].less(before[stage])
			x := &rates.of[stage]
			seconds[stage] += rates.once[stage] + solve*float64(w.Solved) + trace*float64(w.Traced) +
				x.draw*float64(w.Draws) + x.vary*float64(w.Varied) + x.judge*float64(w.Builds)
			f.works[stage].Packs += int(math.Round(x.packs * float64(w.Builds)))
		}
		// Other air: some propellers are solved in it.
		airs := len(others) - same
		air := float64(airs * min(airSizes, f.lists.sizes()))
		seconds[Moving] += air * blown
		m := &f.works[Moving]
		m.Solved, m.Draws = m.Solved+int(air), m.Draws+airs
		m.Varied, m.Builds = m.Varied+int(air), m.Builds+int(air)
		out.Memory = max(out.Memory, f.held)
	}
	props := map[propellerKey]bool{}
	for _, of := range keys {
		maps.Copy(props, of)
	}
	out.Memory = overHeld * (out.Memory + perPropeller*float64(min(len(props), solvedKept)))
	out.Works, out.Sketch = f.works, rules.sketched(classes, o)
	var all float64
	for stage, s := range seconds {
		all += s
		out.Stages[stage] = time.Duration(s * float64(time.Second))
	}
	out.CPU = time.Duration(all * float64(time.Second))
	out.Time = out.CPU / time.Duration(min(runtime.GOMAXPROCS(0), o.Workers))
	return out, nil
}
