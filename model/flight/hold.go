package flight

import "math"

// inverse holds the speed of rotation at rest over the square root of thrust,
// which it is nearly proportional to, at even steps of that root.
type inverse struct {
	per   float64   // nodes per sqrt(N)
	ratio []float64 // n/sqrt(T), in units
	unit  float64   // rev/s per sqrt(N)
	least float64   // thrust in N at the ends of the speeds that the rotor model covers
	most  float64
}

// holdNodes are enough for the one step of Newton's that follows to leave an
// error of the order of 1e-12.
const holdNodes = 256

// span is the inverse without its nodes, which are 0. It has none for a propeller that gives
// hardly any thrust: Hold is false for all.
func (p *Propulsor) span() inverse {
	var v inverse
	v.least, _ = p.static(p.nMin)
	v.most, _ = p.static(p.nMax)
	if !(v.most > v.least && v.least > 0) {
		return inverse{}
	}
	end := math.Sqrt(v.most)
	v.per, v.unit = (holdNodes-1)/end, 1
	v.ratio = make([]float64, holdNodes)
	return v
}

// invert tabulates the speed for a thrust.
func (p *Propulsor) invert() inverse {
	v := p.span()
	n := p.nMin
	for i := range v.ratio {
		root := float64(i) / v.per
		T := max(v.least, root*root)
		n = p.search(T, n)
		v.ratio[i] = n / math.Sqrt(T)
	}
	return v
}

// search finds the speed for a thrust by Newton's steps in ln n on ln T, kept
// inside the bracket. It uses slopes, which package root does not, and runs some hundred
// times for every propeller.
func (p *Propulsor) search(thrust, n float64) float64 {
	lo, hi := p.nMin, p.nMax
	for range 100 {
		CT, dCT, _, _ := p.Table.StaticSlope(n)
		step := math.Log(thrust/(CT*p.Installed*p.thrust*n*n)) / (2 + dCT/CT)
		if step > 0 {
			lo = n
		} else {
			hi = n
		}
		next := n * math.Exp(step)
		if !(next >= lo && next <= hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-n) <= 1e-13*n {
			return next
		}
		n = next
	}
	return n
}

// Hold finds the speed n in rev/s at which a rotor gives the thrust in N at rest,
// and its torque in N m. It is false outside the speeds that the rotor model
// covers.
func (p *Propulsor) Hold(thrust float64) (n, Q float64, ok bool) {
	v := &p.hold
	if !(thrust >= v.least && thrust <= v.most) || v.ratio == nil {
		return 0, 0, false
	}
	root := math.Sqrt(thrust)
	x := root * v.per
	i := max(0, min(int(x)-1, holdNodes-4))
	w := lagrange(x - float64(i))
	r := v.ratio[i : i+4 : i+4]
	n = root * v.unit * (w[0]*r[0] + w[1]*r[1] + w[2]*r[2] + w[3]*r[3])
	CT, dCT, CP, dCP := p.Table.StaticSlope(n)
	T := CT * p.Installed * p.thrust * n * n
	step := (thrust - T) / (T * (2 + dCT/CT)) // of ln n
	if math.Abs(step) > 1e-6 {                // only where thrust is nearly 0
		n = p.search(thrust, n)
		_, _, CP, dCP = p.Table.StaticSlope(n)
		step = 0
	}
	n += n * step
	CP += dCP * step
	return n, CP * p.power * n * n / (2 * math.Pi), true
}
