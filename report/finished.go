package report

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Finished is a finished run as its folder tells of it.
type Finished struct {
	Dir         string
	Name        string
	Program     string // version
	Model       string // version
	Fingerprint string
	Designs     uint64
	Axes        []sweep.Axis
	Assumptions []statement
	Gates       []sweep.Gate
	Merit       sweep.Merit
	Classes     []FinishedClass
}

// FinishedClass is what a finished run found in a class.
type FinishedClass struct {
	Class    sweep.Class
	Turned   []uint64 // by gate
	Feasible uint64
	Best     *row // nil where none is feasible
	Leaders  []FinishedLeader

	payloads []*row         // by payload of the grid, where it is swept
	ranks    map[string]int // by designKey
}

// FinishedLeader is the best design of a diameter.
type FinishedLeader struct {
	Diameter float64 // m
	Merit    float64
	Metrics  map[string]float64 // SI, by name
}

// Class finds the class of a limit in kg; nil for none.
func (f *Finished) Class(limit float64) *FinishedClass {
	for i := range f.Classes {
		if f.Classes[i].Class.Limit == limit {
			return &f.Classes[i]
		}
	}
	return nil
}

// read is what is read of a record; see Run.record.
type read struct {
	Program struct{ Version, Model string }
	Study   struct {
		Name, Fingerprint string
		Grid              struct {
			Designs uint64
			Axes    []struct {
				Name   string
				Values []float64
			}
		}
		Assumptions json.RawMessage
		Classes     []struct {
			Label, Note string
			Limit       readQuantity
		}
		Gates []struct {
			Name    string
			AtLeast bool `json:"at_least"`
			Bound   *readQuantity
			Default bool
		}
		Merit []struct {
			Metric      string
			Weight      float64
			Worst, Best readQuantity
		}
	}
	Result struct {
		Complete *bool
		Classes  []struct {
			TurnedAway []struct{ Designs uint64 } `json:"turned_away"`
			Feasible   uint64
			Best       *readDesign
			ByPayload  []*readDesign `json:"by_payload"`
			Leaders    []struct {
				Diameter readQuantity
				Merit    float64
				Metrics  map[string]readQuantity
			}
		}
	}
}

type readQuantity struct{ Value float64 }

type readDesign struct {
	Merit    float64
	Inputs   map[string]readQuantity
	Metrics  map[string]readQuantity
	Warnings []string
	AtLeast  []string `json:"at_least"`
}

// ReadFinished reads a run back from its folder. It refuses one that is not
// finished, and a record that it cannot make out.
func ReadFinished(dir string) (*Finished, error) {
	f, err := readFinished(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: holds no %s, want the folder of a finished run", dir, filepath.Base(pathOf(err)))
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	return f, nil
}

func pathOf(err error) string {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Path
	}
	return ""
}

func readFinished(dir string) (*Finished, error) {
	b, err := os.ReadFile(filepath.Join(dir, RecordName))
	if err != nil {
		return nil, err
	}
	var in read
	if err := json.Unmarshal(b, &in); err != nil {
		return nil, fmt.Errorf("%s: %w, want the record of a finished run", RecordName, err)
	}
	s, k := &in.Study, &in.Result
	switch {
	case k.Complete == nil || len(s.Classes) == 0:
		return nil, fmt.Errorf("%s: is not the record of a run, want the folder of a finished run", RecordName)
	case !*k.Complete:
		return nil, errors.New("holds an unfinished run, want a finished one: rotorsieve sweep --resume goes on with it")
	case len(k.Classes) != len(s.Classes):
		return nil, fmt.Errorf("%s: %d classes were asked and %d found", RecordName, len(s.Classes), len(k.Classes))
	}
	f := &Finished{Dir: dir, Name: oneLine(s.Name), Program: in.Program.Version, Model: in.Program.Model,
		Fingerprint: s.Fingerprint, Designs: s.Grid.Designs}
	for _, a := range s.Grid.Axes {
		def, ok := sweep.LookupAxis(a.Name)
		if !ok || len(a.Values) == 0 {
			return nil, fmt.Errorf("%s: axis %q is not known to this version, want the one that wrote it", RecordName, a.Name)
		}
		f.Axes = append(f.Axes, sweep.Axis{Def: def, Values: a.Values})
	}
	if f.Assumptions, err = readAssumptions(s.Assumptions); err != nil {
		return nil, fmt.Errorf("%s: assumptions: %w", RecordName, err)
	}
	for _, g := range s.Gates {
		gate := sweep.Gate{Name: g.Name}
		if g.Bound != nil {
			m, ok := model.LookupMetric(g.Name)
			if !ok {
				return nil, fmt.Errorf("%s: metric %q is not known to this version, want the one that wrote it", RecordName, g.Name)
			}
			gate.Requirement = &sweep.Requirement{Metric: m, AtLeast: g.AtLeast, Bound: exportUnit(m).ToSI(g.Bound.Value), Default: g.Default}
		}
		f.Gates = append(f.Gates, gate)
	}
	for _, t := range s.Merit {
		m, ok := model.LookupMetric(t.Metric)
		if !ok {
			return nil, fmt.Errorf("%s: metric %q is not known to this version, want the one that wrote it", RecordName, t.Metric)
		}
		u := exportUnit(m)
		f.Merit = append(f.Merit, sweep.Term{Metric: m, Weight: t.Weight, Worst: u.ToSI(t.Worst.Value), Best: u.ToSI(t.Best.Value)})
	}
	for i := range s.Classes {
		from, found := &s.Classes[i], &k.Classes[i]
		c := FinishedClass{Class: sweep.Class{Label: oneLine(from.Label), Note: oneLine(from.Note), Limit: from.Limit.Value}, Feasible: found.Feasible, ranks: map[string]int{}}
		for _, t := range found.TurnedAway {
			c.Turned = append(c.Turned, t.Designs)
		}
		if len(c.Turned) != len(f.Gates) {
			return nil, fmt.Errorf("%s: class %s has %d counts for %d gates", RecordName, c.Class.Label, len(c.Turned), len(f.Gates))
		}
		c.Best = found.Best.row(c.Class)
		for _, d := range found.ByPayload {
			c.payloads = append(c.payloads, d.row(c.Class))
		}
		for _, l := range found.Leaders {
			leader := FinishedLeader{l.Diameter.Value, l.Merit, map[string]float64{}}
			for name, q := range l.Metrics {
				if m, ok := model.LookupMetric(name); ok {
					leader.Metrics[name] = exportUnit(m).ToSI(q.Value)
				}
			}
			c.Leaders = append(c.Leaders, leader)
		}
		f.Classes = append(f.Classes, c)
	}
	return f, f.readRanking(dir)
}

// row makes a design of what was read of it; nil of nil. A metric that this
// version does not know is left out, one that the run did not have is NaN.
func (d *readDesign) row(k sweep.Class) *row {
	if d == nil {
		return nil
	}
	x := &row{Class: &k, Warnings: strings.Join(d.Warnings, "; "), values: make([]float64, len(model.Metrics)), highest: slices.Contains(d.AtLeast, "ceiling")}
	x.Score = d.Merit
	in := func(a *sweep.AxisDef) float64 { return d.Inputs[a.Name].Value }
	x.Design = model.Design{
		Diameter: in(sweep.Diameter), Pitch: in(sweep.Pitch), Blades: int(in(sweep.Blades)), Chord: in(sweep.Chord), Stator: sweep.StatorOf(in(sweep.Stator)),
		KV: in(sweep.KV), Cells: int(in(sweep.Cells)), Capacity: in(sweep.Capacity), Payload: in(sweep.Payload),
	}
	for n, m := range model.Metrics {
		x.values[n] = math.NaN()
		if q, ok := d.Metrics[m.Name]; ok {
			x.values[n] = exportUnit(m).ToSI(q.Value)
		} else if at := inputAt(m.Name); at >= 0 {
			x.values[n] = inputs[at].of(x.Design)
		}
	}
	return x
}

// readAssumptions says assumptions in the words of this version, in the order of
// the record.
func readAssumptions(text json.RawMessage) ([]statement, error) {
	d := json.NewDecoder(strings.NewReader(string(text)))
	if _, err := d.Token(); err != nil { // {
		return nil, err
	}
	var out []statement
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return nil, err
		}
		var q quantity
		if err := d.Decode(&q); err != nil {
			return nil, err
		}
		words := oneLine(strings.TrimSpace(fmt.Sprint(q.Value) + " " + q.Unit))
		title := oneLine(fmt.Sprint(name))
		if a, ok := model.LookupAssumption(fmt.Sprint(name)); ok {
			title = a.Title
			if f, ok := a.Form.(*model.Quantity); ok {
				if v, ok := q.Value.(float64); ok {
					words = f.Unit().Format(v, 6)
				}
			}
		}
		if v, flag := q.Value.(bool); flag {
			words = yesNo(v)
		}
		out = append(out, statement{title, words})
	}
	return out, nil
}

// readRanking reads the places of designs from the ranking of a run.
func (f *Finished) readRanking(dir string) error {
	file, err := os.Open(filepath.Join(dir, RankingName))
	if err != nil {
		return err
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.ReuseRecord = true
	heads, err := r.Read()
	if err != nil {
		return fmt.Errorf("%s: %w", RankingName, err)
	}
	at := map[string]int{}
	for i, h := range heads {
		at[strings.Clone(h)] = i
	}
	columns := []string{headed("class-limit", "kg"), "rank"}
	for _, n := range keyInputs() {
		columns = append(columns, headed(n.Name, n.Kind.SI().Symbol))
	}
	for _, c := range columns {
		if _, ok := at[c]; !ok {
			return fmt.Errorf("%s: has no column %q", RankingName, c)
		}
	}
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", RankingName, err)
		}
		limit, errLimit := strconv.ParseFloat(cells[at[columns[0]]], 64)
		rank, errRank := strconv.Atoi(cells[at["rank"]])
		k := f.Class(limit)
		if errLimit != nil || errRank != nil || k == nil {
			line, _ := r.FieldPos(0)
			return fmt.Errorf("%s:%d: class limit %q and rank %q are not of this run", RankingName, line, cells[at[columns[0]]], cells[at["rank"]])
		}
		var key strings.Builder
		for _, c := range columns[2:] {
			key.WriteString(cells[at[c]] + " ")
		}
		if _, ok := k.ranks[key.String()]; !ok {
			k.ranks[key.String()] = rank
		}
	}
}

// keyInputs are the inputs by which a design is found again: all but the
// payload, which is not of the craft.
func keyInputs() []input {
	var out []input
	for _, n := range inputs {
		if n.AxisDef != sweep.Payload {
			out = append(out, n)
		}
	}
	return out
}

// designKey is the text of the inputs by which a design is found again.
func designKey(d model.Design) string {
	var key strings.Builder
	for _, n := range keyInputs() {
		key.WriteString(exact(n.of(d)) + " ")
	}
	return key.String()
}
