// Package draw gives the random numbers of draws: standard normal ones that depend on a
// seed, a name and a number alone, the same on every platform.
//
// Floats are made of 24 bits, and the steps from there round alike everywhere: a product
// that is converted is not fused with the sum that follows it.
package draw

import "math"

// resolution is how many values a uniform number has.
const resolution = 1 << 24

// Normal is the standard normal number below which lies a share u of them, 0 < u < 1, to
// a part in 1e14: M.J. Wichura, Algorithm AS 241, The percentage points of the normal
// distribution, 1988.
func Normal(u float64) float64 {
	q := u - 0.5
	if math.Abs(q) <= 0.425 {
		r := 0.180625 - float64(q*q)
		return q * (polynomial(&middle[0], r) / polynomial(&middle[1], r))
	}
	p := u
	if q > 0 {
		p = 1 - u
	}
	r := math.Sqrt(-logarithm(p))
	var z float64
	if r <= 5 {
		z = polynomial(&tail[0], r-1.6) / polynomial(&tail[1], r-1.6)
	} else {
		z = polynomial(&far[0], r-5) / polynomial(&far[1], r-5)
	}
	if q < 0 {
		return -z
	}
	return z
}

// Numerators and denominators, from the lowest power up.
var (
	middle = [2][8]float64{
		{3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3, 1.3731693765509461125e4,
			4.5921953931549871457e4, 6.7265770927008700853e4, 3.3430575583588128105e4, 2.5090809287301226727e3},
		{1, 4.2313330701600911252e1, 6.8718700749205790830e2, 5.3941960214247511077e3, 2.1213794301586595867e4,
			3.9307895800092710610e4, 2.8729085735721942674e4, 5.2264952788528545610e3},
	}
	tail = [2][8]float64{
		{1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0, 3.64784832476320460504e0,
			1.27045825245236838258e0, 2.41780725177450611770e-1, 2.27238449892691845833e-2,
			7.74545014278341407640e-4},
		{1, 2.05319162663775882187e0, 1.67638483018380384940e0, 6.89767334985100004550e-1,
			1.48103976427480074590e-1, 1.51986665636164571966e-2, 5.47593808499534494600e-4,
			1.05075007164441684324e-9},
	}
	far = [2][8]float64{
		{6.65790464350110377720e0, 5.46378491116411436990e0, 1.78482653991729133580e0, 2.96560571828504891230e-1,
			2.65321895265761230930e-2, 1.24266094738807843860e-3, 2.71155556874348757815e-5,
			2.01033439929228813265e-7},
		{1, 5.99832206555887937690e-1, 1.36929880922735805310e-1, 1.48753612908506148525e-2,
			7.86869131145613259100e-4, 1.84631831751005468180e-5, 1.42151175831644588870e-7,
			2.04426310338993978564e-15},
	}
)

func polynomial(c *[8]float64, x float64) float64 {
	y := c[7]
	for k := 6; k >= 0; k-- {
		y = float64(y*x) + c[k]
	}
	return y
}

// logarithm is ln x of a normal number, by the series of artanh.
func logarithm(x float64) float64 {
	const ln2 = 0.693147180559945309417232121458176568
	m, e := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m, e = 2*m, e-1
	}
	s := (m - 1) / (m + 1)
	s2 := float64(s * s)
	sum := 0.0
	for k := 23; k >= 1; k -= 2 {
		sum = float64(sum*s2) + 1/float64(k)
	}
	return float64(2*float64(s*sum)) + float64(float64(e)*ln2)
}

// Hash is a standard normal number of a seed, the name of what is drawn and the number of
// the draw.
func Hash(seed uint64, name string, k int) float64 { return From(Key(seed, name), k) }

// Key is the part of Hash that is the same for all draws.
func Key(seed uint64, name string) uint64 {
	const offset, prime = 14695981039346656037, 1099511628211 // FNV-1a
	h := uint64(offset)
	for i := range len(name) {
		h = (h ^ uint64(name[i])) * prime
	}
	return mix(h ^ mix(seed))
}

// From is the number of a key in draw k.
func From(key uint64, k int) float64 {
	return Normal(uniform(mix(key + uint64(k)*0x9e3779b97f4a7c15)))
}

// mix is the finaliser of SplitMix64 (Steele, Lea, Flood, Fast splittable pseudorandom
// number generators, 2014; from memory).
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// Index is a number below n of a key in draw k.
func Index(key uint64, k, n int) int {
	return int(mix(key+uint64(k)*0x9e3779b97f4a7c15) % uint64(n))
}

// uniform is a number between 0 and 1, both not included.
func uniform(x uint64) float64 { return (float64(x>>40) + 0.5) / resolution }
