package sweep

import (
	"errors"
	"math"
	"slices"
	"testing"

	"rotorsieve/model"
)

// The oracle finds what a study is to find from the definitions of DEVELOPERS.md and of
// the types of results alone, on plain slices and sorts. Of the sweep it takes the
// types, not what they do; of the model whole crafts.

// places are the axes in the order in which a design's index counts through them, the
// last fastest. Pitch may stand as a ratio.
var places = []string{"diameter", "pitch", "blades", "chord", "stator", "kv", "cells", "capacity", "payload"}

func placeOf(name string) int {
	if name == "pitch-ratio" {
		name = "pitch"
	}
	return slices.Index(places, name)
}

// judged is a design with what became of it in a class.
type judged struct {
	index  uint64
	at     []int // on each axis
	craft  *model.Craft
	flies  bool    // it has operating points
	gate   int     // at which it was rejected, -1 where it is feasible
	short  float64 // by how much it missed there
	merit  float64
	square [3]int32 // its box of the front
}

// everyDesign evaluates all designs of a study in the order of their index.
func everyDesign(t testing.TB, s *Study) []judged {
	t.Helper()
	axes := s.Grid.Axes()
	props := map[[4]float64]*model.Propeller{}
	var out []judged
	at := make([]int, len(axes))
	var next func(axis int)
	next = func(axis int) {
		if axis < len(axes) {
			for at[axis] = range axes[axis].Values {
				next(axis + 1)
			}
			return
		}
		v := make([]float64, len(axes))
		for i := range axes {
			if placeOf(axes[i].Def.Name) != i {
				t.Fatalf("axis %s is the %d-th", axes[i].Def.Name, i)
			}
			v[i] = axes[i].Values[at[i]]
		}
		d := model.Design{Diameter: v[0], Pitch: v[1], Blades: int(v[2]), Chord: v[3], Stator: StatorOf(v[4]), KV: v[5],
			Cells: int(v[6]), Capacity: v[7], Payload: v[8]}
		if axes[1].Def.Name == "pitch-ratio" {
			d.Pitch *= d.Diameter
		}
		key := [4]float64(v[:4])
		prop := props[key]
		if prop == nil {
			var err error
			if prop, err = s.Model.Propeller(d.Diameter, d.Pitch, d.Blades, d.Chord); err != nil {
				t.Fatal(err)
			}
			props[key] = prop
		}
		c, err := s.Model.Complete(prop, d)
		if err != nil && !errors.Is(err, model.ErrNoOperatingPoint) {
			t.Fatal(err)
		}
		out = append(out, judged{index: uint64(len(out)), at: slices.Clone(at), craft: c, flies: err == nil})
	}
	next(0)
	return out
}

// inOrderOfGates are the requirements by the stage of their metric, as given within one.
func inOrderOfGates(require []Requirement) (out []Requirement) {
	for stage := model.StageMass; stage <= model.StageExplain; stage++ {
		for _, q := range require {
			if q.Metric.Stage == stage {
				out = append(out, q)
			}
		}
	}
	return out
}

// judge says at which gate a design ends in a class and by what it misses.
func (j *judged) judge(class Class, require []Requirement) {
	j.craft.Limit = class.Limit
	j.gate, j.short = -1, 0
	if j.craft.Mass > class.Limit {
		j.gate, j.short = 0, (j.craft.Mass-class.Limit)/class.Limit
		return
	}
	if !j.flies {
		j.gate = 1
		return
	}
	for i, q := range require {
		v := q.Metric.Of(j.craft)
		if q.AtLeast && v >= q.Bound || !q.AtLeast && v <= q.Bound {
			continue
		}
		size := math.Abs(q.Bound)
		if size < 1e-9 {
			size = 1e-9
		}
		j.gate, j.short = 2+i, math.Abs(v-q.Bound)/size
		if math.IsNaN(j.short) {
			j.short = math.Inf(1)
		}
		return
	}
}

// weighted is the merit: the mean by weight of what each metric scores between its
// worst and its best value, no further than either, nothing where it does not exist.
func weighted(m Merit, c *model.Craft) float64 {
	var sum, weights float64
	for _, t := range m {
		score := (t.Metric.Of(c) - t.Worst) / (t.Best - t.Worst)
		if math.IsNaN(score) || score < 0 {
			score = 0
		} else if score > 1 {
			score = 1
		}
		sum += t.Weight * score
		weights += t.Weight
	}
	return sum / weights
}

// squareOf cuts metrics, higher being better, into steps of one per cent.
func squareOf(metrics []*model.Metric, c *model.Craft) (b [3]int32) {
	for i, m := range metrics {
		v := m.Of(c)
		if m.Better == model.Lower {
			v = -v
		}
		n := int32(0)
		if math.Abs(v) >= 1e-9 {
			n = 1 + int32(math.Floor(math.Log(math.Abs(v)*1e9)/math.Log(1.01)))
		}
		if v < 0 {
			n = -n
		}
		b[i] = n
	}
	return b
}

// highest is the first of the designs with the highest score; they come by index.
func highest(designs []*judged, score func(*judged) float64) (b Best) {
	for _, j := range designs {
		if v := score(j); !b.Any || v > b.Score || math.IsNaN(b.Score) && !math.IsNaN(v) {
			b = Best{Ranked{j.index, v}, true}
		}
	}
	return b
}

// brute judges a study one design at a time.
func brute(t testing.TB, s *Study) *Result {
	t.Helper()
	all := everyDesign(t, s)
	require := inOrderOfGates(s.Require)
	widest := s.Classes[0].Limit
	for _, k := range s.Classes {
		widest = math.Max(widest, k.Limit)
	}
	r := &Result{}
	for _, class := range s.Classes {
		for i := range all {
			j := &all[i]
			if j.judge(class, require); j.gate < 0 {
				j.merit, j.square = weighted(s.Merit, j.craft), squareOf(s.Front, j.craft)
			}
		}
		r.Classes = append(r.Classes, found(s, class, all, 2+len(require), widest))
	}
	return r
}

// found puts together what a class has found in the designs that were judged.
func found(s *Study, class Class, all []judged, gates int, widest float64) ClassResult {
	axes := s.Grid.Axes()
	n := func(axis int) int { return len(axes[axis].Values) }
	diameter, cells, payload := placeOf("diameter"), placeOf("cells"), placeOf("payload")
	merit := func(j *judged) float64 { return j.merit }
	k := ClassResult{Class: class, Rejected: make([]uint64, gates)}
	var feasible, missed []*judged
	for i := range all {
		if j := &all[i]; j.gate < 0 {
			feasible = append(feasible, j)
		} else {
			k.Rejected[j.gate]++
			missed = append(missed, j)
		}
	}
	k.Feasible = uint64(len(feasible))
	// those gives the feasible designs that stand where a function says.
	those := func(there func(*judged) bool) (out []*judged) {
		for _, j := range feasible {
			if there(j) {
				out = append(out, j)
			}
		}
		return out
	}
	for d := range n(diameter) {
		k.Leaders = append(k.Leaders, highest(those(func(j *judged) bool { return j.at[diameter] == d }), merit))
		for c := range n(cells) {
			k.ByCells = append(k.ByCells, highest(those(func(j *judged) bool {
				return j.at[diameter] == d &&
					j.at[cells] == c
			}), merit))
		}
	}
	for p := range n(payload) {
		k.Payloads = append(k.Payloads, highest(those(func(j *judged) bool { return j.at[payload] == p }), merit))
	}

	ranked := slices.Clone(feasible)
	slices.SortStableFunc(ranked, func(a, b *judged) int { // by index they are already
		switch {
		case a.merit > b.merit:
			return -1
		case a.merit < b.merit:
			return 1
		}
		return 0
	})
	for _, j := range ranked[:min(len(ranked), s.Top)] {
		k.Ranking = append(k.Ranking, Ranked{j.index, j.merit})
	}

	slices.SortStableFunc(missed, func(a, b *judged) int {
		switch {
		case a.gate != b.gate:
			return b.gate - a.gate
		case a.short < b.short:
			return -1
		case a.short > b.short:
			return 1
		}
		return 0
	})
	if len(missed) > 0 {
		k.Nearest = Miss{Index: missed[0].index, Gate: missed[0].gate, Shortfall: missed[0].short, Any: true}
	}

	k.OfValues, k.Candidates = plainCandidates(s, class, ranked)
	if len(s.Front) > 0 {
		k.Front = plainFront(slices.DeleteFunc(slices.Clone(ranked), func(j *judged) bool {
			return slices.ContainsFunc(s.Front, func(m *model.Metric) bool { return math.IsNaN(m.Of(j.craft)) })
		}))
	}
	for _, m := range s.Maps {
		k.Maps = append(k.Maps, plainMap(m, all, n(placeOf(m.X.Name)), n(placeOf(m.Y.Name))))
	}
	k.Size = SizeMap{Bins: s.SizeBins, Width: widest / float64(s.SizeBins), Diameters: n(diameter)}
	k.Size.Cells, k.Size.Seen = plainCells(all, k.Size.Diameters*s.SizeBins, func(j *judged) int {
		return j.at[diameter]*s.SizeBins + min(int(j.craft.Mass/k.Size.Width), s.SizeBins-1)
	}, merit)
	return k
}

// plainMap is a map of the merit, or of a metric with a better direction.
func plainMap(m MapSpec, all []judged, nx, ny int) Map {
	x, y := placeOf(m.X.Name), placeOf(m.Y.Name)
	score := func(j *judged) float64 {
		switch {
		case m.Metric != nil && m.Metric.Better == model.Higher:
			return m.Metric.Of(j.craft)
		case m.Metric != nil && m.Metric.Better == model.Lower:
			return -m.Metric.Of(j.craft)
		}
		return j.merit
	}
	cells, _ := plainCells(all, nx*ny, func(j *judged) int { return j.at[y]*nx + j.at[x] }, score)
	return Map{Spec: m, NX: nx, NY: ny, Cells: cells}
}

// plainCells gives each cell its best design and the furthest gate at which one was
// rejected, and says whether a design within the class was in it.
func plainCells(all []judged, count int, place func(*judged) int, score func(*judged) float64) (cells []Cell,
	seen []bool) {
	cells, seen = make([]Cell, count), make([]bool, count)
	feasible := make([][]*judged, count)
	for i := range all {
		j := &all[i]
		if j.gate == 0 {
			continue
		}
		at := place(j)
		seen[at] = true
		if j.gate < 0 {
			feasible[at] = append(feasible[at], j)
		} else if uint8(j.gate) > cells[at].Gate {
			cells[at].Gate = uint8(j.gate)
		}
	}
	for at := range cells {
		cells[at].Best = highest(feasible[at], score)
	}
	return cells, seen
}

// plainFront keeps of designs, the best first, the first of each box that no other box
// is at least as good as in everything, in the order of the first metric, the worst
// first, then of the second, the best first, then of the third.
func plainFront(ranked []*judged) (out []FrontPoint) {
	first := map[[3]int32]*judged{}
	for _, j := range ranked {
		if first[j.square] == nil {
			first[j.square] = j
		}
	}
	for a, j := range first {
		beaten := false
		for b := range first {
			if a != b && b[0] >= a[0] && b[1] >= a[1] && b[2] >= a[2] {
				beaten = true
			}
		}
		if !beaten {
			out = append(out, FrontPoint{Ranked{j.index, j.merit}, a})
		}
	}
	slices.SortFunc(out, func(p, q FrontPoint) int {
		for i, sign := range []int32{1, -1, 1} {
			if d := sign * (p.box[i] - q.box[i]); d != 0 {
				return int(d)
			}
		}
		return 0
	})
	return out
}
