package chart

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/plot/vg"
)

// placeGates names, in the barren ground, the gates that stop most of it: each
// that stops at least an eighth, the greatest first, three at most.
func (s *scene) placeGates() []lettering {
	f := s.panel.Field
	if f == nil || f.Gate == nil {
		return nil
	}
	count := map[string]int{}
	total := 0
	for j := range f.Z {
		for i := range f.Z[j] {
			if math.IsNaN(f.Z[j][i]) && f.Gate[j][i] != "" {
				count[f.Gate[j][i]]++
				total++
			}
		}
	}
	var names []string
	for name, n := range count {
		if 8*n >= total {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, func(a, b string) int {
		if count[a] != count[b] {
			return count[b] - count[a]
		}
		return strings.Compare(a, b)
	})
	var out []lettering
	for k, name := range names[:min(len(names), 3)] {
		place, ok := s.gatePlace(name)
		if !ok {
			if k == 0 {
				s.dropped = append(s.dropped, name)
			}
			continue
		}
		out = append(out, place...)
	}
	return out
}

// gatePlace looks for the roomiest place for a gate's name on ground that this
// gate stops, in one line or else in two or three, or else for its short name.
func (s *scene) gatePlace(name string) ([]lettering, bool) {
	st := style{size: labelSize, ink: black, halo: barren}
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
		middle := s.middle(name)
		const lattice = 5
		for y := s.room.Min.Y; y <= s.room.Max.Y; y += lattice {
			for x := s.room.Min.X; x <= s.room.Max.X; x += lattice {
				b := box{centre: vg.Point{X: x, Y: y}, halfW: w / 2, halfH: h / 2}
				if !s.stops(b.centre, name) || !b.grown(3).within(s.room) || s.taken(b.grown(2)) {
					continue
				}
				room := 0.0
				for _, grow := range [...]float64{2, 5, 9, 14, 20, 28, 38, 50, 66, 86, 110, 140} {
					if !b.grown(grow/2).within(s.room) || !s.allStop(b.grown(grow), name) {
						break
					}
					room = grow
				}
				if room == 0 {
					continue
				}
				value := room + 100/(1+distance(b.centre, middle)/50)
				for _, d := range s.drawn {
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

// middle is the mean place of the crossings that the gate stops.
func (s *scene) middle(gate string) vg.Point {
	f := s.panel.Field
	var x, y, n float64
	for j := range f.Z {
		for i := range f.Z[j] {
			if math.IsNaN(f.Z[j][i]) && f.Gate[j][i] == gate {
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

// stops tells whether the ground at p is barren and its nearest crossing is
// stopped by the gate.
func (s *scene) stops(p vg.Point, gate string) bool {
	if s.terrain.open(p) {
		return false
	}
	f := s.panel.Field
	return f.Gate[nearest(f.Y, s.frame.py, float64(p.Y))][nearest(f.X, s.frame.px, float64(p.X))] == gate
}

// allStop looks at points of the box that are within the frame.
func (s *scene) allStop(b box, gate string) bool {
	for i := -2; i <= 2; i++ {
		for j := -1; j <= 1; j++ {
			p := vg.Point{
				X: b.centre.X + vg.Length(float64(i)/2*b.halfW),
				Y: b.centre.Y + vg.Length(float64(j)*b.halfH),
			}
			p.X = min(max(p.X, s.room.Min.X), s.room.Max.X)
			p.Y = min(max(p.Y, s.room.Min.Y), s.room.Max.Y)
			if !s.stops(p, gate) {
				return false
			}
		}
	}
	return true
}

func nearest(v []float64, at func(float64) float64, p float64) int {
	best, index := math.Inf(1), 0
	for k := range v {
		if d := math.Abs(at(v[k]) - p); d < best {
			best, index = d, k
		}
	}
	return index
}
