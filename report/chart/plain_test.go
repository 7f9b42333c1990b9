package chart

import (
	"fmt"
	"math"
)

// The charts below stand on plain ground; their numbers are invented.

// tallyFigure has lying bars on a logarithmic axis.
func tallyFigure(n int) *Figure {
	gates := []string{"feasible", "hover time ≥ 6 min", "pack current over its limit ≤ 100 %", "tip Mach ≤ 0.8",
		"thrust to weight ≥ 2.5", "too heavy for the class"}
	f := &Figure{
		Title:    "The weight limit rejects most at 249 g",
		Subtitle: "study invented-field · 1,203,840 designs",
		Note:     "A design is counted at the first requirement that it does not keep, in the order from above.",
		Height:   1.5,
	}
	for k := range n {
		p := Panel{
			Title: short(k),
			X: Axis{Label: "designs [-]", Min: 0.5, Max: 1e7, Log: true, Ticks: []float64{1, 100, 1e4, 1e6},
				Texts: []string{"1", "100", "10 k", "1 M"}},
			Y: Axis{Label: "", Names: gates},
		}
		for j, count := range []float64{8203112, 40211, 1, 0, 312, 81234} {
			family := "rejected"
			if j == 5 {
				family = "feasible"
			}
			p.Stacks = append(p.Stacks, Stack{At: 5 - j, Pieces: []Piece{{Family: family, Length: count}},
				Label: fmt.Sprintf("%.0f", count)})
		}
		f.Panels = append(f.Panels, p)
	}
	return f
}

// massFigure has standing bars with labels beside them.
func massFigure(n int) *Figure {
	f := &Figure{Title: "The pack takes 38 to 45 % of the all-up weight", Subtitle: "study invented-field"}
	p := Panel{X: Axis{Label: "best design of each class"},
		Y: Axis{Label: "mass [g]", Max: 1.12 * 250 * math.Pow(1.9, float64(n-1))}}
	for k := range n {
		mass := 250 * math.Pow(1.9, float64(k))
		p.X.Names = append(p.X.Names, short(k))
		s := Stack{At: k, Label: fmt.Sprintf("%.0f g", mass), Bound: 1.02 * mass}
		for i, part := range []string{"pack", "motors", "frame", "avionics", "propellers", "controller", "wiring",
			"hardware"} {
			share := []float64{0.42, 0.21, 0.16, 0.1, 0.05, 0.03, 0.02, 0.01}[i]
			s.Pieces = append(s.Pieces, Piece{Family: part, Length: mass * share,
				Label: fmt.Sprintf("%s %.1f g", part, mass*share)})
		}
		p.Stacks = append(p.Stacks, s)
	}
	f.Bound, f.Width = "class limit", 3+2*float64(n)
	f.Panels = []Panel{p}
	return f
}

// frontFigure has points in bands, lines through them and bare callouts.
func frontFigure() *Figure {
	f := &Figure{Title: "More thrust costs time: a knee in each class", Subtitle: "study invented-field",
		Star: "best of its class"}
	p := Panel{X: Axis{Label: "thrust to weight [-]", Min: 2, Max: 10}, Y: Axis{Label: "hover time [min]", Min: 0,
		Max: 30}}
	bands := []string{"below 3 in", "3 to 4 in", "4 to 5 in", "5 to 7 in"}
	for _, b := range bands {
		p.Points = append(p.Points, Points{Family: b})
	}
	knees := Points{Family: "knee", Hollow: true}
	for k := range 3 {
		l := Line{Family: "front of a class"}
		for i := range 40 {
			x := 2.4 + 7*float64(i)/39
			y := (14 + 6*float64(k)) * (1 - math.Pow(x/10.2, 3))
			l.X, l.Y = append(l.X, x), append(l.Y, y)
			b := min(3, max(0, k+1-i/15))
			p.Points[b].X, p.Points[b].Y = append(p.Points[b].X, x), append(p.Points[b].Y, y)
		}
		p.Points = append(p.Points, Points{Family: "end", X: l.X[39:], Y: l.Y[39:], Hollow: true,
			Labels: []string{short(k)}})
		p.Lines = append(p.Lines, l)
		p.Markers = append(p.Markers, Marker{X: l.X[30], Y: l.Y[30]}, Marker{X: l.X[22], Y: l.Y[22], Bare: true,
			Lines: []string{short(k) + " knee", "4.5 in, 4S, KV 2500", "12.1 min, T/W 6.3"}})
		knees.X, knees.Y = append(knees.X, l.X[22]), append(knees.Y, l.Y[22])
	}
	p.Points = append(p.Points, knees)
	f.Panels = []Panel{p}
	return f
}

// curveFigure has curves of several families with labelled marks.
func curveFigure() *Figure {
	f := &Figure{Title: "Range is best 40 % faster than endurance", Subtitle: "study invented-field"}
	for k, label := range []string{"electrical power [W]", "throttle [%]", "tip Mach number [-]"} {
		p := Panel{Title: label, X: Axis{Label: "airspeed [m/s]", Max: 30}, Y: Axis{Label: label, Max: 120}}
		marks := [2]Points{{Family: "least power", Hollow: true}, {Family: "best range", Hollow: true}}
		for c := range 5 {
			l := Line{Family: short(c)}
			at := func(v float64) float64 { return (30 + 12*float64(c)) * (1 - v/40 + v*v/500) / float64(k+1) }
			for v := 0.0; v <= 25; v++ {
				l.X, l.Y = append(l.X, v), append(l.Y, at(v))
			}
			p.Lines = append(p.Lines, l)
			for i, v := range [2]float64{6, 10} {
				marks[i].X, marks[i].Y = append(marks[i].X, v), append(marks[i].Y, at(v))
				marks[i].Labels = append(marks[i].Labels, fmt.Sprintf("%.1f", v))
			}
		}
		p.Points = marks[:]
		f.Panels = append(f.Panels, p)
	}
	return f
}

// multipleFigure has lines with points of their own family.
func multipleFigure() *Figure {
	f := &Figure{Title: "250 g more buys 9 min", Subtitle: "study invented-field", Columns: 3, Height: 1.6}
	for k, label := range []string{"diameter [in]", "hover time [min]", "thrust to weight [-]",
		"disk loading [g/in²]"} {
		p := Panel{Title: label, X: Axis{Label: "class limit [g]", Min: 200, Max: 1000}, Y: Axis{Label: label, Max: 30}}
		for c := range 2 {
			family := fmt.Sprintf("payload %d g", 20*c)
			x := []float64{249, 500, 900}
			y := []float64{9 - 3*float64(c) + float64(k), 15 - 2*float64(c), 22 - float64(c) - 4*float64(k)}
			labels := []string{"9.12", "15.3", "21.9"}
			p.Lines = append(p.Lines, Line{Family: family, X: x, Y: y})
			p.Points = append(p.Points, Points{Family: family, X: x, Y: y, Labels: labels})
			p.Markers = append(p.Markers, Marker{X: 530, Y: y[1] + 6, Family: family},
				Marker{X: 900, Y: y[2] + 2, Ring: true})
		}
		f.Panels = append(f.Panels, p)
	}
	return f
}

// overlayFigure has level lines of several families on plain ground.
func overlayFigure() *Figure {
	a := sizeFigure(1)
	p := Panel{X: a.Panels[0].X, Y: a.Panels[0].Y}
	for k, name := range []string{"as it was", "with a warm pack", "at 3,000 m"} {
		f := sizeFigure(1).Panels[0].Field
		for j := range f.Z {
			for i := range f.Z[j] {
				f.Z[j][i] *= 1 - 0.15*float64(k)
			}
		}
		p.Overlays = append(p.Overlays, Overlay{Name: name, X: f.X, Y: f.Y, Z: f.Z, Levels: []float64{0.4, 0.6}})
		p.Points = append(p.Points, Points{Family: name, X: []float64{240, 480 + 15*float64(k)}, Y: []float64{3.5, 4.5},
			Labels: []string{"249 g", "500 g"}})
	}
	return &Figure{Title: "Height costs more than a warm pack gives", Subtitle: a.Subtitle, Panels: []Panel{p}}
}

func plainSamples() map[string]*Figure {
	return map[string]*Figure{
		"tally-1": tallyFigure(1), "tally-3": tallyFigure(3),
		"mass-1": massFigure(1), "mass-3": massFigure(3), "mass-4": massFigure(4),
		"front": frontFigure(), "curves": curveFigure(), "multiples": multipleFigure(), "overlay": overlayFigure(),
		"areas-1": areaFigure(1), "areas-4": areaFigure(4), "lying": lyingFigure(),
	}
}
