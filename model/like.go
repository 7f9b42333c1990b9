package model

import (
	"math"

	"rotorsieve/model/flight"
)

// Reference is a craft that others are to feel like: what a pilot notices of it,
// whatever its weight (common practice). A value of 0 is not compared.
type Reference struct {
	DiskLoading    float64 // N/m2
	ThrustToWeight float64
	TipSpeed       float64 // m/s, full throttle
	Response       float64 // s, thrust-response-time
	Roll           float64 // rad/s2, roll-acceleration
}

// compared are the metrics of a Reference.
var compared = []struct {
	name string
	at   func(*Reference) *float64
}{
	{"disk-loading", func(r *Reference) *float64 { return &r.DiskLoading }},
	{"thrust-to-weight", func(r *Reference) *float64 { return &r.ThrustToWeight }},
	{"tip-speed", func(r *Reference) *float64 { return &r.TipSpeed }},
	{"thrust-response-time", func(r *Reference) *float64 { return &r.Response }},
	{"roll-acceleration", func(r *Reference) *float64 { return &r.Roll }},
}

// Compared lists the metrics that a Reference holds.
func Compared() []*Metric {
	var out []*Metric
	for _, c := range compared {
		m, _ := LookupMetric(c.name) // TestLikeness holds the names
		out = append(out, m)
	}
	return out
}

// Of gives the reference's value of one of the metrics of Compared, to be read or
// set; nil for another metric.
func (r *Reference) Of(m *Metric) *float64 {
	for _, c := range compared {
		if c.name == m.Name {
			return c.at(r)
		}
	}
	return nil
}

// ReferenceTo makes a reference of a craft that has been evaluated.
func ReferenceTo(c *Craft) Reference {
	var r Reference
	for _, m := range Compared() {
		*r.Of(m) = m.Of(c)
	}
	return r
}

// DiskLoading is the weight of a mass in kg on the discs of four propellers of a
// diameter in m, in N/m2.
func DiskLoading(mass, diameter float64) float64 {
	return mass * gravity / (rotors * math.Pi / 4 * diameter * diameter)
}

// LoadedDiameter is the diameter of four propellers on which a weight has a disk loading,
// W = DL pi D^2, in units that fit together: N and N/m2 give m, g and g/in2 inches.
func LoadedDiameter(weight, loading float64) float64 { return math.Sqrt(weight / (math.Pi * loading)) }

// likeness is 2 to the power of less the root mean square of the binary logarithms
// of what is compared over the reference: 1 for what feels the same, 0.5 where all
// is off by a factor of 2, either way. Without a reference it is NaN.
func (c *Craft) likeness() float64 {
	r := &c.Model.Assume.Like
	t := c.Powertrain
	sum, n := 0.0, 0
	add := func(v, want float64) {
		if want > 0 {
			d := math.Log2(v / want)
			sum += d * d
			n++
		}
	}
	add(c.Mass*gravity/t.Propeller.Disc, r.DiskLoading)
	add(c.thrustToWeight, r.ThrustToWeight)
	add(c.tipSpeed(t.Full.Speed), r.TipSpeed)
	if r.Response > 0 {
		add(c.up((*flight.Drive).Spin), r.Response)
	}
	if r.Roll > 0 {
		add(2*t.Full.Thrust*c.lateral()/c.rollInertia(), r.Roll)
	}
	if n == 0 {
		return math.NaN()
	}
	return math.Exp2(-math.Sqrt(sum / float64(n)))
}
