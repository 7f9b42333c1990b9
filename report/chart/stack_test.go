package chart

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// Places move apart as little as can be and stay within the room.
func TestApart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		at     []float64
		lo, hi float64
		want   []float64
	}{
		{nil, 0, 100, []float64{}},
		{[]float64{10, 30, 50}, 0, 100, []float64{10, 30, 50}},
		{[]float64{20, 20}, 0, 100, []float64{15, 25}},
		{[]float64{20, 22, 60}, 0, 100, []float64{16, 26, 60}},
		{[]float64{20, 22, 24, 35}, 0, 100, []float64{10.25, 20.25, 30.25, 40.25}}, // about their mean
		{[]float64{1, 2, 3}, 0, 100, []float64{0, 10, 20}},
		{[]float64{98, 99}, 0, 100, []float64{90, 100}},
	} {
		got := apart(c.at, 10, c.lo, c.hi)
		if d := cmp.Diff(c.want, got, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); d != "" {
			t.Errorf("%v: %s", c.at, d)
		}
	}
}

// A bar reaches to the sum of its pieces, piece after piece, and from the lower
// end of a logarithmic axis; a count of nothing has no bar but its label.
func TestStacksReach(t *testing.T) {
	t.Parallel()
	for _, f := range []*Figure{massFigure(2), tallyFigure(1)} {
		p := newPen(new(recorder.Canvas))
		panel := &f.Panels[0]
		rect := vg.Rectangle{Max: vg.Point{X: 400, Y: 300}}
		s := &scene{labels: &labels{pen: p, room: rect}, figure: f, colours: ramp(), panel: panel,
			frame: frame{rect: rect, x: panel.X, y: panel.Y, dpi: usualDPI}}
		s.placeStacks()
		for n, k := range panel.Stacks {
			sum := 0.0
			for i, q := range k.Pieces {
				r := s.stacks[n].pieces[i].rect
				sum += q.Length
				end, want, start := float64(r.Max.Y), s.frame.py(sum), r.Min.Y
				if panel.lying() {
					end, want, start = float64(r.Max.X), s.frame.px(sum), r.Min.X
				}
				if sum == 0 {
					want = 0
				}
				if math.Abs(end-want) > 1e-9 {
					t.Errorf("%q: piece %d ends at %g, want %g", k.Label, i, end, want)
				}
				if i == 0 && start != 0 {
					t.Errorf("%q begins at %g", k.Label, start)
				}
			}
			if len(s.stacks[n].texts) == 0 {
				t.Errorf("%q has no text", k.Label)
			}
		}
	}
}

// A family that a figure lists keeps its colour where another is missing.
func TestFamiliesKeepColour(t *testing.T) {
	t.Parallel()
	all := []string{"pack", "motors", "frame", "payload"}
	figure := func(used ...string) *Figure {
		f := &Figure{Families: all, Panels: []Panel{{Stacks: []Stack{{}}}}}
		for _, name := range used {
			f.Panels[0].Stacks[0].Pieces = append(f.Panels[0].Stacks[0].Pieces, Piece{Family: name})
		}
		return f
	}
	for _, f := range []*Figure{figure(all...), figure("payload", "frame"), figure("motors")} {
		for k, name := range all {
			if got, want := f.pieceShade(ramp(), name), StackShade(k, len(all)); got != want {
				t.Errorf("%s is %v, want %v", name, got, want)
			}
		}
	}
	if got := figure("frame", "cargo").pieceFamilies(); !slices.Equal(got, append(slices.Clone(all), "cargo")) {
		t.Errorf("families are %q", got)
	}
}

// A line does not end between a number and its unit.
func TestSplitWords(t *testing.T) {
	t.Parallel()
	want := []string{"3.5 in", "is", "best", "at", "249 g,", "5 in", "costs", "31 %", "of", "time"}
	if d := cmp.Diff([]string{"9 min,", "tip" + Unbroken + "M" + Unbroken + "0.36"},
		splitWords("9 min, tip"+Unbroken+"M"+Unbroken+"0.36")); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(want, splitWords("3.5 in is best at  249 g, 5 in costs 31 % of time")); d != "" {
		t.Error(d)
	}
	// Nor about an asterisk.
	want = []string{"no", "number.", "* outside", "at", "500 g *;", "at", "its", "end *"}
	if d := cmp.Diff(want, splitWords("no number. * outside at 500 g *; at its end *")); d != "" {
		t.Error(d)
	}
}

// The text of a bar that has room for it neither beside nor within is said to be left out.
func TestBarTextWithoutRoom(t *testing.T) {
	t.Parallel()
	const text = "a text of more than half of the panel"
	for _, x := range []struct {
		length float64
		fits   bool
	}{{5, true}, {50, false}, {95, true}} {
		p := newPen(new(recorder.Canvas))
		panel := &Panel{X: Axis{Max: 100}, Y: Axis{Names: []string{"a bar"}},
			Stacks: []Stack{{Label: text, Pieces: []Piece{{Family: "gain", Length: x.length}}}}}
		rect := vg.Rectangle{Max: vg.Point{X: vg.Length(1.4 * p.width(text, style{size: labelSize})), Y: 20}}
		s := &scene{labels: &labels{pen: p, room: rect}, figure: &Figure{Panels: []Panel{*panel}}, colours: ramp(),
			panel: panel, frame: frame{rect: rect, x: panel.X, y: panel.Y, dpi: usualDPI}}
		s.placeStacks()
		if shown := len(s.stacks[0].texts) == 1; shown != x.fits || slices.Equal(s.dropped, []string{text}) == x.fits {
			t.Errorf("bar of %g: text shown %v, left out %q", x.length, shown, s.dropped)
		}
	}
}

// All panels of a row carry the numbers of the shared x axis where one of them has none below.
func TestRowsCarryNumbers(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ panels, columns, bare int }{{5, 3, 0}, {6, 3, 3}, {4, 2, 2}, {3, 3, 0}} {
		f := &Figure{Columns: x.columns, Panels: make([]Panel, x.panels)}
		s := &sheet{columns: x.columns, sharedX: true}
		bare := 0
		for k := range f.Panels {
			if !s.labelsX(f, k) {
				bare++
			}
		}
		if bare != x.bare {
			t.Errorf("%d panels in %d columns: %d carry no numbers, want %d", x.panels, x.columns, bare, x.bare)
		}
	}
}
