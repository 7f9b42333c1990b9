package decide

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// throttled names the metrics of full throttle at rest that a pilot sees or is warned of,
// and that less throttle improves.
var throttled = []string{"motor-current", "pack-current", "pack-c-rate", "pack-load", "pack-voltage",
	"voltage-margin", "burst-time"}

// HeldByThrottle names the metrics whose requirements a pilot can keep with the throttle.
func HeldByThrottle() []string { return slices.Clone(throttled) }

// ByThrottle finds the metrics of names whose requirements a pilot is to keep with the
// throttle. In a draw in which such a requirement is broken full throttle is held back so
// that it is kept, and thrust to weight and all else that follows full throttle at rest is
// that of the point at part throttle; the requirement does not fail there, though others
// may. That changes what the merit means: thrust is no longer what the motors give, but
// what a pilot asks for.
func ByThrottle(names []string) ([]*model.Metric, error) {
	var out []*model.Metric
	for _, name := range names {
		m, ok := model.LookupMetric(name)
		if !ok || !slices.Contains(throttled, name) {
			return nil, fmt.Errorf("%.80q is not kept with the throttle, want one of %s", name,
				strings.Join(throttled, ", "))
		}
		if slices.Contains(out, m) {
			return nil, fmt.Errorf("%s is given twice", name)
		}
		out = append(out, m)
	}
	return out, nil
}

// heldBy says whether a requirement is kept with the throttle: its metric is declared so,
// and less of it helps.
func heldBy(byThrottle []*model.Metric, r *sweep.Requirement) bool {
	return slices.Contains(byThrottle, r.Metric) && r.AtLeast == (r.Metric.Better == model.Higher)
}

// holdSteps is over how many parts of the way from hover to full throttle a limit is first
// looked for, since chopping warms the motors most a little below full duty.
const (
	holdSteps = 8
	holdFine  = 1e-4 // of the speed of full throttle, to which it is then found
)

// holdBack holds the throttle of the craft back to the greatest part of full throttle's
// speed, below one at which it is held already, that keeps a requirement. It is false,
// with the craft as it was, where even hover does not.
func (w *bench) holdBack(r *sweep.Requirement, held float64) (float64, bool) {
	was := w.craft
	full := w.train // at full duty
	try := func(part float64) bool {
		w.craft = was
		w.craft.Powertrain = &full
		return w.craft.HoldBack(&w.held, part) && r.Kept(w.read(r.Metric))
	}
	hover := was.Hover.Speed / full.Full.Speed
	good, bad := -1.0, held
	for i := 1; i <= holdSteps; i++ {
		part := held + (hover-held)*float64(i)/holdSteps
		if try(part) {
			good = part
			break
		}
		bad = part
	}
	if good < 0 {
		w.craft = was
		if held < 1 {
			w.craft.Powertrain = &full
			w.craft.HoldBack(&w.held, held) // as it was held before
		}
		return 0, false
	}
	for bad-good > holdFine {
		if mid := (good + bad) / 2; try(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	try(good)
	return good, true
}
