package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

const classesCaption = "What the limit of the class buys: the propeller and the key metrics of the best design of " +
	"each class, and of the best with each payload."

// classPanels is how many metrics are drawn against the class limit.
const classPanels = 5

// classMetrics are the first that the study asks for; the weight stands on the axis.
func classMetrics(s *sweep.Study) []*model.Metric {
	all := slices.DeleteFunc(finding.Asked(s), func(m *model.Metric) bool { return m.Stage == model.StageMass })
	all = append(all, finding.Metric("disk-loading"))
	return all[:min(classPanels, len(all))]
}

// classesFigure draws metrics of the best designs against the class limit.
func classesFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	reached := 0
	for i := range found {
		if found[i].Best() != nil {
			reached++
		}
	}
	switch {
	case len(found) < 2:
		return nil, "one weight class", nil
	case reached < 2:
		return nil, "feasible designs in less than two classes", nil
	}
	series := payloadSeries(found)
	f := &chart.Figure{
		Title:    classesTitle(r.Study.Merit, found),
		Subtitle: subtitleOf(r),
		Columns:  2, Width: 8.5, Height: 1.75,
	}
	f.Panels = append(f.Panels, classPanel(found, series, words.Bracketed("propeller diameter", "in"),
		func(e *finding.Entry) float64 { return finding.Inch.FromSI(e.Design.Diameter) }))
	for _, m := range classMetrics(r.Study) {
		f.Panels = append(f.Panels, classPanel(found, series, words.Bracketed(texts.Lower(m.Title), m.Unit.Label),
			func(e *finding.Entry) float64 { return m.Unit.FromSI(m.Of(e.Craft)) }))
	}
	if len(f.Panels) > 4 {
		f.Columns, f.Width = 3, 10
	}
	if len(series) > 0 {
		f.Note = "With each payload: the best design by merit that carries it. Numbers stand at the least and the " +
			"most payload."
		if most := len(found[0].ByPayload); most > len(series) {
			f.Note += fmt.Sprintf(" %d of %d payloads are drawn.", len(series), most)
		}
	}
	if finding.AnyChoice(found) {
		f.Star = recommendedStar
		f.Note = strings.TrimSpace(f.Note + " Lines: the nominal best.")
		reaches := func(e *finding.Entry) string { return words.Reaches(r.Study.Merit, e.Craft) }
		best, none := gathered(recommendedAt(found, reaches))
		f.Note += " " + f.Title + ", by the nominal model."
		f.Title = "Recommended by the draws: " + allAt(best, none, "; ")
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
	f.Note = strings.TrimSpace(f.Note + out.Note())
	return f, "", nil
}

// mostSeries is how many families of lines a panel carries.
const mostSeries = 4

// payloadSeries picks the places of up to four payloads, the least and the most
// among them; none where payload is not swept.
func payloadSeries(found []finding.Class) []int {
	n := len(found[0].ByPayload)
	var at []float64
	for k := range n {
		at = append(at, float64(k))
	}
	var out []int
	for _, k := range spread(at, mostSeries) {
		out = append(out, int(k))
	}
	return out
}

// classPanel draws one quantity against the class limit.
func classPanel(found []finding.Class, series []int, label string, of func(*finding.Entry) float64) chart.Panel {
	p := chart.Panel{Title: label,
		X: chart.Axis{Label: words.Bracketed("limit of the class", "g"), Min: math.Inf(1), Max: math.Inf(-1)},
		Y: chart.Axis{Min: math.Inf(1), Max: math.Inf(-1)},
	}
	add := func(family string, numbered bool, pick func(*finding.Class) *finding.Entry) {
		l := chart.Line{Family: family}
		q := chart.Points{Family: family, Apart: true}
		for i := range found {
			e := pick(&found[i])
			if e == nil || !finding.Finite(of(e)) {
				continue
			}
			x, y := finding.Gram.FromSI(found[i].Class.Limit), of(e)
			l.X, l.Y = append(l.X, x), append(l.Y, y)
			label := ""
			if numbered {
				label = fmt.Sprintf("%.3g", y) + words.Star(e.Marked())
			}
			q.Labels = append(q.Labels, label)
			p.X.Min, p.X.Max = min(p.X.Min, x), max(p.X.Max, x)
			p.Y.Min, p.Y.Max = min(p.Y.Min, y), max(p.Y.Max, y)
		}
		q.X, q.Y = l.X, l.Y
		if len(l.X) > 1 {
			p.Lines = append(p.Lines, l)
		}
		if len(l.X) > 0 {
			p.Points = append(p.Points, q)
		}
	}
	if len(series) == 0 {
		add("best design", true, (*finding.Class).Best)
	}
	for s, n := range series {
		payload := ""
		for i := range found {
			if e := found[i].ByPayload[n]; e != nil {
				payload = words.Mass(e.Design.Payload)
			}
		}
		if payload != "" {
			// Numbers of lines between others would crowd them.
			add("payload "+payload, s == 0 || s == len(series)-1,
				func(k *finding.Class) *finding.Entry { return k.ByPayload[n] })
		}
	}
	for i := range found {
		if e := found[i].Planned; e != nil && finding.Finite(of(e)) {
			x, y := finding.Gram.FromSI(found[i].Class.Limit), of(e)
			p.Markers = append(p.Markers, chart.Marker{X: x, Y: y})
			p.X.Min, p.X.Max = min(p.X.Min, x), max(p.X.Max, x)
			p.Y.Min, p.Y.Max = min(p.Y.Min, y), max(p.Y.Max, y)
		}
	}
	p.X, p.Y = padded(p.X), padded(p.Y)
	for i := range found { // the classes stand where the axis is numbered
		if x := finding.Gram.FromSI(found[i].Class.Limit); x >= p.X.Min && x <= p.X.Max {
			p.X.Ticks = append(p.X.Ticks, x)
		}
	}
	slices.Sort(p.X.Ticks)
	room := 0.12 * (p.Y.Max - p.Y.Min) // for the numbers
	p.Y.Min, p.Y.Max = p.Y.Min-room, p.Y.Max+room
	return p
}

// classesTitle says what the widest class has over the narrowest.
func classesTitle(merit sweep.Merit, found []finding.Class) string {
	first, last := finding.Outermost(found)
	a, b := first.Best(), last.Best()
	span := "From " + words.Mass(first.Class.Limit) + words.Star(a.Marked()) + " to " + words.Mass(last.Class.Limit) +
		words.Star(b.Marked())
	if a.Index == b.Index {
		return span + " the same design is best: " + finding.Inch.Format(b.Design.Diameter, 4) + ", " +
			words.Reaches(merit, b.Craft)
	}
	throughout := func(name, from, to, unit string) string { // the unit once
		if from == to {
			return words.Spaced(name, to, unit) + " throughout"
		}
		return words.Spaced(name, from, "to", to, unit)
	}
	var told []string
	for _, t := range words.Heaviest(merit, 2) {
		m := t.Metric
		told = append(told, throughout(words.MetricHead(m), words.BriefNumber(m, m.Of(a.Craft)),
			words.BriefNumber(m, m.Of(b.Craft)), m.Unit.Label))
	}
	return span + ": " + strings.Join(append(told,
		throughout("propeller", finding.Inch.Number(a.Design.Diameter, 4), finding.Inch.Number(b.Design.Diameter, 4),
			finding.Inch.Label)), ", ")
}
