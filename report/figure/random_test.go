package figure

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// Whatever is swept, every figure can be drawn or says what it lacks, and its
// texts have their places.
func TestFiguresOfRandomStudies(t *testing.T) {
	t.Parallel()
	seeds := uint64(8)
	if testing.Short() {
		seeds = 3
	}
	for seed := range seeds {
		r := randomRun(t, seed)
		if seed%3 > 0 {
			r.Decision = invented(r)
		}
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		drawn := 0
		for _, p := range plansOf(t.Context(), r, found) {
			f, lacks, err := p.draw()
			switch {
			case err != nil:
				t.Errorf("seed %d, %s: %v", seed, p.name, err)
				continue
			case lacks != "", f == nil && r.Decision == nil:
				continue
			}
			l, err := f.Layout()
			if err != nil {
				t.Errorf("seed %d, %s: %v", seed, p.name, err)
				continue
			}
			drawn++
			for _, fault := range l.Faults() {
				t.Errorf("seed %d, %s: %s", seed, p.name, fault)
			}
		}
		if drawn < 2 { // sizes and tally there are always
			t.Errorf("seed %d: %d figures", seed, drawn)
		}
	}
}

// randomRun runs a study of a random grid, classes, requirements, maps and front.
func randomRun(t *testing.T, seed uint64) *finding.Run {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 1))
	some := func(def *sweep.AxisDef, all string) sweep.Axis {
		a := trial.Axis(t, def, all)
		var v []float64
		for len(v) == 0 {
			for _, x := range a.Values {
				if rnd.IntN(2) == 0 {
					v = append(v, x)
				}
			}
		}
		a.Values = v
		return a
	}
	g, err := sweep.NewGrid(
		some(sweep.Diameter, "2in,3in,4in,5in,7in,10in"),
		some(sweep.PitchRatio, "0.4,0.7"),
		some(sweep.Blades, "2,3"),
		trial.Axis(t, sweep.Chord, "0"),
		some(sweep.Stator, "1103,1404,2207,2812"),
		some(sweep.KV, "400,1000,1750,2750,3800,6000"),
		some(sweep.Cells, "1,2,3,4,6"),
		some(sweep.Capacity, "300,450,850,1500,4000"),
		some(sweep.Payload, "0,20g,60g,300g"),
	)
	if err != nil {
		t.Fatal(err)
	}
	s := &sweep.Study{Name: fmt.Sprintf("seed %d", seed), Grid: g, Model: trial.Model(t, model.Defaults()),
		Merit: sweep.DefaultMerit(), Top: 5, SizeBins: 2 + rnd.IntN(60)}
	if rnd.IntN(3) > 0 {
		s.Require = sweep.DefaultRequirements()
	}
	limit := 0.06 // kg
	for range 1 + rnd.IntN(5) {
		limit *= 1.2 + 2*rnd.Float64()
		s.Classes = append(s.Classes, sweep.Class{Limit: limit, Label: fmt.Sprintf("%.0fg", 1000*limit),
			Note: strings.Repeat("heavy ", rnd.IntN(5)) + "one"})
	}
	metrics := []string{"hover-time", "thrust-to-weight", "top-speed", "tip-mach"}
	rnd.Shuffle(len(metrics), func(i, k int) { metrics[i], metrics[k] = metrics[k], metrics[i] })
	for _, name := range metrics[:rnd.IntN(4)] {
		s.Front = append(s.Front, finding.Metric(name))
	}
	axes, swept := g.Axes(), g.Swept()
	for i, x := range swept {
		for _, y := range swept[i+1:] {
			if rnd.IntN(6) == 0 {
				s.Maps = append(s.Maps, sweep.MapSpec{X: axes[x].Def, Y: axes[y].Def})
			}
		}
	}
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	result, err := sweep.Run(t.Context(), s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return &finding.Run{Study: s, Result: result}
}
