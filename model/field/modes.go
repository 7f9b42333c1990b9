package field

import (
	"math"
	"slices"
)

// along is one direction of the basis: the eigenfunctions of exp(-d²/2) with d
// over a length, for a Gaussian weight about a centre. The centres and widths are
// those of the propellers that are sold for crafts of 0.1 to 3 kg.
type along struct{ length, centre, width float64 }

var directions = [3]along{
	{LengthDiameter, math.Log(6 * 0.0254), 0.50},
	{LengthPitch, 0.75, 0.35},
	{LengthBlades, math.Log(3), 0.30},
}

// least is the eigenvalue, over the first, below which a mode is left out.
const least = 1.5e-4

// mode is a product of eigenfunctions, one along each direction.
type mode struct {
	order [3]int
	root  float64 // of its eigenvalue over the first
}

// modes are the basis, the largest eigenvalue first. It is fixed: it depends on
// no grid and no measurement.
var modes = product()

// Count is how many modes there are.
var Count = len(modes)

func product() (out []mode) {
	var ratio [3]float64
	for k, a := range directions {
		ratio[k] = a.ratio()
	}
	for i, x := 0, 1.0; x >= least; i, x = i+1, x*ratio[0] {
		for j, y := 0, x; y >= least; j, y = j+1, y*ratio[1] {
			for k, z := 0, y; z >= least; k, z = k+1, z*ratio[2] {
				out = append(out, mode{[3]int{i, j, k}, math.Sqrt(z)})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b mode) int {
		switch {
		case a.root > b.root:
			return -1
		case a.root < b.root:
			return 1
		}
		return 0
	})
	return out
}

// coefficients gives a, b and c of the eigenfunctions: Rasmussen and Williams,
// Gaussian Processes for Machine Learning, 2006, section 4.3.1 (from memory).
func (d along) coefficients() (a, b, c float64) {
	a = 1 / (4 * d.width * d.width)
	b = 1 / (2 * d.length * d.length)
	return a, b, math.Sqrt(a*a + 2*a*b)
}

// ratio is that of an eigenvalue to the one before.
func (d along) ratio() float64 {
	a, b, c := d.coefficients()
	return b / (a + b + c)
}

// functions fills out with the eigenfunctions at x, of unit norm under the weight
// but for a factor that they share, by the recurrence of Hermite polynomials.
func (d along) functions(x float64, out []float64) {
	a, _, c := d.coefficients()
	t := math.Sqrt(2*c) * (x - d.centre)
	out[0] = math.Exp(-(c - a) * (x - d.centre) * (x - d.centre))
	for n := 1; n < len(out); n++ {
		out[n] = t * out[n-1] * math.Sqrt(2/float64(n))
		if n > 1 {
			out[n] -= math.Sqrt(float64(n-1)/float64(n)) * out[n-2]
		}
	}
}

// Modes gives the basis of the family part at a point: the field there is the sum
// of the modes, each times an independent standard normal number. They carry
// 99.9 % of the variance on average over 2 to 12 in, pitch ratios of 0.4 to 1 and 2
// to 4 blades, 99.3 % at the least, the first 24 of them 93 %; they are scaled so
// that it is 1 everywhere.
func Modes(p Point) []float64 {
	out, _ := raw(p)
	sum := 0.0
	for _, v := range out {
		sum += v * v
	}
	scale := 1 / math.Sqrt(sum)
	for i := range out {
		out[i] *= scale
	}
	return out
}

// raw is the basis before it is scaled, and the share of the variance that it
// carries.
func raw(p Point) (out []float64, carried float64) {
	var at [3][]float64
	largest := [3]int{}
	for _, m := range modes {
		for k, n := range m.order {
			largest[k] = max(largest[k], n)
		}
	}
	first := 1.0 // eigenvalue and shared factor
	for k, x := range [3]float64{p.size, p.pitch, p.blades} {
		at[k] = make([]float64, largest[k]+1)
		directions[k].functions(x, at[k])
		a, b, c := directions[k].coefficients()
		first *= math.Sqrt(2*a/(a+b+c)) * math.Sqrt(c/a)
	}
	out = make([]float64, len(modes))
	for i, m := range modes {
		out[i] = m.root * math.Sqrt(first) * at[0][m.order[0]] * at[1][m.order[1]] * at[2][m.order[2]]
		carried += out[i] * out[i]
	}
	return out, carried
}

// specimens is the basis of the specimen part over ln D, P/D, ln of the breadth and ln B, of
// which another is another propeller.
var specimens = NewWaves(specimenDiameter, specimenPitch, specimenChord, specimenBlades)

// specimenBlades tells numbers of blades apart.
const specimenBlades = 0.05

// Functions gives the basis of the whole field at a point, the family part first, Count of
// it: the field is the sum of them, each times an independent standard normal number.
func Functions(p Point) []float64 {
	out := Modes(p)
	for i := range out {
		out[i] *= math.Sqrt(Share)
	}
	for _, v := range specimens.At(p.size, p.pitch, p.chord, p.blades) {
		out = append(out, math.Sqrt(1-Share)*v)
	}
	return out
}

// Functioned is how many Functions gives.
func Functioned() int { return Count + specimens.Count() }
