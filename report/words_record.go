package report

import (
	"fmt"
	"runtime"
	"time"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// recordOf is what run.json says; with the first designs of each ranking, and without
// files where files is nil.
func recordOf(r *Run, found []finding, ranks int, files []FileRecord) *RunRecord {
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
			Classes:  foundRecords(r, found, ranks),
			Warnings: list(runWarnings(r, found)),
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

// runWarnings are those of the run as a whole and of each class's best design.
func runWarnings(r *Run, found []finding) []string {
	var out []string
	if mark := runMark(r); mark != "" {
		out = append(out, mark)
	}
	out = append(out, r.Result.Failed...)
	for i := range found {
		f := &found[i]
		if best := f.Best(); best != nil {
			for _, m := range best.Craft.Warnings() {
				out = append(out, fmt.Sprintf("class %s, best design: %s", f.Class.Label, markText(m)))
			}
			for _, at := range edges(r.Study.Grid, best.Index) {
				out = append(out, fmt.Sprintf("class %s, best design: %s of the grid", f.Class.Label, edgeText(at)))
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

func foundRecords(r *Run, found []finding, ranks int) []FoundRecord {
	var out []FoundRecord
	for i := range found {
		f := &found[i]
		o := FoundRecord{Class: f.Class.Label, Feasible: f.Feasible, Leaders: []LeaderRecord{}}
		for n, g := range r.Result.Gates {
			o.Turned = append(o.Turned, TurnedRecord{Gate: g.Name, Designs: f.Turned[n]})
		}
		if o.Best = entryRecord(f.Best()); o.Best == nil {
			o.Nearest = new(missText(f.Missed))
		}
		for _, e := range f.ByPayload {
			o.ByPayload = append(o.ByPayload, entryRecord(e))
		}
		for _, e := range f.ByDiameter {
			if e != nil {
				o.Leaders = append(o.Leaders, leaderRecord(e))
			}
		}
		if ranks > 0 {
			o.Ranking = []DesignRecord{}
			for j := range f.First[:min(ranks, len(f.First))] {
				o.Ranking = append(o.Ranking, *entryRecord(&f.First[j]))
			}
		}
		out = append(out, o)
	}
	return out
}

// entryRecord is that of a design; nil of nil.
func entryRecord(e *entry) *DesignRecord {
	if e == nil {
		return nil
	}
	x := e.row(nil)
	return &DesignRecord{Rank: e.Rank, Index: e.Index, Merit: e.Score, Inputs: designRecord(e.Design),
		Metrics:  metricRecord(e.Craft, readable(e.Craft)),
		Warnings: list(markTexts(x.Marks)), Outside: each(x.Marks, markShort), AtLeast: x.atLeast()}
}

func leaderRecord(e *entry) LeaderRecord {
	return LeaderRecord{Diameter: Number{e.Design.Diameter, sweep.Diameter.Kind.SI().Symbol}, Index: e.Index,
		Merit: e.Score, Metrics: metricRecord(e.Craft, headline)}
}

func designRecord(d model.Design) Named[float64] {
	var out Named[float64]
	for _, n := range inputs {
		out.add(n.Name, n.Of(d), n.Kind.SI().Symbol)
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
