package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// chainKnown are records by which motor and pack are as the model has them, without error.
var chainKnown = []string{"motor,2207 1750KV,KV,1750,KV,0.001 %", "motor,2207 1750KV,loss,1,,0.001 %",
	"motor,2207 1750KV,chopping at 24kHz,1,,0.001 %"}

// hoverOfCraft is the power in hover of a craft of 620 g, and the shaft power of its
// propellers over that of the model without measurements.
func hoverOfCraft(t *testing.T, e *Evidence) (power, shaft float64) {
	t.Helper()
	d := freestyle
	d.Diameter, d.Pitch, d.Blades, d.Chord, d.Stator, d.KV = 5*in, 4.3*in, 3, 0, stator(22, 7), 1750
	d.Cells, d.Capacity, d.Payload = 4, 1300*3.6, 0
	at := func(e *Evidence) *Craft {
		m := newModel(t, func(a *Assumptions) { a.Evidence = e })
		c, err := m.Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		d := d
		d.Payload = 0.62 - c.Mass
		if c, err = m.Evaluate(d); err != nil {
			t.Fatal(err)
		}
		return c
	}
	c := at(e)
	return c.Hover.Power, c.Hover.Shaft / at(nil).Hover.Shaft
}

// The power of a craft in hover moves its propeller, the more the better the rest of its
// chain is known, and nothing else.
func TestMeasuredCraft(t *testing.T) {
	t.Parallel()
	model, _ := hoverOfCraft(t, nil)
	craft := func(power, sigma float64) string {
		return fmt.Sprintf("craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,%.9g,W,%g %%", power, sigma)
	}
	for _, off := range []float64{0.9, 1, 1.15} {
		loose := evidenceOf(t, craft(off*model, 1))
		known := evidenceOf(t, append(slices.Clone(chainKnown), craft(off*model, 1))...)
		a, shaft := hoverOfCraft(t, loose)
		b, better := hoverOfCraft(t, known)
		// Part of the way to what was measured, never past it.
		miss := func(p float64) float64 { return math.Abs(p/model - off) }
		// A propeller as predicted is corrected a little all the same; see rotor.Calibrate.
		const still = 0.015
		if miss(a) > math.Abs(off-1)+still || miss(b) > miss(a)+0.002 {
			t.Errorf("%g of the power measured: the model has %.4f, and %.4f where the motor is known", off, a/model,
				b/model)
		}
		if off != 1 && (off-1)*(shaft-1) < 0 || math.Abs(better-1) < math.Abs(shaft-1)-still {
			t.Errorf("%g of the power measured: shaft power %.4f, and %.4f where the motor is known", off, shaft,
				better)
		}
		x, y := &loose.crafts[0], &known.crafts[0]
		if math.Abs(x.over/y.over-1) > 0.01 || !(y.sigma(1) < x.sigma(1) && y.sigma(1) > 0.01) {
			t.Errorf("asked for %.4f ± %.4f, and %.4f ± %.4f where the motor is known", x.over, x.sigma(1), y.over, y.sigma(1))
		}
		if off == 1 && math.Abs(x.over-1) > 1e-6 {
			t.Errorf("the model's own power asks for %.8f times the shaft power", x.over)
		}
		if len(loose.Keys("motor"))+len(loose.Keys("pack"))+len(loose.Keys("frame")) > 0 ||
			!slices.Equal(loose.Keys("craft"), []string{"5x4.3x3 2207 1750KV 4S 1300mAh 620g"}) {
			t.Error("the hover of a craft says something of other parts than its propeller")
		}
		t.Logf("%g of the power: chain ±%.3f, known ±%.3f; model then %.4f, %.4f", off, x.sigma(1), y.sigma(1),
			a/model, b/model)
	}
	// More power of avionics leaves less for the shaft; thinner air asks more of it.
	a := Defaults()
	a.AvionicsPower = 9
	more, err := EvidenceFor(&a, nil, recordsOf(t, craft(model, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if got := more.crafts[0].over; !(got > 0.9 && got < 0.97) {
		t.Errorf("with 6 W more of avionics %.4f times the shaft power", got)
	}
	high := evidenceOf(t, strings.Replace(craft(model, 1), "hover-power", "hover-power at 2000m", 1))
	if got := high.crafts[0].over; !(got > 0.85 && got < 0.93) {
		t.Errorf("at 2000 m the same power is %.4f times the shaft power of the model, want its air's root less", got)
	}
}

// What a craft says is said: prior and posterior sigma, in the fingerprint, and told apart
// from one with another power.
func TestCraftLearnt(t *testing.T) {
	t.Parallel()
	line := "craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,%d,W,3 %%"
	e, f := evidenceOf(t, fmt.Sprintf(line, 150)), evidenceOf(t, fmt.Sprintf(line, 155))
	if e.String() == f.String() {
		t.Error("two powers have one fingerprint")
	}
	said := e.Learnt()
	const about = "craft 5x4.3x3 2207 1750KV 4S 1300mAh 620g: shaft power in hover "
	if len(said) != 2 || !strings.HasPrefix(said[1], about) {
		t.Fatalf("learnt %q", said)
	}
	var times, after, before float64
	_, rest, _ := strings.Cut(said[1], "hover ")
	const form = "%g times that of the model, ±%g %%, was ±%g %%"
	if _, err := fmt.Sscanf(rest, form, &times, &after, &before); err != nil {
		t.Fatal(err)
	}
	if _, shaft := hoverOfCraft(t, e); math.Abs(times/shaft-1) > 0.04 || // to first order
		!(after < before && after > 2) {
		t.Errorf("learnt %g times, the model has %.4f; ±%g, was ±%g", times, shaft, after, before)
	}
	// Beside a stand's measurement of the same propeller it says little more.
	both := evidenceOf(t, "propeller,5x4.3x3,thrust at 15000rpm,280,g,2 %", "propeller,5x4.3x3,shaft-power at "+
		"15000rpm,58,W,2 %", fmt.Sprintf(line, 130))
	if n := len(both.Propellers()); n != 1 {
		t.Errorf("%d propellers, want one", n)
	}
	alone := evidenceOf(t, "propeller,5x4.3x3,thrust at 15000rpm,280,g,2 %", "propeller,5x4.3x3,shaft-power at "+
		"15000rpm,58,W,2 %")
	a, b := alone.Propeller(5*in, 4.3*in, 3, 0), both.Propeller(5*in, 4.3*in, 3, 0)
	const trend = 1.15 // another speed brings in the scatter of trends with it; see rotor.Calibrate
	if b.After[0] > trend*a.After[0] || b.After[1] > trend*a.After[1] {
		t.Errorf("±%v with the craft, ±%v without it", b.After, a.After)
	}
}

// Many crafts say no more of their propeller than their chain lets them, and never less
// than one.
func TestManyCrafts(t *testing.T) {
	t.Parallel()
	model, _ := hoverOfCraft(t, nil)
	var lines []string
	last := math.Inf(1)
	var one float64
	for n := range 12 {
		lines = append(lines, fmt.Sprintf("craft,5x4.3x3 2207 1750KV 4S 1300mAh %dg,hover-power,%.9g,W,3 %%", 620+n,
			model*math.Pow((620+float64(n))/620, 1.5)))
		e := evidenceOf(t, lines...)
		f := e.Propeller(5*in, 4.3*in, 3, 0)
		said := e.Learnt()
		var times, after, before float64
		_, rest, _ := strings.Cut(said[len(said)-1], "hover ")
		const form = "%g times that of the model, ±%g %%, was ±%g %%"
		if _, err := fmt.Sscanf(rest, form, &times, &after, &before); err != nil {
			t.Fatal(err)
		}
		if n == 0 {
			one = after
		}
		if after > last*1.01 || f.After[1] > f.Before[1] {
			t.Errorf("%d crafts: ±%g %%, one fewer ±%g %%", n+1, after, last)
		}
		last = after
	}
	if !(last < one && last > 0.8*one) {
		t.Errorf("twelve crafts know the shaft power to ±%g %%, one to ±%g %%: want what is known of the chain to "+
			"limit it", last, one)
	}
}
