package model

import "fmt"

// ErrNoOperatingPoint says that a design cannot hover at the pack's mean voltage,
// or has no full-throttle point within the speeds that the rotor model covers and
// the power that its pack gives. Craft.Lacking says which.
var ErrNoOperatingPoint = fmt.Errorf("no operating point")

// Evaluate computes one design from start to end. It returns ErrNoOperatingPoint
// with a craft of which only the mass is known, or an error that says which
// input is outside its range.
func (m *Model) Evaluate(d Design) (*Craft, error) {
	if err := d.Check(); err != nil {
		return nil, err
	}
	p, err := m.PropellerFor(&d)
	if err != nil {
		return nil, err
	}
	return m.Complete(p, d)
}

// EvaluateAs is Evaluate of a design that has been built, see CompleteAs.
func (m *Model) EvaluateAs(d Design, built *Powertrain) (*Craft, error) {
	if err := d.Check(); err != nil {
		return nil, err
	}
	p, err := m.PropellerFor(&d)
	if err != nil {
		return nil, err
	}
	return m.CompleteAs(p, d, built)
}

// Complete evaluates a design on a propeller that has been built for it, on whichever frame
// and board.
func (m *Model) Complete(p *Propeller, d Design) (*Craft, error) { return m.CompleteAs(p, d, nil) }

// CompleteAs is Complete of a design that has been built as the powertrain of its craft under other
// assumptions says, see PowerAs; nil sizes it by these.
func (m *Model) CompleteAs(p *Propeller, d Design, built *Powertrain) (*Craft, error) {
	k, err := m.PackOf(&d)
	if err != nil {
		return nil, err
	}
	mot, err := m.MotorOf(&d)
	if err != nil {
		return nil, err
	}
	var t Powertrain
	m.power(&t, m.Mount(p, &d.Parts), &mot, &k, built)
	t.Parts = d.Parts
	c := new(Craft)
	c.Load(m, &t, d.Payload)
	if !c.Operate() {
		return c, ErrNoOperatingPoint
	}
	c.Endure()
	c.Fly()
	c.Burst()
	return c, nil
}

// Check returns an error that names the input outside its accepted range.
func (d Design) Check() error {
	for _, c := range []struct {
		what  string
		v     float64
		bound Bound
		scale float64
		unit  string
	}{
		{"diameter", d.Diameter, DiameterBound, 1 / 0.0254, "in"},
		{"pitch over diameter", d.Pitch / d.Diameter, PitchRatioBound, 1, ""},
		{"blade count", float64(d.Blades), BladesBound, 1, ""},
		{"stator diameter", d.Stator.Diameter, StatorDBound, 1e3, "mm"},
		{"stator height", d.Stator.Height, StatorHBound, 1e3, "mm"},
		{"KV", d.KV, KVBound, 1, "rpm/V"},
		{"cell count", float64(d.Cells), CellsBound, 1, ""},
		{"capacity", d.Capacity, CapacityBound, 1 / 3.6, "mAh"},
		{"payload", d.Payload, PayloadBound, 1e3, "g"},
	} {
		if !c.bound.Contains(c.v) {
			return fmt.Errorf("%s of %.6g is outside %.6g to %.6g%s", c.what, c.v*c.scale, c.bound.Min*c.scale,
				c.bound.Max*c.scale, spaced(c.unit))
		}
	}
	if d.Chord != 0 && !ChordBound.Contains(d.Chord) {
		return fmt.Errorf("chord of %.6g is outside %.6g to %.6g of the radius", d.Chord, ChordBound.Min,
			ChordBound.Max)
	}
	return nil
}

func spaced(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}
