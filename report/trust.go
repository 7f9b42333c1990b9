package report

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// deviation is the relative error of a quantity against measurements, in per cent:
// half of them are nearer than the median, nine of ten than the 90th percentile.
// The bias is their median with its sign, above 0 where the model says too much.
type deviation struct{ Median, Ninety, Bias float64 }

// comparison is the error of the rotor model against wind-tunnel measurements of
// small propellers: of thrust and power coefficient and of CP/CT^1.5 at rest, and
// in axial flight where CT exceeds 0.3 of that at rest.
type comparison struct {
	Known          string // what of the propeller the model was told
	Propellers     int
	CT, CP         deviation // at rest
	Hover          deviation // of CP/CT^1.5 at rest, as which power goes for a given thrust
	WindCT, WindCP deviation
}

// sizeBand is a range of diameters that errors are told by.
type sizeBand struct {
	Name string
	Has  func(inches float64) bool
}

// sizeBands are from the smallest to the largest.
var sizeBands = [...]sizeBand{
	{"below 7 in", func(D float64) bool { return D < 7-rounded }},
	{"7 to 10 in", func(D float64) bool { return D >= 7-rounded && D <= 10+rounded }},
	{"above 10 in", func(D float64) bool { return D > 10+rounded }},
}

const rounded = 1e-6 // in, by which a diameter in m may miss a round one

// sized is a comparison in each of sizeBands.
type sized [len(sizeBands)]comparison

// comparisons are as the validation of package rotor measures them; a test holds
// them against its table for contributors.
var (
	bySize     = comparison{"diameter, pitch and blades", 165, deviation{9.6, 27.8, 2.4}, deviation{11.9, 29.5, -0.7}, deviation{11.2, 26.2, -0.9}, deviation{12.8, 35.7, -5.9}, deviation{11.2, 32.6, -3.2}}
	byChord    = comparison{"diameter, pitch, blades and chord", 91, deviation{6.4, 18.8, 0.3}, deviation{11.4, 27.5, -4.1}, deviation{9.3, 20.0, -2.0}, deviation{13.3, 35.0, -7.3}, deviation{13.6, 37.4, -8.0}}
	calibrated = comparison{"diameter, pitch, blades and one point at rest", 165, deviation{1.7, 6.7, 0}, deviation{2.2, 8.1, -0.2}, deviation{2.8, 12.5, 0.1}, deviation{6.5, 19.1, -2.8}, deviation{5.8, 16.9, -0.9}}

	bySizeSized = sized{
		{bySize.Known, 23, deviation{16.7, 43.1, 7.5}, deviation{21.7, 49.3, 8.0}, deviation{9.4, 29.7, -2.1}, deviation{24.0, 59.8, 15.5}, deviation{27.0, 59.3, 19.8}},
		{bySize.Known, 77, deviation{11.1, 27.6, 2.7}, deviation{11.0, 27.2, -5.1}, deviation{11.0, 28.6, -5.2}, deviation{12.7, 35.1, -4.6}, deviation{11.2, 31.3, -5.1}},
		{bySize.Known, 65, deviation{6.8, 21.9, 1.1}, deviation{9.7, 24.3, 1.6}, deviation{12.5, 22.5, 5.2}, deviation{11.8, 31.3, -9.0}, deviation{9.9, 27.5, -2.7}},
	}
	byChordSized = sized{
		{byChord.Known, 23, deviation{10.4, 41.8, 4.8}, deviation{19.6, 60.2, -5.0}, deviation{10.7, 21.7, -5.9}, deviation{16.7, 67.7, 6.9}, deviation{24.2, 67.5, 6.2}},
		{byChord.Known, 39, deviation{5.5, 15.4, 0.9}, deviation{8.7, 21.5, -2.1}, deviation{7.3, 20.1, -2.2}, deviation{12.2, 32.1, -7.3}, deviation{12.9, 33.4, -8.6}},
		{byChord.Known, 29, deviation{6.2, 12.8, -3.2}, deviation{10.8, 22.4, -6.3}, deviation{10.3, 19.4, 2.8}, deviation{14.0, 29.6, -11.5}, deviation{12.3, 29.3, -9.2}},
	}
	calibratedSized = sized{
		{calibrated.Known, 23, deviation{2.5, 7.6, -0.7}, deviation{2.9, 12.0, -0.6}, deviation{3.9, 11.3, 0.1}, deviation{5.7, 26.2, -0.5}, deviation{6.6, 21.9, 1.8}},
		{calibrated.Known, 77, deviation{1.5, 6.1, 0.1}, deviation{1.9, 6.5, 0}, deviation{2.5, 11.2, 0.1}, deviation{6.3, 18.1, -1.6}, deviation{5.5, 15.9, -1.1}},
		{calibrated.Known, 65, deviation{1.8, 7.0, -0.1}, deviation{2.4, 9.1, -0.4}, deviation{3.1, 15.4, 0.2}, deviation{6.8, 19.3, -4.5}, deviation{6.0, 16.8, -1.1}},
	}
)

// comparisons lists what is compared, each whole and then by size.
func comparisons() []comparison {
	var out []comparison
	for _, k := range []struct {
		all   comparison
		bands sized
	}{{bySize, bySizeSized}, {byChord, byChordSized}, {calibrated, calibratedSized}} {
		out = append(out, k.all)
		for i, c := range k.bands {
			c.Known += "; " + sizeBands[i].Name
			out = append(out, c)
		}
	}
	return out
}

// comparisonSource names the measurements, and scatter what bounds any model of
// a propeller known by its size.
const (
	comparisonSource = "J.B. Brandt, R.W. Deters, G.K. Ananda, O.D. Dantsker, M.S. Selig, UIUC Propeller Database, Vols 1-3"
	scatter          = "Two specimens of one propeller differ by 6 to 14 % in CT themselves."
)

// trust says in words how far the numbers of a study can be trusted, by the sizes
// of its propellers.
func trust(s *sweep.Study) string {
	c := byChordSized
	if slices.Contains(axisValues(s.Grid, sweep.Chord), 0) {
		c = bySizeSized
	}
	var known []string
	for _, k := range touched(s.Grid) {
		known = append(known, fmt.Sprintf("%s (%d propellers) thrust at rest is off by %s and power by %s, power to hover with a given thrust (as CP/CT^1.5) by %s, thrust and power in axial flight by %s and %s",
			sizeBands[k].Name, c[k].Propellers, c[k].CT, c[k].CP, c[k].Hover, c[k].WindCT, c[k].WindCP))
	}
	words := fmt.Sprintf("Against wind-tunnel measurements of small propellers known by %s, without calibration (median; 90th percentile in brackets): %s.",
		c[0].Known, strings.Join(known, "; "))
	if len(s.Model.Assume.Evidence.Propellers()) > 0 {
		var known []string
		for _, k := range touched(s.Grid) {
			c := calibratedSized[k]
			known = append(known, fmt.Sprintf("%s thrust at rest is off by %s and power by %s, power to hover with a given thrust by %s", sizeBands[k].Name, c.CT, c.CP, c.Hover))
		}
		words += fmt.Sprintf(" Of propellers measured at one point at rest, as some of this study are, %s.", strings.Join(known, "; "))
	}
	return words + " " + scatter + " Close ranks are therefore a hint, not a finding."
}

// String gives the median and, in brackets, the 90th percentile: "9.6 % (27.8 %)".
func (d deviation) String() string { return fmt.Sprintf("%.1f %% (%.1f %%)", d.Median, d.Ninety) }

// touched lists the places in sizeBands that the diameters of a grid lie in.
func touched(g *sweep.Grid) []int {
	var out []int
	for k, band := range sizeBands {
		if slices.ContainsFunc(axisValues(g, sweep.Diameter), func(D float64) bool { return band.Has(inch.FromSI(D)) }) {
			out = append(out, k)
		}
	}
	return out
}

// axisValues are the values of an axis, in SI units; none where the grid lacks it.
func axisValues(g *sweep.Grid, def *sweep.AxisDef) []float64 {
	at, ok := g.Place(def.Name)
	if !ok {
		return nil
	}
	return g.Axes()[at].Values
}

// limits lists where the model has been compared with measurements, its
// regressions derived, or a craft must stand what is asked of it.
func limits() []*model.Validity { return model.Validities }
