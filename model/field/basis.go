package field

import (
	"math"

	"rotorsieve/model/basis"
)

const inches = 0.0254 // m

// Basis lists the constants of the package. They say how errors go together and are no
// physics, so that the spreads of some are stated and not drawn.
func Basis() []basis.Constant {
	const (
		pairs = "estimated here from pairs of propellers in Brandt, Deters, Ananda, Dantsker, Selig, " +
			"UIUC Propeller Database, Vols 1-3"
		chosen = "chosen here, not fitted"
	)
	all := []basis.Entry[struct{}]{
		{Symbol: "s_f", Value: SeriesShare, Sigma: 0.1, Distribution: basis.Normal, Source: pairs,
			Meaning: "share of a propeller's error that its neighbours of one series have as well"},
		{Symbol: "s_o", Value: OtherShare, Sigma: 0.1, Distribution: basis.Normal, Source: pairs,
			Meaning: "share of it that neighbours of other series have"},
		{Symbol: "p_f", Value: sameSeries, Source: chosen,
			Meaning: "probability that what is built is of the series that was measured"},
		{Symbol: "p_V", Value: Share, Meaning: "share of the variance that is carried to a neighbour, p_f s_f + (1 - " +
			"p_f) s_o", Source: "derived here"},
		{Symbol: "l_D", Value: LengthDiameter, Sigma: 0.50, Source: pairs,
			Meaning: "length of its correlation over ln D, exp(-d²/2)"},
		{Symbol: "l_P", Value: LengthPitch, Sigma: 0.50, Source: pairs, Meaning: "the same over P/D"},
		{Symbol: "l_B", Value: LengthBlades, Source: chosen, Meaning: "the same over ln B"},
		{Symbol: "l_sD", Value: specimenDiameter, Source: chosen,
			Meaning: "the same over ln D of what is the propeller's own"},
		{Symbol: "l_sP", Value: specimenPitch, Source: chosen, Meaning: "the same over P/D"},
		{Symbol: "l_sc", Value: specimenChord, Source: chosen, Meaning: "the same over ln of the chord"},
		{Symbol: "least mode", Value: least, Source: chosen,
			Meaning: "eigenvalue over the first below which a function of the basis is left out"},
	}
	for k, over := range [...]struct {
		symbol, what, unit string
		centre             float64
	}{{"D", "ln D, of D", "in", math.Exp(directions[0].centre) / inches}, {"P", "P/D", "", directions[1].centre},
		{"B", "ln B, of B", "", math.Exp(directions[2].centre)}} {
		all = append(all,
			basis.Entry[struct{}]{Symbol: "m_" + over.symbol, Value: over.centre, Unit: over.unit, Source: chosen,
				Meaning: "middle of the basis over " + over.what},
			basis.Entry[struct{}]{Symbol: "w_" + over.symbol, Value: directions[k].width, Source: chosen,
				Meaning: "its width over the same"})
	}
	return basis.List(all, nil)
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	return []basis.Law{
		{Name: "Correlation of two propellers' errors", Formula: "p_V b(dln D/l_D) b(d(P/D)/l_P) b(dln B/l_B) + (1 - " +
			"p_V) b(dln D/l_sD) b(d(P/D)/l_sP) b(dln c/l_sc), b(x) = exp(-x^2/2), the second part only of equal B; 1 " +
			"of one propeller; the first part by the eigenfunctions of b for a Gaussian weight of middle m and width w",
			Source: "chosen here, not fitted; lengths see the constants"},
		{Name: "Correction given measurements", Formula: "mean k (K^-1 m + a) and covariance 1 - k L (1 + LT K L)^-1 " +
			"LT k in spreads of the prior, a = L (1 + LT K L)^-1 L^+ (1 + W) e; K and k the correlations among the " +
			"measured and with them, W = L LT the precision that each adds, e its estimate from the mean m of its " +
			"prior", Source: "Rasmussen, Williams, Gaussian Processes for Machine Learning, 2006 (from memory)"},
	}
}
