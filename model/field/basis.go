package field

import "rotorsieve/model/basis"

// Basis lists the constants of the package.
func Basis() []basis.Constant {
	const (
		pairs = "estimated here from pairs of propellers in Brandt, Deters, Ananda, Dantsker, Selig, " +
			"UIUC Propeller Database, Vols 1-3"
		chosen = "chosen here, not fitted"
	)
	return []basis.Constant{
		{Symbol: "s_f", Value: SeriesShare, Spread: "0.1", Source: pairs,
			Meaning: "share of a propeller's error that its neighbours of one series have as well"},
		{Symbol: "s_o", Value: OtherShare, Spread: "0.1", Source: pairs,
			Meaning: "share of it that neighbours of other series have"},
		{Symbol: "p_f", Value: sameSeries, Source: chosen,
			Meaning: "probability that what is built is of the series that was measured"},
		{Symbol: "l_D", Value: LengthDiameter, Spread: "50 %", Source: pairs,
			Meaning: "length of its correlation over ln D, exp(-d²/2)"},
		{Symbol: "l_P", Value: LengthPitch, Spread: "50 %", Source: pairs, Meaning: "the same over P/D"},
		{Symbol: "l_B", Value: LengthBlades, Source: chosen, Meaning: "the same over ln B"},
		{Symbol: "l_sD", Value: specimenDiameter, Source: chosen,
			Meaning: "the same over ln D of what is the propeller's own"},
		{Symbol: "l_sP", Value: specimenPitch, Source: chosen, Meaning: "the same over P/D"},
		{Symbol: "l_sc", Value: specimenChord, Source: chosen, Meaning: "the same over ln of the chord"},
	}
}
