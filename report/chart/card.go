package chart

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
)

// card is what a callout says, set above a map instead of over it: whatever a
// box within the map would cover, somebody wants to read.
type card struct {
	lines []string
	head  int     // of the lines, which are bold
	width float64 // of the lines
	ring  bool    // leads it, in place of a star
}

const (
	cardStar = 4.0 // radius of the star that leads a card
	cardGap  = 14.0
	cardLead = 1.3 * labelSize // line spacing
	rowGap   = 4.0
	tagApart = 4.0

	worthNarrow = 2 * cardLead // what breaking lines must save
)

// carded tells whether the panel's callouts stand above it.
func (p *Panel) carded() bool { return p.Field != nil }

// cards lays out the callouts of a map in rows that fit into a width.
func (p *pen) cards(pn *Panel, width float64) [][]card {
	if !pn.carded() {
		return nil
	}
	var said [][]string
	var rings []bool
	for _, m := range pn.Markers {
		if len(m.Lines) > 0 {
			said, rings = append(said, m.Lines), append(rings, m.Ring)
		}
	}
	if len(said) == 1 && len(said[0]) > 2 { // alone it has the room to be low
		said[0] = append(said[0][:1:1], p.joined(said[0][1:], width-3*cardStar)...)
	}
	var best [][]card
	least := math.Inf(1)
	for perRow := 1; perRow <= len(said); perRow++ {
		rows := (len(said) + perRow - 1) / perRow
		if perRow > (len(said)+rows-1)/rows { // as many in each
			continue
		}
		all, narrowed, ok := p.wrapped(said, rings, (width+cardGap)/float64(perRow)-cardGap-3*cardStar, perRow > 1)
		if !ok {
			break
		}
		out := slices.Collect(slices.Chunk(all, perRow))
		h := cardsHeight(out)
		if narrowed && h > least-worthNarrow {
			break
		}
		if h < least {
			best, least = out, h
		}
	}
	return best
}

// wrapped are cards in lines of a width: of several side by side broken after commas alone, false where
// that does not do.
func (p *pen) wrapped(said [][]string, rings []bool, width float64, several bool) (all []card, broken, fits bool) {
	for n, texts := range said {
		c := card{ring: rings[n]}
		for k, text := range texts {
			bold := k == 0
			var lines []string
			if several {
				lines = p.listed(text, labelSize, bold, width)
			} else {
				lines = p.wrap(text, labelSize, bold, width)
			}
			broken = broken || len(lines) > 1
			for _, line := range lines {
				c.lines = append(c.lines, line)
				c.width = max(c.width, p.width(line, style{size: labelSize, bold: bold}))
			}
			if bold {
				c.head = len(c.lines)
			}
		}
		if several && c.width > width {
			return nil, false, false
		}
		all = append(all, c)
	}
	return all, broken, true
}

// listed breaks a list after its commas.
func (p *pen) listed(text string, size float64, bold bool, width float64) (lines []string) {
	for _, part := range strings.SplitAfter(text, ", ") {
		if n := len(lines); n > 0 {
			longer := lines[n-1] + part
			if p.width(strings.TrimSpace(longer), style{size: size, bold: bold}) <= width {
				lines[n-1] = longer
				continue
			}
		}
		lines = append(lines, part)
	}
	for k := range lines {
		lines[k] = strings.TrimSpace(lines[k])
	}
	return lines
}

// joined sets texts side by side, as many in a line as a width holds.
func (p *pen) joined(texts []string, width float64) []string {
	var out []string
	for _, text := range texts {
		if n := len(out); n > 0 {
			if longer := out[n-1] + " \u00b7 " + text; p.width(longer, style{size: labelSize}) <= width {
				out[n-1] = longer
				continue
			}
		}
		out = append(out, text)
	}
	return out
}

// cardsHeight is the room of rows of cards.
func cardsHeight(rows [][]card) float64 {
	h := 0.0
	for _, row := range rows {
		most := 0
		for _, c := range row {
			most = max(most, len(c.lines))
		}
		h += float64(most) * cardLead
	}
	return h + rowGap*float64(max(0, len(rows)-1))
}

// drawCards sets rows of cards, the first at a height, over the width of a panel.
func (p *pen) drawCards(rows [][]card, r vg.Rectangle, top float64) {
	for _, row := range rows {
		column := float64(r.Max.X-r.Min.X) / float64(len(row))
		for k, c := range row {
			left := float64(r.Min.X) + (float64(k)+0.5)*column - (c.width+3*cardStar)/2
			if at := xy(left+cardStar, top-cardLead/2); c.ring {
				p.ring(at, cardStar-0.5)
			} else {
				p.starOf(at, cardStar, 0.8)
			}
			for i, line := range c.lines {
				p.writeLeft(line, xy(left+3*cardStar, top-(float64(i)+0.5)*cardLead),
					style{size: labelSize, ink: black, bold: i < c.head})
			}
		}
		top -= cardsHeight([][]card{row}) + rowGap
	}
}

// tagMarkers writes beside each star whose it is: of a map, which of the cards above,
// where there are several.
func (s *scene) tagMarkers() []lettering {
	if len(s.panel.Markers) < 2 {
		return nil
	}
	st := style{size: labelSize, bold: true, ink: black, halo: white}
	var out []lettering
	for _, m := range s.panel.Markers {
		if m.Tag == "" {
			continue
		}
		at, ok := s.besideStar(s.frame.point(m.X, m.Y), m.Tag, st)
		if !ok {
			s.dropped = append(s.dropped, m.Tag)
			continue
		}
		own := s.pen.textBox(m.Tag, st, at, 0).grown(1)
		own.halfW += tagApart // a number beside it would read as part of it
		s.add(own)
		out = append(out, lettering{text: m.Tag, at: at, style: st})
	}
	return out
}

// besideStar finds a place for a text next to a star, rather clear of lines.
func (s *scene) besideStar(p vg.Point, text string, st style) (vg.Point, bool) {
	b := s.pen.textBox(text, st, p, 0)
	best, found := math.Inf(1), vg.Point{}
	for ring, gap := range [...]float64{2, 5, 9} {
		dx, dy := b.halfW+starRadius+gap, b.halfH+starRadius+gap
		for k, d := range [...][2]float64{{dx, 0}, {-dx, 0}, {0, dy}, {0, -dy}, {dx, dy}, {-dx, dy}, {dx, -dy},
			{-dx, -dy}} {
			b.centre = p.Add(xy(d[0], d[1]))
			if !b.grown(1).within(s.room) || s.taken(b.grown(1)) {
				continue
			}
			cost := float64(ring) + 0.1*float64(k)
			for _, l := range s.drawn {
				if l.look.casing != nil && l.enters(b) {
					cost += 2
				}
			}
			if cost < best {
				best, found = cost, b.centre
			}
		}
	}
	return found, !math.IsInf(best, 1)
}
