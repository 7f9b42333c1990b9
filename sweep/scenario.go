package sweep

import (
	"fmt"
	"math"

	"rotorsieve/model"
)

// A study may have scenarios: conditions of flight, of each of which there is a model. A design is
// built once, by the model of the study, and is feasible where it passes all gates in every scenario.
// It ends at the first gate that it does not pass in the first scenario, in their order, in which it
// fails. Its merit is the least of those of the scenarios, or their mean; a metric by which maps and
// the front judge counts as in the scenario where it is worst, since that much a design has in all.
//
// What bounds a design in one scenario bounds all that: so the first scenario spares as a study of it
// alone would, and what it leaves goes on to the next.

// Over says how the merit of a design follows from its merits in the scenarios.
type Over int

// What a merit is over several scenarios.
const (
	Worst Over = iota // the least
	Mean
)

// Overs are all of them, the default first.
var Overs = []Over{Worst, Mean}

func (o Over) String() string {
	if o == Mean {
		return "mean"
	}
	return "worst"
}

// of says what a merit over scenarios is.
func (o Over) of() string {
	if o == Mean {
		return "mean of those of the scenarios"
	}
	return "the least of those of the scenarios"
}

// Models are those of all scenarios, in their order.
func (s *Study) Models() []*model.Model { return append([]*model.Model{s.Model}, s.Others...) }

// Scenario is the place of a craft's scenario among those of the study.
func (s *Study) Scenario(c *model.Craft) int {
	for i, m := range s.Others {
		if m == c.Model {
			return i + 1
		}
	}
	return 0
}

// MeritOf is the merit of a design by its crafts in all scenarios.
func (s *Study) MeritOf(crafts []*model.Craft) float64 {
	first := s.Merit.Of(crafts[0])
	if len(crafts) == 1 {
		return first
	}
	least, sum := first, first
	for _, c := range crafts[1:] {
		v := s.Merit.Of(c)
		least, sum = min(least, v), sum+v
	}
	if s.Over == Mean {
		return sum / float64(len(crafts))
	}
	return least
}

// Binding is the place of the craft of the least merit among those of all scenarios; of equal ones
// the first.
func (s *Study) Binding(crafts []*model.Craft) (at int) {
	if len(crafts) == 1 {
		return 0
	}
	least := math.Inf(1)
	for i, c := range crafts {
		if v := s.Merit.Of(c); v < least {
			least, at = v, i
		}
	}
	return at
}

// Telling is the place of the craft, among those of all scenarios, by which a design is told of: the
// first that breaks a requirement, or else that of Binding.
func (s *Study) Telling(crafts []*model.Craft) int {
	if len(crafts) == 1 {
		return 0
	}
	for i, c := range crafts {
		for _, r := range s.Require {
			if !(r.Metric.ByClass && c.Limit == 0) && !r.Kept(r.Metric.Of(c)) {
				return i
			}
		}
	}
	return s.Binding(crafts)
}

// WorstOf is a metric of a design where it is worst among its crafts in all scenarios, NaN where one
// of them has none; of a metric of which neither direction is better that of the first.
func WorstOf(m *model.Metric, crafts []*model.Craft) float64 {
	v := m.Of(crafts[0])
	for _, c := range crafts[1:] {
		switch m.Better {
		case model.Higher:
			v = min(v, m.Of(c))
		case model.Lower:
			v = max(v, m.Of(c))
		}
	}
	return v
}

// checkScenarios refuses scenarios that are not those of one craft, or whose first is not the one
// that its controllers are bought for.
func (s *Study) checkScenarios() error {
	if len(s.Others) == 0 {
		return nil
	}
	in, err := model.Scenarios(s.Models())
	if err != nil {
		return err
	}
	if in[0] != s.Model {
		return fmt.Errorf("scenarios begin with %s, want them in the order of model.Scenarios",
			model.ScenarioName(s.Model, in))
	}
	return nil
}

// inScenario is the study of one scenario alone.
func (s *Study) inScenario(m *model.Model) *Study {
	one := *s
	one.Model, one.Others = m, nil
	return &one
}

// values gives the metrics of a front of crafts in all scenarios, each where it is worst.
func (f *frontSpec) worst(crafts []*model.Craft) (v [maxFront]float64) {
	v = f.values(crafts[0])
	for _, c := range crafts[1:] {
		for i, x := range f.values(c) {
			v[i] = min(v[i], x)
		}
	}
	return v
}
