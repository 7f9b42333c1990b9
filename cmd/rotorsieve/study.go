package main

import (
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// studyFlags are the flags that state a study, or the one design of it that
// explain takes apart.
type studyFlags struct {
	*flagGroups
	one     bool // a single design is stated
	axes    map[*sweep.AxisDef]*[]float64
	assume  model.Assumptions
	varies  []*varying // assumptions of which a list makes scenarios
	over    sweep.Over
	classes []sweep.Class
	require requirements
	merit   sweep.Merit
	maps    []sweep.MapSpec
	front   []*model.Metric
	figures []string
	dpi     int
	name    string
	top     int
	choice  drawFlags
	evidenceFlags
	partFlags
	held  fileHashes // of the files that are read
	like  []likePart
	turns map[*sweep.AxisDef]int // the order in which axes that share an index were stated
}

// axisDefaults says whether the axes not given have the values of a study or that of a
// single design.
type axisDefaults bool

const (
	sweepDefaults axisDefaults = false
	oneDefaults   axisDefaults = true
)

// noted is a flag value that says when it is set.
type noted struct {
	pflag.Value
	note func()
}

func (n noted) Set(text string) error {
	n.note()
	return n.Value.Set(text)
}

// axis declares the flag of an axis.
func (s *studyFlags) axis(f *pflag.FlagSet, d *sweep.AxisDef) {
	values := new([]float64)
	s.axes[d] = values
	flag := &axisValues{to: values, kind: d.Kind, check: d.Check}
	if text := d.Default(s.one); text != "" {
		must(flag.Set(text))
	}
	if d.Other() == nil {
		f.Var(flag, d.Name, d.Meaning)
		return
	}
	usage := d.Meaning
	if d.Or != nil {
		usage += ", in place of a " + strings.ToLower(d.Or.Title)
	}
	f.Var(noted{flag, func() { s.turns[d] = 1 + max(s.turns[d], s.turns[d.Other()]) }}, d.Name, usage)
}

// newStudyFlags declares the flags of a study.
func newStudyFlags(command string, defaults axisDefaults) *studyFlags {
	s := &studyFlags{flagGroups: newFlagGroups(command), one: bool(defaults),
		axes: map[*sweep.AxisDef]*[]float64{}, turns: map[*sweep.AxisDef]int{}, assume: model.Defaults()}

	title := "Design space (ranges first:last:step, lists a,b,c)"
	if s.one {
		title = "Design (one value of each)"
	}
	f := s.group(title)
	for _, d := range sweep.AxisDefs {
		s.axis(f, d)
	}
	s.partFlags.declare(f, s.flagGroups)

	f = s.group("Mission")
	f.Var(newClasses(&s.classes, "250g"), "class", "weight classes: limits on the all-up weight, as 249g or 249g=scout")
	f.Var(&s.require, "require", "bounds on metrics, as hover-time>=6min; each takes the place of the default and of "+
		"a flag file's on the same side of that metric, and the others stand; hover-time>=none drops one, none all "+
		"but the defaults; those on pack-load and voltage-margin bound level flight too")
	var terms []string
	for _, t := range sweep.DefaultMerit() {
		terms = append(terms, termText(t))
	}
	ranks := f
	if s.one {
		ranks = s.passed()
		f.Lookup("class").DefValue = "" // explain checks a design against the stated ones only
	}
	ranks.Var(newMerit(&s.merit, terms...), "merit",
		"what ranks designs: METRIC:WEIGHT:WORST:BEST, each metric mapped to 0 at WORST and 1 at BEST")
	s.assumed(f, model.AboutMerit)
	s.assumed(f, model.AboutPlace)
	f.Var(newOver(&s.over), "over", "what ranks a design over several scenarios, which lists of --altitude, "+
		"--temperature, --wind, --pack-temperature and --pack-aged make: its worst merit or the mean")

	f = s.group("Assumptions")
	s.assumed(f, model.AboutCraft)
	s.evidenceFlags.declare(f, "they correct those and, less with distance, their neighbours")
	s.held.declare(f, s.flagGroups)
	s.evidenceFlags.hashes, s.partFlags.files = &s.held, &s.held
	return s
}

// output declares the flags that say what is kept and shown of a study.
func (s *studyFlags) output(f *pflag.FlagSet) {
	f.Var(newWords(&s.name, "name"), "name",
		"of the study, and of its folder (default: the first flag file's, or study)")
	f.Var(newNumber(&s.top, 1, 1e6, 200), "top", "designs in each ranking, 1 to 1000000")
	f.Var(newMaps(&s.maps, allMaps), "map",
		"the best design over two axes, AXIS,AXIS or AXIS,AXIS:METRIC; may be repeated; all for every pair of swept "+
			"axes, of which those two are drawn that tell most")
	figures := newFigures(&s.figures, usualFigures)
	figures.more = s.pictures
	f.Var(figures, "figures", "pictures: usual for those that follow from the study and what it finds, "+
		"names beside them or in their place, all, or none")
	f.Var(newNumber(&s.dpi, 72, 600, 200), "dpi", "resolution of the pictures in dots per inch, 72 to 600")
	f.Var(newFront(&s.front, strings.Join(usualFront, ",")), "front", "the Pareto front of up to three metrics: the "+
		"designs that none other beats in all of them; where none is stated those of the most weight in the merit")
	if !s.one {
		f = s.group("Choice over draws")
	}
	s.choice.declare(f, s.one)
}
