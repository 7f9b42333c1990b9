package pack

import (
	"fmt"
	"strings"
)

// chemistry is what all cells of one kind share.
type chemistry struct {
	name   string
	dod    []float64 // depth of discharge, 0..1, rising
	rested []float64 // open-circuit voltage of one cell at dod, V, falling
	usable float64   // share of the capacity that a flight may draw
	floor  float64   // loaded voltage of one cell at which a flight ends, V

	reserve float64 // share of the usable charge that is left at landing
	drawn   float64 // share of the capacity that is drawn until then
	mean    float64 // rested voltage of a cell averaged over the usable charge, V
	series  series
	within  float64 // the largest x for which the series holds, V2
}

var lipo = newChemistry(chemistry{
	name: "LiPo",
	dod: []float64{0, .05, .10, .15, .20, .25, .30, .35, .40, .45, .50, .55, .60, .65, .70, .75, .80, .85, .90,
		.95, 1},
	rested: []float64{4.20, 4.15, 4.11, 4.08, 4.02, 3.98, 3.95, 3.91, 3.87, 3.85, 3.84, 3.82, 3.80, 3.79, 3.77, 3.75,
		3.73, 3.71, 3.69, 3.61, 3.27},
	usable: 0.80,
	floor:  3.3,
})

var liion = newChemistry(chemistry{
	name:   "Li-ion",
	dod:    []float64{0, .10, .20, .30, .40, .50, .60, .70, .80, .90, .95, 1},
	rested: []float64{4.18, 4.06, 3.95, 3.86, 3.76, 3.66, 3.58, 3.51, 3.40, 3.22, 3.05, 2.75},
	usable: 0.90,
	floor:  2.9,
})

// Grade is a quality of cell. The zero Grade is not valid; take one from
// Grades or ParseGrade.
type Grade struct {
	Name    string
	Meaning string
	chem    *chemistry
	index   gradeIndex

	// Of cylindrical cells, of which whole ones are in parallel; 0 for pouch cells, which
	// have any capacity.
	cellAh  float64
	cellMax float64 // A, continuous
}

// Grades lists the grades; the first is the default.
var Grades = []*Grade{
	{index: highRate, Name: "high-rate", Meaning: "LiPo for high current", chem: lipo},
	{index: middle, Name: "middle", Meaning: "LiPo of middle rate", chem: lipo},
	{index: longFlight, Name: "long-flight", Meaning: "LiPo of high energy", chem: lipo},
	{index: energy18650, Name: "18650-energy", Meaning: "cylindrical Li-ion 18 x 65 mm, 3.4 Ah", chem: liion,
		cellAh: 3.4, cellMax: 10},
	{index: power18650, Name: "18650-power", Meaning: "cylindrical Li-ion 18 x 65 mm, 2.8 Ah", chem: liion,
		cellAh: 2.8, cellMax: 22},
	{index: energy21700, Name: "21700-energy", Meaning: "cylindrical Li-ion 21 x 70 mm, 5.0 Ah", chem: liion,
		cellAh: 5.0, cellMax: 13},
	{index: power21700, Name: "21700-power", Meaning: "cylindrical Li-ion 21 x 70 mm, 4.2 Ah", chem: liion,
		cellAh: 4.2, cellMax: 38},
}

// ParseGrade finds a grade by its name.
func ParseGrade(name string) (*Grade, error) {
	names := make([]string, len(Grades))
	for i, g := range Grades {
		if g.Name == name {
			return g, nil
		}
		names[i] = g.Name
	}
	return nil, fmt.Errorf("%q is not a pack grade, want one of %s", name, strings.Join(names, ", "))
}

// Use is how much of a pack's charge a flight draws.
type Use struct {
	Usable  float64 // share of the capacity, UsableBound; 0 for that of the cells' kind
	Reserve float64 // share of the usable charge that is left at landing, below 1
}

// Least and most usable share of the capacity: a cell that is drawn further is ruined, and
// its rested voltage nears the floor (common practice).
const LeastUsable, MostUsable = 0.2, 0.95

// Used is the grade with its packs flown in another way; it is the grade itself where that is
// no other. Packs of one chemistry are told by it, so that a model makes one and keeps it.
func (g *Grade) Used(u Use) *Grade {
	c := *g.chem
	if u.Usable != 0 {
		c.usable = u.Usable
	}
	if c.usable == g.chem.usable && u.Reserve == g.chem.reserve {
		return g
	}
	c.reserve = 0
	out := *g
	out.chem = newChemistry(c)
	if u.Reserve != 0 { // operating points are those of the whole usable charge
		c = *out.chem
		c.reserve = u.Reserve
		out.chem = newChemistry(c)
	}
	return &out
}

// Usable is the share of the capacity that a flight may draw.
func (g *Grade) Usable() float64 { return g.chem.usable }

// Chemistry is that of the cells: LiPo or Li-ion.
func (g *Grade) Chemistry() string { return g.chem.name }

// CellCharge is the capacity of one cylindrical cell in A s, and 0 for pouch
// cells, which are made in any capacity.
func (g *Grade) CellCharge() float64 { return g.cellAh * 3600 }
