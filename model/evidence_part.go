package model

import (
	"fmt"
	"math"
	"slices"

	"rotorsieve/model/basis"
	"rotorsieve/model/frame"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
)

// How the errors of the model at two frames, or at two packs of one grade, are correlated,
// chosen here: most of the variance all have in common, as the law of a trade that builds
// them alike; the rest is of the size's own. The shares leave 8 % of a frame's 20 % to its
// size, and of a pack's 6 % in mass 3 %, of its 20 % in resistance 8 %, of its 20 % in
// current 10 % to its capacity. Cells in series do not matter. Grades say nothing of each
// other.
const (
	frameShare          = 0.84
	frameLength         = 0.3 // of ln D
	packMassShare       = 0.75
	packResistanceShare = 0.84
	packLimitShare      = 0.75
	packLength          = 0.15 // of ln C
)

// limitSpread is the standard deviation of the logarithm of the current that a pack gives
// over that of the model (common practice).
const limitSpread = 0.20

// packOf is a quantity of packs of a grade.
type packOf struct {
	quantity *record.Quantity
	grade    *pack.Grade
}

// sizes is a field over one size: the diameter of frames, the capacity of packs.
type sizes = scalarField[float64]

// newSizes is a field of which nothing was measured, with a length over the logarithm.
func newSizes(spread, common, length float64) *sizes {
	return &sizes{spread: spread, common: common,
		near: func(a, b float64) float64 { return bell(math.Log(a/b) / length) }}
}

// newFrameField is that of the masses of frames.
func newFrameField() *sizes {
	return newSizes(basis.Find(frame.Basis(), "frame scale").Sigma, frameShare, frameLength)
}

// newPackField is that of a quantity of packs.
func newPackField(of packOf) *sizes {
	sigma := func(symbol string) float64 { return basis.Find(pack.Basis(), of.grade.Name+symbol).Sigma }
	switch of.quantity {
	case record.PackMass:
		return newSizes(sigma(" mass"), packMassShare, packLength)
	case record.PackResistance:
		return newSizes(sigma(cellSymbol(of.grade)), packResistanceShare, packLength)
	}
	return newSizes(limitSpread, packLimitShare, packLength)
}

// cellSymbol is the end of the symbol of the constant of a cell's resistance.
func cellSymbol(g *pack.Grade) string {
	if g.CellCharge() > 0 {
		return " R"
	}
	return " R C"
}

// packQuantities are those that are measured of a pack.
var packQuantities = [...]*record.Quantity{record.PackMass, record.PackResistance, record.CurrentLimit}

// sizeFields adds the records of frames and packs.
func (e *Evidence) sizeFields(a *Assumptions, records []record.Record) error {
	e.packs = map[packOf]*sizes{}
	for i := range records {
		r := &records[i]
		var err error
		switch r.Subject.Kind {
		case record.Frame:
			err = e.addFrame(a, r)
		case record.Pack:
			err = e.addPack(a, r)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", r.Place, err)
		}
	}
	for _, f := range e.sizes() {
		if err := f.condition(); err != nil {
			return err
		}
	}
	return nil
}

// sizes are the fields of frames and packs of which something was measured, in a fixed
// order.
func (e *Evidence) sizes() (all []*sizes) {
	if e.frames != nil {
		all = append(all, e.frames)
	}
	for _, of := range packsOf() {
		if f := e.packs[of]; f != nil {
			all = append(all, f)
		}
	}
	return all
}

// packsOf are all quantities of all grades.
func packsOf() (all []packOf) {
	for _, g := range pack.Grades {
		for _, q := range packQuantities {
			all = append(all, packOf{q, g})
		}
	}
	return all
}

// addFrame takes in the mass of a frame, over that of the frames of the study.
func (e *Evidence) addFrame(a *Assumptions, r *record.Record) error {
	if a.FrameBuild == frame.ByBeam {
		return fmt.Errorf("the mass of a frame says nothing of frames whose arms are sized for the craft; " +
			"want no frame, or frames by regression")
	}
	if e.frames == nil {
		e.frames = newFrameField()
	}
	law := frame.Nominal()
	D := r.Subject.Diameter
	s := seenPart[float64]{part: D, ln: math.Log(r.Value / law.Mass(D, a.FrameFactor)), sigma: r.Relative(),
		key: r.Subject.Key(), place: r.Place}
	if tooFar(s.ln, s.sigma, e.frames.spread) {
		return fmt.Errorf("frame %s: %.3g g are %.3g times those of the model with a frame factor of %.3g, known to "+
			"±%.0f %%: want plates and arms alone, and the factor of such frames", s.key, r.Value*grams, math.Exp(s.ln),
			a.FrameFactor, 100*e.frames.spread)
	}
	return e.frames.add(s, record.Frame, r.Quantity.Name)
}

// addPack takes in what was measured of a pack.
func (e *Evidence) addPack(a *Assumptions, r *record.Record) error {
	k, g, err := packMeasured(a, &r.Subject)
	if err != nil {
		return err
	}
	of := packOf{r.Quantity, g}
	f := e.packs[of]
	if f == nil {
		f = newPackField(of)
		e.packs[of] = f
	}
	law := k.Mass
	switch r.Quantity {
	case record.PackResistance:
		law = k.R
	case record.CurrentLimit:
		law = k.BurstLimit()
	}
	s := seenPart[float64]{part: k.Capacity, ln: math.Log(r.Value / law), sigma: r.Relative(),
		key: packKey(&r.Subject, g), cells: k.Cells, place: r.Place}
	if tooFar(s.ln, s.sigma, f.spread) {
		return fmt.Errorf("pack %s: the %s asks for %.3g times that of the model, which is known to ±%.0f %%: want it "+
			"of the whole pack, at 25 degC, and the true grade", s.key, r.Quantity.Name, math.Exp(s.ln), 100*f.spread)
	}
	return f.add(s, record.Pack, r.Quantity.Name)
}

// packMeasured is the pack of a record as the model has it, new and at 25 degC, with its
// grade, which is the study's where none is stated.
func packMeasured(a *Assumptions, s *record.Subject) (k pack.Pack, g *pack.Grade, err error) {
	if g = a.PackGrade; s.Grade != "" {
		if g, err = pack.ParseGrade(s.Grade); err != nil {
			return k, nil, err
		}
	}
	law := pack.Nominal()
	const warm = 298.15 // K
	k, err = law.New(g, s.Cells, s.Capacity, pack.Condition{Temperature: warm})
	return k, g, err
}

// packKey is that of a record with the grade stated.
func packKey(s *record.Subject, g *pack.Grade) string {
	stated := *s
	stated.Kind, stated.Grade = record.Pack, g.Name
	return stated.Key()
}

// Frame is what the measurements say of the mass of the frame of a diameter in m.
func (e *Evidence) Frame(diameter float64) Factor {
	if e == nil || e.frames == nil {
		return Factor{Value: 1}
	}
	return e.frames.at(diameter)
}

// packField is the field of a quantity of packs, of which nothing may be measured.
func (e *Evidence) packField(of packOf) *sizes {
	if e != nil && e.packs[of] != nil {
		return e.packs[of]
	}
	return newPackField(of)
}

// PackFit is what measurements say of a pack: factors on the model.
type PackFit struct{ Mass, Resistance, Limit Factor }

// Pack is what the measurements say of the pack of a grade and a capacity in A s.
func (e *Evidence) Pack(g *pack.Grade, capacity float64) PackFit {
	at := func(q *record.Quantity) Factor {
		if e == nil || e.packs[packOf{q, g}] == nil {
			return Factor{Value: 1}
		}
		return e.packs[packOf{q, g}].at(capacity)
	}
	return PackFit{Mass: at(record.PackMass), Resistance: at(record.PackResistance), Limit: at(record.CurrentLimit)}
}

// String says what is corrected and by how much, as that of a MotorFit.
func (f PackFit) String() string {
	return corrected(f.Mass.told("mass"), f.Resistance.told("resistance"), f.Limit.told("current"))
}

// scaled is the pack of a grade with the factors put on.
func (f *PackFit) scaled(k pack.Pack) pack.Pack {
	k.Mass *= f.Mass.Value
	k.R *= f.Resistance.Value
	k.Limit *= f.Limit.Value
	return k
}

// learntOfSizes gives a line for each frame and each quantity of a pack that was measured.
func (e *Evidence) learntOfSizes() (lines []string) {
	add := func(f *sizes, kind, name string) {
		for i := range f.seen {
			s := &f.seen[i]
			v := f.at(s.part)
			line := fmt.Sprintf("%s %s: %s %s that of the model, ±%.2g %%, was ±%.2g %%", kind, s.key, name,
				times(v.Value), 100*v.After, 100*v.Before)
			if !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
	}
	if e.frames != nil {
		add(e.frames, record.Frame, record.FrameMass.Name)
	}
	for _, of := range packsOf() {
		if f := e.packs[of]; f != nil {
			add(f, record.Pack, of.quantity.Name)
		}
	}
	return lines
}
