package sweep

import (
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
)

// The candidates of the oracle: by logarithms of margins in place of moved bounds, over all
// designs of a build in place of those that came up.

var plainSigmas = [6]float64{0, 0.5, 1, 1.5, 2, 2.5}

// plainSpread is the standard deviation of the logarithm of a metric.
func plainSpread(name string) float64 {
	for sigma, names := range map[float64]string{
		0.05:  "tip-mach tip-speed full-throttle-rpm propeller-speed-use",
		0.125: "thrust-to-weight torque-per-volume torque-load hover-throttle",
		0.15:  "controller-rating motor-current-use board-current-use",
		0.23:  "pack-load", 0.02: "voltage-margin pack-voltage",
		0.35: "motor-temperature cruise-motor-temperature burst-time top-speed-time",
		0: "payload wheelbase capacity-per-cell rim-speed winding-load frame-use motor-cells-use " +
			"board-cells-use price",
	} {
		if slices.Contains(strings.Fields(names), name) {
			return sigma
		}
	}
	return 0.12
}

// plainLevel is the highest level that a feasible design reaches in all scenarios.
func plainLevel(s *Study, class Class, j *judged, require []Requirement) int {
	least := len(plainSigmas)
	for _, c := range j.crafts {
		least = min(least, plainLevelIn(class, c, require))
	}
	return least
}

func plainLevelIn(class Class, c *model.Craft, require []Requirement) int {
	spare := func(sigmas, from, to float64) bool { // by so many of mass
		return math.Log(to/from) >= max(0, sigmas-1.5)*0.045
	}
	level := 0
	for n, sigmas := range plainSigmas {
		if n == 0 {
			continue
		}
		for _, q := range require {
			v, sigma, none := q.Metric.Of(c), plainSpread(q.Metric.Name), 0.0
			switch q.Metric.Name {
			case "auw":
				if !q.AtLeast && !spare(sigmas, v, q.Bound) || q.AtLeast && !spare(sigmas, q.Bound, v) {
					return level
				}
				continue
			case "class-margin":
				if q.AtLeast && !spare(sigmas, class.Limit-v, class.Limit-q.Bound) ||
					!q.AtLeast && !spare(sigmas, class.Limit-q.Bound, class.Limit-v) {
					return level
				}
				continue
			case "motor-temperature", "cruise-motor-temperature":
				none = c.Model.Air.Temperature
			case "voltage-margin":
				k := c.Powertrain.Drive.Pack
				none = -k.Floor / float64(k.Cells)
			}
			if q.Metric.Cap > 0 && q.AtLeast && v >= q.Metric.Cap || q.Bound == none || sigma == 0 {
				continue
			}
			less, more := v-none, q.Bound-none
			if q.AtLeast {
				less, more = more, less
			}
			// A value beyond where there is none of it is far within.
			if less < 0 && more < 0 {
				less, more = -more, -less
			}
			if more > 0 && less > 0 && math.Log(more/less) < sigmas*sigma {
				return level
			}
		}
		if !spare(sigmas, c.Mass, class.Limit) {
			return level
		}
		level = n
	}
	return level
}

// plainCandidates lists the best 30 builds of each diameter, number of blades and payload at
// each level, or fewer where there are many of these, and of each value of the others up to 40,
// fewer at lower levels.
func plainCandidates(s *Study, class Class, all []judged, ranked []*judged) (ofValues, out []Lists) {
	axes := s.Grid.Axes()
	diameter, blades, payload := placeOf(s, "diameter"), placeOf(s, "blades"), placeOf(s, "payload")
	n := func(axis int) int { return len(axes[axis].Values) }
	out = make([]Lists, n(diameter)*n(blades)*n(payload))
	before := map[int]int{} // lists of values of earlier axes
	count := 0
	for _, name := range []string{"propeller", "pitch", "chord", "frame", "board", "motor", "stator", "kv", "cells"} {
		axis := placeOf(s, name)
		if axis < 0 || n(axis) < 2 || axes[axis].Of != nil && name != "cells" {
			continue
		}
		before[axis] = count
		count += n(axis)
	}
	ofValues = make([]Lists, count)
	type build [axisCount]int // all but which pack of its cells
	buildOf := func(j *judged) (b build) {
		copy(b[:], j.at)
		for _, name := range []string{"capacity", "pack"} {
			if at := placeOf(s, name); at >= 0 {
				b[at] = 0
			}
		}
		return b
	}
	parts := map[build]uint64{} // the first design
	for i := range all {
		j := &all[i]
		if _, ok := parts[buildOf(j)]; !ok {
			parts[buildOf(j)] = j.index
		}
	}
	type seen struct {
		list  *Lists
		level int
		build build
	}
	first := map[seen]bool{}
	for _, j := range ranked {
		b := buildOf(j)
		add := func(list *Lists, level, most int) {
			if first[seen{list, level, b}] || len(list[level]) == most {
				return
			}
			first[seen{list, level, b}] = true
			list[level] = append(list[level], Build{Ranked: Ranked{j.index, j.merit}, Parts: parts[b]})
		}
		for level := range plainLevel(s, class, j, inOrderOfGates(s.Require)) + 1 {
			add(&out[(j.at[diameter]*n(blades)+j.at[blades])*n(payload)+j.at[payload]], level,
				min(maxListed, max(1, 16384/len(out))))
			for axis, from := range before {
				share := [6]int{4, 8, 12, 16, 24, 40}[level]
				add(&ofValues[from+j.at[axis]], level, max(1, min(maxOfValue, 4096/count)*share/40))
			}
		}
	}
	return ofValues, out
}
