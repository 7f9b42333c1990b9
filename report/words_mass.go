package report

import (
	"cmp"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

// Sources of what is not computed.
const (
	givenSource   = "the design, as given"
	assumedSource = "the assumptions, as given or by default"
)

// massPart is one part of the all-up weight, or the whole.
type massPart struct {
	Title           string
	Mass            float64 // kg
	Formula, Source string
	Symbol          string // "" for none
}

// wholeMass is the all-up weight as the sum of its parts.
func wholeMass(c *model.Craft) massPart {
	m := metric("auw")
	return massPart{Title: m.Title, Mass: c.Mass, Formula: formula(m), Source: m.Source, Symbol: m.Symbol}
}

// masses is the build-up of a craft's all-up weight, with where each part comes
// from: the constants of the model that lead it.
func masses(c *model.Craft) []massPart {
	m := c.Masses()
	of := func(title string, kg float64, formula, symbol string) massPart {
		return massPart{Title: title, Mass: kg, Formula: formula, Source: constant(symbol).Source}
	}
	frameFormula := constant("frame scale").Meaning + ", k the frame factor"
	hardwareFormula := "strap and pads, and screws and standoffs by diameter: fixed + by size D_in"
	if frame.Micro(c.Powertrain.Propeller.Diameter) > 0 {
		frameFormula = "m = k scale D_in^1.78 (1 - micro frame s), s = x^2 (3 - 2 x), x = 3 - D_in, k the frame factor"
		hardwareFormula = "strap and pads, and screws and standoffs by diameter: (fixed + by size D_in) (1 - micro hardware s), s as of the frame"
	}
	board := "ESC board"
	if c.Model.Assume.Board == motor.Joined {
		board = "ESC joined"
	}
	if c.Model.Assume.FrameBuild == frame.ByBeam {
		frameFormula = "body share " + frameFormula + ", and four arms sized for the craft, width x thickness x length x density"
	}
	each := "mass of the cells per Ah x Ah"
	if c.Model.Assume.PackGrade.CellCharge() > 0 {
		each = "mass of a cell x cells in parallel"
	}
	return []massPart{
		of("Frame", m.Frame, frameFormula, "frame scale"),
		of("Hardware", m.Hardware, hardwareFormula, "hardware by size"),
		of("Propellers", m.Propellers, "4 (square D_in^2 + linear D_in) (1 + blade (B - 2))", "propeller square"),
		of("Motors", m.Motors, "four of "+constant("motor mass scale").Meaning, "motor mass scale"),
		of("Speed controller", m.Controller, constant(board).Meaning, board),
		of("Wiring", m.Wiring, constant("wiring").Meaning+": m = wiring I_rated D_in", "wiring"),
		{Title: "Avionics", Mass: m.Avionics, Formula: "as assumed", Source: assumedSource},
		of("Pack", m.Pack, "leads + overhead x "+each+" x cells in series, of "+c.Model.Assume.PackGrade.Meaning, c.Model.Assume.PackGrade.Name+" mass"),
		{Title: "Payload", Mass: m.Payload, Formula: "as given", Source: givenSource},
	}
}

// heaviestPart is the part that weighs most.
func heaviestPart(c *model.Craft) massPart {
	return slices.MaxFunc(masses(c), func(a, b massPart) int { return cmp.Compare(a.Mass, b.Mass) })
}

// stackOrder are the parts as bars stack them from below, about by mass. Order and
// colours are the same in all studies, so that a part is known by them.
var stackOrder = []string{"Pack", "Frame", "Motors", "Avionics", "Speed controller", "Propellers", "Hardware", "Wiring", "Payload"}

// stacked gives the places of stackOrder's parts in a build-up.
func stacked(parts []massPart) []int {
	var order []int
	for _, title := range stackOrder {
		order = append(order, slices.IndexFunc(parts, func(p massPart) bool { return p.Title == title }))
	}
	return order
}

// formula is that of a metric with its symbol before it, unless the formula is
// an equation by itself.
func formula(m *model.Metric) string {
	if strings.Contains(m.Formula, "=") || m.Formula == m.Symbol {
		return m.Formula
	}
	return m.Symbol + " = " + m.Formula
}
