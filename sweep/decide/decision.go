// Package decide turns the result of a sweep into a choice: which build will probably keep
// the requirements and how well it does, over draws of all that the model may err by. It
// knows nothing of drawing.
//
// A build is a design without its pack's capacity: who builds it weighs the parts and then
// buys the pack. Where the class limit holds the capacity of the nominal best, the pack is
// in each draw the largest on the axis that keeps the class; elsewhere it is the planned
// one, or the largest below it where a draw is too heavy.
//
// Nothing here depends on the number of workers: draws are common to all builds, and each
// number is a sum over draws in their order.
package decide

import "rotorsieve/model"

// DefaultDraws is how many draws a choice takes candidates through; where there are many, the
// better of them after a quarter of these. The best hundred and the best six of each value of
// an axis go on to four times as many, and the best forty and three to eight times. Fresh is
// how many other draws what is said of a build takes: a build reads a little better on those
// that chose it.
const (
	DefaultDraws = 256
	Fresh        = 1024
)

// Decision is what the spreads of the model make of a result.
type Decision struct {
	Draws      int             // of the choice, for candidates that keep up
	Fresh      int             // of all that is said of builds
	Seed       uint64          // of both, which differ all the same
	ByThrottle []*model.Metric // of requirements that the pilot keeps with the throttle
	Metrics    []*model.Metric // that Build.Metrics gives: those of the merit, then those of requirements
	Classes    []Class         // as those of the result
	Works      Works           // what was done
}

// Class is the choice in a weight class.
type Class struct {
	Judged int     // builds that were candidates; 0 where no design is feasible
	Builds []Build // what is told of, in the order of Build.Rank; the first is recommended

	Nominal int // in Builds: the build of the nominal best design, first of the ranking; -1 for none
	Surest  int // in Builds: that of the highest P(feasible); -1 for none

	Axes          []AxisValues // of the swept axes that belong to a build, in the grid's order
	Line          []LinePoint
	Sensitivities []Sensitivity // of the recommended build, the largest first
	Loosened      []Loosened    // in the order of the gates: the class, then each requirement
	Weights       []WeightRange // by term of the merit
	Worth         []Worth       // what to measure, the most valuable first
	Tests         []Test        // what to measure of the recommended build, and what to expect
	Rivals        []RivalTests  // other builds of Worth, and what to measure of them
	Loads         Loads         // of the recommended build with its planned pack

	// Drawn is the merit of the recommended build in each of the first DefaultDraws fresh
	// draws, in their order, 0 in one that fails: what another run with the same draws is
	// held against.
	Drawn []float64
}

// Quantiles are those of a quantity over the draws.
type Quantiles struct{ P10, P50, P90 float64 }

// Build is a build over the draws.
type Build struct {
	Index  uint64       // of the planned design: the build with the pack of its nominal best
	Design model.Design // the same
	// By cautious merit on the draws of the choice, from 1; where that is 0 by feasible ones. All
	// else is of fresh draws, in which builds close to each other may stand otherwise.
	Rank   int
	Filled bool // the class limit holds the pack: it is the largest that keeps the class

	Feasible float64   // share of draws that keep all requirements
	Causes   []float64 // by gate: share of all draws that fail there first
	Cause    int       // the gate at which most of those that fail do; -1 where none fails
	Cautious float64   // mean merit of the 10th to the 50th percentile, a draw that fails counting 0
	Nominal  float64   // merit of the planned design by the nominal model
	Merit    Quantiles // a draw that fails counting 0
	Regret   float64   // mean over the draws of what the best of Builds has more
	Tied     bool      // its cautious merit is at most two standard errors, of pairs of draws, below the first's

	Pack    Quantiles   // capacity that is bought, A s, of those on the axis
	Metrics []Quantiles // of Decision.Metrics, SI, over the draws in which the metric exists
	// By requirement, in the order of the gates: of ln(value/bound), or of value less bound
	// where that is at 0 or below; above 0 it is kept.
	Margins []Quantiles
	Kept    []float64 // the same: share of draws that keep the requirement, whatever else they do
	// By gate: share of all draws that break it, whatever else they do; one that is too heavy with every
	// pack has the smallest. A craft without operating point breaks all requirements.
	Fails []float64
}

// AxisValues holds each value of an axis against the recommended build.
type AxisValues struct {
	Axis   int // in Grid.Axes
	Values []AxisValue
}

// AxisValue is the best build with one value of an axis against the recommended one, draw
// by draw: the highest in cautious merit of those that are told of, and the recommended one
// where it has the value. Ahead, Level and Behind add up to 1: ahead is by more than what 2 % of each
// metric are worth in the merit; draws in which both fail are level. Difference, with its
// standard error by a paired bootstrap over the draws, is what the build is tied by or not.
type AxisValue struct {
	Value                float64 // SI
	Any                  bool    // a candidate has it; the rest says nothing otherwise
	Build                int     // in Class.Builds
	Ahead, Level, Behind float64
	Better               float64 // share of draws in which its merit is higher, half of those where it is equal
	Difference, Standard float64 // of its cautious merit less that of the recommended: see Build.Tied
	Loss                 float64 // mean of what the recommended has more where it has more, else 0
}

// LinePoint is the best that can be had at a P(feasible).
type LinePoint struct {
	Feasible float64 // at least: 0.5, 0.6, 0.7, 0.8, 0.9
	Any      bool    // some build has as much
	Build    int     // in Class.Builds
	Cautious float64 // of the build with the best cautious merit
	Median   float64 // the best median merit, of any build
}

// Sensitivity is what one source of error, or another assumption, moves of the recommended
// build.
type Sensitivity struct {
	Name, Meaning string  // of a source, see model.Source; or of an assumption with its other value
	Assumption    bool    // not a source of error
	Low, High     float64 // merit at one sigma below and above, 0 for one that fails; an assumption has High alone
	LowSize       float64 // diameter in m of the best candidate then
	HighSize      float64
}

// Loosened is the best merit of a class, by the nominal model, with one bound alone
// loosened by 10 %.
type Loosened struct {
	Gate  int // GateClass, or of a requirement
	Bound float64
	Merit float64 // 0 where no design is feasible
	Gain  float64 // over the best with all bounds as asked
	Index uint64  // of that best design
	Any   bool
	// Swept is set of a class where a heavier one reaches the bound, so that the sweep has looked there;
	// all else comes of a search about the candidates alone, and Gain is at least so much.
	Swept bool
}

// WeightRange is over which values of a term's weight, as a share of the sum of all, the
// recommended build stays first, the others keeping their ratios.
type WeightRange struct {
	Term         int // in Study.Merit
	Weight       float64
	Least, Most  float64
	Below, Above int // in Builds: what is first beyond; -1 where the range ends at 0 or 1
}

// Worth is what knowing one thing exactly would gain.
type Worth struct {
	What    Measurable
	Build   int     // in Builds: of which the part is measured
	Gain    float64 // expected merit, at least 0
	Noise   float64 // the same of a shuffled copy
	Class   WorthClass
	Pair    bool       // with another: the best pair
	Another Measurable // of a pair
}

// RivalTests is another build than the recommended one of which something is worth measuring, since that tells
// which of them is better.
type RivalTests struct {
	Build int    // in Builds
	Tests []Test // of what Worth names of it, but for what is within noise; Explains is not set
}

// Measurable is what can be measured before or after a craft is built.
type Measurable int

// Things to measure.
const (
	FrameMass Measurable = iota
	PropellerThrust
	PropellerPower
	MotorResistance
	PackResistance
	PackMass
	PackLimit
	MotorCooling
	HoverPower // of a built craft
	MotorMass
)

// WorthClass says in a word how much is worth measuring.
type WorthClass int

// Classes of worth.
const (
	WithinNoise WorthClass = iota
	SomeWorth
	LargeWorth
)
