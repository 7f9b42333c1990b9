package sweep

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
)

// What a cell keeps above its floor reaches the levels of its own chemistry, whichever pack stands
// first in a list.
func TestMarginsOfMixedPacks(t *testing.T) {
	t.Parallel()
	lithiumIon, err := pack.ParseGrade("18650-power")
	if err != nil {
		t.Fatal(err)
	}
	packs := []part.Pack{{Name: "pouch", Cells: 4, Capacity: 4680},
		{Name: "round", Cells: 4, Capacity: lithiumIon.CellCharge(), Grade: lithiumIon}}
	r := rand.New(rand.NewPCG(5, 9))
	told, moved := 0, 0
	for range 400 {
		s := study(t, partsGrid(t, &invented{packs: packs}, nil))
		s.Require = []Requirement{{Metric: metric(t, "voltage-margin"), AtLeast: r.IntN(4) > 0,
			Bound: -0.2 + 0.6*r.Float64()}}
		if s.Model, err = model.New(Limited(s.Model.Assume, s.Require)); err != nil {
			t.Fatal(err)
		}
		p, err := newPlan(s)
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(p.margins, func(m margin) bool { return m.metric.Name == "voltage-margin" })
		m, q := &p.margins[at], &s.Require[0]
		for _, k := range p.packs {
			c := &model.Craft{Powertrain: &model.Powertrain{}}
			c.Powertrain.Drive.Pack = k
			floor := k.Floor / float64(k.Cells)
			v := q.Bound + 0.35*r.Float64()
			if !q.AtLeast {
				v = q.Bound - 0.35*r.Float64()
			}
			spare := math.Abs(math.Log((v + floor) / (q.Bound + floor)))
			want := 0
			for want+1 < Levels && spare >= LevelSigmas[want+1]*marginSpreads["voltage-margin"] {
				want++
			}
			if got := m.lower(m.own(v, c), 0, Levels-1); got != want {
				t.Errorf("%+.3f V above a floor of %.1f V where %+.3f V is asked: level %d, want %d", v, floor,
					q.Bound, got,
					want)
			}
			told++
			if m.lower(v, 0, Levels-1) != want {
				moved++ // by the floor of the first
			}
		}
	}
	if moved < told/100 {
		t.Errorf("of %d values the floor of the first pack tells only %d wrong", told, moved)
	}
}
