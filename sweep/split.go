package sweep

// mostSplits is in places of marked lines: where masses rise unevenly halves are sooner there.
const mostSplits = 8

// split is the capacity at which what lies between two marked lines is judged on: where the designs of one payload
// cannot be in one run for their slots, about the last that can go with the lower line, by the straight line between
// their masses; otherwise the one in the middle.
func (w *worker) split(low, high, a, b int) int {
	x, y := w.runs.ends[a].masses, w.runs.ends[b].masses
	for p := range x {
		limit := w.widest
		if !w.nested && x[p] <= w.widest {
			limit = w.limit(w.slotOf(x[p]))
		}
		if x[p] <= limit && y[p] > limit {
			part := (limit - x[p]) / (y[p] - x[p])
			return min(max(low+int(part*float64(high-low)), low+1), high-1)
		}
	}
	return low + (high-low)/2
}
