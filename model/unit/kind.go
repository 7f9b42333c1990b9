package unit

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
)

// Kind is a physical dimension, the units its quantities may be written in,
// and the one among them that a bare number takes. Values of a kind are kept
// inside the program in its SI unit, or in the unit its doc comment names.
type Kind struct {
	name  string // as in "a unit of mass"
	want  string // as in "want a mass such as 249g"
	units []Unit // the first is the one kept inside
	bare  int    // index of the default unit

	whole     bool                                   // whole numbers only
	unordered bool                                   // an axis keeps the order it was written in
	read      func(text string) (*big.Rat, error)    // trade codes; nil for a number and a unit
	fits      func(first, last, step *big.Rat) error // extra rule for ranges
}

// Name is the kind's name in plain words, for example "disk loading".
func (k *Kind) Name() string { return k.name }

// SI is the unit in which values of the kind are kept inside the program.
func (k *Kind) SI() Unit { return k.units[0] }

// Default is the unit that a bare number takes: the one the trade uses, or the
// one chosen by WithDefault.
func (k *Kind) Default() Unit { return k.units[k.bare] }

// Units are all units a quantity of the kind may be written in.
func (k *Kind) Units() []Unit { return slices.Clone(k.units) }

// Unit returns the unit with the given symbol. It panics where k has none: the
// symbol is the programmer's, not the user's.
func (k *Kind) Unit(symbol string) Unit { return k.units[k.must(symbol)] }

// WithDefault returns the kind with another default unit. It panics where k
// has no unit with that symbol.
func (k *Kind) WithDefault(symbol string) *Kind {
	d := *k
	d.bare = k.must(symbol)
	return &d
}

func (k *Kind) must(symbol string) int {
	i := k.index(symbol)
	if i < 0 {
		panic(fmt.Sprintf("unit: %q is not a unit of %s", symbol, k.name))
	}
	return i
}

func (k *Kind) index(symbol string) int {
	return slices.IndexFunc(k.units, func(u Unit) bool { return u.Symbol == symbol })
}

// Parse reads one quantity, such as "3.25in", and returns it as kept inside the
// program: the float64 nearest to the exact value. Negative values are read;
// bounds are the caller's (see Range). The error is one line that quotes the
// text and says what would be right.
func (k *Kind) Parse(text string) (float64, error) {
	t := strings.TrimSpace(text)
	if strings.ContainsAny(t, ",:") {
		return 0, fmt.Errorf("%q: one value is wanted here, not a list or a range: want %s", text, k.want)
	}
	v, u, _, err := k.scan(t)
	if err != nil {
		return 0, err
	}
	return round(text, u.exact(v))
}

// scan splits one quantity into its number and its unit. bare tells that the
// text names no unit.
func (k *Kind) scan(text string) (v *big.Rat, u Unit, bare bool, err error) {
	if text == "" {
		return nil, u, false, fmt.Errorf("%q: empty, want %s", text, k.want)
	}
	if k.read != nil {
		v, err = k.read(text)
		return v, k.Default(), true, err
	}
	number, symbol := cut(text)
	if number == "" {
		return nil, u, false, fmt.Errorf("%q: no number, want %s", text, k.want)
	}
	u, err = k.find(text, symbol)
	if err != nil {
		return nil, u, false, err
	}
	v, err = decimal(text, number)
	if err != nil {
		return nil, u, false, err
	}
	if k.whole && !v.IsInt() {
		return nil, u, false, fmt.Errorf("%q: not a whole number, want %s", text, k.want)
	}
	return v, u, symbol == "", nil
}

// find returns the unit with the symbol that text ends in.
func (k *Kind) find(text, symbol string) (Unit, error) {
	if symbol == "" {
		return k.Default(), nil
	}
	if i := k.index(symbol); i >= 0 {
		return k.units[i], nil
	}
	for _, u := range k.units {
		if u.Symbol != "" && (symbol == u.Label || strings.EqualFold(symbol, u.Symbol)) {
			return Unit{}, fmt.Errorf("%q: %q is not a unit, want %s as in %s%s", text, symbol, u.Symbol,
				strings.TrimSpace(strings.TrimSuffix(text, symbol)), u.Symbol)
		}
	}
	for _, other := range Kinds {
		if other.index(symbol) >= 0 {
			return Unit{}, fmt.Errorf("%q: %s is a unit of %s, want %s", text, symbol, other.name, k.want)
		}
	}
	return Unit{}, fmt.Errorf("%q: %q is not a unit of %s, want %s", text, symbol, k.name, k.want)
}

// round gives the float64 nearest to an exact value.
func round(text string, exact *big.Rat) (float64, error) {
	v, _ := exact.Float64()
	if math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q: too large a number, want one below 1e300", text)
	}
	if v == 0 && exact.Sign() != 0 {
		return 0, fmt.Errorf("%q: too small a number, want 0 or more than 1e-300", text)
	}
	return v, nil
}
