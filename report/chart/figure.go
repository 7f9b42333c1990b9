// Package chart draws maps of two axes as pictures for print: filled bands
// with honest boundaries, level lines that carry their own labels, hatched
// infeasible areas, and best designs with callouts, in panels on one colour
// scale; and, on plain ground, curves, points and bars in the same manner. It
// stands on gonum/plot's canvas and fonts and knows nothing of what it draws.
//
// Every text is at least 7 points high, and no text covers another. The same
// figure gives the same bytes.
package chart

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// Figure is one picture.
type Figure struct {
	Title    string // the finding or the question
	Subtitle string // what it is drawn from
	Note     string // small print below; may be empty
	Panels   []Panel
	Columns  int // of panels; 0 chooses
	Bar      Bar // the colour scale of all panels

	// Families of pieces in the order of their colours, so that figures of which
	// some lack a family agree. Others follow in the order of their first use.
	Families []string

	// Names in the legend; an empty one leaves its entry out.
	Infeasible string // hatched areas, or plain ones
	Star       string // markers
	Ring       string // those that are rings
	Bound      string // of stacks

	Width  float64 // inches; 0 chooses 7 for one panel, up to 10 for more
	Height float64 // of each panel, inches; 0 chooses

	// Rows are the heights of the rows of panels in inches, in place of Height; they
	// shrink alike where the figure would be higher than a page. Panels one above the
	// other share the numbers of an x axis that is the same, those of a row of a y axis.
	Rows []float64

	// Plain leaves ground without a value white, as where one may yet be found.
	Plain bool

	DPI int // dots per inch; 0 is 200
}

// Bar is the colour scale shared by all panels.
type Bar struct {
	Label  string    // with the unit in brackets
	Levels []float64 // rising, at least two: each neighbouring pair bounds a band
	Format string    // of the numbers, as for fmt; "" is "%.6g"
}

// Panel is one map, or without a field a plain chart.
type Panel struct {
	Title    string
	X, Y     Axis
	Field    *Field // nil for plain ground
	Overlays []Overlay
	Lines    []Line
	Points   []Points
	Stacks   []Stack // plain ground only, one of whose axes is discrete
	Areas    []Area
	Markers  []Marker
}

// Overlay is a second value over the panel's field, drawn as level lines where
// the field is feasible, or written into the cells where both axes are discrete.
// On plain ground it is drawn as level lines over its own crossings of two
// continuous axes. A line that has no room for its number is left out.
type Overlay struct {
	Name   string      // of the family, in the legend
	X, Y   []float64   // on plain ground: rising, within the axes, at least two each
	Z      [][]float64 // as Field.Z; over a field on the same crossings, NaN at the same places
	Levels []float64   // rising
	Format string      // of the labels, as for fmt; "" is "%.6g"
}

// Line is a curve given by its points.
type Line struct {
	Family string // in the legend; lines of one family look alike
	Label  string // set into the line; may be empty
	X, Y   []float64

	// Part is where along the line the label rather stands, 0 to 1; 0 is near the
	// end, to which lines mostly fan out.
	Part float64

	// Outline draws the line heavy and solid, apart from those of other families.
	Outline bool
}

// Marker is a star with a callout. On a map the callout stands above the panel,
// on plain ground in a box tied to the star.
type Marker struct {
	X, Y  float64
	Lines []string // of the callout; none leaves it out
	Tag   string   // beside the star of a panel that has several
	Bare  bool     // no star: the callout alone, to what is drawn there otherwise
	Ring  bool     // an open ring in place of the star, which shows one within

	// Family is that of points whose mark a star on plain ground bears; the points are drawn
	// over it. "" for none.
	Family string
}

// Layout says where the text of a figure stands.
type Layout struct {
	Width, Height float64 // points
	Texts         []TextBox
	Dropped       []Lost   // labels for which there was no room
	Unnamed       []Lost   // gates of hatched areas without room for their name
	Unnumbered    []string // levels for whose number there was none
	Hidden        int      // level lines left out, having no room for a number
	Shortened     []string // gates that are named by their short name
}

// Lost is a text that is left out of a panel.
type Lost struct {
	Panel int
	Text  string
}

func (x Lost) String() string { return x.Text }

// Faults lists the texts that leave the figure or cover another one; there
// should be none.
func (l Layout) Faults() []string {
	var out []string
	boxes := make([]box, len(l.Texts))
	canvas := vg.Rectangle{Max: xy(l.Width, l.Height)}
	for k, t := range l.Texts {
		boxes[k] = t.box()
		if !boxes[k].within(canvas) {
			out = append(out, fmt.Sprintf("%q leaves the figure", t.Text))
		}
		for i := range k {
			if boxes[i].overlaps(boxes[k]) {
				out = append(out, fmt.Sprintf("%q covers %q", t.Text, l.Texts[i].Text))
			}
		}
	}
	return out
}

// WritePNG draws the figure on white.
// It fails on malformed content, which is an error of the caller, and on writing.
func (f *Figure) WritePNG(w io.Writer) error {
	_, err := f.Draw(w)
	return err
}

// Draw is WritePNG that says how the text was placed.
func (f *Figure) Draw(w io.Writer) (Layout, error) {
	p, err := f.Place()
	if err != nil {
		return Layout{}, err
	}
	return p.Layout, p.WritePNG(w)
}

// Layout places the figure without drawing it. It fails as WritePNG does.
func (f *Figure) Layout() (Layout, error) {
	p, err := f.Place()
	if err != nil {
		return Layout{}, err
	}
	return p.Layout, nil
}

// Placed is a figure all of whose shapes and texts have their places.
type Placed struct {
	Layout
	shapes *recorder.Canvas
	dpi    int
}

// Place gives all shapes and texts of the figure their places. It fails on malformed content,
// which is an error of the caller.
func (f *Figure) Place() (*Placed, error) {
	if err := f.validate(); err != nil {
		return nil, err
	}
	p := &Placed{shapes: new(recorder.Canvas), dpi: f.dpi()}
	p.Layout = f.draw(newPen(p.shapes))
	return p, nil
}

// WritePNG draws the figure on white.
func (p *Placed) WritePNG(w io.Writer) error {
	c := newCanvas(p.Width, p.Height, p.dpi)
	if err := p.shapes.ReplayOn(c); err != nil {
		return err
	}
	return encode(w, c.im, p.dpi)
}

// Dots are the width and height of the picture.
func (p *Placed) Dots() (width, height int) { return dotsOf(p.Width, p.dpi), dotsOf(p.Height, p.dpi) }

// families lists the families of lines in the order of their first use, which
// settles their looks.
func (f *Figure) families() []string {
	var names []string
	add := func(name string) {
		for _, n := range names {
			if n == name {
				return
			}
		}
		names = append(names, name)
	}
	for _, p := range f.Panels {
		for _, o := range p.Overlays {
			add(o.Name)
		}
		for _, l := range p.Lines {
			add(l.Family)
		}
	}
	return names
}

// looks are those of the lines: on bands they need a casing.
func (f *Figure) looks() []look {
	if f.mapped() {
		return mapLooks
	}
	return plainLooks
}

// outlined tells whether a family of lines is drawn as outlines.
func (f *Figure) outlined(family string) bool {
	for _, p := range f.Panels {
		for _, l := range p.Lines {
			if l.Outline && l.Family == family {
				return true
			}
		}
	}
	return false
}

// looked lists the families that take their looks one after the other.
func (f *Figure) looked() []string { return slices.DeleteFunc(f.families(), f.outlined) }

func (f *Figure) lookOf(family string) look {
	if f.outlined(family) {
		return outlineLook
	}
	for k, n := range f.looked() {
		if n == family {
			return f.looks()[k]
		}
	}
	panic("chart: family without a look: " + family)
}

func format(verb string, v float64) string {
	if verb == "" {
		verb = "%.6g"
	}
	return fmt.Sprintf(verb, v)
}

// Unbroken is a space at which no line ends.
const Unbroken = "\u00a0"

// splitWords cuts a text where a line may end: at spaces, but not between a
// number and a short word after it, which may be its unit, nor between an asterisk
// and the word it marks, or that it leads to where it begins a sentence.
func splitWords(text string) []string {
	const unit = 5 // letters
	var out []string
	number, star, end := false, false, true
	ends := func(r rune) bool { return unicode.IsSpace(r) && string(r) != Unbroken }
	for _, word := range strings.FieldsFunc(text, ends) {
		if star || number && utf8.RuneCountInString(word) <= unit || word[0] == '*' && !end {
			out[len(out)-1] += " " + word
		} else {
			out = append(out, word)
		}
		last := word[len(word)-1]
		number, star, end = last >= '0' && last <= '9', end && word == "*", last == '.'
	}
	return out
}
