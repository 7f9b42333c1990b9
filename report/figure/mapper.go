package figure

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// mergedText says what was merged, "" for nothing.
func mergedText(m *finding.Mapper) string {
	var out []string
	for _, a := range [2]finding.Merging{m.X, m.Y} {
		if a.Stride > 1 {
			out = append(out, fmt.Sprintf("%d neighbouring values of %s", a.Stride, words.AxisTitle(a.Axis.Def)))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " (and over " + strings.Join(out, ", ") + ")"
}

// mostWritten is how many cells of a map over parts have room for numbers.
const mostWritten = 24

// mapPanel draws the map of a class.
func mapPanel(m *finding.Mapper, k *finding.Class) chart.Panel {
	p := chart.Panel{Title: words.ClassName(m.Class.Class)}
	f := &chart.Field{Z: finding.Blank(m.X.N, m.Y.N), Gate: blankNames(m.X.N, m.Y.N),
		Short: shortGates(m.Run.Result.Gates)}
	p.Field = f
	p.X, f.X = mergedPlaces(m.X)
	p.Y, f.Y = mergedPlaces(m.Y)
	for n, c := range m.Cells {
		j, i := n/m.X.N, n%m.X.N
		switch t := m.Spec.Metric; {
		case !c.Any && m.Open[n]:
			f.Gate[j][i] = notJudged
			continue
		case !c.Any:
			f.Gate[j][i] = words.GateLabel(m.Run.Result.Gates[c.Gate])
			continue
		case t != nil:
			f.Z[j][i] = m.Shown(n, t)
		default:
			f.Z[j][i] = c.Score
		}
	}
	crowded := (m.Spec.X.IsPart() || m.Spec.Y.IsPart()) && len(m.Cells) > mostWritten
	for _, o := range written {
		t := finding.Metric(o.Metric)
		if t == m.Spec.Metric || crowded || p.X.Names == nil || p.Y.Names == nil {
			continue
		}
		p.Overlays = append(p.Overlays, chart.Overlay{Name: o.Name + " of the best design", Format: o.Cell,
			Z: m.ValuesOf(t)})
	}
	if m.Best >= 0 {
		p.Markers = []chart.Marker{{X: f.X[m.Best%m.X.N], Y: f.Y[m.Best/m.X.N], Ring: k.Planned != nil,
			Lines: mapCallout(m, m.Design(), m.Craft[m.Best], "")}}
		if e := k.Planned; e != nil {
			n := m.Place(e.Design)
			star := chart.Marker{X: f.X[n%m.X.N], Y: f.Y[n/m.X.N], Lines: mapCallout(m, e.Design, e.Craft,
				"recommended: ")}
			p.Markers[0].Lines[0] = "nominal best: " + p.Markers[0].Lines[0]
			if m.Ranking() != nil {
				p.Markers[0].Lines[0] = superlative(m.Ranking()) + ": " + mapCallout(m, m.Design(), m.Craft[m.Best],
					"")[0]
			}
			if e.Index == m.Cells[m.Best].Index { // said once
				star.Lines[0] = "recommended, " + p.Markers[0].Lines[0]
				p.Markers[0].Lines = nil
			}
			p.Markers = []chart.Marker{star, p.Markers[0]}
		}
	}
	return p
}

// mapCallout says, after a head, where on a map a design stands, and what it reaches.
func mapCallout(m *finding.Mapper, d model.Design, c *model.Craft, head string) []string {
	chosen := head != ""
	on := func(a *sweep.AxisDef) bool { return a == m.Spec.X || a == m.Spec.Y }
	// The number of cells stands before the capacity: 4S 850 mAh.
	pack := func(a *sweep.AxisDef) string {
		if a == sweep.Capacity && !on(sweep.Cells) {
			return words.Input(sweep.Cells, d) + " " + words.Input(a, d)
		}
		return words.Input(a, d)
	}
	head += pack(m.Spec.X) + ", " + pack(m.Spec.Y)
	var others []string
	for _, a := range []*sweep.AxisDef{sweep.Diameter, sweep.KV, sweep.Stator, sweep.Cells, sweep.Capacity} {
		switch {
		case on(a), a == sweep.Cells: // or with the capacity
		default:
			others = append(others, pack(a))
		}
	}
	lines := []string{head + words.Star(len(c.Warnings()) > 0)}
	for len(others) > 0 {
		n := min(2, len(others))
		lines = append(lines, strings.Join(others[:n], ", "))
		others = others[n:]
	}
	can := words.Reaches(m.Run.Study.Merit, c)
	if t := finding.Metric("tip-mach"); t != m.Spec.Metric && (m.Spec.X.Continuous || m.Spec.Y.Continuous) {
		name := strings.ReplaceAll(words.MetricHead(t), " ", chart.Unbroken)
		can += fmt.Sprintf(", %s%s%.2f", name, chart.Unbroken, t.Of(c)) // there may be no line near
	}
	if chosen { // the draws tell otherwise of what they recommend
		can = nominally(finding.RecommendedPart) + can
	}
	lines = append(lines, can)
	if d.Payload > 0 && !on(sweep.Payload) {
		lines = append(lines, words.Input(sweep.Payload, d))
	}
	return lines
}
