package sweep

// mostSplits is in places of marked lines: where masses rise unevenly halves are sooner there.
const mostSplits = 8

// split is the capacity at which what lies between two marked lines is judged on: where the designs of one payload
// are of different slots, about the last of that of the lower line, by the straight line between their masses;
// otherwise the one in the middle.
func (w *worker) split(low, high, a, b int) int {
	x, y := w.runs.ends[a].masses, w.runs.ends[b].masses
	for p := range x {
		slot, last := w.slotOf(x[p]), w.slotOf(y[p])
		if w.nested && last < len(w.byLimit) {
			continue // a run may go from class to class
		}
		if slot < len(w.byLimit) && last != slot {
			if w.nested {
				slot = len(w.byLimit) - 1
			}
			part := (w.limit(slot) - x[p]) / (y[p] - x[p])
			return min(max(low+int(part*float64(high-low)), low+1), high-1)
		}
	}
	return low + (high-low)/2
}
