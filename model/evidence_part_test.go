package model

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
)

// recordsOf reads lines of records.
func recordsOf(t testing.TB, lines ...string) []record.Record {
	t.Helper()
	all, err := record.Read(strings.NewReader(record.Header+"\n"+strings.Join(lines, "\n")+"\n"), "f")
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// evidenceOf is what lines of records say under the usual assumptions.
func evidenceOf(t testing.TB, lines ...string) *Evidence {
	t.Helper()
	e, err := NewEvidence(nil, recordsOf(t, lines...))
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// A part that was measured without error weighs, resists and cools as measured; what
// its errors have in common moves all others of its kind alike, and its own moves those
// that are near it.
func TestMeasuredParts(t *testing.T) {
	t.Parallel()
	const exact = "0.0001 %"
	D, C := 5*in, 1300*3.6
	s := stator(22, 7)
	plain := newModel(t, func(a *Assumptions) { a.PackTemperature = 298.15 })
	build := func(lines ...string) *Model {
		e := evidenceOf(t, lines...)
		return newModel(t, func(a *Assumptions) { a.PackTemperature, a.Evidence = 298.15, e })
	}
	packed := func(m *Model, capacity float64) pack.Pack {
		k, err := m.Pack(4, capacity)
		if err != nil {
			t.Fatal(err)
		}
		return k
	}
	for _, c := range []struct {
		what, line string
		of         func(m *Model, size float64) float64 // size over that measured
		measured   float64
		common     float64 // share of its logarithm that a part far away moves by
		length     float64 // over the logarithm of the size
	}{
		{"frame", "frame,5in,mass,100,g," + exact,
			func(m *Model, size float64) float64 { return m.Airframe(D*size, 3).Frame }, 0.1, 0.84, 0.3},
		{"pack, mass", "pack,4S 1300mAh,mass,160,g," + exact,
			func(m *Model, size float64) float64 { return packed(m, C*size).Mass }, 0.16, 0.75, 0.15},
		{"pack, resistance", "pack,4S 1300mAh,resistance,30,mohm," + exact,
			func(m *Model, size float64) float64 { return packed(m, C*size).R }, 0.03, 0.84, 0.15},
		{"pack, current", "pack,4S 1300mAh,current-limit,70,A," + exact,
			func(m *Model, size float64) float64 { k := packed(m, C*size); return k.BurstLimit() }, 70, 0.75, 0.15},
	} {
		m := build(c.line)
		if got := c.of(m, 1); math.Abs(got/c.measured-1) > 1e-6 {
			t.Errorf("%s: %.8g, measured %.8g", c.what, got, c.measured)
		}
		asked := math.Log(c.measured / c.of(plain, 1))
		for _, size := range []float64{0.5, 0.8, 0.95, 1.05, 1.3, 2} {
			x := math.Log(size) / c.length
			want := asked * (c.common + (1-c.common)*math.Exp(-x*x/2))
			if got := math.Log(c.of(m, size) / c.of(plain, size)); math.Abs(got-want) > 1e-5 {
				t.Errorf("%s at %g times the size: moved by %.6f, want %.6f", c.what, size, got, want)
			}
		}
	}
	// Only what was measured moves.
	m := build("pack,4S 1300mAh,resistance,30,mohm,1", "frame,5in,mass,100,g,1")
	k, want := packed(m, C), packed(plain, C)
	if k.R == want.R {
		t.Error("the resistance did not move")
	}
	k.R = want.R
	if k != want {
		t.Errorf("%+v, want %+v but for the resistance", k, want)
	}
	if x, y := m.Motor(s, 1750), plain.Motor(s, 1750); x.Mass != y.Mass || x.R != y.R ||
		x.Conductance(10) != y.Conductance(10) {
		t.Error("a frame and a pack move the motor")
	}
	// A pack of another grade says nothing of the study's.
	if got := packed(build("pack,4S 1300mAh long-flight,mass,130,g,1"), C); got != want {
		t.Errorf("by another grade %+v, want %+v", got, want)
	}
	// Cold and age come on top of what was measured warm and new.
	for _, change := range []func(*Assumptions){func(a *Assumptions) { a.PackTemperature = 273.15 },
		func(a *Assumptions) { a.PackAged = true }} {
		e := evidenceOf(t, "pack,4S 1300mAh,resistance,30,mohm,"+exact)
		with := packed(newModel(t, func(a *Assumptions) { change(a); a.Evidence = e }), C).R
		without := packed(newModel(t, change), C).R
		if got, want := with/without, 0.03/want.R; math.Abs(got/want-1) > 1e-6 {
			t.Errorf("%.6f times the resistance, want %.6f", got, want)
		}
	}
	// A frame is held against those of the study's factor.
	a := Defaults()
	a.FrameFactor = 1.3
	e, err := EvidenceFor(&a, nil, recordsOf(t, "frame,5in,mass,100,g,"+exact))
	if err != nil {
		t.Fatal(err)
	}
	heavy := newModel(t, func(a *Assumptions) { a.FrameFactor, a.Evidence = 1.3, e })
	if got := heavy.Airframe(D, 3).Frame; math.Abs(got/0.1-1) > 1e-6 {
		t.Errorf("frame of a factor of 1.3: %.6g kg, measured 0.1", got)
	}
}

// A motor cools as measured, whatever its mass is measured to be, and in another wash by
// the law.
func TestMeasuredCooling(t *testing.T) {
	t.Parallel()
	s := stator(22, 7)
	of := func(lines ...string) motor.Motor {
		e := evidenceOf(t, lines...)
		return newModel(t, func(a *Assumptions) { a.Evidence = e }).Motor(s, 1750)
	}
	const sea = 1.225
	plain := newModel(t, nil).Motor(s, 1750)
	for _, more := range [][]string{nil, {"motor,2207 1750KV,mass,29,g,0.1"}} {
		m := of(append(more, "motor,2207 1750KV,cooling at 10m/s,0.24,W/K,0.0001 %")...)
		if got := m.Conductance(sea * 10); math.Abs(got/0.24-1) > 1e-5 {
			t.Errorf("%v: %.6g W/K, measured 0.24", more, got)
		}
		ratio, want := m.Conductance(sea*20)/m.Conductance(sea*10), plain.Conductance(sea*20)/plain.Conductance(sea*10)
		if math.Abs(ratio/want-1) > 1e-9 {
			t.Errorf("%v: in twice the wash %.6g times the cooling, want %.6g", more, ratio, want)
		}
	}
	m := of("motor,2207 1750KV,cooling at 10m/s,0.24,W/K,1 %")
	m2 := m
	if m2 = m2.Scaled(motor.Scale{KV: 1, Resistance: 1, Loss: 1, Chopping: 1, Mass: 1,
		Cooling: plain.Conductance(1) / m.Conductance(1)}); math.Abs(m2.Conductance(1)/plain.Conductance(1)-1) > 1e-12 {
		t.Error("cooling measured moves more than the cooling")
	}
}

// many are records of all scalar kinds, with neighbours.
var many = []string{
	"frame,5in,mass,95,g,2", "frame,3in,mass,33,g,1", "frame,5.5in,mass,110,g,3",
	"pack,4S 1300mAh,mass,150,g,2", "pack,6S 1500mAh,mass,250,g,3", "pack,4S 850mAh,mass,96,g,1",
	"pack,4S 1300mAh,resistance,25,mohm,5 %", "pack,4S 850mAh,resistance,33,mohm,5 %",
	"pack,4S 1300mAh,current-limit,80,A,8 %", "pack,4S 1300mAh middle,mass,140,g,2",
	"motor,2207 1750KV,cooling at 12m/s,0.3,W/K,20 %", "motor,2207 1750KV,mass,33,g,1",
	"motor,1404 3800KV,cooling at 9m/s,0.11,W/K,20 %", "motor,2207 1750KV,resistance,90,mohm,3 %",
}

// toldOf are the factors that evidence puts on parts near and far.
func toldOf(e *Evidence) (all []Factor) {
	for _, D := range []float64{2.5, 3, 4, 5, 7, 10} {
		all = append(all, e.Frame(D*in))
	}
	for _, C := range []float64{450, 850, 1300, 2000} {
		f := e.Pack(pack.Grades[0], C*3.6)
		all = append(all, f.Mass, f.Resistance, f.Limit)
	}
	for _, d := range []float64{14, 20, 22, 28} {
		f := e.Motor(stator(d, 6), 1900)
		all = append(all, f.Cooling, f.Mass, f.Resistance)
	}
	return all
}

// The order of records has no effect, to the last bit.
func TestOrderOfRecords(t *testing.T) {
	t.Parallel()
	want := evidenceOf(t, many...)
	r := rand.New(rand.NewPCG(3, 4))
	for range 10 {
		lines := slices.Clone(many)
		r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		got := evidenceOf(t, lines...)
		if got.String() != want.String() || !slices.Equal(toldOf(got), toldOf(want)) ||
			!slices.Equal(got.Learnt(), want.Learnt()) {
			t.Errorf("in the order %q: %s, want %s", lines, got, want)
		}
	}
}

// Another measurement never makes anything less known.
func TestMoreIsKnown(t *testing.T) {
	t.Parallel()
	last := toldOf(evidenceOf(t, "frame,5in,mass,95,g,50", "pack,4S 1300mAh,mass,150,g,90",
		"pack,4S 1300mAh,resistance,22,mohm,90 %", "pack,4S 1300mAh,current-limit,80,A,90 %"))
	lines := []string{"frame,5in,mass,95,g,50", "pack,4S 1300mAh,mass,150,g,90",
		"pack,4S 1300mAh,resistance,22,mohm,90 %", "pack,4S 1300mAh,current-limit,80,A,90 %"}
	for _, line := range many {
		lines = append(lines, line)
		now := toldOf(evidenceOf(t, lines...))
		for i := range now {
			if now[i].After > last[i].After+1e-9 || now[i].After > now[i].Before+1e-12 {
				t.Errorf("with %q: factor %d ±%.6f, ±%.6f without it", line, i, now[i].After, last[i].After)
			}
		}
		last = now
	}
}

// Draws given measurements have the mean and the spread that the field says, and a value
// of no uncertainty comes out in each of them.
func TestDrawsGiven(t *testing.T) {
	t.Parallel()
	e := evidenceOf(t, "pack,4S 1300mAh,mass,160,g,0.0001 %", "pack,4S 1500mAh,mass,180,g,2 %")
	f := e.packs[packOf{record.PackMass, pack.Grades[0]}]
	r := rand.New(rand.NewPCG(5, 6))
	const draws = 20000
	sizes := []float64{1300 * 3.6, 1500 * 3.6, 1700 * 3.6, 400 * 3.6}
	sum, squares := make([]float64, len(sizes)), make([]float64, len(sizes))
	at := slices.Concat([]float64{f.seen[0].part, f.seen[1].part}, sizes)
	// The field drawn at the parts seen and asked: what is common, and the rest by the
	// Cholesky factor of its correlations.
	n := len(at)
	L := make([][]float64, n)
	for i := range L {
		L[i] = make([]float64, n)
		for j := 0; j <= i; j++ {
			v := f.near(at[i], at[j])
			if i == j {
				v += 1e-12
			}
			for k := range j {
				v -= L[i][k] * L[j][k]
			}
			if i == j {
				L[i][i] = math.Sqrt(math.Max(0, v))
			} else if L[j][j] > 1e-5 {
				L[i][j] = v / L[j][j]
			}
		}
	}
	for range draws {
		common, z := r.NormFloat64(), make([]float64, n)
		for i := range z {
			z[i] = r.NormFloat64()
		}
		y := make([]float64, n)
		for i := range y {
			y[i] = math.Sqrt(f.common) * common
			for k := 0; k <= i; k++ {
				y[i] += math.Sqrt(1-f.common) * L[i][k] * z[k]
			}
		}
		w, err := f.weights(y[:2], []float64{r.NormFloat64(), r.NormFloat64()})
		if err != nil {
			t.Fatal(err)
		}
		for i, size := range sizes {
			ln := y[2+i]
			for j, k := range f.correlations(size) {
				ln += k * w[j]
			}
			ln *= f.spread
			sum[i] += ln / draws
			squares[i] += ln * ln / draws
			if measured := math.Log(f.at(sizes[0]).Value); i == 0 && math.Abs(ln-measured) > 1e-5 {
				t.Fatalf("a draw has %.7f of what was measured without error to be %.7f", ln, measured)
			}
		}
	}
	for i, size := range sizes {
		want := f.at(size)
		sd := math.Sqrt(math.Max(0, squares[i]-sum[i]*sum[i]))
		if math.Abs(sum[i]-math.Log(want.Value)) > 5*want.After/math.Sqrt(draws)+1e-5 ||
			math.Abs(sd-want.After) > 0.03*want.After+1e-4 {
			t.Errorf("%g A s: draws have %.5f ± %.5f, want %.5f ± %.5f", size, sum[i], sd, math.Log(want.Value),
				want.After)
		}
	}
}

// What cannot be of such a part is named by its place, in one line.
func TestPartErrors(t *testing.T) {
	t.Parallel()
	beam := func(a *Assumptions) { a.FrameBuild = frame.ByBeam }
	for _, c := range []struct {
		what   string
		lines  []string
		change func(*Assumptions)
		want   string
	}{
		{"a frame with all on it", []string{"frame,5in,mass,300,g,1"}, nil,
			"f:2: frame 5in: 300 g are 3.42 times those of the model with a frame factor of 1, known to ±20 %: want " +
				"plates and arms alone, and the factor of such frames"},
		{"frames by beam", []string{"frame,5in,mass,90,g,1"}, beam, "f:2: the mass of a frame says nothing of frames " +
			"whose arms are sized for the craft; want no frame, or frames by regression"},
		{"frames that differ", []string{"frame,5in,mass,80,g,0.1", "frame,5.01in,mass,90,g,0.1"}, nil,
			"f:3: frame 5.01in asks for 1.02 times the mass of the model, but 5in at f:2 for 0.912: 65 of their sigmas " +
				"apart; want at most 5, larger sigmas, or one of the two"},
		{"a cell in place of the pack", []string{"pack,4S 1300mAh,resistance,5,mohm,1 %"}, nil,
			"f:2: pack 4S 1300mAh high-rate: the resistance asks for 0.227 times that of the model, which is known to " +
				"±20 %: want it of the whole pack, at 25 degC, and the true grade"},
		{"no whole cells", []string{"pack,4S 1300mAh 21700-power,mass,300,g,1"}, nil,
			"f:2: a capacity of 1300 mAh is not a whole number of 21700-power cells, want a multiple of 4200 mAh"},
		{"a hot motor in an oven", []string{"motor,2207 1750KV,cooling at 12m/s,5,W/K,1 %"}, nil,
			"f:2: motor 2207 1750KV: the cooling asks for"},
		{"no air", []string{"motor,2207 1750KV,cooling at 12m/s 200degC,0.3,W/K,1 %"}, nil, "f:2: air: temperature"},
		{"power of one motor", []string{"craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,50,W,1"}, nil,
			"f:2: propeller 5 x 4.3 in, 3 blades: rotor: at 10889 rpm the ideal power of 1.583 N is 11.31 W, above"},
		{"power in a climb", []string{"craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,420,W,1"}, nil,
			"f:2: craft 5x4.3x3 2207 1750KV 4S 1300mAh 620g: 420 W of hover ask for propellers that take"},
		{"no power", []string{"craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,2,W,1 %"}, nil,
			"f:2: craft 5x4.3x3 2207 1750KV 4S 1300mAh 620g: 2 W of hover leave the propellers less than 1/8"},
		{"too heavy", []string{"craft,5x4.3x3 2207 1750KV 4S 1300mAh 50kg,hover-power,121,W,1"}, nil,
			"f:2: craft 5x4.3x3 2207 1750KV 4S 1300mAh 50000g: there is no hover at 50000 g in the model"},
		{"no such propeller", []string{"craft,20x14x3 2207 1750KV 4S 1300mAh 620g,hover-power,121,W,1"}, nil,
			"f:2: craft 20x14x3 2207 1750KV 4S 1300mAh 620g: diameter of 20 is outside 2 to 12 in"},
		{"crafts that differ", []string{"craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,100,W,0.1 %",
			"craft,5x4.3x3 2207 1750KV 4S 1300mAh 621g,hover-power,230,W,0.1 %"}, nil,
			"f:3: craft 5x4.3x3 2207 1750KV 4S 1300mAh 621g asks for propellers that take"},
	} {
		a := Defaults()
		if c.change != nil {
			c.change(&a)
		}
		_, err := EvidenceFor(&a, nil, recordsOf(t, c.lines...))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error %v, want %s", c.what, err, c.want)
		}
	}
}
