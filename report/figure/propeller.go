package figure

import (
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

const (
	rotorCaption = "The propeller of a best design" + rotorShows
	rotorChosen  = "The propeller of a recommended build" + rotorShows
	rotorShows   = ": thrust and power coefficient and efficiency against advance " +
		"ratio at the speeds of rotation of hover and of full throttle."
)

// rotorFigure draws the propeller of the first class that has a best design.
func rotorFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	for i := range found {
		picks := found[i].Picks()
		if len(picks) == 0 {
			continue
		}
		first := &picks[0]
		curves := CraftRotor(first.Design, first.Craft)
		curves.Propeller = partText(first.Part) + " at " + words.Mass(found[i].Class.Limit) + ": " + curves.Propeller
		f, err := curves.Figure()
		if f == nil || err != nil {
			return f, "", err
		}
		f.Subtitle = subtitled(r, f.Subtitle)
		if first.Part != finding.BestPart {
			f.Title = "Propeller of the recommended build: " + texts.Lower(f.Title)
			f.Note += otherPropeller(picks)
		}
		return f, "", nil
	}
	return nil, "no feasible design", nil
}

// otherPropeller says which propeller the nominal best has beside that of the recommended
// build, which is drawn.
func otherPropeller(picks []finding.Pick) string {
	if len(picks) < 2 {
		return " The recommended build is the nominal best."
	}
	a, b := words.Propeller(picks[0].Design, " × "), words.Propeller(picks[1].Design, " × ")
	if a == b {
		return " The nominal best has the same propeller."
	}
	return " The nominal best has another propeller, " + b + " blades, which is not drawn."
}
