package figure

import (
	"context"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// plan is a figure that a study can have.
type plan struct {
	name    string
	caption string
	usual   bool // drawn without being asked for by name
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
	rotorName      = "rotor"
)

// All stands for all usual figures among those to draw.
const All = finding.AllFigures

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
	told := func(best, chosen string) string {
		if r.Decides() {
			return chosen
		}
		return best
	}
	sized := sizeCaption + told(sizeStars, tiedCaption)
	out := []plan{{confidenceName, confidenceCaption, true, func() (*chart.Figure, string, error) {
		return confidenceFigure(r, found)
	}}, {sizeName, sized, true, always(func() (*chart.Figure, error) {
		return sizeFigure(r, found)
	})}}
	for n, m := range r.Study.Maps {
		out = append(out, plan{m.Name(), mapCaption, !m.Implied || usualMap(m),
			always(func() (*chart.Figure, error) { return mapFigure(r, found, n) })})
	}
	return append(out,
		plan{whyNotName, whyNotCaption, true, always(func() (*chart.Figure, error) {
			return whyNotFigure(r, found),
				nil
		})},
		plan{frontName, frontCaption, true, func() (*chart.Figure, string,
			error) {
			return frontFigure(ctx, r, found)
		}},
		plan{classesName, classesCaption, true, func() (*chart.Figure, string,
			error) {
			return classesFigure(r, found)
		}},
		plan{massName, told(massCaption, massChosen), true, func() (*chart.Figure, string,
			error) {
			return MassFigure(r, found)
		}},
		plan{envelopeName, told(envelopeCaption, envelopeChosen), true, func() (*chart.Figure, string,
			error) {
			return envelopeFigure(r, found)
		}},
		plan{rotorName, told(rotorCaption, rotorChosen), true, func() (*chart.Figure, string,
			error) {
			return rotorFigure(r, found)
		}},
		plan{tornadoName, tornadoCaption, true, func() (*chart.Figure, string, error) {
			return tornadoFigure(r, found)
		}},
	)
}
