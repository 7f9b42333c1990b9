package chart

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// areaFigure has a band with lines on it, bars of shares beneath on the same axis, and a
// chart of its own axis, for some classes side by side.
func areaFigure(n int) *Figure {
	f := &Figure{Title: "3.5 in, anything from 3 to 4 in", Subtitle: "study invented-field", Columns: n,
		Rows: []float64{1.8, 0.9, 0.9}, Star: "recommended", Families: []string{"ahead", "behind", "tied"}}
	var rows [3][]Panel
	for c := range n {
		x := Axis{Label: "diameter [in]", Min: 2.25, Max: 5.25, Ticks: steps(2.5, 5, 0.5)}
		p := Panel{Title: short(c), X: x, Y: Axis{Label: "merit [-]", Max: 1}}
		q := Panel{X: x, Y: Axis{Label: "draws [%]", Max: 124, Ticks: []float64{0, 50, 100}}}
		band := Area{Family: "10th to 90th percentile", Pale: true}
		median := Line{Family: "median"}
		bars := []Area{{Family: "ahead", Half: 0.2}, {Family: "tied", Half: 0.2}, {Family: "behind", Half: 0.2}}
		for _, d := range x.Ticks {
			v := 0.7 - 0.2*math.Pow(d-3.5, 2)/(1+float64(c))
			band.At, band.From, band.To = append(band.At, d), append(band.From, 0.6*v), append(band.To, 1.2*v)
			median.X, median.Y = append(median.X, d), append(median.Y, v)
			for k, ends := range [3][2]float64{{0, 30 * v}, {30 * v, 80 * v}, {80 * v, 100}} {
				a := &bars[k]
				a.At, a.From, a.To = append(a.At, d), append(a.From, ends[0]), append(a.To, ends[1])
			}
		}
		p.Areas, p.Lines = []Area{band}, []Line{median}
		p.Markers = []Marker{{X: 3.5, Y: 0.7}}
		q.Areas = bars
		q.Lines = []Line{{Family: "not told apart", Outline: true, X: []float64{2.8, 4.2}, Y: []float64{112, 112}}}
		rows[0], rows[1] = append(rows[0], p), append(rows[1], q)
		rows[2] = append(rows[2], Panel{X: Axis{Label: "at least [%]", Min: 45, Max: 95},
			Y:     Axis{Label: "best [-]", Max: 1},
			Lines: []Line{{Family: "median", X: []float64{50, 90}, Y: []float64{0.7, 0.5}}}})
	}
	for _, row := range rows {
		f.Panels = append(f.Panels, row...)
	}
	return f
}

// lyingFigure has bars about a line, with names in two lines and texts beside them.
func lyingFigure() *Figure {
	f := &Figure{Title: "Resistance moves the merit most", Subtitle: "study invented-field", Height: 1.5, Width: 8.5}
	y := Axis{Names: []string{"drag area, 40 %", "frame mass (of all\nframes of one size), 20 %", "resistance, 15 %"}}
	p := Panel{X: Axis{Label: "merit [-]", Min: 0.4, Max: 1}, Y: y}
	less, more := Area{Family: "less", Half: 0.2, Lying: true}, Area{Family: "more", Half: 0.2, Lying: true}
	for k := range y.Names {
		d := 0.05 * float64(k+1)
		less.At, less.From, less.To = append(less.At, float64(k)+0.2), append(less.From, 0.6), append(less.To, 0.6+d)
		more.At, more.From, more.To = append(more.At, float64(k)-0.2), append(more.From, 0.6), append(more.To, 0.6-d)
		less.Labels = append(less.Labels, fmt.Sprintf("best size then %d in", k+2))
		more.Labels = append(more.Labels, "")
	}
	p.Areas = []Area{less, more}
	f.Panels = []Panel{p}
	return f
}

// Rows have the heights that they are given, in proportion where they shrink to fit a page;
// a panel lends its numbers to the one above it with the same axis, and to those beside it.
func TestRows(t *testing.T) {
	t.Parallel()
	for n := 1; n <= 4; n++ {
		f := areaFigure(n)
		l, err := f.Layout()
		if err != nil {
			t.Fatal(err)
		}
		if l.Height > mostHigh+1 {
			t.Errorf("%d abreast: %.0f points high, want at most %d", n, l.Height, mostHigh)
		}
		count := map[string]int{}
		for _, text := range l.Texts {
			count[text.Text]++
		}
		for text, want := range map[string]int{"diameter [in]": n, "at least [%]": n, "merit [-]": 1, "draws [%]": 1,
			"best [-]": 1, "100": 1} {
			if count[text] != want {
				t.Errorf("%d abreast: %q stands %d times, want %d", n, text, count[text], want)
			}
		}
		s := f.arrange(newPen(new(recorder.Canvas)))
		high := func(k int) float64 { r := s.rect(k); return float64(r.Max.Y - r.Min.Y) }
		if got := high(0) / high(n); math.Abs(got-2) > 0.05 {
			t.Errorf("%d abreast: the first row is %.2f times the second, want 2", n, got)
		}
	}
}

// Bars reach from value to value, of the width that they are given, and lie where they are to.
func TestAreaRings(t *testing.T) {
	t.Parallel()
	rect := vg.Rectangle{Max: vg.Point{X: 100, Y: 200}}
	s := &scene{labels: &labels{room: rect}, frame: frame{rect: rect, x: Axis{Max: 10}, y: Axis{Max: 10}}}
	for _, c := range []struct {
		area Area
		want []vg.Rectangle
	}{
		{Area{At: []float64{2, 6}, From: []float64{0, 5}, To: []float64{5, 10}, Half: 1},
			[]vg.Rectangle{{Min: xy(10, 0), Max: xy(30, 100)}, {Min: xy(50, 100), Max: xy(70, 200)}}},
		{Area{At: []float64{2}, From: []float64{4}, To: []float64{1}, Half: 0.5, Lying: true},
			[]vg.Rectangle{{Min: xy(10, 30), Max: xy(40, 50)}}},
		{Area{At: []float64{1, 3}, From: []float64{0, 1}, To: []float64{2, 4}},
			[]vg.Rectangle{{Min: xy(10, 0), Max: xy(30, 80)}}},
	} {
		rings := s.rings(&c.area)
		if len(rings) != len(c.want) {
			t.Errorf("%+v: %d rings, want %d", c.area, len(rings), len(c.want))
			continue
		}
		for k, ring := range rings {
			d := newDrawn(look{}, ring)
			if distance(d.lo, c.want[k].Min) > 1e-9 || distance(d.hi, c.want[k].Max) > 1e-9 || !ring.closed {
				t.Errorf("%+v: ring %d from %v to %v, want %v", c.area, k, d.lo, d.hi, c.want[k])
			}
		}
	}
}
