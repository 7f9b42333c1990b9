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

// record is run.json: what ran, what it found and the files it left. Only the
// member "run" differs between two runs of one study.
func (r *Run) record(found []finding, ranks int, files []fileRecord) object {
	s := r.Study
	o := object{
		{"program", object{{"name", "rotorsieve"}, {"version", r.Version}, {"model", model.Version}, {"go", runtime.Version()}}},
		{"study", object{
			{"name", s.Name},
			{"fingerprint", s.Fingerprint()},
			{"grid", gridRecord(s.Grid)},
			{"assumptions", assumptionRecord(s.Model)},
			{"classes", classRecords(s.Classes)},
			{"gates", gateRecords(r.Result.Gates)},
			{"merit", meritRecord(s.Merit)},
			{"maps", mapNames(s.Maps)},
			{"front", metricNames(s.Front)},
			{"top", s.Top},
			{"defaults", list(r.Defaults)},
			{"flags", list(r.Flags)},
		}},
		{"result", object{
			{"complete", r.Result.Complete},
			{"done", r.Result.Done},
			{"share", float64(r.Result.Done) / float64(s.Grid.Size())},
			{"classes", r.findingRecords(found, ranks)},
			{"warnings", list(r.warnings(found))},
			{"figures_left_out", list(r.undrawn)},
		}},
		{"run", r.runRecord()},
	}
	if files != nil {
		o = append(o, member{"files", files})
	}
	return o
}

// runRecord is how the run came about: what merges shards has no workers, and its
// time is that of joining them.
func (r *Run) runRecord() object {
	o := object{
		{"started", r.Started.UTC().Format(time.RFC3339)},
		{"elapsed", quantity{r.Result.Elapsed.Seconds(), "s"}},
	}
	if n := r.Result.Workers; n > 0 {
		o = append(o, member{"workers", n})
	} else {
		o = append(o, member{"merged", true})
	}
	o = append(o, member{"audit", auditRecord(&r.Result.Audit)})
	return append(o, member{"host", r.Host}, member{"system", runtime.GOOS + "/" + runtime.GOARCH})
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

func gridRecord(g *sweep.Grid) object {
	var axes []object
	for _, a := range g.Axes() {
		axes = append(axes, object{{"name", a.Def.Name}, {"unit", a.Def.Kind.SI().Symbol}, {"values", a.Values}})
	}
	return object{{"designs", g.Size()}, {"axes", axes}}
}

func assumptionRecord(m *model.Model) object {
	var o object
	for _, a := range assumptions(m) {
		if a.Kind == nil {
			v := any(a.Text)
			if a.Name == "pack-aged" {
				v = m.Assume.PackAged
			}
			o = append(o, member{a.Name, quantity{v, ""}})
			continue
		}
		o = append(o, member{a.Name, quantity{a.Value, a.Kind.SI().Symbol}})
	}
	return o
}

func classRecords(classes []sweep.Class) []object {
	var out []object
	for _, k := range classes {
		out = append(out, object{{"label", k.Label}, {"note", k.Note}, {"limit", quantity{k.Limit, "kg"}}})
	}
	return out
}

func gateRecords(gates []sweep.Gate) []object {
	var out []object
	for _, g := range gates {
		o := object{{"name", g.Name}}
		if q := g.Requirement; q != nil {
			o = append(o, member{"at_least", q.AtLeast},
				member{"bound", quantity{exportUnit(q.Metric).FromSI(q.Bound), exportUnit(q.Metric).Symbol}},
				member{"default", q.Default})
		}
		out = append(out, o)
	}
	return out
}

func meritRecord(m sweep.Merit) []object {
	var out []object
	for _, t := range m {
		u := exportUnit(t.Metric)
		out = append(out, object{{"metric", t.Metric.Name}, {"weight", t.Weight},
			{"worst", quantity{u.FromSI(t.Worst), u.Symbol}}, {"best", quantity{u.FromSI(t.Best), u.Symbol}}})
	}
	return out
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

func (r *Run) findingRecords(found []finding, ranks int) []object {
	var out []object
	for i := range found {
		f := &found[i]
		var turned []object
		for n, g := range r.Result.Gates {
			turned = append(turned, object{{"gate", g.Name}, {"designs", f.Turned[n]}})
		}
		o := object{{"class", f.Class.Label}, {"turned_away", turned}, {"feasible", f.Feasible}}
		if best := f.Best(); best != nil {
			o = append(o, member{"best", best.record()})
		} else {
			o = append(o, member{"best", nil}, member{"nearest", f.Miss})
		}
		if len(f.ByPayload) > 0 {
			all := []any{} // null where no design carries the payload
			for _, e := range f.ByPayload {
				if e == nil {
					all = append(all, nil)
				} else {
					all = append(all, e.record())
				}
			}
			o = append(o, member{"by_payload", all})
		}
		leaders := []object{}
		for _, e := range f.ByDiameter {
			if e != nil {
				leaders = append(leaders, e.leaderRecord())
			}
		}
		o = append(o, member{"leaders", leaders})
		if ranks > 0 {
			all := []object{}
			for j := range f.First[:min(ranks, len(f.First))] {
				all = append(all, f.First[j].record())
			}
			o = append(o, member{"ranking", all})
		}
		out = append(out, o)
	}
	return out
}

func (e *entry) record() object {
	o := object{
		{"index", e.Index}, {"merit", e.Score},
		{"inputs", designRecord(e.Design)},
		{"metrics", metricRecord(e.Craft)},
		{"warnings", list(e.Craft.Warnings())},
	}
	x := e.row(nil)
	if beyond := x.atLeast(); len(beyond) > 0 {
		o = append(o, member{"at_least", beyond})
	}
	if e.Rank > 0 {
		o = append(object{{"rank", e.Rank}}, o...)
	}
	return o
}

// leaderRecord holds of the best design of a diameter what charts of size show.
func (e *entry) leaderRecord() object {
	o := object{}
	for _, h := range headline {
		if v, symbol := h.Metric.Exported(e.Craft); finite(v) {
			o = append(o, member{h.Metric.Name, quantity{v, symbol}})
		}
	}
	return object{{"diameter", quantity{e.Design.Diameter, sweep.Diameter.Kind.SI().Symbol}}, {"index", e.Index}, {"merit", e.Score}, {"metrics", o}}
}

func designRecord(d model.Design) object {
	var o object
	for _, n := range inputs {
		o = append(o, member{n.Name, quantity{n.of(d), n.Kind.SI().Symbol}})
	}
	return o
}

// metricRecord holds the metrics that a craft has, in the registry's order.
func metricRecord(c *model.Craft) object {
	o := object{}
	for _, m := range readable(c) {
		if v, symbol := m.Exported(c); finite(v) {
			o = append(o, member{m.Name, quantity{v, symbol}})
		}
	}
	return o
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
