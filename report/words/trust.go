package words

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// Trust says in words how far the numbers of a study can be trusted, by the sizes
// and the blades of its propellers.
func Trust(s *sweep.Study) string {
	c, whose := byChordSized, ""
	if slices.Contains(finding.AxisValues(s.Grid, sweep.Chord), 0) {
		c = bySizeSized
	}
	if slices.ContainsFunc(finding.AxisValues(s.Grid, sweep.Blades), func(n float64) bool { return n > 2 }) {
		whose = ", nearly all of two blades,"
	}
	var known []string
	for _, k := range touched(s.Grid) {
		known = append(known, fmt.Sprintf("%s (%d propellers) thrust at rest is off by %s and power by %s, "+
			"power to hover with a given thrust (as CP/CT^1.5) by %s, thrust and power in axial flight by %s and %s",
			sizeBands[k].name, c[k].Propellers, c[k].CT, c[k].CP, c[k].Hover, c[k].WindCT, c[k].WindCP))
	}
	words := []string{fmt.Sprintf("Against wind-tunnel measurements of small propellers%s known by %s, "+
		"without calibration (median; 90th percentile in brackets): %s.", whose, c[0].Known, strings.Join(known, "; "))}
	if len(s.Model.Assume.Evidence.Propellers()) > 0 {
		var known []string
		for _, k := range touched(s.Grid) {
			c := calibratedSized[k]
			known = append(known, fmt.Sprintf("%s thrust at rest is off by %s and power by %s, "+
				"power to hover with a given thrust by %s", sizeBands[k].name, c.CT, c.CP, c.Hover))
		}
		words = append(words, fmt.Sprintf("Of propellers measured at one point at rest, as some of this study are, %s.",
			strings.Join(known, "; ")))
	}
	words = append(words, onStands(s.Grid))
	words = append(words, unmeasured(s.Grid)...)
	return strings.Join(append(words, scatter,
		"What the nominal model ranks close together is not told apart; the draws say what is."), " ")
}

// TrustBriefly says the same in a line or two: what was measured of the sizes of a study.
func TrustBriefly(s *sweep.Study) string {
	c := byChordSized
	if slices.Contains(finding.AxisValues(s.Grid, sweep.Chord), 0) {
		c = bySizeSized
	}
	var known []string
	for _, k := range touched(s.Grid) {
		known = append(known, fmt.Sprintf("%s thrust by %.0f %%, power by %.0f %%", sizeBands[k].name, c[k].CT.Median,
			c[k].CP.Median))
	}
	return "half of the propellers measured in wind tunnels are off at rest by more than this: " +
		strings.Join(known, "; ") + "; more with --verbose and in the workbook"
}

// onStands says how far the electrical chain was off on thrust stands, and with it
// three and four blades, where a grid has them at the sizes that were measured.
func onStands(g *sweep.Grid) string {
	words := fmt.Sprintf("On thrust stands with 5 in (mean; root mean square in brackets) current at full throttle "+
		"is off by %s, thrust by %s, electrical power below it by %s", onStand.Current, onStand.Thrust, onStand.Power)
	var bladed []string
	if slices.ContainsFunc(finding.AxisValues(g, sweep.Diameter), model.ValidBlades.Contains) {
		for _, n := range []int{3, 4} {
			if c := onStandBladed[n-2]; slices.Contains(finding.AxisValues(g, sweep.Blades), float64(n)) {
				bladed = append(bladed, fmt.Sprintf("with %d blades by %s and %s", n, c.Lift, c.Power))
			}
		}
	}
	if len(bladed) > 0 {
		words += "; thrust at a given speed and electrical power " + texts.JoinAnd(bladed)
	}
	return words + "."
}

// unmeasured says which blades and tip Mach numbers of a grid were not measured.
func unmeasured(g *sweep.Grid) []string {
	var out []string
	if gaps := finding.BladeGaps(g); len(gaps) > 0 {
		out = []string{texts.Upper(texts.JoinAnd(Each(gaps, gapText))) + "."}
	}
	var reached []string
	for i := range model.Bands {
		b := &model.Bands[i]
		if slices.ContainsFunc(finding.AxisValues(g, sweep.Diameter),
			func(D float64) bool { return model.BandOf(D) == b }) {
			reached = append(reached, fmt.Sprintf("%.2f (%s)", b.TipMach(), b.Name))
		}
	}
	return append(out, "Tip Mach numbers were measured up to "+texts.JoinAnd(reached)+
		"; beyond, where most crafts are at full throttle, theory carries them.")
}

// String gives the median and, in brackets, the 90th percentile: "9.0 % (27.1 %)".
func (d Deviation) String() string { return fmt.Sprintf("%.1f %% (%.1f %%)", d.Median, d.Ninety) }

// String gives the mean and, in brackets, the root mean square: "-2.3 % (8.6 %)".
func (m Misfit) String() string { return fmt.Sprintf("%+.1f %% (%.1f %%)", m.Mean, m.RMS) }

// touched lists the places in sizeBands that the diameters of a grid lie in.
func touched(g *sweep.Grid) []int {
	var out []int
	for k, band := range sizeBands {
		if slices.ContainsFunc(finding.AxisValues(g, sweep.Diameter),
			func(D float64) bool { return band.has(finding.Inch.FromSI(D)) }) {
			out = append(out, k)
		}
	}
	return out
}

// Limits lists where the model has been compared with measurements, its
// regressions derived, or a craft must stand what is asked of it.
func Limits() []*model.Validity { return model.Validities }
