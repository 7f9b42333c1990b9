package sweep

import (
	"context"
	"errors"
	"fmt"
	"math/bits"
	"slices"
	"sync"
)

// rejudgeDesigns is about how many designs a merge or a resumed run judges again: all of a
// small study, which leaves nothing to be altered, of others some blocks.
var rejudgeDesigns uint64 = 1 << 18 // a variable for tests alone

// sample gives the blocks of a study that are judged again, in rising order, spread evenly.
func (p *plan) sample() []uint64 {
	n := rejudgeDesigns / p.blockSize
	if n >= p.blocks {
		n = p.blocks
	}
	out := make([]uint64, n)
	for i := range out {
		out[i] = uint64(i)
		if n < p.blocks {
			out[i], _ = bits.Mul64(uint64(i+1)*golden, p.blocks)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// rejudge judges some blocks of a total again and says how it differs. While blocks
// are in work a design of another may have been spared for one of theirs: the best of
// places are compared only where the total has all blocks of its shard.
func (p *plan) rejudge(ctx context.Context, t *total, sample []uint64, workers int, complete bool) error {
	blocks := slices.DeleteFunc(slices.Clone(sample), func(b uint64) bool { return !t.has(b) })
	if len(blocks) == 0 {
		return nil
	}
	again := p.judge(ctx, blocks, workers)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	err := t.covers(again, complete)
	if err == nil && uint64(len(blocks)) == t.done.size() {
		err = again.covers(t, true)
	}
	if err != nil {
		return impossible("judged again, it differs: %w", err)
	}
	return nil
}

// judge gives what blocks find.
func (p *plan) judge(ctx context.Context, blocks []uint64, workers int) *total {
	r := &runner{plan: p, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents()}
	next := make(chan uint64)
	var group sync.WaitGroup
	for range min(workers, len(blocks)) {
		group.Go(func() {
			w := p.newWorker(r.incumbents)
			for b := range next {
				r.mu.Lock()
				r.tell(w, b)
				r.mu.Unlock()
				at, end := p.extent(b)
				w.block(b, at, end)
				r.give(w, b, &at, &end)
			}
		})
	}
	for _, b := range blocks {
		if ctx.Err() != nil {
			break
		}
		next <- b
	}
	close(next)
	group.Wait()
	r.total.settle()
	return r.total
}

// covers says what a total lacks of one of some of its blocks.
func (t *total) covers(o *total, bests bool) error {
	for f := range o.failed {
		if !t.failed[f] {
			return fmt.Errorf("%s is missing among the failures", f)
		}
	}
	for i := range t.classes {
		k := &t.classes[i]
		if err := t.coversClass(k, &o.classes[i], bests); err != nil {
			return fmt.Errorf("class %s: %w", k.Class.Label, err)
		}
	}
	return nil
}

func (t *total) coversClass(k, o *classTotal, bests bool) error {
	for g, n := range o.Rejected {
		if k.Rejected[g] < n {
			return fmt.Errorf("%d designs rejected at requirement %d, want %d", k.Rejected[g], g, n)
		}
	}
	for g, n := range o.Fallen {
		if k.Fallen[g] < n {
			at := len(o.Rejected)
			return fmt.Errorf("%d designs rejected at requirement %d in scenario %d, want %d", k.Fallen[g], g%at,
				g/at+2, n)
		}
	}
	if k.Feasible < o.Feasible {
		return fmt.Errorf("%d designs are feasible, want %d", k.Feasible, o.Feasible)
	}
	k.Ranking = k.rank.sorted()
	for _, x := range o.rank.heap {
		if _, err := k.ranks(x); err != nil {
			return err
		}
	}
	if index, ok := k.front.lacks(o.front.points); ok {
		return fmt.Errorf("design %d is missing on the Pareto front", index)
	}
	err := o.eachListed(func(_, level int, x Build) error { return t.missing(k, level, x.Ranked) })
	if err != nil {
		return err
	}
	if o.Nearest.Any && (!k.Nearest.Any || k.Nearest.compare(o.Nearest) > 0) {
		return fmt.Errorf("design %d is a nearer miss", o.Nearest.Index)
	}
	for i := range o.Size.Seen {
		if o.Size.Seen[i] && !k.Size.Seen[i] {
			return fmt.Errorf("size map: cell %d was seen", i)
		}
	}
	if err := coversCells(k.Size.Cells, o.Size.Cells, bests); err != nil {
		return fmt.Errorf("size map: %w", err)
	}
	theirs := t.tables(o)
	for i, b := range t.tables(k) {
		if err := coversCells(b.cells, theirs[i].cells, bests); err != nil {
			return fmt.Errorf("%s: %w", b.name, err)
		}
		for n := range b.bests {
			if x := &theirs[i].bests[n]; bests && x.Any && !holds(&b.bests[n], x.Ranked) {
				return fmt.Errorf("%s: design %d is missing", b.name, x.Index)
			}
		}
	}
	return nil
}

func coversCells(k, o []Cell, bests bool) error {
	for i := range o {
		if k[i].Gate < o[i].Gate {
			return fmt.Errorf("requirement %d, want %d", k[i].Gate, o[i].Gate)
		}
		if x := &o[i]; bests && x.Any && !holds(&k[i].Best, x.Ranked) {
			return fmt.Errorf("design %d is missing", x.Index)
		}
	}
	return nil
}

// lacks gives a design that the front should have of those given and has not.
func (f *front) lacks(points []FrontPoint) (index uint64, ok bool) {
	there := make(map[FrontPoint]bool, len(f.points))
	for _, x := range f.points {
		there[x] = true
	}
	for _, x := range pareto(slices.Concat(points, f.points)) {
		if !there[x] {
			return x.Index, true
		}
	}
	return 0, false
}

// confirm checks what a total of a shard says. Its error is that of an altered
// checkpoint, or the context's.
func (p *plan) confirm(ctx context.Context, t *total, s Shard, workers int, room budget) (all bool, err error) {
	first, last := s.blocks(p.blocks)
	if all, err = p.verify(ctx, t, workers, room); err == nil {
		err = p.rejudge(ctx, t, p.sample(), workers, t.done.size() == last-first)
	}
	if f, ok := errors.AsType[*falseClaim](err); ok {
		err = impossible("%w", f)
	}
	return all, err
}
