package sweep

import (
	"cmp"
	"slices"

	"rotorsieve/model"
)

// table is one list of a class that has a best design for every value of an axis, or
// for every pair of values of two.
type table struct {
	name   string
	x, y   int           // axes; y is below 0 for one axis
	nx     int           // values of the first
	metric *model.Metric // by which designs are scored; nil for the merit
	bests  []Best
	cells  []Cell // in place of bests, of a map
}

func (b *table) len() int { return max(len(b.bests), len(b.cells)) }

func (b *table) best(i int) *Best {
	if b.cells != nil {
		return &b.cells[i].Best
	}
	return &b.bests[i]
}

// place is the place of a design in the table.
func (b *table) place(g *Grid, index uint64) int {
	at := g.at(index, b.x)
	if b.y >= 0 {
		at += b.nx * g.at(index, b.y)
	}
	return at
}

// tables lists those of a class whose places follow from the index of a design alone:
// all but the size map.
func (t *total) tables(k *classTotal) []table {
	g := t.plan.study.Grid
	out := []table{
		{name: "best by diameter", x: axDiameter, y: -1, bests: k.Leaders},
		{name: "best by diameter and cells", x: axCells, y: axDiameter, nx: len(g.axes[axCells].Values),
			bests: k.ByCells},
		{name: "best by payload", x: axPayload, y: -1, bests: k.Payloads},
	}
	for i := range k.Maps {
		m := &k.Maps[i]
		x, y := g.place(m.Spec.X), g.place(m.Spec.Y)
		b := table{name: "map " + m.Spec.Name(), x: x, y: y, nx: m.NX, cells: m.Cells}
		if of := m.Spec.Metric; of != nil && of.Better != model.Neither {
			b.metric = of
		}
		out = append(out, b)
	}
	return out
}

// claim is one place in which a total keeps a design.
type claim struct {
	index uint64
	at    int32 // in the list of its kind, of onFront and inSize; of inCandidates the list
	class uint8
	kind  claimKind
	head  bool // among the first of a ranking
}

type claimKind uint8

const (
	inTable claimKind = iota
	inSize
	inCandidates
	onFront
	inRanking
)

// heads is how many designs of a ranking are computed again whatever the budget.
const heads = 20

// claims lists what is kept, in the order of the designs' indices; a design in several
// tables of a class is listed once for them.
func (t *total) claims() []claim {
	var all []claim
	for c := range t.classes {
		k := &t.classes[c]
		add := func(kind claimKind, at int, index uint64) {
			all = append(all, claim{index: index, at: int32(at), class: uint8(c), kind: kind})
		}
		for i, x := range k.rank.sorted() {
			add(inRanking, 0, x.Index)
			all[len(all)-1].head = i < heads
		}
		for i, x := range k.front.points {
			add(onFront, i, x.Index)
		}
		for i, x := range k.Size.Cells {
			if x.Any {
				add(inSize, i, x.Index)
			}
		}
		k.eachListed(func(number, _ int, x Build) error {
			add(inCandidates, number, x.Index)
			return nil
		})
		from := len(all)
		for _, b := range t.tables(k) {
			for i := range b.len() {
				if x := b.best(i); x.Any {
					add(inTable, 0, x.Index)
				}
			}
			// A design in many maps would take memory in each.
			slices.SortFunc(all[from:], claim.compare)
			all = all[:from+len(slices.Compact(all[from:]))]
		}
	}
	slices.SortFunc(all, claim.compare)
	return all
}

func (a claim) compare(b claim) int {
	return cmp.Or(cmp.Compare(a.index, b.index), cmp.Compare(a.class, b.class), cmp.Compare(b.kind, a.kind),
		cmp.Compare(a.at, b.at))
}
