package chart

import (
	"slices"

	"gonum.org/v1/plot/vg"
)

const legendLeading = 15.0

// entry is one sample of the legend with its name.
type entry struct {
	name   string
	sample float64 // width of the sample
	width  float64 // of sample and name

	// The sample is drawn, or is a text in the size of labels.
	draw    func(p *pen, r vg.Rectangle)
	written string
}

func (f *Figure) entries() []entry {
	var out []entry
	infeasible, starred, ringed := false, false, false
	for _, pn := range f.Panels {
		if pn.Field != nil && pn.Field.feasible() < len(pn.Field.X)*len(pn.Field.Y) {
			infeasible = true
		}
		for _, m := range pn.Markers {
			starred = starred || !m.Bare && !m.Ring
			ringed = ringed || !m.Bare && m.Ring
		}
	}
	if infeasible && f.Infeasible != "" {
		out = append(out, entry{name: f.Infeasible, draw: func(p *pen, r vg.Rectangle) {
			ring := rectangle(r)
			p.leave(f, []curve{ring})
			p.stroke(boundary, 1.2, nil, ring)
		}})
	}
	for _, name := range f.families() {
		if name == "" {
			continue
		}
		l := f.lookOf(name)
		if sample := f.written(name); sample != "" {
			out = append(out, entry{name: name, written: sample})
			continue
		}
		m, marked := f.markOfFamily(name)
		out = append(out, entry{name: name, draw: func(p *pen, r vg.Rectangle) {
			y := (r.Min.Y + r.Max.Y) / 2
			p.line(l, segment(vg.Point{X: r.Min.X, Y: y}, vg.Point{X: r.Max.X, Y: y}))
			if marked {
				p.mark(m, vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: y})
			}
		}})
	}
	lined := f.families()
	solid, hollow, _ := f.pointFamilies()
	for _, name := range append(solid, hollow...) {
		if m, some := f.markOfFamily(name); some && !slices.Contains(lined, name) {
			out = append(out, entry{name: name, sample: 4 * markRadius, draw: func(p *pen, r vg.Rectangle) {
				p.mark(m, vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2})
			}})
		}
	}
	if name := f.tinted(); name != "" {
		out = append(out, entry{name: name, draw: func(p *pen, r vg.Rectangle) {
			p.fill(pale, rectangle(r))
			p.stroke(grey, areaRim, nil, rectangle(r))
		}})
	}
	for _, name := range f.pieceFamilies() {
		if f.unlabelled(name) {
			out = append(out, entry{name: name, sample: swatch / 2, draw: func(p *pen, r vg.Rectangle) {
				p.fill(f.pieceShade(ramp(), name), rectangle(r))
				p.stroke(black, 0.6, nil, rectangle(r))
			}})
		}
	}
	if f.bounded() && f.Bound != "" {
		out = append(out, entry{name: f.Bound, draw: func(p *pen, r vg.Rectangle) {
			y := (r.Min.Y + r.Max.Y) / 2
			p.stroke(boundary, borderWidth, nil, segment(vg.Point{X: r.Min.X, Y: y}, vg.Point{X: r.Max.X, Y: y}))
		}})
	}
	if starred && f.Star != "" {
		out = append(out, entry{name: f.Star, sample: 2 * starRadius, draw: func(p *pen, r vg.Rectangle) {
			p.star(vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2})
		}})
	}
	if ringed && f.Ring != "" {
		out = append(out, entry{name: f.Ring, sample: 2 * ringRadius, draw: func(p *pen, r vg.Rectangle) {
			p.ring(vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}, ringRadius)
		}})
	}
	return out
}

// written returns a sample of an overlay whose values are written into cells,
// "" where it is drawn as lines.
func (f *Figure) written(name string) string {
	for _, pn := range f.Panels {
		if !pn.X.discrete() || !pn.Y.discrete() {
			continue
		}
		for _, o := range pn.Overlays {
			if o.Name != name {
				continue
			}
			for _, row := range o.Z {
				for _, z := range row {
					if finite(z) {
						return format(o.Format, z)
					}
				}
			}
		}
	}
	return ""
}

// legendRows breaks the entries into rows of at most the given width.
func (f *Figure) legendRows(p *pen, width float64) [][]entry {
	var rows [][]entry
	var row []entry
	used := 0.0
	for _, e := range f.entries() {
		switch {
		case e.written != "":
			e.sample = p.width(e.written, style{size: labelSize})
		case e.sample == 0:
			e.sample = swatch
		}
		e.width = e.sample + 5 + p.width(e.name, style{size: tickSize})
		if len(row) > 0 && used+legendGap+e.width > width {
			rows = append(rows, row)
			row, used = nil, 0
		}
		if len(row) > 0 {
			used += legendGap
		}
		used += e.width
		row = append(row, e)
	}
	if len(row) > 0 {
		rows = append(rows, row)
	}
	return rows
}

const legendGap = 18.0

func (f *Figure) drawLegend(p *pen, s *sheet) {
	y := s.height - s.legendTop - legendLeading/2
	for _, row := range s.legend {
		total := legendGap * float64(len(row)-1)
		for _, e := range row {
			total += e.width
		}
		x := (s.width - total) / 2
		for _, e := range row {
			if e.written != "" {
				p.writeLeft(e.written, xy(x, y), style{size: labelSize, ink: black})
			} else {
				e.draw(p, vg.Rectangle{
					Min: xy(x, y-5),
					Max: xy(x+e.sample, y+5),
				})
			}
			p.writeLeft(e.name, xy(x+e.sample+5, y), style{size: tickSize, ink: black})
			x += e.width + legendGap
		}
		y -= legendLeading
	}
}
