package words

import (
	"fmt"
	"runtime"
	"time"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// RecordOf is what run.json says; with the first designs of each ranking, and without
// files where files is nil.
func RecordOf(r *finding.Run, found []finding.Class, ranks int, files []finding.FileRecord) *finding.RunRecord {
	s := r.Study
	return &finding.RunRecord{
		Format: finding.RecordFormat,
		Program: finding.ProgramRecord{Name: "rotorsieve", Version: r.Version, Model: model.Version,
			Go: runtime.Version()},
		Study: finding.StudyRecord{
			Name:        s.Name,
			Fingerprint: s.Fingerprint(),
			Grid:        gridRecord(s.Grid),
			Assumptions: assumptionRecord(s),
			Scenarios:   scenarioRecords(s),
			Over:        overRecord(s),
			Classes:     classRecords(s.Classes),
			Gates:       gateRecords(r.Result.Gates),
			Merit:       meritRecord(s.Merit),
			Maps:        mapNames(s.Maps),
			Front:       metricNames(s.Front),
			Top:         s.Top,
			Defaults:    finding.List(r.Defaults),
			Flags:       finding.List(r.Flags),
			Parts:       r.Parts,
			Draws:       drawsRecord(r),
		},
		Result: finding.ResultRecord{
			Complete: &r.Result.Complete,
			Done:     r.Result.Done,
			Share:    float64(r.Result.Done) / float64(s.Grid.Size()),
			Judged:   judgedRecords(r),
			Classes:  foundRecords(r, found, ranks),
			Warnings: finding.List(runWarnings(r, found)),
			LeftOut:  finding.List(r.Undrawn),
		},
		Dump:  r.Dump,
		Run:   originRecord(r),
		Files: files,
	}
}

// originRecord is how the run came about: of a report that is written again, that of the
// run before it.
func originRecord(r *finding.Run) finding.OriginRecord {
	if r.Origin != nil {
		return *r.Origin
	}
	return finding.OriginRecord{
		Started: r.Started.UTC().Format(time.RFC3339),
		Elapsed: finding.Number{Value: r.Result.Elapsed.Seconds(), Unit: "s"},
		Workers: r.Result.Workers,
		Merged:  r.Result.Workers == 0,
		Audit:   finding.AuditRecordOf(r.Study, &r.Result.Audit),
		Host:    r.Host,
		System:  runtime.GOOS + "/" + runtime.GOARCH,
	}
}

// runWarnings are those of the run as a whole and of each class's best design.
func runWarnings(r *finding.Run, found []finding.Class) []string {
	var out []string
	if mark := RunMark(r); mark != "" {
		out = append(out, mark)
	}
	out = append(out, r.Result.Failed...)
	for i := range found {
		f := &found[i]
		if best := f.Best(); best != nil {
			for _, m := range best.Craft.Warnings() {
				out = append(out, fmt.Sprintf("class %s, best design%s: %s", ClassLabel(f.Class), SoFar(r), Mark(m)))
			}
			if !r.Result.Complete {
				continue // what is best may yet move from the edge
			}
			for _, at := range finding.Edges(r.Study.Grid, best.Index, best.Craft.Mass) {
				out = append(out, fmt.Sprintf("class %s, best design: %s of the grid", ClassLabel(f.Class), Edge(at)))
			}
		} else {
			out = append(out, fmt.Sprintf("class %s: no feasible design", ClassLabel(f.Class))+SoFar(r))
		}
	}
	return out
}

func gridRecord(g *sweep.Grid) finding.GridRecord {
	out := finding.GridRecord{Designs: g.Size()}
	for _, a := range g.Axes() {
		x := finding.AxisRecord{Name: a.Def.Name, Unit: a.Def.Kind.SI().Symbol, Values: a.Values,
			Parts: finding.PartsRecordOf(a)}
		if a.Of != nil {
			x.Of = a.Of.Name
		}
		out.Axes = append(out.Axes, x)
	}
	return out
}

func assumptionRecord(s *sweep.Study) finding.Named[any] {
	var out finding.Named[any]
	for _, a := range AssumptionsOf(s) {
		symbol := ""
		if a.Kind != nil {
			symbol = a.Kind.SI().Symbol
		}
		out.Add(a.Name, a.Told, symbol)
	}
	return out
}

func classRecords(classes []sweep.Class) []finding.ClassRecord {
	var out []finding.ClassRecord
	for _, k := range classes {
		out = append(out, finding.ClassRecord{Label: k.Label, Note: k.Note,
			Limit: finding.Number{Value: k.Limit, Unit: "kg"}})
	}
	return out
}

func gateRecords(gates []sweep.Gate) []finding.GateRecord {
	var out []finding.GateRecord
	for _, g := range gates {
		o := finding.GateRecord{Name: g.Name}
		if q := g.Requirement; q != nil {
			o.BoundRecord = &finding.BoundRecord{AtLeast: q.AtLeast, Bound: Exported(q.Metric, q.Bound),
				Default: q.Default}
		}
		out = append(out, o)
	}
	return out
}

func meritRecord(m sweep.Merit) []finding.TermRecord {
	var out []finding.TermRecord
	for _, t := range m {
		out = append(out, finding.TermRecord{Metric: t.Metric.Name, Weight: t.Weight,
			Worst: Exported(t.Metric, t.Worst), Best: Exported(t.Metric, t.Best)})
	}
	return out
}

// Exported is a value of a metric, in SI units, as machines are given it.
func Exported(m *model.Metric, v float64) finding.Number {
	u := finding.ExportUnit(m)
	return finding.Number{Value: u.FromSI(v), Unit: u.Symbol}
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

func foundRecords(r *finding.Run, found []finding.Class, ranks int) []finding.FoundRecord {
	var out []finding.FoundRecord
	for i := range found {
		f := &found[i]
		o := finding.FoundRecord{Class: f.Class.Label, Feasible: f.Feasible, Leaders: []finding.LeaderRecord{}}
		for n, g := range r.Result.Gates {
			x := finding.RejectedRecord{Gate: g.Name, Designs: f.Rejected[n]}
			for at := range r.Study.Models() {
				if len(r.Study.Others) > 0 {
					x.In = append(x.In, f.FallenIn(at, n))
				}
			}
			o.Rejected = append(o.Rejected, x)
		}
		if o.Best = entryRecord(f.Best()); o.Best == nil {
			o.Nearest = new(Miss(f.Missed))
		}
		for _, e := range f.ByPayload {
			o.ByPayload = append(o.ByPayload, entryRecord(e))
		}
		for _, e := range f.ByDiameter {
			if e != nil {
				o.Leaders = append(o.Leaders, leaderRecord(e))
			}
		}
		o.Decision, o.Rest = decisionRecord(f.Choice), restRecord(r, f)
		if ranks > 0 {
			o.Ranking = []finding.DesignRecord{}
			for j := range f.First[:min(ranks, len(f.First))] {
				o.Ranking = append(o.Ranking, *entryRecord(&f.First[j]))
			}
		}
		out = append(out, o)
	}
	return out
}

// entryRecord is that of a design; nil of nil.
func entryRecord(e *finding.Entry) *finding.DesignRecord {
	if e == nil {
		return nil
	}
	x := e.Row(nil)
	return &finding.DesignRecord{Rank: e.Rank, Index: e.Index, Merit: e.Score, Scenario: placeOf(e),
		Parts: finding.NamedParts(e.Design), Inputs: DesignRecord(e.Design),
		Metrics:  metricRecord(e.Craft, finding.Readable(e.Craft)),
		Warnings: finding.List(Marks(x.Marks)), Outside: Each(x.Marks, MarkShort), AtLeast: x.AtLeast()}
}

// placeOf is the number of the scenario in which a design is told of; 0 of a study of one.
func placeOf(e *finding.Entry) int {
	if len(e.In) < 2 {
		return 0
	}
	return e.Scenario() + 1
}

func leaderRecord(e *finding.Entry) finding.LeaderRecord {
	return finding.LeaderRecord{Diameter: finding.Number{Value: e.Design.Diameter,
		Unit: sweep.Diameter.Kind.SI().Symbol}, Index: e.Index,
		Merit: e.Score, Scenario: placeOf(e), Metrics: metricRecord(e.Craft, finding.Headline)}
}

// DesignRecord holds the inputs of a design, in SI units but for KV in rpm/V.
func DesignRecord(d model.Design) finding.Named[float64] {
	var out finding.Named[float64]
	for _, n := range finding.Inputs {
		out.Add(n.Name, n.Of(d), n.Kind.SI().Symbol)
	}
	return out
}

// metricRecord holds those of the metrics that a craft has, in their order.
func metricRecord(c *model.Craft, metrics []*model.Metric) finding.Named[float64] {
	var out finding.Named[float64]
	for _, m := range metrics {
		if v, symbol := m.Exported(c); finding.Finite(v) {
			out.Add(m.Name, v, symbol)
		}
	}
	return out
}
