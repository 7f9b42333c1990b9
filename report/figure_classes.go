package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
)

const classesCaption = "What the limit of the class buys: the propeller and the key metrics of the best design of each class, and of the best with each payload."

// classMetrics are drawn against the class limit, as far as the registry has
// them.
var classMetrics = []string{"hover-time", "thrust-to-weight", "disk-loading", "top-speed", "range"}

// classesFigure draws metrics of the best designs against the class limit.
func classesFigure(r *Run, found []finding) (*chart.Figure, string, error) {
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
		Title:    classesTitle(found),
		Subtitle: subtitleOf(r),
		Columns:  2, Width: 8.5, Height: 1.75,
	}
	f.Panels = append(f.Panels, classPanel(found, series, bracketed("propeller diameter", "in"), func(e *entry) float64 { return inch.FromSI(e.Design.Diameter) }))
	for _, name := range classMetrics {
		if m, ok := model.LookupMetric(name); ok {
			f.Panels = append(f.Panels, classPanel(found, series, bracketed(lower(m.Title), m.Unit.Label), func(e *entry) float64 { return m.Unit.FromSI(m.Of(e.Craft)) }))
		}
	}
	if len(f.Panels) > 4 {
		f.Columns, f.Width = 3, 10
	}
	if len(series) > 0 {
		f.Note = "With each payload: the best design by merit that carries it. Numbers stand at the least and the most payload."
		if most := len(found[0].ByPayload); most > len(series) {
			f.Note += fmt.Sprintf(" %d of %d payloads are drawn.", len(series), most)
		}
	}
	var out outside
	for i := range found {
		for _, e := range append([]*entry{found[i].Best()}, found[i].ByPayload...) {
			if e == nil {
				continue
			}
			out.addCraft("at "+mass(found[i].Class.Limit), e.Craft)
		}
	}
	f.Note = strings.TrimSpace(f.Note + out.note())
	return f, "", nil
}

// mostSeries is how many families of lines a panel carries.
const mostSeries = 4

// payloadSeries picks the places of up to four payloads, the least and the most
// among them; none where payload is not swept.
func payloadSeries(found []finding) []int {
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
func classPanel(found []finding, series []int, label string, of func(*entry) float64) chart.Panel {
	p := chart.Panel{Title: label,
		X: chart.Axis{Label: bracketed("limit of the class", "g"), Min: math.Inf(1), Max: math.Inf(-1)},
		Y: chart.Axis{Min: math.Inf(1), Max: math.Inf(-1)},
	}
	add := func(family string, numbered bool, pick func(*finding) *entry) {
		l := chart.Line{Family: family}
		q := chart.Points{Family: family}
		for i := range found {
			e := pick(&found[i])
			if e == nil || !finite(of(e)) {
				continue
			}
			x, y := gram.FromSI(found[i].Class.Limit), of(e)
			l.X, l.Y = append(l.X, x), append(l.Y, y)
			label := ""
			if numbered {
				label = fmt.Sprintf("%.3g", y) + star(e.marked())
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
		add("best design", true, (*finding).Best)
	}
	for s, n := range series {
		payload := ""
		for i := range found {
			if e := found[i].ByPayload[n]; e != nil {
				payload = mass(e.Design.Payload)
			}
		}
		if payload != "" {
			// Numbers of lines between others would crowd them.
			add("payload "+payload, s == 0 || s == len(series)-1, func(k *finding) *entry { return k.ByPayload[n] })
		}
	}
	p.X, p.Y = padded(p.X), padded(p.Y)
	for i := range found { // the classes stand where the axis is numbered
		if x := gram.FromSI(found[i].Class.Limit); x >= p.X.Min && x <= p.X.Max {
			p.X.Ticks = append(p.X.Ticks, x)
		}
	}
	slices.Sort(p.X.Ticks)
	room := 0.12 * (p.Y.Max - p.Y.Min) // for the numbers
	p.Y.Min, p.Y.Max = p.Y.Min-room, p.Y.Max+room
	return p
}

// classesTitle says what the widest class has over the narrowest.
func classesTitle(found []finding) string {
	first, last := outermost(found)
	a, b := first.Best(), last.Best()
	span := "From " + mass(first.Class.Limit) + star(a.marked()) + " to " + mass(last.Class.Limit) + star(b.marked())
	if a.Index == b.Index {
		return span + " the same design is best: " + inch.Format(b.Design.Diameter, 4) + ", " + reaches(b.Craft)
	}
	throughout := func(name, from, to, unit string) string { // the unit once
		if from == to {
			return spaced(name, to, unit) + " throughout"
		}
		return spaced(name, from, "to", to, unit)
	}
	hover, tw := metric("hover-time"), metric("thrust-to-weight")
	return span + ": " + strings.Join([]string{
		throughout("hover time", briefNumber(hover, hover.Of(a.Craft)), briefNumber(hover, hover.Of(b.Craft)), hover.Unit.Label),
		throughout(tw.Symbol, briefNumber(tw, tw.Of(a.Craft)), briefNumber(tw, tw.Of(b.Craft)), tw.Unit.Label),
		throughout("propeller", inch.Number(a.Design.Diameter, 4), inch.Number(b.Design.Diameter, 4), inch.Label),
	}, ", ")
}
