package decide

import (
	"fmt"
	"sync"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	drawing "rotorsieve/model/draw"
)

// scaled is an ensemble of the parameters that all designs share, with their standard
// deviations times a scale; propellers are as the nominal model has them.
type scaled struct {
	nominal *model.Model
	seed    uint64
	scale   float64
	once    []sync.Once
	models  []*model.Model
}

func scaledBy(m *model.Model, scale float64) source {
	return func(seed uint64, draws int) (ensemble, error) {
		return &scaled{m, seed, scale, make([]sync.Once, draws), make([]*model.Model, draws)}, nil
	}
}

func (e *scaled) Draws() int { return len(e.models) }

func (e *scaled) draw(k int) draw {
	e.once[k].Do(func() {
		p := e.nominal.Parameters()
		for i := range model.ParameterTable {
			if x := &model.ParameterTable[i]; x.Reach == basis.All && x.Below == 0 {
				x.Move(&p, e.scale*drawing.Hash(e.seed, fmt.Sprint(x.Symbol), k))
			}
		}
		var err error
		if e.models[k], err = model.NewWith(e.nominal.Assume, p); err != nil {
			panic(err)
		}
	})
	return refitted(e.models[k])
}

// certain is an ensemble in which nothing errs.
func certain(m *model.Model) source {
	return func(_ uint64, draws int) (ensemble, error) {
		e := make(models, draws)
		for k := range e {
			e[k] = drawOf(m)
		}
		return e, nil
	}
}

// decided is the decision of a trial, with few draws.
func decided(t testing.TB, x trial, o Options, from func(*model.Model) source) *Decision {
	t.Helper()
	s, r := x.run(t)
	d, err := run(t.Context(), s, r, o, from(s.Model))
	if err != nil {
		t.Fatal(err)
	}
	return d
}
