package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/rotor"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

// RotorCurves are what the figure of one propeller shows: CT, CP and efficiency
// against advance ratio at several speeds.
type RotorCurves struct {
	Propeller string // names it, "5 × 4.3 in, 3 blades"
	From      string // the curves, "blade-element solution"
	Air       air.Air
	Diameter  float64   // m
	Speeds    []float64 // rev/s, rising; the figure draws up to six of them

	// At gives the coefficients at an advance ratio and a speed in rev/s.
	At func(J, n float64) (CT, CP float64, err error)

	Measured        *rotor.Specimen // nil for none
	MeasuredTipMach float64         // the highest at this size
	marks           []rotorMark
}

// rotorMark is an operating point that the figure names.
type rotorMark struct {
	name string
	J, N float64 // N in rev/s
}

const (
	mostRotorSpeeds = 6
	rotorStep       = 0.01 // of J
	mostAdvance     = 3.0
)

// CraftRotor gives the curves of a craft's propeller, hover and full throttle
// marked. The craft has both operating points.
func CraftRotor(d model.Design, c *model.Craft) RotorCurves {
	t := c.Powertrain.Propeller.Table
	hover, full := c.Hover.Speed, c.Powertrain.Full.Speed
	r := RotorCurves{
		Propeller: fmt.Sprintf("%s × %s in, %d blades", finding.Inch.Number(d.Diameter, 4),
			finding.Inch.Number(d.Pitch, 4), d.Blades),
		From: "table of the blade-element solution",
		Air:  c.Model.Air, Diameter: d.Diameter,
		Speeds: between(min(hover, full), max(hover, full)),
		At: func(J, n float64) (CT, CP float64, err error) {
			CT, CP = t.At(J, n)
			return CT, CP, nil
		},
		MeasuredTipMach: c.Powertrain.Propeller.MeasuredTipMach(),
		marks:           []rotorMark{{name: "full throttle", N: full}, {name: "hover", N: hover}},
	}
	if d.Propeller != nil {
		r.Propeller = d.Propeller.Name + " (" + r.Propeller + ")"
	}
	if fit := c.Powertrain.Propeller.Fit; fit.From != nil {
		r.From += " · corrected by measurement"
	}
	return r
}

// between gives two speeds and, where they lie well apart, the one that is as far
// from both by ratio.
func between(lo, hi float64) []float64 {
	if hi < 1.3*lo {
		return []float64{lo, hi}
	}
	return []float64{lo, math.Sqrt(lo * hi), hi}
}

// rotorCurve is the curves at one speed, from rest to zero thrust.
type rotorCurve struct {
	n              float64
	J, CT, CP, eta []float64
}

// Figure draws the curves in three panels.
func (r *RotorCurves) Figure() (*chart.Figure, error) {
	speeds := spread(r.Speeds, mostRotorSpeeds)
	var all []rotorCurve
	var top struct{ J, CT, CP, eta float64 }
	for _, n := range speeds {
		c, err := r.curve(n)
		if err != nil {
			return nil, err
		}
		all = append(all, c)
		top.J = max(top.J, c.J[len(c.J)-1])
		for i := range c.J {
			top.CT, top.CP, top.eta = max(top.CT, c.CT[i]), max(top.CP, c.CP[i]), max(top.eta, c.eta[i])
		}
	}
	points := r.measured()
	for _, p := range points {
		top.J, top.CT, top.CP, top.eta = max(top.J, p.J), max(top.CT, p.CT), max(top.CP, p.CP), max(top.eta, p.eta)
	}
	// What stands at J = 0 keeps clear of the frame.
	x := chart.Axis{Label: "advance ratio J [-]", Max: roundUp(top.J)}
	x.Min = -0.04 * x.Max
	panel := func(title, label string, top float64, of func(*rotorCurve) []float64) chart.Panel {
		p := chart.Panel{Title: title, X: x, Y: chart.Axis{Label: label, Max: roundUp(1.05 * top)}}
		for i := range all {
			p.Lines = append(p.Lines, chart.Line{Family: r.speedText(all[i].n), X: all[i].J, Y: of(&all[i])})
		}
		return p
	}
	f := &chart.Figure{
		Title: rotorTitle(all),
		Subtitle: strings.Join([]string{r.Propeller, r.From, fmt.Sprintf("altitude %.6g m, %s", r.Air.Altitude,
			finding.Celsius.Format(r.Air.Temperature, 3))}, " · "),
		Note: "CT = T/(ρ n² D⁴), CP = P/(ρ n³ D⁵), J = V/(n D), efficiency J CT/CP; each curve ends at zero " +
			"thrust.",
		Panels: []chart.Panel{
			panel("Thrust", "CT [-]", top.CT, func(c *rotorCurve) []float64 { return c.CT }),
			panel("Power", "CP [-]", top.CP, func(c *rotorCurve) []float64 { return c.CP }),
			panel("Efficiency", "efficiency [-]", top.eta, func(c *rotorCurve) []float64 { return c.eta }),
		},
	}
	if len(speeds) < len(r.Speeds) {
		f.Note += fmt.Sprintf(" %d of %d speeds are drawn.", len(speeds), len(r.Speeds))
	}
	if top := speeds[len(speeds)-1]; r.tipMach(top) > r.MeasuredTipMach {
		f.Note += fmt.Sprintf(" Measured to tip Mach %.2g at this size; beyond by theory.", r.MeasuredTipMach)
	}
	for _, m := range r.marks {
		CT, CP, err := r.At(m.J, m.N)
		if err != nil {
			return nil, err
		}
		for i, y := range []float64{CT, CP} {
			f.Panels[i].Points = marked(f.Panels[i].Points, m, y, 0.02*f.Panels[i].Y.Max)
		}
	}
	if len(points) > 0 {
		for i := range f.Panels {
			f.Panels[i].Points = append(f.Panels[i].Points, r.pointsOf(points, speeds, i)...)
		}
		f.Note += " Marks are measured, " + spunAt(points) + ", in the colour of the curve nearest in speed."
	}
	return f, nil
}

// marked adds an operating point, to a mark that would cover it where there is
// one within near. The legend names the marks: callouts would cover the curves.
func marked(all []chart.Points, m rotorMark, y, near float64) []chart.Points {
	for i := range all {
		if o := &all[i]; o.X[0] == m.J && math.Abs(o.Y[0]-y) < near {
			o.Family += ", " + m.name
			return all
		}
	}
	return append(all, chart.Points{Family: m.name, Hollow: true, X: []float64{m.J}, Y: []float64{y}})
}

// curve computes the curves at n rev/s.
func (r *RotorCurves) curve(n float64) (rotorCurve, error) {
	c := rotorCurve{n: n}
	for k := 0; ; k++ {
		J := rotorStep * float64(k)
		CT, CP, err := r.At(J, n)
		if err != nil {
			return c, err
		}
		if k == 0 && !(CT > 0) {
			return c, fmt.Errorf("CT at rest is %.3g at %s: want a propeller that gives thrust at rest", CT, rpmText(n))
		}
		last := k > 0 && !(CT > 0 && J < mostAdvance)
		if last && CT < 0 { // the zero between two steps
			i := k - 1
			t := c.CT[i] / (c.CT[i] - CT)
			J, CT, CP = J-(1-t)*rotorStep, 0, c.CP[i]+t*(CP-c.CP[i])
		}
		c.J = append(c.J, J)
		c.CT = append(c.CT, CT)
		c.CP = append(c.CP, CP)
		c.eta = append(c.eta, max(0, rotor.Eta(J, CT, CP)))
		if last {
			return c, nil
		}
	}
}

// rotorPoint is a measured point as drawn; n in rev/s.
type rotorPoint struct{ n, J, CT, CP, eta float64 }

// measured are the measured points that have thrust and take power.
func (r *RotorCurves) measured() []rotorPoint {
	if r.Measured == nil {
		return nil
	}
	var out []rotorPoint
	for _, m := range r.Measured.Points {
		if CT, CP := r.Measured.Coefficients(m); CT > 0 && CP > 0 {
			out = append(out, rotorPoint{m.N, m.J, CT, CP, rotor.Eta(m.J, CT, CP)})
		}
	}
	return out
}

// pointsOf are the measured points in the i-th panel, those nearest to each curve in
// its colour and with a shape of their own.
func (r *RotorCurves) pointsOf(points []rotorPoint, speeds []float64, i int) []chart.Points {
	var out []chart.Points
	for _, n := range speeds {
		q := chart.Points{Family: r.speedText(n)}
		for _, p := range points {
			y := [...]float64{p.CT, p.CP, p.eta}[i]
			if nearest(speeds, p.n) == n && y != 0 { // at rest there is no efficiency
				q.X = append(q.X, p.J)
				q.Y = append(q.Y, y)
			}
		}
		if len(q.X) > 0 {
			out = append(out, q)
		}
	}
	return out
}

// nearest is the one of some speeds that is nearest to n by ratio.
func nearest(speeds []float64, n float64) float64 {
	return slices.MinFunc(speeds, func(a, b float64) int {
		return cmp.Compare(math.Abs(math.Log(a/n)), math.Abs(math.Log(b/n)))
	})
}

// spunAt says at which speeds points were measured: "at 9,000 to 21,000 rpm".
func spunAt(points []rotorPoint) string {
	lo, hi := points[0].n, points[0].n
	for _, p := range points {
		lo, hi = min(lo, p.n), max(hi, p.n)
	}
	if rpmNumber(lo) == rpmNumber(hi) {
		return "at " + rpmText(lo)
	}
	return "at " + rpmNumber(lo) + " to " + rpmText(hi)
}

// speedText names a speed and what it means for the flow: "hover, 8,413 rpm (tip
// Mach 0.16)".
func (r *RotorCurves) speedText(n float64) string {
	s := r.turnsText(n)
	for _, m := range r.marks {
		if m.N == n {
			s = m.name + ", " + s
		}
	}
	return s
}

// turnsText is speedText without what the speed is: "8,413 rpm (tip Mach 0.31)".
func (r *RotorCurves) turnsText(n float64) string {
	return fmt.Sprintf("%s (tip Mach %.2f)", rpmText(n), r.tipMach(n))
}

func (r *RotorCurves) tipMach(n float64) float64 {
	return r.Air.Mach(rotor.TipSpeed(r.Diameter, n))
}

// rpmText gives a speed of rotation in rev/s to three digits: "21,700 rpm".
func rpmText(n float64) string { return rpmNumber(n) + " rpm" }

func rpmNumber(n float64) string {
	rpm := 60 * n
	if rpm <= 0 {
		return "0"
	}
	scale := math.Pow(10, math.Max(0, math.Floor(math.Log10(rpm))-2))
	return texts.Grouped(uint64(math.Round(rpm/scale) * scale))
}

// peak gives the highest efficiency of a curve and the advance ratio that has it.
func (c *rotorCurve) peak() (eta, J float64) {
	best := 0
	for i, eta := range c.eta {
		if eta > c.eta[best] {
			best = i
		}
	}
	return c.eta[best], c.J[best]
}

// rotorTitle says what the curves come to.
func rotorTitle(all []rotorCurve) string {
	first, last := &all[0], &all[len(all)-1]
	eta, J := last.peak()
	title := fmt.Sprintf("Efficiency reaches %.2f at J = %.2f and %s", eta, J, rpmText(last.n))
	if len(all) > 1 {
		more, change := "more", 100*(last.CT[0]/first.CT[0]-1)
		if change < 0 {
			more, change = "less", -change
		}
		title += fmt.Sprintf("; static CT is %.0f %% %s than at %s", change, more, rpmText(first.n))
	}
	return title
}

// spread picks up to k of values, the first and the last among them; of one the last.
func spread(v []float64, k int) []float64 {
	switch {
	case len(v) <= k:
		return v
	case k == 1:
		return v[len(v)-1:]
	}
	out := make([]float64, k)
	for i := range out {
		out[i] = v[i*(len(v)-1)/(k-1)]
	}
	return out
}

// roundUp is a round end of an axis, at v or above it.
func roundUp(v float64) float64 { return chart.RoundUp(v, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8) }
