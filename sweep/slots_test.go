package sweep

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"rotorsieve/model"
)

// nest gives a study so many classes in any order, about the masses of some of its designs: spread over
// all, close together, at a design's very mass and next to it, alike, and too light for all.
func nest(t testing.TB, s *Study, rng *rand.Rand, n int) {
	t.Helper()
	e := NewEvaluator(s)
	var masses []float64
	for range 1 + n/3 {
		if c, err := e.Craft(rng.Uint64N(s.Grid.Size()), Class{Limit: math.Inf(1)}); err == nil {
			masses = append(masses, c.Mass)
		}
	}
	if masses == nil {
		masses = []float64{0.3}
	}
	s.Classes = nil
	for i := range n {
		limit := masses[rng.IntN(len(masses))]
		switch rng.IntN(8) {
		case 0:
		case 1:
			limit = math.Nextafter(limit, 0)
		case 2, 3:
			limit *= 0.98 + 0.04*rng.Float64()
		case 4:
			if i > 0 {
				limit = s.Classes[rng.IntN(i)].Limit
			}
		case 5:
			limit *= 0.1
		default:
			limit *= 0.8 + 0.6*rng.Float64()
		}
		s.Classes = append(s.Classes, Class{Limit: limit, Label: fmt.Sprint(i)})
	}
}

// mostFeasible is how many designs are feasible in the class that has the most.
func mostFeasible(r *Result) (n uint64) {
	for i := range r.Classes {
		n = max(n, r.Classes[i].Feasible)
	}
	return n
}

// Studies of up to twelve classes come out as by brute force: in any order of blocks, by any workers,
// and of shards that were interrupted.
func TestNestedClasses(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 72))
	rounds := 40
	if testing.Short() {
		rounds = 12
	}
	var feasible, changes, apart uint64
	for round := range rounds {
		cutBlocks(t, []uint64{1 << 16, 1, 30, 300}[rng.IntN(4)])
		shortLists(t, 1+rng.IntN(12), 1+rng.IntN(12))
		s := study(t, small(t, map[*AxisDef]string{
			Diameter: "3,5", Stator: "1404,2207", KV: "1300,1700,2100,2900", Cells: "3,4",
			Capacity: []string{"450:1500:150mAh", "500,900,1800"}[rng.IntN(2)],
			Payload:  []string{"0,25g", "0,5g,10g"}[rng.IntN(2)],
		}))
		nest(t, s, rng, 1+rng.IntN(12))
		s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
		s.Maps = append(s.Maps, MapSpec{X: Capacity, Y: KV}, MapSpec{X: Payload, Y: Diameter},
			MapSpec{X: Cells, Y: Capacity, Metric: metric(t, "hover-power")},
			MapSpec{X: Stator, Y: Payload, Metric: metric(t, "thrust-to-weight")})
		s.Top, s.SizeBins = 1+rng.IntN(9), 1+rng.IntN(30)
		switch round % 4 {
		case 1:
			s.Merit = append(s.Merit, Term{Metric: metric(t, "top-speed"), Weight: 1, Worst: 0, Best: 60})
			s.Require = append(s.Require, Requirement{Metric: metric(t, "range"), AtLeast: true, Bound: 6e3})
		case 2: // in each class another
			s.Merit = append(s.Merit, Term{Metric: metric(t, "class-margin"), Weight: 1, Worst: 0, Best: 0.2})
		case 3:
			scenes(t, s, rng)
		}
		want := brute(t, s)
		what := fmt.Sprintf("round %d, %d classes", round, len(s.Classes))
		equalResults(t, what, run(t, s, Options{Workers: 1}), want)
		equalResults(t, what+", three workers", run(t, s, Options{Workers: 3}), want)
		equalResults(t, what+", blocks in another order", shuffled(t, s, rng), want)
		for i := range want.Classes {
			k := &want.Classes[i]
			feasible += k.Feasible
			for _, o := range want.Classes[:i] {
				if len(o.Ranking) > 0 && len(k.Ranking) > 0 {
					if apart++; !slices.Equal(o.Ranking, k.Ranking) {
						changes++
					}
				}
			}
		}
		if round%3 > 0 {
			continue
		}
		var paths []string
		var states []*State
		for n := range 2 {
			o := Options{Shard: Shard{n + 1, 2}, Checkpoint: filepath.Join(t.TempDir(), "checkpoint"), Workers: 2}
			cut := o
			cut.MaxDesigns = s.Grid.Size() / 5
			if _, err := Run(t.Context(), s, cut); err != nil {
				t.Fatal(err)
			}
			o.Resume = true
			run(t, s, o)
			st, err := ReadState(o.Checkpoint)
			if err != nil {
				t.Fatal(err)
			}
			paths, states = append(paths, o.Checkpoint), append(states, st)
		}
		merged, err := Merge(t.Context(), s, paths, states)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		equalResults(t, what+", merged", merged, want)
	}
	t.Logf("%d feasible designs; %d of %d pairs of classes differ", feasible, changes, apart)
	if feasible < uint64(100*rounds) || changes < apart/4 || changes < uint64(5*rounds) {
		t.Errorf("%d feasible designs; %d of %d pairs of classes differ", feasible, changes, apart)
	}
}

// A design is kept once however many classes take it, unless they judge it differently.
func TestKeptOnce(t *testing.T) {
	s := study(t, small(t, map[*AxisDef]string{Capacity: "450:1500:50mAh"}))
	rng := rand.New(rand.NewPCG(73, 74))
	for _, byClass := range []bool{false, true} {
		nest(t, s, rng, 40)
		s.Classes = append(s.Classes, Class{Limit: 2, Label: "2kg"})
		if byClass {
			s.Require = append(s.Require, Requirement{Metric: metric(t, "class-margin"), AtLeast: true, Bound: 0.01})
		}
		p, err := newPlan(s)
		if err != nil {
			t.Fatal(err)
		}
		r := &runner{plan: p, last: p.blocks, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents()}
		w := p.newWorker(r.incumbents)
		var kept uint64
		for {
			b, ok := r.take(w)
			if !ok {
				break
			}
			at, end := r.extent(b)
			w.block(b, at, end)
			for _, x := range w.found {
				kept += x.feasible
				for _, n := range x.rejected {
					kept += n
				}
			}
			r.give(w, b, &at, &end)
		}
		if size := s.Grid.Size(); !byClass && kept != size || byClass && kept < 5*size {
			t.Errorf("%d designs are kept of %d, by class: %v", kept, size, byClass)
		}
	}
}

// Of a class a checkpoint keeps what the next lighter one has not, so that classes alike take little.
func TestCheckpointOfClasses(t *testing.T) {
	cutBlocks(t, 64)
	sizes := map[int]int{}
	for _, n := range []int{1, 10} {
		s := medium(t)
		s.Top = 1
		s.Classes = nil
		for i := range n {
			s.Classes = append(s.Classes, Class{Limit: 0.6, Label: fmt.Sprint(n - i)})
		}
		path := filepath.Join(t.TempDir(), "checkpoint")
		r := run(t, s, Options{Checkpoint: path})
		if mostFeasible(r) == 0 {
			t.Fatal("nothing is feasible")
		}
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		sizes[n] = len(b)
		st, err := ReadState(path)
		if err != nil {
			t.Fatal(err)
		}
		merged, err := Merge(t.Context(), s, []string{path}, []*State{st})
		if err != nil {
			t.Fatal(err)
		}
		equalResults(t, "merged", merged, r)
	}
	if sizes[10] > 4*sizes[1] {
		t.Errorf("a checkpoint of ten classes alike takes %d bytes, of one of them %d, want up to four times that",
			sizes[10], sizes[1])
	}
}

// What stands for something of a lighter class is refused where that has nothing of the kind.
func TestAsBefore(t *testing.T) {
	r := &reader{b: []byte{asBefore, 0}}
	if r.cell(nil); r.err == nil {
		t.Error("a cell as of a lighter class is taken of the lightest")
	}
	before := &candidates{}
	before.lists[1] = []Build{{Ranked: Ranked{Index: 7, Score: 0.5}}}
	r = &reader{b: []byte{1, 2}}
	if x := r.candidate(before, 1); x.Index != 7 || x.Score != 0.5 || r.err != nil {
		t.Errorf("%+v, %v in place of the lighter class's candidate", x, r.err)
	}
	if r.candidate(before, 1); r.err == nil {
		t.Error("the second candidate of one is taken")
	}
}

// Runs that go from class to class come out as by brute force in every class: what is best, also by
// weight, and the nearest miss, which is too heavy where nothing else is rejected.
func TestRunsFromClassToClass(t *testing.T) {
	rng := rand.New(rand.NewPCG(81, 82))
	rounds := 40
	if testing.Short() {
		rounds = 12
	}
	var designs, crossed, byGate uint64
	for round := range rounds {
		shortRuns(t, 1+rng.IntN(3))
		cutBlocks(t, []uint64{1 << 16, 60, 300}[round%3])
		s := study(t, small(t, map[*AxisDef]string{Diameter: "5", PitchRatio: "0.6,0.8", Blades: "2",
			Stator: "2204,2205,2207", KV: "1600:2200:200",
			Cells: "4", Capacity: "1200:1700:10mAh", Payload: []string{"0", "0,25g"}[rng.IntN(2)]}))
		maps := []MapSpec{{X: Capacity, Y: KV}, {X: Payload, Y: Stator}, {X: PitchRatio, Y: Capacity},
			{X: Stator, Y: PitchRatio},
			{X: KV, Y: Payload, Metric: metric(t, "hover-power")}}
		lightest := math.Inf(1)
		e := NewEvaluator(s)
		if c, err := e.Craft(0, Class{Limit: math.Inf(1)}); err == nil {
			lightest = c.Mass
		}
		s.Classes = nil
		for i := range 2 + rng.IntN(20) {
			s.Classes = append(s.Classes, Class{Limit: lightest + 0.06*rng.Float64(), Label: fmt.Sprint(i)})
		}
		s.Require, s.Maps, s.Front = nil, nil, nil
		if rng.IntN(2) == 0 {
			s.Require = []Requirement{{Metric: metric(t, "hover-throttle"), Bound: 0.2 + 0.4*rng.Float64()}}
		}
		read := []string{"hover-time", allUpWeight.Name, "thrust-to-weight"}[rng.IntN(3)]
		s.Merit = Merit{{Metric: metric(t, read), Weight: 1}}
		if x := &s.Merit[0]; x.Metric.Better == model.Lower {
			x.Worst, x.Best = 2, 0.1
		} else {
			x.Worst, x.Best = 1, 3000
		}
		s.Top, s.SizeBins, s.Nominal = 1, 1+rng.IntN(80), rng.IntN(2) == 0
		s.Model = limited(t, s)
		for _, m := range maps {
			if round%2 == 0 && rng.IntN(2) == 0 {
				s.Maps = append(s.Maps, m)
			}
		}
		if round%4 == 2 {
			s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
		}
		if round%8 == 4 {
			scenes(t, s, rng)
		}
		what := fmt.Sprintf("round %d", round)
		want := brute(t, s)
		got, w := byWorker(t, s, 0, nil)
		equalResults(t, what, got, want)
		var told Progress
		two, err := Run(t.Context(), s, Options{Workers: 2, Progress: func(p Progress) { told = p }})
		if err != nil {
			t.Fatal(err)
		}
		equalResults(t, what+", two workers", two, want)
		if n := mostFeasible(want); told.Feasible != n {
			t.Errorf("%s: %d designs are told to be feasible, %d are", what, told.Feasible, n)
		}
		designs, crossed = designs+s.Grid.Size(), crossed+w.runs.crossed
		if w.byGate && len(s.Maps) > 0 {
			byGate += w.runs.crossed
		}
	}
	t.Logf("%d of %d designs in runs from class to class, %d with maps by gate", crossed, designs, byGate)
	if float64(crossed) < 0.06*float64(designs) || float64(byGate) < 0.02*float64(designs) {
		t.Errorf("%d of %d designs in runs from class to class, %d with maps by gate", crossed, designs, byGate)
	}
}
