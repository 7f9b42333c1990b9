package chart

import (
	"fmt"
	"image/color"
	"slices"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/vg"
)

// Stack is a bar at one place of a panel's discrete axis, made of pieces that
// follow one another along the other axis from 0, or from the lower end of a
// logarithmic one.
type Stack struct {
	At     int     // of the names
	Pieces []Piece // at least one
	Label  string  // at the end of a lying bar, under the name of a standing one
	Bound  float64 // what a standing bar is held against, above 0; 0 for nothing
}

// Piece is one part of a stack. Pieces of one family share a colour. A label is
// set into a lying bar where it fits, and beside a standing one; families of
// which some piece has no label are named in the legend.
type Piece struct {
	Family string
	Length float64 // at least 0
	Label  string
}

func (k *Stack) validate(p *Panel) error {
	axis, along := p.X, p.Y
	if p.lying() {
		axis, along = p.Y, p.X
	}
	switch {
	case p.Field != nil:
		return fmt.Errorf("chart: stack %q on a field: want a panel without one", k.Label)
	case len(axis.Names) == 0 || len(along.Names) > 0 || along.Min == along.Max:
		return fmt.Errorf("chart: stack %q: want names on one of the axes and not on the other", k.Label)
	case k.At < 0 || k.At >= len(axis.Names):
		return fmt.Errorf("chart: stack %q at %d: want 0 to %d", k.Label, k.At, len(axis.Names)-1)
	case len(k.Pieces) == 0 || along.Log && len(k.Pieces) > 1:
		return fmt.Errorf("chart: stack %q has %d pieces: want at least one, and one on a logarithmic axis", k.Label,
			len(k.Pieces))
	}
	sum := 0.0
	for _, q := range k.Pieces {
		if !(q.Length >= 0) {
			return fmt.Errorf("chart: stack %q has a piece %q of %g: want at least 0", k.Label, q.Family, q.Length)
		}
		sum += q.Length
	}
	if _, hi := along.limits(); max(sum, k.Bound) > hi*(1+1e-9) {
		return fmt.Errorf("chart: stack %q reaches to %g: want it within the axis, up to %g", k.Label,
			max(sum, k.Bound), hi)
	}
	return nil
}

// lying tells whether bars run along x.
func (p *Panel) lying() bool { return len(p.Y.Names) > 0 }

// pieceFamilies lists the families of pieces in the order of their colours.
func (f *Figure) pieceFamilies() []string {
	names := slices.Clone(f.Families)
	seen := map[string]bool{}
	for _, name := range names {
		seen[name] = true
	}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	for _, pn := range f.Panels {
		for _, k := range pn.Stacks {
			for _, q := range k.Pieces {
				add(q.Family)
			}
		}
		for _, a := range pn.Areas {
			if !a.Pale {
				add(a.Family)
			}
		}
	}
	return names
}

// bounded tells whether some stack is held against something.
func (f *Figure) bounded() bool {
	for _, pn := range f.Panels {
		for _, k := range pn.Stacks {
			if k.Bound > 0 {
				return true
			}
		}
	}
	return false
}

// unlabelled tells whether some piece of the family needs the legend.
func (f *Figure) unlabelled(family string) bool {
	for _, pn := range f.Panels {
		for _, k := range pn.Stacks {
			for _, q := range k.Pieces {
				if q.Family == family && q.Label == "" {
					return true
				}
			}
		}
		for _, a := range pn.Areas {
			if a.Family == family && !a.Pale {
				return true
			}
		}
	}
	return false
}

// pieceShade is the colour of a family.
func (f *Figure) pieceShade(colours palette.ColorMap, family string) color.Color {
	names := f.pieceFamilies()
	return stackShade(colours, slices.Index(names, family), len(names))
}

// StackShade is the colour of the k-th of n families of pieces, from 0, for those
// who draw the same stacks elsewhere.
func StackShade(k, n int) color.Color { return stackShade(ramp(), k, n) }

// stackShade is the k-th of n colours. Neighbours in the order differ by half the
// ramp, since pieces of different families lie side by side.
func stackShade(colours palette.ColorMap, k, n int) color.Color {
	at := k / 2
	if k%2 == 1 {
		at += (n + 1) / 2
	}
	return spacedShade(colours, at, n)
}

// barred is a stack as placed.
type barred struct {
	pieces []slab
	texts  []lettering
	leads  []curve
	bounds []curve
}

type slab struct {
	rect   vg.Rectangle
	family string
}

const (
	lyingShare    = 0.72 // of a cell's height that a bar takes
	standingShare = 0.56 // of its width, without labels beside
	labelledShare = 0.25 // with them
	labelledPlace = 0.2  // in its cell, of the middle of a bar with labels beside
	besideGap     = 11.0
	overhang      = 5.0 // of a bound
)

// placeStacks lays out bars and all their texts.
func (s *scene) placeStacks() {
	for k := range s.panel.Stacks {
		if s.panel.lying() {
			s.stacks = append(s.stacks, s.layBar(&s.panel.Stacks[k]))
		} else {
			s.stacks = append(s.stacks, s.standBar(&s.panel.Stacks[k]))
		}
	}
}

// layBar places a bar that runs along x.
func (s *scene) layBar(k *Stack) barred {
	var out barred
	edges := s.frame.edgesY()
	lo, hi := edges[k.At], edges[k.At+1]
	mid, half := (lo+hi)/2, lyingShare*(hi-lo)/2
	from := float64(s.room.Min.X)
	sum := 0.0
	for _, q := range k.Pieces {
		sum += q.Length
		to := from
		if sum > 0 {
			to = max(from, s.frame.px(sum))
		}
		r := vg.Rectangle{Min: xy(from, mid-half), Max: xy(to, mid+half)}
		out.pieces = append(out.pieces, slab{r, q.Family})
		if q.Label != "" {
			st := style{size: labelSize, ink: inkOn(s.figure.pieceShade(s.colours, q.Family))}
			b := s.pen.textBox(q.Label, st, vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: vg.Length(mid)}, 0)
			if b.grown(1).within(r) {
				out.texts = append(out.texts, lettering{text: q.Label, at: b.centre, style: st})
			} else {
				s.dropped = append(s.dropped, q.Label)
			}
		}
		from = to
	}
	if k.Label == "" {
		return out
	}
	st := style{size: labelSize, ink: black, halo: white}
	w := s.pen.width(k.Label, st)
	const gap = 3.5
	x := from + gap + w/2
	if x+w/2+2 > float64(s.room.Max.X) { // no room beyond the bar: at its end
		x = from - gap - w/2
		if x-w/2 < float64(s.room.Min.X)+1 {
			s.dropped = append(s.dropped, k.Label)
			return out
		}
		st.ink, st.halo = inkOn(s.figure.pieceShade(s.colours, k.Pieces[len(k.Pieces)-1].Family)), nil
	}
	out.texts = append(out.texts, lettering{text: k.Label, at: xy(x, mid), style: st})
	s.add(s.pen.textBox(k.Label, st, xy(x, mid), 0))
	return out
}

// beside tells whether pieces of a standing bar have labels, which stand beside it.
func (k *Stack) beside() bool {
	return slices.ContainsFunc(k.Pieces, func(q Piece) bool { return q.Label != "" })
}

const nameLeading = 1.25 * tickSize

func (s *scene) paintStacks() {
	for _, b := range s.stacks {
		for _, q := range b.pieces {
			if q.rect.Max.X <= q.rect.Min.X || q.rect.Max.Y <= q.rect.Min.Y {
				continue
			}
			s.pen.fill(s.figure.pieceShade(s.colours, q.family), rectangle(q.rect))
			s.pen.stroke(black, 0.6, nil, rectangle(q.rect))
		}
		s.pen.stroke(grey, 0.6, nil, b.leads...)
		s.pen.stroke(boundary, borderWidth, nil, b.bounds...)
		for _, l := range b.texts {
			s.pen.write(l.text, l.at, 0, l.style)
		}
	}
}
