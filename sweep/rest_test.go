package sweep

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// cuts are studies of some hundred blocks, with several classes: by hover alone and with flight.
func cuts(t testing.TB) []*Study {
	rng := rand.New(rand.NewPCG(41, 42))
	some := func(from ...string) string {
		n := 2 + rng.IntN(len(from)-1)
		at := rng.Perm(len(from))[:n]
		var out []string
		for i, x := range from {
			for _, k := range at {
				if i == k {
					out = append(out, x)
				}
			}
		}
		return strings.Join(out, ",")
	}
	var all []*Study
	for n := range 24 {
		s := study(t, small(t, map[*AxisDef]string{
			Diameter: some("2", "2.5", "3", "3.5", "4", "5", "6", "7"), PitchRatio: some("0.4", "0.5", "0.6", "0.7", "0.8", "0.9"),
			Blades: some("2", "3"), Stator: some("1103", "1105", "1204", "1303", "1404", "1507", "1806", "2004", "2207", "2306"),
			KV: some("1300", "1700", "2100", "2600", "3200", "4000", "5000"), Cells: some("2", "3", "4", "6"),
			Capacity: some("300", "450", "650", "850", "1100", "1500"), Payload: "0",
		}))
		s.Classes = []Class{{Limit: 0.15, Label: "150g"}, {Limit: 0.249, Label: "249g"}, {Limit: 0.5, Label: "500g"}}
		s.Merit = DefaultMerit()
		s.Top = 200
		if n%3 == 0 {
			s.Merit = append(s.Merit, Term{Metric: metric(t, "range"), Weight: 1, Worst: 0, Best: 30e3})
		}
		all = append(all, s)
	}
	return all
}

// Of studies that are cut short and then finished the best was among what was left as
// often as told, and gained what was told.
func TestRestCalibrated(t *testing.T) {
	if testing.Short() {
		t.Skip("takes many runs to tell a chance")
	}
	type sum struct{ runs, better, within, told, chance, gain, typical float64 }
	byShare := map[int]*sum{10: {}, 25: {}, 50: {}}
	for n, s := range cuts(t) {
		few(t, []uint64{abreast, 12}[n%2]) // of a large study a beginning has some propellers alone
		p, err := newPlan(s)
		if err != nil {
			t.Fatal(err)
		}
		judged := func(percent int) *Result {
			r, err := p.run(context.Background(), Options{MaxDesigns: s.Grid.Size() * uint64(percent) / 100})
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		all := judged(100)
		for percent, x := range byShare {
			r := judged(percent)
			for i := range r.Classes {
				best, ok := r.Classes[i].Best()
				if !ok {
					continue
				}
				e, end := r.Rest(i), all.Classes[i].Ranking[0]
				x.runs++
				x.chance += e.Chance
				gain := end.Score - best.Score
				if gain > 0 {
					x.better++
				}
				if e.Blocks > 0 {
					x.told++
					x.gain += gain
					x.typical += e.Typical
					if gain <= e.Most {
						x.within++
					}
				}
			}
		}
	}
	for percent, x := range byShare {
		t.Logf("%d %%: %.0f runs: better %.2f of them, told %.2f; of %.0f told gain %.4f, told %.4f; within %.2f", percent,
			x.runs, x.better/x.runs, x.chance/x.runs, x.told, x.gain/x.told, x.typical/x.told, x.within/x.told)
		if d := math.Abs(x.better-x.chance) / x.runs; d > 0.2 {
			t.Errorf("%d %%: off by %.2f, want 0.2 at most: runs of one study go together", percent, d)
		}
		if q := x.typical / x.gain; q < 0.6 || q > 2 {
			t.Errorf("%d %%: told %.2f times the mean gain, want 0.6 to 2", percent, q)
		}
		if w := x.within / x.told; w < 0.8 {
			t.Errorf("%d %%: %.2f within what nine of ten gain at most, want 0.8", percent, w)
		}
	}
}

// A run that is complete leaves nothing, and one with nothing feasible tells its share alone.
func TestRestOfLittle(t *testing.T) {
	s := cuts(t)[1]
	if e := run(t, s, Options{}).Rest(0); e != (Rest{}) {
		t.Errorf("a complete run leaves %+v", e)
	}
	r, err := Run(context.Background(), s, Options{MaxDesigns: 1, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	if e := r.Rest(0); e.Blocks != 0 || e.Most != 0 || !(e.Chance > 0.9 && e.Chance < 1) {
		t.Errorf("a run of one block tells %+v", e)
	}
}
