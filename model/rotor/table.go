package rotor

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"

	"rotorsieve/model/air"
)

// Table holds thrust and power of one rotor in one air over advance ratio and
// speed, as a bicubic spline through solutions of the Solver. It is read-only
// and safe for concurrent use; the same rotor and air always give the same
// table, bit for bit.
//
// Between tip Mach 0.1 and 0.85, and between its advance ratios, it is within
// 0.1 % of the static CT and CP of the Solver.
type Table struct {
	geometry Geometry
	air      air.Air
	nodes    [rows][columns]node // at n and J
	n        [rows]float64
	perN     [rows - 1]float64 // 1/(n[i+1] - n[i])
	J        [columns]float64  // J[backSteps] is 0
	back     float64           // 1 over the spacing of J below 0
	ahead    float64           // and above

	zeroThrust float64 // J of zero thrust, at a middling speed

	// first[k] is the interval of n in which the k-th eighth of an octave
	// above n[0] begins.
	first   []uint8
	octave0 int
}

// node is a point of the spline: CT and CP with their derivatives with J, n
// and both.
type node struct {
	CT, CTJ, CTn, CTJn float64
	CP, CPJ, CPn, CPJn float64
}

// tableMach are the tip Mach numbers of a table's rows: in steps of a half
// where Reynolds number governs, closer where drag rises.
var tableMach = [...]float64{
	.02, .04, .07, .095, .12, .15, .20, .30, .45, .57, .66, .74, .79, .84, .90, 1.0,
}

// The columns of a table: advance ratio -0.2 to 0, and 0 to just past zero thrust.
const (
	backAdvance = -0.2
	backSteps   = 2
	aheadSteps  = 11
)

const (
	rows    = len(tableMach)
	columns = backSteps + 1 + aheadSteps
)

// NewTable solves the rotor over the range of the table, in a few
// milliseconds. The error is that of the solver where it fails, or says that
// the rotor gives no thrust at rest.
func NewTable(s *Solver) (*Table, error) {
	t := s.emptyTable()
	zero, err := s.zeroThrust(t.n[rows/2])
	if err != nil {
		return nil, err
	}
	end := t.reach(zero)
	var phi [columns]inflow // of the row before
	for i, n := range t.n {
		for j, J := range t.J {
			p, err := s.solve(J, n, &phi[j])
			if err != nil {
				return nil, err
			}
			t.nodes[i][j] = node{CT: p.CT, CP: p.CP}
		}
		if CT := t.nodes[i][columns-1].CT; !(CT < 0) {
			return nil, fmt.Errorf("rotor: CT is %.3g at J = %.3g and n = %.4g rev/s, beyond zero thrust at other "+
				"speeds: want a blade with less washout", CT, end, n)
		}
	}
	t.spline()
	return t, nil
}

// emptyTable is a table with its speeds alone.
func (s *Solver) emptyTable() *Table {
	t := &Table{geometry: s.geometry, air: s.air}
	for i, M := range tableMach {
		t.n[i] = M * s.air.SoundSpeed / (math.Pi * s.geometry.Diameter)
	}
	t.index()
	return t
}

// reach sets the advance ratios by that of zero thrust at a middling speed, and gives the
// last: past zero thrust at all speeds, which NewTable checks.
func (t *Table) reach(zeroThrust float64) (end float64) {
	t.zeroThrust = zeroThrust
	end = 1.08*zeroThrust + 0.02
	t.back = backSteps / -backAdvance
	t.ahead = aheadSteps / end
	for j := range t.J {
		if j < backSteps {
			t.J[j] = float64(j-backSteps) / t.back
		} else {
			t.J[j] = float64(j-backSteps) / t.ahead
		}
	}
	return end
}

// zeroThrust returns the advance ratio at which the rotor gives no thrust at n
// rev/s, to a thousandth of the static thrust.
func (s *Solver) zeroThrust(n float64) (float64, error) {
	p0, err := s.Solve(0, n)
	if err != nil {
		return 0, err
	}
	if !(p0.CT > 0) {
		return 0, fmt.Errorf("rotor: static CT is %.4g: want a blade that gives thrust at rest", p0.CT)
	}
	// The secant rule, from the advance ratio at which the section at 75 %
	// radius meets the flow at zero lift.
	_, beta := s.geometry.Blade.At(0.75)
	beta += s.geometry.Correction.Pitch - s.polar.alpha0
	J := 0.75 * math.Pi * math.Tan(math.Max(2*deg, math.Min(beta, 75*deg)))
	Ja, fa := 0.0, p0.CT
	for range 20 {
		p, err := s.Solve(J, n)
		if err != nil {
			return 0, err
		}
		if math.Abs(p.CT) < 1e-3*p0.CT {
			return J, nil
		}
		Jb := J - p.CT*(J-Ja)/(p.CT-fa)
		Ja, fa = J, p.CT
		if J = Jb; !(J > 0) {
			break
		}
	}
	return 0, fmt.Errorf("rotor: no advance ratio of zero thrust: want a blade whose pitch angle at 75 %% radius, "+
		"now %.1f°, lies between about 0 and 60°", (beta+s.polar.alpha0)/deg)
}

// spline fills in the derivatives of the nodes: a not-a-knot cubic spline
// through each row and column.
func (t *Table) spline() {
	for i := range rows {
		at := func(j int) *node { return &t.nodes[i][j] }
		derive(t.J[:], at, func(k *node) (*float64, *float64) { return &k.CT, &k.CTJ })
		derive(t.J[:], at, func(k *node) (*float64, *float64) { return &k.CP, &k.CPJ })
	}
	for j := range columns {
		at := func(i int) *node { return &t.nodes[i][j] }
		derive(t.n[:], at, func(k *node) (*float64, *float64) { return &k.CT, &k.CTn })
		derive(t.n[:], at, func(k *node) (*float64, *float64) { return &k.CP, &k.CPn })
		derive(t.n[:], at, func(k *node) (*float64, *float64) { return &k.CTJ, &k.CTJn })
		derive(t.n[:], at, func(k *node) (*float64, *float64) { return &k.CPJ, &k.CPJn })
	}
}

// derive sets the derivative of one quantity along one line of nodes at x.
func derive(x []float64, at func(int) *node, of func(*node) (f, df *float64)) {
	y := make([]float64, len(x))
	for i := range x {
		f, _ := of(at(i))
		y[i] = *f
	}
	var c interp.NotAKnotCubic
	if err := c.Fit(x, y); err != nil {
		panic(err) // the nodes increase and are many
	}
	for i := range x {
		_, df := of(at(i))
		*df = c.PredictDerivative(x[i])
	}
}

// octave returns the eighths of an octave in n, linear within each.
func octave(n float64) int { return int(math.Float64bits(n) >> 49) }

// index prepares the search for the interval of n.
func (t *Table) index() {
	for i := range t.perN {
		t.perN[i] = 1 / (t.n[i+1] - t.n[i])
	}
	t.octave0 = octave(t.n[0])
	i := 0
	for k := t.octave0; k <= octave(t.n[rows-1]); k++ {
		begin := math.Float64frombits(uint64(k) << 49)
		for i < rows-2 && t.n[i+1] <= begin {
			i++
		}
		t.first = append(t.first, uint8(i))
	}
}

// SpeedRange returns the speeds in rev/s between which the table answers, tip
// Mach 0.02 and 1. Outside it answers as at the nearer end.
func (t *Table) SpeedRange() (nMin, nMax float64) { return t.n[0], t.n[rows-1] }

// AdvanceRange returns the advance ratios between which the table holds
// solutions, from -0.2 to past zero thrust at all speeds. Outside it goes on
// linearly.
func (t *Table) AdvanceRange() (Jmin, Jmax float64) { return t.J[0], t.J[columns-1] }

// row returns the interval of n and the weights of the cubic in it.
func (t *Table) row(n float64) (i int, w hermite) {
	switch {
	case n > t.n[rows-1]:
		n = t.n[rows-1]
	case n < t.n[0]:
		n = t.n[0]
	case n != n: // the answer is NaN too
		return 0, cubic(n, t.perN[0])
	}
	i = int(t.first[octave(n)-t.octave0])
	for i < rows-2 && n >= t.n[i+1] {
		i++
	}
	return i, cubic(n-t.n[i], t.perN[i])
}

// hermite are the weights of values and derivatives at the two ends of an
// interval.
type hermite struct{ f0, f1, d0, d1 float64 }

// cubic returns the weights at x from the beginning of an interval of length
// 1/per.
func cubic(x, per float64) hermite {
	u := x * per
	v := 1 - u
	f0 := v * v * (1 + 2*u)
	xv := x * v
	return hermite{f0: f0, f1: 1 - f0, d0: xv * v, d1: -xv * u}
}

// Static returns thrust and power coefficients at rest, J = 0, at n rev/s.
func (t *Table) Static(n float64) (CT, CP float64) {
	i, w := t.row(n)
	a, b := &t.nodes[i][backSteps], &t.nodes[i+1][backSteps]
	return w.f0*a.CT + w.f1*b.CT + w.d0*a.CTn + w.d1*b.CTn,
		w.f0*a.CP + w.f1*b.CP + w.d0*a.CPn + w.d1*b.CPn
}

// StaticSlope returns what Static does, with the derivatives of CT and CP with
// ln n.
func (t *Table) StaticSlope(n float64) (CT, dCT, CP, dCP float64) {
	i, w := t.row(n)
	a, b := &t.nodes[i][backSteps], &t.nodes[i+1][backSteps]
	CT = w.f0*a.CT + w.f1*b.CT + w.d0*a.CTn + w.d1*b.CTn
	CP = w.f0*a.CP + w.f1*b.CP + w.d0*a.CPn + w.d1*b.CPn
	if n < t.n[0] || n > t.n[rows-1] {
		return CT, 0, CP, 0
	}
	w = cubicSlope(n-t.n[i], t.perN[i])
	dCT = n * (w.f0*a.CT + w.f1*b.CT + w.d0*a.CTn + w.d1*b.CTn)
	dCP = n * (w.f0*a.CP + w.f1*b.CP + w.d0*a.CPn + w.d1*b.CPn)
	return CT, dCT, CP, dCP
}

// cubicSlope returns the derivative of cubic with x.
func cubicSlope(x, per float64) hermite {
	u := x * per
	v := 1 - u
	return hermite{
		f0: -6 * u * v * per,
		f1: 6 * u * v * per,
		d0: v * (v - 2*u),
		d1: u * (u - 2*v),
	}
}

// At returns thrust and power coefficients at advance ratio J and n rev/s.
// At(0, n) equals Static(n) bit for bit.
func (t *Table) At(J, n float64) (CT, CP float64) {
	if J == 0 {
		return t.Static(n)
	}
	const last = columns - 1
	j, per := last-1, t.ahead
	switch {
	case J < t.J[0]:
		j, per = 0, t.back
	case J < 0:
		j, per = int((J-t.J[0])*t.back), t.back
	case J < t.J[last]:
		j = min(backSteps+int(J*per), last-1)
	}
	i, w := t.row(n)
	a, b := &t.nodes[i][j], &t.nodes[i][j+1]
	c, d := &t.nodes[i+1][j], &t.nodes[i+1][j+1]
	T0 := w.f0*a.CT + w.f1*c.CT + w.d0*a.CTn + w.d1*c.CTn
	T1 := w.f0*b.CT + w.f1*d.CT + w.d0*b.CTn + w.d1*d.CTn
	S0 := w.f0*a.CTJ + w.f1*c.CTJ + w.d0*a.CTJn + w.d1*c.CTJn
	S1 := w.f0*b.CTJ + w.f1*d.CTJ + w.d0*b.CTJn + w.d1*d.CTJn
	P0 := w.f0*a.CP + w.f1*c.CP + w.d0*a.CPn + w.d1*c.CPn
	P1 := w.f0*b.CP + w.f1*d.CP + w.d0*b.CPn + w.d1*d.CPn
	R0 := w.f0*a.CPJ + w.f1*c.CPJ + w.d0*a.CPJn + w.d1*c.CPJn
	R1 := w.f0*b.CPJ + w.f1*d.CPJ + w.d0*b.CPJn + w.d1*d.CPJn
	switch {
	case J < t.J[0]:
		return T0 + S0*(J-t.J[0]), P0 + R0*(J-t.J[0])
	case J > t.J[last]:
		return T1 + S1*(J-t.J[last]), P1 + R1*(J-t.J[last])
	}
	z := cubic(J-t.J[j], per)
	return z.f0*T0 + z.f1*T1 + z.d0*S0 + z.d1*S1,
		z.f0*P0 + z.f1*P1 + z.d0*R0 + z.d1*R1
}
