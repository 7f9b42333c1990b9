package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

const in = 0.0254

func at(D, ratio float64, blades int) Point { return At(D*in, ratio*D*in, blades, 1) }

// The basis carries what is said of it, and its sums are the kernel.
func TestModes(t *testing.T) {
	t.Parallel()
	mean, n, first := 0.0, 0.0, 0.0
	for _, D := range []float64{2, 3, 4, 5, 6, 7, 8, 9, 10, 12} {
		for _, ratio := range []float64{0.4, 0.6, 0.8, 1} {
			for _, blades := range []int{2, 3, 4} {
				v, carried := raw(at(D, ratio, blades))
				if carried < 0.993 || carried > 1 {
					t.Errorf("%g in, %g, %d blades: %.4f of the variance", D, ratio, blades, carried)
				}
				mean += carried
				n++
				for _, x := range v[:24] {
					first += x * x
				}
			}
		}
	}
	if mean /= n; mean < 0.999 {
		t.Errorf("%d modes carry %.4f of the variance on average, want 0.999", Count, mean)
	}
	t.Logf("%d modes carry %.5f of the variance, the first 24 %.3f", Count, mean, first/n)
	worst := 0.0
	for _, D := range []float64{2, 3, 5, 8, 12} {
		for _, E := range []float64{2, 3, 5, 8, 12} {
			for _, r := range []float64{0.4, 0.7, 1} {
				for _, s := range []float64{0.4, 0.7, 1} {
					a, b := at(D, r, 2), at(E, s, 3)
					want := bell(math.Log(D/E)/LengthDiameter) * bell((r-s)/LengthPitch) *
						bell(math.Log(1.5)/LengthBlades)
					worst = math.Max(worst, math.Abs(Family(a, b)-want))
				}
			}
		}
	}
	if worst > 0.005 {
		t.Errorf("the basis is off the kernel by %.4f, want at most 0.005", worst)
	}
	for _, p := range []Point{at(2, 0.1, 8), at(12, 2, 2), at(39, 2, 8), at(1, 0.1, 2)} {
		if v := Family(p, p); math.Abs(v-1) > 1e-12 || math.IsNaN(v) {
			t.Errorf("%+v: variance %g, want 1", p, v)
		}
	}
}

// The covariance fades from a point on without a step, along each direction.
func TestCovarianceFades(t *testing.T) {
	t.Parallel()
	from := at(5, 0.8, 3)
	for name, along := range map[string]func(x float64) Point{
		"diameter":        func(x float64) Point { return at(5*math.Exp(x), 0.8, 3) },
		"smaller":         func(x float64) Point { return at(5*math.Exp(-x), 0.8, 3) },
		"pitch":           func(x float64) Point { return at(5, 0.8+x, 3) },
		"lower pitch":     func(x float64) Point { return at(5, 0.8-x, 3) },
		"chord":           func(x float64) Point { return At(5*in, 4*in, 3, math.Exp(x)) },
		"pitch and chord": func(x float64) Point { return At(5*in, (0.8+x)*5*in, 3, math.Exp(-x)) },
	} {
		const step = 0.005
		last := Covariance(from, along(0))
		if math.Abs(last-1) > 1e-12 {
			t.Errorf("%s: %g at no distance", name, last)
		}
		for x := step; x <= 0.65; x += step {
			k := Covariance(from, along(x))
			if k > last+1e-4 || last-k > 0.03 {
				t.Errorf("%s: %g at %g, %g before", name, k, x, last)
			}
			last = k
		}
	}
	if k := Covariance(from, at(5, 0.8, 2)); !(k < Share && k > 0.2) {
		t.Errorf("two blades for three: %g", k)
	}
	if k := Covariance(at(3, 0.8, 3), at(10, 0.8, 3)); k > 0.05 {
		t.Errorf("3 in for 10 in: %g", k)
	}
	wide := Covariance(from, At(5*in, 4*in, 3, 1.5))
	if math.Abs(wide-Share) > 0.001 {
		t.Errorf("half as wide again: %g, want the share of the family, %g", wide, Share)
	}
}

// correlations is the matrix of some points.
func correlations(points []Point) *mat.SymDense {
	K := mat.NewSymDense(len(points), nil)
	for i, a := range points {
		for j := i; j < len(points); j++ {
			K.SetSym(i, j, Covariance(a, points[j]))
		}
	}
	return K
}

func with(points []Point, p Point) (k []float64) {
	for _, q := range points {
		k = append(k, Covariance(p, q))
	}
	return k
}

func diagonal(v ...float64) *mat.SymDense {
	s := mat.NewSymDense(len(v), nil)
	for i, x := range v {
		s.SetSym(i, i, x)
	}
	return s
}

// A measurement of next to no uncertainty is given back at its point, several are
// joined, and far away nothing is said.
func TestConditionalAtItsPoints(t *testing.T) {
	t.Parallel()
	points := []Point{at(5, 0.8, 3), at(5.5, 0.8, 3), at(5, 0.6, 3), at(7, 0.7, 2)}
	given := []Given{
		{Mean: []float64{0.3, 0}, Estimate: []float64{1, -0.5}, Information: diagonal(1e10, 1e10)},
		{Estimate: []float64{0.5, 0.2}, Information: diagonal(1e10, 1e10)},
		{Estimate: []float64{-1, 0}, Information: diagonal(1e10, 1e10)},
		{Mean: []float64{0, 1}, Estimate: []float64{2, 2}, Information: diagonal(1e10, 1e10)},
	}
	c, err := Condition(correlations(points), given)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range points {
		mean, cov := c.At(with(points, p))
		for q, m := range mean {
			want := given[i].Estimate[q]
			if given[i].Mean != nil {
				want += given[i].Mean[q]
			}
			if math.Abs(m-want) > 1e-6 || math.Abs(cov.At(q, q)) > 1e-6 {
				t.Errorf("point %d, quantity %d: %g with variance %g, want %g and none", i, q, m, cov.At(q, q), want)
			}
		}
		if s := c.Correlation(with(points, p)); math.Abs(s-1) > 1e-6 {
			t.Errorf("point %d: correlation %g, want 1", i, s)
		}
	}
	far := with(points, at(12, 1.6, 8))
	mean, cov := c.At(far)
	if math.Abs(mean[0]) > 0.01 || cov.At(0, 0) < 0.99 || c.Correlation(far) > 0.1 {
		t.Errorf("far: %v with variance %g, correlation %g; want nothing", mean, cov.At(0, 0), c.Correlation(far))
	}
	alone, err := Condition(correlations(points[:1]), given[:1])
	if err != nil {
		t.Fatal(err)
	}
	k := with(points[:1], at(5.5, 0.75, 3))
	if mean, _ := alone.At(k); math.Abs(mean[0]-1.3*k[0]) > 1e-7 || math.Abs(alone.Correlation(k)-k[0]) > 1e-7 {
		t.Errorf("of one alone: %g, correlation %g; want %g and %g", mean[0], alone.Correlation(k), 1.3*k[0], k[0])
	}
}

// The conditional is that of the textbook, solved with the whole covariance: of a
// scalar field with noise, and where one of two quantities is not measured.
func TestConditionalOfNoise(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	points := []Point{at(4, 0.5, 2), at(5, 0.6, 2), at(5, 0.62, 2), at(6, 0.9, 3)}
	n := len(points)
	K := correlations(points)
	noise, data := make([]float64, n), mat.NewVecDense(n, nil)
	var given []Given
	for i := range n {
		noise[i] = 0.05 + 0.5*rng.Float64()
		data.SetVec(i, rng.NormFloat64())
		w := 1 / (noise[i] * noise[i])
		given = append(given, Given{Estimate: []float64{data.AtVec(i) * w / (1 + w), 0}, Information: diagonal(w, 0)})
	}
	c, err := Condition(K, given)
	if err != nil {
		t.Fatal(err)
	}
	noisy := mat.NewSymDense(n, nil)
	noisy.CopySym(K)
	for i := range n {
		noisy.SetSym(i, i, 1+noise[i]*noise[i])
	}
	p := at(5.2, 0.64, 2)
	k := mat.NewVecDense(n, with(points, p))
	var x, y mat.VecDense
	if err := x.SolveVec(noisy, data); err != nil {
		t.Fatal(err)
	}
	if err := y.SolveVec(noisy, k); err != nil {
		t.Fatal(err)
	}
	mean, cov := c.At(k.RawVector().Data)
	if want := mat.Dot(k, &x); math.Abs(mean[0]-want) > 1e-9 {
		t.Errorf("mean %g, want %g", mean[0], want)
	}
	if want := 1 - mat.Dot(k, &y); math.Abs(cov.At(0, 0)-want) > 1e-9 {
		t.Errorf("variance %g, want %g", cov.At(0, 0), want)
	}
	if mean[1] != 0 || cov.At(1, 1) != 1 || cov.At(0, 1) != 0 {
		t.Errorf("what was not measured: %g with variance %g, covariance %g", mean[1], cov.At(1, 1), cov.At(0, 1))
	}
}

// Two measurements of one point are one of less noise.
func TestConditionalOfTwins(t *testing.T) {
	t.Parallel()
	p := at(5, 0.8, 3)
	w := 25.0
	one := Given{Estimate: []float64{0.8 * w / (1 + w)}, Information: diagonal(w)}
	other := Given{Estimate: []float64{1.2 * w / (1 + w)}, Information: diagonal(w)}
	c, err := Condition(correlations([]Point{p, p}), []Given{one, other})
	if err != nil {
		t.Fatal(err)
	}
	mean, cov := c.At([]float64{1, 1})
	if want := 2 * w / (1 + 2*w); math.Abs(mean[0]-want) > 1e-6 || math.Abs(cov.At(0, 0)-1/(1+2*w)) > 1e-6 {
		t.Errorf("%g with variance %g, want %g and %g", mean[0], cov.At(0, 0), want, 1/(1+2*w))
	}
}

// Draws given measurements have the mean and the variance of the conditional.
func TestDraw(t *testing.T) {
	t.Parallel()
	points := []Point{at(4, 0.5, 2), at(5, 0.6, 2)}
	p := at(4.6, 0.65, 2)
	given := []Given{
		{Mean: []float64{0.5, 0}, Estimate: []float64{1, 0.2}, Information: mat.NewSymDense(2, []float64{20, 5, 5, 3})},
		{Estimate: []float64{-0.3, 0}, Information: diagonal(4, 0)},
	}
	c, err := Condition(correlations(points), given)
	if err != nil {
		t.Fatal(err)
	}
	k := with(points, p)
	mean, cov := c.At(k)
	rng := rand.New(rand.NewPCG(5, 6))
	var joint mat.Cholesky // of the two points and p
	if !joint.Factorize(correlations(append(points, p))) {
		t.Fatal("no field")
	}
	var L mat.TriDense
	joint.LTo(&L)
	const draws = 40000
	var sum, square [2]float64
	for range draws {
		var z [3][2]float64
		for q := range 2 {
			var e [3]float64
			for i := range e {
				e[i] = rng.NormFloat64()
				for j := range i + 1 {
					z[i][q] += L.At(i, j) * e[j]
				}
			}
		}
		noise := make([]float64, 4)
		for i := range noise {
			noise[i] = rng.NormFloat64()
		}
		w, err := c.Draw([]float64{z[0][0], z[0][1], z[1][0], z[1][1]}, noise)
		if err != nil {
			t.Fatal(err)
		}
		for q := range 2 {
			v := z[2][q] + k[0]*w[q] + k[1]*w[2+q]
			sum[q] += v / draws
			square[q] += v * v / draws
		}
	}
	for q := range 2 {
		if v := square[q] - sum[q]*sum[q]; math.Abs(sum[q]-mean[q]) > 0.02 || math.Abs(v/cov.At(q, q)-1) > 0.03 {
			t.Errorf("quantity %d: mean %.3f, variance %.3f of draws; want %.3f, %.3f", q, sum[q], v, mean[q],
				cov.At(q, q))
		}
	}
}
