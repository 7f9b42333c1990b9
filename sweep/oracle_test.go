package sweep

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"rotorsieve/model"
)

// The oracle finds what a study is to find from the definitions of DEVELOPERS.md and of
// the types of results alone, on plain slices and sorts. Of the sweep it takes the
// types, not what they do; of the model whole crafts.

// placeOf is where an axis stands. Pitch may stand as a ratio.
func placeOf(s *Study, name string) int {
	return slices.IndexFunc(s.Grid.Axes(), func(a Axis) bool {
		return a.Def.Name == name || a.Def.Name == "pitch-ratio" && name == "pitch"
	})
}

// judged is a design with what became of it in a class.
type judged struct {
	index  uint64
	at     []int // on each axis
	craft  *model.Craft
	crafts []*model.Craft // in all scenarios, up to the first in which it has no operating points
	flies  bool           // it has operating points in all
	fell   int            // the scenario in which it was rejected
	gate   int            // at which it was rejected, -1 where it is feasible
	short  float64        // by how much it missed there
	merit  float64
	square [3]int32 // its box of the front
}

// put gives a design a value of an axis.
func put(d *model.Design, name string, v float64, own *invented) {
	switch name {
	case "diameter":
		d.Diameter = v
	case "pitch":
		d.Pitch = v
	case "pitch-ratio":
		d.Pitch = v * d.Diameter
	case "blades":
		d.Blades = int(v)
	case "chord":
		d.Chord = v
	case "stator":
		d.Stator = StatorOf(v)
	case "kv":
		d.KV = v
	case "cells":
		d.Cells = int(v)
	case "capacity":
		d.Capacity = v
	case "payload":
		d.Payload = v
	default:
		own.put(d, name, int(v))
	}
}

// valueIn is the value of an axis that a design has.
func valueIn(d *model.Design, name string) float64 {
	return map[string]float64{"diameter": d.Diameter, "pitch": d.Pitch, "blades": float64(d.Blades), "chord": d.Chord,
		"stator": 1e5*d.Stator.Diameter + 1e3*d.Stator.Height, "kv": d.KV, "cells": float64(d.Cells),
		"capacity": d.Capacity}[name]
}

// everyDesign evaluates all designs of a study in the order of their index. The last axis is
// the fastest; axes that parts bring count for nothing.
func everyDesign(t testing.TB, s *Study, own *invented) []judged {
	t.Helper()
	axes := s.Grid.Axes()
	props := map[string]*model.Propeller{}
	var out []judged
	at := make([]int, len(axes))
	var next func(axis int, d model.Design)
	next = func(axis int, d model.Design) {
		if axis < len(axes) {
			a := axes[axis]
			if a.Of != nil {
				v := valueIn(&d, a.Def.Name)
				at[axis] = slices.IndexFunc(a.Values, func(x float64) bool { return math.Abs(x-v) < 1e-9*max(1, v) })
				next(axis+1, d)
				return
			}
			for at[axis] = range a.Values {
				e := d
				put(&e, a.Def.Name, a.Values[at[axis]], own)
				next(axis+1, e)
			}
			return
		}
		j := judged{index: uint64(len(out)), at: slices.Clone(at), flies: true}
		var built *model.Powertrain
		for n, m := range append([]*model.Model{s.Model}, s.Others...) {
			key := fmt.Sprint(n, d.Diameter, d.Pitch, d.Blades, d.Chord, d.Propeller, d.Frame, d.Board)
			prop := props[key]
			if prop == nil {
				var err error
				if prop, err = m.PropellerFor(&d); err != nil {
					t.Fatal(err)
				}
				props[key] = prop
			}
			c, err := m.CompleteAs(prop, d, built)
			if err != nil && !errors.Is(err, model.ErrNoOperatingPoint) {
				t.Fatal(err)
			}
			j.crafts = append(j.crafts, c)
			if j.flies = err == nil; !j.flies {
				break
			}
			built = j.crafts[0].Powertrain
		}
		j.craft = j.crafts[0]
		out = append(out, j)
	}
	next(0, model.Design{})
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
	j.gate, j.short, j.fell = -1, 0, 0
	for _, c := range j.crafts {
		c.Limit = class.Limit
	}
	if j.craft.Mass > class.Limit {
		j.gate, j.short = 0, (j.craft.Mass-class.Limit)/class.Limit
		return
	}
	for n, c := range j.crafts {
		j.fell = n
		if !j.flies && n == len(j.crafts)-1 {
			j.gate = 1
			return
		}
		for i, q := range require {
			v := q.Metric.Of(c)
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
}

// overAll is the merit of a feasible design over its scenarios: the least or the mean.
func overAll(s *Study, j *judged) float64 {
	least, sum := math.Inf(1), 0.0
	for _, c := range j.crafts {
		v := weighted(s.Merit, c)
		least, sum = math.Min(least, v), sum+v
	}
	if s.Over == Mean && len(j.crafts) > 1 {
		return sum / float64(len(j.crafts))
	}
	return least
}

// surely is what a design has of a metric in every scenario: where it is worst.
func surely(m *model.Metric, j *judged) float64 {
	var all []float64
	for _, c := range j.crafts {
		v := m.Of(c)
		if math.IsNaN(v) {
			return v
		}
		all = append(all, v)
	}
	slices.Sort(all)
	if m.Better == model.Lower {
		return all[len(all)-1]
	}
	return all[0]
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
func squareOf(metrics []*model.Metric, j *judged) (b [3]int32) {
	for i, m := range metrics {
		v := surely(m, j)
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
func brute(t testing.TB, s *Study) *Result { return bruteWith(t, s, nil) }

// bruteWith is brute of a study of parts.
func bruteWith(t testing.TB, s *Study, own *invented) *Result {
	t.Helper()
	all := everyDesign(t, s, own)
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
				j.merit, j.square = overAll(s, j), squareOf(s.Front, j)
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
	diameter, cells, payload := placeOf(s, "diameter"), placeOf(s, "cells"), placeOf(s, "payload")
	merit := func(j *judged) float64 { return j.merit }
	k := ClassResult{Class: class, Rejected: make([]uint64, gates), Fallen: make([]uint64, gates*len(s.Others))}
	var feasible, missed []*judged
	for i := range all {
		if j := &all[i]; j.gate < 0 {
			feasible = append(feasible, j)
		} else {
			k.Rejected[j.gate]++
			if j.fell > 0 {
				k.Fallen[(j.fell-1)*gates+j.gate]++
			}
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

	listed := ranked
	if s.Nominal {
		listed = nil
	}
	k.OfValues, k.Candidates = plainCandidates(s, class, all, listed)
	if len(s.Front) > 0 {
		k.Front = plainFront(slices.DeleteFunc(slices.Clone(ranked), func(j *judged) bool {
			return slices.ContainsFunc(s.Front, func(m *model.Metric) bool { return math.IsNaN(surely(m, j)) })
		}))
	}
	for _, m := range s.Maps {
		k.Maps = append(k.Maps, plainMap(s, m, all))
	}
	k.Size = SizeMap{Bins: s.SizeBins, Width: widest / float64(s.SizeBins), Diameters: n(diameter)}
	k.Size.Cells, k.Size.Seen = plainCells(all, k.Size.Diameters*s.SizeBins, func(j *judged) int {
		return j.at[diameter]*s.SizeBins + min(int(j.craft.Mass/k.Size.Width), s.SizeBins-1)
	}, merit)
	return k
}

// plainMap is a map of the merit, or of a metric with a better direction.
func plainMap(s *Study, m MapSpec, all []judged) Map {
	x, y := placeOf(s, m.X.Name), placeOf(s, m.Y.Name)
	nx, ny := len(s.Grid.Axes()[x].Values), len(s.Grid.Axes()[y].Values)
	score := func(j *judged) float64 {
		switch {
		case m.Metric != nil && m.Metric.Better == model.Higher:
			return surely(m.Metric, j)
		case m.Metric != nil && m.Metric.Better == model.Lower:
			return -surely(m.Metric, j)
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
