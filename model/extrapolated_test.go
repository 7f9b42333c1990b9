package model

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model/air"
	"rotorsieve/model/rotor"
)

// tunnelTable is a table of the wind tunnel's data below its head.
func tunnelTable(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("rotor", "testdata", "propellers", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	return rows[1:]
}

// How far propellers were measured is what the data hold, of each band by itself.
func TestBandsAreWhatWasMeasured(t *testing.T) {
	t.Parallel()
	standard, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	var found [len(Bands)]Band
	for i := range found {
		found[i].Reynolds.Min = math.Inf(1)
	}
	see := func(D, chord, n float64, highest func(*Band) *float64) {
		b := &found[bandAt(D)]
		speed := rotor.TipSpeed(D, n)
		*highest(b) = max(*highest(b), speed/standard.SoundSpeed)
		re := standard.Density * 0.75 * speed * chord * D / 2 / standard.Viscosity
		b.Reynolds.Min, b.Reynolds.Max = min(b.Reynolds.Min, re), max(b.Reynolds.Max, re)
	}
	type propeller struct{ D, chord float64 }
	all := map[string]*propeller{}
	for _, r := range tunnelTable(t, "propellers.csv") { // id, family, blades, diameter, pitch
		D := number(r[3]) * in
		all[r[0]] = &propeller{D, rotor.DefaultChord(D, int(number(r[2])))}
	}
	scanned := 0
	for _, r := range tunnelTable(t, "geometry.csv") { // id, r/R, c/R, beta
		if number(r[1]) == 0.75 {
			all[r[0]].chord = number(r[2])
			scanned++
		}
	}
	for _, r := range tunnelTable(t, "performance.csv") { // id, J, rpm, CT, CP
		p := all[r[0]]
		see(p.D, p.chord, number(r[2])/60, func(b *Band) *float64 { return &b.Tunnel })
	}
	// S3 is read as a check: its current and voltage are not calibrated.
	stand := rowsOf(t, func(r *standRow) bool { return r.source != "S3" })
	for i := range stand {
		r := &stand[i]
		see(r.diameter, rotor.DefaultChord(r.diameter, r.blades), r.n, func(b *Band) *float64 { return &b.Stand })
		if r.blades > 2 && r.blades <= MostBlades && r.source == "S1" && !ValidBlades.Contains(r.diameter) {
			t.Errorf("%s: %d blades of %g in are outside ValidBlades", r.run, r.blades, r.diameter/in)
		}
		if r.blades > MostBlades {
			t.Errorf("%s: %d blades", r.run, r.blades)
		}
	}
	if len(all) != 165 || scanned != 91 || len(stand) < 900 {
		t.Fatalf("%d propellers, %d scanned, %d states on stands", len(all), scanned, len(stand))
	}
	for i, b := range Bands {
		f := &found[i]
		for _, c := range []struct {
			what               string
			said, is, rounding float64
		}{
			{"tip Mach number in the tunnel", b.Tunnel, f.Tunnel, 0.01}, {"tip Mach number on stands", b.Stand, f.Stand,
				0.01},
			{"lowest Reynolds number", b.Reynolds.Min, f.Reynolds.Min, 1e3},
			{"highest Reynolds number", b.Reynolds.Max, f.Reynolds.Max, 1e3},
		} {
			if !(math.Abs(c.said-c.is) <= c.rounding/2) {
				t.Errorf("%s: %s %g, measured %g", b.Name, c.what, c.said, c.is)
			}
		}
	}
}

func TestBandOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		inches float64
		want   string
	}{
		{2, "up to 4 in"}, {4, "up to 4 in"}, {4.1, "4 to 7 in"}, {6.99, "4 to 7 in"},
		{7, "7 to 10 in"}, {10, "7 to 10 in"}, {10.1, "above 10 in"}, {15, "above 10 in"},
	} {
		if got := BandOf(c.inches * in).Name; got != c.want {
			t.Errorf("%g in: %s, want %s", c.inches, got, c.want)
		}
	}
}

func TestBladesBeyond(t *testing.T) {
	t.Parallel()
	const few, many = BladesElsewhere, BladesNever
	for _, c := range []struct {
		inches float64
		blades int
		want   BladeGap
	}{
		{2, 2, NoBladeGap}, {5, 2, NoBladeGap}, {10, 2, NoBladeGap},
		{5, 3, NoBladeGap}, {4, 3, NoBladeGap}, {6, 4, NoBladeGap},
		{3.9, 3, few}, {6.1, 3, few}, {10, 4, few}, {5, 5, many}, {10, 6, many},
	} {
		if got := BladesBeyond(c.inches*in, c.blades); got != c.want {
			t.Errorf("%d blades of %g in: %d, want %d", c.blades, c.inches, got, c.want)
		}
	}
}

// What is beyond the measurements is noted, each thing by itself, and what is beyond
// the limits of the model is marked in its place.
func TestExtrapolations(t *testing.T) {
	t.Parallel()
	ordinary, err := newModel(t, nil).Evaluate(freestyle)
	if err != nil {
		t.Fatal(err)
	}
	if b := BandOf(freestyle.Diameter); b.Name != "4 to 7 in" || freestyle.Blades > 4 {
		t.Fatalf("the ordinary craft is of %s", b.Name)
	}
	type note struct {
		of Subject
		at Moment
	}
	full, top, re := note{OfTipMach, FullThrottle}, note{OfTipMach, FastestLevel}, note{OfReynolds, Hovering}
	still := func(c *Craft) { // all within
		c.Powertrain.Full.Speed = c.Hover.Speed
		c.Flight.Top = c.Flight.Endurance
	}
	spin := func(c *Craft, mach float64) float64 { return mach * c.Model.Air.SoundSpeed / c.tipSpeed(1) }
	for _, c := range []struct {
		what   string
		change func(*Craft)
		want   note // the only one; zero for none
	}{
		{"nothing", func(*Craft) {}, note{}},
		{"just within", func(c *Craft) { c.Powertrain.Full.Speed = spin(c, 0.389) }, note{}},
		{"full throttle", func(c *Craft) { c.Powertrain.Full.Speed = spin(c, 0.391) }, full},
		{"full throttle at the limit", func(c *Craft) { c.Powertrain.Full.Speed = spin(c, 0.799) }, full},
		{"full throttle past the limit, which is marked", func(c *Craft) { c.Powertrain.Full.Speed = spin(c, 0.801) },
			note{}},
		{"top speed", func(c *Craft) { c.Flight.Top.Speed = spin(c, 0.5) }, top},
		{"top speed past the limit, which is marked", func(c *Craft) { c.Flight.Top.Speed = spin(c, 0.9) }, note{}},
		{"high Reynolds number in hover", func(c *Craft) { c.Hover.Speed *= 76e3 / c.reynolds(c.Hover.Speed) }, re},
		{"within", func(c *Craft) { c.Hover.Speed *= 74e3 / c.reynolds(c.Hover.Speed) }, note{}},
		{"low Reynolds number in hover, which is marked",
			func(c *Craft) { c.Hover.Speed *= 3e3 / c.reynolds(c.Hover.Speed) }, note{}},
	} {
		craft, train := *ordinary, *ordinary.Powertrain
		craft.Powertrain = &train
		still(&craft)
		c.change(&craft)
		got := craft.Extrapolations()
		none := c.want == note{}
		if none && len(got) > 0 || !none && (len(got) != 1 || c.want != note{got[0].Of, got[0].At} ||
			got[0].Limit.Band != BandOf(freestyle.Diameter) || c.want != re && got[0].Other != 0.39) {
			t.Errorf("%s: noted %+v, want %+v alone", c.what, got, c.want)
		}
		marked := slices.ContainsFunc(craft.Warnings(), func(x Mark) bool {
			return x.Of == OfTipMach || x.Of == OfReynolds
		})
		if want := strings.Contains(c.what, "which is marked"); marked != want {
			t.Errorf("%s: marked %v in %+v, want %v", c.what, marked, craft.Warnings(), want)
		}
	}
	if got := ordinary.Warnings(); len(got) > 0 || len(ordinary.Extrapolations()) == 0 {
		t.Errorf("an ordinary craft is warned of %+v, noted %+v", got, ordinary.Extrapolations())
	}
}

// A measurement that tells enough of a propeller lifts the note on its blades.
func TestExtrapolatedBladesMeasured(t *testing.T) {
	t.Parallel()
	d := freestyle
	d.Diameter, d.Pitch, d.Blades = 7*in, 3.5*in, 3
	for _, c := range []struct {
		what  string
		seen  []Measured
		noted bool
	}{
		{"nothing measured", nil, true},
		{"itself measured", []Measured{{Diameter: 7 * in, Pitch: 3.5 * in, Blades: 3, Points: 1}}, false},
		{"a far one measured", []Measured{{Diameter: 3 * in, Pitch: 3 * in, Blades: 3, Points: 1}}, true},
	} {
		seen, err := EvidenceOf(c.seen...)
		if err != nil {
			t.Fatal(err)
		}
		craft, err := newModel(t, func(a *Assumptions) { a.Evidence = seen }).Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		got := slices.ContainsFunc(craft.Extrapolations(), func(x Mark) bool { return x.Limit == validBlades })
		if share := craft.Powertrain.Propeller.Fit.Share; got != c.noted || got != (share < LeastShare) {
			t.Errorf("%s, share %.2f: noted %v in %+v", c.what, share, got, craft.Extrapolations())
		}
	}
}

// A propeller that was itself measured further than those of its size is noted beyond
// that alone.
func TestExtrapolationsOwn(t *testing.T) {
	t.Parallel()
	a, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ mach, want float64 }{{0.2, 0.39}, {0.45, 0.45}} {
		n := c.mach * a.SoundSpeed / rotor.TipSpeed(freestyle.Diameter, 1)
		q := a.Density * n * n * math.Pow(freestyle.Diameter, 4)
		seen, err := NewEvidence([]rotor.Specimen{{Diameter: freestyle.Diameter, Pitch: freestyle.Pitch,
			Blades: freestyle.Blades,
			Air:    a, Points: []rotor.Measurement{{N: n, Thrust: 0.14 * q,
				Power: 0.08 * q * n * freestyle.Diameter}}}},
			nil)
		if err != nil {
			t.Fatal(err)
		}
		craft, err := newModel(t, func(a *Assumptions) { a.Evidence = seen }).Evaluate(freestyle)
		if err != nil {
			t.Fatal(err)
		}
		for _, side := range []float64{-0.01, 0.01} {
			x, train := *craft, *craft.Powertrain
			x.Powertrain = &train
			train.Full.Speed = (c.want + side) * x.Model.Air.SoundSpeed / x.tipSpeed(1)
			got := slices.ContainsFunc(x.Extrapolations(), func(x Mark) bool { return x.At == FullThrottle })
			if got != (side > 0) {
				t.Errorf("measured to tip Mach %g, full throttle at %g: noted %v", c.mach, c.want+side, got)
			}
		}
	}
}

// States beyond the measurements of a size are named, unless what is known of the
// propeller itself reaches them.
func TestBeyond(t *testing.T) {
	t.Parallel()
	a, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	mach, blades, re := StateMark{OfTipMach, true}, StateMark{OfBlades, true}, StateMark{OfReynolds, true}
	fast := &rotor.Specimen{Diameter: 8 * in, Air: a,
		Points: []rotor.Measurement{{N: 0.5 * a.SoundSpeed / rotor.TipSpeed(8*in, 1)}}}
	for _, c := range []struct {
		inches float64
		blades int
		chord  float64
		mach   float64
		told   Told
		want   []StateMark
	}{
		{8, 2, 0, 0.28, Told{}, nil},
		{8, 2, 0, 0.30, Told{}, []StateMark{mach}},
		{8, 2, 0, 0.49, Told{Specimen: fast}, nil},
		{8, 2, 0, 0.51, Told{Specimen: fast}, []StateMark{mach}},
		{8, 2, 0, 0.81, Told{}, nil}, // outside the limits, which has a name of its own
		{8, 3, 0, 0.28, Told{}, []StateMark{blades}},
		{8, 3, 0, 0.30, Told{}, []StateMark{blades, mach}},
		{8, 3, 0, 0.30, Told{Blade: true}, []StateMark{mach}},
		{8, 2, 0.35, 0.28, Told{}, []StateMark{re}},
		{8, 2, 0, 0.03, Told{}, nil}, // below the least Reynolds number, which has a name of its own
	} {
		b, err := rotor.Generic(c.inches*in, 5*in, c.blades, c.chord)
		if err != nil {
			t.Fatal(err)
		}
		s, err := rotor.New(rotor.Geometry{Diameter: c.inches * in, Blades: c.blades, Blade: b}, a)
		if err != nil {
			t.Fatal(err)
		}
		if got := Beyond(s, c.mach/s.TipMach(1), c.told); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %+v, want %+v", c, got, c.want)
		}
	}
}
