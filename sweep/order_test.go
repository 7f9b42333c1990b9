package sweep

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// orderPlaces are the places of axes without parts.
var orderPlaces = []int{axDiameter, axPitch, axBlades, axChord, axStator, axKV, axCells, axCapacity}

// orderOf is the order of a grid whose axes have so many values each, of which the first
// four make a propeller.
func orderOf(n []int) *plan {
	g := &Grid{size: 1}
	for a := axisCount - 1; a >= 0; a-- {
		g.count[a] = 1
		if at := slices.Index(orderPlaces, a); at >= 0 && at < len(n) {
			g.count[a] = n[at]
		}
		g.stride[a], g.axes[a].Values = g.size, make([]float64, g.count[a])
		g.size *= uint64(g.count[a])
	}
	p := &plan{study: &Study{Grid: g}, depth: orderPlaces[len(n)-1] + 1, blockSize: 1, blocks: g.size}
	p.propellers = &propellers{stride: g.stride[Chord.place]}
	p.order = p.newOrder()
	return p
}

// few makes groups of propellers small enough that a small grid has several.
func few(t testing.TB, n uint64) {
	old := abreast
	abreast = n
	t.Cleanup(func() { abreast = old })
}

// Every block is visited once, in one shard, at the position that is told of it, whatever
// the grid, the number of shards and that of propellers abreast.
func TestOrderIsAPermutation(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for round := range 80 {
		few(t, 1+rng.Uint64N(12))
		n := make([]int, 5+rng.IntN(4))
		for a := range n {
			n[a] = 1 + rng.IntN([]int{9, 4, 2}[rng.IntN(3)])
		}
		p := orderOf(n)
		of := []int{1, 2, 3, 7, 30}[rng.IntN(5)]
		at := map[uint64]int{}
		for k := 1; k <= of; k++ {
			v := p.visits(Shard{k, of})
			for position := v.first; position < v.last; position++ {
				b := v.at(position)
				if b >= p.blocks {
					t.Fatalf("round %d: block %d of %d", round, b, p.blocks)
				}
				if other, ok := at[b]; ok {
					t.Fatalf("axes %v: block %d in shards %d and %d of %d, %d abreast", n, b, other, k, of, abreast)
				}
				at[b] = k
				if got, ok := v.position(b); !ok || got != position {
					t.Fatalf("axes %v, shard %d/%d: block %d at position %d, told %d (%v)", n, k, of, b, position, got, ok)
				}
			}
		}
		if len(at) != int(p.blocks) {
			t.Fatalf("axes %v in %d shards: %d of %d blocks", n, of, len(at), p.blocks)
		}
		for k := 1; k <= of; k++ {
			v := p.visits(Shard{k, of})
			for b := range p.blocks {
				if _, ok := v.position(b); ok != (at[b] == k) {
					t.Fatalf("axes %v: block %d in shard %d/%d: %v, and it is in %d", n, b, k, of, ok, at[b])
				}
			}
		}
	}
}

// The propellers of two groups are kept at once, and each axis that blocks may differ in is
// set on by a share of its own.
func TestOrderFits(t *testing.T) {
	if 2*abreast > keptPropellers {
		t.Errorf("%d propellers abreast and %d kept, want twice as many", abreast, keptPropellers)
	}
	seen := map[uint64]bool{0: true}
	for a, s := range shares {
		if a <= axDiameter {
			continue // nothing that varies is before
		}
		if seen[s] {
			t.Errorf("a share of %#x, want one of its own for each axis", s)
		}
		seen[s] = true
	}
}

// The blocks of a propeller lie so near that it is kept until the last of them: when the
// second group of propellers after its own is begun, it is asked for no more.
func TestPropellersStayTogether(t *testing.T) {
	few(t, 4)
	p := orderOf([]int{7, 5, 2, 1, 6})
	for _, s := range []Shard{{1, 1}, {2, 3}, {5, 7}} {
		v := p.visits(s)
		begun, last := []uint64{}, map[uint64]uint64{} // positions: of first blocks, and of the last of a propeller
		place := map[uint64]int{}
		for position := v.first; position < v.last; position++ {
			propeller := v.at(position) / p.propellers.stride
			if _, ok := last[propeller]; !ok {
				place[propeller] = len(begun)
				begun = append(begun, position)
			}
			last[propeller] = position
		}
		for propeller, position := range last {
			if next := place[propeller] + 2*4; next < len(begun) && position > begun[next] {
				t.Errorf("shard %v: propeller %d, the %d-th, at %d, after the %d-th was begun", s, propeller, place[propeller],
					position, next)
			}
		}
	}
}

// A grid of 2^62 blocks has an order as well.
func TestOrderOfTheLargest(t *testing.T) {
	p := orderOf([]int{1 << 13, 1 << 12, 1 << 3, 1 << 10, 1 << 12, 1 << 12})
	rng := rand.New(rand.NewPCG(33, 34))
	for range 100_000 {
		k := 1 + rng.IntN(MaxShards)
		v := p.visits(Shard{k, MaxShards})
		position := v.first + rng.Uint64N(v.last-v.first)
		b := v.at(position)
		if got, ok := v.position(b); !ok || got != position || b >= p.blocks {
			t.Fatalf("shard %d: position %d is block %d, at %d (%v)", k, position, b, got, ok)
		}
	}
}

// unevenness is by how many blocks the first of an order are off, at most, from a part of
// each value of an axis that is like the whole's: for each turn that the propellers abreast
// have begun.
func unevenness(p *plan, v *visits, axis int, to uint64) float64 {
	n := len(p.study.Grid.axes[axis].Values)
	counts := make([]int, n)
	worst := 0.0
	rows := min(v.abreast, (v.last-v.first)/v.each)
	for k := range to {
		counts[p.study.Grid.at(v.at(v.first+k), axis)]++
		begun := float64(k/rows + 1)
		for _, c := range counts {
			worst = max(worst, math.Abs(float64(c)-float64(k+1)/float64(n))/begun)
		}
	}
	return worst
}

// Any beginning of a run, and of a shard of many propellers, has of every value of every
// axis about as many blocks as of any other.
func TestOrderSpreads(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	shapes := [][]int{{13, 9, 3, 1, 24}, {25, 20, 3, 1, 24}, {13, 1, 1, 1, 24, 40}, {1, 31, 1, 1, 7}, {2, 2, 2, 1, 3},
		{64, 32, 2, 4, 16}, {1, 1, 1, 1, 50}, {5, 1, 3, 1, 24, 20, 4}}
	for range 60 {
		n := []int{1 + rng.IntN(40), 1 + rng.IntN(25), 1 + rng.IntN(4), 1, 1 + rng.IntN(30)}
		shapes = append(shapes, n)
	}
	worst, of := 0.0, []int(nil)
	for _, n := range shapes {
		p := orderOf(n)
		for _, s := range []Shard{{1, 1}, {2, 3}} {
			v := p.visits(s)
			if s.Of > 1 && p.order.propellers < 100 {
				continue // a shard has whole propellers: of a few it cannot have all diameters
			}
			for _, axis := range orderPlaces[:len(n)] {
				if u := unevenness(p, &v, axis, min(v.last-v.first, 10_000)); u > worst {
					worst, of = u, append(n, axis, s.Of)
				}
			}
		}
	}
	t.Logf("off by up to %.2f blocks a turn: %v", worst, of)
	if worst > 5 { // of the 256 propellers of a turn a random order is off by up to 12
		t.Error("want 5 at most")
	}
}
