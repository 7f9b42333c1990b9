package sweep

import (
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/rotor"
)

// Measurements of a propeller change the fingerprint, by their values alone, and
// a sweep corrects as the evaluation of one design does, to the last bit.
func TestMeasuredPropellers(t *testing.T) {
	plain := study(t, small(t, nil))
	corrected := func(drag float64) *Study {
		s := study(t, small(t, nil))
		a := model.Defaults()
		var err error
		a.Evidence, err = model.EvidenceOf(model.Measured{Diameter: 5 * in, Pitch: 3.5 * in, Blades: 2, Points: 1, Correction: rotor.Correction{Drag: drag}})
		if err != nil {
			t.Fatal(err)
		}
		if s.Model, err = model.New(a); err != nil {
			t.Fatal(err)
		}
		return s
	}
	s := corrected(0.2)
	switch {
	case s.Fingerprint() == plain.Fingerprint():
		t.Error("measurements do not change the fingerprint")
	case s.Fingerprint() == corrected(0.2000001).Fingerprint():
		t.Error("other measurements have the same fingerprint")
	case s.Fingerprint() != corrected(0.2).Fingerprint():
		t.Error("the same measurements have another fingerprint")
	}
	e, p := NewEvaluator(s), NewEvaluator(plain)
	k := s.Classes[1]
	differ := map[float64]bool{}
	for index := range s.Grid.Size() {
		c, err := e.Craft(index, k)
		if err != nil {
			continue // no operating point
		}
		d := s.Grid.Design(index)
		one, err := s.Model.Evaluate(d)
		if err != nil || one.Hover.Power != c.Hover.Power {
			t.Fatalf("design %d: hover power %g in the sweep, %g alone, error %v", index, c.Hover.Power, one.Hover.Power, err)
		}
		if o, err := p.Craft(index, k); err == nil && o.Hover.Power != c.Hover.Power {
			differ[d.Diameter] = true
		}
	}
	if !differ[3*in] || !differ[5*in] {
		t.Errorf("corrected diameters %v, want both: 5 in, and 3 in in part", differ)
	}
}
