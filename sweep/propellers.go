package sweep

import (
	"errors"
	"fmt"
	"strings"
	"sync"

	"rotorsieve/model"
)

// propellers builds each propeller of the grid once while it is in use, and mounts it on
// each frame and with each board.
type propellers struct {
	study   *Study
	stride  uint64 // designs of one propeller
	mounted uint64 // designs of one on its frame and with its board
	mounts  bool   // there are frames or boards that exist
	kept    int    // mounted ones
	mu      sync.Mutex
	made    map[uint64]*made
	order   []uint64
}

type made struct {
	once sync.Once
	prop *model.Propeller
	err  error

	on map[uint64]*model.Propeller // the mounted ones, by frame and board
}

// keptPropellers bounds the memory that performance tables take, keptMounted that of what is
// traced of the flight of each on several frames.
const (
	keptPropellers = 512
	keptMounted    = 4096
)

func newPropellers(s *Study) *propellers {
	return &propellers{study: s, stride: s.Grid.onePropeller(),
		mounted: s.Grid.stride[axBoard], mounts: s.Grid.mounts(), made: map[uint64]*made{}}
}

// at gives the propeller of the design of an index.
func (p *propellers) at(index uint64) (*model.Propeller, error) {
	key := index / p.stride
	p.mu.Lock()
	e, ok := p.made[key]
	if !ok {
		if len(p.order) >= keptPropellers {
			delete(p.made, p.order[0])
			p.order = p.order[1:]
		}
		e = new(made)
		p.made[key] = e
		p.order = append(p.order, key)
	}
	p.mu.Unlock()
	e.once.Do(func() {
		d := p.study.Grid.Design(index)
		d.Frame, d.Board = nil, nil
		e.prop, e.err = p.study.Model.PropellerFor(&d)
		if e.err != nil {
			e.err = fmt.Errorf("%s%w", unsolved(d), e.err)
		}
	})
	if e.err != nil || !p.mounts {
		return e.prop, e.err
	}
	on := index % p.stride / p.mounted
	p.mu.Lock()
	defer p.mu.Unlock()
	q := e.on[on]
	if q == nil {
		d := p.study.Grid.Design(index)
		q = p.study.Model.Mount(e.prop, &d.Parts)
		if p.kept++; p.kept > keptMounted {
			p.kept = 1
			for _, e := range p.made {
				e.on = nil
			}
		}
		if e.on == nil {
			e.on = map[uint64]*model.Propeller{}
		}
		e.on[on] = q
	}
	return q, nil
}

// forget lets go of all propellers.
func (p *propellers) forget() {
	p.mu.Lock()
	defer p.mu.Unlock()
	clear(p.made)
	p.order = nil
}

// unsolved is how the failure of a design's propeller begins.
func unsolved(d model.Design) string {
	return fmt.Sprintf("propeller %s x %s: ", Diameter.Text(d.Diameter), Pitch.Text(d.Pitch))
}

// fails says whether a text is the failure of some propeller of the grid: those that it
// could be of are solved.
func (p *propellers) fails(text string) bool {
	g := p.study.Grid
	if g.follows[axDiameter] != nil {
		for i := uint64(0); i < g.size; i += p.stride {
			if strings.HasPrefix(text, unsolved(g.Design(i))) {
				if _, err := p.at(i); err != nil && err.Error() == text {
					return true
				}
			}
		}
		return false
	}
	var at coord
	for at[axDiameter] = range g.axes[axDiameter].Values {
		if !strings.HasPrefix(text, "propeller "+Diameter.Text(g.axes[axDiameter].Values[at[axDiameter]])+" x ") {
			continue
		}
		for at[axPitch] = range g.axes[axPitch].Values {
			if !strings.HasPrefix(text, unsolved(g.design(at))) {
				continue
			}
			first := g.index(&at)
			for i := first; i < first+g.stride[axPitch]; i += g.stride[Chord.place] {
				if _, err := p.at(i); err != nil && err.Error() == text {
					return true
				}
			}
		}
	}
	return false
}

// Evaluator evaluates single designs of a study, keeping the propellers it has
// built. It is safe for use by several goroutines.
type Evaluator struct {
	study      *Study
	propellers []*propellers // by scenario
}

// NewEvaluator prepares to evaluate designs of the study.
func NewEvaluator(s *Study) *Evaluator {
	e := &Evaluator{study: s}
	for _, m := range s.Models() {
		e.propellers = append(e.propellers, newPropellers(s.inScenario(m)))
	}
	return e
}

// Craft evaluates the design of an index as judged in the class. A craft without
// operating point is returned with model.ErrNoOperatingPoint. Of several scenarios it is the craft in
// the first in which it breaks a requirement, or else in that of the least merit.
func (e *Evaluator) Craft(index uint64, k Class) (*model.Craft, error) {
	all, err := e.Crafts(index, k)
	switch {
	case len(all) == 0:
		return nil, err
	case err != nil:
		return all[len(all)-1], err
	}
	return all[e.study.Telling(all)], nil
}

// Crafts evaluates the design of an index as judged in the class, in every scenario; the first in
// which it has no operating point is the last, with model.ErrNoOperatingPoint.
func (e *Evaluator) Crafts(index uint64, k Class) (all []*model.Craft, err error) {
	var built *model.Powertrain
	for _, p := range e.propellers {
		var prop *model.Propeller
		if prop, err = p.at(index); err != nil {
			if built != nil { // as it was judged
				err = fmt.Errorf("%w: %w", model.ErrNoOperatingPoint, err)
			}
			return all, err
		}
		s := p.study
		c, err := s.Model.CompleteAs(prop, s.Grid.Design(index), built)
		if c != nil {
			c.Limit = k.Limit
			all = append(all, c)
		}
		if err != nil && !errors.Is(err, model.ErrNoOperatingPoint) {
			return nil, fmt.Errorf("design %d: %w", index, err)
		}
		if err != nil {
			return all, err
		}
		if built == nil {
			built = c.Powertrain
		}
	}
	return all, nil
}
