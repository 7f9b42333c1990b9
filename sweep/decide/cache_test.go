package decide

import (
	"path/filepath"
	"testing"

	"rotorsieve/model"
	folder "rotorsieve/sweep/cache"
)

// counting counts what is solved although it could have been kept.
type counting struct {
	model.Store
	saved chan struct{}
}

func (c *counting) Save(inputs, solved []byte) {
	c.saved <- struct{}{}
	c.Store.Save(inputs, solved)
}

// What is decided is the same to the last bit with what was kept of propellers as without it,
// and a second time nothing is solved: neither the propellers, their flight in draws, nor those
// in other air.
func TestDecisionFromCache(t *testing.T) {
	t.Parallel()
	s, r := trials[0].run(t)
	want, err := Run(t.Context(), s, r, few(2))
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "solved")
	for _, what := range []string{"cold", "warm"} {
		s, r := trials[0].run(t)
		f, err := folder.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		store := &counting{f, make(chan struct{}, 1<<16)}
		s.Model.Store = store
		got, err := Run(t.Context(), s, r, few(2))
		if err != nil {
			t.Fatal(err)
		}
		if diff := same(want, got); diff != "" {
			t.Errorf("%s: another decision than without a cache:\n%.2000s", what, diff)
		}
		if n := len(store.saved); n > 0 != (what == "cold") {
			t.Errorf("%s: %d are solved", what, n)
		}
	}
}
