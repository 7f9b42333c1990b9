package sweep

import (
	"context"
	"fmt"
	"math"
	"sync"

	"rotorsieve/model"
)

// What a checkpoint says of its designs is computed again: that they are feasible, what
// they score, and that each of their places has them or a better one. What only the run
// can tell is a design left out wherever it was kept, a worse nearest miss, designs
// moved between the counts of gates, and the furthest gate of a cell within what plausible
// accepts.

// falseClaim is what a total says wrongly of a design.
type falseClaim struct {
	index uint64
	err   error
}

func (e *falseClaim) Error() string { return e.err.Error() }

// verify computes designs that a total keeps again, and says which of them it states
// falsely, the lowest index first; otherwise whether the budget covered all.
func (p *plan) verify(ctx context.Context, t *total, workers int, room budget) (all bool, err error) {
	for i := range t.classes {
		k := &t.classes[i]
		k.Ranking = k.rank.sorted()
		defer func() { k.Ranking = nil }()
	}
	claims := t.claims()
	for i := 1; i < len(claims); i++ {
		a, b := claims[i-1], claims[i]
		if a.kind == b.kind && a.kind >= onFront && a.class == b.class && a.index == b.index {
			label := t.classes[a.class].Class.Label
			return false, &falseClaim{a.index, fmt.Errorf("class %s: design %d twice", label, a.index)}
		}
	}
	v := &verifier{plan: p, total: t, boxes: make([][]FrontPoint, len(t.classes))}
	v.groups, all = p.chosen(claims, room)
	for i := range t.classes {
		v.tables = append(v.tables, t.tables(&t.classes[i]))
	}
	var group sync.WaitGroup
	for range min(workers, len(v.groups)) {
		group.Go(func() { v.work(ctx) })
	}
	group.Wait()
	switch {
	case v.wrong != nil:
		return false, v.wrong
	case ctx.Err() != nil:
		return false, ctx.Err()
	}
	for i := range t.classes {
		if err := v.class(&t.classes[i], v.boxes[i]); err != nil {
			return false, err
		}
	}
	return all, nil
}

// verifier hands out groups of claims to workers, and takes in what is false.
type verifier struct {
	*plan
	total  *total
	groups [][]claim
	tables [][]table // by class

	mu    sync.Mutex
	next  int
	wrong *falseClaim    // of the lowest index
	boxes [][]FrontPoint // of the designs computed, by class
}

func (v *verifier) take() []claim {
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.wrong != nil || v.next == len(v.groups) {
		return nil
	}
	v.next++
	return v.groups[v.next-1]
}

func (v *verifier) work(ctx context.Context) {
	a := v.newAgain()
	a.total, a.tables, a.boxes = v.total, v.tables, make([][]FrontPoint, len(v.boxes))
	for g := v.take(); g != nil && ctx.Err() == nil; g = v.take() {
		index, err := a.group(ctx, g)
		v.mu.Lock()
		if err != nil && (v.wrong == nil || index < v.wrong.index) {
			v.wrong = &falseClaim{index, err}
		}
		v.mu.Unlock()
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	for i := range a.boxes {
		v.boxes[i] = append(v.boxes[i], a.boxes[i]...)
	}
}

// class checks what is said of a class as a whole: that none of the designs computed
// improves on the front, and the nearest miss.
func (v *verifier) class(k *classTotal, boxes []FrontPoint) error {
	wrong := func(index uint64, format string, args ...any) error {
		return &falseClaim{index, fmt.Errorf("class %s: "+format, append([]any{k.Class.Label}, args...)...)}
	}
	if index, ok := k.front.lacks(boxes); ok {
		return wrong(index, "design %d is missing on the Pareto front", index)
	}
	x := k.Nearest
	if !x.Any {
		return nil
	}
	a := v.newAgain()
	if err := a.compute(x.Index); err != nil {
		return wrong(x.Index, "nearest miss: %w", err)
	}
	gate, shortfall := a.verdict(k.Class.Limit)
	if gate != x.Gate || shortfall != x.Shortfall {
		return wrong(x.Index, "nearest miss: design %d at requirement %d by %g, and computed again at %d by %g%s",
			x.Index, x.Gate, x.Shortfall, gate, shortfall, v.elsewhere(x.Shortfall, shortfall))
	}
	return nil
}

// elsewhere adds the likely cause where values differ in their last digits alone.
func (p *plan) elsewhere(a, b float64) string {
	if math.Abs(a-b) <= 1e-9*math.Abs(b) {
		return " (as on a processor of another kind)"
	}
	return ""
}

// again computes designs of a study again, one after the other.
type again struct {
	*plan
	total  *total
	tables [][]table
	train  model.Powertrain
	craft  model.Craft
	flies  bool
	boxes  [][]FrontPoint
	others []*again       // in the further scenarios
	crafts []*model.Craft // in all
}

func (p *plan) newAgain() *again {
	a := &again{plan: p}
	a.crafts = []*model.Craft{&a.craft}
	for _, q := range p.others {
		o := &again{plan: q}
		a.others, a.crafts = append(a.others, o), append(a.crafts, &o.craft)
	}
	return a
}

// compute takes the design of an index through all that the study reads.
func (a *again) compute(index uint64) error {
	d, err := a.whole(&a.train, index, nil)
	if err != nil {
		return err
	}
	if a.fly(d.Payload); !a.flies {
		return nil
	}
	for _, o := range a.others {
		if _, err := o.whole(&o.train, index, &a.train); err != nil {
			o.train.Full.OK = false // it has no operating point there
		}
		o.fly(d.Payload)
	}
	return nil
}

// fly takes the powertrain that was built, with a payload, through all that the study reads.
func (a *again) fly(payload float64) {
	a.craft.Load(a.study.Model, &a.train, payload)
	if a.flies = a.craft.Operate(); !a.flies {
		return
	}
	deepest := a.need
	for i := range a.require {
		deepest = max(deepest, a.require[i].Metric.Stage)
	}
	for s := model.StageOperate + 1; s <= deepest; s++ {
		a.craft.Advance(s)
	}
}

// verdict is the first gate that the design computed does not pass in a class, in the first
// scenario in which it does not pass all, and by how much it misses it; the number of gates where
// it passes all. The crafts are in that class afterwards.
func (a *again) verdict(limit float64) (gate int, shortfall float64) {
	for _, c := range a.crafts {
		c.Limit = limit
	}
	if a.craft.Mass > limit {
		return GateClass, classShortfall(a.craft.Mass, limit)
	}
	gate, shortfall = a.ends()
	for i := 0; i < len(a.others) && gate == len(a.gates); i++ {
		gate, shortfall = a.others[i].ends()
	}
	return gate, shortfall
}

// ends is verdict in one scenario, of a design within the class.
func (a *again) ends() (gate int, shortfall float64) {
	if !a.flies {
		return GateOperating, 0
	}
	for i := range a.require {
		r := &a.require[i]
		if v := r.Metric.Of(&a.craft); !r.Kept(v) {
			return GateOperating + 1 + i, r.Shortfall(v)
		}
	}
	return len(a.gates), 0
}

// group checks claims on designs of one propeller, and gives the first that is false.
func (a *again) group(ctx context.Context, claims []claim) (index uint64, err error) {
	for len(claims) > 0 && ctx.Err() == nil {
		index = claims[0].index
		if err := a.compute(index); err != nil {
			return index, fmt.Errorf("design %d: %w", index, err)
		}
		for len(claims) > 0 && claims[0].index == index {
			class := claims[0].class
			n := 1
			for n < len(claims) && claims[n].index == index && claims[n].class == class {
				n++
			}
			if err := a.design(claims[:n]); err != nil {
				return index, fmt.Errorf("class %s: %w", a.total.classes[class].Class.Label, err)
			}
			claims = claims[n:]
		}
	}
	return 0, nil
}

// design checks the claims on the design computed in one class.
func (a *again) design(claims []claim) error {
	index, k := claims[0].index, &a.total.classes[claims[0].class]
	if gate, _ := a.verdict(k.Class.Limit); gate < len(a.gates) {
		return fmt.Errorf("design %d is kept, and computed again does not pass %s", index, a.gates[gate].Name)
	}
	x := Ranked{Index: index, Score: a.study.MeritOf(a.crafts)}
	ranked, err := k.ranks(x)
	if claims[0].kind == inRanking && !ranked { // it sorts first
		for _, r := range k.Ranking {
			if r.Index == index {
				return fmt.Errorf("design %d is ranked with a merit of %.17g, and computed again has %.17g%s",
					index, r.Score, x.Score, a.elsewhere(r.Score, x.Score))
			}
		}
	}
	if err != nil {
		return err
	}
	cell := a.study.Grid.at(index, axDiameter)*k.Size.Bins + a.bin(a.craft.Mass)
	point := FrontPoint{Ranked: x}
	if v := a.front.worst(a.crafts); len(a.front.metrics) > 0 && valued(v) {
		point.box = box(v)
		a.boxes[claims[0].class] = append(a.boxes[claims[0].class], point)
	}
	level := a.level(int(claims[0].class))
	for _, c := range claims {
		switch {
		case c.kind == inCandidates && !k.listed[c.at/Levels].has(int(c.at%Levels), x):
			return fmt.Errorf("design %d is a candidate with another merit than %.17g, which it has computed again",
				index, x.Score)
		case c.kind == inCandidates && int(c.at%Levels) > level:
			return fmt.Errorf("design %d is a candidate at level %d, and computed again reaches %d", index, c.at%Levels,
				level)
		case c.kind == onFront && k.front.points[c.at] != point:
			return fmt.Errorf("design %d is on the Pareto front with other metrics than it has computed again", index)
		case c.kind == inSize && int(c.at) != cell:
			return fmt.Errorf("design %d is in cell %d of the size map, and weighed again in %d", index, c.at, cell)
		}
	}
	if !holds(&k.Size.Cells[cell].Best, x) {
		return fmt.Errorf("size map: design %d of %.17g is missing in its cell", index, x.Score)
	}
	for n := range level + 1 {
		if err := a.total.missing(k, n, x); err != nil {
			return err
		}
	}
	for i := range a.tables[claims[0].class] {
		b := &a.tables[claims[0].class][i]
		y := x
		if b.metric != nil {
			y.Score = mapScore(b.metric, WorstOf(b.metric, a.crafts), x.Score)
		}
		if held := b.best(b.place(a.study.Grid, index)); !holds(held, y) {
			return fmt.Errorf("%s: design %d scores %.17g, its place has %s", b.name, index, y.Score, a.said(held, y))
		}
	}
	return nil
}

// said is what a place has in place of a design.
func (a *again) said(b *Best, x Ranked) string {
	switch {
	case !b.Any:
		return "none"
	case b.Index == x.Index:
		return fmt.Sprintf("it at %.17g%s", b.Score, a.elsewhere(b.Score, x.Score))
	}
	return fmt.Sprintf("one at %.17g", b.Score)
}

// holds says whether a place of the design computed has it, with its score, or a better
// one.
func holds(b *Best, x Ranked) bool {
	if !b.Any {
		return false
	}
	c := b.compare(x)
	return c == 0 || c < 0 && b.Index != x.Index
}
