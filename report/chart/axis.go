package chart

import (
	"fmt"
	"math"
	"strconv"
)

// Axis is one direction of a panel.
//
// With Names the axis is discrete: the k-th name stands at position k and owns
// the cell from k-0.5 to k+0.5, and Min, Max, Log and Ticks are not used.
// Without, it is continuous from Min to Max. An axis whose Min equals its Max
// has one place, in the middle.
type Axis struct {
	Label    string // with the unit in brackets, "diameter [in]"
	Min, Max float64
	Log      bool      // Min > 0
	Ticks    []float64 // places of the numbers; nil chooses round ones
	Texts    []string  // in place of the numbers of Ticks; nil for none
	Names    []string  // of a y axis perhaps in several lines
	Upright  bool      // names of an x axis that have no room side by side stand on end, so that none is left out
}

// discrete tells whether the axis has cells instead of a continuum. A single
// value is a cell: nothing can be drawn between its grid points.
func (a Axis) discrete() bool { return len(a.Names) > 0 || a.Min == a.Max }

func (a Axis) validate(what string) error {
	if len(a.Names) > 0 {
		return nil
	}
	switch {
	case !finite(a.Min) || !finite(a.Max) || a.Min > a.Max:
		return fmt.Errorf("chart: %s axis %q: from %g to %g: want finite limits, the lower first", what, a.Label, a.Min,
			a.Max)
	case a.Log && a.Min <= 0:
		return fmt.Errorf("chart: %s axis %q: logarithmic from %g: want a lower limit above 0", what, a.Label, a.Min)
	case a.Texts != nil && len(a.Texts) != len(a.Ticks):
		return fmt.Errorf("chart: %s axis %q: %d texts for %d ticks: want as many", what, a.Label, len(a.Texts),
			len(a.Ticks))
	}
	return nil
}

// limits returns the values at the two ends of the axis.
func (a Axis) limits() (lo, hi float64) {
	if len(a.Names) > 0 {
		return -0.5, float64(len(a.Names)) - 0.5
	}
	return a.Min, a.Max
}

// unit maps a value to 0..1 along the axis; values off the axis lie outside.
func (a Axis) unit(v float64) float64 {
	lo, hi := a.limits()
	if lo == hi {
		return 0.5 + v - lo // the one value owns the whole axis
	}
	if a.Log {
		v, lo, hi = math.Log(v), math.Log(lo), math.Log(hi)
	}
	return (v - lo) / (hi - lo)
}

// tick is a mark on an axis; minor ones have no text.
type tick struct {
	value float64
	text  string
}

// ticks returns marks for about n numbered places.
func (a Axis) ticks(n int) []tick {
	switch {
	case len(a.Names) > 0:
		marks := make([]tick, len(a.Names))
		for k, name := range a.Names {
			marks[k] = tick{float64(k), name}
		}
		return marks
	case a.Min == a.Max:
		return []tick{{a.Min, strconv.FormatFloat(a.Min, 'g', 6, 64)}}
	case a.Ticks != nil:
		var marks []tick
		for k, v := range a.Ticks {
			if v < a.Min || v > a.Max {
				continue
			}
			text := strconv.FormatFloat(v, 'g', 6, 64)
			if a.Texts != nil {
				text = a.Texts[k]
			}
			marks = append(marks, tick{v, text})
		}
		return marks
	case a.Log:
		return logTicks(a.Min, a.Max, n)
	}
	return linearTicks(a.Min, a.Max, n)
}

// linearTicks numbers multiples of the round step that comes nearest to n
// numbers and marks subdivisions between them.
func linearTicks(lo, hi float64, n int) []tick {
	step, parts := roundStep((hi - lo) / float64(max(n, 1)))
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	if mantissa := step * math.Pow10(decimals); math.Abs(mantissa-math.Round(mantissa)) > 1e-9 {
		decimals++ // 2.5, 0.25
	}
	minor := step / float64(parts)
	var marks []tick
	first := int(math.Ceil(lo/minor - 1e-9))
	last := int(math.Floor(hi/minor + 1e-9))
	for k := first; k <= last; k++ {
		t := tick{value: float64(k) * minor}
		if k%parts == 0 {
			t.value = float64(k/parts) * step
			t.text = strconv.FormatFloat(t.value+0, 'f', decimals, 64)
		}
		marks = append(marks, t)
	}
	return marks
}

// roundStep returns 1, 2, 2.5 or 5 times a power of ten, the first that is at
// least raw, and into how many minor parts it divides. The ticks of gonum/plot number
// three places whatever the room, so that they do not serve.
func roundStep(raw float64) (step float64, parts int) {
	step, at := roundUp(raw, 1, 2, 2.5, 5)
	return step, [...]int{5, 4, 5, 5, 5}[at]
}

// RoundUp is the first of some mantissas times a power of ten that is at least v,
// which is above 0; mantissas rise from 1 and stay below 10.
func RoundUp(v float64, mantissas ...float64) float64 {
	round, _ := roundUp(v, mantissas...)
	return round
}

// roundUp tells the place of the mantissa as well, and that past the last for 10.
func roundUp(v float64, mantissas ...float64) (round float64, at int) {
	const rounded = 1e-9 // by which v may miss a round value
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	for at, m := range mantissas {
		if m*decade >= v*(1-rounded) {
			return m * decade, at
		}
	}
	return 10 * decade, len(mantissas)
}

// logTicks numbers 1, 2 and 5 of each decade, or only 1 when that is too many.
func logTicks(lo, hi float64, n int) []tick {
	decades := math.Log10(hi / lo)
	if decades < 0.5 {
		return linearTicks(lo, hi, n)
	}
	numbered := map[int]bool{1: true}
	if decades*3 <= float64(max(n, 3))*1.5 {
		numbered[2], numbered[5] = true, true
	}
	var marks []tick
	for e := int(math.Floor(math.Log10(lo))); e <= int(math.Ceil(math.Log10(hi))); e++ {
		for m := 1; m <= 9; m++ {
			v := float64(m) * math.Pow10(e)
			if v < lo*(1-1e-9) || v > hi*(1+1e-9) {
				continue
			}
			t := tick{value: v}
			if numbered[m] {
				t.text = strconv.FormatFloat(v, 'g', 6, 64)
			}
			marks = append(marks, t)
		}
	}
	return marks
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Levels returns round values that cover lo to hi in about n steps, or as near
// to n as round ones allow, for colour bars and level lines. It panics if the range is not finite or n is not
// positive; of a single value it makes one step.
func Levels(lo, hi float64, n int) []float64 {
	if !finite(lo) || !finite(hi) || lo > hi || n < 1 {
		panic(fmt.Sprintf("chart: levels from %g to %g in %d steps", lo, hi, n))
	}
	if lo == hi {
		n = 1
		if hi += math.Abs(lo) / 10; lo == 0 {
			hi = 1
		}
	}
	raw := (hi - lo) / float64(n)
	decade := math.Pow(10, math.Floor(math.Log10(raw)))
	var step float64
	least := math.Inf(1)
	for _, m := range [...]float64{1, 2, 2.5, 5, 10} {
		off := math.Abs(math.Log(m * decade / raw))
		if m == 2.5 {
			off += 0.1 // its multiples are less round
		}
		if off < least {
			least, step = off, m*decade
		}
	}
	first := math.Floor(lo/step + 1e-9)
	last := math.Ceil(hi/step - 1e-9)
	var levels []float64
	for k := first; k <= last; k++ {
		levels = append(levels, k*step)
	}
	return levels
}
