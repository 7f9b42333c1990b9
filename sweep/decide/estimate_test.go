package decide

import "testing"

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
	none := *found
	none.Classes = nil
	if f, err := Estimate(t.Context(), s, &none, nil, Options{Draws: 1, Workers: 1}); f != (Forecast{}) || err != nil {
		t.Errorf("of nothing: %+v, %v", f, err)
	}
}
