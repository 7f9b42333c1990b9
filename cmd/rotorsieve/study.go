package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/sweep"
)

// studyFlags are the flags that state a study, or the one design of it that
// explain takes apart.
type studyFlags struct {
	*flagGroups
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
	points  string // file of measured propellers
	like    []likePart
	build   string
	turns   turns

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
type axisDefaults map[*sweep.AxisDef]string

// sweepDefaults make a study of some millions of designs, from 2 to 10 inches.
var sweepDefaults = axisDefaults{
	sweep.Diameter:   "2:10:0.5in",
	sweep.Pitch:      "4in",
	sweep.PitchRatio: "0.5:0.9:0.1",
	sweep.Blades:     "2,3",
	sweep.Chord:      "0",
	sweep.Stator:     "1103,1204,1404,1507,2004,2207,2507,2806,2812",
	sweep.KV:         "500:2000:100,2200:6000:200",
	sweep.Cells:      "1,2,3,4,6",
	sweep.Capacity:   "300:1500:50mAh,1700:5100:200mAh",
	sweep.Payload:    "0g",
}

// oneDefaults make a common five-inch craft.
var oneDefaults = axisDefaults{
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
}

// newStudyFlags declares the flags of a study.
func newStudyFlags(command string, defaults axisDefaults) *studyFlags {
	s := &studyFlags{flagGroups: newFlagGroups(command), axes: map[*sweep.AxisDef]*[]float64{}, assume: model.Defaults()}

	f := s.group("Design space (ranges first:last:step, lists a,b,c)")
	for _, d := range sweep.AxisDefs {
		values := new([]float64)
		s.axes[d] = values
		var v pflag.Value = newAxis(values, d.Kind, d.Check, defaults[d])
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
	f.Var(newRequirements(&s.require), "require", "bounds on metrics, as hover-time>=6min; they replace the default bounds on the same metric")
	var terms []string
	for _, t := range sweep.DefaultMerit() {
		terms = append(terms, termText(t))
	}
	f.Var(newMerit(&s.merit, terms...), "merit", "what ranks designs: METRIC:WEIGHT:WORST:BEST, each metric mapped to 0 at WORST and 1 at BEST")
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
	f.Var(newQuantity(&s.assume.Avionics, unit.Mass, bound(model.AvionicsBound), "30g"), "avionics", "mass of flight controller, receiver, camera and video")
	f.Var(newQuantity(&s.assume.AvionicsPower, unit.Power, bound(model.PowerBound), "3W"), "avionics-power", "power of the same")
	f.Var(newQuantity(&s.assume.Winding, unit.Temperature, bound(model.WindingBound), "60degC"), "winding-temperature", "of the motors, for which operating points are computed")
	f.Var(newChoice(&s.build, "build", frame.ByRegression.String(), frame.ByBeam.String()), "frame-build", "mass of the frame: regression on the size, or beam: arms sized for strength and stiffness")
	f.Var(newQuantity(&s.assume.CrashLoad, unit.Ratio, bound(model.CrashBound), "12"), "crash-load", "that an arm built by beam stands at its tip, over the weight")
	f.Var(newQuantity(&s.assume.ArmDetuning, unit.Ratio, bound(model.DetuningBound), "1.2"), "arm-detuning", "least ratio between the first bending of arms built by beam and the turns of hover, either way")
	f.Var(newQuantity(&s.assume.PayloadArea, unit.Area, bound(model.AreaBound), "0cm2"), "payload-area", "frontal area that the payload adds to the body")
	f.Var(newQuantity(&s.assume.TiltLimit, unit.Angle, bound(model.TiltBound), "90deg"), "tilt-limit", "of level flight; 90deg sets none")
	f.Var(newQuantity(&s.assume.MixedShare, unit.Ratio, bound(model.ShareBound), "15%"), "mixed-share", "of a mixed flight that is flown at 60 % of the full-throttle current; 15 % draws about twice the power of hover")
	f.Var(newQuantity(&s.assume.ThrustReserve, unit.Ratio, bound(model.ReserveBound), "1.5"), "thrust-reserve", "thrust to weight left at the ceiling, and for thrust-share")
	f.Var(newWords(&s.points, aFile), "rotor-points", pointsUsage+"; they correct propellers of the series: as many blades, the same pitch ratio")
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

func termText(t sweep.Term) string {
	k := kindOf(t.Metric)
	return fmt.Sprintf("%s:%g:%s:%s", t.Metric.Name, t.Weight, k.Text(t.Worst), k.Text(t.Best))
}

func requirementText(r sweep.Requirement) string {
	sign := "<="
	if r.AtLeast {
		sign = ">="
	}
	return r.Metric.Name + sign + kindOf(r.Metric).Text(r.Bound)
}

// ratio says whether the pitch is stated over the diameter, and refuses both
// statements in one place.
func (s *studyFlags) ratio() (bool, error) {
	p, r := s.set["pitch"], s.set["pitch-ratio"]
	if p.from != nil && p.from == r.from {
		return false, p.errorf("--pitch and --pitch-ratio state the same axis, want one of them")
	}
	return p.from == nil || s.turns.ratio > s.turns.pitch, nil
}

// study builds the study that the flags state.
func (s *studyFlags) study() (*sweep.Study, error) {
	grade, err := pack.ParseGrade(s.grade)
	if err != nil {
		return nil, fmt.Errorf("--pack-grade: %w", err)
	}
	s.assume.PackGrade = grade
	if s.assume.FrameBuild, err = frame.ParseBuild(s.build); err != nil {
		return nil, fmt.Errorf("--frame-build: %w", err)
	}
	if grade.CellCharge() > 0 && s.origin("capacity") == "default" {
		// The default capacities are those of pouch packs.
		s.cellCapacity = true
		v, err := unit.ParseAxis(unit.Charge, cellCapacities(grade))
		if err != nil {
			return nil, fmt.Errorf("--pack-grade: %w", err)
		}
		*s.axes[sweep.Capacity] = v
	}
	if s.points != "" {
		specimens, err := readSpecimens(s.points)
		if err != nil {
			return nil, err
		}
		if s.assume.Measured, err = calibrate(s.points, specimens); err != nil {
			return nil, err
		}
	}
	ratio, err := s.ratio()
	if err != nil {
		return nil, err
	}
	var axes []sweep.Axis
	for _, d := range sweep.AxisDefs {
		if d == sweep.Pitch && ratio || d == sweep.PitchRatio && !ratio {
			continue
		}
		axes = append(axes, sweep.Axis{Def: d, Values: *s.axes[d]})
	}
	grid, err := sweep.NewGrid(axes...)
	if err != nil {
		return nil, err
	}
	if s.assume.Like, err = reference(s.like, s.assume); err != nil {
		return nil, fmt.Errorf("--like: %w", err)
	}
	if len(s.like) > 0 && s.origin("merit") == "default" {
		likeness, err := parseTerm("likeness:1:0:1")
		if err != nil {
			return nil, err
		}
		s.merit = sweep.Merit{likeness}
	}
	m, err := model.New(s.assume)
	if err != nil {
		return nil, err
	}
	require := slices.Clone(s.require)
	for _, d := range sweep.DefaultRequirements() {
		at := slices.IndexFunc(require, func(r sweep.Requirement) bool { return r.Metric == d.Metric && r.AtLeast == d.AtLeast })
		switch {
		case at < 0:
			require = append(require, d)
		case require[at].Bound == d.Bound:
			require[at] = d
		}
	}
	st := &sweep.Study{
		Name: s.name, Grid: grid, Model: m, Classes: s.classes, Require: require, Merit: s.merit,
		Front: s.front, Top: s.top, SizeBins: sweep.DefaultSizeBins,
	}
	for _, m := range s.front {
		if m.ByClass && len(s.classes) > 1 {
			return nil, fmt.Errorf("--front: %s differs by class, want one class or another metric", m.Name)
		}
	}
	for _, spec := range s.maps {
		for _, d := range []*sweep.AxisDef{spec.X, spec.Y} {
			if d == sweep.Pitch && ratio {
				return nil, fmt.Errorf("--map %s: the study states pitch-ratio, want that in place of pitch", mapText(spec))
			}
			if d == sweep.PitchRatio && !ratio {
				return nil, fmt.Errorf("--map %s: the study states pitch, want that in place of pitch-ratio", mapText(spec))
			}
		}
		if spec.X == nil {
			st.Maps = append(st.Maps, impliedMaps(st, s.maps)...)
			continue
		}
		st.Maps = append(st.Maps, spec)
	}
	if err := st.Check(); err != nil {
		return nil, err
	}
	return st, s.checkFigures(st)
}

// checkFigures refuses pictures that the study cannot have.
func (s *studyFlags) checkFigures(st *sweep.Study) error {
	names := append(report.FigureNames(st), allFigures, none)
	for _, name := range s.figures {
		if !slices.Contains(names, name) {
			return fmt.Errorf("--figures: no figure %q of this study, %s", name, wanted(name, names))
		}
	}
	return nil
}

// drawn says which pictures a report has.
func (s *studyFlags) drawn() []string {
	if s.figures == nil {
		return []string{}
	}
	return s.figures
}

// mostImpliedCells bounds the memory that maps take which nobody asked for.
const mostImpliedCells = 1 << 19

// impliedMaps are those over every pair of swept axes that are not asked for
// by name, as far as memory lets them.
func impliedMaps(st *sweep.Study, asked []sweep.MapSpec) []sweep.MapSpec {
	var out []sweep.MapSpec
	axes := st.Grid.Axes()
	room := mostImpliedCells / len(st.Classes)
	swept := st.Grid.Swept()
	for i, x := range swept {
		for _, y := range swept[i+1:] {
			m := sweep.MapSpec{X: axes[x].Def, Y: axes[y].Def}
			if m.X == sweep.KV && m.Y == sweep.Cells {
				m.X, m.Y = m.Y, m.X // the trade chooses the KV for the cells
			}
			cells := len(axes[x].Values) * len(axes[y].Values)
			if slices.Contains(asked, m) || cells > room {
				continue
			}
			room -= cells
			m.Implied = true
			out = append(out, m)
		}
	}
	return out
}

// effective lists the flags that reproduce the study, and those of them that
// stand at their default, whoever set them: a run from its effective flags must
// not differ from the first.
func (s *studyFlags) effective(st *sweep.Study) (flags, defaults []string) {
	ratio, _ := s.ratio() // study has checked it
	add := func(name, value string, standing bool) {
		flags = append(flags, "--"+name+"="+value)
		if standing {
			defaults = append(defaults, "--"+name+"="+value)
		}
	}
	s.all.VisitAll(func(f *pflag.Flag) {
		text := f.Value.String()
		standing := text == f.DefValue
		switch f.Name {
		case "out", "workers", "quiet", "format", "force", "dry-run", "help", "why", "resume", "shard", "checkpoint-every", "max-time":
		case "pitch", "pitch-ratio":
			if (f.Name == "pitch-ratio") == ratio {
				add(f.Name, text, standing)
			}
		case "capacity":
			if s.cellCapacity {
				text = cellCapacities(s.assume.PackGrade)
			}
			add(f.Name, text, standing || text == cellCapacities(s.assume.PackGrade))
		case "like":
			add(f.Name, likeText(s.assume.Like), standing)
		case "merit":
			for _, t := range st.Merit {
				add(f.Name, termText(t), standing && len(s.like) == 0)
			}
		case "require":
			for _, r := range st.Require {
				add(f.Name, requirementText(r), r.Default)
			}
		case "map":
			for _, m := range s.maps {
				add(f.Name, mapText(m), standing)
			}
			if len(s.maps) == 0 {
				add(f.Name, none, false)
			}
		case "rotor-points": // the fingerprint has what the file says
			if text != "" {
				add(f.Name, text, false)
			}
		case "name":
			add(f.Name, st.Name, false)
		default:
			if l, ok := f.Value.(interface{ values() []string }); ok {
				for _, v := range l.values() {
					add(f.Name, v, standing)
				}
				return
			}
			add(f.Name, text, standing)
		}
	})
	return flags, defaults
}

func mapText(m sweep.MapSpec) string {
	if m.X == nil {
		return allMaps
	}
	s := m.X.Name + "," + m.Y.Name
	if m.Metric != nil {
		s += ":" + m.Metric.Name
	}
	return s
}
