package model

import (
	"fmt"

	"rotorsieve/model/basis"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
)

// Basis lists the constants of the package: those of what measurements of motors
// say of others, and those that metrics are defined by.
func Basis() []basis.Constant {
	const chosen = "chosen here"
	out := []basis.Constant{
		{Symbol: "settled", Value: settled, Meaning: "part of the step of thrust that a response time is told for",
			Source: trade},
		{Symbol: "usual pack load", Value: UsualPackLoad, Meaning: "full throttle over the current for seconds, as " +
			"level flight may draw it where no requirement says", Source: trade},
		{Symbol: "motor share", Value: motorShare, Meaning: "share of the variance that a motor has in common with " +
			"others", Source: chosen},
		{Symbol: "l_d", Value: motorDiameter, Meaning: "length of its correlation over ln d of the stator, exp(-x²/2)",
			Source: chosen},
		{Symbol: "l_h", Value: motorHeight, Meaning: "the same over ln h of the stator", Source: chosen},
		{Symbol: "l_KV", Value: motorKV, Meaning: "the same over ln KV", Source: chosen},
		{Symbol: "l_own", Value: motorOwn, Meaning: "the same over all three, of the part that is the motor's own",
			Source: chosen},
		{Symbol: "frame share", Value: frameShare, Meaning: "share of the variance of frames' masses that all have in " +
			"common; the rest is of their size", Source: chosen},
		{Symbol: "l_frame", Value: frameLength, Meaning: "length of the correlation of the rest over ln D", Source: chosen},
		{Symbol: "pack mass share", Value: packMassShare, Meaning: "the same share of the masses of packs", Source: chosen},
		{Symbol: "pack R share", Value: packResistanceShare, Meaning: "of their resistances", Source: chosen},
		{Symbol: "pack limit share", Value: packLimitShare, Meaning: "of their current limits", Source: chosen},
		{Symbol: "l_pack", Value: packLength, Meaning: "length of the correlation of the rest over ln C", Source: chosen},
		{Symbol: "s current-limit", Value: limitSpread, Meaning: "spread of ln(pack/model) of the current limit before a " +
			"measurement", Source: trade},
		{Symbol: "l_mass", Value: propellerLength, Meaning: "length of the correlation of propellers' masses over ln D",
			Source: chosen},
		{Symbol: "l_massB", Value: bladesLength, Meaning: "the same over ln B", Source: chosen},
		{Symbol: "most apart", Value: mostApart, Meaning: "uncertainties by which two measurements of one thing may " +
			"differ", Source: chosen},
		{Symbol: "least share", Value: LeastShare, Meaning: "share of a correction below which a propeller is marked",
			Source: chosen},
		{Symbol: "least said", Value: leastSaid, Meaning: "share below which measurements say nothing", Source: chosen},
	}
	constants := motor.Basis()
	from := fmt.Sprintf("spreads of the regressions and of KV under load; of chopping sqrt(%g^2 + (2 x %g)^2), of c "+
		"and the pulse rate", basis.Find(constants, "c").Sigma, basis.Find(constants, "f stand").Sigma)
	for _, q := range record.Quantities {
		if s, ok := motorSpread[q]; ok {
			out = append(out, basis.Constant{Symbol: "s " + q.Name, Value: s,
				Meaning: "spread of ln(motor/model) before a measurement: " + q.Name, Source: from})
		}
	}
	out = append(out, basis.Constant{Symbol: "s chopping at a known rate", Value: ChoppingSpread,
		Meaning: "spread of ln(motor/model) of the chopping loss where the stand's pulse rate is known", Source: trade})
	return out
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	return []basis.Law{
		{Name: "Weight W", Formula: "W = AUW g_n, a quarter of it on each rotor", Source: defined},
		{Name: "Correlation of two motors", Formula: "(motor share) b(dln d/l_d) b(dln h/l_h) b(dln KV/l_KV) + (1 - " +
			"motor share) b(r/l_own), r^2 = sum of the squares of the three, b(x) = exp(-x^2/2); the conditional as " +
			"of propellers", Source: "chosen here"},
		{Name: "What is measured of a motor", Formula: "factors, each exp of the correction: KV on 60/(2 pi K), " +
			"resistance on R and R20, loss torque on T0, chopping on P_c, mass on m with G_m as its power of two " +
			"thirds", Source: derived},
	}
}
