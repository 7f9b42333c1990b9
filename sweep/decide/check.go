package decide

import (
	"math"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// judge judges a build in the draw with the pack that is bought.
func (w *bench) judge(b *build) outcome {
	o := outcome{gate: sweep.GateClass}
	fits := w.buy(b)
	o.capacity = w.loaded
	if fits {
		o = w.check(b, nil)
		o.capacity = w.loaded
	}
	return o
}

// look is judge of a build of which all metrics are wanted, which it puts into values
// where the craft operates. A build that no pack keeps in its class is read with the
// smallest.
func (w *bench) look(b *build, values []float64) outcome {
	fits := w.buy(b)
	o := w.check(b, values)
	o.capacity = w.loaded
	if !fits {
		o.gate, o.merit = sweep.GateClass, 0
	}
	return o
}

// check takes the craft of the build that is loaded through the gates after the class, in all
// scenarios. Of values each is where it is worst, see rules.worse.
func (w *bench) check(b *build, values []float64) outcome {
	o := w.checkOne(values)
	for _, x := range w.others {
		if o.gate != kept && values == nil || o.gate == sweep.GateOperating && !o.operates {
			break
		}
		next := outcome{gate: sweep.GateOperating}
		own := values
		if values != nil {
			own = make([]float64, len(values))
		}
		if x.loadAs(b, w.loaded, &w.train) {
			next = x.checkOne(own)
		}
		if !next.operates {
			o.operates = false
		}
		if o.gate == kept {
			o.gate = next.gate
		}
		if !o.operates {
			break
		}
		for i, v := range own {
			values[i] = w.worse(w.metrics[i], values[i], v)
		}
	}
	if o.gate != kept {
		o.merit = 0
	} else if len(w.others) > 0 {
		o.merit = w.study.MeritOf(w.crafts)
	}
	return o
}

// worse is which of two values of a metric is told of: one that breaks a requirement, or that in the
// worse direction of the metric, or of what is required of it.
func (r *rules) worse(m *model.Metric, a, b float64) float64 {
	if math.IsNaN(a) || math.IsNaN(b) {
		return math.NaN()
	}
	least := m.Better == model.Higher
	for i := range r.require {
		q := &r.require[i]
		if q.Metric != m {
			continue
		}
		if q.Kept(a) != q.Kept(b) {
			if q.Kept(a) {
				return b
			}
			return a
		}
		if m.Better == model.Neither {
			least = q.AtLeast
		}
	}
	if least {
		return min(a, b)
	}
	return max(a, b)
}

// checkOne is check in the scenario of the bench.
func (w *bench) checkOne(values []float64) outcome {
	c := &w.craft
	o := outcome{gate: sweep.GateOperating}
	if !c.Operate() {
		return o
	}
	o.gate, o.operates = kept, true
	stage := model.StageOperate
	held := 1.0
	for n := 0; n < len(w.require); n++ {
		r := &w.require[n]
		stage = w.advance(stage, r.Metric.Stage)
		if v := w.read(r.Metric); r.Kept(v) {
			continue
		}
		if w.hands[n] {
			if part, ok := w.holdBack(r, held); ok {
				held, n = part, -1 // what was kept may be broken by less thrust
				continue
			}
		}
		o.gate = n + sweep.GateOperating + 1
		break
	}
	if o.gate == kept {
		stage = w.advance(stage, w.need)
		o.merit = w.study.Merit.Of(c)
	}
	if values != nil {
		w.advance(stage, w.last)
		for i, m := range w.metrics {
			values[i] = w.read(m)
		}
	}
	return o
}
