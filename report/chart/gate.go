package chart

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/plot/vg"
)

// tract is barren ground that one gate stops, all of a piece.
type tract struct {
	gate string
	in   [][]bool // as Field.Z
	n    int      // crossings
	of   int      // crossings of the hatched ground that it is part of, other gates' as well
}

// matters says whether the reader has to be told of a gate: it stops an eighth of
// its hatched ground, or a fiftieth of all crossings.
func (a *tract) matters() bool {
	all := len(a.in) * len(a.in[0])
	return 8*a.n >= a.of || 50*a.n >= all
}

// tracts divides the barren crossings into pieces of ground whose gate is the same,
// the greatest first.
func (f *Field) tracts() []tract {
	seen := make([][]bool, len(f.Z))
	for j := range seen {
		seen[j] = make([]bool, len(f.Z[j]))
	}
	barren := func(j, i int) bool {
		return j >= 0 && i >= 0 && j < len(f.Z) && i < len(f.Z[j]) && math.IsNaN(f.Z[j][i]) && f.Gate[j][i] != ""
	}
	// piece gathers what hangs together with a crossing.
	piece := func(j, i int, same func(j, i int) bool) (in [][]bool, n int) {
		in = make([][]bool, len(f.Z))
		for k := range in {
			in[k] = make([]bool, len(f.Z[k]))
		}
		in[j][i] = true
		for edge := [][2]int{{j, i}}; len(edge) > 0; n++ {
			at := edge[len(edge)-1]
			edge = edge[:len(edge)-1]
			for _, d := range [...][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if y, x := at[0]+d[0], at[1]+d[1]; barren(y, x) && !in[y][x] && same(y, x) {
					in[y][x] = true
					edge = append(edge, [2]int{y, x})
				}
			}
		}
		return in, n
	}
	var out []tract
	for j := range f.Z {
		for i := range f.Z[j] {
			if !barren(j, i) || seen[j][i] {
				continue
			}
			a := tract{gate: f.Gate[j][i]}
			a.in, a.n = piece(j, i, func(y, x int) bool { return f.Gate[y][x] == a.gate })
			_, a.of = piece(j, i, func(int, int) bool { return true })
			for y := range a.in {
				for x, in := range a.in[y] {
					seen[y][x] = seen[y][x] || in
				}
			}
			out = append(out, a)
		}
	}
	slices.SortStableFunc(out, func(a, b tract) int { return b.n - a.n })
	return out
}

// placeGates names in each piece of barren ground the gate that stops it, where
// there is room for the name, and notes those that matter and have none.
func (s *scene) placeGates() []lettering {
	f := s.panel.Field
	if f == nil || f.Gate == nil {
		return nil
	}
	var out []lettering
	for _, a := range f.tracts() {
		if place, ok := s.gatePlace(a, 1); ok {
			out = append(out, place...)
		} else if !a.matters() {
			continue
		} else if place, ok := s.gatePlace(a, mostly); ok {
			out = append(out, place...)
		} else if !slices.Contains(s.unnamed, a.gate) {
			s.unnamed = append(s.unnamed, a.gate)
		}
	}
	return out
}

// mostly is the share of a name's room that has to be on its own ground, for want
// of a place that wholly is.
const mostly = 0.6

// gatePlace looks for the roomiest place for a gate's name on barren ground, at
// least a share of it its own, in one line or else in two or three, or else for
// its short name.
func (s *scene) gatePlace(a tract, share float64) ([]lettering, bool) {
	name := a.gate
	st := style{size: labelSize, ink: black, halo: s.figure.ground()}
	site := s.site(a)
	middle := s.middle(a)
	splits := layouts(name)
	whole := len(splits)
	if short := s.panel.Field.Short[name]; short != "" {
		splits = append(splits, layouts(short)...)
	}
	for k, lines := range splits {
		w := 0.0
		for _, line := range lines {
			w = max(w, s.pen.width(line, st))
		}
		h := float64(len(lines)) * 1.15 * st.size
		best, at := 0.0, vg.Point{}
		const lattice = 5
		for y := s.room.Min.Y; y <= s.room.Max.Y; y += lattice {
			for x := s.room.Min.X; x <= s.room.Max.X; x += lattice {
				b := box{centre: vg.Point{X: x, Y: y}, halfW: w / 2, halfH: h / 2}
				if !b.grown(3).within(s.room) || !site.stops(b.centre) || s.taken(b.grown(2)) {
					continue
				}
				room := 0.0
				for _, grow := range [...]float64{2, 5, 9, 14, 20, 28, 38, 50, 66, 86, 110, 140} {
					if !b.grown(grow/2).within(s.room) || !site.allStop(b.grown(grow), share) {
						break
					}
					room = grow
				}
				if room == 0 {
					continue
				}
				value := room + 100/(1+distance(b.centre, middle)/50)
				for _, d := range s.drawn {
					if value <= best {
						break
					}
					if d.enters(b) {
						value /= 4
					}
				}
				if value > best {
					best, at = value, b.centre
				}
			}
		}
		if best == 0 {
			continue
		}
		if k >= whole {
			s.shortened = append(s.shortened, name)
		}
		var out []lettering
		for k, line := range lines {
			l := lettering{text: line, style: st, at: vg.Point{
				X: at.X, Y: at.Y + vg.Length((float64(len(lines)-1)/2-float64(k))*1.15*st.size),
			}}
			s.add(s.pen.textBox(line, st, l.at, 0).grown(1))
			out = append(out, l)
		}
		return out, true
	}
	return nil, false
}

// middle is the mean place of the crossings of a tract.
func (s *scene) middle(a tract) vg.Point {
	f := s.panel.Field
	var x, y, n float64
	for j := range f.Z {
		for i := range f.Z[j] {
			if a.in[j][i] {
				p := s.frame.point(f.X[i], f.Y[j])
				x, y, n = x+float64(p.X), y+float64(p.Y), n+1
			}
		}
	}
	return xy(x/n, y/n)
}

// layouts splits a name at spaces and after hyphens into one, two and three
// lines, the most even splits.
func layouts(name string) [][]string {
	var parts []string // with the space or hyphen that ends each
	from := 0
	for k, r := range name {
		if r == ' ' || r == '-' {
			parts = append(parts, name[from:k+1])
			from = k + 1
		}
	}
	parts = append(parts, name[from:])
	out := [][]string{{name}}
	for n := 2; n <= min(3, len(parts)); n++ {
		lines, _ := evenly(parts, n)
		out = append(out, lines)
	}
	return out
}

// evenly joins parts into n lines, the longest as short as can be.
func evenly(parts []string, n int) (lines []string, longest int) {
	if n == 1 {
		line := strings.TrimSpace(strings.Join(parts, ""))
		return []string{line}, utf8.RuneCountInString(line)
	}
	longest = math.MaxInt
	for k := 1; k <= len(parts)-n+1; k++ {
		first, wide := evenly(parts[:k], 1)
		rest, most := evenly(parts[k:], n-1)
		if most = max(most, wide); most < longest {
			lines, longest = append(first, rest...), most
		}
	}
	return lines, longest
}

// site is where a tract lies on the canvas.
type site struct {
	tract
	*scene
	x, y []float64 // of the crossings
}

func (s *scene) site(a tract) site {
	f := s.panel.Field
	return site{a, s, place(f.X, s.frame.px), place(f.Y, s.frame.py)}
}

// stops tells whether the ground at p is barren and its nearest crossing is of the
// tract.
func (g *site) stops(p vg.Point) bool {
	return g.in[nearest(g.y, float64(p.Y))][nearest(g.x, float64(p.X))] && !g.terrain.open(p)
}

// allStop looks at points of the box that are within the frame: all have to be
// barren, and a share of them of the area.
func (g *site) allStop(b box, share float64) bool {
	own, all := 0.0, 0.0
	for i := -2; i <= 2; i++ {
		for j := -1; j <= 1; j++ {
			p := vg.Point{
				X: b.centre.X + vg.Length(float64(i)/2*b.halfW),
				Y: b.centre.Y + vg.Length(float64(j)*b.halfH),
			}
			p.X = min(max(p.X, g.room.Min.X), g.room.Max.X)
			p.Y = min(max(p.Y, g.room.Min.Y), g.room.Max.Y)
			if g.terrain.open(p) {
				return false
			}
			if all++; g.in[nearest(g.y, float64(p.Y))][nearest(g.x, float64(p.X))] {
				own++
			}
		}
	}
	return own >= share*all
}

// nearest is the first of the rising places that p is nearest to.
func nearest(rising []float64, p float64) int {
	after, _ := slices.BinarySearch(rising, p)
	switch {
	case after == 0:
		return 0
	case after == len(rising) || p-rising[after-1] <= rising[after]-p:
		return after - 1
	}
	return after
}
