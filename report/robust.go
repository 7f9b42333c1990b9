package report

import (
	"encoding/csv"
	"io"
	"strconv"

	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// writeRobust writes the builds of all classes as one CSV, each class in the order of its
// ranks: how they do over the draws. Units are those of the ranking.
func writeRobust(w io.Writer, r *finding.Run, found []finding.Class) error {
	c := csv.NewWriter(w)
	heads := []string{"class", finding.Headed("payload", "kg"), "rank", "build", "p-feasible", "cause", "cause-share",
		"cautious", "merit-p10", "merit-p50", "merit-p90", "regret", "tied"}
	quantiles := func(name, unit string) {
		for _, q := range []string{"-p10", "-p50", "-p90"} {
			heads = append(heads, finding.Headed(name+q, unit))
		}
	}
	quantiles("pack", sweep.Capacity.Kind.SI().Symbol)
	for _, t := range r.Study.Merit {
		quantiles(t.Metric.Name, finding.ExportUnit(t.Metric).Symbol)
	}
	if err := c.Write(heads); err != nil {
		return err
	}
	for i := range found {
		k := found[i].Choice
		if k == nil {
			continue
		}
		for n := range k.Builds {
			if err := c.Write(robustCells(found[i].Class, k, &k.Builds[n])); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}

func robustCells(of sweep.Class, k *finding.Choice, b *decide.Build) []string {
	cells := []string{harmless(of.Label), finding.Exact(b.Design.Payload), strconv.Itoa(b.Rank),
		harmless(words.BuildName(b.Design, " x ")), finding.Exact(b.Feasible)}
	if f, ok := k.Fails(b); ok {
		cells = append(cells, f.Gate.Name, finding.Exact(f.Share))
	} else {
		cells = append(cells, "", "")
	}
	cells = append(cells, finding.Exact(b.Cautious))
	add := func(q decide.Quantiles, of func(float64) float64) {
		cells = append(cells, finding.Exact(of(q.P10)), finding.Exact(of(q.P50)), finding.Exact(of(q.P90)))
	}
	same := func(v float64) float64 { return v }
	add(b.Merit, same)
	cells = append(cells, finding.Exact(b.Regret), strconv.FormatBool(b.Tied))
	add(b.Pack, same)
	for n, m := range k.Ranking() {
		add(b.Metrics[n], finding.ExportUnit(m).FromSI)
	}
	return cells
}

// writeConfidence writes each value of each swept axis against the recommended build of its
// class, as one CSV. An axis is named, with the unit of its values, as the ranking's column.
func writeConfidence(w io.Writer, found []finding.Class) error {
	c := csv.NewWriter(w)
	if err := c.Write([]string{"class", finding.Headed("payload", "kg"), "axis", "value", "ahead", "level", "behind",
		"p-better", "difference", "se", "behind-mean"}); err != nil {
		return err
	}
	for i := range found {
		k := found[i].Choice
		if k == nil {
			continue
		}
		for _, x := range k.Axes {
			d := k.Grid.Axes()[x.Axis].Def
			for n := range x.Values {
				v := &x.Values[n]
				value := finding.Exact(v.Value)
				if d.IsPart() {
					value = harmless(d.Text(v.Value))
				}
				cells := []string{harmless(found[i].Class.Label), "", finding.Headed(d.Name, d.Kind.SI().Symbol),
					value, "", "", "", "", "", "", ""}
				if b := k.At(v.Build); v.Any && b != nil {
					cells[1] = finding.Exact(b.Design.Payload)
					for n, u := range []float64{v.Ahead, v.Level, v.Behind, v.Better, v.Difference, v.Standard,
						v.Loss} {
						cells[4+n] = finding.Exact(u)
					}
				}
				if err := c.Write(cells); err != nil {
					return err
				}
			}
		}
	}
	c.Flush()
	return c.Error()
}
