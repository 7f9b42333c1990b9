package report

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/sweep"
)

// mapper makes the panel of one map of one class.
type mapper struct {
	run   *Run
	class *sweep.ClassResult
	spec  sweep.MapSpec
	x, y  merging
	cells []sweep.Cell   // merged, [y*x.n + x]
	craft []*model.Craft // of the best design of each cell; nil where there is none
	best  int            // the best cell, -1 for none
}

func (r *Run) newMapper(k *sweep.ClassResult, n int) *mapper {
	g := r.Study.Grid
	full := &k.Maps[n]
	m := &mapper{run: r, class: k, spec: full.Spec, best: -1}
	m.x = newMerging(g.Axes()[mustPlace(g, full.Spec.X)])
	m.y = newMerging(g.Axes()[mustPlace(g, full.Spec.Y)])
	m.cells = make([]sweep.Cell, m.x.n*m.y.n)
	for j := range full.NY {
		for i := range full.NX {
			from, to := &full.Cells[j*full.NX+i], &m.cells[j/m.y.stride*m.x.n+i/m.x.stride]
			to.Gate = max(to.Gate, from.Gate)
			if from.Any && (!to.Any || better(from.Ranked, to.Ranked)) {
				to.Best = from.Best
			}
		}
	}
	for n := range m.cells {
		if m.cells[n].Any && (m.best < 0 || better(m.cells[n].Ranked, m.cells[m.best].Ranked)) {
			m.best = n
		}
	}
	return m
}

// merged says what was merged, "" for nothing.
func (m *mapper) merged() string {
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

func (m *mapper) evaluate() error {
	m.craft = make([]*model.Craft, len(m.cells))
	for n, c := range m.cells {
		if !c.Any {
			continue
		}
		e, err := m.run.entry(m.class, c.Ranked)
		if err != nil {
			return err
		}
		m.craft[n] = e.Craft
	}
	return nil
}

// panel draws the map, and says how many lines were left out for the star.
func (m *mapper) panel(levels [][]float64) (p chart.Panel, contrary int) {
	p = chart.Panel{Title: className(m.class.Class)}
	f := &chart.Field{Z: blank(m.x.n, m.y.n), Gate: blankNames(m.x.n, m.y.n), Short: shortGates(m.run.Result.Gates)}
	p.Field = f
	p.X, f.X = m.x.places()
	p.Y, f.Y = m.y.places()
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
		p.Markers = []chart.Marker{{X: f.X[m.best%m.x.n], Y: f.Y[m.best/m.x.n], Lines: m.callout()}}
	}
	return p, contrary
}

// valuesOf gives a metric of the best design of each cell, NaN where there is none.
func (m *mapper) valuesOf(t *model.Metric) [][]float64 {
	z := blank(m.x.n, m.y.n)
	for n, c := range m.craft {
		if c != nil {
			z[n/m.x.n][n%m.x.n] = t.Unit.FromSI(t.Of(c))
		}
	}
	return z
}

// design is the best of the map.
func (m *mapper) design() model.Design { return m.run.Study.Grid.Design(m.cells[m.best].Index) }

// where says where on the axes the best design of the map is, "" for none.
func (m *mapper) where(and string) string {
	if m.best < 0 {
		return ""
	}
	d := m.design()
	return inputText(m.spec.X, d) + and + inputText(m.spec.Y, d)
}

// warnings are those of the best design of the map.
func (m *mapper) warnings() []string {
	if m.best < 0 {
		return nil
	}
	return m.craft[m.best].Warnings()
}

// callout says what stands at the star and what the design reaches.
func (m *mapper) callout() []string {
	d, c := m.design(), m.craft[m.best]
	head := m.where(", ")
	on := func(a *sweep.AxisDef) bool { return a == m.spec.X || a == m.spec.Y }
	if on(sweep.Capacity) && !on(sweep.Cells) { // 4S 850 mAh
		capacity := inputText(sweep.Capacity, d)
		head = strings.Replace(head, capacity, inputText(sweep.Cells, d)+" "+capacity, 1)
	}
	var others []string
	for _, a := range []*sweep.AxisDef{sweep.Diameter, sweep.KV, sweep.Stator, sweep.Cells, sweep.Capacity} {
		switch {
		case on(a), a == sweep.Cells && on(sweep.Capacity):
		case a == sweep.Capacity && !on(sweep.Cells):
			others[len(others)-1] += " " + inputText(a, d) // 4S 850 mAh
		default:
			others = append(others, inputText(a, d))
		}
	}
	lines := []string{head + mark(strings.Join(m.warnings(), ""))}
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
