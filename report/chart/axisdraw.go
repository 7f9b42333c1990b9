package chart

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
)

// yTicks is for how many numbers a y axis has room, a low one for closer ones.
func yTicks(height float64) int { return max(2, min(4, int(height/20)), int(height/30)) }

// marksX are the ticks of an x axis below a rectangle, with as many numbers as
// leave a clear gap between them.
func (p *pen) marksX(a Axis, r vg.Rectangle) []tick {
	fr := frame{rect: r, x: a, y: Axis{Max: 1}}
	width := float64(r.Max.X - r.Min.X)
	var marks []tick
	for n := max(2, int(width/38)); ; n-- {
		marks = a.ticks(n)
		if n == 1 || a.Names != nil || a.Ticks != nil || p.clearX(fr, marks) {
			break
		}
	}
	clear := func(shown []tick) bool { return p.clearX(fr, shown) }
	if p.onEnd(a, width) {
		clear = func(shown []tick) bool { return clearOnEnd(fr, shown) }
	}
	p.thin(marks, clear)
	return marks
}

// onEnd says whether the names of an x axis of some width stand on end.
func (p *pen) onEnd(a Axis, width float64) bool {
	if !a.Upright || len(a.Names) == 0 {
		return false
	}
	r := vg.Rectangle{Max: xy(width, 1)}
	return !p.clearX(frame{rect: r, x: a, y: Axis{Max: 1}}, a.ticks(0))
}

// namesHigh is how much room the numbers or names below a panel of some width take.
func (p *pen) namesHigh(a Axis, width float64) float64 {
	if !p.onEnd(a, width) {
		return 1.1 * tickSize
	}
	widest := 0.0
	for _, name := range a.Names {
		widest = max(widest, p.width(name, style{size: tickSize}))
	}
	return widest + 1
}

func clearOnEnd(fr frame, marks []tick) bool {
	end := math.Inf(-1)
	for _, t := range marks {
		if t.text == "" {
			continue
		}
		x := fr.px(t.value)
		if x-tickSize < end {
			return false
		}
		end = x + 0.15*tickSize
	}
	return true
}

func (p *pen) axisX(a Axis, r vg.Rectangle, labelled bool) {
	fr := frame{rect: r, x: a, y: Axis{Max: 1}}
	width := float64(r.Max.X - r.Min.X)
	onEnd := p.onEnd(a, width)
	for _, t := range p.marksX(a, r) {
		x := vg.Length(fr.px(t.value))
		length := vg.Length(tickLength)
		if t.text == "" {
			length /= 2
		}
		p.stroke(black, 0.7, nil, segment(vg.Point{X: x, Y: r.Min.Y}, vg.Point{X: x, Y: r.Min.Y - length}))
		if labelled && onEnd {
			half := vg.Length(p.width(t.text, style{size: tickSize}) / 2)
			p.write(t.text, vg.Point{X: x, Y: r.Min.Y - tickLength - tickGap - half}, math.Pi/2,
				style{size: tickSize, ink: black})
		} else if labelled {
			p.write(t.text, vg.Point{X: x, Y: r.Min.Y - tickLength - tickGap - halfTop*tickSize + 1}, 0,
				style{size: tickSize, ink: black})
		}
	}
	if labelled {
		p.write(a.Label, vg.Point{
			X: (r.Min.X + r.Max.X) / 2,
			Y: r.Min.Y - tickLength - tickGap - vg.Length(p.namesHigh(a, width)) - 4 - halfTop*axisSize + 1,
		}, 0, style{size: axisSize, ink: black})
	}
}

func (p *pen) clearX(fr frame, marks []tick) bool {
	end := math.Inf(-1)
	for _, t := range marks {
		if t.text == "" {
			continue
		}
		w := p.width(t.text, style{size: tickSize})
		x := fr.px(t.value)
		if x-w/2 < end+5 {
			return false
		}
		end = x + w/2
	}
	return true
}

// thin blanks all but every second, third, ... text until they are clear.
func (p *pen) thin(marks []tick, clear func([]tick) bool) {
	var numbered []int
	for k := range marks {
		if marks[k].text != "" {
			numbered = append(numbered, k)
		}
	}
	full := append([]tick(nil), marks...)
	for stride := 1; stride <= len(numbered); stride++ {
		copy(marks, full)
		for n, k := range numbered {
			if n%stride != 0 {
				marks[k].text = ""
			}
		}
		if clear(marks) {
			return
		}
	}
}

const nameGap = 2.0 // between numbers or names along a y axis

// marksY are the ticks of a y axis beside a rectangle.
func (p *pen) marksY(a Axis, r vg.Rectangle) []tick {
	fr := frame{rect: r, y: a, x: Axis{Max: 1}}
	marks := a.ticks(yTicks(float64(r.Max.Y - r.Min.Y)))
	p.thin(marks, func(shown []tick) bool {
		end := math.Inf(-1)
		for _, t := range shown {
			if t.text == "" {
				continue
			}
			y := fr.py(t.value)
			half := nameLeading/2*float64(strings.Count(t.text, "\n")) + halfTop*tickSize
			if y-half < end+nameGap {
				return false
			}
			end = y + half
		}
		return true
	})
	return marks
}

func (p *pen) axisY(a Axis, r vg.Rectangle, labelled bool) {
	fr := frame{rect: r, y: a, x: Axis{Max: 1}}
	widest := 0.0
	for _, t := range p.marksY(a, r) {
		y := vg.Length(fr.py(t.value))
		length := vg.Length(tickLength)
		if t.text == "" {
			length /= 2
		}
		p.stroke(black, 0.7, nil, segment(vg.Point{X: r.Min.X, Y: y}, vg.Point{X: r.Min.X - length, Y: y}))
		if labelled {
			lines := strings.Split(t.text, "\n")
			for n, line := range lines {
				widest = max(widest, p.width(line, style{size: tickSize}))
				up := nameLeading * vg.Length(float64(len(lines)-1)/2-float64(n))
				p.writeRight(line, vg.Point{X: r.Min.X - tickLength - tickGap, Y: y + up},
					style{size: tickSize, ink: black})
			}
		}
	}
	if labelled {
		p.write(a.Label, vg.Point{
			X: r.Min.X - vg.Length(tickLength+tickGap+widest+5+halfTop*axisSize),
			Y: (r.Min.Y + r.Max.Y) / 2,
		}, math.Pi/2, style{size: axisSize, ink: black})
	}
}
