package model

// Mark says what of a craft lies outside one limit, or beyond what was measured at
// its size. It wraps the limit, which is its kind; package report phrases it from Limit,
// Of and At.
type Mark struct {
	Limit *Validity // one of Validities
	Of    Subject
	At    Moment
	Value float64 // of the subject, see there; SI
	Other float64 // its second value, 0 for none
}

// Subject is what of a craft, of a rotor's state or of a stand's a mark speaks of.
type Subject int

// Subjects, with the values of a Mark.
const (
	OfDiameter     Subject = iota // of the propeller
	OfCorrection                  // share of the propeller's correction that is measured, 0 for none
	OfMass                        // all-up weight
	OfAir                         // temperature of the air
	OfPack                        // temperature of the pack
	OfStator                      // diameter; other: height
	OfTipMach                     // other: the highest that was measured, where it is beyond
	OfReynolds                    // at 75 % radius
	OfRating                      // of a controller, A
	OfJoinedRating                // of a controller on a board with the flight controller, A
	OfHeat                        // temperature of the windings when steady; +Inf where they run away
	OfLevelFlight                 // no value: the propellers do not carry the weight within the rotor model
	OfTopSpeed                    // bounded by the rotor model
	OfInFlow                      // flow along the disc over tip speed
	OfBlades                      // diameter of the propeller; other: number of blades
	OfAdvance                     // advance ratio of a rotor's state
)

// Moment is the state of a craft that a mark speaks of.
type Moment int

// Moments.
const (
	Always       Moment = iota
	FullThrottle        // at rest
	Hovering
	Cruising // at the airspeed of least power
	Ranging  // at that of best range
	FastestLevel
)

// StateMark names what of a rotor's state, or of a stand's, lies outside the validity
// of the model or, where Beyond, within it but beyond what was measured.
type StateMark struct {
	Of     Subject
	Beyond bool
}

// marks gathers them.
type marks []Mark

func (m *marks) add(x Mark) { *m = append(*m, x) }
