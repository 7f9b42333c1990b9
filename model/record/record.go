// Package record reads and writes what was measured of propellers, motors, frames, packs
// and whole crafts, in the one format that all commands take and give: CSV with the
// header
//
//	kind,key,quantity,value,unit,sigma
//
// one measured value a line, with its uncertainty of one standard deviation:
//
//	propeller,5x4x3,thrust at 20000rpm,412,g,3 %
//	motor,2207 1750KV,resistance,58,mohm,2
//	frame,5in,mass,92,g,1
//	pack,4S 1300mAh,mass,155,g,1
//	craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,121,W,3 %
//
// Inside, values are in SI units (KV in rpm/V); see unit.Kind.
package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model/unit"
)

// The kinds of things that records are of.
const (
	Propeller = "propeller"
	Motor     = "motor"
	Frame     = "frame"
	Pack      = "pack"
	Craft     = "craft"
)

// Subject is what was measured. Comparable: two records of one thing have equal
// subjects. Fields that the kind does not need are zero.
type Subject struct {
	Kind string

	Diameter, Pitch float64 // of a propeller as sold, m; of a frame the diameter that it is for
	Blades          int
	Chord           float64 // over the radius, at 75 % radius; 0 for the usual one of the diameter

	Stator float64 // of a motor: trade code DDHH, see unit.StatorSize
	KV     float64 // of the label, rpm/V

	Cells    int     // of a pack, in series
	Capacity float64 // of the label, A s
	Grade    string  // of the cells, as pack.ParseGrade takes it; "" for that of the study

	AllUp float64 // all-up weight of a craft, kg
}

// Conditions are those that a value was measured in; zero where the quantity
// has none.
type Conditions struct {
	N           float64 // of a propeller, rev/s
	Voltage     float64 // of an idle current, V
	Altitude    float64 // of the air of a propeller, a cooled motor or a craft, m
	Temperature float64 // of the same, K; 0 for the standard atmosphere's
	PulseRate   float64 // of the controller of a motor, Hz
	Wash        float64 // speed of the air that cools a motor, m/s
}

// Quantity is one that may be measured of a kind of thing.
type Quantity struct {
	Kind    string // of the subject
	Name    string
	Meaning string

	of     *unit.Kind
	usual  string     // symbol of the unit that records are written in
	along  *unit.Kind // of the condition that it needs; nil for none
	inAir  bool       // the air may be stated
	inMass bool       // a thrust, which the trade writes as the mass it supports
}

// The quantities.
var (
	CT = &Quantity{Kind: Propeller, Name: "CT", of: unit.Ratio, along: unit.Rotation, inAir: true,
		Meaning: "thrust coefficient at rest, T/(rho n2 D4)"}
	CP = &Quantity{Kind: Propeller, Name: "CP", of: unit.Ratio, along: unit.Rotation, inAir: true,
		Meaning: "power coefficient at rest, P/(rho n3 D5)"}
	Thrust = &Quantity{Kind: Propeller, Name: "thrust", of: unit.Force, usual: "gf", along: unit.Rotation, inAir: true,
		inMass: true, Meaning: "of one propeller at rest"}
	ShaftPower = &Quantity{Kind: Propeller, Name: "shaft-power", of: unit.Power, usual: "W", along: unit.Rotation,
		inAir: true, Meaning: "that one propeller takes at rest"}

	KV = &Quantity{Kind: Motor, Name: "KV", of: unit.SpeedConstant, usual: "KV",
		Meaning: "speed constant that the motor has in place of the label's, on the label's scale: under load the " +
			"model takes " +
			"0.86 of it"}
	Resistance = &Quantity{Kind: Motor, Name: "resistance", of: unit.Resistance, usual: "mohm",
		Meaning: "of the winding between two leads, at 20 degC"}
	IdleCurrent = &Quantity{Kind: Motor, Name: "idle-current", of: unit.Current, usual: "A", along: unit.Voltage,
		Meaning: "without a propeller, at full throttle"}
	Mass     = &Quantity{Kind: Motor, Name: "mass", of: unit.Mass, usual: "g", Meaning: "of the motor with its leads"}
	Loss     = &Quantity{Kind: Motor, Name: "loss", of: unit.Ratio, Meaning: "factor on the loss torque of the model"}
	Chopping = &Quantity{Kind: Motor, Name: "chopping", of: unit.Ratio, along: unit.Frequency,
		Meaning: "factor on the loss of the model from chopping below full duty, at the pulse rate of the " +
			"controller; the " +
			"model's loss goes with the inverse square of that, and at another rate it is the same factor on the " +
			"loss there"}
	Cooling = &Quantity{Kind: Motor, Name: "cooling", of: unit.Conductance, usual: "W/K", along: unit.Speed,
		inAir: true,
		Meaning: "heat that the motor passes to an air of that speed for each kelvin of its winding above it, " +
			"steady: what it loses, over that difference; behind a propeller the speed is that of the developed " +
			"slipstream"}

	FrameMass = &Quantity{Kind: Frame, Name: "mass", of: unit.Mass, usual: "g",
		Meaning: "of plates and arms of the frame, without strap, pads, screws and standoffs, motors and boards"}

	PackMass = &Quantity{Kind: Pack, Name: "mass", of: unit.Mass, usual: "g",
		Meaning: "of the pack with its leads and connector"}
	PackResistance = &Quantity{Kind: Pack, Name: "resistance", of: unit.Resistance, usual: "mohm",
		Meaning: "of the whole pack with its leads and connector, new, at 25 degC: the fall of its voltage over the " +
			"step of its current, within seconds"}
	CurrentLimit = &Quantity{Kind: Pack, Name: "current-limit", of: unit.Current, usual: "A",
		Meaning: "that the pack gives for 10 s, new, at 25 degC, at least half charged, before its loaded voltage " +
			"falls to the floor (3.3 V a cell of LiPo, 2.9 V of Li-ion): the model's current for seconds, twice the " +
			"continuous one"}

	HoverPower = &Quantity{Kind: Craft, Name: "hover-power", of: unit.Power, usual: "W", inAir: true,
		Meaning: "that the pack of the craft gives in steady hover in still air, out of ground effect, mean over the " +
			"usable charge: voltage times current, all that does not turn included"}
)

// Quantities lists all known quantities.
var Quantities = []*Quantity{
	CT, CP, Thrust, ShaftPower,
	KV, Resistance, IdleCurrent, Mass, Loss, Chopping, Cooling,
	FrameMass,
	PackMass, PackResistance, CurrentLimit,
	HoverPower,
}

// Kinds lists all known kinds.
var Kinds = []string{Propeller, Motor, Frame, Pack, Craft}

// lookup finds a quantity of a kind; nil where there is none.
func lookup(kind, name string) *Quantity {
	at := slices.IndexFunc(Quantities, func(q *Quantity) bool { return q.Kind == kind && q.Name == name })
	if at < 0 {
		return nil
	}
	return Quantities[at]
}

// Record is one measured value.
type Record struct {
	Subject  Subject
	Quantity *Quantity
	At       Conditions
	Value    float64 // in SI units, above 0
	Sigma    float64 // one standard deviation, as the value, at least 0: a value without uncertainty is taken as it is
	Unit     string  // symbol that it was written in; "" for the usual one
	Place    string  // file:line that it was read from; "" for none
}

// Relative is the uncertainty over the value: about that of its logarithm.
func (r *Record) Relative() float64 { return r.Sigma / r.Value }

// check says what in a record is impossible.
func (r *Record) check() error {
	switch {
	case r.Quantity == nil || r.Quantity.Kind != r.Subject.Kind:
		return fmt.Errorf("%s: no such quantity; want %s", r.Subject.Kind, strings.Join(namesOf(r.Subject.Kind), ", "))
	case !(r.Value > 0) || math.IsInf(r.Value, 0):
		return fmt.Errorf("value %g; want a positive number", r.Value)
	case !(r.Sigma >= 0) || math.IsInf(r.Sigma, 0):
		return fmt.Errorf("sigma %g; want it at least 0, in the unit of the value or as a per cent of it, such as 3 %%",
			r.Sigma)
	case r.Sigma > r.Value:
		return fmt.Errorf("sigma %.3g is larger than the value %.3g; want an uncertainty of at most 100 %%", r.Sigma,
			r.Value)
	case r.Quantity.along == unit.Rotation && !(r.At.N > 0), r.Quantity.along == unit.Voltage && !(r.At.Voltage > 0),
		r.Quantity.along == unit.Frequency && !(r.At.PulseRate > 0), r.Quantity.along == unit.Speed && !(r.At.Wash > 0):
		return fmt.Errorf("%s without %s; want it as %s", r.Quantity.Name, r.Quantity.along.Name(),
			r.Quantity.example())
	}
	return r.Subject.check()
}

// Has says whether a subject has a part of a kind: a craft has a propeller, a motor and
// a pack.
func (s *Subject) Has(kind string) bool {
	return s.Kind == kind || s.Kind == Craft && kind != Frame
}

// check says what in a subject is impossible.
func (s *Subject) check() error {
	const (
		inch          = 0.0254
		mAh           = 3.6
		lightest      = 0.01 // kg
		heaviest      = 50   // kg
		least, most   = 50 * mAh, 50000 * mAh
		fewest, cells = 1, 14
	)
	propeller, pack := s.Has(Propeller), s.Has(Pack)
	switch {
	case (propeller || s.Kind == Frame) && !(s.Diameter >= 0.02 && s.Diameter <= 1):
		return fmt.Errorf("diameter of %.4g in; want 0.8 to 39 in", s.Diameter/inch)
	case propeller && !(s.Pitch >= 0.1*s.Diameter*(1-1e-9) && s.Pitch <= 2*s.Diameter*(1+1e-9)):
		return fmt.Errorf("pitch of %.4g in; want 0.1 to 2 diameters", s.Pitch/inch)
	case propeller && (s.Blades < 2 || s.Blades > 8):
		return fmt.Errorf("%d blades; want 2 to 8", s.Blades)
	case propeller && s.Chord != 0 && !(s.Chord >= 0.03 && s.Chord <= 0.5):
		return fmt.Errorf("chord %.4g of the radius; want 0.03 to 0.5", s.Chord)
	case s.Has(Motor) && !(s.KV > 0 && s.KV <= 1e5):
		return fmt.Errorf("%g KV; want above 0, at most 100000", s.KV)
	case pack && (s.Cells < fewest || s.Cells > cells):
		return fmt.Errorf("%d cells in series; want %d to %d", s.Cells, fewest, cells)
	case pack && !(s.Capacity >= least && s.Capacity <= most):
		return fmt.Errorf("capacity of %.6g mAh; want %g to %g mAh", s.Capacity/mAh, least/mAh, most/mAh)
	case s.Kind == Craft && !(s.AllUp >= lightest && s.AllUp <= heaviest):
		return fmt.Errorf("all-up weight of %.4g g; want %g g to %g kg", s.AllUp*1e3, lightest*1e3, float64(heaviest))
	}
	return nil
}

// namesOf lists the quantities of a kind.
func namesOf(kind string) (names []string) {
	for _, q := range Quantities {
		if q.Kind == kind {
			names = append(names, q.Name)
		}
	}
	return names
}

// Contradiction names the first two records of one quantity of one thing, in the
// same conditions, that differ by more than 5 of their uncertainties: the error
// starts with the place of the later.
func Contradiction(all []Record) error {
	const most = 5
	type what struct {
		Subject
		*Quantity
		Conditions
	}
	seen := map[what][]*Record{}
	for i := range all {
		r := &all[i]
		k := what{r.Subject, r.Quantity, r.At}
		for _, o := range seen[k] {
			d := math.Abs(r.Value-o.Value) / math.Hypot(r.Sigma, o.Sigma)
			switch {
			case math.IsInf(d, 1):
				return fmt.Errorf("%s: %s %s is %s, but %s at %s, both without uncertainty; want a sigma above 0, "+
					"or one of "+
					"the two", r.Place, r.Subject.Key(), r.quantity(), r.shown(), o.shown(), o.Place)
			case d > most:
				return fmt.Errorf("%s: %s %s is %s, but %s at %s: %.0f of their sigmas apart; "+
					"want at most %d, larger sigmas, or one of the two",
					r.Place, r.Subject.Key(), r.quantity(), r.shown(), o.shown(), o.Place, d, most)
			}
		}
		seen[k] = append(seen[k], r)
	}
	return nil
}
