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

func (e erring) draw(k int) draw { return drawOf(e.Model(k)) }

// shifts are a nominal model with each of its sources of error moved a standard deviation
// down and up, by turns.
type shifts struct{ of *model.Model }

func (s shifts) Draws() int { return 2 * len(s.of.Sources()) }

func (s shifts) draw(k int) draw {
	m, err := s.of.Shifted(k/2, float64(2*(k%2)-1))
	if err != nil {
		panic("decide: " + err.Error()) // only for a source that there is not
	}
	return drawOf(m)
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
		q.Airframe = m.AirframeOf(p.Diameter, p.Geometry.Blades, &p.Parts)
		return &q
	}}
}
