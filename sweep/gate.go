package sweep

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/motor"
)

// Gates that every study has, before its requirements.
const (
	GateClass     = 0 // all-up weight within the class
	GateOperating = 1 // hover and full throttle exist
)

// Gate is one check in the order in which designs are checked. Texts say requirement.
type Gate struct {
	Name        string       // of the metric, or "class" or "no-operating-point"
	Requirement *Requirement // nil for the gates that every study has
}

// Gates lists the checks in their order: weight class, operating points, then
// the requirements by the stage of their metric, in the order given within one
// stage. A design is tallied at the first gate that it does not pass.
func (s *Study) Gates() []Gate {
	gates := []Gate{{Name: "class"}, {Name: "no-operating-point"}}
	for _, r := range s.ordered() {
		gates = append(gates, Gate{Name: r.Metric.Name, Requirement: &r})
	}
	return gates
}

func (s *Study) ordered() []Requirement {
	rs := slices.Clone(s.Require)
	slices.SortStableFunc(rs, func(a, b Requirement) int { return int(a.Metric.Stage) - int(b.Metric.Stage) })
	return rs
}

// usualTipMach bounds the full-throttle tip Mach number: well-matched craft turn
// their propellers at about 200 m/s, and noise, drag and the strength of blades end
// most below 240 (common practice). The model is valid beyond.
const usualTipMach = 0.7

// DefaultRequirements are the bounds that a study has until its user sets
// others on the same metric: what parts tolerate, and the least of control (common
// practice).
func DefaultRequirements() []Requirement {
	bound := func(name string, atLeast bool, v float64) Requirement {
		m, ok := model.LookupMetric(name)
		if !ok {
			panic("sweep: no metric " + name)
		}
		return Requirement{Metric: m, AtLeast: atLeast, Bound: v, Default: true}
	}
	return []Requirement{
		bound("thrust-to-weight", true, 2),
		bound("tip-mach", false, usualTipMach),
		bound("capacity-per-cell", true, 150*3.6), // 4S from 600 mAh, 6S from 900: smaller ones are hardly sold
		bound("winding-load", false, 1),
		bound("torque-load", false, 1),
		bound("controller-rating", false, 80),
		bound("pack-load", false, model.UsualPackLoad),
		bound("voltage-margin", true, 0),
		bound("hover-throttle", false, 0.75),
		bound("motor-temperature", false, motor.ContinuousLimit),
		bound("burst-time", true, 10), // a climb
		bound("cruise-motor-temperature", false, motor.ContinuousLimit),
	}
}

// FitRequirements are the bounds that a study of parts that exist has until its user sets others
// on the same metric: that parts fit each other, as far as they state it.
func FitRequirements(g *Grid) (all []Requirement) {
	bound := func(name string) {
		m, _ := model.LookupMetric(name)
		all = append(all, Requirement{Metric: m, Bound: 1, Default: true})
	}
	for _, x := range partReads {
		if x.fit && g.states(x.what) {
			bound(x.metric)
		}
	}
	return all
}

// DefaultMerit weighs time against thrust (common practice: both are asked for
// first), over ranges that reach past what designs attain.
func DefaultMerit() Merit {
	term := func(name string, weight, worst, best float64) Term {
		m, ok := model.LookupMetric(name)
		if !ok {
			panic("sweep: no metric " + name)
		}
		return Term{Metric: m, Weight: weight, Worst: worst, Best: best}
	}
	return Merit{
		term("hover-time", 0.5, 3*60, 40*60),
		term("thrust-to-weight", 0.5, 2, 14),
	}
}
