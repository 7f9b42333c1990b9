package words

import (
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// drawsRecord is that of a run's decision, nil for none.
func drawsRecord(r *finding.Run) *finding.DrawsRecord {
	if !r.Decides() {
		return nil
	}
	d := r.Decision
	return &finding.DrawsRecord{Draws: d.Draws, Fresh: d.Fresh, Seed: d.Seed, ByThrottle: metricNames(d.ByThrottle)}
}

// decisionRecord is that of a class, nil for none.
func decisionRecord(c *finding.Choice) *finding.DecisionRecord {
	if c == nil {
		return nil
	}
	out := &finding.DecisionRecord{Judged: c.Judged, Recommended: buildRecord(c, c.Recommended()),
		Nominal: buildRecord(c, c.At(c.Nominal)), Surest: buildRecord(c, c.At(c.Surest)), Drawn: c.Drawn,
		Tied:  finding.List(Each(c.Ties(), func(b *decide.Build) string { return recordName(b) })),
		Line:  []finding.LineRecord{},
		Axes:  []finding.AgainstRecord{},
		Worth: []finding.WorthRecord{}, Sensitivities: []finding.SensitivityRecord{}}
	if c.AUW > 0 {
		out.PlannedAUW = &c.AUW
	}
	if out.Drawn == nil {
		out.Drawn = []float64{}
	}
	for _, x := range c.Line {
		l := finding.LineRecord{Feasible: x.Feasible}
		if b := c.At(x.Build); x.Any && b != nil {
			l.Build, l.Cautious, l.Median = new(recordName(b)), &x.Cautious, &x.Median
		}
		out.Line = append(out.Line, l)
	}
	for _, x := range c.Axes {
		d := c.Grid.Axes()[x.Axis].Def
		a := finding.AgainstRecord{Axis: d.Name, Unit: d.Kind.SI().Symbol}
		for _, v := range x.Values {
			o := finding.ValueRecord{Value: v.Value}
			if b := c.At(v.Build); v.Any && b != nil {
				o.Build = new(recordName(b))
				o.Paired = &finding.StandingRecord{Ahead: v.Ahead, Level: v.Level, Behind: v.Behind, Better: v.Better,
					Difference: v.Difference, Standard: v.Standard, Loss: v.Loss}
			}
			a.Values = append(a.Values, o)
		}
		out.Axes = append(out.Axes, a)
	}
	for _, w := range c.Worth {
		if !c.Tells(w) {
			continue
		}
		o := finding.WorthRecord{What: Measurable(w.What), Class: WorthClass(w.Class), Gain: w.Gain, Noise: w.Noise}
		if b := c.At(w.Build); b != nil {
			o.Build = recordName(b)
		}
		if w.Pair {
			o.Another = Measurable(w.Another)
		}
		out.Worth = append(out.Worth, o)
	}
	for n := range c.Sensitivities[:min(finding.ShownSensitivities, len(c.Sensitivities))] {
		s := &c.Sensitivities[n]
		o := finding.SensitivityRecord{Name: s.Name, Meaning: s.Meaning, Assumption: s.Assumption, High: s.High,
			HighSize: s.HighSize}
		if !s.Assumption {
			o.Low, o.LowSize = &s.Low, &s.LowSize
		}
		out.Sensitivities = append(out.Sensitivities, o)
	}
	return out
}

// recordName names a build to machines, as the table of builds does, with its payload.
func recordName(b *decide.Build) string {
	s := BuildName(b.Design, " x ")
	if b.Design.Payload > 0 {
		s += ", payload " + Mass(b.Design.Payload)
	}
	return s
}

func buildRecord(c *finding.Choice, b *decide.Build) *finding.BuildRecord {
	if b == nil {
		return nil
	}
	out := &finding.BuildRecord{Build: recordName(b), Index: b.Index, Rank: b.Rank, Inputs: DesignRecord(b.Design),
		Filled: b.Filled, Feasible: b.Feasible, Cautious: b.Cautious, Planned: b.Nominal,
		Merit: quantilesRecord(b.Merit, "", nil), Regret: b.Regret, Tied: b.Tied,
		Pack: quantilesRecord(b.Pack, sweep.Capacity.Kind.SI().Symbol, nil)}
	if f, ok := c.Fails(b); ok {
		out.Cause, out.CauseShare = f.Gate.Name, f.Share
	}
	for n, m := range c.Ranking() {
		u := finding.ExportUnit(m)
		out.Metrics = append(out.Metrics, finding.NamedQuantiles{Name: m.Name,
			QuantilesRecord: quantilesRecord(b.Metrics[n], u.Symbol, u.FromSI)})
	}
	return out
}

// quantilesRecord are quantiles as machines are given them, in a unit that of reads from SI.
func quantilesRecord(q decide.Quantiles, symbol string, of func(float64) float64) finding.QuantilesRecord {
	value := func(v float64) *float64 {
		if !finding.Finite(v) {
			return nil
		}
		if of != nil {
			v = of(v)
		}
		return &v
	}
	return finding.QuantilesRecord{P10: value(q.P10), P50: value(q.P50), P90: value(q.P90), Unit: symbol}
}
