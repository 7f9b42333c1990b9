package sweep

import (
	"testing"

	"rotorsieve/model"
)

// A study under other parameters has another fingerprint, the nominal ones have none of
// their own, and the sweep computes with them as the evaluation of one design does.
func TestParameters(t *testing.T) {
	with := func(p model.Parameters) *Study {
		s := study(t, small(t, map[*AxisDef]string{Diameter: "5", PitchRatio: "0.8", Blades: "3", Stator: "2207",
			KV: "1500,1750,2000", Cells: "4,6", Capacity: "400:1500:50", Payload: "0:60g:10g"}))
		m, err := model.NewWith(model.Defaults(), p)
		if err != nil {
			t.Fatal(err)
		}
		s.Model, s.Require = m, nil
		s.Classes = []Class{{Limit: 0.5, Label: "500g"}}
		return s
	}
	plain := with(model.Nominal())
	light := model.Nominal()
	light.Motor.Board *= 0.7
	light.Motor.Mass *= 0.8
	light.Frame.Wiring *= 0.5
	light.Pack.Overhead *= 0.95
	s := with(light)
	same := with(model.Nominal())
	if s.Fingerprint() == plain.Fingerprint() || same.Fingerprint() != plain.Fingerprint() {
		t.Error("the fingerprint does not follow the parameters")
	}
	found := map[*Study]uint64{}
	for _, s := range []*Study{plain, s} {
		carried := uint64(0)
		for _, d := range everyDesign(t, s, nil) {
			if d.flies && d.craft.Mass <= s.Classes[0].Limit {
				carried++
			}
		}
		if found[s] = run(t, s, Options{}).Classes[0].Feasible; found[s] != carried {
			t.Errorf("the sweep finds %d designs that the class carries, there are %d", found[s], carried)
		}
	}
	if !(found[s] > found[plain]) {
		t.Errorf("%d designs of lighter parts, %d of the nominal ones", found[s], found[plain])
	}
}
