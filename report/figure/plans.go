package figure

import (
	"context"
	"slices"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// plan is a figure that a study can have.
type plan struct {
	name    string
	caption string
	usual   bool // drawn without being asked for by name
	mapped  bool // over two axes of the grid
	// draw makes the figure, or says why this study has none.
	draw func() (f *chart.Figure, lacks string, err error)
}

// Names of the figures beside the maps, in the order of a report.
const (
	confidenceName = "confidence"
	tornadoName    = "tornado"
	sizeName       = "size"
	whyNotName     = "why-not"
	frontName      = "front"
	classesName    = "classes"
	massName       = "mass"
	envelopeName   = "envelope"
	sharesName     = "merit"
	rotorName      = "rotor"
)

// Usual and All stand for figures among those to draw: those that follow from the question and
// the result, and all that a study can have.
const (
	Usual = finding.UsualFigures
	All   = finding.AllFigures
)

// Names lists the figures that can be asked for of a study.
func Names(s *sweep.Study) []string {
	var names []string
	for _, p := range plansOf(context.Background(), &finding.Run{Study: s}, nil) {
		names = append(names, p.name)
	}
	return names
}

// plansOf lists the figures of the study in the order of a report.
func plansOf(ctx context.Context, r *finding.Run, found []finding.Class) []plan {
	always := func(draw func() (*chart.Figure, error)) func() (*chart.Figure, string, error) {
		return func() (*chart.Figure, string, error) {
			f, err := draw()
			return f, "", err
		}
	}
	chosen := func(best, chosen string) string {
		if r.Decides() {
			return chosen
		}
		return best
	}
	sized := sizeCaption
	if finding.Smooth(sizeAxis(r)) {
		sized += sizeLines
	}
	sized += chosen(sizeStars, tiedCaption)
	told := telling(r)
	out := []plan{
		{name: confidenceName, caption: confidenceCaption, usual: true, draw: func() (*chart.Figure, string, error) {
			return confidenceFigure(r, found)
		}},
		{name: sizeName, caption: sized, usual: true, draw: always(func() (*chart.Figure, error) {
			return sizeFigure(r, found)
		})},
	}
	for n, m := range r.Study.Maps {
		out = append(out, plan{name: m.Name(), caption: mapCaption(m), usual: told == nil || told[n], mapped: true,
			draw: always(func() (*chart.Figure, error) { return mapFigure(r, found, n) })})
	}
	of := func(name, caption string, usual bool, draw func() (*chart.Figure, string, error)) {
		out = append(out, plan{name: name, caption: caption, usual: usual, draw: draw})
	}
	of(frontName, frontCaption, true, func() (*chart.Figure, string, error) { return frontFigure(ctx, r, found) })
	of(sharesName, sharesCaption, !r.MayDecide() && len(r.Study.Merit) > 1, func() (*chart.Figure, string, error) {
		return sharesFigure(r, found)
	})
	of(classesName, classesCaption, lined(r.Study), func() (*chart.Figure, string, error) {
		return classesFigure(r, found)
	})
	of(massName, chosen(massCaption, massChosen), true, func() (*chart.Figure, string, error) {
		return MassFigure(r, found)
	})
	of(envelopeName, chosen(envelopeCaption, envelopeChosen), true, func() (*chart.Figure, string, error) {
		return envelopeFigure(r, found)
	})
	of(whyNotName, whyNotCaption, telltale(r, found), func() (*chart.Figure, string, error) {
		return whyNotFigure(r, found), "", nil
	})
	of(rotorName, chosen(rotorCaption, rotorChosen), false, func() (*chart.Figure, string, error) {
		return rotorFigure(r, found)
	})
	of(tornadoName, tornadoCaption, false, func() (*chart.Figure, string, error) { return tornadoFigure(r, found) })
	return out
}

// telling says of each map of the study whether it is drawn unasked, nil where there is no
// result yet, of which any may.
func telling(r *finding.Run) []bool {
	if r.Result == nil {
		return nil
	}
	out := make([]bool, len(r.Study.Maps))
	for _, n := range r.Telling() {
		out[n] = true
	}
	return out
}

// lined says whether a study has three classes or payloads, so that what they cost is a line.
func lined(s *sweep.Study) bool {
	const least = 3
	return len(s.Classes) >= least || len(finding.AxisValues(s.Grid, sweep.Payload)) >= least
}

// telltale says whether the requirements have something to tell beside the tables: a class has
// nothing feasible, or a bound a little looser would have a better answer. Before there is a
// result, or a choice, they may.
func telltale(r *finding.Run, found []finding.Class) bool {
	return r.Result == nil || r.MayDecide() && !r.Decides() || slices.ContainsFunc(found, func(k finding.Class) bool {
		return k.Best() == nil || k.Choice != nil && len(k.Choice.Gaining()) > 0
	})
}
