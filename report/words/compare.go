package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// ClassOf is the class of a limit, as the first run that has it says.
func ClassOf(c *finding.Comparison, limit float64) string {
	for _, f := range c.Runs {
		if k := f.Class(limit); k != nil {
			return ClassName(k.Class)
		}
	}
	return Mass(limit)
}

// NotAsked stands for what a run was not asked.
const NotAsked = "not asked"

// None says why a run has no design within a limit.
func None(o finding.Outcome) string {
	if o.Asked {
		return "none"
	}
	return NotAsked
}

// AspectTitle names something asked of a study.
func AspectTitle(a *finding.Aspect) string {
	switch a.Kind {
	case finding.ModelAspect:
		return "Model"
	case finding.ProgramAspect:
		return "Program"
	case finding.ClassesAspect:
		return "Classes"
	case finding.AxisAspect:
		if d, ok := sweep.LookupAxis(a.Name); ok {
			return d.Title
		}
		if d, ok := sweep.LookupPart(a.Name); ok {
			return d.Title + "s"
		}
	case finding.AssumptionAspect:
		if d, ok := model.LookupAssumption(a.Name); ok {
			return d.Title
		}
		if title := measuredTitle(a.Name); title != "" {
			return title
		}
		if a.Name == overName {
			return overTitle
		}
	case finding.RequirementAspect:
		if m, ok := model.LookupMetric(a.Name); ok {
			return "Required: " + texts.Lower(m.Title)
		}
	case finding.MeritAspect:
		return "Ranked by"
	case finding.DrawsAspect:
		return "Draws"
	}
	return texts.OneLine(a.Name)
}

// AspectValues say what each run was asked, "" where it was not.
func AspectValues(a *finding.Aspect) []string {
	return Each(a.Values, func(v any) string {
		switch v := v.(type) {
		case nil:
			switch {
			case a.Kind != finding.AssumptionAspect:
			case measuredTitle(a.Name) != "":
				return "none"
			case a.Name == overName:
				return "one scenario"
			}
		case string:
			if a.Kind == finding.ModelAspect {
				return cmp.Or(model.Other(v), v)
			}
			return v
		case []sweep.Class:
			return strings.Join(Each(v, ClassName), ", ")
		case sweep.Axis:
			return axisText(v)
		case finding.Valued[any]:
			return assumedText(a.Name, v)
		case sweep.Requirement:
			return Bound(&v) + DefaultMark(sweep.Gate{Requirement: &v})
		case sweep.Merit:
			return Merit(v)
		case finding.DrawsRecord:
			return drawsTold(v)
		}
		return ""
	})
}

// assumedText is an assumption that was read back, in the words of this version.
func assumedText(name string, x finding.Valued[any]) string {
	switch v := x.Value.(type) {
	case bool:
		return texts.YesNo(v)
	case float64:
		if d, known := model.LookupAssumption(name); known {
			if f, ok := d.Form.(*model.Quantity); ok {
				return f.Unit().Format(v, 6)
			}
		}
	}
	return texts.OneLine(strings.TrimSpace(fmt.Sprint(x.Value) + " " + x.Unit))
}

// OtherModel labels a run of another version of the model than this program's.
func OtherModel(f *finding.Finished) string {
	if other := model.Other(f.Model); other != "" {
		return ", model " + other
	}
	return ""
}

// DefaultMark says of a gate whose bound nobody set that it is the default.
func DefaultMark(g sweep.Gate) string {
	if g.Requirement != nil && g.Requirement.Default {
		return " (default)"
	}
	return ""
}

// Sentence is words that may begin with the name of a run, which stays as it is written.
type Sentence struct {
	Text  string
	named bool // begins with one
}

// Begin is the sentence as one by itself begins.
func (s Sentence) Begin() string {
	if s.named {
		return s.Text
	}
	return texts.Upper(s.Text)
}

// Verdict says which run has the best design within a limit, and how far the
// others are behind in merit.
func Verdict(c *finding.Comparison, limit float64) Sentence {
	v := c.Verdict(limit)
	var words []string
	named := true
	switch {
	case len(v.With) == 1:
		words, named = append(words, "only "+v.With[0].Run+" has a design"), false
	case len(v.With) > 1 && v.Winners == 0:
		words, named = append(words, "no run wins: they rank by different merits"), false
	case len(v.With) > 1:
		words = append(words, winnersText(&v))
		for _, o := range v.With[v.Winners:] {
			words = append(words, fmt.Sprintf("%s scores %s less", o.Run, Less(v.With[0].Row.Score, o.Row.Score)))
		}
	}
	if s := Moves(c.Outcomes(limit)); s != "" {
		words = append(words, s)
	}
	words = append(words, Each(v.Contests, contestText)...)
	if v.Unlike {
		words = append(words, "the recommended builds are not held against each other: the throttle is held back for "+
			"other requirements")
	}
	for _, o := range v.Without {
		if o.Asked {
			words = append(words, o.Run+" has no feasible design")
		} else {
			words = append(words, o.Run+" was not asked")
		}
	}
	return Sentence{strings.Join(words, "; "), named}
}

// winnersText says which of several runs has the best design.
func winnersText(v *finding.Verdict) string {
	best := v.With[0]
	if v.Winners > 1 {
		names := Each(v.With[:v.Winners], func(o finding.Outcome) string { return o.Run })
		return fmt.Sprintf("%s score the same, a nominal merit of %.3f", texts.JoinAnd(names), best.Row.Score)
	}
	return fmt.Sprintf("%s has the highest nominal merit, %.3f", best.Run, best.Row.Score)
}

// contestText says which of two recommended builds has the higher cautious merit, and in
// how many draws it is the better one.
func contestText(k finding.Contest) string {
	a, b := k.A.Chosen.Recommended, k.B.Chosen.Recommended
	if k.Alike {
		return fmt.Sprintf("over draws %s and %s recommend the same build, %s: a cautious merit of %s, all "+
			"requirements kept in %s", k.A.Run, k.B.Run, RecordedBuild(a), Merits(a.Cautious), Probability(a.Feasible))
	}
	s := fmt.Sprintf("over draws the build that %s recommends, %s, has a higher cautious merit than that of %s, %s: "+
		"%s against %s", k.A.Run, RecordedBuild(a), k.B.Run, RecordedBuild(b), Merits(a.Cautious), Merits(b.Cautious))
	if k.Equal {
		s = fmt.Sprintf("over draws the builds that %s and %s recommend, %s and %s, have the same cautious merit, %s",
			k.A.Run, k.B.Run, RecordedBuild(a), RecordedBuild(b), Merits(a.Cautious))
	}
	s += fmt.Sprintf("; all requirements are kept in %s against %s", Probability(a.Feasible), Probability(b.Feasible))
	switch {
	case k.Draws == 0:
		return s + ", with a median merit of " + Merits(*a.Merit.P50) + " against " + Merits(*b.Merit.P50)
	case k.Paired:
		return fmt.Sprintf("%s, and that of %s is better in %s of %d draws that both share, over which its "+
			"cautious merit is "+
			"%s", s, k.A.Run, Probability(k.Better), k.Draws, contested(k.Difference, k.Standard))
	}
	return fmt.Sprintf("%s, and that of %s is better in %s of pairs of their draws, which differ and are taken as "+
		"independent, its cautious merit being %s", s, k.A.Run, Probability(k.Better), contested(k.Difference,
		k.Standard))
}

// contested says by how much a cautious merit is above another, and whether that tells them
// apart: "+0.044 ± 0.008 against the other".
func contested(more, standard float64) string {
	s := differs(more, standard) + " against the other"
	if math.Abs(more) <= decide.Apart*standard {
		s += ": tied"
	}
	return s
}

// Moves says how the diameter of the best design changes from run to run, "" where
// it does not.
func Moves(all []finding.Outcome) string {
	if !finding.Moves(all) {
		return ""
	}
	var each, at []string
	for _, o := range all {
		if o.Row != nil {
			at = append(at, finding.Inch.Number(o.Row.Design.Diameter, 4))
			each = append(each, o.Run+" "+at[len(at)-1]+" in")
		}
	}
	if len(at) == 2 {
		return fmt.Sprintf("the best diameter moves from %s to %s in", at[0], at[1])
	}
	return "the best diameter moves: " + strings.Join(each, ", ")
}

// Why says what may make the best designs differ.
func Why(c *finding.Comparison) string {
	causes := c.Causes()
	differs := "What was asked differs in"
	if slices.ContainsFunc(causes, func(a finding.Aspect) bool { return a.Kind == finding.ModelAspect }) {
		differs = "The runs differ in"
	}
	switch len(causes) {
	case 0:
		return "The runs share all that the best design of a class depends on."
	case 1:
		var said []string
		for i, words := range AspectValues(&causes[0]) {
			said = append(said, c.Runs[i].Name+" "+texts.Or(words, NotAsked))
		}
		return fmt.Sprintf("%s one thing, %s: %s. %s", differs, texts.Lower(AspectTitle(&causes[0])),
			strings.Join(said, "; "), flatOptimum)
	}
	names := Each(causes, func(a finding.Aspect) string { return texts.Lower(AspectTitle(&a)) })
	return fmt.Sprintf("%s %d things: %s. Runs that differ in one of them would tell them apart. %s", differs,
		len(causes), strings.Join(names, ", "), flatOptimum)
}

// flatOptimum says why not every difference between best designs has a cause.
const flatOptimum = "Where many designs score nearly alike, a small change can move the best one far."

// Differences lists how the metrics of a design differ from those of another.
func Differences(c *finding.Comparison, from, to *finding.Row) string {
	return changesText(c.Differences(from, to), 1)
}

// AgainstFirst says of a class what the best design of each run has over that of the
// first that has one, and where it ranks there.
func AgainstFirst(c *finding.Comparison, limit float64) []Sentence {
	all, places := c.Outcomes(limit), c.Places(limit)
	first := slices.IndexFunc(all, func(o finding.Outcome) bool { return o.Row != nil })
	if first < 0 {
		return nil
	}
	base := &all[first]
	var out []Sentence
	for i, o := range all[first+1:] {
		if o.Row == nil {
			continue
		}
		where := "is not among those ranked in " + base.Run
		switch at := places[first+1+i][first]; {
		case finding.DesignKey(o.Row.Design) == finding.DesignKey(base.Row.Design):
			where = "is the same"
		case at > 0:
			where = fmt.Sprintf("ranks %d in %s", at, base.Run)
		}
		text := fmt.Sprintf("%s against %s: %s; its best design %s", o.Run, base.Run,
			Differences(c, base.Row, o.Row), where)
		out = append(out, Sentence{text, true})
	}
	return out
}
