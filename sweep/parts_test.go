package sweep

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
)

// invented are parts that nobody makes, with some of their numbers stated.
type invented struct {
	motors     []part.Motor
	propellers []part.Propeller
	packs      []part.Pack
	frames     []part.Frame
	boards     []part.Board
}

// put gives a design a part, by its place on the axis: packs stand by cells, then grade,
// capacity and mass.
func (x *invented) put(d *model.Design, name string, at int) {
	switch name {
	case "motor":
		d.Motor = &x.motors[at]
		d.Stator, d.KV = d.Motor.Stator, d.Motor.KV
	case "propeller":
		p := &x.propellers[at]
		d.Propeller, d.Diameter, d.Pitch, d.Blades, d.Chord = p, p.Diameter, p.Pitch, p.Blades, p.Chord.Or(0)
	case "pack":
		sorted := slices.Clone(x.packs)
		slices.SortStableFunc(sorted, func(a, b part.Pack) int {
			grade := func(p part.Pack) string {
				if p.Grade == nil {
					return ""
				}
				return p.Grade.Name
			}
			return cmp.Or(a.Cells-b.Cells, cmp.Compare(grade(a), grade(b)), cmp.Compare(a.Capacity, b.Capacity),
				cmp.Compare(a.Mass.Or(0), b.Mass.Or(0)))
		})
		d.Pack = &sorted[at]
		d.Cells, d.Capacity = d.Pack.Cells, d.Pack.Capacity
	case "frame":
		d.Frame = &x.frames[at]
	case "board":
		d.Board = &x.boards[at]
	default:
		panic("no part is a " + name)
	}
}

// inventParts makes so many motors, propellers, packs, frames and boards of random
// numbers, each of which is stated or not, with a price for nearly all.
func inventParts(r *rand.Rand, motors, propellers, packs, frames, boards int) *invented {
	x := new(invented)
	m, err := model.New(model.Defaults())
	if err != nil {
		panic(err)
	}
	some := func(v float64) part.Stated { return part.Stated{Value: v, Known: r.IntN(3) > 0} }
	about := func(v float64) float64 { return v * (0.8 + 0.4*r.Float64()) }
	for i := range motors {
		s := StatorOf([]float64{1404, 1507, 2004, 2207, 2306.5}[r.IntN(5)])
		p := part.Motor{Name: fmt.Sprintf("M%d", i), Stator: s, KV: float64(1300 + 100*r.IntN(30))}
		law := m.Motor(s, p.KV)
		p.Mass, p.Resistance = some(about(law.Mass)), some(about(law.ColdResistance()))
		if i, n := 0.6+r.Float64(), 10.0; r.IntN(2) == 0 {
			p.IdleCurrent, p.IdleVoltage = part.Stated{Value: i, Known: true}, part.Stated{Value: n, Known: true}
			if _, err := m.MotorOf(&model.Design{Parts: model.Parts{Motor: &p}}); err != nil {
				p.IdleCurrent, p.IdleVoltage = part.Stated{}, part.Stated{}
			}
		}
		p.Current, p.MostCells, p.Price = some(float64(10+r.IntN(40))), some(float64(3+r.IntN(4))), some(20)
		x.motors = append(x.motors, p)
	}
	const in = 0.0254
	for i := range propellers {
		D := []float64{3, 4, 5, 5}[r.IntN(4)] * in
		p := part.Propeller{Name: fmt.Sprintf("P%d", i), Diameter: D, Pitch: D * (0.5 + 0.1*float64(r.IntN(5))),
			Blades: 2 + r.IntN(2), Price: some(1)}
		p.Mass = some(about(m.Airframe(D, p.Blades).Blades / 4))
		p.Turns = some(250 + 300*r.Float64())
		x.propellers = append(x.propellers, p)
	}
	for i := range packs {
		p := part.Pack{Name: fmt.Sprintf("B%d", i), Cells: 3 + r.IntN(3), Capacity: 3.6 * float64(450+50*r.IntN(25)),
			Price: some(30)}
		if r.IntN(3) == 0 {
			p.Grade = pack.Grades[r.IntN(2)]
		}
		law, err := m.PackOf(&model.Design{Parts: model.Parts{Pack: &p}})
		if err != nil {
			p.Grade = nil
			law, _ = m.PackOf(&model.Design{Parts: model.Parts{Pack: &p}})
		}
		p.Mass, p.Resistance, p.Current = some(about(law.Mass)), some(about(law.R)), some(about(law.Limit))
		x.packs = append(x.packs, p)
	}
	for i := range frames {
		D := []float64{3, 4, 5, 6}[r.IntN(4)] * in
		f := part.Frame{Name: fmt.Sprintf("F%d", i), Largest: D, Wheelbase: 1.414 * D * (1.05 + 0.3*r.Float64()),
			Price: some(40)}
		f.Mass, f.Area = some(about(m.Airframe(D, 2).Frame)), some(0.004)
		x.frames = append(x.frames, f)
	}
	for i := range boards {
		b := part.Board{Name: fmt.Sprintf("E%d", i), Current: float64(20 + 5*r.IntN(8)), Cells: 4 + r.IntN(3),
			Joined: r.IntN(2) == 0, Price: some(50)}
		b.Mass = some(0.008 + 0.006*r.Float64())
		x.boards = append(x.boards, b)
	}
	return x
}

// partsGrid is a grid of parts, where there are any, and of generated axes.
func partsGrid(t testing.TB, x *invented, text map[*AxisDef]string) *Grid {
	t.Helper()
	var axes []Axis
	gone := map[*AxisDef]bool{}
	add := func(some bool, a func() Axis, brings ...*AxisDef) {
		if some {
			axes = append(axes, a())
			for _, d := range brings {
				gone[d] = true
			}
		}
	}
	add(len(x.motors) > 0, func() Axis { return MotorAxis(x.motors) }, Stator, KV)
	add(len(x.propellers) > 0, func() Axis { return PropellerAxis(x.propellers) }, Diameter, Pitch, PitchRatio, Blades,
		Chord)
	add(len(x.packs) > 0, func() Axis { return PackAxis(x.packs) }, Cells, Capacity)
	add(len(x.frames) > 0, func() Axis { return FrameAxis(x.frames) })
	add(len(x.boards) > 0, func() Axis { return BoardAxis(x.boards) })
	for _, a := range axesOf(t, text) {
		if !gone[a.Def] {
			axes = append(axes, a)
		}
	}
	g, err := NewGrid(axes...)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Studies of parts that exist, alone and beside generated axes, are what every design of them
// is by itself, to the last bit.
func TestPartsAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	rounds := 24
	if testing.Short() {
		rounds = 10
	}
	var feasible uint64
	for round := range rounds {
		n := func(most int) int { // none for every third
			if r.IntN(3) == 0 {
				return 0
			}
			return 1 + r.IntN(most)
		}
		x := inventParts(r, n(4), n(3), n(8), n(2), n(2))
		if round%3 == 0 { // packs of two chemistries, motors with burst times
			lithiumIon, err := pack.ParseGrade("18650-power")
			if err != nil {
				t.Fatal(err)
			}
			for i := 0; i < len(x.packs); i += 2 {
				x.packs[i] = part.Pack{Name: x.packs[i].Name, Cells: x.packs[i].Cells,
					Capacity: lithiumIon.CellCharge(),
					Grade:    lithiumIon, Price: x.packs[i].Price}
			}
			for i := range x.motors {
				if x.motors[i].Current.Known {
					x.motors[i].Burst = part.Stated{Value: float64(5 * (1 + i)), Known: true}
				}
			}
		}
		s := study(t, partsGrid(t, x, map[*AxisDef]string{Diameter: "3,5", Stator: "1404,2207", KV: "1700,2600",
			Cells: "3,4", Capacity: "450,850,1300", Payload: []string{"0", "0,30g"}[r.IntN(2)]}))
		s.Classes[0].Limit, s.Classes[1].Limit = 0.4, 0.9
		if round%4 == 3 {
			a := model.Defaults()
			a.FrameBuild, a.Board, a.PackAged = 1, motor.Joined, true
			var err error
			if s.Model, err = model.New(a); err != nil {
				t.Fatal(err)
			}
		}
		if round%2 == 0 {
			s.Merit = append(s.Merit, Term{Metric: metric(t, "range"), Weight: 0.5, Worst: 0, Best: 12000})
		}
		if round%3 == 0 {
			s.Require = append(s.Require, Requirement{Metric: metric(t, "burst-time"), AtLeast: true, Bound: 3},
				Requirement{Metric: metric(t, "voltage-margin"), AtLeast: true, Bound: 0.05})
			var err error
			if s.Model, err = model.New(Limited(s.Model.Assume, s.Require)); err != nil {
				t.Fatal(err)
			}
		}
		s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
		s.Maps = nil
		for i, a := range s.Grid.Axes() {
			for j, b := range s.Grid.Axes() {
				if i != j && r.IntN(2) == 0 {
					s.Maps = append(s.Maps, MapSpec{X: a.Def, Y: b.Def})
				}
			}
		}
		want := bruteWith(t, s, x)
		p, err := newPlan(s)
		if err != nil {
			t.Fatal(err)
		}
		p.audits = 1 << 63
		path := filepath.Join(t.TempDir(), "c")
		got, err := p.run(context.Background(), Options{Workers: 2, Checkpoint: path})
		if err != nil {
			t.Fatal(err)
		}
		what := fmt.Sprintf("round %d, %d designs of %d motors, %d propellers, %d packs, %d frames, %d boards", round,
			s.Grid.Size(), len(x.motors), len(x.propellers), len(x.packs), len(x.frames), len(x.boards))
		equalResults(t, what, got, want)
		for _, k := range got.Classes {
			feasible += k.Feasible
		}
	}
	if feasible < 150 {
		t.Errorf("only %d feasible designs in all", feasible)
	}
}

// A run of parts that is interrupted, or cut into shards, comes to the same; one of other
// parts is not gone on with. Parts that do not fit are tallied as such.
func TestPartsResume(t *testing.T) {
	x := inventParts(rand.New(rand.NewPCG(73, 74)), 5, 6, 9, 2, 2)
	make := func(x *invented) *Study {
		s := study(t, partsGrid(t, x, nil))
		s.Classes[0].Limit, s.Classes[1].Limit = 0.4, 0.9
		s.Require = append(s.Require, FitRequirements(s.Grid)...)
		s.Maps = []MapSpec{{X: Diameter, Y: KV}, {X: Cells, Y: Stator}}
		return s
	}
	s := make(x)
	ctx := context.Background()
	want, err := Run(ctx, s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	unfit := uint64(0)
	for g, gate := range want.Gates {
		if gate.Requirement != nil && gate.Requirement.Bound == 1 && gate.Requirement.Default {
			unfit += want.Classes[1].Rejected[g]
		}
	}
	if unfit == 0 {
		t.Error("no part misfits another")
	}
	path := filepath.Join(t.TempDir(), "c")
	o := Options{Checkpoint: path, Resume: true}
	for range 40 {
		o.MaxDesigns = s.Grid.Size() / 3
		got, err := Run(ctx, s, o)
		if err != nil {
			t.Fatal(err)
		}
		if got.Complete {
			equalResults(t, "resumed", got, want)
			break
		}
	}
	var paths []string
	var states []*State
	for k := 1; k <= 3; k++ {
		o := Options{Checkpoint: filepath.Join(t.TempDir(), "c"), Shard: Shard{k, 3}}
		if _, err := Run(ctx, s, o); err != nil {
			t.Fatal(err)
		}
		st, err := ReadState(o.Checkpoint)
		if err != nil {
			t.Fatal(err)
		}
		paths, states = append(paths, o.Checkpoint), append(states, st)
	}
	got, err := Merge(ctx, s, paths, states)
	if err != nil {
		t.Fatal(err)
	}
	equalResults(t, "merged", got, want)

	x.motors[2].Mass = part.Stated{Value: x.motors[2].Mass.Or(0.03) * 1.01, Known: true}
	if changed := make(x); changed.Fingerprint() == s.Fingerprint() {
		t.Error("the fingerprint does not follow the mass of a motor")
	}
}

// Axes of parts refuse what no craft can have, and what stands beside them for the same.
func TestPartsRefused(t *testing.T) {
	x := inventParts(rand.New(rand.NewPCG(75, 76)), 2, 2, 2, 1, 1)
	rest := func(less ...*AxisDef) (out []Axis) {
		for _, a := range axesOf(t, nil) {
			if !slices.Contains(less, a.Def) {
				out = append(out, a)
			}
		}
		return out
	}
	for _, c := range []struct {
		axes []Axis
		want string
	}{
		{append(rest(KV), MotorAxis(x.motors)), "axis stator is given beside motors that exist, each of which has " +
			"its own"},
		{append(rest(Stator), MotorAxis(x.motors)), "axis kv is given beside motors that exist, each of which has " +
			"its own"},
		{append(rest(Cells, Capacity), PackAxis(nil)), "axis pack has no values"},
		{append(rest(Cells), PackAxis(x.packs)), "axis capacity is given beside packs that exist, each of which " +
			"has its own"},
		{append(rest(Cells, Capacity), PackAxis([]part.Pack{{Name: "B", Cells: 40, Capacity: 3600}})),
			"cells 40S is outside 1S to 14S"},
		{append(rest(Diameter, PitchRatio, Blades, Chord), PropellerAxis([]part.Propeller{{Name: "P", Diameter: 0.127,
			Pitch: 0.5, Blades: 2}})), "propeller P: a pitch of 19.685 in on a diameter of 5 in is a ratio of 3.94, " +
			"outside 0.1 to 2"},
	} {
		if _, err := NewGrid(c.axes...); err == nil || err.Error() != c.want {
			t.Errorf("error %v, want %s", err, c.want)
		}
	}
	x.motors[1].Mass = part.Stated{Value: 0.0005, Known: true}
	s := study(t, partsGrid(t, x, nil))
	if err := s.Check(); err == nil || !strings.HasPrefix(err.Error(), "motor M1: 0.5 g, but the model has ") {
		t.Errorf("a motor of half a gram: %v", err)
	}
	s = study(t, small(t, nil))
	s.Require = append(s.Require, Requirement{Metric: metric(t, "price"), Bound: 250})
	if err := s.Check(); err == nil || !strings.HasPrefix(err.Error(), "require: price: no part of the study") {
		t.Errorf("a price of generated parts: %v", err)
	}
}
