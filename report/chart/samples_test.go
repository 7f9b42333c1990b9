package chart

import (
	"fmt"
	"maps"
	"math"
	"sync"
)

// The fields below are invented; they only have the shapes that figures meet.

func steps(first, last, step float64) []float64 {
	var out []float64
	for k := 0; ; k++ {
		v := first + float64(k)*step
		if v > last+1e-9 {
			return out
		}
		out = append(out, v)
	}
}

func table(x, y []float64, f func(x, y float64) float64) [][]float64 {
	z := make([][]float64, len(y))
	for j := range y {
		z[j] = make([]float64, len(x))
		for i := range x {
			z[j][i] = f(x[i], y[j])
		}
	}
	return z
}

func names(x, y []float64, f func(x, y float64) string) [][]string {
	z := make([][]string, len(y))
	for j := range y {
		z[j] = make([]string, len(x))
		for i := range x {
			z[j][i] = f(x[i], y[j])
		}
	}
	return z
}

var merit = Bar{Label: "best merit [-]", Levels: steps(0, 1, 0.1), Format: "%.1f"}

// sizeFigure maps merit over weight and diameter for the first n of three classes.
func sizeFigure(n int) *Figure {
	x, y := steps(100, 1000, 25), steps(2, 10, 0.5)
	feasible := func(m, d float64) bool { return m > 30+9*d*d && d > 1.6*math.Pow(m/100, 0.55) }
	field := &Field{X: x, Y: y, Z: table(x, y, func(m, d float64) float64 {
		if !feasible(m, d) {
			return math.NaN()
		}
		best := 3.3 * math.Pow(m/250, 0.5)
		return 0.93 * math.Exp(-math.Pow(math.Log(d/best)/0.45, 2)) * (1 - math.Exp(-m/220))
	}), Gate: names(x, y, func(m, d float64) string {
		if m <= 30+9*d*d {
			return "all-up weight"
		}
		return "thrust-to-weight"
	})}
	f := &Figure{
		Title:    "3.5 in is best at 249 g, 4.5 in at 500 g, 6.5 in at 900 g",
		Subtitle: "study invented-field \u00b7 air 1,600 m, 288 K \u00b7 1,203,840 designs, 12.4 % feasible",
		Note: "Best merit of any feasible design in each cell. Each grid point lies on its own side of the " +
			"boundary.",
		Bar:        merit,
		Infeasible: "no feasible design",
		Star:       "best of its class",
		Panels: []Panel{{
			X:     Axis{Label: "all-up weight [g]", Min: 100, Max: 1000},
			Y:     Axis{Label: "propeller diameter [in]", Min: 2, Max: 10},
			Field: field,
		}},
	}
	p := &f.Panels[0]
	for _, dl := range []float64{4, 5.5, 7, 10, 14} {
		var lx, ly []float64
		for m := 100.0; m <= 1000; m += 5 {
			lx = append(lx, m)
			ly = append(ly, math.Sqrt(m/math.Pi/dl))
		}
		p.Lines = append(p.Lines, Line{
			Family: "constant disk loading", X: lx, Y: ly,
			Label: fmt.Sprintf("%g g/in\u00b2 (%.0f N/m\u00b2)", dl, dl*15.2),
		})
	}
	for _, c := range []struct {
		m, d  float64
		lines []string
	}{
		{249, 3.5, []string{"249 g class", "3.5 in, 4S, KV 3800", "9.1 min, T/W 4.2"}},
		{500, 4.5, []string{"500 g class", "4.5 in, 4S, KV 2500", "13.0 min, T/W 4.4"}},
		{900, 6.5, []string{"900 g class", "6.5 in, 6S, KV 1300", "17.2 min, T/W 3.9"}},
	}[:n] {
		p.Lines = append(p.Lines, Line{Family: "class limit", Label: c.lines[0], X: []float64{c.m, c.m},
			Y: []float64{2, 10}})
		p.Markers = append(p.Markers, Marker{X: c.m - 12, Y: c.d, Lines: c.lines, Tag: c.lines[0][:5]})
	}
	return f
}

// mapFigure maps merit over diameter and KV for n classes.
func mapFigure(n int, title func(k int) string, shrink float64) *Figure {
	f := &Figure{
		Title: "Higher classes want larger propellers and lower KV",
		Subtitle: "study invented-field \u00b7 air 1,600 m \u00b7 best merit in each cell over pitch, blades, " +
			"stator, cells and capacity",
		Bar:        merit,
		Infeasible: "infeasible: named by the gate that stops most",
		Star:       "best of the class",
	}
	x, y := steps(2, 8, 0.5), steps(800, 5600, 200)
	for k := range n {
		mass := 250 * math.Pow(1.9, float64(k))
		best := 3.3 * math.Pow(mass/250, 0.5)
		tip := func(d, kv float64) float64 { return d * kv / 24000 }
		gate := func(d, kv float64) string {
			switch {
			case d > best*1.6*shrink:
				return "all-up weight"
			case tip(d, kv) > 0.72:
				return "tip Mach at full throttle"
			case d*d*kv < 14000/shrink:
				return "thrust-to-weight"
			}
			return ""
		}
		value := func(g func(d, kv float64) float64) [][]float64 {
			return table(x, y, func(d, kv float64) float64 {
				if gate(d, kv) != "" {
					return math.NaN()
				}
				return g(d, kv)
			})
		}
		kvBest := 13000 / best
		p := Panel{
			Title: title(k),
			X:     Axis{Label: "diameter [in]", Min: 2, Max: 8},
			Y:     Axis{Label: "KV [rpm/V]", Min: 800, Max: 5600},
			Field: &Field{X: x, Y: y, Gate: names(x, y, gate), Z: value(func(d, kv float64) float64 {
				return 0.92 * math.Exp(-math.Pow(math.Log(d/best)/0.6, 2)-math.Pow(math.Log(kv/kvBest)/0.8, 2))
			})},
			Overlays: []Overlay{
				{Name: "tip Mach at full throttle", Z: value(tip), Levels: steps(0.2, 0.7, 0.1), Format: "M %.1f"},
				{Name: "all-up weight of the best design", Z: value(func(d, kv float64) float64 {
					return mass * (0.55 + 0.4*d/best/1.3 + 10/kv)
				}), Levels: steps(100, 1500, 50), Format: "%.0f g"},
			},
		}
		if gate(best, kvBest) == "" && best <= 8 {
			p.Markers = []Marker{{X: best, Y: kvBest, Lines: []string{
				fmt.Sprintf("%.1f in, KV %.0f", best, kvBest), "4S 850 mAh", "9.1 min, T/W 4.2",
			}}}
		}
		f.Panels = append(f.Panels, p)
	}
	return f
}

func short(k int) string { return [...]string{"249 g", "500 g", "900 g", "1.5 kg", "2 kg"}[k] }

func long(k int) string {
	return fmt.Sprintf("Mountain patrol carrying the heavy thermal camera, class %d, limit %s", k+1, short(k))
}

// cellFigure has a discrete x axis, and a discrete y axis too if both is set.
func cellFigure(both bool) *Figure {
	f := &Figure{
		Title:      "4S carries the 249 g class, 6S the 900 g class",
		Subtitle:   "study invented-field \u00b7 air 1,600 m \u00b7 best merit in each cell",
		Bar:        merit,
		Infeasible: "infeasible",
		Star:       "best of the class",
	}
	cells := []string{"2S", "3S", "4S", "5S", "6S"}
	x := steps(0, 4, 1)
	yAxis := Axis{Label: "KV [rpm/V]", Min: 800, Max: 5600}
	y := steps(800, 5600, 400)
	at := func(v float64) float64 { return v }
	if both {
		yAxis = Axis{Label: "stator [-]", Names: []string{"1106", "1404", "1806", "2204", "2207", "2306"}}
		y = steps(0, 5, 1)
		at = func(v float64) float64 { return 4800 - 700*v }
	}
	for k := range 3 {
		gate := func(c, v float64) string {
			switch volts := 3.7 * (c + 2) * at(v); {
			case volts > 60000:
				return "tip Mach"
			case volts < 16000:
				return "thrust-to-weight"
			}
			return ""
		}
		value := func(g func(c, v float64) float64) [][]float64 {
			return table(x, y, func(c, v float64) float64 {
				if gate(c, v) != "" {
					return math.NaN()
				}
				return g(c, v)
			})
		}
		f.Panels = append(f.Panels, Panel{
			Title: short(k),
			X:     Axis{Label: "cells [-]", Names: cells},
			Y:     yAxis,
			Field: &Field{X: x, Y: y, Gate: names(x, y, gate), Z: value(func(c, v float64) float64 {
				volts := 3.7 * (c + 2) * at(v)
				return 0.95 * math.Exp(-math.Pow(math.Log(volts/(38000-4000*float64(k)))/0.5, 2)) * (0.8 + 0.04*c)
			})},
			Overlays: []Overlay{{Name: "all-up weight [g]", Format: "%.0f g", Levels: steps(200, 260, 10),
				Z: value(func(c, v float64) float64 {
					return 180 + 12*c + at(v)/120
				})}},
			Markers: []Marker{{X: 2, Y: [2]float64{2400, 3}[btoi(both)], Lines: []string{"4S, KV 2400", "9.1 min"}}},
		})
	}
	return f
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// barrenFigure has nothing feasible in its second panel.
func barrenFigure() *Figure {
	f := mapFigure(2, short, 1)
	p := &f.Panels[1]
	for j := range p.Field.Z {
		for i := range p.Field.Z[j] {
			p.Field.Z[j][i] = math.NaN()
			p.Field.Gate[j][i] = "hover time"
			for k := range p.Overlays {
				p.Overlays[k].Z[j][i] = math.NaN()
			}
		}
	}
	p.Markers = nil
	return f
}

// singleFigure has one value along y.
func singleFigure() *Figure {
	f := mapFigure(1, short, 1)
	p := &f.Panels[0]
	k := 12
	p.Y.Min, p.Y.Max = p.Field.Y[k], p.Field.Y[k]
	p.Field = &Field{X: p.Field.X, Y: p.Field.Y[k : k+1], Z: p.Field.Z[k : k+1], Gate: p.Field.Gate[k : k+1]}
	for o := range p.Overlays {
		p.Overlays[o].Z = p.Overlays[o].Z[k : k+1]
	}
	p.Markers[0].Y = p.Y.Min
	return f
}

func samples() map[string]*Figure {
	return map[string]*Figure{
		"size-1":    sizeFigure(1),
		"size-3":    sizeFigure(3),
		"map-1":     mapFigure(1, short, 1),
		"map-3":     mapFigure(3, short, 1),
		"map-5":     mapFigure(5, short, 1),
		"map-long":  mapFigure(3, long, 1),
		"map-most":  mapFigure(3, short, 0.55),
		"cells-kv":  cellFigure(false),
		"cells":     cellFigure(true),
		"barren":    barrenFigure(),
		"one-value": singleFigure(),
	}
}

// allSamples are samples with those of few panels.
func allSamples() map[string]*Figure {
	all := samples()
	maps.Copy(all, plainSamples())
	return all
}

// sampleLayouts are the layouts of all samples, which take a while.
var sampleLayouts = sync.OnceValues(func() (map[string]Layout, error) {
	all := map[string]Layout{}
	for name, f := range allSamples() {
		l, err := f.Layout()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		all[name] = l
	}
	return all, nil
})
