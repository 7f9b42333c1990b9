// Package bench is the thrust stand: what one would show of a motor and a propeller,
// what one has shown, where the two differ, and what that says of motor and propeller.
// It prints nothing.
//
// The way in is a Rig; Read for measurements, of which File.Of takes those of the rig;
// Rig.Compare; Rig.Fit. A stand without a torque cell cannot tell the propeller's
// power from the motor's losses, nor a speed constant from a highest duty: the fit says
// what it leaves open.
package bench

import (
	"math"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/rotor"
)

// Rig is one motor with one propeller on a stand.
type Rig struct {
	flight.Stand
	Rotor *rotor.Solver // the propeller in its air
	Told  model.Told    // what is known of the propeller itself
	Use   motor.Use     // of the motor
	// RateKnown says that the pulse rate is that of the stand's controller, not one
	// assumed in its place: the chopping loss goes with its inverse square.
	RateKnown bool

	// As sold: which measurements are those of the rig follows from these.
	Diameter, Pitch float64 // m; Pitch 0 is that of a blade which is given by its shape
	Blades          int
	Chord           float64 // over the radius, at 75 % radius; 0 for the usual one
}

// State is a steady state of a rig.
type State struct {
	flight.StandPoint
	TipMach float64
	Soon    float64  // temperature of the windings WarmTime after a start at the air's, K
	Rest    float64  // their steady temperature, K; motor.Hottest or above is motor.Hottest
	By      []string // what bounds it, see flight.Stand.Bounds
	Outside []model.StateMark
}

// WarmTime is that of State.Soon in s.
const WarmTime = 10.0

// State adds to a point of the stand what limits it and how warm it gets.
func (r *Rig) State(p flight.StandPoint) State {
	a := r.Rotor.Air()
	h := r.Heat(&p, a.Temperature)
	s := State{
		StandPoint: p,
		TipMach:    r.Rotor.TipMach(p.Speed),
		Soon:       r.Motor.After(h, a.Temperature, WarmTime),
		Rest:       r.Motor.Steady(h),
		By:         r.Bounds(&p),
		Outside:    append(model.Outside(r.Rotor, 0, p.Speed, p.Thrust), model.Beyond(r.Rotor, p.Speed, r.Told)...),
	}
	outside := func(of model.Subject) { s.Outside = append(s.Outside, model.StateMark{Of: of}) }
	if !r.Motor.Stator.InRange() {
		outside(model.OfStator)
	}
	if !(r.Controller.Rating >= motor.MinRating && r.Controller.Rating <= motor.MaxRating) {
		outside(model.OfRating)
	}
	if s.Rest > motor.BurstLimit {
		outside(model.OfHeat)
	}
	return s
}

// finite says whether v is neither infinite nor NaN.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
