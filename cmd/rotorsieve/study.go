package main

import (
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
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
	grade   string
	evidenceFlags
	like  []likePart
	build string
	board string
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
	s := &studyFlags{flagGroups: newFlagGroups(command), one: defaults.one, axes: map[*sweep.AxisDef]*[]float64{}, assume: model.Defaults()}

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
	f.Var(newRequirements(&s.require), "require", "bounds on metrics, as hover-time>=6min; they replace the default bounds on the same metric; those on pack-load and voltage-margin bound level flight too")
	var terms []string
	for _, t := range sweep.DefaultMerit() {
		terms = append(terms, termText(t))
	}
	ranks := f
	if s.one {
		ranks = s.passed()
		f.Lookup("class").DefValue = "" // explain holds a design to those that are asked for
	}
	ranks.Var(newMerit(&s.merit, terms...), "merit", "what ranks designs: METRIC:WEIGHT:WORST:BEST, each metric mapped to 0 at WORST and 1 at BEST")
	f.Var(newLike(&s.like), "like", "craft to feel like, in place of a merit: metrics, as disk-loading=7.5g/in2, or its design, as diameter=5in,stator=2207,kv=1750,cells=6,capacity=1100mAh")
	f.Var(newQuantity(&s.assume.Altitude, unit.Length.WithDefault("m"), bound(model.AltitudeBound), "0m"), "altitude", "of the place, above sea level")
	f.Var(newQuantityOr("standard", 0, &s.assume.Temperature, unit.Temperature, bound(model.TemperatureBound), "standard"), "temperature", "of the air; standard is the standard atmosphere's at the altitude")

	f = s.group("Assumptions")
	f.Var(newChoice(&s.grade, "grade", gradeNames()...), "pack-grade", "cells of the pack: "+strings.Join(gradeNames(), ", "))
	f.Var(newQuantity(&s.assume.PackTemperature, unit.Temperature, bound(model.TemperatureBound), "25degC"), "pack-temperature", "of the cells in flight")
	f.BoolVar(&s.assume.PackAged, "pack-aged", false, "a worn pack: capacity x 0.9, resistance x 1.3")
	f.Var(newQuantity(&s.assume.Charge, unit.Ratio, bound(model.ChargeBound), "90%"), "charge", "state of charge at which full throttle is judged")
	f.Var(newQuantity(&s.assume.FrameFactor, unit.Ratio, bound(model.FactorBound), "1"), "frame-factor", "on the usual mass of a frame: about 0.85 race, 1 cruise, 1.3 freestyle")
	f.Var(newQuantity(&s.assume.Clearance, unit.Ratio, bound(model.ClearanceBound), "0.2"), "clearance", "between neighbouring discs, in diameters")
	f.Var(newChoice(&s.board, "board", motor.Separate.String(), motor.Joined.String()), "board", "of the speed controllers: separate, or joined with the flight controller, of which only their part is counted, its own 4 to 5 g being in --avionics")
	f.Var(newQuantity(&s.assume.Avionics, unit.Mass, bound(model.AvionicsBound), "30g"), "avionics", "mass of flight controller, receiver, camera and video")
	f.Var(newQuantity(&s.assume.AvionicsPower, unit.Power, bound(model.PowerBound), "3W"), "avionics-power", "power of the same")
	f.Var(newQuantity(&s.assume.Winding, unit.Temperature, bound(model.WindingBound), "60degC"), "winding-temperature", "of the motors, for which operating points are computed")
	f.Var(newQuantity(&s.assume.PulseRate, unit.Frequency.WithDefault("kHz"), bound(model.PulseRateBound), "48kHz"), "pulse-rate", "of the speed controllers below full duty; a lower one loses more in the motors, with its square")
	f.Var(newChoice(&s.build, "build", frame.ByRegression.String(), frame.ByBeam.String()), "frame-build", "mass of the frame: regression on the size, or beam: arms sized for strength and stiffness")
	f.Var(newQuantity(&s.assume.CrashLoad, unit.Ratio, bound(model.CrashBound), "12"), "crash-load", "that an arm built by beam stands at its tip, over the weight")
	f.Var(newQuantity(&s.assume.ArmDetuning, unit.Ratio, bound(model.DetuningBound), "1.2"), "arm-detuning", "least ratio between the first bending of arms built by beam and the turns of hover, either way")
	f.Var(newQuantity(&s.assume.PayloadArea, unit.Area, bound(model.AreaBound), "0cm2"), "payload-area", "frontal area that the payload adds to the body")
	f.Var(newQuantity(&s.assume.TiltLimit, unit.Angle, bound(model.TiltBound), "90deg"), "tilt-limit", "of level flight; 90deg sets none")
	f.Var(newQuantity(&s.assume.MixedShare, unit.Ratio, bound(model.ShareBound), "15%"), "mixed-share", "of a mixed flight that is flown at 60 % of the full-throttle current; 15 % draws two to four times the power of hover")
	f.Var(newQuantity(&s.assume.ThrustReserve, unit.Ratio, bound(model.ReserveBound), "1.5"), "thrust-reserve", "thrust to weight left at the ceiling, and for thrust-share")
	s.evidenceFlags.declare(f, "they correct those and, less with distance, their neighbours")
	return s
}

// output declares the flags that say what is kept and shown of a study.
func (s *studyFlags) output(f *pflag.FlagSet) {
	f.Var(newWords(&s.name, "name"), "name", "of the study, and of its folder (default: the first flag file's, or study)")
	f.Var(newNumber(&s.top, 1, 1e6, 200), "top", "designs in each ranking, 1 to 1000000")
	f.Var(newMaps(&s.maps, allMaps), "map", "the best design over two axes, AXIS,AXIS or AXIS,AXIS:METRIC; may be repeated; all for every pair of swept axes")
	f.Var(newFigures(&s.figures, allFigures), "figures", "pictures by name, all for the usual ones, or none")
	f.Var(newNumber(&s.dpi, 72, 600, 200), "dpi", "resolution of the pictures in dots per inch, 72 to 600")
	f.Var(newFront(&s.front, "hover-time,thrust-to-weight"), "front", "up to three metrics: designs that none other beats in all of them")
}

func bound(b model.Bound) unit.Range { return unit.Range{Min: b.Min, Max: b.Max} }

func gradeNames() []string {
	var names []string
	for _, g := range pack.Grades {
		names = append(names, g.Name)
	}
	return names
}
