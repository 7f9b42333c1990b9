package list

import (
	"errors"
	"math"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
)

// What a part may state beside what the regressions have for its size. Each factor is far
// beyond what parts scatter by and short of a wrong unit: ounces for grams are a factor of
// 28, kilograms or ohms one of 1000. Motors have theirs from motor.Motor.Stating.
const (
	// Cells of one chemistry hold 120 to 270 Wh/kg from the highest rate to the most energy,
	// which grades cover; half and twice that is no pack (common practice).
	packMass = 2
	// Resistances of packs of one size scatter by about 40 %, and cold or aged packs by twice
	// that (common practice).
	packResistance = 5
	// Propellers of glass, wood, carbon or that fold scatter by a half (common practice).
	propellerMass = 3
	// Frames weigh 0.85 to 1.3 of the usual one, the barest a fifth, those with ducts three
	// times as much (common practice).
	frameMass = 5
	// Boards with and without heat sink, flight controller and plugs (common practice).
	boardMass = 4
	// Diagonal over that of discs that touch: stretched frames reach 1.5 (common practice).
	wheelbaseMost = 3
)

// C rates that labels have: the highest are more than any pack gives (common practice).
const leastRate, mostRate = 0.5, 300

// rounded is how far a rate may be past a bound that a current was made of.
const rounded = 1e-9

// Speeds of the tip at which makers end a propeller, in m/s: slow ones of wood at a tenth
// of the speed of sound, none at that speed (common practice).
const leastTip, mostTip = 30, 340

// beyond says that a value is not within a factor of what the model has; nil where it is.
// symbol is that of a unit of which a thousand make the SI unit.
func beyond(column string, s part.Stated, least, most, factor float64, symbol, of string) *fault {
	least, most = least/factor, most*factor
	if !s.Known || s.Value >= least && s.Value <= most {
		return nil
	}
	return amiss(column, "%.4g %s is not that of %s, want %.3g to %.3g %s", 1e3*s.Value, symbol, of, 1e3*least,
		1e3*most, symbol)
}

func checkMotor(m *part.Motor) *fault {
	s := m.Stator
	if d, h := model.StatorDBound, model.StatorHBound; !d.Contains(s.Diameter) || !h.Contains(s.Height) {
		return amiss("stator", "%.4g by %.4g mm is out of bounds, want %g to %g by %g to %g mm, such as 2207",
			1e3*s.Diameter, 1e3*s.Height, 1e3*d.Min, 1e3*d.Max, 1e3*h.Min, 1e3*h.Max)
	}
	switch {
	case m.IdleCurrent.Known && !m.IdleVoltage.Known:
		return amiss("idle current", "stated without an idle voltage (V), want both or neither")
	case m.IdleVoltage.Known && !m.IdleCurrent.Known:
		return amiss("idle voltage", "stated without an idle current (A), want both or neither")
	case m.Burst.Known && !m.Current.Known:
		return amiss("burst time", "stated without a current (A), want both, or the current alone")
	}
	is := motor.Stated{Mass: m.Mass.Value, Resistance: m.Resistance.Value, IdleCurrent: m.IdleCurrent.Value,
		IdleVoltage: m.IdleVoltage.Value}
	_, err := motor.New(s, m.KV, motor.Use{Winding: 293.15, PulseRate: motor.StandPulseRate}).Stating(is)
	if e, ok := errors.AsType[*motor.StatedError](err); ok {
		of := e.Of
		if of == "idle" {
			of = "idle current"
		}
		return amiss(of, "%s", e.Error())
	}
	return nil
}

func checkPropeller(p *part.Propeller) *fault {
	if r, b := p.Pitch/p.Diameter, model.PitchRatioBound; !b.Contains(r) {
		return amiss("pitch", "%.4g in on a diameter of %.4g in is a ratio of %.3g, want %g to %g", p.Pitch/inch,
			p.Diameter/inch, r, b.Min, b.Max)
	}
	by := frame.Nominal()
	usual := by.PropellerMass(p.Diameter, p.Blades)
	if f := beyond("mass", p.Mass, usual, usual, propellerMass, "g", "one propeller of the size"); f != nil {
		return f
	}
	if tip := math.Pi * p.Diameter * p.Turns.Value; p.Turns.Known && !(tip >= leastTip && tip <= mostTip) {
		rpm := func(tip float64) float64 { return 60 * tip / (math.Pi * p.Diameter) }
		return amiss("max rpm", "%.4g rpm is a tip speed of %.3g m/s, want %.3g to %.3g rpm", 60*p.Turns.Value, tip,
			rpm(leastTip), rpm(mostTip))
	}
	if p.Blade != "" && p.Chord.Known {
		return amiss("chord", "stated beside a blade file, which has its own, want one of them")
	}
	return nil
}

const inch = 0.0254 // m

// checkPack takes rates as currents as well.
func checkPack(p *packRow) *fault {
	for _, of := range []struct {
		column   string
		rate, to *part.Stated
	}{{"rate", &p.rate, &p.Current}, {"burst rate", &p.burstRate, &p.Burst}} {
		switch {
		case of.rate.Known && of.to.Known:
			return amiss(of.column, "stated beside the current, want one of them")
		case of.rate.Known:
			*of.to = part.Stated{Value: of.rate.Value * p.Capacity / 3600, Known: true}
		case of.to.Known:
			rate := of.to.Value / p.Capacity * 3600
			if !(rate >= leastRate*(1-rounded) && rate <= mostRate*(1+rounded)) {
				return amiss(map[string]string{"rate": "current", "burst rate": "burst current"}[of.column],
					"%.4g A is %.3g times the capacity in an hour, want %g to %d times", of.to.Value, rate, leastRate,
					mostRate)
			}
		}
	}
	if p.Current.Known && p.Burst.Known && p.Burst.Value < p.Current.Value {
		return amiss("burst current", "%.4g A is less than the continuous %.4g A, want at least that", p.Burst.Value,
			p.Current.Value)
	}
	grades := pack.Grades
	if p.Grade != nil {
		grades = []*pack.Grade{p.Grade}
	}
	by := pack.Nominal()
	mass, resistance := [2]float64{math.Inf(1), 0}, [2]float64{math.Inf(1), 0}
	for _, g := range grades {
		usual, err := by.New(g, p.Cells, p.Capacity, pack.Condition{Temperature: 298.15})
		if err != nil { // cylindrical cells have capacities of their own
			if p.Grade != nil {
				return amiss("capacity", "%v", err)
			}
			continue
		}
		mass = [2]float64{min(mass[0], usual.Mass), max(mass[1], usual.Mass)}
		resistance = [2]float64{min(resistance[0], usual.R), max(resistance[1], usual.R)}
	}
	const of = "a pack of these cells and capacity"
	if f := beyond("mass", p.Mass, mass[0], mass[1], packMass, "g", of); f != nil {
		return f
	}
	return beyond("resistance", p.Resistance, resistance[0], resistance[1], packResistance, "mohm", of)
}

func checkFrame(f *part.Frame) *fault {
	touch := math.Sqrt2 * f.Largest
	if f.Wheelbase < touch*(1-1e-9) || f.Wheelbase > wheelbaseMost*touch {
		return amiss("wheelbase", "%.4g mm, but discs of %.4g in touch at %.4g mm: want %.4g to %.4g mm",
			1e3*f.Wheelbase, f.Largest/inch, 1e3*touch, 1e3*touch, 1e3*wheelbaseMost*touch)
	}
	by := frame.Nominal()
	usual := by.Mass(f.Largest, 1)
	return beyond("mass", f.Mass, usual, usual, frameMass, "g", "a frame for that propeller")
}

func checkBoard(b *part.Board) *fault {
	by := motor.Nominal()
	c := by.Rated(b.Current)
	alone := by.BoardMass(motor.Separate, c)
	most := alone
	if b.Joined {
		most += flightController
	}
	return beyond("mass", b.Mass, alone, most, boardMass, "g", "a board of that current")
}

// flightController is the mass that one has on a joined board, kg (common practice).
const flightController = 0.0045
