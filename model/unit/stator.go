package unit

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"
)

const wantStator = "a stator size such as 2207 (22 mm x 7 mm), 2306.5 or 22x7"

// StatorSize gives the diameter and height in metres of a stator whose trade
// code DDHH is code, as Stator.Parse returns it: 2306.5 is 23 mm x 6.5 mm.
func StatorSize(code float64) (diameter, height float64) {
	d := math.Floor(code / 100)
	// The code's fraction is decimal: without rounding, 2306.3 would leave 6.30000000000018.
	h := math.Round((code-100*d)*1e6) / 1e6
	return d / 1000, h / 1000
}

// readStator reads a trade code of four digits, with a fraction of the height
// where there is one, or diameter x height in millimetres.
func readStator(text string) (*big.Rat, error) {
	bad := func(why string) error { return fmt.Errorf("%q: %s, want %s", text, why, wantStator) }

	d, h, cross := strings.Cut(text, "x")
	if !cross {
		whole, _, _ := strings.Cut(text, ".")
		if len(whole) != 4 || digits(whole, 0) != 4 {
			return nil, bad("not a stator code of four digits")
		}
		d, h = text[:2], text[2:]
	}
	dd, rest := cut(strings.TrimSpace(d))
	hh, rest2 := cut(strings.TrimSpace(h))
	if dd == "" || hh == "" || rest != "" || rest2 != "" {
		return nil, bad("not a diameter and a height in mm")
	}
	D, err := decimal(text, dd)
	if err != nil {
		return nil, err
	}
	H, err := decimal(text, hh)
	if err != nil {
		return nil, err
	}
	hundred := big.NewRat(100, 1)
	switch {
	case !D.IsInt():
		return nil, bad("the code has no place for a fraction of the diameter")
	case D.Sign() <= 0 || D.Cmp(hundred) >= 0:
		return nil, bad("diameter outside 1 to 99 mm")
	case H.Sign() <= 0 || H.Cmp(hundred) >= 0:
		return nil, bad("height not above 0 and below 100 mm")
	}
	code := D.Mul(D, hundred).Add(D, H)
	if v, _ := code.Float64(); math.Mod(v, 100) == 0 { // kept as one number, it has lost the height
		return nil, bad("height not above 0 and below 100 mm")
	}
	return code, nil
}

// oneDiameter keeps a range of codes to one stator diameter: 2204:2304:1 would
// run through stators taller than they are wide.
func oneDiameter(first, last, _ *big.Rat) error {
	a, _ := first.Float64()
	b, _ := last.Float64()
	if math.Floor(a/100) != math.Floor(b/100) {
		return errors.New("a range of stators keeps one diameter, want a range such as 2204:2208:1 or a list such as " +
			"1404,2004,2207")
	}
	return nil
}
