package decide

import (
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	drawing "rotorsieve/model/draw"
	"rotorsieve/sweep"
)

// A stand-in for model.Ensemble.
type trialEnsemble struct {
	models []*model.Model
}

func (e *trialEnsemble) Draws() int { return len(e.models) }
func (e *trialEnsemble) draw(k int) draw {
	return nominal(e.models[k])
}

func nominal(m *model.Model) draw {
	return draw{m, func(p *model.Propeller) *model.Propeller {
		q := *p
		q.Airframe = m.Airframe(p.Diameter, p.Geometry.Blades)
		return &q
	}}
}

func drawn(m *model.Model) source { return spread(m, 1) }

func spread(m *model.Model, scale float64) source {
	return func(seed uint64, draws int) (ensemble, error) {
		e := &trialEnsemble{}
		for k := range draws {
			p := m.Parameters()
			for i := range model.ParameterTable {
				if x := &model.ParameterTable[i]; x.Reach == basis.All && x.Below == 0 {
					x.Move(&p, scale*drawing.Hash(seed, fmt.Sprint(x.Symbol), k))
				}
			}
			n, err := model.NewWith(m.Assume, p)
			if err != nil {
				return nil, err
			}
			e.models = append(e.models, n)
		}
		return e, nil
	}
}

func candidates(c *sweep.ClassResult) (out []uint64) {
	for _, r := range c.Ranking {
		out = append(out, r.Index)
	}
	return out
}

type sourceOf struct{ Name, Meaning string }

func sources(m *model.Model) (out []sourceOf) {
	for i := range model.ParameterTable {
		if x := &model.ParameterTable[i]; x.Reach == basis.All && x.Below == 0 {
			out = append(out, sourceOf{x.Symbol, x.Meaning})
		}
	}
	return out
}

func shifted(m *model.Model, i int, by float64) (draw, error) {
	at := 0
	for j := range model.ParameterTable {
		if x := &model.ParameterTable[j]; x.Reach == basis.All && x.Below == 0 {
			if at == i {
				p := m.Parameters()
				x.Move(&p, by)
				n, err := model.NewWith(m.Assume, p)
				return nominal(n), err
			}
			at++
		}
	}
	panic("no such source")
}
