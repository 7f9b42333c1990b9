package decide

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"sync"
	"sync/atomic"

	"rotorsieve/model"
)

// runner takes builds through draws, with several workers. What is found does not depend
// on their number: each build and draw has its own place in memory.
type runner struct {
	*rules
	nominal draw
	workers int
	shelf
	props map[propellerKey]propellers // of the shelf, by the nominal models; nil for one that cannot be solved
	done  int64                       // builds in draws, of so many that are expected
	total int64
	tell  func(done, total int) // may be nil
	mu    sync.Mutex

	stage  Stage
	works  *Works      // done so far
	staged func(Stage) // told what begins; may be nil
}

func newRunner(r *rules, in []*model.Model, workers int) *runner {
	return &runner{rules: r, nominal: drawIn(in), workers: workers, shelf: newShelf(),
		props: map[propellerKey]propellers{}, works: new(Works)}
}

// propellers are one in all scenarios, nil in one in which it cannot be solved.
type propellers []*model.Propeller

// Propellers are solved for so many at once, and so many are kept for what comes next:
// performance tables take memory.
const (
	solvedAtOnce = 128
	solvedKept   = 256
)

// shelf says which propellers are solved and kept, and of which the flight has been traced for
// draws.
type shelf struct{ kept, flown map[propellerKey]bool }

func newShelf() shelf { return shelf{map[propellerKey]bool{}, map[propellerKey]bool{}} }

// forget lets go of propellers.
func (s *shelf) forget(which func(propellerKey) bool) {
	maps.DeleteFunc(s.kept, func(k propellerKey, _ bool) bool { return which(k) })
	maps.DeleteFunc(s.flown, func(k propellerKey, _ bool) bool { return which(k) })
}

// solve gives the places of the keys that are not on the shelf, and puts them there: where there is
// no room in place of all that are not asked for.
func (s *shelf) solve(keys []propellerKey) (missing []int) {
	missing = absent(s.kept, keys)
	if len(s.kept)+len(missing) > solvedKept {
		asked := map[propellerKey]bool{}
		for _, k := range keys {
			asked[k] = true
		}
		s.forget(func(k propellerKey) bool { return !asked[k] })
	}
	for _, i := range missing {
		s.kept[keys[i]] = true
	}
	return missing
}

// trace gives the places of the keys whose flight is not traced, and notes that it is.
func (s *shelf) trace(keys []propellerKey) (missing []int) {
	missing = absent(s.flown, keys)
	for _, i := range missing {
		s.flown[keys[i]] = true
	}
	return missing
}

// absent are the places of keys that a set lacks.
func absent(in map[propellerKey]bool, keys []propellerKey) (out []int) {
	for i, k := range keys {
		if !in[k] {
			out = append(out, i)
		}
	}
	return out
}

// forget lets go of propellers.
func (r *runner) forget(which func(propellerKey) bool) {
	r.shelf.forget(which)
	maps.DeleteFunc(r.props, func(k propellerKey, _ propellers) bool { return !r.kept[k] })
}

// job is what is done of a build in a draw, on the bench of a worker.
type job func(w *bench, k int, b *build, at int)

// pass does a job of all builds in all draws of an ensemble. The propellers are those of
// the nominal model of the runner, as they are in the draw; builds of a propeller that
// cannot be solved are passed over. The place of the build in the list comes with it.
func (r *runner) pass(ctx context.Context, e ensemble, builds []*build, do job) error {
	for _, part := range lots(builds) {
		if err := r.chunk(ctx, e, builds, part, do); err != nil {
			return err
		}
	}
	return nil
}

// lots are the places of builds in groups of one propeller each, as many groups at a time as
// propellers are held.
func lots(builds []*build) [][][]int {
	at := make([]int, len(builds))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int { return compareKeys(builds[a].propeller, builds[b].propeller) })
	var groups [][]int // of one propeller each
	for i := 0; i < len(at); {
		j := i
		for j < len(at) && builds[at[j]].propeller == builds[at[i]].propeller {
			j++
		}
		groups = append(groups, at[i:j])
		i = j
	}
	return slices.Collect(slices.Chunk(groups, solvedAtOnce))
}

// chunk is pass of groups of builds whose propellers are held at once.
func (r *runner) chunk(ctx context.Context, e ensemble, builds []*build, groups [][]int, do job) error {
	props := make([]propellers, len(groups))
	keys := make([]propellerKey, len(groups))
	for i, g := range groups {
		keys[i] = builds[g[0]].propeller
	}
	if err := r.solve(ctx, keys, props); err != nil {
		return err
	}
	if err := r.prepare(ctx, e, keys, props); err != nil {
		return err
	}
	w := Work{Draws: e.Draws()}
	for i, g := range groups {
		if props[i] != nil {
			w.Varied += e.Draws()
			w.Builds += e.Draws() * len(g)
		}
	}
	r.count(w)
	pieces := 1 // of the groups in each draw, so that all workers have something to do
	if e.Draws() < 8*r.workers {
		pieces = min(len(groups), 8*r.workers)
	}
	units := e.Draws() * pieces
	var next atomic.Int64
	return r.parallel(ctx, min(r.workers, units), func() error {
		w := r.bench()
		defer func() { r.count(Work{Packs: w.loads}) }()
		in := -1 // draw that the bench is in
		for ctx.Err() == nil {
			u := int(next.Add(1)) - 1
			if u >= units {
				return w.err
			}
			k, piece := u/pieces, u%pieces
			if k != in {
				w.enter(e.draw(k))
				in = k
			}
			for i := piece * len(groups) / pieces; i < (piece+1)*len(groups)/pieces && ctx.Err() == nil; i++ {
				if props[i] != nil {
					w.mount(props[i])
					for _, b := range groups[i] {
						do(w, k, builds[b], b)
					}
				}
				r.step(len(groups[i]))
			}
		}
		return ctx.Err()
	})
}

// parallel runs workers until all end, and gives an error of one of them.
func (r *runner) parallel(ctx context.Context, workers int, work func() error) error {
	errs := make([]error, workers)
	var group sync.WaitGroup
	for i := range workers {
		group.Go(func() { errs[i] = work() })
	}
	group.Wait()
	if ctx.Err() != nil {
		return ctx.Err()
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// solve builds the propellers of keys by the nominal models.
func (r *runner) solve(ctx context.Context, keys []propellerKey, props []propellers) error {
	missing := r.shelf.solve(keys)
	r.forget(func(propellerKey) bool { return false }) // what the shelf has let go of
	for i, k := range keys {
		props[i] = r.props[k]
	}
	r.count(Work{Solved: len(missing)})
	for n, in := range append([]draw{r.nominal}, r.nominal.others...) {
		one := make([]*model.Propeller, len(keys))
		if err := solveAll(ctx, r, in.model, keys, missing, one); err != nil {
			return err
		}
		for _, i := range missing {
			if n == 0 && one[i] == nil {
				continue
			}
			if n == 0 || props[i] != nil {
				props[i] = append(props[i], one[i])
			}
		}
	}
	for _, i := range missing {
		r.props[keys[i]] = props[i]
	}
	return nil
}

// prepare has the flight of propellers traced that draws are scaled from, so that no worker
// waits for another to do it.
func (r *runner) prepare(ctx context.Context, e ensemble, keys []propellerKey, props []propellers) error {
	if e.Draws() == 1 || r.last < model.StageFlight {
		return nil
	}
	missing := slices.DeleteFunc(r.trace(keys), func(i int) bool { return props[i] == nil })
	r.count(Work{Traced: len(missing)})
	some := e.draw(0)
	in := append([]draw{some}, some.others...)
	return r.each(ctx, len(missing)*len(in), func(n int) {
		if p := props[missing[n/len(in)]][n%len(in)]; p != nil {
			in[n%len(in)].vary(p).Envelope()
		}
	})
}

// each does something n times, by all workers.
func (r *runner) each(ctx context.Context, n int, do func(i int)) error {
	var next atomic.Int64
	return r.parallel(ctx, min(r.workers, n), func() error {
		for ctx.Err() == nil {
			i := int(next.Add(1)) - 1
			if i >= n {
				return nil
			}
			do(i)
		}
		return ctx.Err()
	})
}

// bare is the key of a propeller that is not mounted.
func (k propellerKey) bare() propellerKey {
	k.parts.Frame, k.parts.Board = nil, nil
	k.at[1], k.at[2] = 0, 0
	return k
}

// solveAll builds the propellers of some of the keys by a model, with what their flight
// needs: each once, whatever frames it is mounted on. One that cannot be solved is nil.
func solveAll(ctx context.Context, r *runner, m *model.Model, keys []propellerKey, which []int,
	props []*model.Propeller) error {
	of := make([]int, len(which)) // place in alone
	at := map[propellerKey]int{}
	var alone []propellerKey
	for n, i := range which {
		k := keys[i].bare()
		if _, ok := at[k]; !ok {
			at[k] = len(alone)
			alone = append(alone, k)
		}
		of[n] = at[k]
	}
	solved := make([]*model.Propeller, len(alone))
	err := r.each(ctx, len(alone), func(n int) {
		k := alone[n]
		d := model.Design{Diameter: k.diameter, Pitch: k.pitch, Blades: k.blades, Chord: k.chord, Parts: k.parts}
		if p, err := m.PropellerFor(&d); err == nil { // otherwise the sweep has told of it
			solved[n] = p
		}
	})
	if err != nil {
		return err
	}
	return r.each(ctx, len(which), func(n int) {
		p := solved[of[n]]
		if p == nil {
			return
		}
		p = m.Mount(p, &keys[which[n]].parts)
		if r.last >= model.StageFlight {
			p.Envelope()
		}
		props[which[n]] = p
	})
}

// expect adds builds in draws to what is to be done.
func (r *runner) expect(n int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.total += int64(n)
}

// step counts builds in a draw that are done.
func (r *runner) step(n int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done += int64(n)
	if r.tell != nil {
		r.tell(int(min(r.done, r.total)), int(r.total))
	}
}

func compareKeys(a, b propellerKey) int {
	return cmp.Or(cmp.Compare(a.diameter, b.diameter), cmp.Compare(a.blades, b.blades),
		cmp.Compare(a.pitch, b.pitch), cmp.Compare(a.chord, b.chord), slices.Compare(a.at[:], b.at[:]))
}
