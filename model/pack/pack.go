// Package pack models the battery: mass, resistance, current limit, and the
// endurance under a constant power draw, integrated over the discharge.
//
// A pack is N cells in series. Its voltage is the rested voltage at the depth
// of discharge less the drop over one resistance; that is enough for hover and for
// minutes at full throttle, and leaves out the slow relaxation of the cells.
package pack

import (
	"fmt"
	"math"
)

const (
	activation   = 20000  // J/mol
	gasConstant  = 8.314  // J/(mol K)
	referenceT   = 298.15 // K
	limitScale   = 2.5    // A sqrt(mohm/mAh)
	limitRate    = 50.0   // C
	burstFactor  = 2.0    // seconds at full throttle over continuous
	agedCapacity = 0.9
	agedR        = 1.3
)

// coldCapacity gives the share of the capacity left at temperatures in K.
var coldCapacity = struct{ t, share []float64 }{
	t:     []float64{253.15, 263.15, 273.15, 283.15, 298.15},
	share: []float64{0.60, 0.78, 0.88, 0.95, 1},
}

// Condition is the state in which a pack is flown.
type Condition struct {
	Temperature float64 // of the cells, K
	Aged        bool    // capacity x 0.9 and resistance x 1.3
}

// Pack is one battery in one condition.
type Pack struct {
	Cells    int
	Capacity float64 // nominal, A s
	Mass     float64 // kg
	R        float64 // ohm, at the condition's temperature
	Floor    float64 // loaded pack voltage at which a flight ends, V
	Limit    float64 // continuous current, A
	Mean     float64 // rested voltage averaged over the usable charge, V

	charge float64 // what the condition leaves of the capacity, A s
	burst  float64 // stated current for seconds, A; 0 for the usual multiple of Limit
	chem   *chemistry
}

// New gives the pack of cells in series with a capacity in A s. Cylindrical
// grades take whole cells in parallel: the capacity must be a multiple of the
// cell's.
func (of *Parameters) New(g *Grade, cells int, capacity float64, c Condition) (Pack, error) {
	if cells < 1 {
		return Pack{}, fmt.Errorf("a pack has at least 1 cell, not %d", cells)
	}
	if !(capacity > 0) {
		return Pack{}, fmt.Errorf("a pack has a capacity above 0, not %g mAh", capacity/3.6)
	}
	if !(c.Temperature > 0) {
		return Pack{}, fmt.Errorf("a pack has a temperature above 0 K, not %g K", c.Temperature)
	}
	ah := capacity / 3600
	n := float64(cells)
	p := Pack{Cells: cells, Capacity: capacity, chem: g.chem, charge: capacity}
	cell := &of.Cells[g.index]
	var cellR, limit float64
	if g.cellAh > 0 {
		parallel := math.Round(ah / g.cellAh)
		if parallel < 1 || math.Abs(parallel*g.cellAh-ah) > 1e-6*ah {
			return Pack{}, fmt.Errorf("a capacity of %g mAh is not a whole number of %s cells, want a multiple of %g "+
				"mAh",
				ah*1e3, g.Name, g.cellAh*1e3)
		}
		p.Mass = of.LiionLeads + of.Overhead*n*parallel*cell.Mass
		cellR = cell.R / parallel
		limit = g.cellMax * parallel
	} else {
		p.Mass = of.LipoLeads + of.Overhead*cell.Mass*ah*n
		cellR = cell.R / ah
		limit = math.Min(limitScale*math.Sqrt(ah*1e3/(cellR*1e3)), limitRate*ah)
	}
	r := n*(cellR+of.JointR) + of.LeadR
	p.R = r * coldResistance(c.Temperature)
	p.charge *= interpolate(coldCapacity.t, coldCapacity.share, c.Temperature)
	if c.Aged {
		p.R *= agedR
		p.charge *= agedCapacity
	}
	p.Limit = limit * of.Current
	p.Floor = n * g.chem.floor
	p.Mean = n * g.chem.mean()
	return p, nil
}

// coldResistance is the factor on a resistance at 25 degC (Arrhenius).
func coldResistance(t float64) float64 {
	return math.Exp(activation / gasConstant * (1/t - 1/referenceT))
}

// BurstLimit is the current in A that may be drawn for seconds at full throttle above
// the loaded floor (common practice).
func (p *Pack) BurstLimit() float64 {
	if p.burst > 0 {
		return p.burst
	}
	return burstFactor * p.Limit
}

// Rested gives the open-circuit voltage at a depth of discharge 0..1, in V.
func (p *Pack) Rested(dod float64) float64 {
	return float64(p.Cells) * interpolate(p.chem.dod, p.chem.rested, dod)
}

// Depth gives the depth of discharge 0..1 at which the rested voltage has fallen to
// v in V.
func (p *Pack) Depth(v float64) float64 {
	c := p.chem
	v /= float64(p.Cells)
	if v >= c.rested[0] {
		return 0
	}
	for k := 1; k < len(c.dod); k++ {
		if v >= c.rested[k] {
			return c.dod[k-1] + (c.dod[k]-c.dod[k-1])*(c.rested[k-1]-v)/(c.rested[k-1]-c.rested[k])
		}
	}
	return 1
}

// Grow says whether packs of one chemistry and number of cells come in the order of their
// capacity and grow with it in all that a craft asks of them: none has less capacity, charge,
// mass or current than the one before, nor more resistance.
func Grow(packs []Pack) bool {
	for i := 1; i < len(packs); i++ {
		a, b := &packs[i-1], &packs[i]
		if !(a.chem == b.chem && a.Cells == b.Cells && a.Floor == b.Floor && a.Mean == b.Mean &&
			a.Capacity <= b.Capacity && a.charge <= b.charge && a.Mass <= b.Mass && a.Limit <= b.Limit && a.R >= b.R) {
			return false
		}
	}
	return true
}

// Usable is the share of the capacity that a flight may draw.
func (p *Pack) Usable() float64 { return p.chem.usable }

// Endurance is the time in s that the pack holds a constant power in W, from
// full until the usable charge is drawn or the loaded floor is reached. It is
// 0 where a full pack cannot hold it.
//
// With x = 4 R P/N^2 the time is Q N/(2P) times the integral over the depth of
// discharge of v + sqrt(v^2 - x), v being the rested voltage of a cell; v is
// linear between the points of the curve, so each piece has a closed form.
func (p *Pack) Endurance(power float64) float64 {
	n := float64(p.Cells)
	x := 4 * p.R * power / (n * n)
	return p.charge * n / (2 * power) * p.chem.reach(x)
}

// Easy says whether a constant power in W is well within the pack: the voltage floor stays out
// of reach, and Endurance is a smooth function of power, charge and resistance.
func (p *Pack) Easy(power float64) bool {
	n := float64(p.Cells)
	return 4*p.R*power/(n*n) < p.chem.within
}

// Terms of the series and the largest x/v^2 for which they are enough, to a part
// in 1e11.
const (
	terms    = 13
	smallest = 0.2
)

// series is the integral of v + sqrt(v^2 - x) over the usable charge in powers of
// x. Flight at moderate power needs no more.
//
//	v + sqrt(v^2 - x) = 2v - sum over k of c[k] x^k v^(1-2k)
type series [terms]float64

// newChemistry works out the series.
func newChemistry(c chemistry) *chemistry {
	ck := 0.0 // coefficient of (x/v^2)^k in sqrt(1 - x/v^2), less its sign
	end := interpolate(c.dod, c.rested, c.usable)
	for k := range terms {
		p := 2 - 2*float64(k) // one above the power of v
		primitive := func(v float64) float64 {
			if p == 0 {
				return math.Log(v)
			}
			return math.Pow(v, p) / p
		}
		sum := 0.0
		for j := 1; j < len(c.dod) && c.dod[j-1] < c.usable; j++ {
			v0, v1 := c.rested[j-1], c.rested[j]
			slope := (v1 - v0) / (c.dod[j] - c.dod[j-1])
			sum += (primitive(math.Max(v1, end)) - primitive(v0)) / slope
		}
		if k == 0 {
			c.series[0] = 2 * sum
			ck = 0.5
			continue
		}
		c.series[k] = -ck * sum
		ck *= (float64(k) - 0.5) / (float64(k) + 1)
	}
	// Below both the floor is not reached and the series is short.
	c.within = math.Min(smallest*end*end, 4*c.floor*(end-c.floor))
	return &c
}

// at sums the series, by pairs rather than one term after the other, for speed.
func (s *series) at(x float64) float64 {
	x2 := x * x
	x4 := x2 * x2
	a := s[0] + s[1]*x + (s[2]+s[3]*x)*x2
	b := s[4] + s[5]*x + (s[6]+s[7]*x)*x2
	c := s[8] + s[9]*x + (s[10]+s[11]*x)*x2
	return a + b*x4 + (c+s[12]*x4)*(x4*x4)
}

// reach integrates v + sqrt(v^2 - x) over the depth of discharge up to the
// usable share or the loaded floor, whichever comes first. V.
func (c *chemistry) reach(x float64) float64 {
	if x < c.within {
		return c.series.at(x)
	}
	return c.pieces(x)
}

// pieces is reach in closed form, piece by piece of the curve.
func (c *chemistry) pieces(x float64) float64 {
	// Loaded voltage (v + sqrt(v^2 - x))/2 equals the floor f at v = f + x/4f,
	// as long as f is above the voltage of most power.
	f := c.floor
	cut := f + x/(4*f)
	if x > 4*f*f {
		cut = math.Sqrt(x)
	}
	if c.rested[0] <= cut {
		return 0
	}
	sum := 0.0
	v0 := c.rested[0]
	h0 := reachPrimitive(v0, x)
	for k := 1; k < len(c.dod); k++ {
		d0, d1 := c.dod[k-1], c.dod[k]
		v1 := c.rested[k]
		slope := (v1 - v0) / (d1 - d0)
		last := false
		if d1 >= c.usable {
			v1, last = v0+slope*(c.usable-d0), true
		}
		if v1 <= cut {
			v1, last = cut, true
		}
		h1 := reachPrimitive(v1, x)
		sum += (h1 - h0) / slope
		if last {
			break
		}
		v0, h0 = v1, h1
	}
	return sum
}

// reachPrimitive is an antiderivative of v + sqrt(v^2 - x) with respect to v.
func reachPrimitive(v, x float64) float64 {
	s := math.Sqrt(math.Max(0, v*v-x))
	return 0.5 * (v*v + v*s - x*math.Log(v+s))
}

// mean is the rested voltage of a cell averaged over the usable charge, V.
func (c *chemistry) mean() float64 { return c.reach(0) / (2 * c.usable) }

// interpolate is linear in a rising x, and holds the end values outside.
func interpolate(x, y []float64, at float64) float64 {
	n := len(x)
	if at <= x[0] {
		return y[0]
	}
	for k := 1; k < n; k++ {
		if at <= x[k] {
			return y[k-1] + (y[k]-y[k-1])*(at-x[k-1])/(x[k]-x[k-1])
		}
	}
	return y[n-1]
}
