package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// classOf is the class of a limit, as the first run that has it says.
func classOf(c *Comparison, limit float64) string {
	for _, f := range c.Runs {
		if k := f.Class(limit); k != nil {
			return className(k.Class)
		}
	}
	return mass(limit)
}

const notAsked = "not asked"

// noneText says why a run has no design within a limit.
func noneText(o outcome) string {
	if o.Asked {
		return "none"
	}
	return notAsked
}

// aspectTitle names something asked of a study.
func aspectTitle(a *aspect) string {
	switch a.Kind {
	case modelAspect:
		return "Model"
	case programAspect:
		return "Program"
	case classesAspect:
		return "Classes"
	case axisAspect:
		if d, ok := sweep.LookupAxis(a.Name); ok {
			return d.Title
		}
	case assumptionAspect:
		if d, ok := model.LookupAssumption(a.Name); ok {
			return d.Title
		}
	case requirementAspect:
		if m, ok := model.LookupMetric(a.Name); ok {
			return "Required: " + lower(m.Title)
		}
	case meritAspect:
		return "Ranked by"
	}
	return oneLine(a.Name)
}

// aspectTexts say what each run was asked, "" where it was not.
func aspectTexts(a *aspect) []string {
	return each(a.Values, func(v any) string {
		switch v := v.(type) {
		case string:
			if a.Kind == modelAspect {
				return cmp.Or(model.Other(v), v)
			}
			return v
		case []sweep.Class:
			return strings.Join(each(v, className), ", ")
		case sweep.Axis:
			return axisText(v)
		case Valued[any]:
			return assumedText(a.Name, v)
		case sweep.Requirement:
			return boundText(&v) + defaultMark(sweep.Gate{Requirement: &v})
		case sweep.Merit:
			return meritText(v)
		}
		return ""
	})
}

// assumedText is an assumption that was read back, in the words of this version.
func assumedText(name string, x Valued[any]) string {
	switch v := x.Value.(type) {
	case bool:
		return yesNo(v)
	case float64:
		if d, known := model.LookupAssumption(name); known {
			if f, ok := d.Form.(*model.Quantity); ok {
				return f.Unit().Format(v, 6)
			}
		}
	}
	return oneLine(strings.TrimSpace(fmt.Sprint(x.Value) + " " + x.Unit))
}

// otherModel labels a run of another version of the model than this program's.
func otherModel(f *Finished) string {
	if other := model.Other(f.Model); other != "" {
		return ", model " + other
	}
	return ""
}

// defaultMark says of a gate whose bound nobody set that it is the default.
func defaultMark(g sweep.Gate) string {
	if g.Requirement != nil && g.Requirement.Default {
		return " (default)"
	}
	return ""
}

// sentence is words that may begin with the name of a run, which stays as it is written.
type sentence struct {
	Text  string
	Named bool // begins with one
}

// begin is the sentence as one by itself begins.
func (s sentence) begin() string {
	if s.Named {
		return s.Text
	}
	return upper(s.Text)
}

// verdictText says which run has the best design within a limit, and how far the
// others are behind in merit.
func verdictText(c *Comparison, limit float64) sentence {
	v := c.verdict(limit)
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
			text := fmt.Sprintf("%s scores %s less", o.Run, lessText(v.With[0].Row.Score, o.Row.Score))
			if v.close(o) {
				text += ", " + closeWords(&v)
			}
			words = append(words, text)
		}
	}
	if s := movesText(c.outcomes(limit)); s != "" {
		words = append(words, s)
	}
	for _, o := range v.Without {
		if o.Asked {
			words = append(words, o.Run+" has no feasible design")
		} else {
			words = append(words, o.Run+" was not asked")
		}
	}
	return sentence{strings.Join(words, "; "), named}
}

// winnersText says which of several runs has the best design.
func winnersText(v *verdict) string {
	best := v.With[0]
	if v.Winners > 1 {
		names := each(v.With[:v.Winners], func(o outcome) string { return o.Run })
		return fmt.Sprintf("%s score the same, a merit of %.3f", joinAnd(names), best.Row.Score)
	}
	wins := "wins"
	if slices.ContainsFunc(v.With[1:], v.close) {
		wins = "leads"
	}
	return fmt.Sprintf("%s %s with a merit of %.3f", best.Run, wins, best.Row.Score)
}

// closeWords says of a difference between runs that it is within closeCall. Runs of
// one model have most of its error in common.
func closeWords(v *verdict) string {
	if !v.OneModel {
		return tooClose
	}
	return "within the model's error (" + closeText + "), most of which the runs share"
}

// movesText says how the diameter of the best design changes from run to run, "" where
// it does not.
func movesText(all []outcome) string {
	if !moves(all) {
		return ""
	}
	var each, at []string
	for _, o := range all {
		if o.Row != nil {
			at = append(at, inch.Number(o.Row.Design.Diameter, 4))
			each = append(each, o.Run+" "+at[len(at)-1]+" in")
		}
	}
	if len(at) == 2 {
		return fmt.Sprintf("the best diameter moves from %s to %s in", at[0], at[1])
	}
	return "the best diameter moves: " + strings.Join(each, ", ")
}

// whyText says what may make the best designs differ.
func whyText(c *Comparison) string {
	causes := c.causes()
	differs := "What was asked differs in"
	if slices.ContainsFunc(causes, func(a aspect) bool { return a.Kind == modelAspect }) {
		differs = "The runs differ in"
	}
	switch len(causes) {
	case 0:
		return "The runs share all that the best design of a class depends on."
	case 1:
		var said []string
		for i, words := range aspectTexts(&causes[0]) {
			said = append(said, c.Runs[i].Name+" "+textOr(words, notAsked))
		}
		return fmt.Sprintf("%s one thing, %s: %s. %s", differs, lower(aspectTitle(&causes[0])),
			strings.Join(said, "; "), flatOptimum)
	}
	names := each(causes, func(a aspect) string { return lower(aspectTitle(&a)) })
	return fmt.Sprintf("%s %d things: %s. Runs that differ in one of them would tell them apart. %s", differs,
		len(causes), strings.Join(names, ", "), flatOptimum)
}

// flatOptimum says why not every difference between best designs has a cause.
const flatOptimum = "Where many designs score nearly alike, a small change can move the best one far."

// differencesText lists how the metrics of a design differ from those of another.
func differencesText(c *Comparison, from, to *row) string {
	return changesText(c.differences(from, to), 1)
}

// againstFirst says of a class what the best design of each run has over that of the
// first that has one, and where it ranks there.
func againstFirst(c *Comparison, limit float64) []sentence {
	all, places := c.outcomes(limit), c.places(limit)
	first := slices.IndexFunc(all, func(o outcome) bool { return o.Row != nil })
	if first < 0 {
		return nil
	}
	base := &all[first]
	var out []sentence
	for i, o := range all[first+1:] {
		if o.Row == nil {
			continue
		}
		where := "is not among those ranked in " + base.Run
		switch at := places[first+1+i][first]; {
		case designKey(o.Row.Design) == designKey(base.Row.Design):
			where = "is the same"
		case at > 0:
			where = fmt.Sprintf("ranks %d in %s", at, base.Run)
		}
		text := fmt.Sprintf("%s against %s: %s; its best design %s", o.Run, base.Run,
			differencesText(c, base.Row, o.Row), where)
		out = append(out, sentence{text, true})
	}
	return out
}
