package rotor

import (
	"fmt"

	"rotorsieve/model/basis"
	"rotorsieve/model/field"
)

const inches = 0.0254 // m

// Basis returns the constants of the rotor model with their sources, with the nominal
// parameters.
func Basis() []basis.Constant { return append(basis.List(Entries(), &nominalSet), field.Basis()...) }

// Entries lists the constants and parameters of the package.
func Entries() []basis.Entry[Parameters] {
	const (
		fit     = "fitted here to Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller Database, Vols 1-3"
		chosen  = "chosen here, not fitted"
		korn    = "Korn's relation and Lock's fourth power, from memory; not validated for small propellers"
		wake    = "common practice"
		scatter = "chosen here after the scatter in Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller " +
			"Database, Vols 1-3"
		inclined = "derived here; factor fitted to blade-element solutions averaged around the disc"
		small    = "forces below 8 in: fitted here to Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller " +
			"Database, Vols 1-3"
		more = "three and four blades of 5 in: fitted here to P. Cao, J. Strawson, Motor and propeller testing, " +
			"2018; other sizes hardly measured"
		median = "median of the scanned blades of Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller " +
			"Database, Vols 1-3"
	)
	p := &section
	all := []basis.Entry[Parameters]{
		{Symbol: "eta", Value: p.eta, Meaning: "lift slope over 2 pi at Re 100 000", Source: fit},
		{Symbol: "nl", Value: p.nl, Meaning: "exponent of the lift slope with Reynolds number", Source: fit},
		{Symbol: "alpha0", Value: p.alpha0 / deg, Unit: "°", Meaning: "angle of zero lift from the chord line",
			Source: fit},
		{Symbol: "ast", Value: p.ast / deg, Unit: "°", Meaning: "angle of stall from zero lift, without rotation",
			Source: fit},
		{Symbol: "k3", Value: p.k3 / deg, Unit: "°", Meaning: "delay of the stall per chord/radius", Source: fit},
		{Symbol: "m", Value: p.m, Meaning: "lift slope beyond the stall over that before it", Source: fit},
		{Symbol: "cd0", Value: p.cd0, Meaning: "section drag at zero lift, Re 100 000", Source: fit},
		{Symbol: "nd", Value: p.nd, Meaning: "exponent with which section drag falls with Reynolds number",
			Source: fit},
		{Symbol: "kd", Value: p.kd, Meaning: "section drag per cl²", Source: fit},
		{Symbol: "ks", Value: p.ks, Unit: "1/rad", Meaning: "section drag per angle beyond the stall", Source: fit},
		{Symbol: "Re_ref", Value: reRef, Meaning: "Reynolds number at which eta and cd0 stand", Source: "definition"},
		{Symbol: "Re0", Value: reFloor, Meaning: "least Reynolds number of the polar", Source: chosen},
		{Symbol: "delta", Value: stallWidth / deg, Unit: "°", Meaning: "softness of the stall", Source: chosen},
		{Symbol: "alpha_p", Value: plateAngle / deg, Unit: "°",
			Meaning: "angle around which a section goes over to a flat plate", Source: chosen},
		{Symbol: "delta_p", Value: plateWidth / deg, Unit: "°", Meaning: "width of that passage", Source: chosen},
		{Symbol: "c_p", Value: plateForce, Meaning: "force of the flat plate: cl = c_p sin cos, cd = c_p sin²",
			Source: "common practice"},
		{Symbol: "g0", Value: p.rise.floor, Meaning: "least 1 - M² in the Prandtl-Glauert factor", Source: chosen},
		{Symbol: "kappa_A", Value: kornFactor,
			Meaning: "technology factor of the drag-divergence Mach number kappa_A - t/c - |cl|/10", Source: korn},
		{Symbol: "t/c", Value: thickness, Meaning: "thickness over chord of the sections near the tip",
			Source: "common practice"},
		{Symbol: "k_cl", Value: kornLift, Meaning: "loss of critical Mach number per |cl|", Source: korn},
		{Symbol: "dM", Value: lockMargin, Meaning: "drag divergence less critical Mach number", Source: korn},
		{Symbol: "dM_tip", Value: tipRelief, Meaning: "gain of critical Mach number at a tip",
			Source: "chosen here so that the effect stays as mild as in Weick, Full-scale tests of metal " +
				"propellers at high tip speeds, NACA Report 302, 1929; from memory"},
		{Symbol: "Mcr_0", Value: p.rise.critical,
			Meaning: "critical Mach number without lift, kappa_A - t/c - dM + dM_tip", Source: korn},
		{Symbol: "n_M", Value: float64(p.rise.power), Meaning: "exponent of the drag rise", Source: korn},
		{Symbol: "k_M", Value: lockGain, Meaning: "drag rise k_M (M - Mcr)⁴", Source: korn},
		{Symbol: "r_h/R", Value: rootEdge, Meaning: "radius at which the root loss ends", Source: wake},
		{Symbol: "r_0/R", Value: bladeRoot, Meaning: "radius at which the blade begins", Source: wake},
		{Symbol: "c75/R", At: func(p *Parameters) *float64 { return &p.Chord },
			Sigma: 0.20, Reach: basis.Family,
			Meaning: "default chord over radius at 75 % radius of a propeller of D_c with two blades",
			Source:  median},
		{Symbol: "D_c", Value: chordDiameter / inches, Unit: "in", Meaning: "diameter of that chord",
			Source: "definition"},
		{Symbol: "n_c", Value: chordPower, Meaning: "exponent of the default chord with diameter, from D_small up",
			Source: median},
		{Symbol: "n_c small", Value: chordPowerSmall, Meaning: "the same below D_small", Source: small},
		{Symbol: "D_small", Value: smallDiameter / inches, Unit: "in", Meaning: "diameter below which blades differ",
			Source: chosen},
		{Symbol: "k_cB", At: func(p *Parameters) *float64 { return &p.ChordMore },
			Sigma: moreChordSpread, Reach: basis.Family,
			Meaning: "factor on the default chord of more than two blades, with the spread of c75/R besides",
			Source:  more},
		{Symbol: "n_P", At: func(p *Parameters) *float64 { return &p.PitchSmall },
			Sigma: 0.08, Distribution: basis.Normal, Reach: basis.Family,
			Meaning: "exponent of the pitch over that of the label, with D/D_small, below D_small; where the " +
				"chord is not given; known to 8 % of the pitch at 3 in",
			Source: small},
		{Symbol: "k_PB", At: func(p *Parameters) *float64 { return &p.PitchMore },
			Sigma: 0.08, Reach: basis.Family,
			Meaning: "factor on the pitch of more than two blades, where the chord is not given",
			Source:  more},
		{Symbol: "k_T", Value: advanceThrust, Meaning: "gain of thrust in inclined flow, k_T mu² CTu",
			Source: inclined},
		{Symbol: "k_P", Value: advancePower, Meaning: "gain of power in inclined flow, k_P mu² CP0", Source: inclined},
		{Symbol: "k_PV", Value: advanceRelief, Meaning: "its relief by axial flow, k_PV mu² CTu Va/(n D)",
			Source: inclined},
		{Symbol: "k_H", Value: dragTilt, Meaning: "drag along the disc by lift, k_H mu CTu lambda/(n D)",
			Source: inclined},
		{Symbol: "k_HP", Value: dragProfile, Meaning: "drag along the disc by section drag, k_HP mu CP0/pi",
			Source: inclined},
		{Symbol: "s_beta", Value: pitchSpread / deg, Unit: "°",
			Meaning: "spread of the pitch angle between propellers of one name, the prior of a calibration",
			Source:  scatter},
		{Symbol: "s_cd", Value: 100 * dragSpread, Unit: "%",
			Meaning: "spread of the section drag, the prior of a calibration", Source: scatter},
		{Symbol: "s_c", Value: 100 * chordSpread, Unit: "%", Meaning: "spread of the chord, the prior of a calibration",
			Source: scatter},
		{Symbol: "b_beta", Value: genericPitch / deg, Unit: "°",
			Meaning: "mean correction of the pitch angle of the generic blade of an 8 in propeller, the prior of a " +
				"calibration", Source: fit},
		{Symbol: "k_beta", Value: genericPitchSize / deg, Unit: "°", Meaning: "its gain with ln D, D from 3 to 19 in",
			Source: fit},
		{Symbol: "k_cd", Value: genericDragSize,
			Meaning: "gain of the mean correction of ln drag of the generic blade with ln D", Source: fit},
		{Symbol: "b_c", Value: genericChord,
			Meaning: "mean correction of ln chord of the generic blade of an 8 in propeller", Source: fit},
		{Symbol: "k_c", Value: genericChordSize, Meaning: "its gain with ln D", Source: fit},
		{Symbol: "b_betag", Value: statedPitch / deg, Unit: "°",
			Meaning: "mean correction of the pitch angle where the chord is given, at D_prior", Source: fit},
		{Symbol: "k_betag", Value: statedPitchSize / deg, Unit: "°", Meaning: "its gain with ln D", Source: fit},
		{Symbol: "b_cg", Value: statedChord,
			Meaning: "mean correction of ln chord where the chord is given, at D_prior", Source: fit},
		{Symbol: "k_cg", Value: statedChordSize, Meaning: "its gain with ln D", Source: fit},
		{Symbol: "D_prior", Value: genericSize / inches, Unit: "in",
			Meaning: "diameter at which the means of the prior stand", Source: "definition"},
		{Symbol: "D_prior least", Value: genericSmallest / inches, Unit: "in",
			Meaning: "diameter below which they stay as there", Source: fit},
		{Symbol: "D_prior most", Value: genericLargest / inches, Unit: "in",
			Meaning: "diameter above which they stay as there", Source: fit},
		{Symbol: "s_cdg", Value: 100 * genericDragSpread, Unit: "%",
			Meaning: "spread of the section drag of the generic blade", Source: fit},
		{Symbol: "s_cg", Value: 100 * genericChordSpread, Unit: "%",
			Meaning: "spread of the chord of the generic blade where it is not given", Source: fit},
		{Symbol: "s_cm", Value: 100 * moreChordSpread, Unit: "%",
			Meaning: "the same besides with more than two blades, sqrt(s_cg^2 + s_cm^2) in all", Source: more},
		{Symbol: "s_n", Value: trendSpread,
			Meaning: "spread of the error of the trend of ln CT and of ln CP at rest with ln n", Source: fit},
		{Symbol: "s_m", Value: 100 * measureSpread, Unit: "%", Meaning: "spread of a measured static thrust or power",
			Source: scatter},
	}
	const (
		planform = "mean of the scanned blades of Brandt, Deters, Ananda, Dantsker, Selig, UIUC Propeller Database, " +
			"Vols 1-3"
		twist = "nearly the " + median
	)
	for i, x := range planformX {
		all = append(all, basis.Entry[Parameters]{Symbol: fmt.Sprintf("c/c75 at %.2f", x), Value: planformC[i],
			Meaning: fmt.Sprintf("planform of the generic blade: chord at r/R %.2f over that at 75 %% radius", x),
			Source:  planform})
	}
	for i, x := range twistX {
		all = append(all, basis.Entry[Parameters]{Symbol: fmt.Sprintf("kappa at %.2f", x), Value: twistK[i],
			Meaning: fmt.Sprintf("twist of the generic blade: pitch angle at r/R %.2f over atan(P/(2 pi r))", x),
			Source:  twist})
	}
	return all
}
