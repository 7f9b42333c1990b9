package chart

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// scene is one panel while it is drawn: its lines are gathered, then texts are
// placed from the most to the least important, then all is painted.
type scene struct {
	*labels
	figure  *Figure
	panel   *Panel
	frame   frame
	cells   bool // an axis is discrete
	terrain terrain
	colours palette.ColorMap

	drawn   []drawn
	borders []drawn // of the feasible area, which texts rather keep off
	edges   []group
	overlay []group
	lines   []group

	upright  []lettering // texts not set into a line
	callouts []callout
	stacks   []barred
	dropped  []string
	unnamed  []string // gates

	unnumbered []string
	shortened  []string
}

// drawn is a curve with its look and the texts set into it.
type drawn struct {
	look   look
	curve  curve
	lo, hi vg.Point // bounds
	texts  []lettering
	spans  bool // a short stroke across a strip: text stands on it, not along
	hidden bool
}

// group is the curves that share one text.
type group struct {
	text   string
	own    []int   // places in drawn
	prefer float64 // part of a line where the text rather stands
}

// drawPanel draws panel k into a rectangle and notes the texts it had no room
// for.
func (f *Figure) drawPanel(p *pen, k int, rect vg.Rectangle, colours palette.ColorMap, l *Layout) {
	panel := &f.Panels[k]
	s := &scene{
		labels: &labels{pen: p, room: rect},
		figure: f, panel: panel, colours: colours,
		frame: frame{rect: rect, x: panel.X, y: panel.Y, dpi: f.dpi()},
		cells: panel.X.discrete() || panel.Y.discrete(),
	}
	s.gather()
	s.place()
	s.paint()
	for _, text := range s.dropped {
		l.Dropped = append(l.Dropped, Lost{k, text})
	}
	for _, gate := range s.unnamed {
		l.Unnamed = append(l.Unnamed, Lost{k, gate})
	}
	l.Unnumbered = append(l.Unnumbered, s.unnumbered...)
	for _, d := range s.drawn {
		if d.hidden {
			l.Hidden++
		}
	}
	l.Shortened = append(l.Shortened, s.shortened...)
}

func (s *scene) gather() {
	f, p := s.figure, s.panel
	s.terrain.open = func(vg.Point) bool { return true }
	switch {
	case p.Field == nil:
		s.terrain.over = overPlain(s.frame, p.Overlays)
	case s.cells:
		s.terrain = celled(s.frame, p.Field, f.Bar.Levels, p.Overlays)
	default:
		s.terrain = contoured(s.frame, p.Field, f.Bar.Levels, p.Overlays)
	}
	for _, c := range s.terrain.border {
		s.borders = append(s.borders, newDrawn(look{}, c))
	}
	add := func(text string, l look, curves []curve, spans bool) group {
		g := group{text: text}
		for _, c := range curves {
			d := newDrawn(l, c)
			d.spans = spans
			g.own = append(g.own, len(s.drawn))
			s.drawn = append(s.drawn, d)
		}
		return g
	}
	for _, e := range s.terrain.edges {
		s.edges = append(s.edges, add(format(f.Bar.Format, e.level), edgeLook, e.curves, false))
	}
	for k, lines := range s.terrain.over {
		o := p.Overlays[k]
		for _, l := range lines {
			s.overlay = append(s.overlay, add(format(o.Format, l.level), f.lookOf(o.Name), l.curves, s.cells))
		}
	}
	for _, l := range p.Lines {
		g := add(l.Label, f.lookOf(l.Family), s.clipped(l), false)
		if g.prefer = l.Part; g.prefer == 0 {
			g.prefer = 0.85
		}
		s.lines = append(s.lines, g)
	}
}

func (s *scene) place() {
	many := 2
	if s.room.Max.X-s.room.Min.X < 250 {
		many = 1
	}
	s.dotPoints()
	s.placeStacks()
	s.labelAreas()
	for _, m := range s.panel.Markers {
		s.add(box{centre: s.frame.point(m.X, m.Y), halfW: starRadius + 1, halfH: starRadius + 1})
	}
	s.upright = append(s.upright, s.tagMarkers()...)
	s.callouts = s.placeCallouts()
	for _, g := range s.lines {
		if !s.letterGroup(g, 1, g.prefer) {
			s.dropped = append(s.dropped, g.text)
		}
	}
	s.upright = append(s.upright, s.placeGates()...)
	for _, g := range s.overlay {
		if !s.letterGroup(g, len(g.own), 0.5) {
			s.unnumbered = append(s.unnumbered, g.text)
		}
		s.hideUnnumbered(g)
	}
	s.upright = append(s.upright, s.placeCells()...)
	s.upright = append(s.upright, s.labelPoints()...)
	for _, g := range s.edges {
		// A band without a number can be read from the colour bar.
		s.letterOne(g.own, g.text, many, 0.5)
	}
}

// letterGroup sets a text into the lines of a group, and reports false where
// there is no room for it.
func (s *scene) letterGroup(g group, most int, prefer float64) bool {
	return g.text == "" || len(g.own) == 0 || s.letterOne(g.own, g.text, most, prefer) > 0
}

// hideUnnumbered takes away the level lines that nobody could read, having no room
// for a number of their own.
func (s *scene) hideUnnumbered(g group) {
	if g.text == "" {
		return
	}
	for _, k := range g.own {
		s.drawn[k].hidden = len(s.drawn[k].texts) == 0
	}
}

func (s *scene) paint() {
	p, t := s.pen, &s.terrain
	levels := s.figure.Bar.Levels
	if s.panel.Field == nil {
		s.rule()
		s.paintAreas()
	}
	for k, rings := range t.bands {
		p.fill(s.figure.shadeOf(s.colours, (levels[k]+levels[k+1])/2), rings...)
	}
	s.strokeGroups(s.edges)
	if len(t.barren) > 0 {
		p.leave(s.figure, t.barren)
	}
	p.stroke(white, 0.7, nil, t.seams...)
	p.stroke(boundary, borderWidth, nil, squared(t.border, s.cells, s.room)...)
	s.strokeGroups(s.overlay)
	s.strokeGroups(s.lines)
	s.paintStacks()
	p.stroke(black, 0.9, nil, rectangle(s.room))
	for _, c := range s.callouts {
		p.callout(c)
	}
	s.paintMarkers(func(m *Marker) bool { return m.Family != "" })
	for _, m := range s.panel.Markers {
		if m.Ring && !m.Bare { // on the ground: it would cover points beside it
			p.ringHalo(s.frame.point(m.X, m.Y), ringRadius)
		}
	}
	s.paintPoints()
	for _, d := range s.drawn {
		for _, l := range d.texts {
			p.write(l.text, l.at, l.angle, l.style)
		}
	}
	for _, l := range s.upright {
		p.write(l.text, l.at, 0, l.style)
	}
	s.paintMarkers(func(m *Marker) bool { return m.Ring })
	s.paintMarkers(func(m *Marker) bool { return !m.Ring && m.Family == "" }) // above all
}

// paintMarkers paints some of the markers, of rings what lies above points.
func (s *scene) paintMarkers(drawn func(*Marker) bool) {
	for k := range s.panel.Markers {
		m := &s.panel.Markers[k]
		switch at := s.frame.point(m.X, m.Y); {
		case m.Bare || !drawn(m):
		case m.Ring:
			s.pen.ringRim(at, ringRadius)
		default:
			s.pen.star(at)
			if own, ok := s.figure.markOfFamily(m.Family); ok {
				own.radius = borneRadius
				s.pen.mark(own, at)
			}
		}
	}
}

const borderWidth = 1.5

// rule draws thin lines across plain ground at the numbers of continuous axes.
func (s *scene) rule() {
	const width = 0.5
	r := s.room
	if !s.panel.X.discrete() {
		marks := s.pen.marksX(s.panel.X, r)
		for _, t := range marks {
			if x := vg.Length(s.frame.px(t.value)); t.text != "" {
				s.pen.stroke(lattice, width, nil, segment(vg.Point{X: x, Y: r.Min.Y}, vg.Point{X: x, Y: r.Max.Y}))
			}
		}
	}
	if !s.panel.Y.discrete() {
		marks := s.pen.marksY(s.panel.Y, r)
		for _, t := range marks {
			if y := vg.Length(s.frame.py(t.value)); t.text != "" {
				s.pen.stroke(lattice, width, nil, segment(vg.Point{X: r.Min.X, Y: y}, vg.Point{X: r.Max.X, Y: y}))
			}
		}
	}
}

// leave paints ground without a value.
func (p *pen) leave(f *Figure, rings []curve) {
	p.fill(f.ground(), rings...)
	if !f.Plain {
		p.hatch(rings)
	}
}

// ground is the colour beneath it.
func (f *Figure) ground() color.Color {
	if f.Plain {
		return white
	}
	return barren
}

func (p *pen) hatch(rings []curve) {
	p.c.SetColor(hatching)
	p.c.SetLineWidth(0.5)
	for _, h := range hatch(rings, math.Pi/4, 6) {
		p.c.Stroke(path(segment(h[0], h[1])))
	}
}

// squared lengthens the straight strokes of a stepped boundary by half its
// width, so that its corners close, but not beyond the frame.
func squared(curves []curve, stepped bool, room vg.Rectangle) []curve {
	if !stepped {
		return curves
	}
	frame := draw.Canvas{Rectangle: room}
	out := slices.Clone(curves)
	for k, c := range curves {
		a, b := c.pts[0], c.pts[1]
		t := vg.Length(borderWidth / 2 / distance(a, b))
		d := vg.Point{X: t * (b.X - a.X), Y: t * (b.Y - a.Y)}
		if within := frame.ClipLinesXY([]vg.Point{a.Sub(d), b.Add(d)}); len(within) > 0 {
			out[k] = curve{pts: within[0]}
		}
	}
	return out
}
