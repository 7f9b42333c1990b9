package sweep

import "math/bits"

// agreeAt is agree at one payload; it says whether some class can lift it.
func (w *worker) agreeAt(at int, payload float64) (some, ok bool) {
	r, s := &w.runs, w.study
	verdicts := r.verdicts[at*len(s.Classes):][:len(s.Classes)]
	r.payload = at
	lightest, heaviest := w.load(payload)
	slot, last := w.slotOf(lightest), w.slotOf(heaviest)
	in := w.from(slot) // slots in which the designs still stand; where classes are nested that of the lightest
	r.slots[at] = in
	if last != slot {
		if !w.nested || last == len(w.byLimit) {
			return true, false
		}
		r.slots[at] = stretch(slot, last)
	} else if in == 0 {
		return false, true
	}
	w.ready(r.slots[at])
	if r.from != nil {
		r.span.Hovers(&r.from.hovers[at], &r.to.hovers[at])
	}
	if in, ok = w.end(verdicts, in, at); !ok || in == 0 {
		return true, ok
	}
	for _, o := range w.others {
		if !o.joined(w) {
			return true, false
		}
		o.load(payload)
		if in, ok = o.end(verdicts, in, at); !ok || in == 0 {
			return true, ok
		}
	}
	if r.tile != nil {
		return true, false // of other KVs other designs are the best
	}
	setVerdicts(verdicts, in, feasible)
	low, high := w.bin(lightest), w.bin(heaviest)
	for ; in != 0; in &= in - 1 {
		if w.runCounts(bits.TrailingZeros64(in), at, low, high, lightest) {
			return true, false
		}
	}
	return true, true
}

// runCounts says whether a feasible design of the run could change what is kept of a slot's class: that
// no scenario rules out.
func (w *worker) runCounts(slot, payload, low, high int, lightest float64) bool {
	h := w.scene.share
	h.begin()
	counts := func(o *worker) bool {
		o.runs.span.Limit(w.limit(slot))
		if w.byClass {
			o.runs.asked, o.runs.sum = 0, chord{}
		}
		if !o.runMatters(slot, payload, low, high, lightest) {
			return false
		}
		if h != nil {
			h.earlier[slot] += o.runs.most()
		}
		return true
	}
	if !counts(w) {
		return false
	}
	for _, o := range w.others {
		if !counts(o) {
			return false
		}
	}
	return true
}

// stretch are the slots from one to another.
func stretch(from, to int) uint64 { return ^uint64(0) >> (63 - (to - from)) << from }

func setVerdicts(verdicts []int, in uint64, verdict int) {
	for ; in != 0; in &= in - 1 {
		verdicts[bits.TrailingZeros64(in)] = verdict
	}
}

// end notes the verdicts on the designs of the run, which are in some slots, in those in
// which all of them end at one gate of the worker's scenario, and gives the others, in which all
// pass. It is false where some do and others do not.
func (w *worker) end(verdicts []int, in uint64, at int) (left uint64, ok bool) {
	r := &w.runs
	here := w.scene.at * perScenario
	switch all, none := r.span.Operate(); {
	case none:
		setVerdicts(verdicts, in, here+GateOperating)
		return 0, true
	case !all:
		return in, false
	}
	for n := range w.require {
		q := &w.require[n]
		gate := n + GateOperating + 1
		if r.kept>>(n&63)&1 == 1 && n < 64 {
			continue
		}
		if !q.Metric.ByClass {
			kept, lost, near := w.keeps(q)
			if kept {
				if q.Metric.Bare && n < 64 {
					r.kept |= 1 << n
				}
				continue
			}
			if !lost || w.nearest(in, gate, at, q.Shortfall(near)) {
				return in, false
			}
			setVerdicts(verdicts, in, here+gate)
			return 0, true
		}
		for rest := in; rest != 0; rest &= rest - 1 {
			i := bits.TrailingZeros64(rest)
			r.span.Limit(w.limit(i))
			kept, lost, near := w.keeps(q)
			if kept {
				continue
			}
			if !lost || w.nearest(1<<i, gate, at, q.Shortfall(near)) {
				return in, false
			}
			verdicts[i] = here + gate
			in &^= 1 << i
		}
		if in == 0 {
			return 0, true
		}
	}
	return in, true
}
