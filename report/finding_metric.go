package report

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// Units in which results are told.
var (
	gram  = unit.Mass.Unit("g")
	watt  = unit.Power.Unit("W")
	inch  = unit.Length.Unit("in")
	mAh   = unit.Charge.Unit("mAh")
	celsi = unit.Temperature.Unit("degC")
)

// metric finds a metric that the registry must have.
func metric(name string) *model.Metric {
	m, ok := model.LookupMetric(name)
	if !ok {
		panic("report: no metric " + name)
	}
	return m
}

// headline lists the metrics of the tables that answer a study.
var headline = []*model.Metric{
	metric("auw"), metric("hover-time"), metric("thrust-to-weight"), metric("top-speed"), metric("tip-mach"),
	metric("disk-loading"),
}

// capped says whether a value stands for all beyond it as well.
func capped(m *model.Metric, v float64) bool { return m.Cap != 0 && v >= m.Cap }

// relative says whether a difference in per cent says something of a metric:
// not of a margin, which may be near 0, nor of a temperature.
func relative(m *model.Metric) bool {
	return m.Kind != unit.Temperature && m != metric("class-margin") && m != metric("voltage-margin")
}

// known says whether some design has a metric.
func known(m *model.Metric, rows []row) bool {
	at := place(m)
	return slices.ContainsFunc(rows, func(x row) bool { return finite(x.values[at]) })
}

// finite says whether a value can be written as a number.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// operates says whether a craft has both operating points.
func operates(c *model.Craft) bool { return c.Powertrain.Full.OK && c.Hover.OK }

// readable lists the metrics that can be read of a craft: those of its mass alone
// where it has no operating point.
func readable(c *model.Craft) []*model.Metric {
	if operates(c) {
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

// sameMerit says whether two merits rank alike, whatever their weights add up to.
func sameMerit(a, b sweep.Merit) bool {
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
