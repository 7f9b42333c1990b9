package decide

import "rotorsieve/model"

// draw is a model with all that may err as it is in one draw.
type draw struct {
	model *model.Model
	vary  func(*model.Propeller) *model.Propeller // a nominal propeller as it is then
}

func drawOf(m *model.Model) draw { return draw{m, m.Vary} }

// ensemble is a number of draws, the same for all builds.
type ensemble interface {
	Draws() int
	draw(k int) draw
}

// source gives the ensemble of a seed.
type source func(seed uint64, draws int) (ensemble, error)

// drawn is the source of what a model may err by.
func drawn(m *model.Model) source {
	return func(seed uint64, draws int) (ensemble, error) {
		e, err := model.NewEnsemble(m, seed, draws)
		return erring{e}, err
	}
}

type erring struct{ *model.Ensemble }

// keptDraws are the draws that are kept: those that all candidates are judged in.
const keptDraws = DefaultDraws

func (e erring) draw(k int) draw {
	if k < keptDraws {
		return drawOf(e.Model(k))
	}
	return drawOf(e.Make(k))
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
	return draw{m, func(p *model.Propeller) *model.Propeller {
		q := *p
		q.Airframe = m.Airframe(p.Diameter, p.Geometry.Blades)
		return &q
	}}
}
