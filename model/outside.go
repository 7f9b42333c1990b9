package model

import "rotorsieve/model/rotor"

// Outside lists what of a rotor's state lies outside the validity of the model, at an
// advance ratio J and n rev/s, with a thrust coefficient CT.
func Outside(s *rotor.Solver, J, n, CT float64) (what []StateMark) {
	add := func(of Subject) { what = append(what, StateMark{Of: of}) }
	if !ValidDiameter.Contains(s.Geometry().Diameter) {
		add(OfDiameter)
	}
	if !ValidTemperature.Contains(s.Air().Temperature) {
		add(OfAir)
	}
	if s.TipMach(n) > ValidTipMach {
		add(OfTipMach)
	}
	if s.Reynolds(n) < ValidReynolds {
		add(OfReynolds)
	}
	if J < 0 || CT <= 0 { // propellers are measured in forward flight, up to zero thrust
		add(OfAdvance)
	}
	return what
}

// Told is what is known of a propeller itself, besides what was measured at its size.
type Told struct {
	Blade    bool            // its blade is given, or measured to at least LeastShare
	Specimen *rotor.Specimen // its measurements; nil for none
}

// Beyond lists what of a rotor's state at n rev/s lies beyond what was measured at its
// size but within the limits of Outside.
func Beyond(s *rotor.Solver, n float64, told Told) (what []StateMark) {
	add := func(of Subject) { what = append(what, StateMark{Of: of, Beyond: true}) }
	g := s.Geometry()
	if !told.Blade && BladesBeyond(g.Diameter, g.Blades) != NoBladeGap {
		add(OfBlades)
	}
	band := BandOf(g.Diameter)
	if mach := s.TipMach(n); mach > band.TipMach() {
		if mach > MeasuredTipMach(g.Diameter, told.Specimen) && mach <= ValidTipMach {
			add(OfTipMach)
		}
		return what // the Reynolds number goes with the speed, as tip Mach does
	}
	if re := s.Reynolds(n); re >= ValidReynolds && !band.Reynolds.Contains(re) {
		add(OfReynolds)
	}
	return what
}
