package chart

import (
	"bytes"
	"encoding/binary"
	"flag"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

var pictures = flag.String("pictures", "", "folder to write the sample figures to, for looking at")

// No text of any sample leaves the canvas or covers another, and there is room
// for all but the named labels.
func TestSamplesLayout(t *testing.T) {
	t.Parallel()
	dropped := map[string]int{
		// Crosses the samples' barren corner for a few points only.
		"size-3": 1, "map-most": 2,
		// Two rows of three panels are low, and this one asks for 29 weights.
		"map-5": 3,
		// The star takes the room of the cell's number.
		"cells": 3,
	}
	layouts, err := sampleLayouts()
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range allSamples() {
		t.Run(name, func(t *testing.T) {
			l := layouts[name]
			checkLayout(t, l)
			checkContrast(t, f)
			if n := len(l.Dropped) + len(l.Unnumbered); n > dropped[name] {
				t.Errorf("no room for %q %q, want at most %d left out", l.Dropped, l.Unnumbered, dropped[name])
			}
			if *pictures != "" {
				write(t, f, filepath.Join(*pictures, name+".png"))
			}
		})
	}
}

func write(t *testing.T, f *Figure, name string) {
	t.Helper()
	var buf bytes.Buffer
	if err := f.WritePNG(&buf); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, buf.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}

func TestDeterministic(t *testing.T) {
	t.Parallel()
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := cellFigure(false).WritePNG(w); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same figure gave different bytes")
	}
}

// The picture says its resolution, has the size of its layout and is white
// around the rim.
func TestPNG(t *testing.T) {
	t.Parallel()
	f := cellFigure(true)
	var buf bytes.Buffer
	if err := f.WritePNG(&buf); err != nil {
		t.Fatal(err)
	}
	raw := buf.Bytes()
	// 200 dots an inch are 7874 a metre; the checksum is that of the PNG specification.
	chunk := append([]byte{0, 0, 0, 9}, "pHYs\x00\x00\x1e\xc2\x00\x00\x1e\xc2\x01"...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	if at := bytes.Index(raw, chunk); at != 33 {
		t.Errorf("resolution chunk is at %d, want it right after the header, at 33", at)
	}
	m, err := png.Decode(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	l, err := f.Layout()
	if err != nil {
		t.Fatal(err)
	}
	size := m.Bounds().Size()
	if math.Abs(float64(size.X)-l.Width*200/72) > 0.01 || math.Abs(float64(size.Y)-l.Height*200/72) > 0.01 {
		t.Errorf("picture is %v dots, layout %g by %g points", size, l.Width, l.Height)
	}
	for x := range size.X {
		for _, y := range [2]int{0, size.Y - 1} {
			if r, g, b, a := m.At(x, y).RGBA(); r&g&b&a != 0xffff {
				t.Fatalf("dot %d, %d on the rim is not white", x, y)
			}
		}
	}
}

// Another resolution gives other dots, the same layout, and says so.
func TestDPI(t *testing.T) {
	t.Parallel()
	f := cellFigure(true)
	usual, err := f.Layout()
	if err != nil {
		t.Fatal(err)
	}
	f.DPI = 300
	var buf bytes.Buffer
	l, err := f.Draw(&buf)
	if err != nil {
		t.Fatal(err)
	}
	if perMetre := binary.BigEndian.Uint32(buf.Bytes()[41:]); perMetre != 11811 {
		t.Errorf("picture says %d dots a metre, want 11811", perMetre)
	}
	size, err := png.DecodeConfig(&buf)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(float64(size.Width)-l.Width*300/72) > 0.01 || math.Abs(l.Width-usual.Width) > 72.0/200 ||
		math.Abs(l.Height-usual.Height) > 72.0/200 {
		t.Errorf("picture is %d dots wide, layout %g by %g points, at 200 dots an inch %g by %g", size.Width, l.Width,
			l.Height, usual.Width, usual.Height)
	}
	f.DPI = -1
	if _, err := f.Layout(); err == nil || !strings.Contains(err.Error(), "-1 dots per inch") {
		t.Errorf("a resolution of -1 gave %v", err)
	}
}

// Callouts keep off every marker, not only their own.
func TestCalloutsAvoidMarkers(t *testing.T) {
	t.Parallel()
	panel := Panel{X: Axis{Max: 1}, Y: Axis{Max: 1}}
	for k := range 7 {
		a := float64(k)
		panel.Markers = append(panel.Markers, Marker{
			X: 0.5 + 0.2*math.Cos(a), Y: 0.5 + 0.2*math.Sin(a), Lines: []string{"one line", "and a second",
				"and a third"},
		})
	}
	rect := vg.Rectangle{Max: vg.Point{X: 400, Y: 300}}
	p := newPen(new(recorder.Canvas))
	s := &scene{labels: &labels{pen: p, room: rect}, frame: frame{rect: rect, x: panel.X, y: panel.Y}, panel: &panel}
	s.terrain.open = func(vg.Point) bool { return true }
	for _, m := range panel.Markers {
		s.add(box{centre: s.frame.point(m.X, m.Y), halfW: starRadius, halfH: starRadius})
	}
	callouts := s.placeCallouts()
	if len(callouts) != len(panel.Markers) {
		t.Fatalf("placed %d callouts of %d", len(callouts), len(panel.Markers))
	}
	for k, c := range callouts {
		for _, m := range panel.Markers {
			star := box{centre: s.frame.point(m.X, m.Y), halfW: starRadius, halfH: starRadius}
			if upright(c.rect).overlaps(star) {
				t.Errorf("callout %d covers the marker at %g, %g", k, m.X, m.Y)
			}
			if at := s.frame.point(m.X, m.Y); at != c.marker && star.crosses(c.rim(), c.marker) {
				t.Errorf("the leader of callout %d crosses the marker at %g, %g", k, m.X, m.Y)
			}
		}
		for _, o := range callouts[:k] {
			if upright(c.rect).overlaps(upright(o.rect)) {
				t.Errorf("callout %d covers another", k)
			}
			if meet(c.rim(), c.marker, o.rim(), o.marker) {
				t.Errorf("the leaders of callout %d and another cross", k)
			}
		}
	}
}

// A leader goes around what is in its way, even if the best room is behind it.
func TestCalloutLeaderIsFree(t *testing.T) {
	t.Parallel()
	l := &labels{pen: newPen(new(recorder.Canvas)), room: vg.Rectangle{Max: vg.Point{X: 400, Y: 300}}}
	marker := vg.Point{X: 200, Y: 150}
	wall := box{centre: vg.Point{X: 214, Y: 150}, halfW: 3, halfH: 30}
	l.add(wall)
	right := func(r vg.Rectangle) float64 { // the best room is to the right
		if r.Min.X > marker.X {
			return 0
		}
		return 1
	}
	c, ok := l.callout([]string{"a callout"}, marker, nil, right)
	if !ok {
		t.Fatal("no place")
	}
	if wall.crosses(c.rim(), c.marker) {
		t.Errorf("the leader from %v to %v crosses the wall", c.rim(), c.marker)
	}
	if upright(c.rect).overlaps(wall) {
		t.Errorf("callout at %v covers the wall", c.rect)
	}
}

func TestErrors(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		edit func(f *Figure)
		want string
	}{
		{"no panels", func(f *Figure) { f.Panels = nil }, "no panels"},
		{"backward axis", func(f *Figure) { f.Panels[0].X.Min = 99 }, "the lower first"},
		{"logarithm of zero", func(f *Figure) { f.Panels[0].Y.Log, f.Panels[0].Y.Min = true, 0 }, "above 0"},
		{"ragged field", func(f *Figure) { f.Panels[0].Field.Z[3] = f.Panels[0].Field.Z[3][1:] },
			"Z[3] has 12 values: want 13"},
		{"falling coordinates", func(f *Figure) { f.Panels[0].Field.X[2] = 2 }, "x[2] is 2: want rising"},
		{"infinite value", func(f *Figure) { f.Panels[0].Field.Z[0][0] = math.Inf(1) }, "want a finite value, or NaN"},
		{"value off the bar", func(f *Figure) { f.Bar.Levels = []float64{0, 0.5} }, "within the colour bar, 0 to 0.5"},
		{"falling bar", func(f *Figure) { f.Bar.Levels = []float64{0, 2, 1} }, "level 2 is 1"},
		{"overlay with holes", func(f *Figure) { f.Panels[0].Overlays[0].Z[20][2] = math.NaN() },
			"exactly where the field has one"},
		{"marker off the axes", func(f *Figure) { f.Panels[0].Markers[0].X = 1 }, "within the axes"},
		{"half a line", func(f *Figure) {
			f.Panels[0].Lines = []Line{{Label: "x", X: []float64{1, 2},
				Y: []float64{1}}}
		}, "2 x and 1 y"},
		{"too many families", func(f *Figure) {
			for k := range 5 {
				f.Panels[0].Lines = append(f.Panels[0].Lines, Line{Family: string(rune('a' + k)), X: []float64{2, 3},
					Y: []float64{900, 900}})
			}
		}, "7 families of lines: want at most 4"},
		{"stack on a field", func(f *Figure) { f.Panels[0].Stacks = []Stack{{Pieces: []Piece{{Length: 1}}}} },
			"want a panel without one"},
		{"stack without names", func(f *Figure) {
			f.Panels[0] = Panel{X: Axis{Max: 1}, Y: Axis{Max: 1}, Stacks: []Stack{{Pieces: []Piece{{Length: 1}}}}}
		}, "want names on one of the axes"},
		{"stack beyond the names", func(f *Figure) {
			f.Panels[0] = massFigure(1).Panels[0]
			f.Panels[0].Stacks[0].At = 1
		}, "at 1: want 0 to 0"},
		{"stack of nothing", func(f *Figure) {
			f.Panels[0] = massFigure(1).Panels[0]
			f.Panels[0].Stacks[0].Pieces = nil
		}, "has 0 pieces"},
		{"negative piece", func(f *Figure) {
			f.Panels[0] = massFigure(1).Panels[0]
			f.Panels[0].Stacks[0].Pieces[2].Length = -1
		}, "a piece \"frame\" of -1"},
		{"bar beyond the axis", func(f *Figure) { f.Panels[0] = massFigure(1).Panels[0]; f.Panels[0].Y.Max = 100 },
			"reaches to 255"},
		{"points off the axes", func(f *Figure) {
			f.Panels[0].Points = []Points{{Family: "p", X: []float64{9},
				Y: []float64{900}}}
		}, "point 0 of \"p\" at (9, 900)"},
		{"labels short of points", func(f *Figure) {
			f.Panels[0].Points = []Points{{Family: "p", X: []float64{3}, Y: []float64{900}, Labels: []string{}}}
		}, "0 labels"},
		{"overlay on plain names", func(f *Figure) {
			f.Panels[0].Field, f.Panels[0].X = nil,
				Axis{Names: []string{"a"}}
		}, "want continuous axes"},
		{"area on a field", func(f *Figure) { f.Panels[0].Areas = areaFigure(1).Panels[0].Areas }, "on a field"},
		{"half an area", func(f *Figure) {
			*f = *areaFigure(1)
			f.Panels[0].Areas[0].To = nil
		}, "6 places, 6 and 0 values"},
		{"area of one place", func(f *Figure) {
			*f = *areaFigure(1)
			a := &f.Panels[0].Areas[0]
			a.At, a.From, a.To = a.At[:1], a.From[:1], a.To[:1]
		}, "two to join"},
		{"area off the axes", func(f *Figure) {
			*f = *areaFigure(1)
			f.Panels[0].Areas[0].To[2] = 1.5
		}, "at 3.5 from 0.42 to 1.5: want it within the axes"},
		{"two pale families", func(f *Figure) {
			*f = *areaFigure(1)
			a := f.Panels[0].Areas[0]
			a.Family = "another"
			f.Panels[0].Areas = append(f.Panels[0].Areas, a)
		}, "want one family"},
		{"labels on standing bars", func(f *Figure) {
			*f = *areaFigure(1)
			f.Panels[1].Areas[0].Labels = make([]string, 6)
		}, "want them on bars that lie"},
		{"rows without heights", func(f *Figure) { *f = *areaFigure(1); f.Rows = f.Rows[:2] },
			"heights of 2 rows: want one for each of 3"},
		{"texts without ticks", func(f *Figure) { f.Panels[0].X.Texts = []string{"a"} }, "1 texts for 0 ticks"},
	} {
		f := mapFigure(1, short, 1)
		c.edit(f)
		var buf bytes.Buffer
		err := f.WritePNG(&buf)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error is %v, want one with %q", c.name, err, c.want)
		}
		if buf.Len() > 0 {
			t.Errorf("%s: wrote %d bytes beside the error", c.name, buf.Len())
		}
	}
}

// checkLayout fails if a text leaves the canvas, is too small or covers another.
func checkLayout(t *testing.T, l Layout) {
	t.Helper()
	for _, text := range l.Texts {
		if text.Size < 7 {
			t.Errorf("%q is %g points high, want at least 7", text.Text, text.Size)
		}
	}
	for _, fault := range l.Faults() {
		t.Error(fault)
	}
}

// checkContrast draws the figure and fails if a text differs by less than 4.5 : 1
// from its halo or, without one, from the ground that most of its box shows.
func checkContrast(t *testing.T, f *Figure) {
	t.Helper()
	g := *f
	g.DPI = 100
	var buf bytes.Buffer
	l, err := g.Draw(&buf)
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(&buf)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range l.Texts {
		ground := text.Halo
		if ground == nil {
			ground = prevailing(m, text, l.Height)
		}
		if c := Contrast(text.Ink, ground); c < 4.5 {
			t.Errorf("%q has a contrast of %.1f, want at least 4.5", text.Text, c)
		}
	}
}

// prevailing is the colour of most dots of a text's box.
func prevailing(m image.Image, text TextBox, height float64) color.Color {
	b := text.box()
	scale := float64(m.Bounds().Dy()) / height
	count := map[color.Color]int{}
	var most color.Color
	sin, cos := math.Sincos(b.angle)
	const steps = 60
	for i := range steps {
		for j := range steps / 4 {
			u, v := (2*float64(i)/(steps-1)-1)*b.halfW, (2*float64(j)/(steps/4-1)-1)*b.halfH
			x, y := float64(b.centre.X)+u*cos-v*sin, float64(b.centre.Y)+u*sin+v*cos
			c := m.At(int(x*scale), int((height-y)*scale))
			if count[c]++; most == nil || count[c] > count[most] {
				most = c
			}
		}
	}
	return most
}

// Faults finds what it is there to find.
func TestFaults(t *testing.T) {
	t.Parallel()
	at := func(text string, x, y, angle float64) TextBox {
		b := box{centre: vg.Point{X: vg.Length(x), Y: vg.Length(y)}, halfW: 20, halfH: 4, angle: angle}
		out := TextBox{Text: text, Size: 8}
		for k, c := range b.corners() {
			out.Corners[k] = [2]float64{float64(c.X), float64(c.Y)}
		}
		return out
	}
	l := Layout{Width: 200, Height: 100, Texts: []TextBox{
		at("a", 50, 50, 0), at("beside a", 110, 50, 0), at("across a", 40, 60, math.Pi/2),
		at("over the edge", 190, 20, 0),
		at("slanted past a", 66, 66, -math.Pi/4),
	}}
	want := []string{`"across a" covers "a"`, `"over the edge" leaves the figure`}
	if diff := cmp.Diff(want, l.Faults()); diff != "" {
		t.Error(diff)
	}
}
