package finding

import (
	"cmp"
	"slices"

	"rotorsieve/sweep"
)

// checkBests holds what was best in a class, by payload and by diameter, against the grid
// and against the best of all.
func (f *Finished) checkBests(k sweep.Class, found *FoundRecord) error {
	if found.Best == nil {
		if len(found.Leaders) > 0 || slices.ContainsFunc(found.ByPayload,
			func(d *DesignRecord) bool { return d != nil }) {
			return unlike("designs where none is feasible")
		}
		return nil
	}
	if err := f.checkDesign(k, found.Best); err != nil {
		return err
	}
	best := sweep.Ranked{Index: found.Best.Index, Score: found.Best.Merit}
	held := func(index uint64, merit float64) error {
		if merit > best.Score || merit == best.Score && index < best.Index {
			return unlike("design %d, which is better than the best", index)
		}
		return nil
	}
	payload, _ := f.grid.AxisIndex(sweep.Payload.Name)
	want := len(f.grid.Axes()[payload].Values)
	if want == 1 {
		want = 0 // not swept
	}
	if n := len(found.ByPayload); n != want {
		return unlike("the best designs of %d payloads", n)
	}
	for n, d := range found.ByPayload {
		if d == nil {
			continue
		}
		if err := cmp.Or(f.checkDesign(k, d), held(d.Index, d.Merit)); err != nil {
			return err
		}
		if f.grid.At(d.Index, payload) != n {
			return unlike("design %d as the best of another payload", d.Index)
		}
	}
	return f.checkLeaders(found, best, held)
}

func (f *Finished) checkLeaders(found *FoundRecord, best sweep.Ranked, held func(uint64, float64) error) error {
	diameter, _ := f.grid.AxisIndex(sweep.Diameter.Name)
	axis := f.grid.Axes()[diameter]
	before, led := -1, false
	for _, l := range found.Leaders {
		if err := f.checkPlace(l.Index, l.Merit); err != nil {
			return err
		}
		if err := checkNumbers(l.Index, l.Metrics, metricUnit); err != nil {
			return err
		}
		if err := held(l.Index, l.Merit); err != nil {
			return err
		}
		at := f.grid.At(l.Index, diameter)
		if at <= before || l.Diameter.Unit != sweep.Diameter.Kind.SI().Symbol || axis.Values[at] != l.Diameter.Value {
			return unlike("design %d as the best of %g m in diameter", l.Index, l.Diameter.Value)
		}
		before = at
		led = led || l.Index == best.Index && l.Merit == best.Score
	}
	if !led {
		return unlike("a best design that is not the best of its diameter")
	}
	return nil
}
