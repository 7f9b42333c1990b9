package figure

import (
	"fmt"
	"slices"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

const confidenceCaption = "Which build will probably do, class by class, over draws of all that the model " +
	"may err by. Above: the merit of each value's best build. In the middle: in how many draws that build is ahead " +
	"of the recommended one, level or behind; a heavy line marks what is tied with it, its cautious merit being " +
	"at most two standard errors of the difference below. " +
	"Below: the best merit of the builds that keep their requirements at least so often."

// Families of the lines and areas of the figure.
const (
	bandFamily     = "merit, 10th to 90th percentile of the draws"
	medianFamily   = "median merit"
	cautiousFamily = "cautious merit, which ranks"
	nominalFamily  = "nominal merit"
	aheadFamily    = "ahead of the recommended build"
	levelFamily    = "level"
	behindFamily   = "behind"
	tiedFamily     = "tied with the recommended build"
	apartFamily    = "two standard errors of the difference"
	firstFamily    = "cautious merit of the recommended build"
	fallFamily     = "nominal best, from its nominal to its cautious merit"
)

// mostDotted is how many values of all panels side by side have room for a dot each.
const mostDotted = 60

// decidedClasses is how many classes stand side by side.
const decidedClasses = 4

// choices are the classes that have a choice, of many the lightest, the widest and some
// between.
func choices(found []finding.Class, most int) (shown []*finding.Class, all int) {
	var with []*finding.Class
	var at []float64
	for i := range found {
		if found[i].Choice != nil {
			at = append(at, float64(len(with)))
			with = append(with, &found[i])
		}
	}
	for _, n := range spread(at, most) {
		shown = append(shown, with[int(n)])
	}
	return shown, len(with)
}

// indexOf is the place of a class.
func indexOf(found []finding.Class, k *finding.Class) int {
	return slices.IndexFunc(found, func(x finding.Class) bool { return x.ClassResult == k.ClassResult })
}

// undecided says why a run has no figure of its choice: it is said where it was asked for.
func undecided(r *finding.Run, name string, shown int) string {
	switch {
	case r.Decision != nil && shown == 0:
		return "no feasible design"
	case r.Decision == nil && slices.Contains(r.Figures, name):
		return "a run without draws"
	}
	return ""
}

// confidenceFigure draws what the draws say of each value of an axis, class by class.
func confidenceFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	shown, all := choices(found, decidedClasses)
	if len(shown) == 0 {
		return nil, undecided(r, confidenceName, 0), nil
	}
	var out words.Outside
	marks := recommendedMarks(r, found, &out)
	f := &chart.Figure{
		Title: confidenceTitle(found, marks),
		Subtitle: subtitleOf(r, fmt.Sprintf("%s draws", texts.Grouped(uint64(r.Decision.Fresh))),
			"seed "+fmt.Sprint(r.Decision.Seed)),
		Note: "P(feasible): the share of draws in which a build keeps all requirements, as in the titles. Merit: " +
			words.Merit(r.Study.Merit) + "; a draw that breaks a requirement counts 0. " +
			"Cautious: the mean of the 10th to the 50th percentile",
		Families: []string{aheadFamily, behindFamily, levelFamily}, // neighbours in the bars differ most
		Columns:  len(shown), Width: 10,
		Rows: []float64{2, 0.85, 0.85},
		Star: recommendedStar, Ring: nominalRing,
	}
	var rows [][]chart.Panel
	for _, k := range shown {
		for n, p := range classConfidence(k.Choice, len(shown)) {
			if n == len(rows) {
				rows = append(rows, nil)
			}
			rows[n] = append(rows[n], p)
		}
	}
	if len(rows) > 1 {
		f.Note += apartText(leaveHidden(rows[0]))
	}
	f.Note += ". A band begins at 0 where one draw in ten or more fails."
	if all > len(shown) {
		f.Note += fmt.Sprintf(" %d of %d classes are drawn.", len(shown), all)
	}
	for i, k := range shown {
		first := &rows[0][i]
		first.Title = words.ClassName(k.Class) + marks[indexOf(found, k)]
		if len(found) > 1 {
			first.Title += ": " + panelText(k.Choice, len(shown))
			if rest := restText(k.Choice); rest != "" {
				f.Note += " At " + words.Mass(k.Class.Limit) + " " + rest + "."
			}
		}
	}
	if last := rows[len(rows)-1]; len(rows) > 1 && !slices.ContainsFunc(last, func(p chart.Panel) bool {
		return len(p.Points[0].X) > 0
	}) {
		rows = rows[:len(rows)-1]
		f.Rows = f.Rows[:len(rows)]
		if line := shown[0].Choice.Line; len(line) > 0 {
			f.Note += " No build has a P(feasible) of " + words.Probability(line[0].Feasible) + "."
		}
	}
	for n, row := range rows { // on one scale
		most, room := 0.0, 1.02
		if n == len(rows)-1 { // low, with marks that are seen whole
			room = 1.12
		}
		for i := range row {
			most = max(most, row[i].Y.Max)
		}
		if most == 0 {
			most = 0.98
		}
		for i := range row {
			if row[i].Y.Ticks == nil {
				row[i].Y.Max = roundUp(room * most)
			}
		}
		f.Panels = append(f.Panels, row...)
	}
	if len(rows) == 1 {
		f.Rows = []float64{2.2}
		f.Note += " No axis of a build is swept."
	}
	f.Note += out.NoteWithin(mostReasons)
	return f, "", nil
}

// classConfidence are the panels of a class from above, of which the upper two are left
// out where nothing is swept.
func classConfidence(c *finding.Choice, abreast int) []chart.Panel {
	if len(c.Axes) == 0 {
		return []chart.Panel{linePanel(c)}
	}
	a := &c.Axes[0]
	s := newSeats(c, a)
	return []chart.Panel{meritPanel(c, a, &s, abreast*len(a.Values) <= mostDotted), sharesPanel(c, a, &s), linePanel(c)}
}

// meritPanel draws the merit of each value's best build.
func meritPanel(c *finding.Choice, a *decide.AxisValues, s *seats, dotted bool) chart.Panel {
	p := chart.Panel{X: s.axis, Y: chart.Axis{Label: "merit [-]"}}
	has := make([]bool, len(a.Values))
	for k, v := range a.Values {
		has[k] = v.Any && c.At(v.Build) != nil
	}
	nominal := chart.Points{Family: nominalFamily, Hollow: true}
	cautious := chart.Points{Family: cautiousFamily}
	of := func(k int) *decide.Build { return c.At(a.Values[k].Build) }
	for _, run := range finding.Runs(has) {
		band := chart.Area{Family: bandFamily, Pale: true}
		median, careful := chart.Line{Family: medianFamily}, chart.Line{Family: cautiousFamily}
		for k := run[0]; k <= run[1]; k++ {
			b, x := of(k), s.at[k]
			band.At = append(band.At, x)
			band.From, band.To = append(band.From, b.Merit.P10), append(band.To, b.Merit.P90)
			median.X, median.Y = append(median.X, x), append(median.Y, b.Merit.P50)
			careful.X, careful.Y = append(careful.X, x), append(careful.Y, b.Cautious)
			cautious.X, cautious.Y = append(cautious.X, x), append(cautious.Y, b.Cautious)
			nominal.X, nominal.Y = append(nominal.X, x), append(nominal.Y, b.Nominal)
			p.Y.Max = max(p.Y.Max, b.Merit.P90, b.Nominal, b.Cautious)
		}
		plain := chart.Line{Family: nominalFamily, X: nominal.X[len(nominal.X)-len(band.At):],
			Y: nominal.Y[len(nominal.X)-len(band.At):]}
		band.Half = 0.8 * s.half           // not joined: it falls to 0 at once where one draw in ten fails
		if !s.joined || run[0] == run[1] { // nothing between two values can be told
			p.Lines = append(p.Lines, strokes(&median, band.Half)...)
			p.Lines = append(p.Lines, strokes(&careful, band.Half)...)
		} else {
			p.Lines = append(p.Lines, median, careful)
			if !dotted {
				p.Lines = append(p.Lines, plain)
			}
		}
		p.Areas = append(p.Areas, band)
	}
	if dotted || !s.joined {
		p.Points = []chart.Points{nominal, cautious}
	}
	p.Lines = append(p.Lines, apartLines(c, a, s)...)
	if k := s.recommended; k >= 0 {
		p.Markers = []chart.Marker{{X: s.at[k], Y: c.Recommended().Cautious}}
	}
	if b := c.At(c.Nominal); b != nil { // among the nominal merits, of which it has the highest
		for k, v := range a.Values {
			if finding.On(c.Def(a), b, v.Value) {
				p.Markers = append(p.Markers, chart.Marker{X: s.at[k], Y: b.Nominal, Ring: true})
				p.Lines = append(p.Lines, chart.Line{Family: fallFamily, X: []float64{s.at[k], s.at[k]},
					Y: []float64{b.Nominal, b.Cautious}})
				p.Y.Max = max(p.Y.Max, b.Nominal)
			}
		}
	}
	return p
}

// strokes are a short line across each point of a line.
func strokes(l *chart.Line, half float64) (out []chart.Line) {
	for k, x := range l.X {
		out = append(out, chart.Line{Family: l.Family, X: []float64{x - half, x + half}, Y: []float64{l.Y[k], l.Y[k]}})
	}
	return out
}

// sharesPanel draws in how many draws each value's best build is ahead, level and behind.
func sharesPanel(c *finding.Choice, a *decide.AxisValues, s *seats) chart.Panel {
	const above = 112 // per cent: where the heavy line stands
	p := chart.Panel{X: s.axis, Y: chart.Axis{Label: "draws [%]", Max: 124, Ticks: []float64{0, 50, 100}}}
	var ahead, level, behind chart.Area
	for n, area := range []*chart.Area{&ahead, &level, &behind} {
		area.Family, area.Half = [...]string{aheadFamily, levelFamily, behindFamily}[n], s.half
	}
	for k, v := range a.Values {
		if !v.Any {
			continue
		}
		from := 0.0
		for n, area := range []*chart.Area{&ahead, &level, &behind} {
			to := min(100, from+100*[...]float64{v.Ahead, v.Level, v.Behind}[n])
			area.At, area.From, area.To = append(area.At, s.at[k]), append(area.From, from), append(area.To, to)
			from = to
		}
	}
	p.Areas = []chart.Area{ahead, level, behind}
	for _, run := range finding.Runs(c.TiedAlong(a)) {
		p.Lines = append(p.Lines, chart.Line{Family: tiedFamily, Outline: true,
			X: []float64{s.at[run[0]] - s.half, s.at[run[1]] + s.half}, Y: []float64{above, above}})
	}
	return p
}

// linePanel draws the best merit that can be had at each P(feasible).
func linePanel(c *finding.Choice) chart.Panel {
	p := chart.Panel{
		X: chart.Axis{Label: "P(feasible) at least [%]", Min: 45, Max: 95},
		Y: chart.Axis{Label: "best merit [-]"},
	}
	median := chart.Points{Family: medianFamily}
	cautious := chart.Points{Family: cautiousFamily}
	for _, x := range c.Line {
		p.X.Ticks = append(p.X.Ticks, 100*x.Feasible)
		p.X.Min, p.X.Max = min(p.X.Min, 100*x.Feasible-5), max(p.X.Max, 100*x.Feasible+5)
		if !x.Any {
			continue
		}
		median.X, median.Y = append(median.X, 100*x.Feasible), append(median.Y, x.Median)
		cautious.X, cautious.Y = append(cautious.X, 100*x.Feasible), append(cautious.Y, x.Cautious)
		p.Y.Max = max(p.Y.Max, x.Median, x.Cautious)
	}
	for _, q := range []chart.Points{median, cautious} {
		if len(q.X) > 1 {
			p.Lines = append(p.Lines, chart.Line{Family: q.Family, X: q.X, Y: q.Y})
		}
	}
	p.Points = []chart.Points{cautious, median} // as above, so that shapes agree in all pictures
	if len(c.Line) > 0 && len(median.X) == 0 {
		p.Title = "no build reaches " + words.Probability(c.Line[0].Feasible)
	}
	return p
}
