package sweep

import (
	"math"
	"slices"
	"strings"
)

// The candidates of the oracle: by logarithms of margins in place of moved bounds, over all
// designs of a build in place of those that came up.

var plainSigmas = [6]float64{0, 0.5, 1, 1.5, 2, 2.5}

// plainSpread is the standard deviation of the logarithm of a metric.
func plainSpread(name string) float64 {
	for sigma, names := range map[float64]string{
		0.05:  "tip-mach tip-speed full-throttle-rpm propeller-speed-use",
		0.125: "thrust-to-weight torque-per-volume torque-load hover-throttle",
		0.15:  "esc-rating motor-current-use board-current-use", 0.23: "pack-load", 0.02: "voltage-margin pack-voltage",
		0.35: "motor-temperature cruise-motor-temperature burst-time top-speed-time",
		0:    "payload wheelbase capacity-per-cell rim-speed winding-load frame-use motor-cells-use board-cells-use price",
	} {
		if slices.Contains(strings.Fields(names), name) {
			return sigma
		}
	}
	return 0.12
}

// plainLevel is the highest level that a feasible design reaches.
func plainLevel(s *Study, class Class, j *judged, require []Requirement) int {
	spare := func(sigmas, from, to float64) bool { // by so many of mass
		return math.Log(to/from) >= max(0, sigmas-1.5)*0.045
	}
	level := 0
	for n, sigmas := range plainSigmas {
		if n == 0 {
			continue
		}
		for _, q := range require {
			v, sigma, none := q.Metric.Of(j.craft), plainSpread(q.Metric.Name), 0.0
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
				none = s.Model.Air.Temperature
			case "voltage-margin":
				k := j.craft.Powertrain.Drive.Pack
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
		if !spare(sigmas, j.craft.Mass, class.Limit) {
			return level
		}
		level = n
	}
	return level
}

// plainCandidates lists the best 30 builds of each diameter and number of blades at each
// level, or fewer where there are many of these.
func plainCandidates(s *Study, class Class, all []judged, ranked []*judged) []Lists {
	axes := s.Grid.Axes()
	diameter, blades := placeOf(s, "diameter"), placeOf(s, "blades")
	groups := len(axes[diameter].Values) * len(axes[blades].Values)
	out := make([]Lists, groups)
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
		level int
		build build
	}
	first := map[seen]bool{}
	for _, j := range ranked {
		g := j.at[diameter]*len(axes[blades].Values) + j.at[blades]
		b := buildOf(j)
		for level := range plainLevel(s, class, j, inOrderOfGates(s.Require)) + 1 {
			if first[seen{level, b}] || len(out[g][level]) == min(maxListed, max(1, 16384/groups)) {
				continue
			}
			first[seen{level, b}] = true
			out[g][level] = append(out[g][level], Build{Ranked: Ranked{j.index, j.merit}, Parts: parts[b]})
		}
	}
	return out
}
