package rotor

import (
	"fmt"
	"slices"
)

// Stations are what a blade follows from: r/R, rising, with chord over radius and the pitch
// angle in radians at each.
type Stations struct{ X, Chord, Pitch []float64 }

// Stations gives those of the blade.
func (b Blade) Stations() Stations {
	n := len(b.shape.stations) / 3
	s := slices.Clone(b.shape.stations)
	return Stations{X: s[:n:n], Chord: s[n : 2*n : 2*n], Pitch: s[2*n:]}
}

// BladeOf makes a blade of the stations of one, to the last bit. It errs where ReadBlade would
// refuse them, and wants angles of -30 to 90 degrees.
func BladeOf(s Stations) (Blade, error) {
	n := len(s.X)
	if n < 4 || n > maxStations || len(s.Chord) != n || len(s.Pitch) != n {
		return Blade{}, fmt.Errorf("rotor: %d, %d and %d numbers of stations: want as many of each, 4 to %d", n,
			len(s.Chord), len(s.Pitch), maxStations)
	}
	for i, x := range s.X {
		rises := i == 0 && x >= 0 && x <= 0.25 || i > 0 && x > s.X[i-1] && x <= 1
		beta := s.Pitch[i] / deg
		if !rises || !(s.Chord[i] > 0 && s.Chord[i] <= 1) || !(beta >= -30-rounded && beta <= 90+rounded) {
			return Blade{}, fmt.Errorf("rotor: station %d of r/R %g, c/R %g and %g°: want r/R to rise from 0.25 or "+
				"less, c/R up to 1, -30 to 90°", i+1, x, s.Chord[i], beta)
		}
	}
	if last := s.X[n-1]; last < 0.95 {
		return Blade{}, fmt.Errorf("rotor: the last station is at r/R %g: want it at 0.95 or more", last)
	}
	return newBlade(s.X, s.Chord, s.Pitch)
}

// GenericOf is BladeOf for those of the generic blade of a propeller, which errs as that does; see
// Generic for the rest.
func GenericOf(s Stations, diameter float64, blades int, chordKnown bool) (Blade, error) {
	b, err := BladeOf(s)
	if err != nil {
		return Blade{}, err
	}
	b.shape.prior = genericPrior(diameter, blades, chordKnown)
	return b, nil
}

// Check errs where no rotor is of the geometry.
func (g Geometry) Check() error { return g.check() }
