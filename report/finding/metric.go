package finding

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// Units in which results are told.
var (
	Gram    = unit.Mass.Unit("g")
	Watt    = unit.Power.Unit("W")
	Inch    = unit.Length.Unit("in")
	MAh     = unit.Charge.Unit("mAh")
	Celsius = unit.Temperature.Unit("degC")
)

// Metric finds a metric that the registry must have.
func Metric(name string) *model.Metric {
	m, ok := model.LookupMetric(name)
	if !ok {
		panic("finding: no metric " + name)
	}
	return m
}

// Headline lists the metrics that tables tell of every study, besides what it asks for.
var Headline = []*model.Metric{
	Metric("auw"), Metric("hover-time"), Metric("thrust-to-weight"), Metric("top-speed"), Metric("tip-mach"),
	Metric("disk-loading"),
}

// Asked lists the metrics of the tables that answer a study: those that rank, then those of the
// requirements that its user stated, then those of Headline. Payload has a column of its own.
func Asked(s *sweep.Study) []*model.Metric {
	all := ranking(s.Merit)
	for _, q := range s.Require {
		if !q.Default {
			all = withMetric(all, q.Metric)
		}
	}
	return withMetric(all, Headline...)
}

// ranking lists the metrics of merits.
func ranking(merits ...sweep.Merit) (all []*model.Metric) {
	for _, m := range merits {
		for _, t := range m {
			all = withMetric(all, t.Metric)
		}
	}
	return all
}

// withMetric adds those that are not there and have no column as an input.
func withMetric(all []*model.Metric, more ...*model.Metric) []*model.Metric {
	for _, m := range more {
		if m.Name != sweep.Payload.Name && !slices.Contains(all, m) {
			all = append(all, m)
		}
	}
	return all
}

// Capped says whether a value stands for all beyond it as well.
func Capped(m *model.Metric, v float64) bool { return m.Cap != 0 && v >= m.Cap }

// Relative says whether a difference in per cent says something of a metric:
// not of a margin, which may be near 0, nor of a temperature.
func Relative(m *model.Metric) bool {
	return m.Kind != unit.Temperature && m != Metric("class-margin") && m != Metric("voltage-margin")
}

// Known says whether some design has a metric that tells something.
func Known(m *model.Metric, rows []Row) bool {
	at := Place(m)
	return slices.ContainsFunc(rows, func(x Row) bool { return Finite(x.Values[at]) && !(m.Windy && x.Calm) })
}

// Finite says whether a value can be written as a number.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Operates says whether a craft has both operating points.
func Operates(c *model.Craft) bool { return c.Powertrain.Full.OK && c.Hover.OK }

// Readable lists the metrics that can be read of a craft: those of its mass alone
// where it has no operating point.
func Readable(c *model.Craft) []*model.Metric {
	if Operates(c) {
		return model.Metrics
	}
	var out []*model.Metric
	for _, m := range model.Metrics {
		if m.Stage == model.StageMass {
			out = append(out, m)
		}
	}
	return out
}

// SameMerit says whether two merits rank alike, whatever their weights add up to.
func SameMerit(a, b sweep.Merit) bool {
	sum := func(m sweep.Merit) (s float64) {
		for _, t := range m {
			s += t.Weight
		}
		return s
	}
	wa, wb := sum(a), sum(b)
	return slices.EqualFunc(a, b, func(s, t sweep.Term) bool {
		const rounding = 1e-9
		return s.Metric == t.Metric && s.Worst == t.Worst && s.Best == t.Best &&
			math.Abs(s.Weight/wa-t.Weight/wb) < rounding
	})
}
