package model

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
)

// AssumptionDef defines one quantity that is held fixed while designs vary. Its default, the
// check of New, its flag and its row in every output follow from it.
type AssumptionDef struct {
	Name    string // of its flag and in records
	Title   string
	Meaning string // beside its value
	Help    string // of its flag
	Example string // of a value, where metrics ask for one
	Group   AssumptionGroup
	Below   string // name of the assumption whose row its own follows; "" for the one before it here
	Form    AssumptionForm
	Varies  bool // it is of a flight, not of the craft: scenarios of one study may differ in it
}

// AssumptionGroup says what an assumption is about.
type AssumptionGroup int

// What assumptions are about.
const (
	AboutCraft AssumptionGroup = iota // its parts, and how it is flown
	AboutPlace                        // the air that it is flown in
	AboutMerit                        // what designs are compared with
)

// AssumptionForm is what an assumption may be: a *Quantity, a *Choice, a *Switch or a
// *Liking.
type AssumptionForm interface {
	// Stands says whether the assumption has the same value in both.
	Stands(a, b *Assumptions) bool

	stated(*Assumptions) bool // false where it stands for nothing
	preset(*Assumptions)
	check(*Assumptions) error // says what is wrong with a value, not whose it is
	take(to, from *Assumptions)
}

// Quantity is the form of an assumption with a unit.
type Quantity struct {
	Kind   *unit.Kind // its default unit is that of a bare number
	Shown  string     // symbol of the unit in which it is shown
	Bound  Bound      // SI
	Preset float64    // default, SI
	At     func(*Assumptions) *float64

	Word  string               // stands for 0, which the bound need not hold; "" for none
	Known func(*Model) float64 // what the model takes for the word; nil where it says that nothing is stated
	Whose string               // whose value that is, after the meaning
}

// Unit is the one in which the quantity is shown.
func (q *Quantity) Unit() unit.Unit { return q.Kind.Unit(q.Shown) }

// Text is the default as a flag takes it.
func (q *Quantity) Text() string {
	if q.Word != "" && q.Preset == 0 {
		return q.Word
	}
	return q.Unit().Number(q.Preset, 15) + q.Shown
}

// Stands implements AssumptionForm.
func (q *Quantity) Stands(a, b *Assumptions) bool { return *q.At(a) == *q.At(b) }

func (q *Quantity) stated(a *Assumptions) bool {
	return q.Word == "" || q.Known != nil || *q.At(a) != 0
}

func (q *Quantity) preset(a *Assumptions) { *q.At(a) = q.Preset }

func (q *Quantity) take(to, from *Assumptions) { *q.At(to) = *q.At(from) }

func (q *Quantity) check(a *Assumptions) error {
	v := *q.At(a)
	if q.Bound.Contains(v) || q.Word != "" && v == 0 {
		return nil
	}
	u := q.Unit()
	return fmt.Errorf("%s is outside %s to %s", u.Format(v, 6), u.Number(q.Bound.Min, 6), u.Format(q.Bound.Max, 6))
}

// Choice is the form of an assumption that is one of a few; the first is the default.
type Choice struct {
	Item    string // what is chosen, in a word
	Options []string
	Meaning func(*Assumptions) string // of what is chosen, in place of the assumption's; nil where that says it
	Of      func(*Assumptions) string // "" for none of the options
	Set     func(*Assumptions, string)
}

// choice makes a Choice of values by their names.
func choice[T comparable](item string, at func(*Assumptions) *T, name func(T) string, options ...T) *Choice {
	c := &Choice{Item: item}
	for _, o := range options {
		c.Options = append(c.Options, name(o))
	}
	c.Of = func(a *Assumptions) string {
		if n := slices.Index(options, *at(a)); n >= 0 {
			return c.Options[n]
		}
		return ""
	}
	c.Set = func(a *Assumptions, word string) {
		if n := slices.Index(c.Options, word); n >= 0 {
			*at(a) = options[n]
		}
	}
	return c
}

// Stands implements AssumptionForm.
func (c *Choice) Stands(a, b *Assumptions) bool { return c.Of(a) == c.Of(b) }

func (c *Choice) stated(a *Assumptions) bool { return c.Of(a) != "" }

func (c *Choice) preset(a *Assumptions) { c.Set(a, c.Options[0]) }

func (c *Choice) take(to, from *Assumptions) { c.Set(to, c.Of(from)) }

func (c *Choice) check(a *Assumptions) error {
	if c.Of(a) == "" {
		return fmt.Errorf("none is given, want one of %s", strings.Join(c.Options, ", "))
	}
	return nil
}

// Switch is the form of an assumption that holds or does not; by default it does not.
type Switch struct {
	At func(*Assumptions) *bool
}

// Stands implements AssumptionForm.
func (s *Switch) Stands(a, b *Assumptions) bool { return *s.At(a) == *s.At(b) }

func (s *Switch) stated(*Assumptions) bool { return true }

func (s *Switch) preset(a *Assumptions) { *s.At(a) = false }

func (s *Switch) take(to, from *Assumptions) { *s.At(to) = *s.At(from) }

func (s *Switch) check(*Assumptions) error { return nil }

// Liking is the form of the craft that others are to feel like; by default there is none.
type Liking struct {
	At func(*Assumptions) *Reference
}

// Stands implements AssumptionForm.
func (l *Liking) Stands(a, b *Assumptions) bool { return *l.At(a) == *l.At(b) }

func (l *Liking) stated(a *Assumptions) bool { return *l.At(a) != Reference{} }

func (l *Liking) preset(a *Assumptions) { *l.At(a) = Reference{} }

func (l *Liking) take(to, from *Assumptions) { *l.At(to) = *l.At(from) }

func (l *Liking) check(*Assumptions) error { return nil }

// LookupAssumption finds an assumption by its name.
func LookupAssumption(name string) (*AssumptionDef, bool) {
	if n := assumptionAt(AssumptionDefs, name); n >= 0 {
		return AssumptionDefs[n], true
	}
	return nil, false
}

func assumptionAt(defs []*AssumptionDef, name string) int {
	return slices.IndexFunc(defs, func(d *AssumptionDef) bool { return d.Name == name })
}

// AssumptionRows lists the assumptions in the order of outputs: near what they go with,
// where flags are sorted by how often they are given.
func AssumptionRows() []*AssumptionDef {
	var rows []*AssumptionDef
	at := 0
	for _, d := range AssumptionDefs {
		if d.Below != "" {
			at = assumptionAt(rows, d.Below) + 1
		}
		rows = slices.Insert(rows, at, d)
		at++
	}
	return rows
}

// UsualPackLoad is the pack current at full throttle, over the burst limit, of craft for
// freestyle and racing: full throttle lasts for seconds (common practice).
const UsualPackLoad = 1.6

// Defaults are fair for a camera-carrying quad with a warm pack (common
// practice).
func Defaults() Assumptions {
	a := Assumptions{PackLoad: UsualPackLoad}
	for _, d := range AssumptionDefs {
		d.Form.preset(&a)
	}
	return a
}

// check returns an error where an assumption lies outside its accepted range.
func (a *Assumptions) check() error {
	for _, d := range AssumptionDefs {
		if err := d.Form.check(a); err != nil {
			return fmt.Errorf("%s: %w", strings.ToLower(d.Title), err)
		}
	}
	if !(a.PackLoad >= 0) || math.IsNaN(a.CellMargin) {
		return fmt.Errorf("level flight to %g of the burst current and %g V above the floor, want at least 0 of the "+
			"first",
			a.PackLoad, a.CellMargin)
	}
	return nil
}

func gradeName(g *pack.Grade) string { return g.Name }

// gradeChoice is that of the cells, each of which has its meaning.
func gradeChoice() *Choice {
	c := choice("grade", func(a *Assumptions) **pack.Grade { return &a.PackGrade }, gradeName, pack.Grades...)
	c.Meaning = func(a *Assumptions) string { return a.PackGrade.Meaning }
	return c
}

// gradeNames lists the grades, with the capacity of a cell where cells are sold in one.
func gradeNames() string {
	var names []string
	for _, g := range pack.Grades {
		name := g.Name
		if q := g.CellCharge(); q > 0 {
			name += " (" + unit.Charge.Text(q) + ")"
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

// boardChoice is that of the speed controllers' board.
func boardChoice() *Choice {
	return choice("board", func(a *Assumptions) *motor.Board { return &a.Board }, motor.Board.String,
		motor.Separate, motor.Joined)
}

// buildChoice is that of how the mass of the frame is found.
func buildChoice() *Choice {
	return choice("build", func(a *Assumptions) *frame.Build { return &a.FrameBuild }, frame.Build.String,
		frame.ByRegression, frame.ByBeam)
}
