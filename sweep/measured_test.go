package sweep

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/record"
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
		a.Evidence, err = model.EvidenceOf(model.Measured{Diameter: 5 * in, Pitch: 3.5 * in, Blades: 2, Points: 1,
			Correction: rotor.Correction{Drag: drag}})
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
			t.Fatalf("design %d: hover power %g in the sweep, %g alone, error %v", index, c.Hover.Power,
				one.Hover.Power, err)
		}
		if o, err := p.Craft(index, k); err == nil && o.Hover.Power != c.Hover.Power {
			differ[d.Diameter] = true
		}
	}
	if !differ[3*in] || !differ[5*in] {
		t.Errorf("corrected diameters %v, want both: 5 in, and 3 in in part", differ)
	}
}

// A propeller measured a quarter below the model in thrust cannot be dodged: its
// neighbours in pitch lose thrust as well, less with distance.
func TestMeasuredCannotBeDodged(t *testing.T) {
	ratios := []float64{0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9}
	axes := map[*AxisDef]string{
		Diameter: "5", PitchRatio: "0.5:0.9:0.05", Blades: "3", Stator: "2207", KV: "1500", Cells: "4",
		Capacity: "1300", Payload: "0",
	}
	plain := study(t, small(t, axes))
	thrusts := func(s *Study) (out []float64) {
		e := NewEvaluator(s)
		for index := range s.Grid.Size() {
			c, err := e.Craft(index, s.Classes[1])
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, c.Powertrain.Full.Thrust)
		}
		return out
	}
	before := thrusts(plain)
	records := "kind,key,quantity,value,unit,sigma\npropeller,5x3.5x3,CT at 20000rpm,%.6g,1,1 " +
		"%%\npropeller,5x3.5x3,CP at 20000rpm,%.6g,1,1 %%\n"
	p, err := plain.Model.Propeller(5*in, 3.5*in, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	CT, CP := p.Table.Static(20000.0 / 60)
	all, err := record.Read(strings.NewReader(fmt.Sprintf(records, 0.74*CT, CP)), "f")
	if err != nil {
		t.Fatal(err)
	}
	s := study(t, small(t, axes))
	a := model.Defaults()
	if a.Evidence, err = model.NewEvidence(nil, all); err != nil {
		t.Fatal(err)
	}
	if s.Model, err = model.New(a); err != nil {
		t.Fatal(err)
	}
	after := thrusts(s)
	worst := 0
	lost := make([]float64, len(ratios))
	for i := range ratios {
		lost[i] = 1 - after[i]/before[i]
		if lost[i] > lost[worst] {
			worst = i
		}
	}
	t.Logf("thrust at full throttle lost at pitch ratios %v: %.3f", ratios, lost)
	if ratios[worst] != 0.7 {
		t.Errorf("the measured pitch ratio of 0.7 loses less than %g", ratios[worst])
	}
	for i, l := range lost {
		if l < 0.25*lost[worst] {
			t.Errorf("pitch ratio %g loses %.3f of its thrust, the measured one %.3f", ratios[i], l, lost[worst])
		}
		if i > 0 {
			if step := math.Abs(l-lost[i-1]) / lost[worst]; step > 0.35 {
				t.Errorf("from pitch ratio %g to %g the loss changes by %.2f of the whole", ratios[i-1], ratios[i],
					step)
			}
		}
	}
}

// Motors, frames and packs that are measured weigh as measured before anything else of a
// design is known: none that a class carries is rejected, even where a larger pack is
// lighter than a smaller one, and the best is the best of all.
func TestMeasuredMasses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what    string
		records []string
		rising  bool // the mass of packs with their capacity
	}{
		{"motor", []string{"motor,2207 1750KV,mass,27,g,0.3"}, true},
		{"frame", []string{"frame,5in,mass,70,g,0.5"}, true},
		{"packs", []string{"pack,4S 1300mAh,mass,132,g,1", "pack,6S 650mAh,mass,120,g,1",
			"pack,4S 1300mAh,resistance,30,mohm,1", "pack,4S 1300mAh,current-limit,60,A,2"}, true},
		{"packs that do not grow", []string{"pack,4S 1000mAh,mass,117.6,g,0.001", "pack,4S 1105mAh,mass,118.2,g,0.001",
			"pack,4S 1221mAh,mass,143.1,g,0.001", "pack,4S 1350mAh,mass,144,g,0.001", "frame,5in,mass,80,g,1"}, false},
	} {
		records, err := record.Read(strings.NewReader(record.Header+"\n"+strings.Join(c.records, "\n")+"\n"), "masses")
		if err != nil {
			t.Fatal(err)
		}
		a := model.Defaults()
		if a.Evidence, err = model.NewEvidence(nil, records); err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		m, err := model.New(a)
		if err != nil {
			t.Fatal(err)
		}
		s := study(t, small(t, map[*AxisDef]string{Diameter: "5", PitchRatio: "0.8", Blades: "3", Stator: "2207",
			KV: "1500,1750,2000", Cells: "4,6", Capacity: "400:1500:20", Payload: "0:60g:5g"}))
		s.Model = m
		s.Classes = []Class{{Limit: 0.42, Label: "420g"}, {Limit: 0.5, Label: "500g"}}
		p, err := newPlan(s)
		if err != nil {
			t.Fatal(err)
		}
		if p.rising != c.rising {
			t.Errorf("%s: masses of packs rise with capacity: %t, want %t", c.what, p.rising, c.rising)
		}
		for i := 1; i < len(p.packs) && p.packs[i].Cells == 4; i++ { // the class ends where the masses fall
			if p.packs[i].Mass < p.packs[i-1].Mass {
				body := m.Airframe(5*in, 3)
				bare := m.Bare(&body, m.MotorMass(StatorOf(2207)), p.packs[i].Mass)
				s.Classes[1].Limit = body.LeastAUW(bare, 0) * (1 + 1e-6)
			}
		}
		for _, require := range [][]Requirement{nil, s.Require} {
			s.Require = require
			equalResults(t, fmt.Sprintf("%s, %d requirements", c.what, len(require)), run(t, s, Options{}), brute(t, s))
		}
	}
}
