package figure

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/sweep/decide"
)

// rangeFamily is what the draws make of the recommended build.
const rangeFamily = "recommended build, 10th to 90th percentile of the draws"

// drawnOf are the quantiles of a metric of the recommended build, in its unit; NaN for none.
func drawnOf(c *finding.Choice, m *model.Metric) decide.Quantiles {
	none := math.NaN()
	at := slices.Index(c.Of.Metrics, m)
	if at < 0 {
		return decide.Quantiles{P10: none, P50: none, P90: none}
	}
	q := c.Recommended().Metrics[at]
	return decide.Quantiles{P10: m.Unit.FromSI(q.P10), P50: m.Unit.FromSI(q.P50), P90: m.Unit.FromSI(q.P90)}
}

// addRanges draws behind each recommended build, which stands beside the limit of its class, what the
// draws make of it.
func addRanges(p *chart.Panel, found []finding.Class, aside float64, drawn func(*finding.Choice) decide.Quantiles) {
	const half = 0.018 // of the axis
	bars := chart.Area{Family: rangeFamily, Pale: true, Half: half * (p.X.Max - p.X.Min)}
	for i := range found {
		if found[i].Planned == nil || found[i].Choice == nil {
			continue
		}
		q := drawn(found[i].Choice)
		if !finding.Finite(q.P10) || !finding.Finite(q.P90) {
			continue
		}
		bars.At, bars.From, bars.To = append(bars.At, finding.Gram.FromSI(found[i].Class.Limit)+aside),
			append(bars.From, q.P10), append(bars.To, q.P90)
		room := 0.05 * (p.Y.Max - p.Y.Min)
		low := q.P10 - room
		if q.P10 >= 0 {
			low = max(low, 0) // nothing lies below
		}
		p.Y.Min, p.Y.Max = min(p.Y.Min, low), max(p.Y.Max, q.P90+room)
	}
	if len(bars.At) == 0 {
		return
	}
	p.Areas = append(p.Areas, bars)
	room := 0.09 * (p.Y.Max - p.Y.Min) // for a marker
	for _, m := range p.Markers {
		p.Y.Max = max(p.Y.Max, m.Y+room)
	}
}
