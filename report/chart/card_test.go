package chart

import (
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// inPanel tells whether a text stands within the first panel of a figure.
func inPanel(f *Figure, text TextBox) bool {
	p := newPen(new(recorder.Canvas))
	s := f.arrange(p)
	r := s.rect(0)
	for _, c := range text.Corners {
		if vg.Length(c[0]) < r.Min.X || vg.Length(c[0]) > r.Max.X || vg.Length(c[1]) < r.Min.Y ||
			vg.Length(c[1]) > r.Max.Y {
			return false
		}
	}
	return true
}

// What a map says of its stars covers nothing of it: the texts stand above, and
// only the names of several stars beside them.
func TestCardsCoverNoMap(t *testing.T) {
	t.Parallel()
	f := sizeFigure(3)
	l, err := f.Layout()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range f.Panels[0].Markers {
		for _, want := range m.Lines {
			at := slices.IndexFunc(l.Texts, func(b TextBox) bool { return b.Text == want && !inPanel(f, b) })
			if at < 0 {
				t.Errorf("%q does not stand outside the map", want)
			}
		}
		if !slices.ContainsFunc(l.Texts, func(b TextBox) bool { return b.Text == m.Tag && inPanel(f, b) }) {
			t.Errorf("no star is named %q", m.Tag)
		}
	}
	if faults := l.Faults(); len(faults) > 0 {
		t.Error(faults)
	}
	f.Panels[0].Markers = f.Panels[0].Markers[:1]
	if l, err = f.Layout(); err != nil {
		t.Fatal(err)
	}
	if slices.ContainsFunc(l.Texts, func(b TextBox) bool { return b.Text == f.Panels[0].Markers[0].Tag }) {
		t.Error("a star alone is named beside it")
	}
}

// Cards wrap into rows as even as can be, and a card alone is kept low.
func TestCardsRows(t *testing.T) {
	t.Parallel()
	p := newPen(new(recorder.Canvas))
	pn := &Panel{Field: &Field{}}
	for range 5 {
		pn.Markers = append(pn.Markers, Marker{Lines: []string{"a first line", "a second", "a third"}})
	}
	rows := p.cards(pn, 200)
	if len(rows) != 2 || len(rows[0]) != 3 || len(rows[1]) != 2 {
		t.Fatalf("%d rows of cards", len(rows))
	}
	if got, want := cardsHeight(rows), 6*cardLead+rowGap; got != want {
		t.Errorf("rows are %g points high, want %g", got, want)
	}
	pn.Markers = pn.Markers[:1]
	if rows = p.cards(pn, 200); len(rows) != 1 || !slices.Equal(rows[0][0].lines,
		[]string{"a first line", "a second · a third"}) {
		t.Errorf("a card alone: %+v", rows)
	}
	pn.Markers[0].Lines[1] = strings.Repeat("long ", 8)
	for _, line := range p.cards(pn, 80)[0][0].lines {
		if w := p.width(line, style{size: labelSize, bold: true}); w > 80 {
			t.Errorf("%q is %g points wide, want at most 80", line, w)
		}
	}
	if pn.Field = nil; p.cards(pn, 200) != nil {
		t.Error("plain ground has cards")
	}
}

// Cards stand side by side, in lines broken after commas, where that makes them lower by two lines.
func TestCardsAbreast(t *testing.T) {
	t.Parallel()
	p := newPen(new(recorder.Canvas))
	marked := func(first string) Marker {
		return Marker{Lines: []string{first + ": 7 in, KV 1300", "2507 stator, 6S", "hover 22.6 min, T/W 8.2"}}
	}
	pn := &Panel{Field: &Field{}, Markers: []Marker{marked("recommended"), marked("best")}}
	for _, x := range []struct {
		width, rows float64
		first       []string
	}{
		{260, 1, []string{"recommended: 7 in, KV 1300", "2507 stator, 6S", "hover 22.6 min, T/W 8.2"}},
		{220, 1, []string{"recommended: 7 in,", "KV 1300", "2507 stator, 6S", "hover 22.6 min, T/W 8.2"}},
		{180, 2, []string{"recommended: 7 in, KV 1300", "2507 stator, 6S", "hover 22.6 min, T/W 8.2"}}, // five lines
	} {
		rows := p.cards(pn, x.width)
		if len(rows) != int(x.rows) || !slices.Equal(rows[0][0].lines, x.first) {
			t.Errorf("in %g points: %d rows, the first card %q", x.width, len(rows), rows[0][0].lines)
			continue
		}
		if head := rows[0][0].head; head != len(x.first)-2 {
			t.Errorf("in %g points: %d lines are a head, want %d", x.width, head, len(x.first)-2)
		}
	}
}

// A level line on a map carries its number, or is not drawn.
func TestLinesOnMapsAreNumbered(t *testing.T) {
	t.Parallel()
	for name, f := range map[string]*Figure{"map": mapFigure(3, short, 1), "strips": cellFigure(false)} {
		p := newPen(new(recorder.Canvas))
		sh := f.arrange(p)
		shown, hidden := 0, 0
		for k := range f.Panels {
			pn := &f.Panels[k]
			r := sh.rect(k)
			s := &scene{labels: &labels{pen: p, room: r}, figure: f, panel: pn, colours: ramp(),
				frame: frame{rect: r, x: pn.X, y: pn.Y, dpi: 200}, cells: pn.X.discrete() || pn.Y.discrete()}
			s.gather()
			s.place()
			for _, g := range s.overlay {
				for _, n := range g.own {
					switch d := s.drawn[n]; {
					case d.hidden:
						hidden++
					case len(d.texts) == 0:
						t.Errorf("%s, panel %d: a line of %s has no number", name, k, g.text)
					default:
						shown++
					}
				}
			}
		}
		if shown < 10 || hidden > shown {
			t.Errorf("%s: %d lines are shown, %d hidden", name, shown, hidden)
		}
		l, err := f.Layout()
		if err != nil {
			t.Fatal(err)
		}
		if l.Hidden != hidden {
			t.Errorf("%s: %d lines are said to be hidden, want %d", name, l.Hidden, hidden)
		}
	}
}

// A figure that chooses its height fits a page across at its full width, so that
// its texts are printed at their size.
func TestFiguresFitAPage(t *testing.T) {
	t.Parallel()
	for n := 1; n <= 5; n++ {
		f := mapFigure(n, short, 1)
		l, err := f.Layout()
		if err != nil {
			t.Fatal(err)
		}
		if l.Height > mostHigh+1 {
			t.Errorf("%d panels are %.0f points high, want at most %d", n, l.Height, mostHigh)
		}
	}
}
