package trial

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// drawn is a build of the invented decision, by its place on the axes in the grid's order.
type drawn struct {
	at       []int
	feasible float64
	cause    string // name of the gate
	cautious float64
	merit    decide.Quantiles
	regret   float64
	tied     bool
	pack     [2]float64 // of the planned capacity: P10, P90
}

// drawnBuilds are those of the classes of SmallStudy, by limit: the first is recommended.
// All numbers are invented.
var drawnBuilds = map[string][]drawn{
	"249g": {
		{[]int{1, 0, 0, 0, 0, 2, 0, 2, 0}, 0.86, "class", 0.176, decide.Quantiles{P10: 0, P50: 0.211, P90: 0.243},
			0.021, true, [2]float64{850.0 / 1500, 1}},
		{[]int{1, 0, 1, 0, 0, 2, 0, 2, 0}, 0.83, "class", 0.171, decide.Quantiles{P10: 0, P50: 0.208, P90: 0.239},
			0.024, true, [2]float64{850.0 / 1500, 1}},
		{[]int{0, 1, 1, 0, 0, 2, 1, 1, 0}, 0.93, "torque-load", 0.168,
			decide.Quantiles{P10: 0.149, P50: 0.201, P90: 0.254}, 0.029, true, [2]float64{1, 1}},
		{[]int{0, 1, 0, 0, 0, 2, 1, 1, 0}, 0.91, "torque-load", 0.158,
			decide.Quantiles{P10: 0.141, P50: 0.196, P90: 0.249}, 0.037, false, [2]float64{1, 1}},
		{[]int{1, 0, 0, 0, 0, 1, 1, 1, 0}, 0.46, "class", 0.092, decide.Quantiles{P10: 0, P50: 0, P90: 0.312},
			0.081, false, [2]float64{450.0 / 850, 1}},
		{[]int{1, 0, 0, 0, 0, 2, 0, 0, 1}, 0.41, "thrust-to-weight", 0.011,
			decide.Quantiles{P10: 0, P50: 0, P90: 0.071}, 0.187, false, [2]float64{1, 1}},
	},
	"600g": {
		{[]int{2, 0, 0, 0, 1, 1, 1, 1, 0}, 0.74, "pack-load", 0.248, decide.Quantiles{P10: 0, P50: 0.344, P90: 0.391},
			0.032, true, [2]float64{1, 1}},
		{[]int{2, 1, 0, 0, 1, 1, 1, 2, 0}, 0.62, "pack-load", 0.236, decide.Quantiles{P10: 0, P50: 0.362, P90: 0.421},
			0.041, true, [2]float64{1, 1}},
		{[]int{1, 0, 0, 0, 0, 1, 1, 2, 0}, 0.71, "torque-load", 0.219,
			decide.Quantiles{P10: 0, P50: 0.309, P90: 0.352}, 0.063, false, [2]float64{1, 1}},
		{[]int{2, 0, 1, 0, 1, 1, 1, 2, 0}, 0.38, "pack-load", 0.118, decide.Quantiles{P10: 0, P50: 0, P90: 0.428},
			0.124, false, [2]float64{1, 1}},
		{[]int{2, 0, 1, 0, 1, 1, 1, 2, 1}, 0.29, "pack-load", 0.074, decide.Quantiles{P10: 0, P50: 0, P90: 0.361},
			0.171, false, [2]float64{1, 1}},
	},
}

// Decided is an invented decision over a run of SmallStudy, whose designs and classes it
// has; its numbers are no result of any draws.
func Decided(t testing.TB, r *finding.Run) *decide.Decision {
	t.Helper()
	d := &decide.Decision{Draws: decide.DefaultDraws, Fresh: decide.Fresh, Seed: 1}
	for _, x := range r.Study.Merit {
		d.Metrics = append(d.Metrics, x.Metric)
	}
	for _, q := range r.Study.Require {
		if !slices.Contains(d.Metrics, q.Metric) {
			d.Metrics = append(d.Metrics, q.Metric)
		}
	}
	for i := range r.Result.Classes {
		k := &r.Result.Classes[i]
		if builds := drawnBuilds[k.Class.Label]; len(k.Ranking) > 0 && len(builds) > 0 {
			d.Classes = append(d.Classes, decidedClass(t, r, k, d.Metrics, builds))
		} else {
			d.Classes = append(d.Classes, decide.Class{Nominal: -1, Surest: -1})
		}
	}
	return d
}

// DecidedRun is SmallRun with an invented decision.
func DecidedRun(t testing.TB) *finding.Run {
	t.Helper()
	r := SmallRun(t)
	r.Decision = Decided(t, r)
	return r
}

func decidedClass(t testing.TB, r *finding.Run, k *sweep.ClassResult, metrics []*model.Metric, builds []drawn,
) decide.Class {
	t.Helper()
	c := decide.Class{Judged: 40, Nominal: -1, Surest: 0}
	gates := r.Result.Gates
	with := sweep.NewEvaluator(r.Study)
	for n, x := range builds {
		index := placed(r.Study.Grid, x.at)
		craft, err := with.Craft(index, k.Class)
		if err != nil {
			t.Fatal(err)
		}
		b := decide.Build{Index: index, Design: r.Study.Grid.Design(index), Rank: n + 1, Filled: x.pack[0] < 1,
			Feasible: x.feasible, Cautious: x.cautious, Merit: x.merit, Regret: x.regret, Tied: x.tied,
			Nominal: r.Study.Merit.Of(craft), Causes: make([]float64, len(gates))}
		b.Cause = slices.IndexFunc(gates, func(g sweep.Gate) bool { return g.Name == x.cause })
		if b.Cause < 0 {
			t.Fatalf("no requirement %s", x.cause)
		}
		last := len(gates) - 1 // a tenth of what fails does there
		b.Causes[last] = thousandths(0.1 * (1 - x.feasible))
		b.Causes[b.Cause] = thousandths(1 - x.feasible - b.Causes[last])
		planned := b.Design.Capacity
		b.Pack = decide.Quantiles{P10: planned * x.pack[0], P50: planned, P90: planned * x.pack[1]}
		for _, m := range metrics {
			v := m.Of(craft)
			b.Metrics = append(b.Metrics,
				decide.Quantiles{P10: figures(0.875 * v), P50: figures(v), P90: figures(1.125 * v)})
		}
		b.Fails = slices.Clone(b.Causes[:sweep.GateOperating+1])
		for _, q := range r.Study.Require {
			b.Margins = append(b.Margins, margins(&q, q.Metric.Of(craft)))
			fails := max(min(thousandths(float64(len(b.Kept)%4)*0.03), thousandths((1-x.feasible)/2)),
				b.Causes[len(b.Fails)])
			b.Kept, b.Fails = append(b.Kept, 1-fails), append(b.Fails, fails)
		}
		if index == k.Ranking[0].Index {
			c.Nominal = n
		}
		if n == 0 {
			c.Tests, c.Loads = tests(craft, len(r.Study.Require))
		}
		if n == 2 { // of which c.Worth names the thrust of the propeller
			all, _ := tests(craft, 0)
			c.Rivals = []decide.RivalTests{{Build: n, Tests: slices.DeleteFunc(all,
				func(t decide.Test) bool { return t.What != decide.PropellerThrust })}}
		}
		c.Builds = append(c.Builds, b)
		if x.feasible > c.Builds[c.Surest].Feasible {
			c.Surest = n
		}
	}
	c.Axes = axisValues(r.Study.Grid, c.Builds)
	c.Line = confidenceLine(c.Builds)
	first := c.Builds[0].Nominal
	for _, s := range []decide.Sensitivity{
		{Name: "pack resistance", Meaning: "of all packs", Low: first + 0.031, High: first - 0.044},
		{Name: "frame mass", Meaning: "of all frames", Low: first + 0.018, High: 0},
		{Name: "thrust coefficient", Meaning: "of all propellers", Low: first - 0.012, High: first + 0.011},
		{Name: "pack-grade", Meaning: "standard in place of high-rate", Assumption: true, High: first - 0.006},
	} {
		s.LowSize, s.HighSize = c.Builds[0].Design.Diameter, c.Builds[0].Design.Diameter
		if s.Name == "frame mass" {
			s.HighSize = c.Builds[len(c.Builds)-3].Design.Diameter
		}
		c.Sensitivities = append(c.Sensitivities, s)
	}
	for n, g := range gates {
		if n == sweep.GateClass || g.Name == "pack-load" {
			l := decide.Loosened{Gate: n, Bound: 1.1 * k.Class.Limit, Merit: k.Ranking[0].Score + 0.017, Gain: 0.017,
				Index: k.Ranking[0].Index, Any: true}
			if q := g.Requirement; q != nil {
				l.Bound, l.Merit, l.Gain = 1.1*q.Bound, k.Ranking[0].Score, 0
			}
			c.Loosened = append(c.Loosened, l)
		}
	}
	c.Weights = []decide.WeightRange{{Term: 0, Weight: 0.5, Least: 0.34, Most: 1, Below: 2, Above: -1},
		{Term: 1, Weight: 0.5, Least: 0, Most: 0.66, Below: -1, Above: 2}}
	c.Worth = []decide.Worth{
		{What: decide.PackResistance, Another: decide.FrameMass, Pair: true, Gain: 0.017, Noise: 0.002,
			Class: decide.LargeWorth},
		{What: decide.PackResistance, Gain: 0.012, Noise: 0.001, Class: decide.LargeWorth},
		{What: decide.FrameMass, Gain: 0.006, Noise: 0.001, Class: decide.SomeWorth},
		{What: decide.PropellerThrust, Build: 2, Gain: 0.005, Noise: 0.001, Class: decide.SomeWorth},
		{What: decide.PropellerThrust, Gain: 0.003, Noise: 0.001, Class: decide.SomeWorth},
		{What: decide.MotorResistance, Gain: 0, Noise: 0.001},
	}
	for n := range decide.DefaultDraws { // rises from nothing to P90, in an order that looks like chance
		if at := math.Mod(0.5+float64(n)*math.Phi, 1); at > 1-builds[0].feasible {
			c.Drawn = append(c.Drawn, thousandths(builds[0].merit.P90*(0.8+0.25*at)))
		} else {
			c.Drawn = append(c.Drawn, 0)
		}
	}
	return c
}

// placed is the index of a design by its places on the axes.
func placed(g *sweep.Grid, at []int) (index uint64) {
	for n, a := range g.Axes() {
		index = index*uint64(len(a.Values)) + uint64(at[n])
	}
	return index
}

func thousandths(v float64) float64 { return math.Round(1000*v) / 1000 }

// figures is a value to five figures, the same on all kinds of processors.
func figures(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 5, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// margins are those of a value to its bound, in logarithms but for a bound at 0.
func margins(q *sweep.Requirement, v float64) decide.Quantiles {
	m := v - q.Bound
	if q.Bound > 0 {
		m = math.Log(v / q.Bound)
	}
	if !q.AtLeast {
		m = -m
	}
	return decide.Quantiles{P10: m - 0.125, P50: m, P90: m + 0.125}
}

// axisValues holds the best build of each value against the first.
func axisValues(g *sweep.Grid, builds []decide.Build) (out []decide.AxisValues) {
	for _, n := range g.Swept() {
		a := g.Axes()[n]
		if a.Def == sweep.Capacity {
			continue
		}
		x := decide.AxisValues{Axis: n}
		for i, v := range a.Values {
			y := decide.AxisValue{Value: v}
			if at := slices.IndexFunc(builds, func(b decide.Build) bool { return g.At(b.Index, n) == i }); at >= 0 {
				loss := builds[0].Cautious - builds[at].Cautious
				y.Any, y.Build = true, at
				if at > 0 {
					y.Ahead = thousandths(max(0.02, 0.30-2*loss))
					y.Behind = thousandths(min(0.95, 0.30+3*loss))
					y.Difference, y.Standard, y.Loss = -loss, 0.005, thousandths(0.01+loss)
				}
				y.Level = thousandths(1 - y.Ahead - y.Behind)
				y.Better = thousandths(y.Ahead + y.Level/2)
			}
			x.Values = append(x.Values, y)
		}
		out = append(out, x)
	}
	return out
}

// confidenceLine is the best of some builds at each P(feasible).
func confidenceLine(builds []decide.Build) (out []decide.LinePoint) {
	for _, p := range []float64{0.5, 0.6, 0.7, 0.8, 0.9} {
		x := decide.LinePoint{Feasible: p}
		for n, b := range builds {
			if b.Feasible < p {
				continue
			}
			if !x.Any || b.Cautious > x.Cautious {
				x.Any, x.Build, x.Cautious = true, n, b.Cautious
			}
			x.Median = max(x.Median, b.Merit.P50)
		}
		out = append(out, x)
	}
	return out
}

// tests are those of a craft, from an eighth below its numbers to an eighth above, and what its parts
// bear alike.
func tests(c *model.Craft, requirements int) ([]decide.Test, decide.Loads) {
	about := func(v float64) decide.Quantiles {
		return decide.Quantiles{P10: figures(0.875 * v), P50: figures(v), P90: figures(1.125 * v)}
	}
	d, m := &c.Powertrain.Drive, c.Masses()
	turns := 100 * math.Round(60*c.Hover.Speed/100) / 60
	out := []decide.Test{{What: decide.FrameMass, Quantiles: about(m.Frame)},
		{What: decide.MotorMass, Quantiles: about(d.Motor.Mass)},
		{What: decide.PackMass, Quantiles: about(d.Pack.Mass)},
		{What: decide.MotorResistance, Quantiles: about(d.Motor.ColdResistance())},
		{What: decide.PropellerThrust, N: turns, Quantiles: about(c.Mass * 9.80665 / 4)},
		{What: decide.HoverPower, Quantiles: about(c.Hover.Power)},
		{What: decide.PackResistance, Quantiles: about(d.Pack.R)}}
	for i := range out {
		for n := range requirements {
			out[i].Explains = append(out[i].Explains, thousandths(float64((3*i+n)%7)/10))
		}
	}
	full := &c.Powertrain.Full
	return out, decide.Loads{Motor: about(full.Current), Pack: about(full.PackCurrent), Turns: about(full.Speed)}
}
