package decide

import (
	"rotorsieve/model"
	"rotorsieve/sweep"
)

// space is the grid with what is asked of it here.
type space struct {
	grid *sweep.Grid
	axes []sweep.Axis
	step []uint64 // of the index, from one value to the next on each axis

	pitch, stator, kv, cells, capacity, payload int // places of the axes
}

func newSpace(g *sweep.Grid) *space {
	s := &space{grid: g, axes: g.Axes(), step: make([]uint64, len(g.Axes()))}
	n := uint64(1)
	for i := len(s.axes) - 1; i >= 0; i-- {
		s.step[i] = n
		n *= uint64(len(s.axes[i].Values))
	}
	for _, a := range []struct {
		at  *int
		def *sweep.AxisDef
	}{{&s.pitch, sweep.Pitch}, {&s.stator, sweep.Stator}, {&s.kv, sweep.KV}, {&s.cells, sweep.Cells},
		{&s.capacity, sweep.Capacity}, {&s.payload, sweep.Payload}} {
		var ok bool
		if *a.at, ok = g.AxisIndex(a.def.Name); !ok { // every grid has it, or the other statement of it
			*a.at, _ = g.AxisIndex(a.def.Other().Name)
		}
	}
	return s
}

// swept are the axes with several values that belong to a build.
func (s *space) swept() (out []int) {
	for _, a := range s.grid.Swept() {
		if a != s.capacity {
			out = append(out, a)
		}
	}
	return out
}

// with is the design of an index with another value on an axis, by its place.
func (s *space) with(index uint64, axis, place int) uint64 {
	return index + uint64(place-s.grid.At(index, axis))*s.step[axis]
}

// key is the same for all designs of a build.
func (s *space) key(index uint64) uint64 { return s.with(index, s.capacity, 0) }

// build is a build in a class: what is looked at here.
type build struct {
	class    int
	index    uint64 // of the planned design
	design   model.Design
	planned  int // place of its capacity on the axis
	filled   bool
	first    bool    // the planned design is the nominal best of the class
	nominal  float64 // merit of the planned design by the nominal model
	feasible bool    // it keeps all requirements by that

	propeller propellerKey
	motor     int // which of the grid's
	cells     int // place on the axis
}

// propellerKey is what a propeller follows from.
type propellerKey struct {
	diameter, pitch float64
	blades          int
	chord           float64
}

func (s *space) build(class int, index uint64) *build {
	b := &build{class: class}
	s.plan(b, index)
	return b
}

// plan makes the design of an index the planned one.
func (s *space) plan(b *build, index uint64) {
	d := s.grid.Design(index)
	b.index, b.design, b.planned = index, d, s.grid.At(index, s.capacity)
	b.propeller = propellerKey{d.Diameter, d.Pitch, d.Blades, d.Chord}
	b.motor = s.grid.At(index, s.stator)*len(s.axes[s.kv].Values) + s.grid.At(index, s.kv)
	b.cells = s.grid.At(index, s.cells)
}

// mostBuilds bounds the candidates of a class that the sweep has kept.
const mostBuilds = 5000

// candidates are the builds of a class that a choice is made among: those that the sweep
// kept, and that of the nominal best design, which comes first where there is one.
func (s *space) candidates(class int, found *sweep.ClassResult) (out []*build) {
	seen := map[uint64]bool{}
	add := func(index uint64) {
		if key := s.key(index); !seen[key] {
			seen[key] = true
			out = append(out, s.build(class, index))
		}
	}
	if best, ok := found.Best(); ok {
		add(best.Index)
		out[0].first = true
	}
	for _, c := range found.Builds(mostBuilds) {
		add(c.Index)
	}
	return out
}
