package chart

import (
	"math"
	"reflect"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Distances in points.
const (
	outer       = 12.0 // white rim of the figure
	tickLength  = 4.0
	tickGap     = 3.0
	barWidth    = 13.0
	barGap      = 16.0
	swatch      = 24.0 // length of a legend sample
	titleGap    = 7.5  // above a panel, clear of a star on its edge
	mostHigh    = 490  // of a figure that chooses its height: as wide as it may be it fits a page across
	leastHigh   = 100  // of a panel
	leastShrunk = 0.6  // of the height of a row that is asked for
	cardsGap    = 2.0  // between a panel's title and its cards
)

// sheet is the arrangement of a figure on its canvas, from the top down.
type sheet struct {
	width, height          float64
	dpi                    int
	columns, rows          int
	left                   float64 // of the first panel
	textLeft               float64 // of title, subtitle and note
	panelWidth, panelHigh  float64
	rowsHigh               []float64 // in place of panelHigh; nil for none
	columnGap              float64
	titles, subtitles      []string
	notes                  []string
	panelTitles            [][]string
	cards                  [][][]card // rows of each panel
	cardsHigh              []float64  // by row
	tops                   []float64
	legend                 [][]entry
	sharedX, sharedY       bool
	barTextWidth           float64
	legendTop, noteTop     float64
	titleTop, subtitlesTop float64
}

func (f *Figure) columns() int {
	n := len(f.Panels)
	switch {
	case f.Columns > 0:
		return min(f.Columns, n)
	case n <= 3:
		return n
	case n == 4:
		return 2
	}
	return 3
}

func (f *Figure) mapped() bool {
	for _, p := range f.Panels {
		if p.Field != nil {
			return true
		}
	}
	return false
}

// arrange makes room for all, in a canvas whose size is a whole number of dots.
func (f *Figure) arrange(p *pen) sheet {
	s := sheet{columns: f.columns(), dpi: f.dpi()}
	s.rows = (len(f.Panels) + s.columns - 1) / s.columns
	inches := f.Width
	if inches == 0 {
		inches = [...]float64{7, 8.5, 10}[min(s.columns, 3)-1]
		if s.rows > 1 {
			inches = 10
		}
	}
	s.width = snapped(inches*72, s.dpi)

	s.sharedX, s.sharedY = true, true
	for _, pn := range f.Panels {
		s.sharedX = s.sharedX && reflect.DeepEqual(pn.X, f.Panels[0].X)
		s.sharedY = s.sharedY && reflect.DeepEqual(pn.Y, f.Panels[0].Y)
	}
	if f.Rows != nil { // a row of its own kind has its own axis
		s.sharedX, s.sharedY = false, true
		for k, pn := range f.Panels {
			s.sharedY = s.sharedY && reflect.DeepEqual(pn.Y, f.Panels[k-k%s.columns].Y)
		}
	}
	// Tick texts hardly depend on the panel's final size; a guess of it will do
	// to reserve their room, and the ticks are chosen again when drawn.
	tickWidth, endWidth := 0.0, 0.0
	for k := range f.Panels {
		pn := &f.Panels[k]
		for _, t := range pn.Y.ticks(yTicks(200)) {
			for line := range strings.SplitSeq(t.text, "\n") {
				tickWidth = max(tickWidth, p.width(line, style{size: tickSize}))
			}
		}
		if !pn.X.discrete() {
			for _, t := range pn.X.ticks(4) {
				endWidth = max(endWidth, p.width(t.text, style{size: tickSize}))
			}
		}
	}
	axisRoom := tickLength + tickGap + tickWidth + 5 + axisSize
	s.left = outer + axisRoom
	s.columnGap = max(16, endWidth+12) // the numbers at the ends of neighbours stay apart
	if !s.sharedY {
		s.columnGap = axisRoom + 12
	}
	right := outer + max(0, endWidth/2-outer+2)
	if f.mapped() {
		for _, l := range f.Bar.Levels {
			s.barTextWidth = max(s.barTextWidth, p.width(format(f.Bar.Format, l), style{size: tickSize}))
		}
		right = outer + barGap + barWidth + tickLength + tickGap + s.barTextWidth + 5 + axisSize
	}
	fit := func() {
		s.panelWidth = (s.width - s.left - right - float64(s.columns-1)*s.columnGap) / float64(s.columns)
	}
	fit()
	// Names at the ends of an axis may reach beyond the panel. Making room for
	// them narrows the panel a little, hence the margin.
	over := f.overhang(p, 0.9*s.panelWidth)
	s.columnGap = max(s.columnGap, 2*over+6)
	s.left, right = max(s.left, outer+over), max(right, outer+over)
	fit()
	s.panelHigh = [...]float64{0.68, 0.9, 1.12}[min(s.columns, 3)-1] * s.panelWidth
	if f.Height > 0 {
		s.panelHigh = 72 * f.Height
	}
	for _, inches := range f.Rows {
		s.rowsHigh = append(s.rowsHigh, 72*inches)
	}
	if f.stack(p, &s); f.Rows != nil && s.height > mostHigh {
		sum := 0.0
		for _, h := range s.rowsHigh {
			sum += h
		}
		for k := range s.rowsHigh {
			s.rowsHigh[k] *= max(leastShrunk, 1-(s.height-mostHigh)/sum)
		}
		f.stack(p, &s)
	} else if f.Rows == nil && f.Height == 0 && s.height > mostHigh {
		s.panelHigh = max(leastHigh, s.panelHigh-(s.height-mostHigh)/float64(s.rows))
		f.stack(p, &s)
	}
	return s
}

// stack arranges title, panels, legend and note from the top down, for panels of
// the sheet's width and height.
func (f *Figure) stack(p *pen, s *sheet) {
	s.panelTitles, s.cards, s.cardsHigh, s.tops = nil, nil, nil, nil
	const mostLeft = 60
	s.textLeft = min(s.left, mostLeft)
	textWidth := s.width - s.textLeft - outer
	s.titles = p.wrap(f.Title, titleSize, true, textWidth)
	s.subtitles = p.wrap(f.Subtitle, subtitleSize, false, textWidth)
	s.notes = p.wrap(f.Note, noteSize, false, textWidth)
	s.legend = f.legendRows(p, s.width-2*outer)

	y := outer
	s.titleTop = y
	y += float64(len(s.titles)) * 1.25 * titleSize
	s.subtitlesTop = y + 2
	y += 2 + float64(len(s.subtitles))*1.3*subtitleSize
	y += 6
	for row := range s.rows {
		most, cards := 0, 0.0
		labelled, nameRoom := false, 0.0 // of names in several lines, or upright
		for c := range s.columns {
			k := row*s.columns + c
			if k >= len(f.Panels) {
				break
			}
			lines := p.wrap(f.Panels[k].Title, axisSize, true, s.panelWidth)
			s.panelTitles = append(s.panelTitles, lines)
			most = max(most, len(lines))
			rows := p.cards(&f.Panels[k], s.panelWidth)
			s.cards = append(s.cards, rows)
			cards = max(cards, cardsHeight(rows))
			labelled = labelled || s.labelsX(f, k)
			switch pn := &f.Panels[k]; {
			case pn.standing() || p.breaks(pn, s.panelWidth):
				_, n := p.barNames(pn, 0, s.panelWidth)
				nameRoom = max(nameRoom, nameLeading*float64(n-1))
			case s.labelsX(f, k):
				nameRoom = max(nameRoom, p.upright(pn.X, s.panelWidth))
			}
		}
		y += float64(most) * 1.3 * axisSize
		if most > 0 {
			y += titleGap
		}
		if cards > 0 {
			y += cards + cardsGap
			if most == 0 {
				y += titleGap + 3 // apart from the subtitle
			}
		}
		s.cardsHigh = append(s.cardsHigh, cards)
		s.tops = append(s.tops, y)
		y += s.high(row)
		if labelled {
			y += tickLength + tickGap + 1.1*tickSize + 4 + 1.1*axisSize
		} else {
			y += tickLength
		}
		y += nameRoom
		if row+1 < s.rows {
			y += 8
		}
	}
	if len(s.legend) > 0 {
		y += 10
		s.legendTop = y
		y += float64(len(s.legend)) * legendLeading
	}
	if len(s.notes) > 0 {
		y += 6
		s.noteTop = y
		y += float64(len(s.notes)) * 1.3 * noteSize
	}
	y += outer
	s.height = math.Ceil(y*float64(s.dpi)/72) * 72 / float64(s.dpi)
}

// overhang is how far names on an x axis reach beyond a panel of some width.
func (f *Figure) overhang(p *pen, width float64) float64 {
	most := 0.0
	for _, pn := range f.Panels {
		n := len(pn.X.Names)
		if n == 0 || pn.standing() || p.breaks(&pn, width) || p.upright(pn.X, width) > 0 { // which fit
			continue
		}
		for _, name := range pn.X.Names {
			most = max(most, (p.width(name, style{size: tickSize})-width/float64(n))/2)
		}
	}
	return most
}

// labelsX tells whether panel k carries the numbers of its x axis: unless each panel of its
// row has one below that carries the same ones.
func (s *sheet) labelsX(f *Figure, k int) bool {
	if below := k + s.columns; f.Rows != nil {
		return below >= len(f.Panels) || !reflect.DeepEqual(f.Panels[k].X, f.Panels[below].X)
	}
	last := k - k%s.columns + s.columns - 1 // of the row
	return !s.sharedX || last+s.columns >= len(f.Panels)
}

func (s *sheet) labelsY(k int) bool { return !s.sharedY || k%s.columns == 0 }

// high is the height of a row of panels.
func (s *sheet) high(row int) float64 {
	if s.rowsHigh == nil {
		return s.panelHigh
	}
	return s.rowsHigh[row]
}

func (s *sheet) rect(k int) vg.Rectangle {
	row, col := k/s.columns, k%s.columns
	x := snapped(s.left+float64(col)*(s.panelWidth+s.columnGap), s.dpi)
	top := snapped(s.height-s.tops[row], s.dpi)
	return vg.Rectangle{
		Min: xy(x, snapped(top-s.high(row), s.dpi)),
		Max: xy(snapped(x+s.panelWidth, s.dpi), top),
	}
}

func (f *Figure) draw(p *pen) Layout {
	s := f.arrange(p)
	l := Layout{Width: s.width, Height: s.height}
	colours := ramp()

	y := s.height - s.titleTop
	for _, line := range s.titles {
		p.writeLeft(line, xy(s.textLeft, y-0.62*titleSize), style{size: titleSize, bold: true, ink: black})
		y -= 1.25 * titleSize
	}
	y = s.height - s.subtitlesTop
	for _, line := range s.subtitles {
		p.writeLeft(line, xy(s.textLeft, y-0.65*subtitleSize), style{size: subtitleSize, ink: grey})
		y -= 1.3 * subtitleSize
	}
	for k := range f.Panels {
		pn := &f.Panels[k]
		r := s.rect(k)
		y := float64(r.Max.Y) + titleGap + float64(len(s.panelTitles[k]))*1.3*axisSize
		if high := s.cardsHigh[k/s.columns]; high > 0 {
			p.drawCards(s.cards[k], r, float64(r.Max.Y)+titleGap+high)
			y += high + cardsGap
		}
		for _, line := range s.panelTitles[k] {
			p.write(line, vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: vg.Length(y - 0.65*axisSize)}, 0,
				style{size: axisSize, bold: true, ink: black})
			y -= 1.3 * axisSize
		}
		if pn.standing() || p.breaks(pn, s.panelWidth) {
			p.axisBars(pn, r)
		} else {
			p.axisX(pn.X, r, s.labelsX(f, k))
		}
		p.axisY(pn.Y, r, s.labelsY(k))
		f.drawPanel(p, k, r, colours, &l) // over the ticks: a star may stand on the frame
	}
	if f.mapped() {
		f.drawBar(p, &s, colours)
	}
	f.drawLegend(p, &s)
	y = s.height - s.noteTop
	for _, line := range s.notes {
		p.writeLeft(line, xy(s.textLeft, y-0.65*noteSize), style{size: noteSize, ink: grey})
		y -= 1.3 * noteSize
	}
	l.Texts = p.texts
	return l
}
