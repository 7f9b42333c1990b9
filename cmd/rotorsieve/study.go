package main

import (
	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// studyFlags are the flags that state a study, or the one design of it that
// explain takes apart.
type studyFlags struct {
	*flagGroups
	one     bool // a single design is stated
	axes    map[*sweep.AxisDef]*[]float64
	assume  model.Assumptions
	classes []sweep.Class
	require []sweep.Requirement
	merit   sweep.Merit
	maps    []sweep.MapSpec
	front   []*model.Metric
	figures []string
	dpi     int
	name    string
	top     int
	evidenceFlags
	like  []likePart
	turns turns

	cellCapacity bool // the capacity is that of the grade's cell
}

// cellCapacities is the capacity axis of a cylindrical grade that nobody has
// stated: one cell in parallel.
func cellCapacities(g *pack.Grade) string { return unit.Charge.Text(g.CellCharge()) }

// turns counts the settings of flags, to tell which of two came last.
type turns struct{ pitch, ratio, now int }

// counted notes when a flag was set.
type counted struct {
	pflag.Value
	turns *turns
	at    *int
}

func (c counted) Set(text string) error {
	c.turns.now++
	*c.at = c.turns.now
	return c.Value.Set(text)
}

// axisDefaults are the values an axis has when its flag is not given.
type axisDefaults struct {
	one bool // for a single design
	of  map[*sweep.AxisDef]string
}

// sweepDefaults make a study of some millions of designs, from 2 to 10 inches.
var sweepDefaults = axisDefaults{of: map[*sweep.AxisDef]string{
	sweep.Diameter:   "2:10:0.5in",
	sweep.Pitch:      "4in",
	sweep.PitchRatio: "0.4:1:0.1",
	sweep.Blades:     "2,3",
	sweep.Chord:      "0",
	sweep.Stator:     "1103,1204,1404,1507,2004,2207,2507,2806,2812",
	sweep.KV:         "500:2000:100,2200:6000:200",
	sweep.Cells:      "1,2,3,4,6",
	sweep.Capacity:   "300:1500:50mAh,1700:5100:200mAh",
	sweep.Payload:    "0g",
}}

// oneDefaults make a common five-inch craft.
var oneDefaults = axisDefaults{one: true, of: map[*sweep.AxisDef]string{
	sweep.Diameter:   "5in",
	sweep.Pitch:      "4in",
	sweep.PitchRatio: "0.8",
	sweep.Blades:     "3",
	sweep.Chord:      "0",
	sweep.Stator:     "2207",
	sweep.KV:         "1300",
	sweep.Cells:      "6",
	sweep.Capacity:   "1300mAh",
	sweep.Payload:    "0g",
}}

// newStudyFlags declares the flags of a study.
func newStudyFlags(command string, defaults axisDefaults) *studyFlags {
	s := &studyFlags{flagGroups: newFlagGroups(command), one: defaults.one,
		axes: map[*sweep.AxisDef]*[]float64{}, assume: model.Defaults()}

	title := "Design space (ranges first:last:step, lists a,b,c)"
	if s.one {
		title = "Design (one value of each)"
	}
	f := s.group(title)
	for _, d := range sweep.AxisDefs {
		values := new([]float64)
		s.axes[d] = values
		var v pflag.Value = newAxis(values, d.Kind, d.Check, defaults.of[d])
		switch d {
		case sweep.Pitch:
			v = counted{v, &s.turns, &s.turns.pitch}
		case sweep.PitchRatio:
			v = counted{v, &s.turns, &s.turns.ratio}
		}
		f.Var(v, d.Name, d.Meaning)
	}
	f.Lookup("pitch").DefValue = "" // the pitch ratio stands unless a pitch is given
	f.Lookup("pitch").Usage += ", in place of a pitch ratio"

	f = s.group("Mission")
	f.Var(newClasses(&s.classes, "250g"), "class", "weight classes: limits on the all-up weight, as 249g or 249g=scout")
	f.Var(newRequirements(&s.require), "require", "bounds on metrics, as hover-time>=6min; "+
		"they replace the default bounds on the same metric; those on pack-load and voltage-margin bound level flight too")
	var terms []string
	for _, t := range sweep.DefaultMerit() {
		terms = append(terms, termText(t))
	}
	ranks := f
	if s.one {
		ranks = s.passed()
		f.Lookup("class").DefValue = "" // explain holds a design to those that are asked for
	}
	ranks.Var(newMerit(&s.merit, terms...), "merit",
		"what ranks designs: METRIC:WEIGHT:WORST:BEST, each metric mapped to 0 at WORST and 1 at BEST")
	s.assumed(f, model.AboutMerit)
	s.assumed(f, model.AboutPlace)

	f = s.group("Assumptions")
	s.assumed(f, model.AboutCraft)
	s.evidenceFlags.declare(f, "they correct those and, less with distance, their neighbours")
	return s
}

// output declares the flags that say what is kept and shown of a study.
func (s *studyFlags) output(f *pflag.FlagSet) {
	f.Var(newWords(&s.name, "name"), "name",
		"of the study, and of its folder (default: the first flag file's, or study)")
	f.Var(newNumber(&s.top, 1, 1e6, 200), "top", "designs in each ranking, 1 to 1000000")
	f.Var(newMaps(&s.maps, allMaps), "map",
		"the best design over two axes, AXIS,AXIS or AXIS,AXIS:METRIC; may be repeated; all for every pair of swept axes")
	figures := newFigures(&s.figures, allFigures)
	figures.more = s.pictures
	f.Var(figures, "figures", "pictures by name, all for the usual ones, or none")
	f.Var(newNumber(&s.dpi, 72, 600, 200), "dpi", "resolution of the pictures in dots per inch, 72 to 600")
	f.Var(newFront(&s.front, "hover-time,thrust-to-weight"), "front",
		"up to three metrics: designs that none other beats in all of them")
}
