package sweep

// agreeAt is agree at one payload; it says whether some class can lift it.
func (w *worker) agreeAt(at int, payload float64) (some, ok bool) {
	r, s := &w.runs, w.study
	verdicts := r.verdicts[at*len(s.Classes):][:len(s.Classes)]
	r.payload = at
	lightest, heaviest := w.load(payload)
	var in uint64 // classes in which the designs still stand
	for i := range s.Classes {
		limit := s.Classes[i].Limit
		switch {
		case lightest > limit:
			verdicts[i] = GateClass
		case heaviest > limit:
			return true, false
		default:
			in |= 1 << i
		}
	}
	if in == 0 {
		return false, true
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
	setVerdicts(verdicts, in, feasible)
	low, high := w.bin(lightest), w.bin(heaviest)
	for i := range s.Classes {
		if in>>i&1 == 1 && w.runCounts(i, at, low, high, lightest) {
			return true, false
		}
	}
	return true, true
}

// runCounts says whether a feasible design of the run could change what is kept of a class: that no
// scenario rules out.
func (w *worker) runCounts(class, payload, low, high int, lightest float64) bool {
	h := w.scene.share
	h.begin()
	counts := func(o *worker) bool {
		o.runs.span.Limit(w.study.Classes[class].Limit)
		if w.byClass {
			o.runs.asked, o.runs.sum = 0, chord{}
		}
		if !o.runMatters(class, payload, low, high, lightest) {
			return false
		}
		if h != nil {
			h.earlier[class] += o.runs.most()
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

func setVerdicts(verdicts []int, classes uint64, verdict int) {
	for i := range verdicts {
		if classes>>i&1 == 1 {
			verdicts[i] = verdict
		}
	}
}

// end notes the verdicts on the designs of the run, which are within some classes, in those classes in
// which all of them end at one gate of the worker's scenario, and gives the others, in which all
// pass. It is false where some do and others do not.
func (w *worker) end(verdicts []int, in uint64, at int) (left uint64, ok bool) {
	r, s := &w.runs, w.study
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
		for i := range s.Classes {
			if in>>i&1 == 0 {
				continue
			}
			r.span.Limit(s.Classes[i].Limit)
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
