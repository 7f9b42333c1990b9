package model

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
)

// MassPart is one part of the all-up weight of a craft.
type MassPart struct {
	Title string

	symbol  string // among the symbols, of the part's mass
	of      func(*Masses) float64
	formula func(*Craft) (f Formula, source string)
}

// Where numbers that are not computed come from.
const (
	GivenSource   = "the design, as given"
	AssumedSource = "the assumptions, as given or by default"
)

// MassParts is the one registry of what a craft weighs: all parts, in the order of
// tables.
var MassParts = []*MassPart{
	{Title: "Frame", symbol: "m_frame", of: func(m *Masses) float64 { return m.Frame },
		formula: (*Craft).frameFormula},
	{Title: "Hardware", symbol: "m_hardware", of: func(m *Masses) float64 { return m.Hardware },
		formula: (*Craft).hardwareFormula},
	{Title: "Propellers", symbol: "m_propellers", of: func(m *Masses) float64 { return m.Propellers },
		formula: func(c *Craft) (Formula, string) {
			if p := c.Powertrain.Parts.Propeller; p != nil && p.Mass.Known {
				return asStated()
			}
			return symbols("4 (square D_in^2 + linear D_in) (1 + blade (B - 2))"), Constant("propeller square").Source
		}},
	{Title: "Motors", symbol: "m_motors", of: func(m *Masses) float64 { return m.Motors },
		formula: func(c *Craft) (Formula, string) {
			if p := c.Powertrain.Parts.Motor; p != nil && p.Mass.Known {
				return asStated()
			}
			return symbols(`"four of" m{motor} = ` + motorLaw + `, "stator in mm"`).solved("4 m{law}"),
				Constant("motor mass scale").Source
		}},
	{Title: "Speed controller", symbol: "m_ctl", of: func(m *Masses) float64 { return m.Controller },
		formula: func(c *Craft) (Formula, string) {
			if p := c.Powertrain.Parts.Board; p != nil && p.Mass.Known {
				if p.Joined {
					return words(fmt.Sprintf("%.1f of %.1f g as stated, the rest is the flight controller that "+
						"avionics count", 1e3*c.Masses().Controller, 1e3*p.Mass.Value)), owner
				}
				return asStated()
			}
			if c.Powertrain.Propeller.Board == motor.Joined {
				return symbols(`"what the speed controllers add to a board that joins them and the flight ` +
					`controller:" ` +
					"m{ctl} = joined I_rated"), Constant("controller joined").Source
			}
			return symbols(`"four-in-one board:" m{ctl} = board (1 + slope I_rated)`),
				Constant("controller board").Source
		}},
	{Title: "Wiring", symbol: "m_wiring", of: func(m *Masses) float64 { return m.Wiring },
		formula: always(`"leads and connectors, by controller rating and diameter:" `+
			"m{wiring} = wiring I_rated D_in", "wiring")},
	{Title: "Avionics", symbol: "m_avionics", of: func(m *Masses) float64 { return m.Avionics },
		formula: func(*Craft) (Formula, string) { return words("as assumed"), AssumedSource }},
	{Title: "Pack", symbol: "m_pack", of: func(m *Masses) float64 { return m.Pack }, formula: (*Craft).packFormula},
	{Title: "Payload", symbol: "m_payload", of: func(m *Masses) float64 { return m.Payload },
		formula: func(*Craft) (Formula, string) { return words("as given"), GivenSource }},
}

// Of is the part's mass in kg.
func (p *MassPart) Of(c *Craft) float64 {
	m := c.Masses()
	return p.of(&m)
}

// Formula is the part's formula, which may follow from the craft, with its source.
func (p *MassPart) Formula(c *Craft) (text, source string) {
	f, source := p.formula(c)
	return f.String(), source
}

// Worked is the formula with the values of a craft put in, which comes to the mass in
// g; "" for a mass that is given.
func (p *MassPart) Worked(c *Craft) string {
	f, _ := p.formula(c)
	return f.put("m", c, unit.Mass.Unit("g"))
}

// massSum is the sum of all masses.
func massSum() string {
	var terms []string
	for _, p := range MassParts {
		terms = append(terms, p.symbol)
	}
	return strings.Join(terms, " + ")
}

// always is a formula that does not follow from the craft.
func always(text, constant string) func(*Craft) (Formula, string) {
	return func(*Craft) (Formula, string) { return symbols(text), Constant(constant).Source }
}

// asStated is the formula of what is stated of a part that exists.
func asStated() (Formula, string) { return words("as stated"), owner }

// motorLaw is the mass of one motor, with what was measured of it.
const motorLaw = "scale{motor} d{law}^[motor mass exponent of d] h{law}^[motor mass exponent of h] {mass fit}"

func (c *Craft) frameFormula() (Formula, string) {
	if p := c.Powertrain.Parts.Frame; p != nil {
		if p.Mass.Known {
			return asStated()
		}
		return words("the law of frames, for the largest propeller that it takes"), Constant("frame scale").Source
	}
	law, words := "k{frame} scale{frame} D_in^[frame exponent]", `, "k the frame factor"`
	if c.micro() {
		law += " (1 - micro frame s{micro})"
		words = `, s{micro} = x{micro}^2 (3 - 2 x{micro}), x{micro} = 3 - D_in` + words
	}
	if c.Model.Assume.FrameBuild == frame.ByRegression {
		law += " {frame fit}"
	}
	f := Formula{Text: "m{body} = " + law + words}
	if c.Model.Assume.FrameBuild == frame.ByBeam {
		f.Text = `"body share" ` + f.Text + `, "and four arms sized for the craft, width x thickness x length x ` +
			`density"`
		f.Solved = "[body share] " + law + " + 4 w{mm} t{mm} l{mm} rho{arm}"
	}
	return f, Constant("frame scale").Source
}

func (c *Craft) hardwareFormula() (Formula, string) {
	const what = `"strap and pads, and screws and standoffs by diameter:" `
	f := Formula{Text: what + "fixed + by size D_in"}
	if c.micro() {
		f.Text = what + `(fixed + by size D_in) (1 - micro hardware s{micro}), "s as of the frame"`
	}
	return f, Constant("hardware by size").Source
}

func (c *Craft) packFormula() (Formula, string) {
	if p := c.Powertrain.Parts.Pack; p != nil && p.Mass.Known {
		return asStated()
	}
	g := c.grade()
	each := "mass of the cells per Ah x Ah"
	if g.CellCharge() > 0 {
		each = "mass of a cell x cells in parallel"
	}
	law := "leads + overhead x " + each + " x cells in series"
	f := symbols(law + `, "of ` + g.Meaning + `"`)
	if c.packFit().Mass.Value != 1 {
		f.Text = "{pack fit} (" + law + `), "of ` + g.Meaning + `"`
	}
	return f, Constant(g.Name + " mass").Source
}

// micro says whether the craft is built as micro craft are, at least in part.
func (c *Craft) micro() bool { return frame.Micro(diameter(c)) > 0 }

// massSymbols are those of the masses alone, which are put in in g.
func massSymbols() []symbol {
	gram := func(name string, of func(*Craft) float64) symbol { return symbol{Name: name, Of: of, Per: grams} }
	var out []symbol
	for _, p := range MassParts {
		out = append(out, gram(p.symbol, p.Of))
	}
	for _, x := range []struct{ name, of string }{
		{"scale{frame}", "frame scale"}, {"fixed", "hardware fixed"}, {"by size", "hardware by size"},
		{"square", "propeller square"}, {"linear", "propeller linear"}, {"scale{motor}", "motor mass scale"},
		{"joined", "controller joined"}, {"board", "controller board"}, {"wiring", "wiring"},
	} {
		out = append(out, gram(x.name, valueOf(x.of)))
	}
	cell := func(c *Craft) float64 { return c.constant(c.grade().Name + " mass") }
	arm := func(c *Craft) *frame.Arm { return &c.Powertrain.Arm }
	return append(out,
		gram("m{motor}", func(c *Craft) float64 { return c.motor().Mass }),
		gram("m{ctl}", func(c *Craft) float64 { return c.Masses().Controller }),
		gram("m{wiring}", func(c *Craft) float64 { return c.Masses().Wiring }),
		gram("m{body}", func(c *Craft) float64 {
			return c.Model.parameters.Frame.Mass(diameter(c), c.Model.Assume.FrameFactor) * c.frameFit()
		}),
		symbol{Name: "{frame fit}", Of: (*Craft).frameFit, One: true},
		symbol{Name: "{pack fit}", Of: func(c *Craft) float64 { return c.packFit().Mass.Value }, One: true},
		symbol{Name: "m{law}", Is: motorLaw},
		symbol{Name: "k{frame}", Of: func(c *Craft) float64 { return c.Model.Assume.FrameFactor }},
		symbol{Name: "micro frame", Of: valueOf("micro frame")},
		symbol{Name: "micro hardware", Of: valueOf("micro hardware")},
		symbol{Name: "s{micro}", Is: "x{micro}^2 (3 - 2 x{micro})"},
		symbol{Name: "x{micro}", Of: func(c *Craft) float64 { return c.constant("micro from") - diameter(c)*perInch }},
		symbol{Name: "blade", Of: valueOf("propeller blade")},
		symbol{Name: "(B - 2)", Of: func(c *Craft) float64 {
			return float64(c.Powertrain.Propeller.Geometry.Blades -
				2)
		}},
		symbol{Name: "slope", Of: valueOf("controller board slope")},
		symbol{Name: "w{mm}", Of: func(c *Craft) float64 { return arm(c).Width }, Per: millis},
		symbol{Name: "t{mm}", Of: func(c *Craft) float64 { return arm(c).Thickness }, Per: millis},
		symbol{Name: "l{mm}", Of: func(c *Craft) float64 { return arm(c).Length }, Per: millis},
		symbol{Name: "rho{arm}", Of: valueOf("rho arm"), Per: 1e-6}, // g/mm3
		gram("leads", func(c *Craft) float64 {
			if c.grade().CellCharge() > 0 {
				return c.constant("pack leads Li-ion")
			}
			return c.constant("pack leads LiPo")
		}),
		symbol{Name: "overhead", Of: valueOf("pack overhead")},
		gram("mass of the cells per Ah", cell),
		gram("mass of a cell", cell),
		symbol{Name: "Ah", Of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Capacity / perHour }},
		symbol{Name: "cells in parallel", Of: (*Craft).parallel},
		symbol{Name: "cells in series", Of: func(c *Craft) float64 { return float64(c.Powertrain.Drive.Pack.Cells) }},
	)
}

// frameFit is the factor that measurements put on the law of the frame's mass.
func (c *Craft) frameFit() float64 {
	if c.Model.Assume.FrameBuild == frame.ByBeam {
		return 1
	}
	return c.Model.Assume.Evidence.Frame(diameter(c)).Value
}

// grade is that of the craft's pack.
func (c *Craft) grade() *pack.Grade {
	if p := c.Powertrain.Parts.Pack; p != nil && p.Grade != nil {
		return p.Grade
	}
	return c.Model.Assume.PackGrade
}

// packFit are the factors that measurements put on the pack.
func (c *Craft) packFit() PackFit {
	return c.Model.Assume.Evidence.Pack(c.grade(), c.Powertrain.Drive.Pack.Capacity)
}

// parallel is how many cylindrical cells stand side by side in the pack.
func (c *Craft) parallel() float64 {
	return math.Round(c.Powertrain.Drive.Pack.Capacity / c.grade().CellCharge())
}
