package rotor

import "math"

const deg = math.Pi / 180

// Fixed parts of the section polar.
const (
	reRef      = 1e5
	reFloor    = 3e3
	stallWidth = 2 * deg
	plateAngle = 40 * deg
	plateWidth = 5 * deg
	plateForce = 1.8
)

// The drag rise: Korn's relation for the drag-divergence Mach number, Lock's
// fourth power and the margin between his critical Mach number and divergence,
// and the relief of a tip over plane flow.
const (
	kornFactor = 0.87
	thickness  = 0.09
	kornLift   = 0.1
	lockMargin = 0.108
	lockGain   = 20.0
	tipRelief  = 0.10
)

// The ends of the blade, r/R.
const (
	rootEdge  = 0.10 // where the root loss has taken all lift
	bladeRoot = 0.15 // where the blade begins
)

// section is the polar of every rotor.
var section = polar{
	eta:    0.970617433212376,
	nl:     0.10178063593741875,
	alpha0: -3.088388433717765 * deg,
	ast:    10.276951712038557 * deg,
	k3:     9.910076209298422 * deg,
	m:      0.08136477892497634,
	cd0:    0.02203595202855929,
	nd:     0.34745713462501154,
	kd:     0.01621508124279482,
	ks:     1.0191878222458626,
	mirror: true,
	rise: compressibility{
		floor:    0.15,
		critical: kornFactor - thickness - lockMargin + tipRelief,
		lift:     kornLift,
		gain:     lockGain,
		power:    4,
	},
}

// The generic blade: chord over that at 75 % radius, the mean of the scanned
// blades, since forces are linear in the chord; and pitch angle over
// atan(P/(2 pi r)), nearly their median.
var (
	planformX = [...]float64{.15, .2, .25, .3, .4, .5, .6, .7, .75, .8, .85, .9, .95, 1}
	planformC = [...]float64{.96, .99, 1.05, 1.10, 1.16, 1.18, 1.14, 1.06, 1, .93, .85, .75, .58, .29}
	twistX    = [...]float64{.15, .2, .25, .3, .4, .5, .7, .85, .95, 1}
	twistK    = [...]float64{.70, .80, .91, .97, 1.01, 1.022, 1.028, 1.014, .96, .90}
)

// Its default chord.
const (
	chordDiameter = 8 * 0.0254
	chordPower    = -0.30
)

// Where small ones differ.
const (
	smallDiameter   = 8 * 0.0254
	chordPowerSmall = -0.22
)

// Deviations of one standard deviation for Calibrate. The trend is that of the
// errors of ln CT and ln CP at rest with ln n.
const (
	pitchSpread   = 1.5 * deg
	dragSpread    = 0.20
	chordSpread   = 0.10
	measureSpread = 0.02
	trendSpread   = 0.08
)

// What differs for the generic blade: means that go with ln(D/8 in), D kept
// within sizes that many measured propellers have, and wider spreads.
const (
	genericPitch       = 0.55 * deg
	genericPitchSize   = 1.2 * deg
	genericDragSize    = -0.27
	genericChord       = -0.025
	genericChordSize   = -0.12
	statedPitch        = 0.35 * deg // where the chord is stated
	statedPitchSize    = 1.8 * deg
	statedChord        = -0.04
	statedChordSize    = -0.08
	genericDragSpread  = 0.30
	genericChordSpread = 0.15 // of a default chord
	moreChordSpread    = 0.10 // besides, with more than two blades
	genericSize        = 8 * 0.0254
	genericSmallest    = 3 * 0.0254
	genericLargest     = 19 * 0.0254
)

// Inclined flow.
const (
	advanceThrust = 2.0
	advancePower  = 2.8
	advanceRelief = 1.2
	dragTilt      = 0.6
	dragProfile   = 1.6
)
