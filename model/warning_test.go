package model

import (
	"math"
	"regexp"
	"strconv"
	"testing"
)

// A mark begins just where its words say that the validated range ends, on either side.
func TestMarksBeginWhereTheySay(t *testing.T) {
	t.Parallel()
	ordinary := evaluate(t, newModel(t, nil), freestyle)
	spans := regexp.MustCompile(`outside the validated (-?[0-9.]+) to (-?[0-9.]+) `)
	for _, c := range []struct {
		limit    *Validity
		set      func(c *Craft, v float64) // in the unit of the words
		from, to float64                   // outside at both ends
	}{
		{validDiameter, func(c *Craft, v float64) {
			train, p := *c.Powertrain, *c.Powertrain.Propeller
			p.Diameter, train.Propeller, c.Powertrain = v*in, &p, &train
		}, 1, 30},
		{validMass, func(c *Craft, v float64) { c.Mass = v }, 0.01, 50},
		{validTemperature, func(c *Craft, v float64) {
			m := *c.Model
			m.Air.Temperature, c.Model = v+273.15, &m
		}, -60, 70},
	} {
		told := func(v float64) string {
			craft := *ordinary
			c.set(&craft, v)
			for _, x := range craft.marks() {
				if x.limit == c.limit {
					return x.text
				}
			}
			return ""
		}
		said := spans.FindStringSubmatch(told(c.from))
		if said == nil {
			t.Errorf("%s: %g is told of as %q", c.limit.What, c.from, told(c.from))
			continue
		}
		var ends [2]float64
		for i := range ends {
			v, err := strconv.ParseFloat(said[1+i], 64)
			if err != nil {
				t.Fatal(err)
			}
			ends[i] = v
		}
		middle := (ends[0] + ends[1]) / 2
		if text := told(middle); text != "" {
			t.Errorf("%s: %g is told of as %q", c.limit.What, middle, text)
		}
		for i, out := range []float64{c.from, c.to} {
			want, within := ends[i], middle
			for math.Abs(out-within) > 1e-9*math.Abs(want) {
				if mid := (out + within) / 2; told(mid) != "" {
					out = mid
				} else {
					within = mid
				}
			}
			if math.Abs(out-want) > 1e-6*math.Abs(want) {
				t.Errorf("%s: the mark begins at %g, but says %g", c.limit.What, out, want)
			}
		}
	}
}
