package figure

import (
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

const rotorCaption = "The propeller of a best design: thrust and power coefficient and efficiency against advance " +
	"ratio at the speeds of rotation of hover and of full throttle."

// rotorFigure draws the propeller of the first class that has a best design.
func rotorFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	for i := range found {
		e := found[i].Best()
		if e == nil {
			continue
		}
		curves := CraftRotor(e.Design, e.Craft)
		curves.Propeller = "best at " + words.Mass(found[i].Class.Limit) + ": " + curves.Propeller
		f, err := curves.Figure()
		if f != nil {
			f.Subtitle = subtitled(r, f.Subtitle)
		}
		return f, "", err
	}
	return nil, "no feasible design", nil
}
