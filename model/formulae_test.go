package model

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
)

// worked crafts are of all that formulas choose by: both builds of the frame, both
// boards, pouch and cylindrical cells, micro craft, measured motors, stated chords, thin
// air.
func workedCrafts(t *testing.T) map[string]*Craft {
	grade := func(name string) *pack.Grade {
		g, err := pack.ParseGrade(name)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	out := map[string]*Craft{}
	for name, change := range map[string]func(*Assumptions, *Design){
		"usual": func(*Assumptions, *Design) {},
		"beam, cells in parallel": func(a *Assumptions, d *Design) {
			a.PackGrade, a.FrameBuild, a.FrameFactor, a.Clearance = grade("18650-power"), frame.ByBeam, 1.3, 0.25
			d.Capacity, d.Blades, d.Cells, d.Chord = 2*2800*3.6, 2, 3, 0.15
		},
		"measured, cold, aged": func(a *Assumptions, d *Design) {
			records, err := record.Read(strings.NewReader("kind,key,quantity,value,unit,sigma\n"+
				"motor,2207 1750KV,resistance,90,mohm,2\nmotor,2207 1750KV,loss,1.2,,0.05\n"+
				"motor,2207 1750KV,chopping at 24kHz,0.7,,0.05\nmotor,2207 1750KV,mass,35,g,1 %\n"+
				"motor,2207 1750KV,cooling at 12m/s,0.25,W/K,10 %\nframe,5in,mass,95,g,1\n"+
				"pack,6S 1300mAh,mass,225,g,1\npack,6S 1300mAh,resistance,40,mohm,1\n"), "bench.csv")
			if err != nil {
				t.Fatal(err)
			}
			if a.Evidence, err = NewEvidence(nil, records); err != nil {
				t.Fatal(err)
			}
			a.PackTemperature, a.PackAged, a.PulseRate = 268.15, true, 96e3
		},
		"micro, frame weighed": func(a *Assumptions, d *Design) {
			records, err := record.Read(strings.NewReader("kind,key,quantity,value,unit,sigma\n"+
				"frame,2.4in,mass,12,g,1\n"), "scale.csv")
			if err != nil {
				t.Fatal(err)
			}
			if a.Evidence, err = NewEvidence(nil, records); err != nil {
				t.Fatal(err)
			}
			d.Diameter, d.Pitch, d.KV, d.Cells, d.Capacity = 2.4*in, 0.045, 6000, 3, 450*3.6
			d.Stator, d.Payload = motor.Stator{Diameter: 0.012, Height: 0.004}, 0
		},
		"micro, joined": func(a *Assumptions, d *Design) {
			a.Board, a.PackGrade = motor.Joined, grade("middle")
			d.Diameter, d.Pitch, d.KV, d.Cells, d.Capacity = 2.4*in, 0.045, 6000, 3, 450*3.6
			d.Stator, d.Payload = motor.Stator{Diameter: 0.012, Height: 0.004}, 0
		},
		"micro, beam, high": func(a *Assumptions, d *Design) {
			a.FrameBuild, a.Altitude, a.Charge = frame.ByBeam, 2000, 0.7
			d.Diameter, d.Pitch, d.KV, d.Cells, d.Capacity = 2.7*in, 0.045, 5000, 3, 600*3.6
			d.Stator, d.Payload = motor.Stator{Diameter: 0.014, Height: 0.004}, 0
		},
	} {
		a, d := Defaults(), freestyle
		d.KV = 1750
		change(&a, &d)
		m, err := New(a)
		if err != nil {
			t.Fatal(err)
		}
		c, err := m.Evaluate(d)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		c.Limit = 0.9
		out[name] = c
	}
	return out
}

// What is printed of a metric, a mass, a property or a power, worked out by its symbols,
// is what the code computes, and both sides of each of its equations are the same.
func TestFormulas(t *testing.T) {
	const exact = 1e-9
	crafts := workedCrafts(t)
	m, d := partDesign(t)
	for _, all := range []bool{false, true} {
		with := d
		with.Parts = asRegressed(t, m, d, all)
		with.Frame.Largest, with.Pack.Burst = 6*in, known(100)
		c, err := m.Evaluate(with)
		if err != nil {
			t.Fatal(err)
		}
		c.Limit = 1
		crafts["parts, stated: "+strconv.FormatBool(all)] = c
	}
	for name, c := range crafts {
		hold := func(what, symbol string, f Formula, want, tol float64) {
			t.Helper()
			near := func(how string, a, b float64) {
				t.Helper()
				if !(math.Abs(a-b) <= tol*math.Abs(b)) {
					t.Errorf("%s, %s: %s: %.10g, want %.10g", name, what, how, a, b)
				}
			}
			if s := f.solution(); s.Solved(symbol) {
				near("by "+s.String(), s.Value(symbol, c), want)
			}
			for _, e := range read(f.Text).Equations(c) {
				near("sides of "+f.String(), e[0], e[1])
			}
		}
		for _, m := range Metrics {
			if m.Stage == StageExplain {
				continue
			}
			tol := exact
			if m.Name == "motor-temperature" {
				tol = 2e-6 // the table of the cooling's power is within a part in 1e6
			}
			hold(m.Name, m.Symbol, m.Formula, m.Of(c), tol)
			hold(m.Name, m.Symbol, Formula{Text: m.Formula.Text}, m.Of(c), tol)
		}
		for _, p := range MassParts {
			f, _ := p.formula(c)
			hold(p.Title, "m", f, p.Of(c), exact)
		}
		for _, p := range Properties {
			f, _ := p.formula(c)
			hold(p.Title, p.Symbol, f, p.Of(c), exact)
		}
		for _, p := range AirProperties {
			f, _ := p.formula(c)
			hold(p.Title, p.Symbol, f, p.Of(c), exact)
		}
		sum := 0.0
		for _, p := range PowerParts {
			hold(p.Title, p.Symbol, p.formula, p.Of(c), exact)
			sum += p.Of(c)
		}
		if !(math.Abs(sum-c.Hover.Power) <= exact*sum) {
			t.Errorf("%s: the parts of %g W of hover come to %g W", name, c.Hover.Power, sum)
		}
	}
}
