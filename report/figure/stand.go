package figure

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"rotorsieve/model/bench"
	"rotorsieve/model/flight"
	"rotorsieve/model/unit"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

// StandCurves are what the figure of a stand shows.
type StandCurves struct {
	Rig        *bench.Rig
	Motor      string                   // names it, "2205 2400 KV"
	Propeller  string                   // names it, "5 × 4 in, 3 blades"
	Comparison *finding.StandComparison // nil for none
}

const (
	standSteps   = 60
	mostSupplies = 2 // that have curves of their own
)

// Figure draws thrust and electrical power over the speed, and their ratio over the
// thrust, where motors and supplies of any voltage can be laid beside each other.
// Where there are measurements the curves are at their voltages.
func (s *StandCurves) Figure() (*chart.Figure, error) {
	supplies := s.supplies()
	curves, err := s.curves(supplies)
	if err != nil {
		return nil, err
	}
	gram := func(p *flight.StandPoint) float64 { return p.Thrust / finding.PerGram }
	rpm := func(p *flight.StandPoint) float64 { return 60 * p.Speed }
	panels := []standPanel{
		{"Thrust", "speed [rpm]", "thrust [g]", rpm, gram},
		{"Electrical power", "speed [rpm]", "electrical power [W]", rpm,
			func(p *flight.StandPoint) float64 { return p.Electrical() }},
		{"Thrust over electrical power", "thrust [g]", "thrust over power [g/W]", gram,
			func(p *flight.StandPoint) float64 { return p.PerWatt() / finding.PerGram }},
	}
	f := &chart.Figure{
		Title:    s.title(curves[0].points),
		Subtitle: strings.Join([]string{s.Motor, s.Propeller, s.supply(), airOf(s.Rig)}, " · "),
		Note:     "Curves from the least speed of the rotor model to full duty.",
	}
	if len(supplies) > 1 {
		f.Note += " Thrust at one speed does not depend on the voltage; power does, by chopping."
	}
	for n, k := range panels {
		p := chart.Panel{Title: k.title, X: chart.Axis{Label: k.x}, Y: chart.Axis{Label: k.y}}
		for _, c := range curves {
			if n == 0 && c.again {
				continue
			}
			l := chart.Line{Family: c.name}
			l.X, l.Y = k.of(c.points)
			p.Lines = append(p.Lines, l)
			p.X.Max, p.Y.Max = max(p.X.Max, greatest(l.X)), max(p.Y.Max, greatest(l.Y))
		}
		for _, c := range supplies {
			if len(c.points) == 0 {
				continue
			}
			q := chart.Points{Family: c.name}
			q.X, q.Y = k.of(c.points)
			p.X.Max, p.Y.Max = max(p.X.Max, greatest(q.X)), max(p.Y.Max, greatest(q.Y))
			p.Points = append(p.Points, q)
		}
		p.X.Max, p.Y.Max = roundUp(1.02*p.X.Max), roundUp(1.05*p.Y.Max)
		f.Panels = append(f.Panels, p)
	}
	return f, nil
}

// curves are those of the model, and as fitted, at the voltages that have most rows.
func (s *StandCurves) curves(supplies []standPoints) (all []standPoints, err error) {
	add := func(name string, r *bench.Rig, volts float64, again bool) error {
		q := *r
		if volts != 0 {
			q.Volts, q.Resistance = volts, 0 // measured at the controller
			name += fmt.Sprintf(" at %.2g V", volts)
		}
		c, err := standCurve(&q)
		all = append(all, standPoints{name: name, points: c, again: again})
		return err
	}
	for i, c := range supplies[:min(mostSupplies, len(supplies))] {
		if err := add("model", s.Rig, c.volts, i > 0); err != nil {
			return nil, err
		}
		if k := s.Comparison; k != nil && k.Fit != nil {
			if err := add("fitted", k.Fit.Rig, c.volts, i > 0); err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}

// standPanel is what one panel has across and up.
type standPanel struct {
	title, x, y string
	across, up  func(*flight.StandPoint) float64
}

// of gives the coordinates of points that have both.
func (k *standPanel) of(points []flight.StandPoint) (x, y []float64) {
	for i := range points {
		if a, b := k.across(&points[i]), k.up(&points[i]); finding.Finite(a) && finding.Finite(b) && a > 0 {
			x, y = append(x, a), append(y, b)
		}
	}
	return x, y
}

func greatest(v []float64) (most float64) {
	for _, v := range v {
		most = max(most, v)
	}
	return most
}

// standCurve is the states from the least speed to the highest.
func standCurve(r *bench.Rig) ([]flight.StandPoint, error) {
	least, _ := r.Speeds()
	top, _ := r.Top()
	var out []flight.StandPoint
	for i := range standSteps {
		n := least + (top.Speed-least)*float64(i)/standSteps
		if p, ok := r.AtSpeed(n); ok {
			out = append(out, p)
		}
	}
	if out = append(out, top); len(out) < 2 || !(top.Thrust > 0) {
		return nil, errors.New("the supply does not turn the propeller: want more voltage")
	}
	return out, nil
}

// standPoints are the points of one curve or one mark.
type standPoints struct {
	name   string
	volts  float64 // the mean of those measured; 0 for the stated supply
	points []flight.StandPoint
	again  bool // over the speed its thrust is that of another curve
}

// supplies are the rows that are compared by voltage, those of about one together,
// most rows first; without a comparison the stated supply, of no row.
func (s *StandCurves) supplies() []standPoints {
	if s.Comparison == nil {
		return []standPoints{{}}
	}
	const apart = 1.15 // of neighbours
	rows := slices.Clone(s.Comparison.Rows)
	slices.SortStableFunc(rows, func(a, b bench.Compared) int { return cmp.Compare(b.Volts, a.Volts) })
	var all []standPoints
	for i, c := range rows {
		if i == 0 || rows[i-1].Volts > apart*c.Volts {
			all = append(all, standPoints{})
		}
		speed := c.Speed
		if !(speed > 0) {
			speed = c.At.Speed // of the model at its throttle
		}
		to := &all[len(all)-1]
		to.volts += c.Volts
		to.points = append(to.points, flight.StandPoint{Speed: speed, Thrust: c.Thrust, Voltage: c.Volts,
			Current: c.Amps})
	}
	for i := range all {
		c := &all[i]
		c.volts /= float64(len(c.points))
		c.name = fmt.Sprintf("measured at %.2g V", c.volts)
	}
	slices.SortStableFunc(all, func(a, b standPoints) int { return cmp.Compare(len(b.points), len(a.points)) })
	return all
}

// supply names the supply, or what stands for it.
func (s *StandCurves) supply() string {
	if c := s.Comparison; c != nil {
		return fmt.Sprintf("%d %s of %s", len(c.Rows), texts.Plural(len(c.Rows), "row", "rows"),
			filepath.Base(c.Used.Name))
	}
	text := unit.Voltage.Unit("V").Format(s.Rig.Volts, 4)
	if s.Rig.Resistance > 0 {
		text += fmt.Sprintf(" behind %.3g mΩ", 1e3*s.Rig.Resistance)
	}
	return text
}

func airOf(r *bench.Rig) string {
	a := r.Rotor.Air()
	return fmt.Sprintf("altitude %.6g m, %s", a.Altitude, finding.Celsius.Format(a.Temperature, 3))
}

// title says what the curves come to.
func (s *StandCurves) title(curve []flight.StandPoint) string {
	if c := s.Comparison; c != nil {
		thrust, power := bench.Summarise(c.Rows, bench.ThrustAtSpeed), bench.Summarise(c.Rows, bench.PowerAtSpeed)
		if thrust.Points > 0 {
			return fmt.Sprintf("At the same speed the model gives %s and takes %s",
				MoreOrLess(thrust.Mean, "thrust", true), MoreOrLess(power.Mean, "power", false))
		}
	}
	top := &curve[len(curve)-1]
	return fmt.Sprintf("Full throttle gives %.0f g at %.0f W and %s, %.2g g/W", top.Thrust/finding.PerGram,
		top.Electrical(),
		rpmText(top.Speed), top.PerWatt()/finding.PerGram)
}

// MoreOrLess is a relative difference of a quantity from the measured one in words: "3 %
// more power". Where the difference is less than a stand's own errors it says so.
func MoreOrLess(v float64, what string, first bool) string {
	const same = 0.02
	word, as := "more", " than"
	switch {
	case math.Abs(v) < same:
		word, as = "about as much", " as"
	case v < 0:
		word = "less"
	}
	text := word + " " + what
	if math.Abs(v) >= same {
		text = fmt.Sprintf("%.0f %% %s", 100*math.Abs(v), text)
	}
	if first {
		text += as + " measured"
	}
	return text
}
