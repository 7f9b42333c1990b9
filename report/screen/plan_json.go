package screen

import (
	"math"

	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// drawnAlone is what was drawn; nil for nothing.
func (s *Spread) drawnAlone() *decide.Drawn {
	if s == nil {
		return nil
	}
	return s.Drawn
}

// buyRecord lists what to buy, in SI units but for rpm.
func buyRecord(p *finding.Plan) []finding.Object {
	out := []finding.Object{}
	all := p.Purchases()
	for i := range all {
		x := &all[i]
		o := finding.Object{{Name: "part", Value: x.Title}, {Name: "name", Value: x.Name},
			{Name: "specification", Value: words.Specification(p, x)}, {Name: "quantity", Value: x.Count},
			{Name: "mass", Value: finding.Quantity{Value: finding.OrNull(x.Mass), Unit: "kg"}},
			{Name: "price", Value: finding.OrNull(x.Price)}, {Name: "must_bear", Value: nil}}
		if x.Load != finding.NoLoad {
			what, in := words.Load(x.Load)
			if x.Load == finding.Room {
				in = siOf(in)
			}
			o[len(o)-1].Value = finding.Object{{Name: "what", Value: what}, {Name: "unit", Value: in.Symbol},
				{Name: "nominal", Value: finding.OrNull(in.FromSI(x.Needs))},
				{Name: "p90", Value: finding.OrNull(in.FromSI(x.Most))},
				{Name: "rated", Value: finding.OrNull(in.FromSI(x.Rated))},
				{Name: "rated_by", Value: words.RatedBy(x)}, {Name: "margin", Value: finding.OrNull(x.Margin())}}
		}
		out = append(out, o)
	}
	return out
}

// testRecord lists what to measure, as records have it; nothing without draws.
func testRecord(p *finding.Plan) []finding.Object {
	out := []finding.Object{}
	for i := range p.Tests {
		t := &p.Tests[i]
		u, symbol := words.TestUnit(t)
		pass := t.P90
		if t.AtLeast() {
			pass = t.P10
		}
		out = append(out, finding.Object{{Name: "measure", Value: words.Measurable(t.What)},
			{Name: "kind", Value: t.Record.Subject.Kind}, {Name: "key", Value: t.Record.Subject.Key()},
			{Name: "quantity", Value: t.Record.Described()}, {Name: "unit", Value: symbol},
			{Name: "p10", Value: finding.OrNull(u.FromSI(t.P10))},
			{Name: "p50", Value: finding.OrNull(u.FromSI(t.P50))},
			{Name: "p90", Value: finding.OrNull(u.FromSI(t.P90))}, {Name: "pass_at_least", Value: t.AtLeast()},
			{Name: "pass", Value: finding.OrNull(u.FromSI(pass))}, {Name: "goes_into", Value: words.Back(t.Back)}})
	}
	return out
}

// checkRecord lists how each requirement is shown to be kept. A margin is a share of the bound, or in
// the metric's unit where the bound is not above 0; above 0 it is kept.
func checkRecord(p *finding.Plan) []finding.Object {
	out := []finding.Object{}
	for i := range p.Checks {
		c := &p.Checks[i]
		value, bound, symbol := c.Value, c.Bound, "kg"
		if q := c.Gate.Requirement; q != nil {
			u := finding.ExportUnit(q.Metric)
			value, bound, symbol = u.FromSI(value), u.FromSI(bound), u.Symbol
		}
		share := func(v float64) any {
			if c.Relative() {
				v = math.Expm1(v)
			}
			return finding.OrNull(v)
		}
		by := []finding.Object{}
		for _, t := range c.By {
			by = append(by, finding.Object{{Name: "measure", Value: words.Measurable(t.What)},
				{Name: "share", Value: t.Share}})
		}
		out = append(out, finding.Object{{Name: "requirement", Value: c.Gate.Name},
			{Name: "value", Value: finding.OrNull(value)}, {Name: "bound", Value: finding.OrNull(bound)},
			{Name: "unit", Value: symbol}, {Name: "margin_p10", Value: share(c.Margin.P10)},
			{Name: "margin_p50", Value: share(c.Margin.P50)}, {Name: "margin_p90", Value: share(c.Margin.P90)},
			{Name: "p_kept", Value: finding.OrNull(c.Kept)}, {Name: "shown", Value: words.ShownClass(c.Shown)},
			{Name: "by", Value: by}})
	}
	return out
}
