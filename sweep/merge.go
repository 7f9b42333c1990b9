package sweep

import (
	"fmt"
	"slices"
)

// Merge joins the shards of a study, given by their checkpoints and the paths
// these were read from. It refuses, by path, a shard of another study, of
// another division, one that is given twice, not finished, or missing.
func Merge(s *Study, paths []string, states []*State) (*Result, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	p, err := newPlan(s)
	if err != nil {
		return nil, err
	}
	if len(states) == 0 {
		return nil, fmt.Errorf("no shards to merge")
	}
	all := p.newTotal()
	print := s.Fingerprint()
	of := states[0].Shard.Of
	from := make([]string, of+1)
	for i, st := range states {
		switch {
		case st.Fingerprint != print:
			return nil, fmt.Errorf("%s: a shard of another study than %s, want shards of one study: %s", paths[i], paths[0], difference(st.Flags, states[0].Flags))
		case st.Shard.Of != of:
			return nil, fmt.Errorf("%s: shard %v, but %s is one of %d, want shards of one division", paths[i], st.Shard, paths[0], of)
		case st.Shard.K < 1 || st.Shard.K > of:
			return nil, fmt.Errorf("%s: shard %v does not exist, want 1 to %d", paths[i], st.Shard, of)
		case from[st.Shard.K] != "":
			return nil, fmt.Errorf("%s: shard %v again, after %s, want each once", paths[i], st.Shard, from[st.Shard.K])
		}
		from[st.Shard.K] = paths[i]
		t, err := st.total(p)
		if err != nil {
			return nil, at(paths[i], err)
		}
		first, last := st.Shard.blocks(p.blocks)
		if t.done.size() != last-first {
			return nil, &StateError{Path: paths[i], Want: Finished, Shard: st.Shard,
				Err: fmt.Errorf("shard %v is not finished: %d of %d blocks", st.Shard, t.done.size(), last-first)}
		}
		all.merge(t)
	}
	if k := slices.Index(from[1:], ""); k >= 0 {
		return nil, fmt.Errorf("shard %v is missing, want the folders of all %d", Shard{k + 1, of}, of)
	}
	r := all.result()
	r.Shard, r.Share, r.Complete = Shard{1, 1}, s.Grid.size, all.judged == s.Grid.size
	return r, nil
}
