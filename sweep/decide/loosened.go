package decide

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// loosening is the share of a bound by which it is loosened, of its value in the unit in
// which its metric is shown: 100 degC becomes 110 degC. A bound of 0 has no such share.
const loosening = 0.1

// Loosened bounds are looked at about the builds of the highest nominal merit, and the
// best by rank.
const (
	loosenedNominal = 200
	loosenedRanked  = 40
)

// loosen gives a requirement with its bound loosened.
func loosen(r sweep.Requirement) sweep.Requirement {
	u := r.Metric.Unit
	shown := u.FromSI(r.Bound)
	by := loosening * math.Abs(shown)
	if r.AtLeast {
		by = -by
	}
	r.Bound = u.ToSI(shown + by)
	return r
}

// eased are the requirements, each loosened.
func (r *rules) eased() []sweep.Requirement {
	out := slices.Clone(r.require)
	for n := range out {
		out[n] = loosen(out[n])
	}
	return out
}

// neighbours are the builds of the class at which bounds are loosened: all candidates, and
// of the best of them those one step away in KV, pitch, stator and cells, whatever other
// axes say.
func (c *choice) neighbours(s *space) []*build {
	seen := map[uint64]bool{}
	out := slices.Clone(c.builds)
	for _, b := range out {
		seen[s.key(b.index)] = true
	}
	byNominal := slices.Clone(c.order)
	slices.SortStableFunc(byNominal, func(a, b int) int {
		return cmp.Compare(c.builds[b].nominal, c.builds[a].nominal)
	})
	near := slices.Concat(c.order[:min(loosenedRanked, len(c.order))],
		byNominal[:min(loosenedNominal, len(byNominal))])
	for _, i := range near {
		index := c.builds[i].index
		for _, axis := range []int{s.kv, s.pitch, s.stator, s.cells} {
			for _, step := range []int{-1, 1} {
				at := s.grid.At(index, axis) + step
				if at < 0 || at >= len(s.axes[axis].Values) {
					continue
				}
				if x := s.with(index, axis, at); !seen[s.key(x)] {
					seen[s.key(x)] = true
					out = append(out, s.build(c.class, x))
				}
			}
		}
	}
	return out
}

// loosened finds the best merit by the nominal model with each bound alone loosened, over
// the candidates, their neighbours and all of their capacities; see also sweptHeavier. The true gain may be larger:
// it is looked for only where the bounds as asked have left something, and where a bound
// limits level flight too (pack load, voltage margin), flight keeps to the bound as asked.
// Full throttle is not held back here.
func (r *runner) loosened(ctx context.Context, c *choice) ([]Loosened, error) {
	var out []Loosened
	add := func(gate int, bound float64) { out = append(out, Loosened{Gate: gate, Bound: bound}) }
	add(sweep.GateClass, r.study.Classes[c.class].Limit*(1+loosening))
	eased := r.eased()
	for n := range eased {
		add(n+sweep.GateOperating+1, eased[n].Bound)
	}
	builds := c.neighbours(r.space)
	r.expect(len(builds))
	var mu sync.Mutex
	asked := sweep.Ranked{Score: -1}
	better := func(merit float64, index uint64, than float64, at uint64) bool {
		return merit > than || merit == than && index < at
	}
	err := r.pass(ctx, models{r.nominal}, builds, func(w *bench, _ int, b *build, _ int) {
		w.eachLoosened(b, eased, func(gate int, index uint64, merit float64) {
			mu.Lock()
			defer mu.Unlock()
			if gate == kept {
				if better(merit, index, asked.Score, asked.Index) {
					asked = sweep.Ranked{Index: index, Score: merit}
				}
				return
			}
			l := &out[max(0, gate-sweep.GateOperating)]
			if !l.Any || better(merit, index, l.Merit, l.Index) {
				l.Merit, l.Index, l.Any = merit, index, true
			}
		})
	})
	if err != nil {
		return nil, err
	}
	for i := range out {
		l := &out[i]
		if asked.Score >= 0 && (!l.Any || better(asked.Score, asked.Index, l.Merit, l.Index)) {
			l.Merit, l.Index, l.Any = asked.Score, asked.Index, true // which keeps the loosened bound as well
		}
		l.Gain = max(0, l.Merit-max(0, asked.Score))
	}
	return out, nil
}

// eachLoosened tells of each capacity of a build with which it breaks no bound, or one alone
// that it keeps when loosened: the gate of that, and the merit.
func (w *bench) eachLoosened(b *build, eased []sweep.Requirement, tell func(gate int, index uint64, merit float64)) {
	w.loaded = -1
	limit := w.study.Classes[b.class].Limit
	top := w.largest(b, w.space.capacities(b.cells), limit*(1+loosening))
	step := 1
	if top >= allCapacities {
		step = (top + someCapacities) / someCapacities
	}
	look := func(at int) {
		w.load(b, at)
		gate := kept
		if w.craft.Mass > limit {
			gate = sweep.GateClass
		}
		merit, gate, ok := w.loose(b, gate, eased)
		if ok {
			tell(gate, w.space.withPack(b.index, at), merit)
		}
	}
	for at := top; at >= 0; at -= step {
		look(at)
	}
	if step > 1 && b.planned <= top { // of many capacities only some, and the planned one with its neighbours
		for at := max(0, b.planned-1); at <= min(top, b.planned+1); at++ {
			look(at)
		}
	}
}

// loose is oneLoosened in all scenarios, with the same bound loosened in all.
func (w *bench) loose(b *build, broken int, eased []sweep.Requirement) (merit float64, gate int, ok bool) {
	merit, gate, ok = w.oneLoosened(broken, eased)
	for _, o := range w.others {
		if !ok || !o.loadAs(b, w.loaded, &w.train) {
			return 0, 0, false
		}
		_, gate, ok = o.oneLoosened(gate, eased)
	}
	if ok && len(w.others) > 0 {
		merit = w.study.MeritOf(w.crafts)
	}
	return merit, gate, ok
}

// oneLoosened is check with one bound loosened where it would be broken; broken is that
// which is already, kept for none.
func (w *bench) oneLoosened(broken int, eased []sweep.Requirement) (merit float64, gate int, ok bool) {
	c := &w.craft
	if !c.Operate() {
		return 0, 0, false
	}
	stage := model.StageOperate
	for n := range w.require {
		r := &w.require[n]
		stage = w.advance(stage, r.Metric.Stage)
		v := w.read(r.Metric)
		if r.Kept(v) {
			continue
		}
		if broken != kept && broken != n+sweep.GateOperating+1 || !eased[n].Kept(v) {
			return 0, 0, false
		}
		broken = n + sweep.GateOperating + 1
	}
	w.advance(stage, w.need)
	return w.study.Merit.Of(c), broken, true
}
