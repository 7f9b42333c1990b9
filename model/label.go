package model

import (
	"fmt"
	"sync"

	"rotorsieve/model/basis"
	"rotorsieve/model/formula"
	"rotorsieve/model/rotor"
)

// What of a blade follows from the label of its propeller. The formulas are written as
// those of crafts are, about a design.

// labelNotation is what they are written in.
var labelNotation = sync.OnceValue(func() *formula.Notation[Design] {
	type symbol = formula.Symbol[Design]
	value := func(name string) func(Design) float64 { return func(Design) float64 { return Constant(name).Value } }
	return formula.New(
		symbol{Name: "D", Of: func(d Design) float64 { return d.Diameter }, Per: perInch},
		symbol{Name: "P", Of: func(d Design) float64 { return d.Pitch }, Per: perInch},
		symbol{Name: "c75/R", Of: value("c75/R")},
		symbol{Name: "D_c", Of: func(Design) float64 { return Constant("D_c").Value / perInch }, Per: perInch},
		symbol{Name: "n_c", Of: func(d Design) float64 { return d.chordExponent().Value }},
		symbol{Name: "k_cB", Of: value("k_cB")},
		symbol{Name: "D_small", Of: func(Design) float64 { return Constant("D_small").Value / perInch }, Per: perInch},
		symbol{Name: "n_P", Of: value("n_P")},
		symbol{Name: "k_PB", Of: value("k_PB")},
	)
})

func (d Design) put(text string) string {
	f, err := labelNotation().Parse(text)
	if err != nil {
		panic(err)
	}
	return f.Put("", d)
}

// BladeChord is the chord of the blades at 75 % of the radius over the radius: the one
// given, or the usual one of the diameter.
func (d Design) BladeChord() float64 {
	if d.Chord == 0 {
		return rotor.DefaultChord(d.Diameter, d.Blades)
	}
	return d.Chord
}

// ChordOrigin is where BladeChord comes from: the formula of the usual chord with its
// values put in, "" where the chord is given, and its source.
func (d Design) ChordOrigin() (worked, source string) {
	if d.Chord != 0 {
		return "", GivenSource
	}
	text, source := "c75/R (D/D_c)^n_c", sourced("c75/R")
	if s := d.chordExponent().Source; s != Constant("c75/R").Source {
		source += "; " + s
	}
	if d.Blades > 2 {
		text, source = text+" k_cB", source+"; "+sourced("k_cB")
	}
	return d.put(text), source
}

// chordExponent is that of the usual chord with the diameter.
func (d Design) chordExponent() basis.Constant {
	if d.small() {
		return Constant("n_c small")
	}
	return Constant("n_c")
}

// small says whether the propeller is one of those for which chord and pitch have another
// law.
func (d Design) small() bool { return d.Diameter*perInch < Constant("D_small").Value }

// BladePitch is the pitch in m that the blades have: that of the label where the chord
// is given, else what is usual of such labels.
func (d Design) BladePitch() float64 {
	if d.Chord == 0 {
		return rotor.TruePitch(d.Diameter, d.Pitch, d.Blades)
	}
	return d.Pitch
}

// PitchOrigin is where BladePitch comes from: the formula, the same with its values put
// in, which comes to the pitch in inches, and its source.
func (d Design) PitchOrigin() (text, worked, source string) {
	if d.Chord != 0 {
		return "that of the label, as the chord is given", d.put("P"), GivenSource
	}
	below, with, more := Constant("D_small").Value, Constant("n_P").Value, Constant("k_PB").Value
	text = fmt.Sprintf("of the label, (D/%g in)^%g of it below %g in, and %g of it with more than two blades",
		below, with, below, more)
	law, source := "P", Constant("n_P").Source
	if d.small() {
		law += " (D/D_small)^n_P"
	}
	if d.Blades > 2 {
		law, source = law+" k_PB", source+"; "+Constant("k_PB").Source
	}
	return text, d.put(law), source + "; 8 % (1 sigma)"
}
