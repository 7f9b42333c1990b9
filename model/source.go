package model

import (
	"math"
	"slices"
	"strings"

	"rotorsieve/model/basis"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// Source is one thing that the model may err by: a parameter, or a field of errors over
// parts. Its errors are log-normal unless Distribution says otherwise.
type Source struct {
	Name         string // symbol of the parameter, or of the field
	Meaning      string // one line
	Unit         string // of Sigma where the distribution is normal
	Sigma        float64
	Distribution basis.Distribution
	Reach        basis.Reach
	From         string // source of the spread, as of a constant

	at    []int // of ParameterTable: the parameter and those that share its error
	field int   // place in errorFields, from 1; 0 for a parameter
}

// byField are the parameters whose errors a field of errors holds, so that they are not
// drawn besides.
var byField = []string{
	"c75/R", "k_cB", "n_P", "k_PB", // what a blade errs by
	"Km scale", "motor mass scale", "T0 static", "KV under load", "c", "f stand",
	"propeller square", "pack overhead", "G",
}

// looked are parameters that say what is sold, not how it flies: whoever orders a part has
// its label before any draw, which so is the same in all of them.
var looked = []string{"V_w scale"}

// inWords are the meanings of parameters whose own, beside a formula in Basis, say less alone.
var inWords = map[string]string{
	"p0": "pressure of the air, by the weather",
	"V_w scale": "rim speed of the fastest windings that are sold, which is looked up before one is ordered: " +
		"not drawn",
	"Q/V_s burst":       "torque that stators give for seconds",
	"x":                 "reactance of windings",
	"controller drop":   "conduction drop of controllers",
	"leads drop":        "drop of the motors' leads and joints",
	"controller edge":   "switching loss of controllers",
	"controller idle":   "power of the controllers' logic",
	"controller board":  "mass of four-in-one boards",
	"controller joined": "mass of controllers on a board with the flight controller",
	"R joint":           "resistance of a pack's joints",
	"R lead":            "resistance of a pack's leads",
	"I limit factor":    "continuous current of all packs",
	"cell mass":         "mass of cells",
	"cell R C":          "resistance of cells",
	"cell R":            "resistance of cells",
	"frame scale":       "mass of all frames",
	"rho arm":           "density of arms",
	"E arm":             "stiffness of arms",
	"sigma arm":         "strength of arms",
	"arm width":         "width of arms",
	"hardware fixed":    "mass of strap, screws and standoffs",
	"micro frame":       "how much lighter frames of 2 in are than the law",
	"micro hardware":    "how much lighter hardware of 2 in is than the law",
	"body drag":         "drag area of crafts",
	"broadside":         "drag area seen from above over that of a level body",
	"body length":       "length of the body over its width",
	"body density":      "density of the body, for the moment of inertia",
	"k blade":           "moment of inertia of propellers",
}

// sources lists what may err, parameters first, for a study of one grade of packs. Places
// are the same for all grades.
func (m *Model) sources() []Source {
	var all []Source
	place := map[string]int{}
	grade := m.Assume.PackGrade.Name + " "
	for i := range ParameterTable {
		e := &ParameterTable[i]
		name, meaning := e.Symbol, e.Meaning
		if n := gradeOf(e); n != "" {
			if n != grade {
				continue
			}
			name = "cell " + strings.TrimPrefix(name, grade)
		}
		if slices.Contains(byField, name) || slices.Contains(byField, e.With) {
			continue
		}
		if at, ok := place[e.With]; ok && e.With != "" {
			all[at].at = append(all[at].at, i)
			continue
		}
		if m, ok := inWords[name]; ok {
			meaning = m
		}
		place[e.Symbol] = len(all)
		s := Source{Name: name, Meaning: meaning, Unit: e.Unit, Sigma: e.Sigma,
			Distribution: e.Distribution, Reach: basis.All, From: e.Source, at: []int{i}}
		if slices.Contains(looked, name) { // it keeps its number in a draw, so that others keep theirs
			s.Sigma, s.at = 0, nil
		}
		all = append(all, s)
	}
	for i := range errorFields {
		f := &errorFields[i]
		s := Source{Name: f.name, Meaning: f.meaning, Sigma: f.spread(), Reach: f.reach, From: f.from, field: i + 1}
		if i == bladePitch { // an angle
			s.Unit, s.Distribution, s.Sigma = "deg", basis.Normal, s.Sigma*180/math.Pi
		}
		all = append(all, s)
	}
	return all
}

// gradeOf is the name of the grade of packs that a parameter is of, with a space; "" for
// none.
func gradeOf(e *basis.Entry[Parameters]) string {
	for _, g := range pack.Grades {
		if strings.HasPrefix(e.Symbol, g.Name+" ") {
			return g.Name + " "
		}
	}
	return ""
}

// Sources lists what the model may err by, parameters first.
func (m *Model) Sources() []Source { return m.sources() }

// errorField is a field of errors over parts.
type errorField struct {
	name, meaning string
	spread        func() float64
	reach         basis.Reach
	from          string
}

// Places in errorFields.
const (
	bladePitch = iota
	bladeDrag
	bladeChord
	motorKVError
	motorResistance
	motorLoss
	motorChopping
	motorMassError
	motorCooling
	propellerMass
	frameMass
	packMass
	packResistance
	packLimit
	fieldCount
)

// errorFields are the errors that parts near each other share, the more the nearer.
var errorFields = [fieldCount]errorField{
	bladePitch: {"blade pitch", "pitch angle of propellers over that of the generic blade",
		bladeSpread(0), basis.Family, calibrated},
	bladeDrag: {"blade drag", "section drag of propellers over that of the generic blade",
		bladeSpread(1), basis.Family, calibrated},
	bladeChord: {"blade chord", "chord of propellers of two blades over that of the generic blade",
		bladeSpread(2), basis.Family, calibrated},
	motorKVError: {"motor KV", "speed constant under load over that of the model",
		spreadOf(record.KV), basis.Family, regressed},
	motorResistance: {"motor resistance", "resistance of windings", spreadOf(record.Resistance), basis.Family,
		regressed},
	motorLoss: {"motor loss", "loss torque of motors", spreadOf(record.Loss), basis.Family, regressed},
	motorChopping: {"motor chopping", "loss of motors to pulses below full duty", spreadOf(record.Chopping),
		basis.Family,
		regressed},
	motorMassError: {"motor mass", "mass of motors", spreadOf(record.Mass), basis.Family, regressed},
	motorCooling: {"motor cooling", "heat that motors pass to the air", spreadOf(record.Cooling), basis.Family,
		regressed},
	propellerMass: {"propeller mass", "mass of propellers", parameterSpread("propeller square"), basis.Part, trade},
	frameMass: {"frame mass", "mass of frames of one size, besides the frame scale",
		constant(ownSpread(newFrameField())), basis.Part, chosenHere},
	packMass: {"pack mass", "mass of packs of one size, besides the cells'",
		parameterSpread("pack overhead"), basis.Part, trade},
	packResistance: {"pack resistance", "resistance of packs of one size, besides the cells'",
		constant(ownPackSpread(record.PackResistance)), basis.Part, chosenHere},
	packLimit: {"pack current limit", "current that packs of one size give, besides all",
		constant(ownPackSpread(record.CurrentLimit)), basis.Part, chosenHere},
}

const (
	calibrated = "the prior of a calibration, see what is known of blades"
	regressed  = "spreads of the regressions, see what is measured of a motor"
	chosenHere = "chosen here"
)

// ownSpread is what parts err by on their own, besides what all of their kind do.
func ownSpread(f *sizes) float64 { return f.spread * math.Sqrt(1-f.common) }

func ownPackSpread(q *record.Quantity) float64 {
	return ownSpread(newPackField(packOf{q, pack.Grades[0]}))
}

func bladeSpread(k int) func() float64  { return func() float64 { return rotor.GenericSpreads()[k] } }
func constant(v float64) func() float64 { return func() float64 { return v } }
func spreadOf(q *record.Quantity) func() float64 {
	return func() float64 { return motorSpread[q] }
}

func parameterSpread(symbol string) func() float64 {
	return func() float64 {
		for i := range ParameterTable {
			if ParameterTable[i].Symbol == symbol {
				return ParameterTable[i].Sigma
			}
		}
		return math.NaN()
	}
}
