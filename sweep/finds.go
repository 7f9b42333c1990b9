package sweep

import "slices"

// finds are the best designs that blocks have brought, by place in what the classes keep and by slot: those of all
// slots side by side, since the designs of a block are of many slots and few places. The classes are told of them once
// for many blocks (total.settle).
type finds struct {
	slots                            int
	leaders, byCells, payloads, size []Ranked // anywhere where there is none
	maps                             [][]Ranked
	any                              bool // since the classes were told
}

func (p *plan) newFinds() finds {
	s := p.study
	n := func(axis int) int { return len(s.Grid.axes[axis].Values) }
	f := finds{slots: len(p.byLimit)}
	none := func(places int) []Ranked { return slices.Repeat([]Ranked{anywhere}, f.slots*places) }
	f.leaders = none(n(axDiameter))
	f.byCells = none(n(axDiameter) * n(axCells))
	f.payloads = none(n(axPayload))
	f.size = none(n(axDiameter) * s.SizeBins)
	for _, m := range s.Maps {
		f.maps = append(f.maps, none(s.cells(m)))
	}
	return f
}

// add takes in a design with its scores by view.
func (f *finds) add(p *plan, x *find, scores []float64) {
	f.any = true
	at := p.study.Grid.coord(x.Index)
	d, best := at[axDiameter], x.Ranked
	take := func(of []Ranked, place int) {
		y := &of[place*f.slots+int(x.slot)]
		if !(best.Score < y.Score) && (best.compare(*y) < 0 || *y == anywhere) { // most are worse
			*y = best
		}
	}
	take(f.leaders, d)
	take(f.byCells, d*len(p.study.Grid.axes[axCells].Values)+at[axCells])
	take(f.payloads, at[axPayload])
	take(f.size, d*p.study.SizeBins+int(x.bin))
	for v := range p.views {
		best.Score = scores[v]
		for i := range p.views[v].maps {
			m := &p.views[v].maps[i]
			take(f.maps[m.at], m.cell(&at))
		}
	}
}

// settle tells the classes of the best designs that blocks have brought.
func (t *total) settle() {
	f := &t.finds
	if !f.any {
		return
	}
	f.any = false
	t.settleOf(f.leaders, leader)
	t.settleOf(f.byCells, func(k *classTotal, place int) *Best { return &k.ByCells[place] })
	t.settleOf(f.payloads, func(k *classTotal, place int) *Best { return &k.Payloads[place] })
	t.settleOf(f.size, func(k *classTotal, place int) *Best { return &k.Size.Cells[place].Best })
	for m := range f.maps {
		t.settleOf(f.maps[m], func(k *classTotal, place int) *Best { return &k.Maps[m].Cells[place].Best })
	}
}

func leader(k *classTotal, place int) *Best { return &k.Leaders[place] }

// settleOf is settle of some places. Where classes are nested a class has what all lighter ones have as well.
func (t *total) settleOf(of []Ranked, to func(k *classTotal, place int) *Best) {
	n := t.finds.slots
	for place := 0; place*n < len(of); place++ {
		var best Best
		for slot, x := range of[place*n:][:n] {
			if !t.plan.nested {
				best = Best{}
			}
			if x != anywhere {
				best.add(x)
			}
			to(t.class(slot), place).merge(best)
		}
	}
}
