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
