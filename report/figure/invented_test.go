package figure

import (
	"cmp"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// invented is a decision that is made up of any run: its builds are those of the designs that the run
// has kept, and all that is said of them follows from their merit and their index by rules
// that are made up.
func invented(r *finding.Run) *decide.Decision {
	d := &decide.Decision{Draws: decide.DefaultDraws, Fresh: decide.Fresh, Seed: 1}
	for _, t := range r.Study.Merit {
		d.Metrics = append(d.Metrics, t.Metric)
	}
	for _, q := range r.Study.Require {
		if !slices.Contains(d.Metrics, q.Metric) {
			d.Metrics = append(d.Metrics, q.Metric)
		}
	}
	for i := range r.Result.Classes {
		d.Classes = append(d.Classes, decided(r, d, &r.Result.Classes[i]))
	}
	return d
}

// decided makes up the choice in a class.
func decided(r *finding.Run, d *decide.Decision, k *sweep.ClassResult) decide.Class {
	out := decide.Class{Nominal: -1, Surest: -1}
	if len(k.Ranking) == 0 {
		return out
	}
	seen := map[model.Design]bool{}
	add := func(x sweep.Ranked) {
		design := r.Study.Grid.Design(x.Index)
		key := design
		key.Capacity = 0
		if seen[key] {
			return
		}
		seen[key] = true
		chance := func(n float64) float64 { return math.Mod(n*0.6180339887*float64(x.Index+1), 1) }
		b := decide.Build{Index: x.Index, Design: design, Nominal: x.Score, Filled: x.Index%2 == 0}
		b.Feasible = math.Round(1024*(0.3+0.65*chance(1))) / 1024
		b.Causes = make([]float64, len(r.Result.Gates))
		b.Cause = -1
		if b.Feasible < 1 {
			b.Cause = int(x.Index) % len(b.Causes)
			b.Causes[b.Cause] = 1 - b.Feasible
		}
		spread := 0.1 + 0.1*chance(2)
		b.Merit = decide.Quantiles{P10: b.Nominal * (1 - 2*spread), P50: b.Nominal * (1 - spread/2),
			P90: b.Nominal * (1 + spread/2)}
		if b.Feasible < 0.9 {
			b.Merit.P10 = 0
		}
		b.Cautious = b.Merit.P50 * (0.8 + 0.15*b.Feasible)
		c := design.Capacity
		b.Pack = decide.Quantiles{P10: 0.9 * c, P50: c, P90: c}
		e, err := sweep.NewEvaluator(r.Study).Craft(x.Index, k.Class)
		if err != nil {
			panic(err)
		}
		for _, m := range d.Metrics {
			v := m.Of(e)
			b.Metrics = append(b.Metrics, decide.Quantiles{P10: 0.9 * v, P50: v, P90: 1.08 * v})
		}
		for range r.Study.Require {
			b.Margins = append(b.Margins, decide.Quantiles{P10: -0.05, P50: 0.06, P90: 0.2})
		}
		out.Builds = append(out.Builds, b)
	}
	for _, l := range k.Leaders {
		if l.Any {
			add(l.Ranked)
		}
	}
	for _, l := range k.ByCells {
		if l.Any {
			add(l.Ranked)
		}
	}
	for _, x := range k.Ranking[:min(len(k.Ranking), 20)] {
		add(x)
	}
	slices.SortStableFunc(out.Builds, func(a, b decide.Build) int { return cmp.Compare(b.Cautious, a.Cautious) })
	out.Judged = 20 * len(out.Builds)
	first := &out.Builds[0]
	for n := range out.Builds {
		b := &out.Builds[n]
		b.Rank = n + 1
		b.Tied = n > 0 && b.Cautious > 0.94*first.Cautious
		b.Regret = 0.01 + first.Cautious - b.Cautious
		if out.Surest < 0 || b.Feasible > out.Builds[out.Surest].Feasible {
			out.Surest = n
		}
		if b.Index == k.Ranking[0].Index {
			out.Nominal = n
		}
	}
	for at, a := range r.Study.Grid.Axes() {
		if len(a.Values) > 1 && a.Def != sweep.Capacity {
			out.Axes = append(out.Axes, along(&out, at, a))
		}
	}
	for _, p := range []float64{0.5, 0.6, 0.7, 0.8, 0.9} {
		x := decide.LinePoint{Feasible: p}
		for n := range out.Builds {
			if b := &out.Builds[n]; b.Feasible >= p {
				if !x.Any {
					x = decide.LinePoint{Feasible: p, Any: true, Build: n, Cautious: b.Cautious}
				}
				x.Median = max(x.Median, b.Merit.P50)
			}
		}
		out.Line = append(out.Line, x)
	}
	inventMore(&out, r)
	return out
}

// along makes up how the values of an axis stand.
func along(k *decide.Class, at int, a sweep.Axis) decide.AxisValues {
	out := decide.AxisValues{Axis: at}
	for _, v := range a.Values {
		x := decide.AxisValue{Value: v}
		n := slices.IndexFunc(k.Builds, func(b decide.Build) bool { return finding.On(a.Def, &b, v) })
		switch {
		case n == 0:
			x = decide.AxisValue{Value: v, Any: true, Level: 1, Better: 0.5}
		case n > 0:
			d := k.Builds[0].Cautious - k.Builds[n].Cautious
			x = decide.AxisValue{Value: v, Any: true, Build: n, Behind: min(0.3+2*d, 0.95), Difference: -d,
				Standard: 0.004, Loss: d + 0.01}
			x.Ahead = (1 - x.Behind) / 3
			x.Level = 1 - x.Behind - x.Ahead
			x.Better = x.Ahead + x.Level/2
		}
		out.Values = append(out.Values, x)
	}
	return out
}

// inventMore makes up what moves the recommended build, and what is worth measuring.
func inventMore(k *decide.Class, r *finding.Run) {
	first := &k.Builds[0]
	for n, x := range r.Study.Model.Sources() {
		move := 0.12 / float64(n+1) * first.Nominal
		s := decide.Sensitivity{Name: x.Name, Meaning: x.Meaning, Low: first.Nominal + move,
			High: first.Nominal - 1.2*move, LowSize: first.Design.Diameter, HighSize: first.Design.Diameter}
		switch n {
		case 2:
			s.HighSize *= 1.25
		case 3:
			s.LowSize, s.HighSize = 1.25*s.LowSize, 0.75*s.HighSize
		case 4:
			s.High = 0
		}
		k.Sensitivities = append(k.Sensitivities, s)
	}
	k.Sensitivities = slices.Insert(k.Sensitivities, 2, decide.Sensitivity{Name: "temperature",
		Meaning: "35 °C in place of 15 °C", Assumption: true, High: 0.93 * first.Nominal,
		HighSize: first.Design.Diameter})
	for g := range r.Result.Gates {
		if g == sweep.GateOperating {
			continue
		}
		l := decide.Loosened{Gate: g, Any: true, Index: first.Index, Merit: first.Nominal, Bound: 1.1}
		if q := r.Result.Gates[g].Requirement; q != nil {
			l.Bound = q.Bound * 1.1
			if q.AtLeast {
				l.Bound = q.Bound / 1.1
			}
		}
		if g%2 == 0 {
			l.Gain = 0.01 * float64(g+1)
			l.Merit += l.Gain
		}
		k.Loosened = append(k.Loosened, l)
	}
	sum := 0.0
	for _, t := range r.Study.Merit {
		sum += t.Weight
	}
	for n, t := range r.Study.Merit {
		w := decide.WeightRange{Term: n, Weight: t.Weight / sum, Least: 0, Most: 1, Below: -1, Above: -1}
		if len(k.Builds) > 1 {
			w.Least, w.Below = 0.5*w.Weight, 1
		}
		k.Weights = append(k.Weights, w)
	}
	k.Worth = []decide.Worth{
		{What: decide.PropellerThrust, Gain: 0.012, Noise: 0.001, Class: decide.LargeWorth},
		{What: decide.PackResistance, Gain: 0.004, Noise: 0.001, Class: decide.SomeWorth},
		{What: decide.FrameMass, Gain: 0.0005, Noise: 0.001, Class: decide.WithinNoise},
		{What: decide.PropellerThrust, Gain: 0.015, Noise: 0.001, Class: decide.LargeWorth, Pair: true,
			Another: decide.PackResistance},
	}
}
