package sweep

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

// What runs have left is never refused: shards of various studies, in which flights are
// spared in each way there is, interrupted at random by several workers, gone on with and
// merged, whatever part of them is computed and judged again.
func TestConfirmTrue(t *testing.T) {
	term := func(name string, worst, best float64) Term {
		return Term{Metric: metric(t, name), Weight: 1, Worst: worst, Best: best}
	}
	atLeast := func(name string, v float64) Requirement {
		return Requirement{Metric: metric(t, name), AtLeast: true, Bound: v}
	}
	over := func(x, y *AxisDef, name string) MapSpec { return MapSpec{X: x, Y: y, Metric: metric(t, name)} }
	grid := small(t, map[*AxisDef]string{Diameter: "3,5", PitchRatio: "0.6,0.8", Stator: "1404,2004,2207",
		KV: "1300:2500:200", Cells: "3,4,6", Capacity: "700:2500:100", Payload: "0,15g,40g"})
	changes := []func(*Study){
		func(s *Study) {
			s.Merit = Merit{term("top-speed", 0, 60), term("range", 0, 30e3), term("cruise-time", 0, 3600)}
		},
		func(s *Study) {
			s.Merit = Merit{term("hover-time", 0, 1800), term("top-speed", 40, 10), term("cruise-power", 300, 20)}
		},
		func(s *Study) {
			s.Maps = append(s.Maps, over(Capacity, KV, "thrust-response-down"))
			s.Front = []*model.Metric{metric(t, "thrust-response-time"), metric(t, "hover-time")}
			s.Merit = Merit{term("top-speed", 0, 60)}
		},
		func(s *Study) {
			s.Maps = append(s.Maps, over(Capacity, KV, "range"), over(Payload, Cells, "cruise-power"),
				over(Diameter, KV, "top-tilt"))
			s.Merit = append(s.Merit, term("climb-rate", 0, 30), term("flight-tip-mach", 0.9, 0.3))
		},
		func(s *Study) {
			s.Front = []*model.Metric{metric(t, "range"), metric(t, "cruise-power"), metric(t, "thrust-to-weight")}
			s.Require = append(s.Require, atLeast("range", 12e3), atLeast("top-speed", 22))
		},
		func(s *Study) { s.Require = append(s.Require, atLeast("top-speed", 22), atLeast("range", 300e3)) },
		func(s *Study) {
			s.Maps = append(s.Maps, over(Cells, Capacity, "hover-power"), over(Payload, Diameter, "class-margin"),
				over(KV, Cells, "disk-loading"))
			s.Model = assuming(t, s.Model.Assume.PackGrade.Name, func(a *model.Assumptions) {
				a.FrameBuild, a.Board = frame.ByBeam, motor.Joined
			})
			s.Merit = Merit{term("class-margin", 0, 0.1), term("hover-time", 0, 600)}
		},
	}
	rounds := 2 * len(changes)
	if testing.Short() {
		rounds = 3
	}
	rng := rand.New(rand.NewPCG(27, 28))
	old := verifyBudget
	defer func() { verifyBudget = old }()
	breaks := 0
	// On a busy machine a run may end before it is interrupted: then there are more.
	for round := 0; round < rounds || breaks < rounds/2 && round < 20*rounds; round++ {
		s := study(t, grid)
		s.Classes = []Class{{Limit: 0.9, Label: "900g"}, {Limit: 0.5, Label: "500g"}}
		s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
		s.Top = []int{1, 20, 5000}[rng.IntN(3)]
		changes[round%len(changes)](s)
		s.Model = limited(t, s)
		cutBlocks(t, []uint64{1 << 16, 50, 400}[rng.IntN(3)])
		judgeAgain(t, []uint64{1 << 18, 3000}[rng.IntN(2)])
		verifyBudget = []budget{old, {500, 2}}[rng.IntN(2)]
		var paths []string
		var states []*State
		for k, of := 1, 1+rng.IntN(4); k <= of; k++ {
			o := Options{Workers: 1 + rng.IntN(4), Shard: Shard{k, of}, Resume: true,
				Checkpoint: filepath.Join(t.TempDir(), "checkpoint"),
				Every:      100 * time.Microsecond, Interval: time.Millisecond}
			for complete := false; !complete; breaks++ {
				ctx, cancel := context.WithCancel(t.Context())
				enough := 1 + rng.Uint64N(s.Grid.Size()/4)
				o.Progress = func(p Progress) {
					if p.Fresh >= enough {
						cancel()
					}
				}
				r, err := Run(ctx, s, o)
				cancel()
				if err != nil {
					t.Fatalf("round %d, shard %v: %v", round, o.Shard, err)
				}
				complete = r.Complete
			}
			st, err := ReadState(o.Checkpoint)
			if err != nil {
				t.Fatal(err)
			}
			paths, states = append(paths, fmt.Sprint(o.Shard)), append(states, st)
			breaks--
		}
		if _, err := Merge(t.Context(), s, paths, states); err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
	}
	if breaks < rounds/2 {
		t.Errorf("%d runs were interrupted, want more", breaks)
	}
	t.Logf("%d interrupts in %d studies", breaks, rounds)
}

// What is kept while another block is in work, and its run is killed, is not refused: what that block
// has found already spares designs of the others, and is lost.
func TestConfirmBesideWork(t *testing.T) {
	s := study(t, small(t, map[*AxisDef]string{Diameter: "3,5", PitchRatio: "0.6,0.8", Stator: "1404,2004,2207",
		KV: "1300:2500:200", Cells: "3,4,6", Capacity: "700:2500:100", Payload: "0,15g,40g"}))
	s.Classes = []Class{{Limit: 0.9, Label: "900g"}, {Limit: 0.5, Label: "500g"}}
	s.Model = limited(t, s)
	cutBlocks(t, 400)
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(29, seed))
		r := &runner{plan: p, last: p.blocks, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents()}
		given, lost := p.newWorker(r.incumbents), p.newWorker(r.incumbents)
		for _, b := range rng.Perm(int(p.blocks))[:p.blocks/2] {
			w := given
			if rng.IntN(2) == 0 {
				w = lost
			}
			r.tell(w, uint64(b))
			at, end := p.extent(uint64(b))
			if w.block(uint64(b), at, end); w == given {
				r.give(w, uint64(b), &at, &end)
			}
		}
		r.total.settle() // as what is kept is
		if _, err := p.confirm(t.Context(), r.total, wholeStudy, 2, verifyBudget); err != nil {
			t.Fatal(err)
		}
	}
}
