package sweep

import (
	"cmp"
	"math"

	"rotorsieve/model"
)

// Audit says whether the bounds held by which designs are spared their flight: they
// are measured, with a margin, not proved. About one in a thousand of the designs
// that a bound has decided on is flown all the same, and compared with all bounds
// that the study may read. What is spared, and with it these counts, depends on
// what was found when; what is found does not.
type Audit struct {
	Checked  uint64  // designs flown for it
	Breaches uint64  // bounds that did not hold
	First    *Breach // of the lowest index; nil for none
}

// Breach is a bound that did not hold.
type Breach struct {
	Index        uint64 // of the design
	Scenario     int    // its place among those of the study
	Metric       *model.Metric
	Least        bool // the bound was a lower one; otherwise an upper one
	Bound, Value float64
}

func (a *Audit) add(o Audit) {
	a.Checked += o.Checked
	a.Breaches += o.Breaches
	if o.First != nil && (a.First == nil || o.First.compare(a.First) < 0) {
		a.First = o.First
	}
}

func (b *Breach) compare(o *Breach) int {
	return cmp.Or(cmp.Compare(b.Index, o.Index), cmp.Compare(b.Scenario, o.Scenario),
		cmp.Compare(b.Metric.Name, o.Metric.Name))
}

// auditShare is one in a thousand of all places.
const auditShare = math.MaxUint64 / 1000

// audited says whether a design is audited where a bound decides on it, by its index
// alone, hashed by multiplying twice (D.E. Knuth, The Art of Computer Programming,
// vol. 3, 1973, from memory), so that no axis of the grid shows in the choice.
func (p *plan) audited(index uint64) bool { return chosen(index, p.audits) }

// chosen says whether the place of an index, hashed, is below a share of all places.
func chosen(index, share uint64) bool {
	x := index * golden
	return (x^x>>32)*golden < share
}

// golden is 2^64 over the golden ratio.
const golden = 11400714819323198485

// atBest and atWorst are the bounds on a metric, wrong where a test makes them so. On the
// path of nearly every design the metric's own are read, for speed.
func (p *plan) atBest(m *model.Metric, c *model.Craft) float64 {
	if p.skew != nil {
		return p.skew(m, m.AtBest(c))
	}
	return m.AtBest(c)
}

func (p *plan) atWorst(m *model.Metric, c *model.Craft) float64 {
	if p.skew != nil {
		return p.skew(m, m.AtWorst(c))
	}
	return m.AtWorst(c)
}

// forecast is what a metric was bounded by.
type forecast struct{ best, worst float64 }

// check flies a design of the current line and compares it with its bounds. The current
// craft is that design afterwards.
func (w *worker) check(index uint64, payload float64) {
	c := &w.craft
	c.Load(w.study.Model, &w.train, payload)
	if !c.Operate() {
		return // no bound has decided on it
	}
	w.audit.Checked++
	if len(w.foretold) == 0 {
		c.Advance(model.StageEndure)
		return
	}
	stage := w.foresee(model.StageOperate)
	for i, m := range w.foretold {
		w.foreseen[i] = forecast{w.tighten(m, w.atBest(m, c), index), w.atWorst(m, c)}
	}
	for stage < model.StageFlight {
		stage++
		c.Advance(stage)
	}
	for i, m := range w.foretold {
		if b := w.foreseen[i].breach(m, m.Of(c)); b != nil {
			b.Index, b.Scenario = index, w.scene.at
			w.audit.add(Audit{Breaches: 1, First: b})
		}
	}
}

// breach is the bound that a value does not keep, nil for none. A design without a value
// improves on nothing, but keeps no requirement either.
func (f forecast) breach(m *model.Metric, v float64) *Breach {
	if m.Better == model.Neither {
		return nil // nothing bounds it
	}
	higher := m.Better == model.Higher
	if r := (Requirement{Metric: m, AtLeast: !higher, Bound: capped(m, f.best)}); !math.IsNaN(v) &&
		!r.Kept(capped(m, v)) {
		return &Breach{Metric: m, Least: !higher, Bound: f.best, Value: v}
	}
	if math.IsNaN(f.worst) {
		return nil
	}
	if r := (Requirement{Metric: m, AtLeast: higher, Bound: capped(m, f.worst)}); !r.Kept(capped(m, v)) {
		return &Breach{Metric: m, Least: higher, Bound: f.worst, Value: v}
	}
	return nil
}

// capped is a value of a metric, one beyond its cap being as good as the cap.
func capped(m *model.Metric, v float64) float64 {
	if m.Cap > 0 && v > m.Cap {
		return m.Cap
	}
	return v
}
