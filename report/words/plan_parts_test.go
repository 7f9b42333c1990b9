package words

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/sweep/decide"
)

// A sum of prices names what it leaves out, and a board that carries the flight controller both masses.
func TestPartsAreWhole(t *testing.T) {
	t.Parallel()
	none := math.NaN()
	motor := finding.Purchase{Kind: "motor", Title: "Motor", Count: 4, Price: 15}
	for _, c := range []struct {
		all  []finding.Purchase
		want string
	}{
		{[]finding.Purchase{motor}, ""},
		{[]finding.Purchase{motor, {Title: "Hardware", Count: 1, Price: none},
			{Title: "Payload", Count: 1, Price: none}, {Kind: "board", Title: "Board", Count: 1, Price: none}},
			"without a price, not in the sum: hardware, board"},
		{[]finding.Purchase{{Kind: "motor", Title: "Motor", Count: 4, Price: none}}, "no price is known"},
	} {
		if got := Cost(c.all); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	board := part.Board{Name: "Sill", Current: 20, Cells: 6, Mass: part.Stated{Value: 0.0092, Known: true}}
	for _, joined := range []bool{false, true} {
		board.Joined = joined
		p := &finding.Plan{Design: model.Design{Cells: 4, Parts: model.Parts{Board: &board}}}
		said := Specification(p, &finding.Purchase{Kind: "board", Mass: 0.0047})
		if strings.Contains(said, "4.7 of 9.2 g as stated, the rest is the flight controller") != joined {
			t.Errorf("joined %v: %q", joined, said)
		}
	}
}

// What nothing reads back is not worth measuring, and a pack that full throttle asks too much of is named.
func TestPartsOnPageOne(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	k := &r.Decision.Classes[1]
	k.Worth = append([]decide.Worth{{What: decide.HoverPower, Class: decide.LargeWorth, Gain: 0.1}}, k.Worth...)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := &found[1]
	c := f.Choice
	hovers := func() bool {
		single, _ := c.Measures()
		return slices.ContainsFunc(single, func(m finding.Measure) bool { return m.What == decide.HoverPower })
	}
	if !hovers() {
		t.Error("hovering is not worth measuring of a craft of regressions")
	}
	c.Builds[0].Design.Motor = &part.Motor{Name: "Elm"}
	if hovers() {
		t.Error("hovering is worth measuring of a craft of parts, and nothing reads it")
	}

	planned := *f.Planned
	f.Planned = &planned
	full, limit := &planned.In[0].Powertrain.Full, planned.In[0].Powertrain.Drive.Pack.BurstLimit()
	share := full.PackCurrent / limit
	if share >= 1 {
		t.Fatalf("the pack bears %g of full throttle: the test tells nothing", 1/share)
	}
	c.Loads.Pack.P90 = 1.2 * limit
	if said := PackBriefly(f); said != "" {
		t.Errorf("a pack that states nothing is told of: %q", said)
	}
	planned.Design.Pack = &part.Pack{Burst: part.Stated{Value: limit, Known: true}}
	said, want := PackBriefly(f), "pack at up to 120 % of its stated burst rating at full throttle (P90)"
	if said != want {
		t.Errorf("%q, want %q", said, want)
	}
	if c.Loads.Pack.P90 = 0.9 * limit; PackBriefly(f) != "" {
		t.Errorf("a pack that bears its load is told of: %q", PackBriefly(f))
	}
}
