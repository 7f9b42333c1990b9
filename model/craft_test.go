package model

import (
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model/air"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

const in = 0.0254

func stator(d, h float64) motor.Stator { return motor.Stator{Diameter: d * 1e-3, Height: h * 1e-3} }

func newModel(t testing.TB, change func(*Assumptions)) *Model {
	t.Helper()
	a := Defaults()
	if change != nil {
		change(&a)
	}
	m, err := New(a)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Momentum theory: ideal hover power and induced velocity of craft at sea level
// (Leishman, Principles of Helicopter Aerodynamics, 2006, section 2.3), against
// what the figure of merit is computed from.
func TestIdealPower(t *testing.T) {
	m := newModel(t, nil)
	for _, c := range []struct{ mass, diameter, ideal float64 }{
		{0.65, 5, 45.68}, {0.25, 3, 18.16}, {0.25, 4, 13.62}, {2.5, 10, 172.3},
	} {
		p, err := m.Propeller(c.diameter*in, 0.6*c.diameter*in, 2, 0)
		if err != nil {
			t.Fatal(err)
		}
		k, err := m.Pack(6, 3600)
		if err != nil {
			t.Fatal(err)
		}
		tr := m.Powertrain(p, m.Motor(stator(22, 7), 1200), k)
		var craft Craft
		craft.Load(m, &tr, 0)
		craft.Mass = c.mass
		craft.Operate()
		fm, _ := LookupMetric("figure-of-merit")
		if ideal := fm.Of(&craft) * rotors * craft.Hover.Shaft; math.Abs(ideal-c.ideal) > 2e-3*c.ideal {
			t.Errorf("ideal hover power of %g kg on %g in = %.5g W, want %.5g", c.mass, c.diameter, ideal, c.ideal)
		}
	}
	// The slipstream is twice the induced velocity; both are of the open disc.
	p, err := m.Propeller(5*in, 3*in, 2, 0)
	if err != nil {
		t.Fatal(err)
	}
	if v := p.Wash(0.65*gravity/rotors) / 2 * math.Sqrt(p.Installed); math.Abs(v-7.166) > 2e-3 {
		t.Errorf("induced velocity = %g, want 7.166 m/s", v)
	}
}

// Thin air at 1 500 m (ISO 2533) raises ideal hover power by rho^-1/2.
func TestThinAir(t *testing.T) {
	a, err := air.Standard(1500)
	if err != nil {
		t.Fatal(err)
	}
	if r := math.Sqrt(1.225 / a.Density); math.Abs(r-1.076) > 5e-4 {
		t.Errorf("hover power ratio at 1500 m = %.5g, want 1.076", r)
	}
	d := Design{Diameter: 5 * in, Pitch: 4 * in, Blades: 2, Stator: stator(22, 7), KV: 1750, Cells: 6,
		Capacity: 1050 * 3.6}
	low, err := newModel(t, nil).Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	high, err := newModel(t, func(a *Assumptions) { a.Altitude = 1500 }).Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	shaft := high.Hover.Shaft / low.Hover.Shaft
	if shaft < 1.06 || shaft > 1.10 {
		t.Errorf("shaft power at 1500 m is %.4g of that at sea level, want about 1.076", shaft)
	}
}

func TestTipSpeed(t *testing.T) {
	c := Craft{Powertrain: &Powertrain{Propeller: &Propeller{Airframe: Airframe{Diameter: 5 * in}}}}
	v := c.tipSpeed(25000.0 / 60)
	if math.Abs(v-166.2) > 0.05 || math.Abs(v/340.294-0.49) > 0.005 {
		t.Errorf("tip speed of 5 in at 25000 rpm = %.5g m/s, Mach %.3g, want 166.2 and 0.49", v, v/340.294)
	}
}

// randomDesign draws from the accepted ranges where real craft are.
func randomDesign(r *rand.Rand) Design {
	d := in * (2 + 10*r.Float64())
	return Design{
		Diameter: d,
		Pitch:    d * (0.35 + 0.6*r.Float64()),
		Blades:   2 + r.IntN(3),
		Stator:   stator(float64(11+r.IntN(18)), float64(3+r.IntN(14))),
		KV:       math.Exp(math.Log(300) + r.Float64()*math.Log(30)),
		Cells:    1 + r.IntN(8),
		Capacity: 3.6 * (300 + 5000*r.Float64()),
		Payload:  0.3 * r.Float64(),
	}
}

// allowed says that a craft need not have a metric.
func allowed(c *Craft, x *Metric) bool {
	switch x.Name {
	case "class-margin": // none is judged in a class
		return true
	case "station-time", "best-upwind-speed", "range-upwind", "range-return": // the wind is faster
		return c.Model.Assume.Wind > 0 || c.Flight.Range.Airspeed == 0
	case "price", "frame-use", "motor-cells-use", "board-cells-use", "motor-current-use", "board-current-use",
		"propeller-speed-use": // of parts that exist
		return c.Powertrain.Parts == (Parts{})
	case "thrust-response-time", "thrust-response-down": // no step upwards from hover
		return c.thrustToWeight <= 1
	}
	return x.Stage == StageExplain || x.Asks != "" // none has a reference, or an airspeed
}

// No rotor beats momentum theory, and energy does not come from nowhere.
func TestBounds(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	m := newModel(t, nil)
	fm, _ := LookupMetric("figure-of-merit")
	seen := 0
	crafts := 400
	if testing.Short() {
		crafts = 120
	}
	for range crafts {
		d := randomDesign(r)
		c, err := m.Evaluate(d)
		if err == ErrNoOperatingPoint {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		seen++
		w := c.Mass * gravity
		ideal := w * math.Sqrt(w/(2*m.Air.Density*math.Pi*d.Diameter*d.Diameter))
		if f := fm.Of(c); !(f > 0 && f < 1) {
			t.Errorf("figure of merit %g of %+v", f, d)
		}
		if !(c.Hover.Power > ideal) {
			t.Errorf("hover power %g W is not above the ideal %g W of %+v", c.Hover.Power, ideal, d)
		}
		k := &c.Powertrain.Drive.Pack
		if e, held := c.HoverTime*c.Hover.Power, k.Capacity*k.Usable()*k.Mean; e > held*1.0001 {
			t.Errorf("hover drew %g J of %g J from %+v", e, held, d)
		}
		for _, x := range Metrics {
			if v := x.Of(c); !allowed(c, x) && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Errorf("%s = %g of %+v", x.Name, v, d)
			}
		}
	}
	if seen < crafts/2 {
		t.Errorf("only %d designs of the sample could fly", seen)
	}
}

// In both operating points the power that leaves the pack is the power that
// reaches shafts, losses and avionics.
func TestEnergyCloses(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	m := newModel(t, nil)
	for range 200 {
		d := randomDesign(r)
		c, err := m.Evaluate(d)
		if err != nil {
			continue
		}
		mot, k, ctl := &c.Powertrain.Drive.Motor, &c.Powertrain.Drive.Pack, c.Powertrain.Full.Controller
		sinks := func(q, n, i float64) float64 {
			return rotors*(2*math.Pi*n*(q+mot.LossTorque(n))+(mot.R+ctl.Series())*i*i+motor.IdleLoss) +
				m.Assume.AvionicsPower
		}
		h := c.Hover
		in := k.Mean*h.PackCurrent - k.R*h.PackCurrent*h.PackCurrent
		out := sinks(h.Torque, h.Speed, h.Current) + rotors*(h.PackVoltage*mot.Switching(h.Current)+h.Chopping)
		if math.Abs(in-out) > 1e-9*in {
			t.Errorf("hover: %g W in, %g W out of %+v", in, out, d)
		}
		f := c.Powertrain.Full
		top := c.Powertrain.Drive.RestedTop
		in = top*f.PackCurrent - k.R*f.PackCurrent*f.PackCurrent
		out = sinks(f.Torque, f.Speed, f.Current)
		if math.Abs(in-out) > 1e-9*in {
			t.Errorf("full throttle: %.12g W in, %.12g W out of %+v", in, out, d)
		}
	}
}

// The lower bound on mass never exceeds the mass, and the masses add up.
func TestMass(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	crafts := 300
	if testing.Short() {
		crafts = 60
	}
	for i := range crafts {
		m := newModel(t, func(a *Assumptions) { a.Board = motor.Board(i % 2) })
		d := randomDesign(r)
		c, err := m.Evaluate(d)
		if err != nil && err != ErrNoOperatingPoint {
			t.Fatal(err)
		}
		p := c.Powertrain
		bare := m.Bare(&p.Propeller.Airframe, p.Drive.Motor.Mass, p.Drive.Pack.Mass)
		if least := p.Propeller.LeastAUW(bare, d.Payload); least > c.Mass {
			t.Errorf("lower bound %v above mass %v of %+v", least, c.Mass, d)
		}
		b := c.Masses()
		sum := b.Frame + b.Hardware + b.Propellers + b.Motors + b.Controller + b.Wiring + b.Avionics + b.Pack +
			b.Payload
		if math.Abs(sum-c.Mass) > 1e-12 {
			t.Errorf("masses add up to %g, AUW is %g", sum, c.Mass)
		}
	}
}

func TestRegistry(t *testing.T) {
	want := []string{"auw", "disk-loading", "battery-fraction", "hover-power", "hover-throttle", "hover-time",
		"hover-efficiency",
		"hover-rpm", "hover-tip-speed", "full-throttle-rpm", "tip-speed", "tip-mach", "thrust-to-weight",
		"motor-current", "pack-current",
		"pack-c-rate", "pack-voltage", "controller-rating", "figure-of-merit", "torque-per-volume", "wheelbase",
		"class-margin"}
	for _, name := range want {
		if _, ok := LookupMetric(name); !ok {
			t.Errorf("no metric %s", name)
		}
	}
	if m, ok := LookupMetric("esc-rating"); !ok || m.Name != "controller-rating" { // as earlier runs ask for it
		t.Errorf("esc-rating is %v, want the controller rating", m)
	}
	seen := map[string]bool{}
	for _, m := range Metrics {
		if seen[m.Name] {
			t.Errorf("metric %s stands twice", m.Name)
		}
		seen[m.Name] = true
		if m.Title == "" || m.Symbol == "" || m.Meaning == "" || m.Formula.Text == "" || m.Source == "" ||
			m.Kind == nil {
			t.Errorf("metric %s is not fully described", m.Name)
		}
	}
}

// A metric that is marked so is the same for every payload, and no other is.
func TestBareMetrics(t *testing.T) {
	m := newModel(t, func(a *Assumptions) { a.ThrustReserve = 5 })
	var v [2][]float64
	for i, payload := range []float64{0.01, 0.9} {
		d := Design{Diameter: 0.127, Pitch: 0.1, Blades: 3, Stator: motor.Stator{Diameter: 22e-3, Height: 7e-3},
			KV: 1750, Cells: 6, Capacity: 1100 * 3.6, Payload: payload}
		c, err := m.Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		c.Limit = 1
		for _, x := range Metrics {
			v[i] = append(v[i], x.Of(c))
		}
	}
	for i, x := range Metrics {
		if same := v[0][i] == v[1][i]; same != x.Bare && !math.IsNaN(v[0][i]) && v[0][i] != x.Cap {
			t.Errorf("%s: %g and %g with two payloads, but marked %v", x.Name, v[0][i], v[1][i], x.Bare)
		}
	}
}

// The same disk loading at three sizes (common practice: these feel alike).
func TestAlikeSizes(t *testing.T) {
	for _, c := range []struct{ grams, inches float64 }{{600, 5}, {250, 3.25}, {750, 5.5}} {
		if dl := unit.DiskLoading.Unit("g/in2").FromSI(DiskLoading(c.grams/1e3, c.inches*in)); dl < 7.5 || dl > 7.95 {
			t.Errorf("%g g on %g in: disk loading %.3g g/in2, want 7.5 to 7.9", c.grams, c.inches, dl)
		}
	}
}

func TestRefusedInputs(t *testing.T) {
	m := newModel(t, nil)
	good := Design{Diameter: 5 * in, Pitch: 4 * in, Blades: 2, Stator: stator(22, 7), KV: 1750, Cells: 6,
		Capacity: 1050 * 3.6}
	for what, change := range map[string]func(*Design){
		"diameter": func(d *Design) { d.Diameter = -1 },
		"pitch":    func(d *Design) { d.Pitch = math.NaN() },
		"blade":    func(d *Design) { d.Blades = 0 },
		"KV":       func(d *Design) { d.KV = math.Inf(1) },
		"payload":  func(d *Design) { d.Payload = -0.01 },
		"cell":     func(d *Design) { d.Cells = 0 },
		"capacity": func(d *Design) { d.Capacity = 0 },
		"chord":    func(d *Design) { d.Chord = 0.9 },
		"stator":   func(d *Design) { d.Stator.Height = 0 },
	} {
		d := good
		change(&d)
		if _, err := m.Evaluate(d); err == nil {
			t.Errorf("a bad %s was taken", what)
		}
	}
	if _, err := m.Evaluate(good); err != nil {
		t.Errorf("a good design was refused: %v", err)
	}
	a := Defaults()
	a.Avionics = -1
	if _, err := New(a); err == nil {
		t.Error("negative avionics were taken")
	}
	a = Defaults()
	a.PackGrade = nil
	if _, err := New(a); err == nil {
		t.Error("no pack grade was taken")
	}
}
