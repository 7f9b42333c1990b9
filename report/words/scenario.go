package words

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// Scenario names a scenario of a study by its place: "2000 m, air 35 °C".
func Scenario(s *sweep.Study, at int) string {
	in := s.Models()
	return model.ScenarioName(in[at], in)
}

// ScenarioNames are those of all scenarios of a study.
func ScenarioNames(s *sweep.Study) (all []string) {
	for i := range s.Models() {
		all = append(all, Scenario(s, i))
	}
	return all
}

// Place says where designs fly: the air of a study, or its scenarios.
func Place(s *sweep.Study) string {
	if len(s.Others) > 0 {
		return Scenarios(s)
	}
	return Air(s.Model)
}

// PlaceBriefly is Place in a few words: the air, or how many scenarios there are.
func PlaceBriefly(s *sweep.Study) string {
	if len(s.Others) > 0 {
		return fmt.Sprintf("%d scenarios", len(s.Models()))
	}
	return AirBriefly(s.Model)
}

// BindsBriefly names the scenario of a design's least merit; "" of a study of one.
func BindsBriefly(s *sweep.Study, e *finding.Entry) string {
	if len(s.Others) == 0 {
		return ""
	}
	return fmt.Sprintf("scenario %d, where its merit is least: %s", e.Scenario()+1, Scenario(s, e.Scenario()))
}

// Scenarios lists those of a study, with what a design has over them.
func Scenarios(s *sweep.Study) string {
	all := ScenarioNames(s)
	for i := range all {
		all[i] = fmt.Sprintf("%d: %s", i+1, all[i])
	}
	if air := airOfAll(s); air != "" {
		all = append(all, "all: "+air)
	}
	return fmt.Sprintf("%d, in each of which a design keeps its requirements; it is ranked by %s. %s",
		len(s.Models()), Over(s.Over), strings.Join(all, "; "))
}

// airOfAll says of the air what the names of scenarios do not, since all have it; "" for nothing.
func airOfAll(s *sweep.Study) string {
	differ := func(name string) bool {
		return slices.ContainsFunc(model.Differing(s.Models()), func(d *model.AssumptionDef) bool {
			return d.Name == name
		})
	}
	switch high, hot := differ("altitude"), differ("temperature"); {
	case high && hot:
		return ""
	case high && s.Model.Assume.Temperature == 0:
		return "air of the standard atmosphere"
	case high:
		return "air " + finding.Celsius.Format(s.Model.Air.Temperature, 3)
	case hot:
		return fmt.Sprintf("%.6g m", s.Model.Air.Altitude)
	}
	return AirBriefly(s.Model)
}

// Over is what ranks a design over scenarios.
func Over(o sweep.Over) string {
	if o == sweep.Mean {
		return "the mean of its merits"
	}
	return "the least of its merits"
}

// Binds says after what a design scores that this is in the scenario of its least merit; "" of a study
// of one.
func Binds(s *sweep.Study, e *finding.Entry) string {
	switch {
	case len(s.Others) == 0:
		return ""
	case s.Over == sweep.Mean:
		return fmt.Sprintf(", in scenario %d, which binds; its mean over all is %.3f", e.Scenario()+1, e.Score)
	}
	return fmt.Sprintf(", in scenario %d, which binds", e.Scenario()+1)
}

// ScenarioTold says in which scenario a design is told of, and why.
func ScenarioTold(x *finding.Scenarios) string {
	name := model.ScenarioName(x.Models[x.Telling], x.Models)
	if x.Broken {
		return fmt.Sprintf("One of %d scenarios, the first in which it does not keep all: %s", len(x.Models), name)
	}
	return fmt.Sprintf("One of %d scenarios, that of the least merit: %s", len(x.Models), name)
}

// SideScenario is ScenarioTold of a design that is held against another, with what its merit is of.
func SideScenario(x *finding.Scenarios) string {
	told := ScenarioTold(x)
	switch {
	case !finding.Finite(x.Merit):
	case x.Over == sweep.Mean:
		told += "; the merit, its terms and their metrics are the mean of all scenarios"
	case x.Broken:
		told += "; the merit and its terms are of the scenario in which it is least"
	}
	return told
}

// ScenarioFall says how many of the rejected designs of a class fall in which scenario; "" of a study of one.
func ScenarioFall(s *sweep.Study, k *sweep.ClassResult) string {
	if len(s.Others) == 0 {
		return ""
	}
	var all []string
	for i := range s.Models() {
		n := FallenIn(k, i)
		all = append(all, fmt.Sprintf("%s in scenario %d", texts.Grouped(n), i+1))
	}
	return texts.JoinAnd(all) + ", each in the first in which it fails"
}

// FallenIn is how many designs of a class are rejected in a scenario, but for those that are too heavy
// in all.
func FallenIn(k *sweep.ClassResult, at int) (n uint64) {
	for g := range k.Rejected {
		if g != sweep.GateClass {
			n += k.FallenIn(at, g)
		}
	}
	return n
}

// ScenarioAssumptions are those of a scenario in which the scenarios differ, as machines are given them.
func ScenarioAssumptions(m *model.Model, among []*model.Model) finding.Named[any] {
	var out finding.Named[any]
	for _, d := range model.Differing(among) {
		a := assumptionOf(m, d)
		symbol := ""
		if a.Kind != nil {
			symbol = a.Kind.SI().Symbol
		}
		out.Add(a.Name, a.Told, symbol)
	}
	return out
}

func scenarioRecords(s *sweep.Study) (all []finding.ScenarioRecord) {
	if len(s.Others) == 0 {
		return nil
	}
	in := s.Models()
	for i, m := range in {
		all = append(all, finding.ScenarioRecord{Name: Scenario(s, i), Assumptions: ScenarioAssumptions(m, in)})
	}
	return all
}

// RankedOver says on a ranking that follows other weights what of it is of one scenario; "" of a study
// of one.
func RankedOver(s *sweep.Study) string {
	switch {
	case len(s.Others) == 0:
		return ""
	case s.Over == sweep.Mean:
		return "Over scenarios the merit is the mean, which other weights do not change here: run the study again " +
			"with them. "
	}
	return "Metrics are of the scenario that binds with the weights of the run; with others another may. "
}

func overRecord(s *sweep.Study) string {
	if len(s.Others) == 0 {
		return ""
	}
	return s.Over.String()
}

// InScenarios says in which scenarios designs are told of, by their places.
func InScenarios(s *sweep.Study, in []int) string {
	var all []string
	for _, at := range in {
		if name := Scenario(s, at); !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	return "In the scenario of the least merit: " + strings.Join(all, "; ")
}

// DrawnOver says after what draws are of what they are of several scenarios; "" of a study of one.
func DrawnOver(s *sweep.Study) string {
	if len(s.Others) == 0 {
		return ""
	}
	return "; a draw keeps what it keeps in every scenario, and metrics over draws are told where they are worst"
}

// Surely says after the metrics of a front that they are those that a design has in every scenario; "" of
// a study of one.
func Surely(s *sweep.Study) string {
	if len(s.Others) == 0 {
		return ""
	}
	return ", each as in the scenario in which it is worst"
}
