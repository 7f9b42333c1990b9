package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

const classesCaption = "What the limit of the class, or each payload, buys and costs: the propeller, the merit and " +
	"the metrics that it is made of, of the best design of each."

// classPanels is how many metrics of the merit are drawn.
const classPanels = 4

// mostSeries is how many families of lines a panel carries.
const mostSeries = 4

// series are best designs along an axis, a line.
type series struct {
	family   string
	x        []float64
	best     []*finding.Entry // nil for none
	numbered bool
}

// laden says whether payloads stand along x, with a line for each class: where there are more
// of them than classes.
func laden(found []finding.Class) bool { return len(found[0].ByPayload) > len(found) }

// seriesOf are the lines of the figure; of many the first, the last and some between.
func seriesOf(found []finding.Class) (out []series, all int) {
	payloads := found[0].ByPayload
	places := func(n int) []float64 {
		var at []float64
		for k := range n {
			at = append(at, float64(k))
		}
		return at
	}
	limit := func(k *finding.Class) float64 { return finding.Gram.FromSI(k.Class.Limit) }
	switch {
	case laden(found):
		all = len(found)
		for _, n := range spread(places(all), mostSeries) {
			k := &found[int(n)]
			s := series{family: words.ClassName(k.Class)}
			for _, e := range k.ByPayload {
				if e != nil {
					s.x, s.best = append(s.x, finding.Gram.FromSI(e.Design.Payload)), append(s.best, e)
				}
			}
			out = append(out, s)
		}
	case len(payloads) == 0:
		all = 1
		s := series{family: "best design"}
		if finding.AnyChoice(found) {
			s.family = recommendedStar
		}
		for i := range found {
			s.x, s.best = append(s.x, limit(&found[i])), append(s.best, shownOf(&found[i]))
		}
		out = append(out, s)
	default:
		all = len(payloads)
		for _, n := range spread(places(all), mostSeries) {
			var s series
			for i := range found {
				if e := found[i].ByPayload[int(n)]; e != nil {
					s.family = "payload " + words.Mass(e.Design.Payload)
					s.x, s.best = append(s.x, limit(&found[i])), append(s.best, e)
				}
			}
			if s.family != "" {
				out = append(out, s)
			}
		}
	}
	for n := range out { // numbers of lines between others would crowd them
		out[n].numbered = n == 0 || n == len(out)-1
	}
	return out, all
}

// shownOf is the design that a class is shown by: what is planned of the recommended build, or the
// best.
func shownOf(k *finding.Class) *finding.Entry {
	if k.Planned != nil {
		return k.Planned
	}
	return k.Best()
}

// shownBy are the designs of all classes that have one.
func shownBy(found []finding.Class) (all []*finding.Entry) {
	for i := range found {
		if e := shownOf(&found[i]); e != nil {
			all = append(all, e)
		}
	}
	return all
}

// classesFigure draws metrics of the best designs against the class limit, or the payload.
func classesFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	reached := 0
	for i := range found {
		if found[i].Best() != nil {
			reached++
		}
	}
	switch {
	case reached == 0:
		return nil, "no feasible design", nil
	case !laden(found) && len(found) < 2:
		return nil, "one weight class", nil
	case !laden(found) && reached < 2:
		return nil, "feasible designs in less than two classes", nil
	}
	lines, all := seriesOf(found)
	f := &chart.Figure{
		Title:    classesTitle(r.Study.Merit, found),
		Subtitle: subtitleOf(r),
		Columns:  2, Width: 8.5, Height: 1.75,
	}
	ranged := finding.AnyChoice(found) && !laden(found) // of several at one payload nobody could tell whose it is
	add := func(label string, of func(*finding.Entry) float64, text func(float64) string,
		drawn func(*finding.Choice) decide.Quantiles) {
		p, aside := classPanel(found, lines, label, of, text)
		if ranged && drawn != nil {
			addRanges(&p, found, aside, drawn)
		}
		f.Panels = append(f.Panels, p)
	}
	add(words.Bracketed("propeller diameter", "in"), func(e *finding.Entry) float64 {
		return finding.Inch.FromSI(e.Design.Diameter)
	}, func(v float64) string { return fmt.Sprintf("%.4g", v) }, nil)
	add(words.Bracketed("merit", "-"), func(e *finding.Entry) float64 { return r.Study.Merit.Of(e.Craft) },
		words.Merits, func(c *finding.Choice) decide.Quantiles { return c.Recommended().Merit })
	for _, t := range words.Heaviest(r.Study.Merit, classPanels) {
		m := t.Metric
		add(words.Bracketed(texts.Lower(m.Title), m.Unit.Label), func(e *finding.Entry) float64 {
			return m.Unit.FromSI(m.Of(e.Craft))
		}, func(v float64) string { return words.BriefNumber(m, m.Unit.ToSI(v)) },
			func(c *finding.Choice) decide.Quantiles { return drawnOf(c, m) })
	}
	if len(f.Panels) > 4 {
		f.Columns, f.Width = 3, 10
	}
	if len(lines) > 1 || laden(found) {
		f.Note = "With each payload: the best design by merit that carries it."
	}
	if len(lines) > 2 {
		f.Note += " Numbers stand at the first and the last line."
	}
	if all > len(lines) {
		of := "payloads"
		if laden(found) {
			of = "classes"
		}
		f.Note += fmt.Sprintf(" %d of %d %s are drawn.", len(lines), all, of)
	}
	if finding.AnyChoice(found) {
		if len(found[0].ByPayload) == 0 {
			f.Ring = nominalRing
		} else {
			f.Star = recommendedStar
			f.Note = strings.TrimSpace(f.Note + " Lines: the nominal best. A star bears the mark of its line and " +
				"stands a little aside.")
		}
	}
	if ranged {
		f.Note = strings.TrimSpace(f.Note + " A draw that breaks a requirement counts 0 in the merit.")
	}
	var out words.Outside
	for i := range found {
		for _, e := range append([]*finding.Entry{found[i].Planned, found[i].Best()}, found[i].ByPayload...) {
			if e == nil {
				continue
			}
			out.AddCraft("at "+words.Mass(found[i].Class.Limit), e.Craft)
		}
	}
	f.Note = strings.TrimSpace(f.Note + out.NoteWithin(mostReasons))
	return f, "", nil
}

// starAside is by how much of the axis a star stands beside the points of lines.
const starAside = 0.05

// classPanel draws one quantity of the lines, whose numbers are written by text. Stars stand
// aside by so much of the axis.
func classPanel(found []finding.Class, lines []series, label string, of func(*finding.Entry) float64,
	text func(float64) string) (p chart.Panel, aside float64) {
	p = chart.Panel{Title: label,
		X: chart.Axis{Label: words.Bracketed("limit of the class", "g"), Min: math.Inf(1), Max: math.Inf(-1)},
		Y: chart.Axis{Min: math.Inf(1), Max: math.Inf(-1)},
	}
	if laden(found) {
		p.X.Label = words.Bracketed("payload", "g")
	}
	widen := func(x, y float64) {
		p.X.Min, p.X.Max = min(p.X.Min, x), max(p.X.Max, x)
		p.Y.Min, p.Y.Max = min(p.Y.Min, y), max(p.Y.Max, y)
	}
	for _, s := range lines {
		l := chart.Line{Family: s.family}
		q := chart.Points{Family: s.family, Apart: true}
		for n, e := range s.best {
			if e == nil || !finding.Finite(of(e)) {
				continue
			}
			widen(s.x[n], of(e))
			l.X, l.Y = append(l.X, s.x[n]), append(l.Y, of(e))
			label := ""
			if s.numbered {
				label = text(of(e)) + words.Star(e.Marked())
			}
			q.Labels = append(q.Labels, label)
			p.X.Ticks = append(p.X.Ticks, s.x[n])
		}
		q.X, q.Y = l.X, l.Y
		if len(l.X) > 1 {
			p.Lines = append(p.Lines, l)
		}
		if len(l.X) > 0 {
			p.Points = append(p.Points, q)
		}
	}
	rings := len(found[0].ByPayload) == 0 // beside a line of the recommended builds
	for i := range found {
		e := found[i].Planned
		if rings && e != nil {
			e = found[i].Best()
		}
		if e == nil || !finding.Finite(of(e)) {
			continue
		}
		x := finding.Gram.FromSI(found[i].Class.Limit)
		if laden(found) {
			x = finding.Gram.FromSI(e.Design.Payload)
		}
		widen(x, of(e))
		m := chart.Marker{X: x, Y: of(e), Ring: rings}
		own := "payload " + words.Mass(e.Design.Payload)
		if laden(found) {
			own = words.ClassName(found[i].Class)
		}
		switch { // whose: it may lie on another line
		case rings:
		case slices.ContainsFunc(lines, func(s series) bool { return s.family == own }):
			m.Family = own
		case laden(found):
			m.Tag = words.Mass(found[i].Class.Limit)
		}
		p.Markers = append(p.Markers, m)
		p.X.Ticks = append(p.X.Ticks, x)
	}
	if !rings { // where it would cover what it is held against
		aside = starAside * (p.X.Max - p.X.Min)
		for i := range p.Markers {
			p.Markers[i].X += aside
			widen(p.Markers[i].X, p.Markers[i].Y)
		}
	}
	p.X, p.Y = padded(p.X), padded(p.Y)
	slices.Sort(p.X.Ticks)
	p.X.Ticks = slices.Compact(p.X.Ticks)
	room := 0.12 * (p.Y.Max - p.Y.Min) // for the numbers
	p.Y.Min, p.Y.Max = p.Y.Min-room, p.Y.Max+room
	return p, aside
}

// payloadTitle says what the heaviest payload takes of each class: "Carrying 250 g in place of
// 0 g: 18 % less merit at 800 g".
func payloadTitle(found []finding.Class) string {
	var lost []finds
	light, heavy := "", ""
	for i := range found {
		k := &found[i]
		f := finds{limit: words.Mass(k.Class.Limit)}
		first, last := k.ByPayload[0], k.ByPayload[len(k.ByPayload)-1]
		if first != nil && last != nil && first.Score > 0 {
			light, heavy = words.Mass(first.Design.Payload), words.Mass(last.Design.Payload)
			f.where = fmt.Sprintf("%.0f %% less merit", 100*(1-last.Score/first.Score))
		}
		lost = append(lost, f)
	}
	best, none := gathered(lost)
	if len(best) == 0 {
		return "No class carries all payloads"
	}
	return "Carrying " + heavy + " in place of " + light + ": " + allAt(best, none, ", ")
}

// classesTitle says from what to what the designs of all classes go.
func classesTitle(merit sweep.Merit, found []finding.Class) string {
	if laden(found) {
		return payloadTitle(found)
	}
	first, last := finding.Outermost(found)
	a, b := shownOf(first), shownOf(last)
	head, same := "All best designs, ", "best: "
	if finding.AnyChoice(found) {
		head, same = "All recommended builds, ", "recommended: "
	}
	span := words.Mass(first.Class.Limit) + words.Star(a.Marked()) + " to " + words.Mass(last.Class.Limit) +
		words.Star(b.Marked())
	all := shownBy(found)
	if !slices.ContainsFunc(all, func(e *finding.Entry) bool { return e.Index != a.Index }) {
		return "From " + span + " the same design is " + same + finding.Inch.Format(b.Design.Diameter, 4) + ", " +
			words.Reaches(merit, b.Craft)
	}
	throughout := func(name string, of func(*finding.Entry) float64, number func(float64) string, unit string) string {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, e := range all {
			lo, hi = min(lo, of(e)), max(hi, of(e))
		}
		if number(lo) == number(hi) {
			return words.Spaced(name, number(hi), unit) + " throughout"
		}
		return words.Spaced(name, number(lo), "to", number(hi), unit) // the unit once
	}
	var told []string
	for _, t := range words.Heaviest(merit, 2) {
		m := t.Metric
		told = append(told, throughout(words.MetricHead(m), func(e *finding.Entry) float64 { return m.Of(e.Craft) },
			func(v float64) string { return words.BriefNumber(m, v) }, m.Unit.Label))
	}
	return head + span + ": " + strings.Join(append(told, throughout("propeller",
		func(e *finding.Entry) float64 { return e.Design.Diameter },
		func(v float64) string { return finding.Inch.Number(v, 4) }, finding.Inch.Label)), ", ")
}
