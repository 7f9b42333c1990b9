package model

import (
	"slices"
	"strings"
	"testing"

	"rotorsieve/model/motor"
)

// Motors that are too hot in hover are told of, and those too hot in cruise, each
// just where the metric says so.
func TestHotMarks(t *testing.T) {
	m := newModel(t, nil)
	d := freestyle
	d.Stator = stator(14, 5)
	seen := map[[2]bool]int{}
	runs := 0
	for d.Payload = 0; d.Payload < 2; d.Payload += 0.01 {
		c, err := m.Evaluate(d)
		if err != nil {
			break
		}
		says := func(where string) bool {
			return slices.ContainsFunc(c.marks(), func(x mark) bool { return x.limit == validHeat && strings.Contains(x.text, where) })
		}
		flies := c.Flight.Endurance.Airspeed > 0
		hover, cruise := value(t, c, "motor-temperature") >= motor.BurstLimit, flies && value(t, c, "cruise-motor-temperature") >= motor.BurstLimit
		if says("in hover") != hover || says("in cruise") != cruise {
			t.Errorf("payload %g kg: too hot in hover %v, in cruise %v, but told %q", d.Payload, hover, cruise, c.Warnings())
		}
		if flies {
			seen[[2]bool{hover, cruise}]++
			if says("run away thermally in cruise") {
				runs++
			}
		}
	}
	if seen[[2]bool{false, false}] == 0 || seen[[2]bool{true, false}] == 0 || seen[[2]bool{true, true}] == 0 || runs == 0 {
		t.Errorf("hot in hover and cruise: %v, %d run away in cruise", seen, runs)
	}
}
