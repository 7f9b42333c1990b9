package sweep

import (
	"math"
	"testing"
)

// The count of what a dump keeps is within a few per cent from some blocks of each propeller, and
// exact from all; that of ranges of blocks adds up.
func TestDumpCount(t *testing.T) {
	s := study(t, small(t, map[*AxisDef]string{Diameter: "3:6:0.5", PitchRatio: "0.5:0.9:0.1",
		Stator: "1303,1304,1404,1406,1407,1504,1507,1804,1806,2004,2006,2104,2106,2205,2206,2207,2208,2303,2304," +
			"2306,2307,2406,2407,2507", KV: "1300:4300:1000", Capacity: "450,850"}))
	for _, merit := range []float64{0, 0.2} {
		d := dumpOf(t, s, t.TempDir(), merit, 7)
		all := d.count(math.MaxInt64 / 8)
		exact := all.rows(0, d.blocks)
		if rounded := math.Round(exact); math.Abs(exact-rounded) > 1e-6 || exact < 500 {
			t.Fatalf("%v designs of merit %g", exact, merit)
		}
		if merit == 0 {
			want := uint64(0)
			r := run(t, s, Options{})
			for i := range r.Classes {
				want = max(want, r.Classes[i].Feasible) // the widest has what the others have
			}
			if uint64(math.Round(exact)) != want {
				t.Errorf("%v designs are counted, a run has %d", exact, want)
			}
		}
		some := d.count(0) // the first turn of the first propeller alone
		if len(some.strata) == 0 || len(some.strata) > 8 {
			t.Errorf("%d propellers without any time", len(some.strata))
		}
		// A count that its time cuts short has spread what it has seen.
		short, workers := d.newCount()
		short.round(workers, 0, func() bool {
			short.mu.Lock()
			defer short.mu.Unlock()
			return len(short.strata) >= 14
		})
		if got := short.rows(0, d.blocks); math.Abs(got-exact) > 0.35*exact {
			t.Errorf("merit %g: %.0f designs of %.0f from %d propellers", merit, got, exact, len(short.strata))
		}
		turn, workers := d.newCount()
		turn.round(workers, 0, func() bool { return false })
		got := turn.rows(0, d.blocks)
		var visited float64
		for _, s := range turn.strata {
			visited += s.n
		}
		t.Logf("merit %g: %.0f of %.0f designs from %.0f of %d blocks, standard error %.3f", merit, got, exact, visited,
			d.blocks, turn.error())
		if visited > 0.17*float64(d.blocks) || math.Abs(got-exact) > 0.05*exact {
			t.Errorf("merit %g: %.0f designs of %.0f from %.0f of %d blocks", merit, got, exact, visited, d.blocks)
		}
		sum := 0.0
		for n := range d.files {
			sum += turn.rows(n*d.each, min((n+1)*d.each, d.blocks))
		}
		if math.Abs(sum-got) > 1e-6*got {
			t.Errorf("files come to %v of %v designs", sum, got)
		}
	}
}
