package screen

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"rotorsieve/model/bench"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

// comparedColumn is a number of a compared row.
type comparedColumn struct {
	key    string // of JSON
	name   string // of CSV
	head   string // of the table
	unit   string
	digits int
	need   int
	off    bool // a difference, with its sign
	of     func(*bench.Compared) float64
}

var comparedColumns = []comparedColumn{
	{"line", "line", "line", "", 0, 0, false, func(c *bench.Compared) float64 { return float64(c.Line) }},
	{"throttle_percent", "throttle", "throttle", "%", 3, 5, false,
		func(c *bench.Compared) float64 { return 100 * c.Throttle }},
	{"voltage_V", "voltage", "voltage", "V", 4, 0, false, func(c *bench.Compared) float64 { return c.Volts }},
	{"speed_rpm", "speed", "speed", "rpm", 4, 0, false, func(c *bench.Compared) float64 { return 60 * c.Speed }},
	{"thrust_g", "thrust", "thrust", "g", 4, 0, false,
		func(c *bench.Compared) float64 { return c.Thrust / finding.PerGram }},
	{"model_thrust_g", "model thrust", "model", "g", 4, 2, false,
		func(c *bench.Compared) float64 { return modelled(c, c.At.Thrust) / finding.PerGram }},
	{"thrust_off_percent", "thrust off", "off", "%", 3, 0, true, off(bench.ThrustAtSpeed)},
	{"electrical_power_W", "electrical power", "power", "W", 4, 0, false,
		func(c *bench.Compared) float64 { return c.Electrical() }},
	{"model_electrical_power_W", "model electrical power", "model", "W", 4, 2, false,
		func(c *bench.Compared) float64 { return modelled(c, c.At.Electrical()) }},
	{"electrical_power_off_percent", "electrical power off", "off", "%", 3, 0, true, off(bench.PowerAtSpeed)},
	{"torque_off_percent", "torque off", "torque", "%", 3, 0, true, off(bench.TorqueAtSpeed)},
	{"full_throttle_speed_off_percent", "full throttle speed off", "full rpm", "%", 3, 0, true, off(bench.FullSpeed)},
	{"full_throttle_current_off_percent", "full throttle current off", "full A", "%", 3, 0, true,
		off(bench.FullCurrent)},
	{"full_throttle_thrust_off_percent", "full throttle thrust off", "full g", "%", 3, 0, true, off(bench.FullThrust)},
}

func off(q bench.Quantity) func(*bench.Compared) float64 {
	return func(c *bench.Compared) float64 { return 100 * c.Off[q] }
}

// modelled is a number of the model's state for a row, NaN where it has none.
func modelled(c *bench.Compared, v float64) float64 {
	if c.At.Speed == 0 {
		return math.NaN()
	}
	return v
}

// StandComparisonTable prints the comparison as tables, in up to width signs where the words allow.
func StandComparisonTable(w io.Writer, c *finding.StandComparison, width int) error {
	p := &printer{w: w, width: max(width, 80)}
	for _, l := range originLines(c) {
		p.hung("", l)
	}
	p.line("")
	var columns []texts.Column
	for _, k := range comparedColumns {
		if t, any := k.text(c.Rows); any {
			columns = append(columns, t)
		}
	}
	if p.err != nil {
		return p.err
	}
	if err := printFitted(w, columns, p.width); err != nil {
		return err
	}
	p.line("")
	p.hung("", "off: the model less the measurement, over it, at the measured speed and voltage; full: at full duty "+
		"of "+
		"the measured voltage")
	p.line("")
	for _, l := range summaryLines(c) {
		p.line("%s", l)
	}
	return p.err
}

// StandComparisonNotes are the lines that say what was compared and found, for where rows are
// written as CSV.
func StandComparisonNotes(c *finding.StandComparison) []string {
	return append(originLines(c), summaryLines(c)...)
}

// originLines says which rows are compared, and names those that cannot be.
func originLines(c *finding.StandComparison) (lines []string) {
	u := c.Used
	line := fmt.Sprintf("%s: %d of %d rows are compared", u.Name, len(u.Rows), u.Of)
	if u.Others > 0 {
		line += fmt.Sprintf("; of other motors or propellers: %d", u.Others)
	}
	if u.Lacking > 0 {
		line += fmt.Sprintf("; without speed, voltage, current or thrust: %d", u.Lacking)
	}
	if !u.Turns {
		line += "; it has no speeds, so that throttle stands for duty"
	}
	lines = append(lines, line)
	for _, o := range c.Odd {
		lines = append(lines, o.Text)
	}
	if len(c.Odd) > 0 {
		lines = append(lines, "rows that cannot be are left out of the means and the fit")
	}
	return lines
}

// summaryLines are the means of the differences and what was fitted.
func summaryLines(c *finding.StandComparison) (lines []string) {
	heads := []string{"model less measurement", "points", "mean", "rms"}
	if c.Fit != nil {
		heads = append(heads, "mean fitted", "rms fitted")
	}
	rows := [][]string{heads}
	for _, s := range c.Misses() {
		row := []string{s.Quantity.String(), strconv.Itoa(s.Points),
			fmt.Sprintf("%+.1f %%", 100*s.Mean), fmt.Sprintf("%.1f %%", 100*s.RMS)}
		if c.Fit != nil {
			row = append(row, fmt.Sprintf("%+.1f %%", 100*s.Fitted.Mean), fmt.Sprintf("%.1f %%", 100*s.Fitted.RMS))
		}
		rows = append(rows, row)
	}
	lines = aligned(rows)
	if c.Fit == nil {
		return lines
	}
	rows = [][]string{{fmt.Sprintf("fitted to %d %s", c.Fit.Points, texts.Plural(c.Fit.Points, "row", "rows")),
		"factor", "known to", "before", ""}}
	for _, t := range c.Fit.Terms {
		said := ""
		if !t.Known {
			said = "not told by these rows"
		}
		rows = append(rows, []string{t.Name, fmt.Sprintf("%.3f", t.Factor), fmt.Sprintf("±%.1f %%", 100*t.After),
			fmt.Sprintf("±%.0f %%", 100*t.Before), said})
	}
	lines = append(append(lines, ""), aligned(rows)...)
	if m := c.Fit.Misfit; m > bench.MostMisfit {
		lines = append(lines, "", fmt.Sprintf("The model does not fit the rows: it is off by %.1f times their errors "+
			"(rms).", m))
	}
	return lines
}

// aligned sets rows in columns, the first and the last of words, under their heads.
func aligned(rows [][]string) []string {
	var columns []texts.Column
	for k, head := range rows[0] {
		c := texts.Column{Head: head, Left: k == 0 || head == ""}
		for _, r := range rows[1:] {
			c.Cells = append(c.Cells, r[k])
		}
		columns = append(columns, c)
	}
	return texts.TableLines(columns, 2)
}

// text is the column in a table; false where no row has the number.
func (k *comparedColumn) text(rows []bench.Compared) (t texts.Column, any bool) {
	t = texts.Column{Head: k.head, Unit: k.unit, Need: k.need}
	var values []float64
	for i := range rows {
		if v := k.of(&rows[i]); finding.Finite(v) {
			values, any = append(values, v), true
		}
	}
	decimals := decimalsFor(values, k.digits)
	for i := range rows {
		v := k.of(&rows[i])
		switch {
		case !finding.Finite(v):
			t.Cells = append(t.Cells, "")
		case k.off:
			t.Cells = append(t.Cells, fmt.Sprintf("%+.1f", v))
		default:
			t.Cells = append(t.Cells, strconv.FormatFloat(v, 'f', decimals, 64))
		}
	}
	return t, any
}

// StandComparisonCSV writes the compared rows in full precision; what there is none of is empty.
func StandComparisonCSV(w io.Writer, c *finding.StandComparison) error {
	out := csv.NewWriter(w)
	var row []string
	for _, k := range comparedColumns {
		row = append(row, finding.Headed(k.name, k.unit))
	}
	if err := out.Write(row); err != nil {
		return err
	}
	for i := range c.Rows {
		row = row[:0]
		for _, k := range comparedColumns {
			text := ""
			if v := k.of(&c.Rows[i]); finding.Finite(v) {
				text = strconv.FormatFloat(v, 'g', 8, 64)
			}
			row = append(row, text)
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// StandComparisonJSON writes one object: rows (null where a row lacks a number), odd, summary and,
// where one was asked for, fit.
func StandComparisonJSON(w io.Writer, c *finding.StandComparison) error {
	rows, odd, summary := []finding.Object{}, []string{}, []finding.Object{}
	for i := range c.Rows {
		var o finding.Object
		for _, k := range comparedColumns {
			o = append(o, finding.Member{Name: k.key, Value: finding.OrNull(k.of(&c.Rows[i]))})
		}
		rows = append(rows, o)
	}
	for _, x := range c.Odd {
		odd = append(odd, x.Text)
	}
	for _, s := range c.Misses() {
		o := finding.Object{{Name: "quantity", Value: s.Quantity.String()}, {Name: "points", Value: s.Points},
			{Name: "mean_percent", Value: 100 * s.Mean}, {Name: "rms_percent", Value: 100 * s.RMS}}
		if c.Fit != nil {
			o = append(o, finding.Member{Name: "fitted_mean_percent", Value: 100 * s.Fitted.Mean},
				finding.Member{Name: "fitted_rms_percent", Value: 100 * s.Fitted.RMS})
		}
		summary = append(summary, o)
	}
	all := finding.Object{{Name: "file", Value: c.Used.Name}, {Name: "rows_in_file", Value: c.Used.Of},
		{Name: "rows_of_others", Value: c.Used.Others},
		{Name: "rows_lacking", Value: c.Used.Lacking},
		{Name: "rows", Value: rows}, {Name: "odd", Value: odd}, {Name: "summary", Value: summary}}
	if c.Fit != nil {
		fit := []finding.Object{}
		for _, t := range c.Fit.Terms {
			fit = append(fit, finding.Object{{Name: "quantity", Value: t.Name}, {Name: "factor", Value: t.Factor},
				{Name: "sigma_percent", Value: 100 * t.After},
				{Name: "prior_sigma_percent", Value: 100 * t.Before}, {Name: "known", Value: t.Known}})
		}
		all = append(all, finding.Member{Name: "fit", Value: fit}, finding.Member{Name: "misfit", Value: c.Fit.Misfit})
	}
	return finding.WriteJSON(w, all)
}
