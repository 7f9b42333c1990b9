package rotor

import (
	"fmt"
	"math"

	"rotorsieve/model/basis"
	"rotorsieve/model/field"
)

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
	chordLaw      = 0.157
	chordDiameter = 8 * 0.0254
	chordPower    = -0.30
)

// Where it and the pitch of small ones differ, and those with more than two blades.
const (
	smallDiameter   = 8 * 0.0254
	chordPowerSmall = -0.22
	pitchPowerSmall = 0.08
	chordMore       = 0.76
	pitchMore       = 1.03
)

// Spreads of one standard deviation for Calibrate. The trend is that of the
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

// Basis returns the constants of the rotor model with their sources.
func Basis() []basis.Constant {
	const (
		fit      = "fitted here to Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller Database, Vols 1-3"
		chosen   = "chosen here, not fitted"
		korn     = "Korn's relation and Lock's fourth power, from memory; not validated for small propellers"
		wake     = "common practice"
		scatter  = "chosen here after the scatter in Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller Database, Vols 1-3"
		inclined = "derived here; factor fitted to blade-element solutions averaged around the disc"
		median   = "median of the scanned blades of Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller Database, Vols 1-3"
	)
	p := &section
	all := []basis.Constant{
		{Symbol: "eta", Value: p.eta, Meaning: "lift slope over 2 pi at Re 100 000", Source: fit},
		{Symbol: "nl", Value: p.nl, Meaning: "exponent of the lift slope with Reynolds number", Source: fit},
		{Symbol: "alpha0", Value: p.alpha0 / deg, Unit: "°", Meaning: "angle of zero lift from the chord line", Source: fit},
		{Symbol: "ast", Value: p.ast / deg, Unit: "°", Meaning: "angle of stall from zero lift, without rotation", Source: fit},
		{Symbol: "k3", Value: p.k3 / deg, Unit: "°", Meaning: "delay of the stall per chord/radius", Source: fit},
		{Symbol: "m", Value: p.m, Meaning: "lift slope beyond the stall over that before it", Source: fit},
		{Symbol: "cd0", Value: p.cd0, Meaning: "section drag at zero lift, Re 100 000", Source: fit},
		{Symbol: "nd", Value: p.nd, Meaning: "exponent with which section drag falls with Reynolds number", Source: fit},
		{Symbol: "kd", Value: p.kd, Meaning: "section drag per cl²", Source: fit},
		{Symbol: "ks", Value: p.ks, Unit: "1/rad", Meaning: "section drag per angle beyond the stall", Source: fit},
		{Symbol: "Re0", Value: reFloor, Meaning: "least Reynolds number of the polar", Source: chosen},
		{Symbol: "delta", Value: stallWidth / deg, Unit: "°", Meaning: "softness of the stall", Source: chosen},
		{Symbol: "alpha_p", Value: plateAngle / deg, Unit: "°", Meaning: "angle around which a section goes over to a flat plate", Source: chosen},
		{Symbol: "delta_p", Value: plateWidth / deg, Unit: "°", Meaning: "width of that passage", Source: chosen},
		{Symbol: "c_p", Value: plateForce, Meaning: "force of the flat plate: cl = c_p sin cos, cd = c_p sin²", Source: "common practice"},
		{Symbol: "g0", Value: p.rise.floor, Meaning: "least 1 - M² in the Prandtl-Glauert factor", Source: chosen},
		{Symbol: "kappa_A", Value: kornFactor, Meaning: "technology factor of the drag-divergence Mach number kappa_A - t/c - |cl|/10", Source: korn},
		{Symbol: "t/c", Value: thickness, Meaning: "thickness over chord of the sections near the tip", Source: "common practice"},
		{Symbol: "k_cl", Value: kornLift, Meaning: "loss of critical Mach number per |cl|", Source: korn},
		{Symbol: "dM", Value: lockMargin, Meaning: "drag divergence less critical Mach number", Source: korn},
		{Symbol: "dM_tip", Value: tipRelief, Meaning: "gain of critical Mach number at a tip", Source: "chosen here so that the effect stays as mild as in Weick, Full-scale tests of metal propellers at high tip speeds, NACA Report 302, 1929; from memory"},
		{Symbol: "k_M", Value: p.rise.gain, Meaning: "drag rise k_M (M - Mcr)⁴", Source: korn},
		{Symbol: "r_h/R", Value: rootEdge, Meaning: "radius at which the root loss ends", Source: wake},
		{Symbol: "r_0/R", Value: bladeRoot, Meaning: "radius at which the blade begins", Source: wake},
		{Symbol: "c75/R", Value: chordLaw, Spread: "25 %", Meaning: "default chord over radius at 75 % radius of an 8 in propeller", Source: median},
		{Symbol: "n_c", Value: chordPower, Meaning: "exponent of the default chord with diameter", Source: median},
		{Symbol: "k_T", Value: advanceThrust, Meaning: "gain of thrust in inclined flow, k_T mu² CTu", Source: inclined},
		{Symbol: "k_P", Value: advancePower, Meaning: "gain of power in inclined flow, k_P mu² CP0", Source: inclined},
		{Symbol: "k_PV", Value: advanceRelief, Meaning: "its relief by axial flow, k_PV mu² CTu Va/(n D)", Source: inclined},
		{Symbol: "k_H", Value: dragTilt, Meaning: "drag along the disc by lift, k_H mu CTu lambda/(n D)", Source: inclined},
		{Symbol: "k_HP", Value: dragProfile, Meaning: "drag along the disc by section drag, k_HP mu CP0/pi", Source: inclined},
		{Symbol: "s_beta", Value: pitchSpread / deg, Unit: "°", Meaning: "spread of the pitch angle between propellers of one name, the prior of a calibration", Source: scatter},
		{Symbol: "s_cd", Value: 100 * dragSpread, Unit: "%", Meaning: "spread of the section drag, the prior of a calibration", Source: scatter},
		{Symbol: "s_c", Value: 100 * chordSpread, Unit: "%", Meaning: "spread of the chord, the prior of a calibration", Source: scatter},
		{Symbol: "b_beta", Value: genericPitch / deg, Unit: "°", Meaning: "mean correction of the pitch angle of the generic blade of an 8 in propeller, the prior of a calibration", Source: fit},
		{Symbol: "k_beta", Value: genericPitchSize / deg, Unit: "°", Meaning: "its gain with ln D, D from 3 to 19 in", Source: fit},
		{Symbol: "k_cd", Value: genericDragSize, Meaning: "gain of the mean correction of ln drag of the generic blade with ln D", Source: fit},
		{Symbol: "b_c", Value: genericChord, Meaning: "mean correction of ln chord of the generic blade of an 8 in propeller", Source: fit},
		{Symbol: "k_c", Value: genericChordSize, Meaning: "its gain with ln D", Source: fit},
		{Symbol: "s_cdg", Value: 100 * genericDragSpread, Unit: "%", Meaning: "spread of the section drag of the generic blade", Source: fit},
		{Symbol: "s_cg", Value: 100 * genericChordSpread, Unit: "%", Meaning: "spread of the chord of the generic blade where it is not given", Source: fit},
		{Symbol: "s_n", Value: trendSpread, Meaning: "spread of the error of the trend of ln CT and of ln CP at rest with ln n", Source: fit},
		{Symbol: "s_m", Value: 100 * measureSpread, Unit: "%", Meaning: "spread of a measured static thrust or power", Source: scatter},
	}
	const (
		planform = "mean of the scanned blades of Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller Database, Vols 1-3"
		twist    = "nearly the " + median
	)
	for i, x := range planformX {
		all = append(all, basis.Constant{Symbol: fmt.Sprintf("c/c75 at %.2f", x), Value: planformC[i], Meaning: fmt.Sprintf("planform of the generic blade: chord at r/R %.2f over that at 75 %% radius", x), Source: planform})
	}
	for i, x := range twistX {
		all = append(all, basis.Constant{Symbol: fmt.Sprintf("kappa at %.2f", x), Value: twistK[i], Meaning: fmt.Sprintf("twist of the generic blade: pitch angle at r/R %.2f over atan(P/(2 pi r))", x), Source: twist})
	}
	return append(all, field.Basis()...)
}
