package decide

import (
	"cmp"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// space is the grid with what is asked of it here.
type space struct {
	grid *sweep.Grid
	axes []sweep.Axis

	pitch, stator, kv, cells, capacity, payload int // places of the axes

	// Places of the axes of parts that exist; -1 without any.
	propeller, frame, board, motor, pack int

	packs [][]int // by cells: the packs that exist, by capacity; nil where none do
}

func newSpace(g *sweep.Grid) *space {
	s := &space{grid: g, axes: g.Axes()}
	for _, a := range []struct {
		at   *int
		name string
	}{{&s.pitch, sweep.Pitch.Name}, {&s.stator, sweep.Stator.Name}, {&s.kv, sweep.KV.Name},
		{&s.cells, sweep.Cells.Name}, {&s.capacity, sweep.Capacity.Name}, {&s.payload, sweep.Payload.Name},
		{&s.propeller, "propeller"}, {&s.frame, "frame"}, {&s.board, "board"}, {&s.motor, "motor"}, {&s.pack, "pack"},
	} {
		var ok bool
		if *a.at, ok = g.AxisIndex(a.name); !ok {
			*a.at = -1
		}
	}
	if s.pitch < 0 { // every grid has it, or the other statement of it
		s.pitch, _ = g.AxisIndex(sweep.PitchRatio.Name)
	}
	if s.pack >= 0 {
		s.packs = make([][]int, len(s.axes[s.cells].Values))
		for at := range s.axes[s.pack].Values {
			n := g.At(s.with(0, s.pack, at), s.cells)
			s.packs[n] = append(s.packs[n], at)
		}
		for _, of := range s.packs {
			slices.SortStableFunc(of, func(a, b int) int {
				return cmp.Compare(g.At(s.with(0, s.pack, a), s.capacity), g.At(s.with(0, s.pack, b), s.capacity))
			})
		}
	}
	return s
}

// mostTold bounds the values of an axis of which each is told of.
const mostTold = 100

// swept are the axes with several values that belong to a build, those that parts bring among
// them. Of an axis of parts that has very many nothing is told by itself.
func (s *space) swept() (out []int) {
	for i, a := range s.axes {
		parts := a.Def.IsPart() || a.Of != nil
		if i != s.capacity && i != s.pack && len(a.Values) > 1 && !(parts && len(a.Values) > mostTold) {
			out = append(out, i)
		}
	}
	return out
}

// with is the design of an index with another value on an axis, by its place. What parts bring
// stays.
func (s *space) with(index uint64, axis, place int) uint64 {
	return index + uint64(place-s.grid.At(index, axis))*s.grid.Step(axis)
}

// capacities is how many packs there are for some cells, by the place of those.
func (s *space) capacities(cells int) int {
	if s.packs != nil {
		return len(s.packs[cells])
	}
	return len(s.axes[s.capacity].Values)
}

// withPack is the design of an index with another pack of its cells.
func (s *space) withPack(index uint64, place int) uint64 {
	if s.packs != nil {
		return s.with(index, s.pack, s.packs[s.grid.At(index, s.cells)][place])
	}
	return s.with(index, s.capacity, place)
}

// packOf is the place of a design's pack among those of its cells.
func (s *space) packOf(index uint64) int {
	if s.packs != nil {
		return slices.Index(s.packs[s.grid.At(index, s.cells)], s.grid.At(index, s.pack))
	}
	return s.grid.At(index, s.capacity)
}

// key is the same for all designs of a build.
func (s *space) key(index uint64) uint64 { return s.withPack(index, 0) }

// at is where a design stands on an axis that the grid may not have.
func (s *space) at(index uint64, axis int) int {
	if axis < 0 {
		return 0
	}
	return s.grid.At(index, axis)
}

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

// propellerKey is what a propeller follows from, on its frame and with its board where they
// exist.
type propellerKey struct {
	diameter, pitch float64
	blades          int
	chord           float64
	parts           model.Parts
	at              [3]int // places of the propeller, the frame and the board among those that exist
}

func (s *space) build(class int, index uint64) *build {
	b := &build{class: class}
	s.plan(b, index)
	return b
}

// plan makes the design of an index the planned one.
func (s *space) plan(b *build, index uint64) {
	d := s.grid.Design(index)
	b.index, b.design, b.planned = index, d, s.packOf(index)
	b.propeller = propellerKey{d.Diameter, d.Pitch, d.Blades, d.Chord,
		model.Parts{Propeller: d.Propeller, Frame: d.Frame, Board: d.Board},
		[3]int{s.at(index, s.propeller), s.at(index, s.frame), s.at(index, s.board)}}
	b.motor = s.grid.At(index, s.stator)*len(s.axes[s.kv].Values) + s.grid.At(index, s.kv)
	if s.motor >= 0 {
		b.motor = s.grid.At(index, s.motor)
	}
	b.cells = s.grid.At(index, s.cells)
}

// mostBuilds bounds the candidates of a class that the sweep has kept.
const mostBuilds = 5000

// candidates are the builds of a class that a choice is made among: those that the sweep
// kept, and that of the nominal best design, which comes first where there is one.
func (s *space) candidates(class int, found *sweep.ClassResult) (out []*build) {
	seen := map[uint64]bool{}
	add := func(index uint64, score float64) {
		if key := s.key(index); !seen[key] {
			seen[key] = true
			b := s.build(class, index)
			b.nominal = score
			out = append(out, b)
		}
	}
	if best, ok := found.Best(); ok {
		add(best.Index, best.Score)
		out[0].first = true
	}
	for _, c := range found.Builds(mostBuilds) {
		add(c.Index, c.Score)
	}
	return out
}
