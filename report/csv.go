package report

import (
	"context"
	"encoding/csv"
	"io"
	"slices"
	"strconv"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// writeRanking writes the rankings of all classes as one CSV.
func writeRanking(ctx context.Context, w io.Writer, r *finding.Run, found []finding.Class) error {
	t := newCSVTable(w, r.Study, "rank")
	for i := range found {
		rows, err := r.Ranking(ctx, found[i].ClassResult)
		if err != nil {
			return err
		}
		for j := range rows {
			t.write(&rows[j], found[i].Class, strconv.Itoa(rows[j].Rank))
		}
	}
	return t.end()
}

// writeFront writes the fronts of all classes as one CSV, each in the order of
// its first metric, the worst first.
func writeFront(ctx context.Context, w io.Writer, r *finding.Run, found []finding.Class) error {
	t := newCSVTable(w, r.Study, "position")
	for i := range found {
		rows, err := r.Front(ctx, &found[i])
		if err != nil {
			return err
		}
		for j := range rows {
			t.write(&rows[j], found[i].Class, strconv.Itoa(j+1))
		}
	}
	return t.end()
}

// csvTable writes designs of classes with full precision, the unit in the head,
// SI but for rpm. What a design does not have is empty.
type csvTable struct {
	*csv.Writer
	parts   []finding.PartKind // that the designs have
	metrics []*model.Metric
	places  []int    // of the metrics in a row
	scenes  []string // the scenarios of the study, where there are several
	cells   []string
	err     error
}

// newCSVTable writes the heads, with the name of the column of positions.
func newCSVTable(w io.Writer, s *sweep.Study, position string) *csvTable {
	t := &csvTable{Writer: csv.NewWriter(w), parts: finding.PartsOf(s.Grid), metrics: finding.Swept()}
	heads := []string{"class", finding.Headed("class-limit", "kg"), position, "index", "merit", "best-of-diameter"}
	if len(s.Others) > 0 {
		t.scenes = words.ScenarioNames(s)
		heads = append(heads, "scenario")
	}
	for _, k := range t.parts {
		heads = append(heads, k.Name)
	}
	for _, n := range finding.Inputs {
		heads = append(heads, finding.Headed(n.Name, n.Kind.SI().Symbol))
	}
	for _, m := range t.metrics {
		heads = append(heads, finding.Headed(m.Name, finding.ExportUnit(m).Symbol))
		t.places = append(t.places, finding.Place(m))
	}
	t.err = t.Write(append(heads, "warnings"))
	return t
}

func (t *csvTable) write(x *finding.Row, k sweep.Class, position string) {
	if t.err != nil {
		return
	}
	t.cells = append(t.cells[:0], harmless(k.Label), finding.Exact(k.Limit), position,
		strconv.FormatUint(x.Index, 10), finding.Exact(x.Score), strconv.FormatBool(x.Leader))
	if t.scenes != nil {
		t.cells = append(t.cells, harmless(t.scenes[x.Scenario]))
	}
	for _, k := range t.parts {
		t.cells = append(t.cells, harmless(k.Of(x.Design)))
	}
	for _, n := range finding.Inputs {
		t.cells = append(t.cells, finding.Exact(n.Of(x.Design)))
	}
	for n, m := range t.metrics {
		t.cells = append(t.cells, finding.Exact(finding.ExportUnit(m).FromSI(x.Values[t.places[n]])))
	}
	t.err = t.Write(append(t.cells, words.Warnings(x)))
}

func (t *csvTable) end() error {
	if t.err == nil {
		t.Flush()
		t.err = t.Error()
	}
	return t.err
}

// harmless keeps a spreadsheet that opens a CSV from taking a user's text for a
// formula: an apostrophe goes before what would begin one.
func harmless(s string) string {
	if s = texts.OneLine(s); s != "" && slices.Contains([]byte("=+-@ "), s[0]) {
		return "'" + s
	}
	return s
}
