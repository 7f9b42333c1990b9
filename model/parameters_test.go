package model

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"rotorsieve/model/basis"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// fields are the numbers of a set, in the order in which it declares them.
func fields(v reflect.Value) (out []*float64) {
	switch v.Kind() {
	case reflect.Float64:
		return []*float64{v.Addr().Interface().(*float64)}
	case reflect.Struct:
		for i := range v.NumField() {
			out = append(out, fields(v.Field(i))...)
		}
	case reflect.Array:
		for i := range v.Len() {
			out = append(out, fields(v.Index(i))...)
		}
	default:
		panic("a set holds a " + v.Kind().String())
	}
	return out
}

// The table has each number of a set once, in their order, says all of it, and its nominal
// value can be computed with.
func TestParameterTable(t *testing.T) {
	p := Nominal()
	numbers := fields(reflect.ValueOf(&p).Elem())
	if len(numbers) < 60 || len(numbers) != len(ParameterTable) {
		t.Fatalf("a set has %d numbers, the table %d entries", len(numbers), len(ParameterTable))
	}
	seen := map[string]basis.Entry[Parameters]{}
	for k, e := range ParameterTable {
		if e.At(&p) != numbers[k] {
			t.Errorf("%s, entry %d, is not the %d-th number of a set", e.Symbol, k, k)
		}
		if _, twice := seen[e.Symbol]; twice || e.Symbol == "" || e.Meaning == "" || e.Source == "" {
			t.Errorf("incomplete or doubled entry %q", e.Symbol)
		}
		seen[e.Symbol] = e
		if !(e.Sigma > 0 && e.Sigma <= 1) || e.Reach == basis.Undrawn || e.Value != 0 {
			t.Errorf("%s: sigma %g, reach %q, value %g", e.Symbol, e.Sigma, e.Reach, e.Value)
		}
		if err := e.Check(&p); err != nil {
			t.Error(err)
		}
		if w, ok := seen[e.With]; e.With != "" && !(ok && w.Reach == e.Reach && w.With == "") {
			t.Errorf("%s shares the error of %q, which is none that stands before it, of its reach", e.Symbol, e.With)
		}
	}
}

// listed are the parameters in the lists of constants, by symbol.
func listed() map[string]basis.Constant {
	out := map[string]basis.Constant{}
	for _, e := range basis.List(ParameterTable, &Parameters{}) {
		out[e.Symbol] = e
	}
	return out
}

// Basis prints what the table has.
func TestBasisOfParameters(t *testing.T) {
	all := listed()
	for symbol, want := range map[string]string{
		"KV under load": "4 %", "x": "100 %", "n_P": "0.08", "micro frame": "0.114", "rho arm": "3 %",
		"21700-power R": "15 %", "p0": "3 %", "propeller linear": "10 %",
	} {
		if got := all[symbol].Spread; got != want {
			t.Errorf("%s spreads %q, want %q", symbol, got, want)
		}
	}
	if c := all["propeller linear"]; c.Reach.String() != "part" || c.With != "propeller square" {
		t.Errorf("propeller linear: %+v", c)
	}
	for _, c := range motor.Basis() {
		if got := all[c.Symbol]; got.Symbol != "" && (got.Sigma != c.Sigma || got.Meaning != c.Meaning ||
			c.Value == 0) {
			t.Errorf("Basis has %+v, the table %+v", c, got)
		}
	}
}

// subject is a craft whose parameters are moved.
type subject struct {
	name   string
	assume func(*Assumptions)
	design Design
}

// subjects are crafts that all parameters matter for one of: five inches, of four packs
// and more and with arms as beams, and two inches on a joined board.
func subjects() []subject {
	five := Design{Diameter: 5 * in, Pitch: 4.3 * in, Blades: 3, Stator: stator(22, 7), KV: 1850, Cells: 6,
		Capacity: 1300 * 3.6}
	two := Design{Diameter: 2 * in, Pitch: 1.5 * in, Blades: 2, Stator: stator(11, 4), KV: 7000, Cells: 3,
		Capacity: 450 * 3.6}
	all := []subject{
		{"five inches", func(*Assumptions) {}, five},
		{"two inches", func(a *Assumptions) { a.Board, a.Avionics = motor.Joined, 0.015 }, two},
		{"beams", func(a *Assumptions) { a.FrameBuild = frame.ByBeam }, five},
	}
	for _, g := range pack.Grades[1:] {
		d := five
		if c := g.CellCharge(); c > 0 {
			d.Capacity = c
		}
		all = append(all, subject{g.Name, func(a *Assumptions) { a.PackGrade = g }, d})
	}
	return all
}

// values are the metrics of a subject under a set.
func (s *subject) values(t *testing.T, p Parameters) []float64 {
	t.Helper()
	a := Defaults()
	s.assume(&a)
	m, err := NewWith(a, p)
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.Evaluate(s.design)
	if err != nil {
		t.Fatalf("%s: %v", s.name, err)
	}
	var out []float64
	for _, x := range Metrics {
		if x.Stage != StageExplain {
			out = append(out, x.Of(c))
		}
	}
	return out
}

// same says whether two are equal to the last bit.
func same(a, b []float64) bool {
	for i := range a {
		if math.Float64bits(a[i]) != math.Float64bits(b[i]) {
			return false
		}
	}
	return true
}

// moved is an entry's parameter by so many of its standard deviations off the nominal one.
func moved(e *basis.Entry[Parameters], by float64) Parameters {
	p := Nominal()
	e.Move(&p, by)
	return p
}

// A standard deviation of any parameter changes a metric of some craft, of none but the
// model that holds it, and models of the nominal set stay as they were.
func TestParametersMove(t *testing.T) {
	t.Parallel()
	all := subjects()
	still := make([][]float64, len(all))
	for i := range all {
		still[i] = all[i].values(t, Nominal())
	}
	for k := range ParameterTable {
		e := &ParameterTable[k]
		moves := false
		for i := 0; i < len(all) && !moves; i++ {
			moves = !same(all[i].values(t, moved(e, 1)), still[i])
		}
		if !moves {
			t.Errorf("%s: a standard deviation of it moves no metric of any craft", e.Symbol)
		}
	}
	for i := range all {
		if !same(all[i].values(t, Nominal()), still[i]) {
			t.Errorf("%s: the nominal metrics have changed", all[i].name)
		}
	}
}

// What a parameter does to a metric, worked by hand.
func TestParameterEffects(t *testing.T) {
	five := subjects()[0]
	evaluate := func(symbol string, by float64) *Craft {
		p := Nominal()
		for k := range ParameterTable {
			if e := &ParameterTable[k]; e.Symbol == symbol {
				p = moved(e, by)
			}
		}
		m, err := NewWith(Defaults(), p)
		if err != nil {
			t.Fatal(err)
		}
		c, err := m.Evaluate(five.design)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	plain := evaluate("", 0)
	for _, x := range []struct {
		symbol string
		of     func(*Craft) float64
		factor float64 // on it, by one standard deviation
	}{
		{"pack overhead", func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Mass - 2e-3 }, math.Exp(0.06)},
		{"Km scale", func(c *Craft) float64 { return c.Powertrain.Drive.Motor.R }, math.Exp(-0.20)},
		{"motor mass scale", func(c *Craft) float64 { return c.Masses().Motors }, math.Exp(0.10)},
		{"KV under load", func(c *Craft) float64 { return c.Powertrain.Drive.Motor.EffectiveKV() }, math.Exp(0.04)},
		{"frame scale", func(c *Craft) float64 { return c.Masses().Frame }, math.Exp(0.20)},
		{"controller board", func(c *Craft) float64 { return c.Masses().Controller }, math.Exp(0.15)},
		{"body drag", func(c *Craft) float64 { return c.Model.parameters.Flight.Body(1, flight.Hull{}).DragArea(0) },
			math.Exp(0.40)},
		{"p0", func(c *Craft) float64 { return c.Powertrain.Propeller.Density }, math.Exp(0.03)},
		{"download", func(c *Craft) float64 { return c.Powertrain.Propeller.Installed },
			(1 - 0.04*math.Exp(0.50)) / (1 - 0.04)},
		{"n_P", func(c *Craft) float64 { return c.Model.parameters.Rotor.TruePitch(3*in, 3*in, 2) },
			math.Pow(3.0/8, 0.08)},
		{"V_w scale", func(c *Craft) float64 { return mustMetric(t, "winding-load").Of(c) }, math.Exp(-0.05)},
	} {
		got := x.of(evaluate(x.symbol, 1)) / x.of(plain)
		if math.Abs(got/x.factor-1) > 1e-12 {
			t.Errorf("%s: a factor of %.6g, want %.6g", x.symbol, got, x.factor)
		}
	}
}

func mustMetric(t *testing.T, name string) *Metric {
	t.Helper()
	m, ok := LookupMetric(name)
	if !ok {
		t.Fatalf("no metric %s", name)
	}
	return m
}

// A set is the model's own once it is made, and one that cannot be computed with is refused
// in one line.
func TestNewWith(t *testing.T) {
	p := Nominal()
	m, err := NewWith(Defaults(), p)
	if err != nil {
		t.Fatal(err)
	}
	p.Motor.UnderLoad = 1
	if m.Parameters() != Nominal() {
		t.Error("a model follows the set that it was made with")
	}
	for _, c := range []struct {
		set  func(*Parameters)
		want string
	}{
		{func(p *Parameters) { p.Motor.Km = -1 }, `parameter "Km scale" is -1 N m/sqrt(W), want a finite number ` +
			`above 0`},
		{func(p *Parameters) { p.Pack.Cells[3].R = math.Inf(1) },
			`parameter "18650-energy R" is +Inf ohm, want a finite number above 0`},
		{func(p *Parameters) { p.Frame.Download = 1 },
			`parameter "download" is 1, want a finite number above 0, below 1`},
		{func(p *Parameters) { p.Frame.MicroFrame = 1.2 },
			`parameter "micro frame" is 1.2, want a finite number, below 1`},
		{func(p *Parameters) { p.Rotor.PitchSmall = math.NaN() }, `parameter "n_P" is NaN, want a finite number`},
	} {
		p := Nominal()
		c.set(&p)
		if _, err := NewWith(Defaults(), p); err == nil || err.Error() != c.want || strings.Contains(err.Error(),
			"\n") {
			t.Errorf("error %v, want %s", err, c.want)
		}
	}
}
