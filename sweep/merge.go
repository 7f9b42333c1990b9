package sweep

import (
	"context"
	"errors"
	"fmt"
	"runtime"
)

// Merge joins the shards of a study, given by their checkpoints and the paths
// these were read from. It refuses, by path, a shard of another study, of
// another division, one that is given twice, not finished, or missing, and one
// that says of its designs what they are not.
func Merge(ctx context.Context, s *Study, paths []string, states []*State) (*Result, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if len(states) == 0 {
		return nil, fmt.Errorf("no shards to merge")
	}
	if err := division(s, paths, states); err != nil {
		return nil, err
	}
	p, err := newPlan(s)
	if err != nil {
		return nil, err
	}
	all, err := p.join(ctx, paths, states)
	if err != nil {
		return nil, err
	}
	r := all.result()
	r.keep = func(path string, flags []string) error {
		one := &runner{plan: p, total: all, options: Options{Checkpoint: path, Shard: r.Shard, Flags: flags}}
		return one.checkpoint()
	}
	return r, nil
}

// Keep writes what a merge has found into a checkpoint, as a run of the whole study leaves
// it, with the flags of the study. The result of a run, which has its own, writes nothing.
func (r *Result) Keep(path string, flags []string) error {
	if r.keep == nil {
		return nil
	}
	return r.keep(path, flags)
}

// division says whether the shards are those of one division of the study.
func division(s *Study, paths []string, states []*State) error {
	print := s.Fingerprint()
	of := states[0].Shard.Of
	from := make(map[int]string, len(states))
	for i, st := range states {
		switch {
		case st.Fingerprint != print && i == 0:
			return at(paths[0], unusable("its flags are not those of its study, or a file that they name has changed"))
		case st.Fingerprint != print:
			return fmt.Errorf("%s: a shard of another study than %s, want shards of one study: %s",
				paths[i], paths[0], difference(st.Flags, states[0].Flags))
		case st.Shard.Of != of:
			return fmt.Errorf("%s: shard %v, but %s is one of %d, want shards of one division",
				paths[i], st.Shard, paths[0], of)
		case from[st.Shard.K] != "":
			return fmt.Errorf("%s: shard %v again, after %s, want each once", paths[i], st.Shard, from[st.Shard.K])
		}
		from[st.Shard.K] = paths[i]
		r := reader{b: st.body}
		if r.bounded(s); r.err != nil {
			return at(paths[i], r.err)
		}
	}
	for k := 1; k <= of; k++ {
		if from[k] == "" {
			return fmt.Errorf("shard %v is missing, want the folders of all %d", Shard{k, of}, of)
		}
	}
	return nil
}

// join adds up what all shards of a division have found, and sees that it holds: of each
// shard a part, and where that is not all of it, of what is left in the end.
func (p *plan) join(ctx context.Context, paths []string, states []*State) (*total, error) {
	all := p.newTotal(wholeStudy)
	verified := true
	for i, st := range states {
		t, err := st.total(p)
		if err != nil {
			return nil, at(paths[i], err)
		}
		first, last := st.Shard.blocks(p.blocks)
		if t.done.size() != last-first {
			return nil, &StateError{Path: paths[i], Want: Finished, Shard: st.Shard,
				Err: fmt.Errorf("shard %v is not finished: %d of %d blocks", st.Shard, t.done.size(), last-first)}
		}
		whole, err := p.confirm(ctx, t, st.Shard, runtime.GOMAXPROCS(0), verifyBudget.share(len(states)))
		if err != nil {
			return nil, at(paths[i], err)
		}
		verified = verified && whole
		all.merge(t)
	}
	if !verified {
		if _, err := p.verify(ctx, all, runtime.GOMAXPROCS(0), verifyBudget); err != nil {
			return nil, p.speaker(err, paths, states)
		}
	}
	return all, nil
}

// speaker names the shard of a false claim.
func (p *plan) speaker(err error, paths []string, states []*State) error {
	f, ok := errors.AsType[*falseClaim](err)
	if !ok {
		return err
	}
	for i, st := range states {
		v := p.visits(st.Shard)
		if _, ok := v.position(f.index / p.blockSize); ok {
			return at(paths[i], impossible("%w", f))
		}
	}
	return f
}
