package rotor

// Parameters are the constants of propellers known by their label whose spread is known;
// Basis says more of each. What a blade errs by besides is a Correction.
type Parameters struct {
	Chord      float64 // over radius at 75 % radius, of chordDiameter and two blades
	ChordMore  float64 // factor on it for more than two blades
	PitchSmall float64 // exponent of the pitch over that of the label, below smallDiameter
	PitchMore  float64 // factor on it for more than two blades
}

// Nominal are the parameters as they are best known.
func Nominal() Parameters {
	return Parameters{Chord: 0.157, ChordMore: 0.76, PitchSmall: 0.08, PitchMore: 1.03}
}

// nominalSet is never written to.
var nominalSet = Nominal()

// Generic, DefaultChord and TruePitch are those of the nominal parameters.
func Generic(diameter, pitch float64, blades int, chord float64) (Blade, error) {
	return nominalSet.Generic(diameter, pitch, blades, chord)
}

// DefaultChord is described with Generic.
func DefaultChord(diameter float64, blades int) float64 {
	return nominalSet.DefaultChord(diameter, blades)
}

// TruePitch is described with Generic.
func TruePitch(diameter, pitch float64, blades int) float64 {
	return nominalSet.TruePitch(diameter, pitch, blades)
}
