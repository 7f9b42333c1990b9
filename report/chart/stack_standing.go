package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// standing tells whether the panel has bars along y.
func (p *Panel) standing() bool { return len(p.Stacks) > 0 && !p.lying() }

// barNames are the names of the x axis of standing bars from left to right, each
// under its bar, with the labels of the bars beneath, and the lines that they take.
func (p *pen) barNames(pn *Panel, from, to float64) (out []lettering, most int) {
	cell := (to - from) / float64(len(pn.X.Names))
	for i, name := range pn.X.Names {
		lo := from + float64(i)*cell
		hi := lo + cell
		at := (lo + hi) / 2
		lines := p.wrap(name, tickSize, false, cell-6)
		names := len(lines)
		for k := range pn.Stacks {
			if b := &pn.Stacks[k]; b.At == i {
				lines = append(lines, b.Label)
				if b.beside() {
					at = lo + labelledPlace*(hi-lo)
				}
			}
		}
		wide := 0.0
		for n, line := range lines {
			wide = max(wide, p.width(line, style{size: tickSize, bold: n >= names}))
		}
		// The texts of a bar near the left of its cell begin with the cell.
		text := max(at, min(lo+wide/2+1, (lo+hi)/2))
		for n, line := range lines {
			out = append(out, lettering{text: line, from: at, style: style{size: tickSize, ink: black,
				bold: n >= names},
				at: xy(text, -tickLength-tickGap-halfTop*tickSize+1-float64(n)*nameLeading)})
		}
		most = max(most, len(lines))
	}
	return out, most
}

// breaks says whether names on an x axis of a width have no room side by side, but have it in
// several lines.
func (p *pen) breaks(pn *Panel, width float64) bool {
	cell := width / float64(max(1, len(pn.X.Names)))
	long, words := false, true
	for _, name := range pn.X.Names {
		long = long || p.width(name, style{size: tickSize}) > cell-nameApart
		for _, word := range splitWords(name) {
			words = words && p.width(word, style{size: tickSize}) <= cell-6
		}
	}
	return long && words
}

const nameApart = 5.0 // of names side by side

// axisBars draws the x axis of bars, and of names in several lines.
func (p *pen) axisBars(pn *Panel, r vg.Rectangle) {
	names, lines := p.barNames(pn, float64(r.Min.X), float64(r.Max.X))
	marked := math.Inf(-1)
	for _, l := range names {
		if l.from > marked { // once for all lines
			marked = l.from
			x := vg.Length(l.from)
			p.stroke(black, 0.7, nil, segment(vg.Point{X: x, Y: r.Min.Y}, vg.Point{X: x, Y: r.Min.Y - tickLength}))
		}
		p.write(l.text, l.at.Add(vg.Point{Y: r.Min.Y}), 0, l.style)
	}
	p.write(pn.X.Label, vg.Point{
		X: (r.Min.X + r.Max.X) / 2,
		Y: r.Min.Y - tickLength - tickGap - 1.1*tickSize - nameLeading*vg.Length(lines-1) - 4 - halfTop*axisSize + 1,
	}, 0, style{size: axisSize, ink: black})
}

// standBar places a bar that runs along y.
func (s *scene) standBar(k *Stack) barred {
	var out barred
	edges := s.frame.edgesX()
	lo, hi := edges[k.At], edges[k.At+1]
	beside := k.beside()
	left, right := (lo+hi)/2-standingShare*(hi-lo)/2, (lo+hi)/2+standingShare*(hi-lo)/2
	if beside {
		mid := lo + labelledPlace*(hi-lo)
		left, right = mid-labelledShare/2*(hi-lo), mid+labelledShare/2*(hi-lo)
	}
	type side struct {
		text   string
		middle float64 // of the piece
		y      float64 // of the text
	}
	var sides []side
	from := float64(s.room.Min.Y)
	sum := 0.0
	for _, q := range k.Pieces {
		sum += q.Length
		to := max(from, s.frame.py(sum))
		out.pieces = append(out.pieces, slab{vg.Rectangle{Min: xy(left, from), Max: xy(right, to)}, q.Family})
		if q.Label != "" && q.Length > 0 {
			sides = append(sides, side{text: q.Label, middle: (from + to) / 2})
		}
		from = to
	}
	st := style{size: labelSize, ink: black, halo: white}
	const leading = 1.22 * labelSize
	at := make([]float64, len(sides))
	for i := range sides {
		at[i] = sides[i].middle
	}
	at = apart(at, leading, float64(s.room.Min.Y)+halfTop*labelSize+1, float64(s.room.Max.Y)-halfTop*labelSize-1)
	for i := range sides {
		sides[i].y = at[i]
	}
	for _, q := range sides {
		x := right + besideGap
		w := s.pen.width(q.text, st)
		if x+w > hi-2 {
			s.dropped = append(s.dropped, q.text)
			continue
		}
		out.texts = append(out.texts, lettering{text: q.text, at: xy(x+w/2, q.y), style: st})
		elbow := right + 4
		out.leads = append(out.leads, curve{pts: []vg.Point{xy(right, q.middle), xy(elbow, q.middle), xy(x-5, q.y),
			xy(x-2, q.y)}})
		s.add(s.pen.textBox(q.text, st, xy(x+w/2, q.y), 0))
	}
	if k.Bound > 0 {
		y := s.frame.py(k.Bound)
		out.bounds = append(out.bounds, segment(xy(left-overhang, y), xy(right+overhang, y)))
	}
	return out
}

// apart moves places, given in rising order, as little as can be so that
// neighbours are at least gap apart, within lo to hi as far as there is room:
// what crowds together is spread about its mean.
func apart(at []float64, gap, lo, hi float64) []float64 {
	type cluster struct {
		first, n int
		start    float64 // of its first place
	}
	var all []cluster
	settle := func(c cluster) cluster {
		sum := 0.0
		for k := range c.n {
			sum += at[c.first+k] - gap*float64(k)
		}
		c.start = max(min(sum/float64(c.n), hi-gap*float64(c.n-1)), lo)
		return c
	}
	for k := range at {
		c := settle(cluster{first: k, n: 1})
		for len(all) > 0 {
			before := all[len(all)-1]
			if before.start+gap*float64(before.n) <= c.start {
				break
			}
			c = settle(cluster{first: before.first, n: before.n + c.n})
			all = all[:len(all)-1]
		}
		all = append(all, c)
	}
	out := make([]float64, 0, len(at))
	for _, c := range all {
		for k := range c.n {
			out = append(out, c.start+gap*float64(k))
		}
	}
	return out
}
