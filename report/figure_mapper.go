package report

import (
	"fmt"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/sweep"
)

// mergedText says what was merged, "" for nothing.
func mergedText(m *mapper) string {
	var out []string
	for _, a := range [2]merging{m.x, m.y} {
		if a.stride > 1 {
			out = append(out, fmt.Sprintf("%d neighbouring values of %s", a.stride, axisTitle(a.axis.Def)))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " (and over " + strings.Join(out, ", ") + ")"
}

// mapPanel draws the map, and says how many lines were left out for the star.
func mapPanel(m *mapper, levels [][]float64) (p chart.Panel, contrary int) {
	p = chart.Panel{Title: className(m.class.Class)}
	f := &chart.Field{Z: blank(m.x.n, m.y.n), Gate: blankNames(m.x.n, m.y.n), Short: shortGates(m.run.Result.Gates)}
	p.Field = f
	p.X, f.X = mergedPlaces(m.x)
	p.Y, f.Y = mergedPlaces(m.y)
	for n, c := range m.cells {
		j, i := n/m.x.n, n%m.x.n
		switch t := m.spec.Metric; {
		case !c.Any:
			f.Gate[j][i] = gateLabel(m.run.Result.Gates[c.Gate])
			continue
		case t != nil:
			f.Z[j][i] = t.Unit.FromSI(t.Of(m.craft[n]))
		default:
			f.Z[j][i] = c.Score
		}
	}
	for k, o := range overlays {
		t := metric(o.Metric)
		if t == m.spec.Metric {
			continue
		}
		over := chart.Overlay{Name: o.Name + " of the best design", Format: o.Cell, Z: m.valuesOf(t)}
		if p.X.Names == nil || p.Y.Names == nil {
			over.Name += ", smoothed"
			over.Format = o.Line
			over.Smooth = true // the best designs of neighbouring cells differ in every respect
		}
		over.Levels = crossing(levels[k], over.Z)
		if over.Smooth && m.best >= 0 {
			contrary += over.Agree(m.best%m.x.n, m.best/m.x.n, p.X.Names == nil, p.Y.Names == nil)
		}
		p.Overlays = append(p.Overlays, over)
	}
	if m.best >= 0 {
		p.Markers = []chart.Marker{{X: f.X[m.best%m.x.n], Y: f.Y[m.best/m.x.n], Lines: mapCallout(m)}}
	}
	return p, contrary
}

// mapCallout says what stands at the star and what the design reaches.
func mapCallout(m *mapper) []string {
	d, c := m.design(), m.craft[m.best]
	on := func(a *sweep.AxisDef) bool { return a == m.spec.X || a == m.spec.Y }
	// The number of cells stands before the capacity: 4S 850 mAh.
	pack := func(a *sweep.AxisDef) string {
		if a == sweep.Capacity && !on(sweep.Cells) {
			return inputText(sweep.Cells, d) + " " + inputText(a, d)
		}
		return inputText(a, d)
	}
	head := pack(m.spec.X) + ", " + pack(m.spec.Y)
	var others []string
	for _, a := range []*sweep.AxisDef{sweep.Diameter, sweep.KV, sweep.Stator, sweep.Cells, sweep.Capacity} {
		switch {
		case on(a), a == sweep.Cells: // or with the capacity
		default:
			others = append(others, pack(a))
		}
	}
	lines := []string{head + star(len(m.marks()) > 0)}
	for len(others) > 0 {
		n := min(2, len(others))
		lines = append(lines, strings.Join(others[:n], ", "))
		others = others[n:]
	}
	can := reaches(c)
	if t := metric("tip-mach"); t != m.spec.Metric && (m.spec.X.Continuous || m.spec.Y.Continuous) {
		can += fmt.Sprintf(", M %.2f", t.Of(c)) // there may be no line near
	}
	lines = append(lines, can)
	if d.Payload > 0 && !on(sweep.Payload) {
		lines = append(lines, inputText(sweep.Payload, d))
	}
	return lines
}
