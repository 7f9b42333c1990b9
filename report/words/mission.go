package words

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// statement is one line of a mission: what, and in words.
type statement struct{ What, Words string }

// Mission says in words what a study was asked.
func Mission(r *finding.Run) []statement {
	s := r.Study
	var classes []string
	for _, k := range s.Classes {
		classes = append(classes, ClassName(k))
	}
	var swept, fixed []string
	payload := ""
	for _, a := range s.Grid.Axes() {
		switch text := AxisTitle(a.Def) + " " + axisText(a); {
		case a.Def == sweep.Payload:
			payload = axisText(a)
		default:
			if a.Def == sweep.Chord && len(a.Values) == 1 && a.Values[0] == 0 {
				text = "blade chord as usual for the diameter"
			}
			if len(a.Values) > 1 {
				swept = append(swept, text)
			} else {
				fixed = append(fixed, text)
			}
		}
	}
	if payload == "0 g" {
		payload = "none"
	}
	a := s.Model.Assume
	age := "new"
	if a.PackAged {
		age = "aged"
	}
	state := fmt.Sprintf(" at %s, %s", finding.Celsius.Format(a.PackTemperature, 4), age)
	for _, d := range model.Differing(s.Models()) {
		if d.Name == "pack-temperature" || d.Name == "pack-aged" {
			state = "" // the scenarios say it
		}
	}
	out := []statement{
		{"Question", fmt.Sprintf("Which propeller, motor and pack suit a quad within %s of all-up weight?",
			texts.JoinOr(classes))},
		{"Payload", payload},
		{placeTitle(s), Place(s)},
		{"Pack", fmt.Sprintf("%s (%s)%s; full throttle is judged at a charge of %.4g %%", a.PackGrade.Name,
			a.PackGrade.Meaning, state, 100*a.Charge)},
		{"Required", requirementsText(s)},
		{"Ranked by", Merit(s.Merit)},
		{"Swept", texts.Or(strings.Join(swept, "; "), "nothing")},
	}
	if len(fixed) > 0 {
		out = append(out, statement{"Fixed", strings.Join(fixed, "; ")})
	}
	var feasible []string
	for i := range r.Result.Classes {
		k := &r.Result.Classes[i]
		feasible = append(feasible, fmt.Sprintf("%s %s (%s)", ClassLabel(k.Class), texts.Grouped(k.Feasible),
			Share(k.Feasible, r.Result.Done)))
	}
	return append(out, statement{"Judged", fmt.Sprintf("%s of %s designs; feasible: %s",
		texts.Grouped(r.Result.Done), texts.Grouped(s.Grid.Size()), strings.Join(feasible, ", "))})
}

func placeTitle(s *sweep.Study) string {
	if len(s.Others) > 0 {
		return "Scenarios"
	}
	return "Air"
}

// Air is the air in words.
func Air(m *model.Model) string {
	kind := "given"
	if m.Assume.Temperature == 0 {
		kind = "standard"
	}
	return fmt.Sprintf("altitude %.6g m, temperature %s (%s): density %.4g kg/m³, speed of sound %.4g m/s",
		m.Air.Altitude, finding.Celsius.Format(m.Air.Temperature, 3), kind, m.Air.Density, m.Air.SoundSpeed)
}

func requirementsText(s *sweep.Study) string {
	var all []string
	some := false
	for _, g := range s.Gates() {
		q := g.Requirement
		if q == nil {
			continue
		}
		text := texts.Lower(q.Metric.Title) + " " + Bound(q)
		if q.Default {
			text += "†"
			some = true
		}
		all = append(all, text)
	}
	if len(all) == 0 {
		return "nothing beyond the weight limit"
	}
	out := strings.Join(all, "; ")
	if some {
		out += "  († default)"
	}
	return out
}

// Merit is a merit in words: "50 % hover time (0 at 3 min, 1 at 18 min) + ...".
func Merit(m sweep.Merit) string {
	var sum float64
	for _, t := range m {
		sum += t.Weight
	}
	var all []string
	for _, t := range m {
		all = append(all, fmt.Sprintf("%.3g %% %s (0 at %s, 1 at %s)", 100*t.Weight/sum, texts.Lower(t.Metric.Title),
			t.Metric.Unit.Format(t.Worst, 5), t.Metric.Unit.Format(t.Best, 5)))
	}
	return strings.Join(all, " + ")
}
