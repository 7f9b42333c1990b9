package decide

import "rotorsieve/model"

// draw is a model with all that may err as it is in one draw.
type draw struct {
	model  *model.Model
	vary   func(*model.Propeller) *model.Propeller // a nominal propeller as it is then
	others []draw                                  // the same in the further scenarios
}

func drawOf(m *model.Model) draw { return draw{model: m, vary: m.Vary} }

// drawIn is drawOf of models in all scenarios.
func drawIn(all []*model.Model) draw { return together(all, drawOf) }

// together is a draw in all scenarios.
func together(all []*model.Model, one func(*model.Model) draw) draw {
	d := one(all[0])
	for _, m := range all[1:] {
		d.others = append(d.others, one(m))
	}
	return d
}

// ensemble is a number of draws, the same for all builds.
type ensemble interface {
	Draws() int
	draw(k int) draw
}

// source gives the ensemble of a seed.
type source func(seed uint64, draws int) (ensemble, error)

// drawn is the source of what models may err by in all scenarios: the same in each.
func drawn(in []*model.Model) source {
	return func(seed uint64, draws int) (ensemble, error) {
		var all erring
		for _, m := range in {
			e, err := model.NewEnsemble(m, seed, draws)
			if err != nil {
				return nil, err
			}
			all = append(all, e)
		}
		return all, nil
	}
}

// erring are the ensembles of all scenarios.
type erring []*model.Ensemble

func (e erring) Draws() int { return e[0].Draws() }

func (e erring) draw(k int) draw {
	all := make([]*model.Model, len(e))
	for i := range e {
		all[i] = e[i].Model(k)
	}
	return drawIn(all)
}

// shifts are nominal models with each of their sources of error moved a standard deviation
// down and up, by turns.
type shifts struct{ of []*model.Model }

func (s shifts) Draws() int { return 2 * len(s.of[0].Sources()) }

func (s shifts) draw(k int) draw {
	return together(s.of, func(of *model.Model) draw {
		m, err := of.Shifted(k/2, float64(2*(k%2)-1))
		if err != nil {
			panic("decide: " + err.Error()) // only for a source that there is not
		}
		return drawOf(m)
	})
}

// window is a part of the draws of an ensemble.
type window struct {
	ensemble
	from, draws int
}

func (w window) Draws() int      { return w.draws }
func (w window) draw(k int) draw { return w.ensemble.draw(w.from + k) }

// models is an ensemble of stated ones.
type models []draw

func (m models) Draws() int      { return len(m) }
func (m models) draw(k int) draw { return m[k] }

// refitted is a nominal model of other assumptions in the same air: propellers as they are,
// on the airframe of those assumptions.
func refitted(m *model.Model) draw {
	return draw{model: m, vary: func(p *model.Propeller) *model.Propeller {
		q := *p
		q.Airframe = m.AirframeOf(p.Diameter, p.Geometry.Blades, &p.Parts)
		return &q
	}}
}
