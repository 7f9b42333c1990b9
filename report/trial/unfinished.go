package trial

import (
	"slices"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// UnfinishedRun is MappedRun ended when about a share of its designs was judged.
func UnfinishedRun(t testing.TB, share float64) *finding.Run {
	t.Helper()
	r := SmallRun(t)
	s := *MappedRun(t).Study
	s.Maps = slices.Clone(s.Maps)
	r.Study = &s
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1,
		MaxDesigns: uint64(share * float64(s.Grid.Size()))})
	if err != nil {
		t.Fatal(err)
	}
	if result.Complete || result.Done == 0 {
		t.Fatalf("%d of %d designs judged, want some and not all", result.Done, result.Share)
	}
	r.Result = result
	result.Elapsed, result.Workers = 1500e6, 2
	return r
}
