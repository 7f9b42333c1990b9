package report

import (
	"fmt"
	"io"
	"runtime"
	"time"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// shownRanks is how many designs of a ranking a terminal shows.
const shownRanks = 10

// PrintJSON prints what Print does, for machines: the record of the run with
// the first designs of each ranking.
func (r *Run) PrintJSON(w io.Writer) error {
	found, err := r.findings()
	if err != nil {
		return err
	}
	return writeJSON(w, r.record(found, shownRanks, nil))
}

// record is what run.json says; with the first designs of each ranking, and without
// files where files is nil.
func (r *Run) record(found []finding, ranks int, files []FileRecord) *RunRecord {
	s := r.Study
	return &RunRecord{
		Format:  RecordFormat,
		Program: ProgramRecord{Name: "rotorsieve", Version: r.Version, Model: model.Version, Go: runtime.Version()},
		Study: StudyRecord{
			Name:        s.Name,
			Fingerprint: s.Fingerprint(),
			Grid:        gridRecord(s.Grid),
			Assumptions: assumptionRecord(s.Model),
			Classes:     classRecords(s.Classes),
			Gates:       gateRecords(r.Result.Gates),
			Merit:       meritRecord(s.Merit),
			Maps:        mapNames(s.Maps),
			Front:       metricNames(s.Front),
			Top:         s.Top,
			Defaults:    list(r.Defaults),
			Flags:       list(r.Flags),
		},
		Result: ResultRecord{
			Complete: &r.Result.Complete,
			Done:     r.Result.Done,
			Share:    float64(r.Result.Done) / float64(s.Grid.Size()),
			Classes:  r.foundRecords(found, ranks),
			Warnings: list(r.warnings(found)),
			LeftOut:  list(r.undrawn),
		},
		Run: OriginRecord{
			Started: r.Started.UTC().Format(time.RFC3339),
			Elapsed: Number{r.Result.Elapsed.Seconds(), "s"},
			Workers: r.Result.Workers,
			Merged:  r.Result.Workers == 0,
			Audit:   auditRecord(&r.Result.Audit),
			Host:    r.Host,
			System:  runtime.GOOS + "/" + runtime.GOARCH,
		},
		Files: files,
	}
}

// list is never null in JSON.
func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// warnings are those of the run as a whole and of each class's best design.
func (r *Run) warnings(found []finding) []string {
	var out []string
	if mark := r.mark(); mark != "" {
		out = append(out, mark)
	}
	out = append(out, r.Result.Failed...)
	for i := range found {
		f := &found[i]
		if best := f.Best(); best != nil {
			for _, w := range best.Craft.Warnings() {
				out = append(out, fmt.Sprintf("class %s, best design: %s", f.Class.Label, w))
			}
			for _, w := range edges(r.Study.Grid, best.Index) {
				out = append(out, fmt.Sprintf("class %s, best design: %s of the grid", f.Class.Label, w))
			}
		} else {
			out = append(out, fmt.Sprintf("class %s: no feasible design", f.Class.Label))
		}
	}
	return out
}

func gridRecord(g *sweep.Grid) GridRecord {
	out := GridRecord{Designs: g.Size()}
	for _, a := range g.Axes() {
		out.Axes = append(out.Axes, AxisRecord{Name: a.Def.Name, Unit: a.Def.Kind.SI().Symbol, Values: a.Values})
	}
	return out
}

func assumptionRecord(m *model.Model) Named[any] {
	var out Named[any]
	for _, a := range assumptions(m) {
		symbol := ""
		if a.Kind != nil {
			symbol = a.Kind.SI().Symbol
		}
		out.add(a.Name, a.Told, symbol)
	}
	return out
}

func classRecords(classes []sweep.Class) []ClassRecord {
	var out []ClassRecord
	for _, k := range classes {
		out = append(out, ClassRecord{Label: k.Label, Note: k.Note, Limit: Number{k.Limit, "kg"}})
	}
	return out
}

func gateRecords(gates []sweep.Gate) []GateRecord {
	var out []GateRecord
	for _, g := range gates {
		o := GateRecord{Name: g.Name}
		if q := g.Requirement; q != nil {
			o.BoundRecord = &BoundRecord{AtLeast: q.AtLeast, Bound: exported(q.Metric, q.Bound), Default: q.Default}
		}
		out = append(out, o)
	}
	return out
}

func meritRecord(m sweep.Merit) []TermRecord {
	var out []TermRecord
	for _, t := range m {
		out = append(out, TermRecord{Metric: t.Metric.Name, Weight: t.Weight,
			Worst: exported(t.Metric, t.Worst), Best: exported(t.Metric, t.Best)})
	}
	return out
}

// exported is a value of a metric, in SI units, as machines are given it.
func exported(m *model.Metric, v float64) Number {
	u := exportUnit(m)
	return Number{u.FromSI(v), u.Symbol}
}

func mapNames(maps []sweep.MapSpec) []string {
	out := []string{}
	for _, m := range maps {
		out = append(out, m.Name())
	}
	return out
}

func metricNames(metrics []*model.Metric) []string {
	out := []string{}
	for _, m := range metrics {
		out = append(out, m.Name)
	}
	return out
}

func (r *Run) foundRecords(found []finding, ranks int) []FoundRecord {
	var out []FoundRecord
	for i := range found {
		f := &found[i]
		o := FoundRecord{Class: f.Class.Label, Feasible: f.Feasible, Leaders: []LeaderRecord{}}
		for n, g := range r.Result.Gates {
			o.Turned = append(o.Turned, TurnedRecord{Gate: g.Name, Designs: f.Turned[n]})
		}
		if o.Best = f.Best().record(); o.Best == nil {
			o.Nearest = &f.Miss
		}
		for _, e := range f.ByPayload {
			o.ByPayload = append(o.ByPayload, e.record())
		}
		for _, e := range f.ByDiameter {
			if e != nil {
				o.Leaders = append(o.Leaders, e.leaderRecord())
			}
		}
		if ranks > 0 {
			o.Ranking = []DesignRecord{}
			for j := range f.First[:min(ranks, len(f.First))] {
				o.Ranking = append(o.Ranking, *f.First[j].record())
			}
		}
		out = append(out, o)
	}
	return out
}

// record is that of a design; nil of nil.
func (e *entry) record() *DesignRecord {
	if e == nil {
		return nil
	}
	x := e.row(nil)
	return &DesignRecord{Rank: e.Rank, Index: e.Index, Merit: e.Score, Inputs: designRecord(e.Design),
		Metrics: metricRecord(e.Craft, readable(e.Craft)), Warnings: list(e.Craft.Warnings()), AtLeast: x.atLeast()}
}

func (e *entry) leaderRecord() LeaderRecord {
	var shown []*model.Metric
	for _, h := range headline {
		shown = append(shown, h.Metric)
	}
	return LeaderRecord{Diameter: Number{e.Design.Diameter, sweep.Diameter.Kind.SI().Symbol}, Index: e.Index,
		Merit: e.Score, Metrics: metricRecord(e.Craft, shown)}
}

func designRecord(d model.Design) Named[float64] {
	var out Named[float64]
	for _, n := range inputs {
		out.add(n.Name, n.of(d), n.Kind.SI().Symbol)
	}
	return out
}

// metricRecord holds those of the metrics that a craft has, in their order.
func metricRecord(c *model.Craft, metrics []*model.Metric) Named[float64] {
	var out Named[float64]
	for _, m := range metrics {
		if v, symbol := m.Exported(c); finite(v) {
			out.add(m.Name, v, symbol)
		}
	}
	return out
}

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

func operates(c *model.Craft) bool { return c.Powertrain.Full.OK && c.Hover.OK }
