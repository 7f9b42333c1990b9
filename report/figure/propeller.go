package figure

import (
	"fmt"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

const (
	rotorCaption = "The propeller of each best design" + rotorShows
	rotorChosen  = "The propeller of each recommended build" + rotorShows
	rotorShows   = ": thrust and power coefficient and efficiency against advance ratio, of several propellers at " +
		"the speed of rotation of full throttle, of a single one at that of hover as well. A star marks what is past " +
		"all that was measured of its size."
)

// turned is a propeller of some classes with its curves.
type turned struct {
	curves  RotorCurves
	picks   []finding.Pick
	limits  []string
	hover   float64 // rev/s
	full    float64
	chosen  bool
	measure bool // full throttle lies within what was measured of its size
}

// rotorFigure draws the propellers of all classes that have a best design.
func rotorFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	var all []turned
	for i := range found {
		picks := found[i].Picks()
		if len(picks) == 0 {
			continue
		}
		first := &picks[0]
		limit := words.Mass(found[i].Class.Limit)
		c := first.Craft
		x := turned{CraftRotor(first.Design, c), picks, []string{limit}, c.Hover.Speed, c.Powertrain.Full.Speed,
			first.Part != finding.BestPart, false}
		x.measure = x.curves.tipMach(x.full) <= x.curves.MeasuredTipMach
		all = append(all, x)
	}
	switch {
	case len(all) == 0:
		return nil, "no feasible design", nil
	case len(all) > 1:
		f, err := comparedRotors(r, all[:min(len(all), mostRotorSpeeds)])
		return f, "", err
	}
	one := &all[0]
	one.curves.Propeller = words.PartName(one.picks[0].Part) + " at " + one.limits[0] + ": " + one.curves.Propeller
	f, err := one.curves.Figure()
	if f == nil || err != nil {
		return f, "", err
	}
	f.Subtitle = subtitled(r, f.Subtitle)
	if one.chosen {
		f.Title = "Propeller of the recommended build: " + texts.Lower(f.Title)
		f.Note += otherPropeller(one.picks)
	}
	return f, "", nil
}

// comparedRotors draws the propellers of several classes, each at full throttle.
func comparedRotors(r *finding.Run, all []turned) (*chart.Figure, error) {
	f := &chart.Figure{
		Subtitle: subtitleOf(r, "at the speed of rotation of full throttle"),
		Note: "CT = T/(ρ n² D⁴), CP = P/(ρ n³ D⁵), J = V/(n D), efficiency J CT/CP; each curve ends at zero thrust. " +
			"Marks: at rest, at the speed of rotation of hover.",
	}
	x := chart.Axis{Label: "advance ratio J [-]"}
	for _, label := range [3]string{"CT [-]", "CP [-]", "efficiency [-]"} {
		f.Panels = append(f.Panels, chart.Panel{Title: texts.Upper(label), Y: chart.Axis{}})
	}
	past := false
	var peaks []finds
	for k := range all {
		t := &all[k]
		c, err := t.curves.curve(t.full)
		if err != nil {
			return nil, err
		}
		name := fmt.Sprintf("%s: %s, %s", t.limits[0], t.curves.Propeller, t.curves.turnsText(t.full))
		if !t.measure {
			past = true
			name += " *"
		}
		eta, J := c.peak()
		peaks = append(peaks, finds{fmt.Sprintf("%.2f at J = %.2f", eta, J), t.limits[0] + words.Star(!t.measure)})
		CT, CP, err := t.curves.At(0, t.hover)
		if err != nil {
			return nil, err
		}
		x.Max = max(x.Max, c.J[len(c.J)-1])
		for i, y := range [3][]float64{c.CT, c.CP, c.eta} {
			p := &f.Panels[i]
			p.Lines = append(p.Lines, chart.Line{Family: name, X: c.J, Y: y})
			for _, v := range y {
				p.Y.Max = max(p.Y.Max, v)
			}
			if i < 2 {
				v := [2]float64{CT, CP}[i]
				p.Y.Max = max(p.Y.Max, v)
				p.Points = append(p.Points, chart.Points{Family: "hover", Hollow: true, X: []float64{0},
					Y: []float64{v}})
			}
		}
	}
	x.Max = roundUp(x.Max)
	x.Min = -0.04 * x.Max // what stands at J = 0 keeps clear of the frame
	for i := range f.Panels {
		f.Panels[i].X = x
		f.Panels[i].Y.Max = roundUp(1.05 * f.Panels[i].Y.Max)
	}
	best, _ := gathered(peaks)
	f.Title = "Peak efficiency of the propellers of the best designs: " + allAt(best, "", ", ")
	if all[0].chosen {
		f.Title = "Peak efficiency of the recommended builds' propellers: " + allAt(best, "", ", ")
	}
	if past {
		f.Note += " * past what was measured of propellers of that size; beyond by theory."
	}
	return f, nil
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
