package unit

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
)

// MaxAxis is the largest number of values ParseAxis returns.
const MaxAxis = 1_000_000

// ParseAxis reads the values of one axis: single values and ranges
// first:last:step, joined by commas, as in "300mAh,450:1300:50mAh". The unit at
// the end of a range holds for all three of its numbers. Values are computed
// exactly in the unit they are written in and converted last, so that each is
// bit for bit what Parse makes of its text.
//
// The values come back as kept inside the program, in rising order (stators in
// the order written). It is an error, of one line, when a step does not land on
// the last value (the nearest that it does land on are named), when a step is
// not positive, when a value is given twice, when a bare number stands beside
// one in a unit other than the default, when two values may be one with a decimal
// comma (2,5g), or when there is no value or more than MaxAxis.
func ParseAxis(kind *Kind, text string) ([]float64, error) {
	if strings.TrimSpace(text) == "" {
		return nil, fmt.Errorf("%q: no value, want %s, a list a,b,c or a range first:last:step", text, kind.want)
	}
	var items []axisItem
	total := 0
	for part := range strings.SplitSeq(text, ",") {
		part = strings.TrimSpace(part)
		if part == "" {
			return nil, fmt.Errorf("%q: nothing between two commas or at an end, want a list such as a,b,c", text)
		}
		s, err := kind.item(part)
		if err != nil {
			return nil, err
		}
		total += s.n
		if s.n > MaxAxis || total > MaxAxis {
			return nil, fmt.Errorf("%q: more than %d values on one axis, want a larger step", text, MaxAxis)
		}
		items = append(items, s)
	}
	if err := kind.noDecimalComma(text, items); err != nil {
		return nil, err
	}
	if err := kind.oneMeaning(items); err != nil {
		return nil, err
	}

	type value struct {
		si   float64
		from string
	}
	values := make([]value, 0, total)
	for _, s := range items {
		err := s.each(func(si float64) { values = append(values, value{si, s.text}) })
		if err != nil {
			return nil, err
		}
	}
	axis := make([]float64, len(values))
	for i, v := range values {
		axis[i] = v.si
	}
	slices.SortStableFunc(values, func(a, b value) int { return cmp.Compare(a.si, b.si) })
	for i := 1; i < len(values); i++ {
		if a, b := values[i-1], values[i]; a.si == b.si {
			return nil, fmt.Errorf("%q: %s is already given by %q, want each value once", b.from, kind.Text(b.si),
				a.from)
		}
	}
	if !kind.unordered {
		slices.Sort(axis)
	}
	return axis, nil
}

// axisItem is one item of an axis: n values first + i step, in unit.
type axisItem struct {
	text        string
	first, step *big.Rat
	n           int
	unit        Unit
	bare        bool // no unit was written
}

// each converts the values of s one after another. Both numbers are brought to
// one denominator so that a value costs an addition and a rounding.
func (s axisItem) each(f func(si float64)) error {
	first := s.unit.exact(s.first)
	step := new(big.Rat).Mul(s.step, s.unit.factor())
	den := new(big.Int).Mul(first.Denom(), step.Denom())
	num := new(big.Int).Mul(first.Num(), step.Denom())
	inc := new(big.Int).Mul(step.Num(), first.Denom())
	exact := new(big.Rat)
	for range s.n {
		si, err := round(s.text, exact.SetFrac(num, den))
		if err != nil {
			return err
		}
		f(si)
		num.Add(num, inc)
	}
	return nil
}

// item reads one item of an axis.
func (k *Kind) item(text string) (axisItem, error) {
	if !strings.Contains(text, ":") {
		v, u, bare, err := k.scan(text)
		return axisItem{text: text, first: v, step: new(big.Rat), n: 1, unit: u, bare: bare}, err
	}
	s, last, err := k.ends(text)
	if err != nil {
		return s, err
	}
	switch {
	case s.step.Sign() <= 0:
		return s, fmt.Errorf("%q: step %s is not above 0, want first:last:step in rising order", text, s.print(s.step))
	case last.Cmp(s.first) < 0:
		return s, fmt.Errorf("%q: last %s is below first %s, want first:last:step in rising order", text, s.print(last),
			s.print(s.first))
	}
	if k.fits != nil {
		if err := k.fits(s.first, last, s.step); err != nil {
			return s, fmt.Errorf("%q: %w", text, err)
		}
	}
	steps := new(big.Rat).Sub(last, s.first)
	steps.Quo(steps, s.step)
	whole := new(big.Int).Quo(steps.Num(), steps.Denom())
	if !steps.IsInt() {
		below := s.at(whole)
		above := s.at(new(big.Int).Add(whole, big.NewInt(1)))
		return s, fmt.Errorf("%q: steps of %s from %s do not land on %s, want a last value of %s or %s",
			text, s.print(s.step), s.print(s.first), s.print(last), s.print(below), s.print(above))
	}
	if !whole.IsInt64() || whole.Int64() >= MaxAxis {
		return s, fmt.Errorf("%q: more than %d values on one axis, want a larger step", text, MaxAxis)
	}
	s.n = int(whole.Int64()) + 1
	return s, nil
}

// ends reads the three numbers of a range and the one unit they share.
func (k *Kind) ends(text string) (s axisItem, last *big.Rat, err error) {
	s.text = text
	parts := strings.Split(text, ":")
	if len(parts) != 3 {
		return s, nil, fmt.Errorf("%q: %d numbers in a range, want first:last:step", text, len(parts))
	}
	var symbols [3]string
	var v [3]*big.Rat
	for i, part := range parts {
		part = strings.TrimSpace(part)
		if k.read != nil && i < 2 {
			if v[i], err = k.read(part); err != nil {
				return s, nil, err
			}
			continue
		}
		number, symbol := cut(part)
		if number == "" {
			return s, nil, fmt.Errorf("%q: no number in %q, want first:last:step", text, part)
		}
		if v[i], err = decimal(part, number); err != nil {
			return s, nil, err
		}
		if k.whole && !v[i].IsInt() {
			return s, nil, fmt.Errorf("%q: %s is not a whole number, want %s", text, number, k.want)
		}
		symbols[i] = symbol
	}
	end := symbols[2]
	if s.unit, err = k.find(text, end); err != nil {
		return s, nil, err
	}
	for _, symbol := range symbols[:2] {
		if symbol != "" && symbol != end {
			return s, nil, fmt.Errorf("%q: a range has one unit, at its end, as in first:last:step with %s", text,
				k.Default().Symbol)
		}
	}
	s.first, s.step, s.bare = v[0], v[2], end == ""
	return s, v[1], nil
}

// at is the i-th value of s, in its unit.
func (s axisItem) at(i *big.Int) *big.Rat {
	v := new(big.Rat).SetInt(i)
	return v.Add(v.Mul(v, s.step), s.first)
}

// print writes a number of s as the user would: all numbers here are decimal
// and finite, so that the shortest float64 text is theirs.
func (s axisItem) print(v *big.Rat) string {
	f, _ := v.Float64()
	number := plain(strconv.FormatFloat(f, 'e', -1, 64))
	if v != s.step {
		number = s.unit.pad(number)
	}
	if s.bare {
		return number
	}
	return number + s.unit.Symbol
}

// oneMeaning refuses a list such as 3,4,5mm where a bare number is in inches:
// it was probably meant in mm. A bare 0 is 0 in every unit but a temperature.
func (k *Kind) oneMeaning(items []axisItem) error {
	for _, a := range items {
		zero := a.first.Sign() == 0 && a.n == 1 && k.Default().zero == 0
		if !a.bare || zero {
			continue
		}
		for _, b := range items {
			if !b.bare && b.unit != k.Default() {
				return fmt.Errorf("%q: no unit beside %q, want %s%s or %s%s",
					a.text, b.text, a.text, b.unit.Symbol, a.text, k.Default().Symbol)
			}
		}
	}
	return nil
}

// noDecimalComma refuses a list such as 2,5g, which may be meant as 2.5g: two whole
// numbers of one or two digits, the second alone with a unit, and no bare number before
// them, which would make it a list. A 0 before the comma is one of its own: 0,25g stays.
func (k *Kind) noDecimalComma(text string, items []axisItem) error {
	if k.whole || k.read != nil {
		return nil
	}
	for i, b := range items[1:] {
		a := items[i] // the one before b
		number, _ := cut(b.text)
		if b.bare || i > 0 && items[i-1].bare || !fewDigits(a.text) || !fewDigits(number) || a.first.Sign() == 0 {
			continue
		}
		return fmt.Errorf("%q: did you mean %s.%s, or %s%s,%s?", text, a.text, b.text, a.text, b.unit.Symbol, b.text)
	}
	return nil
}

// fewDigits says whether a text is one or two digits and nothing else.
func fewDigits(text string) bool {
	return text != "" && len(text) <= 2 && digits(text, 0) == len(text)
}
