package model

import (
	"math"
	"sync"

	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
)

// Parts are those of a design that exist. A nil one does not: the regressions size it.
type Parts struct {
	Propeller *part.Propeller
	Frame     *part.Frame
	Board     *part.Board
	Motor     *part.Motor
	Pack      *part.Pack
}

// What a stated value errs by, as the standard deviation of its logarithm (common practice):
// scales and tolerances of production for masses; meters and temperature for the resistance of
// a winding, and charge and temperature besides for that of a pack; currents without load
// that are read off a stand, and currents of packs by which they are sold; drag of frames.
const (
	labelMass           = 0.02
	labelResistance     = 0.06
	labelIdle           = 0.10
	labelPackResistance = 0.07
	labelPackCurrent    = 0.09
	labelArea           = 0.10
)

// flightController is what of the mass of a board that joins both stands with the avionics, kg
// (common practice, see motor.Parameters.BoardMass).
const flightController = 4.5e-3

// label is the error of a stated value in a draw, as a factor: that of the law of a field,
// made as small as that of a label.
func label(factor float64, field int, spread float64) float64 {
	if factor == 1 {
		return 1
	}
	return math.Pow(factor, min(1, spread/errorFields[field].spread()))
}

// MotorOf gives the motor of a design: the one that exists, with what is stated of it, or that
// of Motor. What is stated does not err but as a label does, and is not corrected by
// Assumptions.Evidence. The error says which stated value is implausible.
func (m *Model) MotorOf(d *Design) (motor.Motor, error) {
	p := d.Motor
	if p == nil {
		return m.Motor(d.Stator, d.KV), nil
	}
	made := m.parameters.Motor.New(p.Stator, p.KV, m.use())
	of := motor.Stated{Mass: p.Mass.Or(0), Resistance: p.Resistance.Or(0), IdleCurrent: p.IdleCurrent.Or(0),
		IdleVoltage: p.IdleVoltage.Or(0)}
	stated, err := made.Stating(of)
	var f motor.Scale
	known := func(factor *float64, field int, spread float64) { *factor = 1 }
	if v := m.variation; v != nil { // the nominal model has taken it
		stated, err = made.With(of), nil
		f = v.motor(p.Stator, p.KV)
		known = func(factor *float64, field int, spread float64) { *factor = label(*factor, field, spread) }
	} else {
		f = m.Assume.Evidence.Motor(p.Stator, p.KV).Scale()
	}
	if p.Mass.Known {
		known(&f.Mass, motorMassError, labelMass)
	}
	if p.Resistance.Known {
		known(&f.Resistance, motorResistance, labelResistance)
	}
	if p.IdleCurrent.Known {
		known(&f.Loss, motorLoss, labelIdle)
	}
	return stated.Scaled(f), err
}

// PackOf gives the pack of a design: the one that exists, with what is stated of it, or that of
// Pack; see MotorOf.
func (m *Model) PackOf(d *Design) (pack.Pack, error) {
	p := d.Pack
	if p == nil {
		return m.Pack(d.Cells, d.Capacity)
	}
	a := &m.Assume
	grade := a.PackGrade
	if p.Grade != nil {
		grade = p.Grade
	}
	in := pack.Condition{Temperature: a.PackTemperature, Aged: a.PackAged}
	made, err := m.parameters.Pack.New(grade, p.Cells, p.Capacity, in)
	if err != nil {
		return made, err
	}
	of := pack.Stated{Mass: p.Mass.Or(0), Resistance: p.Resistance.Or(0), Current: p.Current.Or(0),
		Burst: p.Burst.Or(0)}
	limited := p.Current.Known || p.Burst.Known
	v := m.variation
	if v == nil {
		fit := a.Evidence.Pack(grade, p.Capacity)
		unless := func(stated bool, factor float64) float64 {
			if stated {
				return 1
			}
			return factor
		}
		if made, err = made.Stating(of, in); err != nil {
			return made, err
		}
		return made.Scaled(unless(p.Mass.Known, fit.Mass.Value), unless(p.Resistance.Known, fit.Resistance.Value),
			unless(limited, fit.Limit.Value)), nil
	}
	b := v.shared.pack(p.Capacity)
	err1 := func(stated bool, field int, spread float64) float64 {
		if f := v.factor(field, b); stated {
			return label(f, field, spread)
		} else {
			return f
		}
	}
	return made.With(of, in).Scaled(err1(p.Mass.Known, packMass, labelMass),
		err1(p.Resistance.Known, packResistance, labelPackResistance),
		err1(limited, packLimit, labelPackCurrent)), nil
}

// state puts what is stated of propellers, frame and board on an airframe; own is the error of
// the mass of the propellers, as a factor.
func (m *Model) state(f *Airframe, own float64) {
	if p := f.Parts.Propeller; p != nil && p.Mass.Known {
		f.Blades = rotors * p.Mass.Value * label(own, propellerMass, labelMass)
	}
	if k := f.Parts.Frame; k != nil {
		f.Wheelbase = k.Wheelbase
		f.clearance = k.Wheelbase/frame.Wheelbase(f.Diameter, 0) - 1
		f.Frame = m.wholeFrame(k.Largest)
		if k.Mass.Known {
			own := 1.0
			if v := m.variation; v != nil {
				own = v.factor(frameMass, v.shared.frame(k.Largest))
			}
			f.Frame = k.Mass.Value * label(own, frameMass, labelMass)
		}
	}
	if b := f.Parts.Board; b != nil {
		f.Board = motor.Separate
		if b.Joined {
			f.Board = motor.Joined
		}
	}
}

// controller is that of the board that exists, or the least that there is.
func (p *Airframe) controller() motor.Controller {
	if b := p.Parts.Board; b != nil {
		return p.by.Motor.Rated(b.Current)
	}
	return p.by.Motor.Rated(motor.MinRating)
}

// boardMass is that of what carries the controllers, kg, besides what stands with the avionics.
func (p *Airframe) boardMass(c motor.Controller) float64 {
	b := p.Parts.Board
	switch {
	case b == nil || !b.Mass.Known:
		return p.by.Motor.BoardMass(p.Board, c)
	case b.Joined:
		return max(0, b.Mass.Value-flightController)
	}
	return b.Mass.Value
}

// beams says whether arms are sized for crafts of some parts: those of a frame that exists are
// its own.
func (m *Model) beams(of *Parts) bool { return of.Frame == nil && m.Assume.FrameBuild == frame.ByBeam }

// hull is what is known of the drag of crafts of some parts.
func (m *Model) hull(of *Parts) flight.Hull {
	h := flight.Hull{Payload: m.Assume.PayloadArea}
	if k := of.Frame; k != nil && k.Area.Known {
		h.Area = k.Area.Value
		if v := m.variation; v != nil && v.base != nil {
			err := m.parameters.Flight.BodyDrag / v.base.Flight.BodyDrag
			h.Area *= math.Pow(err, labelArea/parameterSpread("body drag")())
		}
	}
	return h
}

// PropellerFor is Propeller for a design, with those of its parts that stand on the airframe.
func (m *Model) PropellerFor(d *Design) (p *Propeller, err error) {
	of := d.Propeller
	if of != nil && of.Geometry != nil {
		p, err = m.PropellerOf(*of.Geometry)
	} else {
		p, err = m.Propeller(d.Diameter, d.Pitch, d.Blades, d.Chord)
	}
	if err != nil || of == nil && d.Frame == nil && d.Board == nil {
		return p, err
	}
	p.Airframe = m.AirframeOf(p.Diameter, p.Geometry.Blades, &Parts{Propeller: of})
	return m.Mount(p, &d.Parts), nil
}

// Mount is a propeller of this model on the frame and with the board of some parts. Its table is
// not solved anew; its flight is traced anew where the frame leaves another share of its thrust
// or has another drag area. It is p itself where frame and board are its own.
func (m *Model) Mount(p *Propeller, of *Parts) *Propeller {
	if of.Frame == p.Parts.Frame && of.Board == p.Parts.Board {
		return p
	}
	q := *p
	q.Airframe = m.AirframeOf(p.Diameter, p.Geometry.Blades,
		&Parts{Propeller: p.Parts.Propeller, Frame: of.Frame, Board: of.Board})
	installed := m.installed(q.clearance)
	if installed == p.Installed && m.hull(&q.Parts) == m.hull(&p.Parts) {
		return &q
	}
	if installed != p.Installed {
		q.Propulsor = flight.NewPropulsor(p.Table, p.Diameter, p.Density, installed)
	}
	m.trace(&q, m.solvedOf(p.solver, installed))
	return &q
}

// trace has the flight of a propeller traced when it is first asked for.
func (m *Model) trace(p *Propeller, k solved) {
	by, h := &m.parameters.Flight, m.hull(&p.Parts)
	p.envelope = sync.OnceValue(func() *flight.Envelope {
		return k.envelope(by, &p.Propulsor, p.lightest, h)
	})
	p.bodies = sync.OnceValue(func() *flight.Envelopes {
		return k.envelopes(by, &p.Propulsor, p.Envelope(), p.lightest, h)
	})
}

// Given is a value of a part that exists and whether it is stated; otherwise the regressions
// give it, or there is no such limit or price.
type Given struct {
	Part, Value string // "motor", "mass"
	Stated      bool
}

// Given lists what the parts of a craft may state, in the order of propeller, frame, board, motor
// and pack. What makes a part, such as the diameter of a propeller, is always stated.
func (p *Parts) Given() (all []Given) {
	add := func(of string, values ...any) {
		for i := 0; i < len(values); i += 2 {
			all = append(all, Given{of, values[i].(string), values[i+1].(part.Stated).Known})
		}
	}
	if k := p.Propeller; k != nil {
		add("propeller", "mass", k.Mass, "chord", k.Chord, "turns", k.Turns, "price", k.Price)
		all = append(all, Given{"propeller", "blade", k.Geometry != nil})
	}
	if k := p.Frame; k != nil {
		add("frame", "mass", k.Mass, "drag area", k.Area, "price", k.Price)
	}
	if k := p.Board; k != nil {
		add("board", "mass", k.Mass, "price", k.Price)
	}
	if k := p.Motor; k != nil {
		add("motor", "mass", k.Mass, "resistance", k.Resistance, "idle current", k.IdleCurrent, "current", k.Current,
			"burst time", k.Burst, "cells", k.MostCells, "price", k.Price)
	}
	if k := p.Pack; k != nil {
		add("pack", "mass", k.Mass, "resistance", k.Resistance, "current", k.Current, "burst", k.Burst,
			"price", k.Price)
		all = append(all, Given{"pack", "grade", k.Grade != nil})
	}
	return all
}
