package unit

import (
	"math"
	"strconv"
	"strings"
)

// Number prints the value si, kept inside the program, as a number in u
// without the unit, rounded to the given count of significant digits (1 to
// 17), with no trailing zeros and an exponent only below 1e-5 or from 1e15 on:
// 1512 to three digits is "1510". With digits < 1 it prints the shortest
// number that float64 arithmetic cannot tell from the value in u.
func (u Unit) Number(si float64, digits int) string {
	v := u.FromSI(si)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	s := strconv.FormatFloat(v, 'e', max(digits, 0)-1, 64)
	return u.pad(plain(s))
}

// Format prints the value si, kept inside the program, as Number does,
// followed by the unit's label: "3.25 in", "7.5 g/in²", "4S".
func (u Unit) Format(si float64, digits int) string {
	n := u.Number(si, digits)
	if u.Label == "" || u.tight {
		return n + u.Label
	}
	return n + " " + u.Label
}

// Text prints the value si, kept inside the program, as text that Parse reads
// back to the very same float64: in the default unit where six digits do, and
// otherwise in the unit that needs the fewest, so that 0.3048 m is "12in" but
// 0.3 m is "0.3m". It panics where si is not finite or no value of the kind.
func (k *Kind) Text(si float64) string {
	if math.IsNaN(si) || math.IsInf(si, 0) {
		panic("unit: " + k.name + " is not finite")
	}
	best, fewest := "", math.MaxInt
	try := func(u Unit) {
		for digits := 1; digits <= 17 && digits < fewest; digits++ {
			s := u.pad(plain(strconv.FormatFloat(u.FromSI(si), 'e', digits-1, 64))) + u.Symbol
			if back, err := k.Parse(s); err == nil && back == si {
				best, fewest = s, digits
			}
		}
	}
	const handy = 6
	if try(k.Default()); fewest > handy {
		for _, u := range k.units {
			try(u)
		}
	}
	if best == "" {
		panic("unit: " + strconv.FormatFloat(si, 'g', -1, 64) + " is no " + k.name)
	}
	return best
}

// plain rewrites a finite number without an exponent where that is readable.
func plain(s string) string {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return s // rounding up carried the largest float64 past the end
	}
	if v == 0 {
		return "0" // and not "-0"
	}
	if a := math.Abs(v); a < 1e-5 || a >= 1e15 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// pad adds the leading zeros of a trade code such as 0806.
func (u Unit) pad(s string) string {
	whole, _, _ := strings.Cut(s, ".")
	if n := u.width - len(whole); n > 0 {
		return strings.Repeat("0", n) + s
	}
	return s
}
