package model

import (
	"math"
	"testing"
)

func TestLikeness(t *testing.T) {
	d := Design{Diameter: 5 * in, Pitch: 4 * in, Blades: 3, Stator: stator(22, 7), KV: 1750, Cells: 6,
		Capacity: 1100 * 3.6, Payload: 0.1}
	c, err := newModel(t, nil).Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	m, ok := LookupMetric("likeness")
	if !ok {
		t.Fatal("no metric likeness")
	}
	if v := m.Of(c); !math.IsNaN(v) {
		t.Errorf("likeness without a reference is %g", v)
	}
	for _, x := range Compared() {
		if x == nil {
			t.Fatal("a compared metric does not exist")
		}
	}
	r := ReferenceTo(c)
	at := func(r Reference) float64 {
		c, err := newModel(t, func(a *Assumptions) { a.Like = r }).Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		return m.Of(c)
	}
	if v := at(r); math.Abs(v-1) > 1e-12 {
		t.Errorf("a craft is like itself by %g, want 1", v)
	}
	for _, x := range Compared() {
		twice, alone := r, Reference{}
		*twice.Of(x) *= 2
		*alone.Of(x) = *r.Of(x) / 2
		if v, want := at(twice), math.Exp2(-math.Sqrt(1.0/5)); math.Abs(v-want) > 1e-9 {
			t.Errorf("%s twice the reference: likeness %g, want %g", x.Name, v, want)
		}
		if v := at(alone); math.Abs(v-0.5) > 1e-9 {
			t.Errorf("%s alone, half the reference: likeness %g, want 0.5", x.Name, v)
		}
	}
	if (&Reference{}).Of(m) != nil {
		t.Error("likeness itself is compared")
	}
}

// A weight on its loaded diameter has the loading.
func TestLoadedDiameter(t *testing.T) {
	const mass, loading = 0.5, 70
	if got := DiskLoading(mass, LoadedDiameter(mass*gravity, loading)); math.Abs(got-loading) > 1e-12*loading {
		t.Errorf("%g N/m2, want %g", got, float64(loading))
	}
}
