package main

import (
	"fmt"

	"rotorsieve/model/bench"
	"rotorsieve/model/flight"
)

// pointFlags are those that ask for states.
var pointFlags = []string{"throttle", "rpm", "thrust"}

// states are those that the flags ask for. An error names the nearest possible one.
func (s *standFlags) states(r *bench.Rig) ([]bench.State, error) {
	asked := 0
	for _, name := range pointFlags {
		if s.origin(name) != "default" {
			asked++
		}
	}
	if asked > 1 {
		return nil, fmt.Errorf("--throttle, --rpm, --thrust: %d of them, want one", asked)
	}
	var out []bench.State
	add := func(name string, values []float64, at func(float64) (flight.StandPoint, bool), text func(float64) string,
		of func(*flight.StandPoint) float64) error {
		for _, v := range values {
			p, ok := at(v)
			if !ok || p.Duty > 1 {
				return unreached(r, name, text, of, v)
			}
			out = append(out, r.State(p))
		}
		return nil
	}
	switch {
	case s.speeds != nil:
		return out, add("rpm", s.speeds, r.AtSpeed, func(n float64) string { return fmt.Sprintf("%.0f rpm", 60*n) },
			func(p *flight.StandPoint) float64 { return p.Speed })
	case s.thrusts != nil:
		force := func(m float64) (flight.StandPoint, bool) { return r.AtThrust(m * flight.Gravity) }
		return out, add("thrust", s.thrusts, force, func(m float64) string { return fmt.Sprintf("%.4g g", 1e3*m) },
			func(p *flight.StandPoint) float64 { return p.Thrust / flight.Gravity })
	}
	return out, add("throttle", s.throttles, r.AtDuty, func(d float64) string { return fmt.Sprintf("%.4g %%", 100*d) },
		func(p *flight.StandPoint) float64 { return p.Duty })
}

// unreached says how much of a value is attained at most, or at least.
func unreached(r *bench.Rig, name string, text func(float64) string, of func(*flight.StandPoint) float64,
	v float64) error {
	top, by := r.Top()
	if least, _ := r.Speeds(); v < of(&top) {
		if p, ok := r.AtSpeed(least); ok && v < of(&p) {
			return fmt.Errorf("--%s: %s is below %s, the least that the rotor model covers", name, text(v),
				text(of(&p)))
		}
	}
	if by != flight.ByDuty {
		by = "the " + by
	}
	return fmt.Errorf("--%s: %s is above %s, the most that is reached, bounded by %s", name, text(v), text(of(&top)),
		by)
}
