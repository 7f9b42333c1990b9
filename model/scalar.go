package model

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/field"
)

// scalarField is what measurements of some parts of a kind say of one quantity of all
// of them: a Gaussian field of ln(part/model), of which all parts have a share of the
// variance in common and the rest goes with how near two parts are. P says where a part
// stands. It is immutable once it is conditioned. A nil one is of nothing measured.
type scalarField[P any] struct {
	spread float64 // standard deviation before
	common float64 // share of the variance that all parts of the kind have together
	// near is the correlation of the rest at two parts: 1 of one part.
	near  func(a, b P) float64
	seen  []seenPart[P]
	given *field.Conditional // nil where nothing was seen
}

// seenPart is ln(part/model) of one part that was measured, with its standard deviation.
type seenPart[P any] struct {
	part      P
	ln, sigma float64
	key       string  // as records name the part
	rate      float64 // of a chopping loss, Hz; 0 of all else
	cells     int     // of a pack, in series
	place     string  // file:line
}

// mostCertain is the largest information of a measurement, over that before it: what is
// more certain is as good as exact, and no rounding can tell.
const mostCertain = 1e10

// correlation is that of the errors of the model at two parts.
func (f *scalarField[P]) correlation(a, b P) float64 { return f.common + (1-f.common)*f.near(a, b) }

// correlations are those of a part with the parts seen, in their order.
func (f *scalarField[P]) correlations(of P) []float64 {
	k := make([]float64, len(f.seen))
	for i := range f.seen {
		k[i] = f.correlation(of, f.seen[i].part)
	}
	return k
}

// add takes in a part seen, unless what it asks for of a quantity, as what names it, is too
// far from what another does.
func (f *scalarField[P]) add(s seenPart[P], kind, what string) error {
	for i := range f.seen {
		o := &f.seen[i]
		apart := 2 * (1 - f.correlation(s.part, o.part)) * f.spread * f.spread
		if d := math.Abs(s.ln-o.ln) / math.Sqrt(apart+s.sigma*s.sigma+o.sigma*o.sigma); d > mostApart {
			return fmt.Errorf("%s %s asks for %.3g times the %s of the model, but %s at %s for %.3g: "+
				"%.0f of their sigmas apart; want at most %d, larger sigmas, or one of the two", kind, s.key,
				math.Exp(s.ln), what, o.key, o.place, math.Exp(o.ln), d, mostApart)
		}
	}
	f.seen = append(f.seen, s)
	return nil
}

// condition conditions the field on the parts seen, in an order that does not follow from
// the records'.
func (f *scalarField[P]) condition() error {
	slices.SortStableFunc(f.seen, func(a, b seenPart[P]) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.rate, b.rate), cmp.Compare(a.ln, b.ln),
			cmp.Compare(a.sigma, b.sigma))
	})
	K := mat.NewSymDense(len(f.seen), nil)
	given := make([]field.Given, len(f.seen))
	for i := range f.seen {
		s := &f.seen[i]
		for j := i; j < len(f.seen); j++ {
			K.SetSym(i, j, f.correlation(s.part, f.seen[j].part))
		}
		w := min(f.spread*f.spread/(s.sigma*s.sigma), mostCertain)
		given[i] = field.Given{
			Estimate: []float64{s.ln / f.spread * w / (1 + w)}, Information: mat.NewSymDense(1, []float64{w}),
		}
	}
	var err error
	f.given, err = field.Condition(K, given)
	return err
}

// at is what the field says of a part.
func (f *scalarField[P]) at(part P) Factor {
	if f.given == nil {
		return untold(f.spread)
	}
	k := f.correlations(part)
	mean, left := f.given.At(k)
	return Factor{
		Value: math.Exp(mean[0] * f.spread), Share: f.given.Correlation(k),
		Before: f.spread, After: f.spread * math.Sqrt(left.At(0, 0)),
	}
}

// weights turn a draw of the field into one given what was measured: ln(part/model) over
// spread is the draw at the part plus the sum of correlations times weights. They follow
// from the draw at the parts seen and as many independent standard normal numbers; see
// field.Conditional.Draw.
func (f *scalarField[P]) weights(before, noise []float64) ([]float64, error) {
	if f.given == nil {
		return nil, nil
	}
	return f.given.Draw(before, noise)
}

// untold is the factor that nothing is said of.
func untold(spread float64) Factor { return Factor{Value: 1, Before: spread, After: spread} }

func bell(x float64) float64 { return math.Exp(-x * x / 2) }

// tooFar says whether a measurement, ln(part/model) with its standard deviation, is more
// likely of something else than the part.
func tooFar(ln, sigma, spread float64) bool {
	const most = 4
	return math.Abs(ln) > most*math.Hypot(spread, sigma)
}

// keys tells the parts seen, as records name them.
func (f *scalarField[P]) keys(add func(key string)) {
	for i := range f.seen {
		add(f.seen[i].key)
	}
}
