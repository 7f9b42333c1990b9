package field

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Given is what was learnt of some quantities at one point, each in units of its
// standard deviation before.
type Given struct {
	// Mean is what the quantities were expected to be there before the measurement
	// where that is not 0, as everywhere else.
	Mean []float64
	// Estimate is how far from Mean they are most probably by this measurement alone:
	// the posterior mean.
	Estimate []float64
	// Information is what the measurement adds to the precision, which is 1 before:
	// the posterior covariance is (1 + Information)^-1.
	Information *mat.SymDense
}

// Conditional is a field of some independent quantities, given what was learnt at
// some points.
//
// The joint posterior is that of a Gaussian prior with the correlation K between
// points and a Gaussian likelihood of information W: with W = L LT and the
// estimate e at a point by its own data, which are W^+ (1 + W) e,
//
//	a    = L (1 + LT K L)^-1 L^+ (1 + W) e
//	mean = k (K^-1 m + a),  covariance = 1 - k L (1 + LT K L)^-1 LT k
//
// at a point with correlations k (Rasmussen and Williams, Gaussian Processes for
// Machine Learning, 2006, section 2.2, from memory, in a form that no direction
// without information harms; derived here). One point alone keeps e + m; where k
// is nothing so are the means.
type Conditional struct {
	points, quantities int

	weight []float64     // K^-1 m + a, the quantities of a point side by side
	gain   *mat.SymDense // L (1 + LT K L)^-1 LT
	factor mat.Cholesky  // of K
	root   *mat.Dense    // L
	inner  mat.Cholesky  // of 1 + LT K L
	data   *mat.VecDense // L^+ (1 + W) e
	means  []float64     // K^-1 m, as weight
}

// jitter keeps points apart that are closer than rounding can tell, as a relative
// variance.
const jitter = 1e-9

// Condition gives the conditional on what was learnt at points whose correlations
// are K, 1 on the diagonal. It errs where K is not positive definite.
func Condition(K *mat.SymDense, given []Given) (*Conditional, error) {
	n := len(given)
	d := len(given[0].Estimate)
	c := &Conditional{points: n, quantities: d, weight: make([]float64, n*d), means: make([]float64, n*d)}
	noisy := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			noisy.SetSym(i, j, K.At(i, j))
		}
		noisy.SetSym(i, i, K.At(i, i)+jitter)
	}
	if !c.factor.Factorize(noisy) {
		return nil, errors.New("field: correlations that are not those of a field; want a positive definite matrix")
	}
	L := mat.NewDense(n*d, n*d, nil)
	v := mat.NewVecDense(n*d, nil)
	for i, g := range given {
		var e mat.EigenSym
		if !e.Factorize(g.Information, true) {
			return nil, errors.New("field: information that has no eigenvalues; want a finite symmetric matrix")
		}
		var u mat.Dense
		e.VectorsTo(&u)
		for r, w := range e.Values(nil) {
			if w <= 0 {
				continue // nothing is known along it
			}
			along := 0.0
			for q := range d {
				along += u.At(q, r) * g.Estimate[q]
				L.Set(i*d+q, i*d+r, u.At(q, r)*math.Sqrt(w))
			}
			v.SetVec(i*d+r, along*(1+w)/math.Sqrt(w))
		}
	}
	// B = 1 + LT K L, blocks of K times the unit matrix of the quantities.
	big := mat.NewDense(n*d, n*d, nil)
	for i := range n {
		for j := range n {
			for q := range d {
				big.Set(i*d+q, j*d+q, K.At(i, j))
			}
		}
	}
	var product, B mat.Dense
	product.Mul(big, L)
	B.Mul(L.T(), &product)
	sym := mat.NewSymDense(n*d, nil)
	for i := range n * d {
		for j := i; j < n*d; j++ {
			sym.SetSym(i, j, (B.At(i, j)+B.At(j, i))/2)
		}
		sym.SetSym(i, i, sym.At(i, i)+1)
	}
	ch := &c.inner
	if !ch.Factorize(sym) {
		return nil, errors.New("field: measurements that no field can have; want finite ones")
	}
	var x mat.VecDense
	if err := ch.SolveVecTo(&x, v); err != nil {
		return nil, err
	}
	var a mat.VecDense
	a.MulVec(L, &x)
	var y, gain mat.Dense
	if err := ch.SolveTo(&y, L.T()); err != nil {
		return nil, err
	}
	gain.Mul(L, &y)
	c.gain = mat.NewSymDense(n*d, nil)
	for i := range n * d {
		for j := i; j < n*d; j++ {
			c.gain.SetSym(i, j, (gain.At(i, j)+gain.At(j, i))/2)
		}
	}
	mean := mat.NewVecDense(n, nil)
	var w mat.VecDense
	for q := range d {
		for i, g := range given {
			mean.SetVec(i, 0)
			if g.Mean != nil {
				mean.SetVec(i, g.Mean[q])
			}
		}
		if err := c.factor.SolveVecTo(&w, mean); err != nil {
			return nil, err
		}
		for i := range n {
			c.means[i*d+q] = w.AtVec(i)
			c.weight[i*d+q] = w.AtVec(i) + a.AtVec(i*d+q)
		}
	}
	c.root, c.data = L, v
	return c, nil
}

// Draw turns a draw of the field without the measurements into one given them: at a
// point with correlations k it is the draw there plus, for quantity q, the sum of
// k[i] times weights[i*quantities+q]. It takes the draw at the points that are given
// and as many independent standard normal numbers, the quantities of a point side
// by side (Matheron's rule; Journel and Huijbregts, Mining Geostatistics, 1978, from
// memory).
func (c *Conditional) Draw(before, noise []float64) (weights []float64, err error) {
	n := c.points * c.quantities
	var off, x, a mat.VecDense
	off.MulVec(c.root.T(), mat.NewVecDense(n, before))
	off.SubVec(c.data, &off)
	off.SubVec(&off, mat.NewVecDense(n, noise))
	if err := c.inner.SolveVecTo(&x, &off); err != nil {
		return nil, err
	}
	a.MulVec(c.root, &x)
	weights = make([]float64, n)
	for i := range weights {
		weights[i] = c.means[i] + a.AtVec(i)
	}
	return weights, nil
}

// Weights are those of the means: at a point with correlations k the mean of quantity q is
// the sum of k[i] times weights[i*quantities+q].
func (c *Conditional) Weights() []float64 { return slices.Clone(c.weight) }

// At gives the means of the quantities at a point that has correlations k with
// the given points, and their covariance there.
func (c *Conditional) At(k []float64) (mean []float64, covariance *mat.SymDense) {
	d := c.quantities
	mean = make([]float64, d)
	covariance = mat.NewSymDense(d, nil)
	for q := range d {
		for i := range c.points {
			mean[q] += k[i] * c.weight[i*d+q]
		}
		for r := q; r < d; r++ {
			sum := 0.0
			for i := range c.points {
				for j := range c.points {
					sum += k[i] * k[j] * c.gain.At(i*d+q, j*d+r)
				}
			}
			if q == r {
				sum = min(1, sum)
				covariance.SetSym(q, q, 1-sum)
				continue
			}
			covariance.SetSym(q, r, -sum)
		}
	}
	return mean, covariance
}

// Correlation is that of the field at a point with what all that is given says of
// it, were it measured without error: 1 at a point that is given, 0 far from all.
// Of one point alone it is the share of its estimate that is carried.
func (c *Conditional) Correlation(k []float64) float64 {
	var x mat.VecDense
	v := mat.NewVecDense(len(k), k)
	if err := c.factor.SolveVecTo(&x, v); err != nil {
		return 0
	}
	return math.Sqrt(math.Max(0, math.Min(1, mat.Dot(v, &x))))
}
