package rotor

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Bounds on measurements of one state that differ, chosen here.
const (
	sameSpeed = 1e-3 // of the speed: thrust goes with its square, which is put in
	mostApart = 5    // of their uncertainties
)

// Contradiction names two measurements of one speed and advance ratio whose thrust, or
// power, differ by more than 5 of their uncertainties: the error starts with the place of
// the later. In the wind, where both pass through zero, the uncertainty of a usual stand is
// that of the largest coefficient.
func (s *Specimen) Contradiction() error {
	order := make([]int, len(s.Points))
	var top [2]float64
	for i := range s.Points {
		order[i] = i
		for q, v := range s.Points[i].over() {
			top[q] = math.Max(top[q], math.Abs(v))
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &s.Points[a], &s.Points[b]
		return cmp.Or(cmp.Compare(x.J, y.J), cmp.Compare(x.N, y.N))
	})
	for len(order) > 0 {
		first := &s.Points[order[0]]
		n := 1
		for n < len(order) && s.Points[order[n]].J == first.J && s.Points[order[n]].N <= first.N*(1+sameSpeed) {
			n++
		}
		if err := s.differ(order[:n], top); err != nil {
			return err
		}
		order = order[n:]
	}
	return nil
}

// differ holds measurements of one state, by their places, against the least and the
// largest of those before.
func (s *Specimen) differ(same []int, top [2]float64) error {
	slices.Sort(same)
	for q, what := range [2]string{"thrust", "power"} {
		least, most := -1, -1
		for _, i := range same {
			m := &s.Points[i]
			v := m.over()[q]
			if math.IsInf(m.spread(q), 1) || m.Lift > 0 {
				continue // was not measured, or not at the speed
			}
			for _, j := range []int{least, most} {
				if j < 0 {
					continue
				}
				o := &s.Points[j]
				w := o.over()[q]
				sx, sy := m.spread(q)*math.Abs(v), o.spread(q)*math.Abs(w)
				if m.J != 0 {
					sx, sy = m.spread(q)*top[q], o.spread(q)*top[q]
				}
				if d := math.Abs(v-w) / math.Hypot(sx, sy); d > mostApart {
					return fmt.Errorf("%s: %s, but %s at %s, of the same propeller: %.0f of their sigmas apart; "+
						"want at most %d, or one of the two", m.Place, m.said(what), o.said(what), o.Place, d,
						mostApart)
				}
			}
			if least < 0 || v < s.Points[least].over()[q] {
				least = i
			}
			if most < 0 || v > s.Points[most].over()[q] {
				most = i
			}
		}
	}
	return nil
}

// over is thrust over the square and power over the cube of the speed.
func (m *Measurement) over() [2]float64 {
	return [2]float64{m.Thrust / (m.N * m.N), m.Power / (m.N * m.N * m.N)}
}

// spread is the uncertainty of thrust (0) or power (1) over its value.
func (m *Measurement) spread(q int) float64 {
	if s := [2]float64{m.ThrustSigma, m.PowerSigma}[q]; s != 0 {
		return s
	}
	return measureSpread
}

// said is the thrust or power of a measurement with its state.
func (m *Measurement) said(what string) string {
	text := fmt.Sprintf("%s of %.4g N at %.0f rpm", what, m.Thrust, 60*m.N)
	if what == "power" {
		text = fmt.Sprintf("%s of %.4g W at %.0f rpm", what, m.Power, 60*m.N)
	}
	if m.J != 0 {
		text += fmt.Sprintf(" and J %.4g", m.J)
	}
	return text
}
