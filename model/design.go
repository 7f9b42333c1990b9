// Package model turns a design and the assumptions it is judged under into
// metrics: one mass build-up, one set of operating points, one registry of
// metrics. It knows nothing of grids.
//
// Evaluation is cut where its inputs part, so that a sweep can keep what does
// not change: a Propeller needs no motor, a Powertrain no payload. Evaluate
// puts the same pieces together for one design; there is no second physics. The
// way in is New, Model.Evaluate, and the metrics of a craft through LookupMetric.
package model

import (
	"fmt"
	"strconv"

	"rotorsieve/model/air"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// Version names the physics. It changes whenever a result may change, so that
// results of different versions are never mixed.
const Version = "8"

// Other says how another version of the model compares with this one, such as
// "5, older than 6 of this program"; "" for this one.
func Other(version string) string {
	if version == Version {
		return ""
	}
	v, err := strconv.Atoi(version)
	if err != nil {
		return fmt.Sprintf("%.40q, not %s of this program", version, Version)
	}
	if now, err := strconv.Atoi(Version); err == nil && v > now {
		return fmt.Sprintf("%d, newer than %s of this program", v, Version)
	}
	return fmt.Sprintf("%d, older than %s of this program", v, Version)
}

// Design is what a sizing engineer chooses. SI units.
type Design struct {
	Diameter float64 // propeller, m
	Pitch    float64 // propeller, m
	Blades   int
	Chord    float64 // at 75 % radius over the radius; 0 for the default of that diameter
	Stator   motor.Stator
	KV       float64 // rpm/V
	Cells    int     // in series
	Capacity float64 // A s
	Payload  float64 // kg

	Parts // of the numbers above, what exists
}

// Assumptions are what is held fixed while designs vary, see AssumptionDefs. SI units.
type Assumptions struct {
	Altitude        float64 // m, geopotential
	Temperature     float64 // K of the air; 0 for the standard atmosphere's
	PackGrade       *pack.Grade
	PackTemperature float64 // K
	PackAged        bool
	Winding         float64   // temperature of the windings, K
	PulseRate       float64   // of the speed controllers below full duty, Hz
	Charge          float64   // state of charge at which full throttle is judged, 0..1
	PackLoad        float64   // most current of the pack in level flight, over its burst limit
	CellMargin      float64   // least loaded voltage of a cell in level flight above the floor, V; may be below 0
	FrameFactor     float64   // on the regression of the frame's mass
	Clearance       float64   // between neighbouring discs, in diameters
	Avionics        float64   // flight controller, receiver, camera, image link: kg
	AvionicsPower   float64   // W
	Like            Reference // craft to feel like; the zero reference is none
	PayloadArea     float64   // frontal area that a payload adds, m2, with a drag coefficient of 1
	FrameBuild      frame.Build
	Board           motor.Board // that carries the speed controllers
	CrashLoad       float64     // at the tip of an arm, over the weight; of a frame built by beam
	ArmDetuning     float64     // least ratio between the arms' first bending and rotor speed in hover; of the same
	HardShare       float64     // share of a flight flown hard, 0..1
	ThrustReserve   float64     // least thrust to weight at the ceiling and late in the discharge
	TiltLimit       float64     // most tilt in level flight, rad; pi/2 sets no limit
	Airspeed        float64     // of level flight that is asked for, m/s; 0 for none
	Wind            float64     // m/s
	LandingReserve  float64     // share of the usable charge that is left after every time and range
	Usable          float64     // share of the capacity that a flight may draw; 0 for that of the grade

	Evidence *Evidence // what was measured of parts, which corrects the model; nil for nothing
}

// Bound is the accepted range of a quantity, both ends included, in SI units.
type Bound struct{ Min, Max float64 }

// Accepted ranges of the inputs, in SI units; a range of one assumption alone is in its
// entry of AssumptionDefs. Validity of the results is narrower: see Warnings.
var (
	DiameterBound    = Bound{0.0254 * 2, 0.0254 * 12}
	PitchRatioBound  = Bound{0.1, 2}
	BladesBound      = Bound{2, 8}
	ChordBound       = Bound{0.05, 0.4}
	KVBound          = Bound{50, 50000}
	CellsBound       = Bound{1, 14}
	CapacityBound    = Bound{3.6 * 50, 3.6 * 50000}
	PayloadBound     = Bound{0, 20}
	StatorDBound     = Bound{0.005, 0.060}
	StatorHBound     = Bound{0.002, 0.040}
	AltitudeBound    = Bound{-500, 11000}
	TemperatureBound = Bound{223.15, 333.15}
	ReserveBound     = Bound{1, 10}
	AirspeedBound    = Bound{1, 100}
)

// Contains says whether v lies within the bound; a part in 1e9 is forgiven for
// what converting units rounds.
func (b Bound) Contains(v float64) bool {
	tol := 1e-9 * (b.Max - b.Min)
	return v >= b.Min-tol && v <= b.Max+tol
}

// Model is the assumptions with the air and what follows from them; it builds and
// evaluates crafts.
type Model struct {
	Assume Assumptions
	Air    air.Air
	Store  Store // of what was solved before, to be set before propellers are built; nil for none

	parameters Parameters  // which do not change: what the model builds points to them
	cells      *pack.Grade // of the packs, as they are flown
	variation  *variation  // of a draw; nil of a nominal model
}

// New prepares a model with the nominal parameters. It returns an error where an
// assumption lies outside its accepted range.
func New(a Assumptions) (*Model, error) { return NewWith(a, Nominal()) }
