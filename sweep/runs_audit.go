package sweep

import (
	"math"
	"slices"

	"rotorsieve/model"
)

// planRuns lists what runs are bounded in, for the audit.
func (p *plan) planRuns() {
	add := func(m *model.Metric) {
		if !slices.Contains(p.spanned, m) {
			p.spanned = append(p.spanned, m)
		}
	}
	add(allUpWeight)
	for _, name := range []string{"controller-rating", "hover-throttle"} { // that it is one controller, and hovers
		m, _ := model.LookupMetric(name)
		add(m)
	}
	for _, r := range p.require {
		add(r.Metric)
	}
	for _, t := range p.study.Merit {
		add(t.Metric)
	}
	for _, m := range p.study.Maps {
		if m.Metric != nil {
			add(m.Metric)
		}
	}
	for _, m := range p.study.Front {
		add(m)
	}
}

// auditRunShare is that of the capacities of runs: the finer the steps, the more designs are passed by
// in one run, all by the same bounds.
const auditRunShare = auditShare / 8

// auditRun checks the designs of those of a run's capacities whose turn it is, and the verdicts on them.
func (w *worker) auditRun(index uint64, count int) {
	r, s := &w.runs, w.study
	stride := s.Grid.stride[axCapacity]
	for n := range uint64(count) {
		first := index + n*stride
		if !chosen(first, w.runAudits) {
			continue
		}
		low := r.lo
		w.power(&w.train, low.Propeller, &w.piece.motor, w.pack(first), &low.Parts)
		for _, o := range w.others {
			if o.runs.spans {
				o.powerAs(&o.train, o.runs.lo.Propeller, &w.piece, o.pack(first), &w.train)
			}
		}
		for l := range r.fit {
			w.checkRun(first+uint64(l), l)
			for _, o := range w.others {
				if o.runs.spans {
					o.checkRun(first+uint64(l), l)
				}
			}
		}
	}
}

// checkRun judges a design of the run, whose powertrain has been built, by itself, and holds it
// against what the run was bounded by.
func (w *worker) checkRun(index uint64, payload int) {
	r, s, c := &w.runs, w.study, &w.craft
	carried := s.Grid.axes[axPayload].Values[payload]
	r.payload = payload
	w.load(carried)
	all, none := r.span.Operate()
	broke := w.audit.Breaches
	breach := func(m *model.Metric, least bool, bound, v float64) {
		if w.audit.Breaches == broke { // of one design the first
			w.audit.add(Audit{Breaches: 1, First: &Breach{Index: index, Scenario: w.scene.at, Metric: m,
				Least: least, Bound: bound, Value: v}})
		}
	}
	c.Load(s.Model, &w.train, carried)
	throttle, _ := model.LookupMetric("hover-throttle")
	if operates := c.Operate(); operates && none || !operates && all {
		w.audit.Checked++
		breach(throttle, none, 1, throttle.Of(c))
		return
	} else if !operates {
		w.audit.Checked++
		return
	}
	w.check(index, carried)
	for i := range s.Classes {
		c.Limit = s.Classes[i].Limit
		r.span.Limit(c.Limit)
		for _, m := range w.spanned {
			if i > 0 && !m.ByClass || m.Better == model.Neither && !m.Known() {
				continue
			}
			v := capped(m, m.Of(c))
			least, most := math.Inf(-1), math.Inf(1)
			if m.Known() {
				least, most = w.runRange(m)
			} else if best := w.runBest(m); m.Better == model.Higher {
				most = best
			} else {
				least = best
			}
			switch worst := w.runWorst(m); {
			case m.Known():
			case m.Better == model.Higher:
				least = max(least, worst)
			default:
				most = min(most, worst)
			}
			if x, ok := w.runChord(m); ok {
				from := r.lo.Drive.Pack.Capacity
				at := (w.train.Drive.Pack.Capacity - from) / (r.hi.Drive.Pack.Capacity - from)
				line := x.lo + at*(x.hi-x.lo)
				if m.Known() || m.Better == model.Higher {
					most = min(most, line+x.off)
				}
				if m.Known() || m.Better == model.Lower {
					least = max(least, line-x.off)
				}
			}
			// Without a value a design betters nothing, but keeps no requirement either.
			none := math.IsNaN(v)
			switch {
			case v < capped(m, least) || none && (m.Known() || m.Better == model.Higher) && !math.IsInf(least, -1):
				breach(m, true, least, v)
			case v > capped(m, most) || none && (m.Known() || m.Better == model.Lower) && !math.IsInf(most, 1):
				breach(m, false, most, v)
			}
		}
	}
}
