package sweep

import (
	"math"
	"slices"
)

// budget bounds what is computed again.
type budget struct{ designs, propellers int }

// verifyBudget is what a run or a merge computes again, a few seconds' worth; see
// DEVELOPERS.md. Of more, a part of the designs of some propellers is computed, chosen by
// a hash, and the first of every ranking: the same every time.
var verifyBudget = budget{1 << 18, 512} // a variable for tests alone

// share is the part of each of n.
func (b budget) share(n int) budget { return budget{max(b.designs/n, 256), max(b.propellers/n, 2)} }

// chosen cuts claims into groups of one propeller each, in the order of the grid, and
// keeps as many as the budget allows; it says whether that is all.
func (p *plan) chosen(claims []claim, room budget) (groups [][]claim, all bool) {
	stride := p.study.Grid.stride[Chord.place]
	for from := 0; from < len(claims); {
		to := from
		for to < len(claims) && claims[to].index/stride == claims[from].index/stride {
			to++
		}
		groups = append(groups, claims[from:to])
		from = to
	}
	if len(groups) <= room.propellers && distinct(claims) <= room.designs {
		return groups, true
	}
	key := func(g []claim) uint64 { return scattered(g[0].index / stride) }
	least := uint64(math.MaxUint64) // of the propellers that there is no room for
	if len(groups) > room.propellers {
		keys := make([]uint64, len(groups))
		for i, g := range groups {
			keys[i] = key(g)
		}
		slices.Sort(keys)
		least = keys[room.propellers]
	}
	designs := 0
	for _, g := range groups {
		if key(g) < least {
			designs += distinct(g)
		}
	}
	share := uint64(math.MaxUint64) // of their designs
	if designs > room.designs {
		share = share / uint64(designs) * uint64(room.designs)
	}
	out := groups[:0]
	for _, g := range groups {
		near := key(g) < least
		g = slices.DeleteFunc(slices.Clone(g), func(c claim) bool {
			return !c.head && !(near && scattered(c.index) < share)
		})
		if len(g) > 0 {
			out = append(out, g)
		}
	}
	return out, false
}

// scattered is a hash by which a choice shows no axis of the grid; see audited.
func scattered(index uint64) uint64 {
	x := index * golden
	return (x ^ x>>32) * golden
}

// distinct counts the designs of claims in their order.
func distinct(claims []claim) (n int) {
	for i := range claims {
		if i == 0 || claims[i].index != claims[i-1].index {
			n++
		}
	}
	return n
}
