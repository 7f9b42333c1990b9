package decide

import "math"

// matters is the share of a metric from which on a difference counts.
const matters = 0.02

// axisValues hold the best build with each value of the swept axes against the first, which
// stands for its own values: the best by cautious merit on the draws that tell of it, so that
// no other that is told of reads better. These draws choose among a few builds alone, that
// the draws of the choice have left, so that what this adds to the merit is no more than its
// standard error (DEVELOPERS.md).
func (f *fresh) axisValues() (out []AxisValues) {
	s := f.space
	for _, axis := range s.swept() {
		a := AxisValues{Axis: axis}
		for at, v := range s.axes[axis].Values {
			x := AxisValue{Value: v}
			for i, b := range f.builds { // by rank
				if s.grid.At(b.index, axis) == at && (!x.Any || x.Build > 0 && f.cautious[i] > f.cautious[x.Build]) {
					x.Any, x.Build = true, i
				}
			}
			if x.Any {
				f.against(&x)
			}
			a.Values = append(a.Values, x)
		}
		out = append(out, a)
	}
	return out
}

// against compares a build with the first, draw by draw.
func (f *fresh) against(x *AxisValue) {
	ahead, behind, better, equal := 0, 0, 0, 0
	for k := range f.draws {
		a, b := &f.results[x.Build*f.draws+k], &f.results[k]
		d := a.merit - b.merit
		x.Loss += math.Max(0, -d) / float64(f.draws)
		switch {
		case d > 0:
			better++
		case d == 0:
			equal++
		}
		switch least := f.counts(x.Build, k); {
		case a.gate != kept && b.gate != kept:
		case a.gate != kept:
			behind++
		case b.gate != kept:
			ahead++
		case d > least:
			ahead++
		case d < -least:
			behind++
		}
	}
	n := float64(f.draws)
	x.Ahead, x.Behind, x.Level = float64(ahead)/n, float64(behind)/n, float64(f.draws-ahead-behind)/n
	x.Better = (float64(better) + float64(equal)/2) / n
	x.Difference, x.Standard = f.difference(x.Build)
}

// counts is the difference in merit to the first build that counts in a draw: what 2 % of
// each metric of the first are worth in it, but for those that are past their best value in
// both, which no difference can come of.
func (f *fresh) counts(build, k int) float64 {
	var sum, weight float64
	for _, t := range f.study.Merit {
		weight += t.Weight
		m := f.place(t.Metric)
		x, y := f.value(0, k, m), f.value(build, k, m)
		if math.IsNaN(x) || t.Score(x) == 1 && t.Score(y) == 1 {
			continue
		}
		sum += t.Weight * matters * math.Abs(x/(t.Best-t.Worst))
	}
	return sum / weight
}
