package decide

import (
	"math"
	"testing"
)

// What is told of a choice beforehand is of its candidates, grows with the draws, is shared by
// the workers that have a processor, and changes nothing of what is chosen.
func TestEstimate(t *testing.T) {
	t.Parallel()
	s, found := trials[1].run(t)
	tell := func(draws int) Forecast {
		f, err := Estimate(t.Context(), s, found, nil, Options{Draws: draws, Seed: 1, Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	few, many := tell(1), tell(MostDraws)
	want := 0
	for i := range found.Classes {
		want += len(newSpace(s.Grid).candidates(i, &found.Classes[i]))
	}
	if few.Builds != want || many.Builds != want || want == 0 {
		t.Errorf("%d and %d builds, want %d", few.Builds, many.Builds, want)
	}
	if few.Time <= 0 || few.Memory <= 0 || many.Memory <= few.Memory {
		t.Errorf("%+v in one draw, %+v in %d", few, many, MostDraws)
	}
	for i, c := range few.Sketch.Classes {
		if c.Judged != want || len(c.Builds) == 0 || len(c.Axes) == 0 || len(c.Line) == 0 ||
			len(c.Sensitivities) == 0 || len(c.Loosened) == 0 || len(c.Weights) == 0 || len(c.Tests) == 0 {
			t.Errorf("class %d: the sketch lacks something of a choice: %+v", i, c)
		}
	}
	none := *found
	none.Classes = nil
	if f, err := Estimate(t.Context(), s, &none, nil, Options{Draws: 1, Workers: 1}); f != (Forecast{}) || err != nil {
		t.Errorf("of nothing: %+v, %v", f, err)
	}
}

// What the stages of a choice are foretold to do is what they do, by numbers that do not depend on
// how long anything takes: propellers, draws and builds by what goes through each stage, packs by a few
// builds in a few draws.
func TestForetold(t *testing.T) {
	t.Parallel()
	some := trials[:2]
	if testing.Short() {
		some = trials[:1]
	}
	for _, x := range some {
		s, found := x.run(t)
		o := Options{Draws: 64, Fresh: 128, Seed: 1, Workers: 2}
		told, err := Estimate(t.Context(), s, found, nil, o)
		if err != nil {
			t.Fatal(err)
		}
		d, err := Run(t.Context(), s, found, o)
		if err != nil {
			t.Fatal(err)
		}
		for stage := range Stages {
			a, b := told.Works[stage], d.Works[stage]
			for _, c := range []struct {
				what        string
				told, taken int
				within      float64 // and as many as a few builds more or less
				few         int
			}{
				{"propellers solved", a.Solved, b.Solved, 0.1, 4},
				{"propellers traced", a.Traced, b.Traced, 0, 0},
				{"draws", a.Draws, b.Draws, 0.05, 4},
				{"propellers in draws", a.Varied, b.Varied, 0.35, 0},
				{"builds in draws", a.Builds, b.Builds, 0.15, 0},
				{"packs of builds in draws", a.Packs, b.Packs, 0.3, 0},
			} {
				if off := math.Abs(float64(c.told - c.taken)); off > c.within*float64(c.taken)+float64(c.few) {
					t.Errorf("%s, %v: %d %s foretold, %d taken", x.name, stage, c.told, c.what, c.taken)
				}
			}
		}
		t.Logf("%s\ntold  %+v\ntaken %+v", x.name, told.Works, d.Works)
	}
}

// A study of which half is judged is foretold the candidates of the whole.
func TestGrown(t *testing.T) {
	t.Parallel()
	s, found := trials[1].run(t)
	all := newSpace(s.Grid).candidates(0, &found.Classes[0])
	propellers := func(list []*build) int {
		seen := map[propellerKey]bool{}
		for _, b := range list {
			seen[b.propeller] = true
		}
		return len(seen)
	}
	n, p := float64(len(all)), float64(propellers(all))
	for _, c := range []struct{ builds, propellers float64 }{{1, 1}, {1.5, 1}, {2, 2}, {2.6, 1.5}, {1e9, 3}} {
		got := grown(all, c.builds, c.propellers)
		if want := min(mostBuilds+1, int(math.Round(n*c.builds))); len(got) != want {
			t.Errorf("%+v: %d builds of %v, want %d", c, len(got), n, want)
		}
		if of, want := float64(propellers(got)), p*c.propellers; math.Abs(of-want) > 1 {
			t.Errorf("%+v: %v propellers of %v, want %v", c, of, p, want)
		}
	}
}
