package model

import (
	"math"
	"testing"

	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
)

func stated(v float64) part.Stated { return part.Stated{Value: v, Known: true} }

// partDesign is a craft that its regressions size, in a model whose packs have 25 degC.
func partDesign(t *testing.T) (*Model, Design) {
	t.Helper()
	a := Defaults()
	a.PackTemperature = 298.15
	m, err := New(a)
	if err != nil {
		t.Fatal(err)
	}
	return m, Design{Diameter: 5 * in, Pitch: 4.3 * in, Blades: 3, Stator: motor.Stator{Diameter: 0.022, Height: 0.007},
		KV: 1800, Cells: 6, Capacity: 1100 * 3.6, Payload: 0.02}
}

// asRegressed are parts that exist as a design has them: with nothing stated but what makes
// them, or with all that the regressions give.
func asRegressed(t *testing.T, m *Model, d Design, all bool) Parts {
	t.Helper()
	c, err := m.Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	x := &c.Powertrain.Drive
	rating := c.Powertrain.Full.Controller.Rating
	p := Parts{
		Motor:     &part.Motor{Stator: d.Stator, KV: d.KV},
		Propeller: &part.Propeller{Diameter: d.Diameter, Pitch: d.Pitch, Blades: d.Blades},
		Pack:      &part.Pack{Cells: d.Cells, Capacity: d.Capacity},
		Frame:     &part.Frame{Largest: d.Diameter, Wheelbase: c.Powertrain.Propeller.Wheelbase},
		Board:     &part.Board{Current: rating, Cells: 6},
	}
	if !all {
		return p
	}
	const u = 20 // V
	lo, hi := 0.0, 10.0
	for range 200 { // the current without a propeller
		i := (lo + hi) / 2
		if torque, n := x.Motor.IdleLoss(i, u); torque < x.Motor.LossTorque(n) {
			lo = i
		} else {
			hi = i
		}
	}
	masses := c.Masses()
	p.Motor.Mass, p.Motor.Resistance = stated(x.Motor.Mass), stated(x.Motor.ColdResistance())
	p.Motor.IdleCurrent, p.Motor.IdleVoltage = stated(lo), stated(u)
	p.Propeller.Mass = stated(masses.Propellers / 4)
	p.Pack.Mass, p.Pack.Resistance = stated(x.Pack.Mass), stated(x.Pack.R)
	p.Pack.Current, p.Pack.Burst = stated(x.Pack.Limit), stated(x.Pack.BurstLimit())
	p.Frame.Mass, p.Board.Mass = stated(masses.Frame), stated(masses.Controller)
	return p
}

// Parts that state what the regressions give, or nothing, are the craft that the regressions
// size: in the nominal model to a part in 1e12, and with nothing stated in a draw as well.
func TestPartsAsRegressed(t *testing.T) {
	m, d := partDesign(t)
	e, err := NewEnsemble(m, 5, 3)
	if err != nil {
		t.Fatal(err)
	}
	want, err := m.Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, all := range []bool{false, true} {
		with := d
		with.Parts = asRegressed(t, m, d, all)
		got, err := m.Evaluate(with)
		if err != nil {
			t.Fatal(err)
		}
		samePartMetrics(t, got, want)
	}
	with := d
	with.Parts = asRegressed(t, m, d, false)
	for k := range e.Draws() {
		x := e.Model(k)
		board := with.Board // which in a draw may be too small, and is bought anew
		with.Board = nil
		a, b := drawnCraft(t, m, x, d), drawnCraft(t, m, x, with)
		with.Board = board
		samePartMetrics(t, b, a)
	}
}

func samePartMetrics(t *testing.T, got, want *Craft) {
	t.Helper()
	for _, q := range Metrics {
		if q.Source == owner || q.Stage > LastStage {
			continue
		}
		g, w := q.Of(got), q.Of(want)
		if !(math.Abs(g-w) <= 1e-12*math.Abs(w)) && !(math.IsNaN(g) && math.IsNaN(w)) {
			t.Errorf("%s of parts as regressed: %.17g, want %.17g", q.Name, g, w)
		}
	}
}

// drawnCraft is a design in a draw.
func drawnCraft(t *testing.T, m, draw *Model, d Design) *Craft {
	t.Helper()
	p, err := m.PropellerFor(&d)
	if err != nil {
		t.Fatal(err)
	}
	c, err := draw.Complete(draw.Vary(p), d)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// What is stated is what the craft has, whatever the regressions say.
func TestPartsStated(t *testing.T) {
	m, d := partDesign(t)
	plain, err := m.Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	usual := plain.Masses()
	middle, err := pack.ParseGrade("middle")
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		what      string
		state     func(*Parts)
		got       func(*Craft) float64
		want, tol float64
	}{
		{"mass of motors", func(p *Parts) { p.Motor.Mass = stated(0.029) },
			func(c *Craft) float64 { return c.Masses().Motors }, 4 * 0.029, 1e-15},
		{"resistance of a winding", func(p *Parts) { p.Motor.Resistance = stated(0.05) },
			func(c *Craft) float64 { return c.motor().ColdResistance() }, 0.05, 1e-15},
		{"mass of propellers", func(p *Parts) { p.Propeller.Mass = stated(0.005) },
			func(c *Craft) float64 { return c.Masses().Propellers }, 0.02, 1e-15},
		{"mass of a pack", func(p *Parts) { p.Pack.Mass = stated(0.2) },
			func(c *Craft) float64 { return c.Masses().Pack }, 0.2, 1e-15},
		{"resistance of a pack", func(p *Parts) { p.Pack.Resistance = stated(0.03) },
			func(c *Craft) float64 { return c.Powertrain.Drive.Pack.R }, 0.03, 1e-12},
		{"burst of a pack by its continuous current", func(p *Parts) { p.Pack.Current = stated(60) },
			func(c *Craft) float64 { return c.Powertrain.Drive.Pack.BurstLimit() }, 120, 1e-12},
		{"burst of a pack", func(p *Parts) { p.Pack.Current, p.Pack.Burst = stated(60), stated(90) },
			func(c *Craft) float64 { return c.Powertrain.Drive.Pack.BurstLimit() }, 90, 1e-12},
		{"grade of a pack", func(p *Parts) { p.Pack.Grade = middle },
			func(c *Craft) float64 {
				k, _ := m.parameters.Pack.New(middle, d.Cells, d.Capacity, pack.Condition{Temperature: 298.15})
				return c.Masses().Pack / k.Mass
			}, 1, 1e-12},
		{"mass of a frame", func(p *Parts) { p.Frame.Mass = stated(0.08) },
			func(c *Craft) float64 { return c.Masses().Frame }, 0.08, 1e-15},
		{"frame for larger propellers", func(p *Parts) { p.Frame.Largest = 7 * in },
			func(c *Craft) float64 { return c.Masses().Frame / usual.Frame }, math.Pow(7.0/5, 1.78), 1e-12},
		{"wheelbase", func(p *Parts) { p.Frame.Wheelbase = 0.3 }, lookup(t, "wheelbase").Of, 0.3, 1e-15},
		{"clearance of that", func(p *Parts) { p.Frame.Wheelbase = 0.127 * math.Sqrt2 * 1.05 },
			func(c *Craft) float64 { return c.Powertrain.Propeller.Installed / m.installed(0.05) }, 1, 1e-12},
		{"drag area", func(p *Parts) { p.Frame.Area = stated(0.005) },
			func(c *Craft) float64 { return m.parameters.Flight.Body(1, m.hull(&c.Powertrain.Parts)).DragArea(0) },
			0.005, 1e-12},
		{"board's rating", func(p *Parts) { p.Board.Current = 33 }, lookup(t, "controller-rating").Of, 33, 0},
		{"mass of a board", func(p *Parts) { p.Board.Mass = stated(0.011) },
			func(c *Craft) float64 { return c.Masses().Controller }, 0.011, 1e-15},
		{"mass of a board that joins both", func(p *Parts) { p.Board.Mass, p.Board.Joined = stated(0.0095), true },
			func(c *Craft) float64 { return c.Masses().Controller }, 0.005, 1e-12},
		{"price", func(p *Parts) {
			p.Motor.Price, p.Propeller.Price, p.Pack.Price, p.Frame.Price, p.Board.Price = stated(20), stated(1.5),
				stated(30),
				stated(40), stated(50)
		}, lookup(t, "price").Of, 4*20 + 4*1.5 + 30 + 40 + 50, 1e-12},
		{"cells over those of the motor", func(p *Parts) { p.Motor.MostCells = stated(4) },
			lookup(t, "motor-cells-use").Of, 1.5, 1e-12},
		{"cells over those of the board", func(p *Parts) { p.Board.Cells = 4 }, lookup(t, "board-cells-use").Of, 1.5,
			1e-12},
		{"motor without a stated current", func(p *Parts) {}, lookup(t, "motor-current-use").Of, 0, 0},
		{"propeller on its frame", func(p *Parts) { p.Frame.Largest = 4 * in }, lookup(t, "frame-use").Of, 1.25, 1e-12},
	} {
		with := d
		with.Parts = asRegressed(t, m, d, false)
		x.state(&with.Parts)
		c, err := m.Evaluate(with)
		if err != nil {
			t.Errorf("%s: %v", x.what, err)
			continue
		}
		if got := x.got(c); !(math.Abs(got-x.want) <= x.tol*x.want) {
			t.Errorf("%s: %.17g, want %.17g", x.what, got, x.want)
		}
	}
	with := d
	with.Parts = asRegressed(t, m, d, true)
	with.Frame.Price = stated(40)
	if c, err := m.Evaluate(with); err != nil || !math.IsNaN(lookup(t, "price").Of(c)) {
		t.Errorf("a craft of which only the frame has a price costs %v (%v)", lookup(t, "price").Of(c), err)
	}
}

// lookup finds a metric.
func lookup(t *testing.T, name string) *Metric {
	t.Helper()
	q, ok := LookupMetric(name)
	if !ok {
		t.Fatalf("no metric %s", name)
	}
	return q
}

// In draws a stated value errs as a label does, and much less than a regression.
func TestPartsDrawn(t *testing.T) {
	m, d := partDesign(t)
	parts := asRegressed(t, m, d, true)
	with := d
	with.Parts = parts
	const draws = 400
	e, err := NewEnsemble(m, 9, draws)
	if err != nil {
		t.Fatal(err)
	}
	type quantity struct {
		what  string
		of    func(x *Model, d *Design) float64
		label float64
	}
	mot := func(of func(*motor.Motor) float64) func(*Model, *Design) float64 {
		return func(x *Model, d *Design) float64 {
			k, err := x.MotorOf(d)
			if err != nil {
				t.Fatal(err)
			}
			return of(&k)
		}
	}
	bat := func(of func(*pack.Pack) float64) func(*Model, *Design) float64 {
		return func(x *Model, d *Design) float64 {
			k, err := x.PackOf(d)
			if err != nil {
				t.Fatal(err)
			}
			return of(&k)
		}
	}
	for _, q := range []quantity{
		{"motor mass", mot(func(k *motor.Motor) float64 { return k.Mass }), labelMass},
		{"motor resistance", mot((*motor.Motor).ColdResistance), labelResistance},
		{"motor loss", mot(func(k *motor.Motor) float64 { return k.LossTorque(100) }), labelIdle},
		{"pack mass", bat(func(k *pack.Pack) float64 { return k.Mass }), labelMass},
		{"pack resistance", bat(func(k *pack.Pack) float64 { return k.R }), labelPackResistance},
		{"pack current", bat((*pack.Pack).BurstLimit), labelPackCurrent},
		{"frame mass", func(x *Model, d *Design) float64 { return x.AirframeOf(d.Diameter, 3, &d.Parts).Frame },
			labelMass},
		{"propeller mass", func(x *Model, d *Design) float64 { return x.AirframeOf(d.Diameter, 3, &d.Parts).Blades },
			labelMass},
	} {
		spread := func(d *Design) float64 {
			var sum, sum2 float64
			for k := range draws {
				v := math.Log(q.of(e.Model(k), d))
				sum += v
				sum2 += v * v
			}
			return math.Sqrt(sum2/draws - sum*sum/draws/draws)
		}
		stated, law := spread(&with), spread(&d)
		if !(math.Abs(stated/q.label-1) < 0.15) || !(stated < 0.8*law) {
			t.Errorf("%s: stated it errs by %.4f, want %.4f; the law errs by %.4f", q.what, stated, q.label, law)
		}
	}
}

// What a craft's parts state is told, value by value.
func TestPartsGiven(t *testing.T) {
	m, d := partDesign(t)
	p := asRegressed(t, m, d, false)
	p.Motor.Mass, p.Pack.Current = stated(0.03), stated(50)
	stated := map[[2]string]bool{}
	for _, g := range p.Given() {
		if key := [2]string{g.Part, g.Value}; g.Stated {
			stated[key] = true
		}
	}
	if len(p.Given()) != 23 || len(stated) != 2 || !stated[[2]string{"motor", "mass"}] ||
		!stated[[2]string{"pack", "current"}] {
		t.Errorf("of %d values these are stated: %v", len(p.Given()), stated)
	}
}

// The time at full throttle of a motor that states one is that of a motor which holds as much heat
// as takes it to the limit from cold at the stated current in the stated time; where the model has
// it bear that current for ever the square of the current bounds it; without a statement it is the
// model's. The temperatures are followed in small steps here.
func TestStatedBurstTime(t *testing.T) {
	t.Parallel()
	m, d := partDesign(t)
	burst := lookup(t, "burst-time")
	at := func(state func(*part.Motor)) *Craft {
		with := d
		with.Parts = asRegressed(t, m, d, false)
		state(with.Motor)
		c, err := m.Evaluate(with)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	plain := at(func(*part.Motor) {})
	usual := burst.Of(plain)
	I := plain.Powertrain.Full.Current
	if !(usual > 5 && usual < motor.Longest) {
		t.Fatalf("it stands full throttle for %g s", usual)
	}
	// warm is the time from one temperature to the limit at a current, with so much heat, J/K, held.
	warm := func(current, from, heat float64) float64 {
		h := plain.fullHeat()
		mot := plain.motor()
		const dt = 1e-3
		s := 0.0
		for T := from; T < motor.BurstLimit; s += dt {
			R := mot.ColdResistance() * (1 + 0.00393*(T-293.15))
			T += dt * (R*current*current + 2*math.Pi*h.Speed*mot.LossTorque(h.Speed) - h.Conductance*(T-h.Air)) / heat
		}
		return s
	}
	air := m.Air.Temperature
	for _, most := range []float64{1.02 * I, 1.3 * I} {
		for _, s := range []float64{4, 30, 120} {
			c := at(func(k *part.Motor) { k.Current, k.Burst = stated(most), stated(s) })
			heat := s / warm(most, air, 10) * 10
			want := warm(I, plain.steady(), heat)
			if got := burst.Of(c); !(math.Abs(got-want) <= 0.01*want) || !c.BurstStated() {
				t.Errorf("%g s of %g A: %g s of %g A, want %g", s, most, got, I, want)
			}
			c.Burst()
			if got := burst.Of(c); !(math.Abs(got-want) <= 0.01*want) {
				t.Errorf("%g s of %g A: kept as %g s, want %g", s, most, got, want)
			}
		}
	}
	// A current that the model has it bear for ever.
	little := at(func(k *part.Motor) { k.Current, k.Burst = stated(0.2*I), stated(20) })
	if got, want := burst.Of(little), 20*0.2*0.2; !(math.Abs(got-want) <= 1e-9*want) {
		t.Errorf("20 s of a fifth of the current: %g s, want %g", got, want)
	}
	for what, c := range map[string]*Craft{"a current alone": at(func(k *part.Motor) { k.Current = stated(30) })} {
		if got := burst.Of(c); got != usual || c.BurstStated() {
			t.Errorf("%s: %g s, want %g", what, got, usual)
		}
	}
	if a, b := burst.SourceOf(little), burst.SourceOf(plain); a == b || b != burst.Source {
		t.Errorf("the sources are %q and %q", a, b)
	}
}
