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
		{Symbol: "frame share", Value: frameShare, Meaning: "share of the variance of a frame's mass that all frames " +
			"have in common; the rest, 8 of 20 %, is of its size", Source: chosen},
		{Symbol: "l_F", Value: frameLength, Meaning: "length of the rest over ln D, exp(-x²/2)", Source: chosen},
		{Symbol: "pack mass share", Value: packMassShare, Meaning: "share of the variance of a pack's mass that " +
			"all of its grade have in common; the rest, 3 of 6 %, is of its capacity", Source: chosen},
		{Symbol: "pack R share", Value: packResistanceShare, Meaning: "the same of its resistance; the rest is " +
			"8 of 20 %",
			Source: chosen},
		{Symbol: "pack limit share", Value: packLimitShare, Meaning: "the same of its current; the rest is 10 of 20 %",
			Source: chosen},
		{Symbol: "l_C", Value: packLength, Meaning: "length of the rest of packs over ln of the capacity, exp(-x²/2)",
			Source: chosen},
		{Symbol: "s current-limit", Value: limitSpread, Meaning: "spread of ln(pack/model) of the current that " +
			"a pack gives, before a measurement", Source: trade},
		{Symbol: "s avionics power", Value: avionicsSpread, Meaning: "spread of the logarithm of the power of " +
			"all that does not turn, in a craft whose hover is measured, over that assumed", Source: chosen},
		{Symbol: "P exponent of T", Value: perThrust, Meaning: "exponent with which the power of a propeller " +
			"goes with its thrust, CP/CT^1.5 held", Source: derived},
		{Symbol: "most certain", Value: mostCertain, Meaning: "largest precision of a measurement, over that before " +
			"it: more is taken for as much", Source: chosen},
		{Symbol: "l_mass", Value: propellerLength, Meaning: "length of the correlation of propellers' masses over ln D",
			Source: chosen},
		{Symbol: "l_massB", Value: bladesLength, Meaning: "the same over ln B", Source: chosen},
		{Symbol: "most apart", Value: mostApart, Meaning: "uncertainties by which two measurements of one thing may " +
			"differ", Source: chosen},
		{Symbol: "least share", Value: LeastShare, Meaning: "share of a correction below which a propeller is marked",
			Source: chosen},
		{Symbol: "s label mass", Value: labelMass, Meaning: "spread of the logarithm of a part's mass as stated",
			Source: trade},
		{Symbol: "s label R", Value: labelResistance, Meaning: "the same of a winding's resistance", Source: trade},
		{Symbol: "s label idle", Value: labelIdle, Meaning: "the same of a current without load", Source: trade},
		{Symbol: "s label R_b", Value: labelPackResistance, Meaning: "the same of a pack's resistance", Source: trade},
		{Symbol: "s label I_lim", Value: labelPackCurrent, Meaning: "the same of a pack's current", Source: trade},
		{Symbol: "s label area", Value: labelArea, Meaning: "the same of a frame's drag area", Source: trade},
		{Symbol: "m flight controller", Value: flightController, Unit: "kg", Meaning: "mass of the flight " +
			"controller, which stands with the avionics, on a board that joins both", Source: trade},
		{Symbol: "least said", Value: leastSaid, Meaning: "share below which measurements say nothing", Source: chosen},
	}
	constants := motor.Basis()
	from := fmt.Sprintf("spreads of the regressions and of KV under load; of chopping sqrt(%g^2 + (2 x %g)^2), of c "+
		"and the pulse rate; of cooling that of G", basis.Find(constants, "c").Sigma,
		basis.Find(constants, "f stand").Sigma)
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
		{Name: "Correlation of two frames, of two packs of a grade", Formula: "(share) + (1 - share) b(dln " +
			"x/l), x the diameter with l_F, or the capacity with l_C; the conditional as of propellers",
			Source: "chosen here"},
		{Name: "What is measured of a frame or a pack", Formula: "factors, each exp of the correction: on the " +
			"mass of the frame's law, on the pack's mass, on its R with cold and age, on I_cont", Source: derived},
		{Name: "What the hover of a craft says", Formula: "the shaft power at its thrust with which the chain " +
			"takes the power measured, as CP/CT^1.5 of its propeller; sigma^2 = the sum of (d ln P)^2 over " +
			"one sigma of that power, avionics, motor, pack, controller, download and density, of which all " +
			"but the power is shared by all crafts: counted once for each, by the correlation of their propellers",
			Source: derived},
		{Name: "What is measured of a motor", Formula: "factors, each exp of the correction: KV on 60/(2 pi K), " +
			"resistance on R and R20, loss torque on T0, chopping on P_c, mass on m with G_m as its power of two " +
			"thirds, cooling on G_m besides", Source: derived},
	}
}
