package model

import "rotorsieve/model/rotor"

// Outside names what of a rotor's state lies outside the validity of the model, at an
// advance ratio J and n rev/s where it has a thrust coefficient CT.
func Outside(s *rotor.Solver, J, n, CT float64) (what []string) {
	if !ValidDiameter.Holds(s.Geometry().Diameter) {
		what = append(what, "diameter")
	}
	if !ValidTemperature.Holds(s.Air().Temperature) {
		what = append(what, "temperature")
	}
	if s.TipMach(n) > ValidTipMach {
		what = append(what, "tip Mach")
	}
	if s.Reynolds(n) < ValidReynolds {
		what = append(what, "Re")
	}
	if J < 0 || CT <= 0 { // propellers are measured in forward flight, up to zero thrust
		what = append(what, "J")
	}
	return what
}

// Told is what is known of a propeller itself, beside what was measured at its size.
type Told struct {
	Blade    bool            // its blade is its own, or measurements tell enough of it: LeastShare
	Specimen *rotor.Specimen // its measurements; nil for none
}

// Beyond names what of a rotor's state at n rev/s lies beyond what was measured at its
// size, and within the limits that Outside names.
func Beyond(s *rotor.Solver, n float64, told Told) (what []string) {
	g := s.Geometry()
	if !told.Blade && BladesBeyond(g.Diameter, g.Blades) != "" {
		what = append(what, "blades beyond measurements")
	}
	band := BandOf(g.Diameter)
	if mach := s.TipMach(n); mach > band.TipMach() {
		if mach > MeasuredTipMach(g.Diameter, told.Specimen) && mach <= ValidTipMach {
			what = append(what, "tip Mach beyond measurements")
		}
		return what // the Reynolds number goes with the speed, as tip Mach does
	}
	if re := s.Reynolds(n); re >= ValidReynolds && !band.Reynolds.Holds(re) {
		what = append(what, "Re beyond measurements")
	}
	return what
}
