package sweep

import (
	"context"
	"math"
	"testing"
)

// Designs of many KVs that are judged at once come out as by brute force and keep the bounds of their tiles, in one
// class and in several.
func TestTiles(t *testing.T) {
	text := map[*AxisDef]string{Diameter: "4", PitchRatio: "0.5,0.8", Stator: "1404,2207", KV: "1200:3500:25",
		Cells: "3,4", Capacity: "400:1600:40mAh", Payload: "0,20g"}
	if testing.Short() {
		text[Stator], text[Cells] = "1404", "4"
	}
	for _, classes := range [][]Class{
		{{Limit: 0.45, Label: "450g"}},
		{{Limit: 0.45, Label: "450g"}, {Limit: 0.25, Label: "250g"}, {Limit: 0.251, Label: "251g"},
			{Limit: 0.33, Label: "330g"}},
	} {
		s := study(t, small(t, text))
		s.Classes = classes
		s.Require = append(s.Require, Requirement{Metric: metric(t, "motor-current"), Bound: 6})
		want := brute(t, s)
		got, w := byWorker(t, s, math.MaxUint64/16, nil)
		equalResults(t, "one worker", got, want)
		if n := w.runs.tiled; float64(n) < 0.1*float64(s.Grid.Size()) || n > w.runs.passed {
			t.Errorf("%d of %d designs in tiles, %d passed by in all", n, s.Grid.Size(), w.runs.passed)
		}
		if a := got.Audit; a.Checked < s.Grid.Size()/200 || a.Breaches > 0 {
			t.Errorf("%d designs audited, %d break a bound, first %+v", a.Checked, a.Breaches, a.First)
		}
		two, err := Run(context.Background(), s, Options{Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		equalResults(t, "two workers", two, want)
	}
}

// At the most that packs can give speed rises with KV no longer: between two KVs with an operating point there may be
// some without.
func TestTilesNearMostPower(t *testing.T) {
	for _, c := range [][6]string{ // diameter in in, pitch ratio, stator, cells, KV, capacity
		{"5", "0.3", "2207", "8", "3760:4280:20", "720:746:1mAh"},
		{"5", "0.3", "2812", "8", "3440:4020:20", "740:759:1mAh"},
		{"3", "0.5", "1404", "6", "9400:10750:50", "750:776:1mAh"},
		{"3", "0.5", "1404", "8", "7000:8080:40", "540:563:1mAh"},
		{"7", "0.7", "2207", "6", "5500:6100:10", "99:103:0.2mAh"},
	} {
		s := study(t, small(t, map[*AxisDef]string{Diameter: c[0], PitchRatio: c[1], Stator: c[2], Cells: c[3],
			KV: c[4], Capacity: c[5], Payload: "0"}))
		s.Classes = []Class{{Limit: 5, Label: "5kg"}}
		got, _ := byWorker(t, s, math.MaxUint64/16, nil)
		equalResults(t, c[4], got, brute(t, s))
	}
}

// Where steps are coarse nothing is spent on tiles.
func TestTilesWhereFine(t *testing.T) {
	for _, c := range []struct {
		kv, capacity string
		fine         bool
	}{
		{"1200:3500:25", "600:1800:40mAh", true},
		{"1200:3600:200", "600:1800:40mAh", false},
		{"1200:3500:25", "600:1800:100mAh", false},
		{"1000:3500:100", "600:1800:40mAh", false},
		{"1200:3600:400,4000:4800:20", "600:1800:40mAh", true},
		{"1200:3500:25", "600:1800:0.1mAh", false}, // a block has one KV
	} {
		p, err := newPlan(study(t, small(t, map[*AxisDef]string{Diameter: "4", Stator: "1404", KV: c.kv, Cells: "3",
			Capacity: c.capacity, Payload: "0,20g"})))
		if err != nil {
			t.Fatal(err)
		}
		if p.fineKVs != c.fine {
			t.Errorf("KVs %s, capacities %s: tiles %v, want %v", c.kv, c.capacity, p.fineKVs, c.fine)
		}
	}
}
