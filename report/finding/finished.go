package finding

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/texts"
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
	Assumptions Named[any] // as the record has them
	mean        bool       // merits are means over scenarios
	Gates       []sweep.Gate
	Merit       sweep.Merit
	Classes     []FinishedClass
	Draws       *DrawsRecord // nil without a decision
	Sizes       *SizeMap     // the best merit by all-up weight and diameter

	grid  *sweep.Grid
	files []FileRecord
}

// FinishedClass is what a finished run found in a class.
type FinishedClass struct {
	Class    sweep.Class
	Rejected []uint64 // by gate
	Feasible uint64
	Best     *Row // nil where none is feasible
	Leaders  []FinishedLeader
	Chosen   *Chosen // over draws, nil where there were none or none is feasible

	Ranking  []sweep.Ranked
	Payloads []*Row         // by payload of the grid, where it is swept
	Ranks    map[string]int // by DesignKey

	claims map[uint64]claim // what the record says of designs, to be found in the ranking
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

// ErrUnfinished says that a folder has the record of a run that was ended early.
var ErrUnfinished = errors.New("holds an unfinished run, want a finished one")

// ReadFinished reads a run back from its folder. It refuses one that is not
// finished, a record that it cannot make out, and one that no run can have left:
// whoever can write a record can make the hashes fit.
func ReadFinished(dir string) (*Finished, error) {
	f, err := readFinished(dir)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	return f, nil
}

func readFinished(dir string) (*Finished, error) {
	b, err := ReadRecordFile(filepath.Join(dir, RecordName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("holds no %s, want the folder of a finished run", RecordName)
	} else if err != nil {
		return nil, fmt.Errorf("%s: %w, want the record of a finished run", RecordName, err)
	}
	in, err := ParseRecord(b)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", RecordName, err)
	}
	s, k := &in.Study, &in.Result
	switch {
	case !*k.Complete:
		return nil, ErrUnfinished
	case len(k.Classes) != len(s.Classes):
		return nil, fmt.Errorf("%s: %d classes were asked and %d found", RecordName, len(s.Classes), len(k.Classes))
	case k.Done != s.Grid.Designs:
		return nil, fmt.Errorf("%s: %w", RecordName, unlike("a finished run of %d designs in %d", k.Done,
			s.Grid.Designs))
	}
	f := &Finished{Dir: dir, Name: texts.OneLine(s.Name), Program: in.Program.Version, Model: in.Program.Model,
		Fingerprint: s.Fingerprint, Designs: s.Grid.Designs, Assumptions: s.Assumptions, Draws: s.Draws,
		files: in.Files, mean: s.Over == sweep.Mean.String()}
	ranking, err := f.table(RankingName)
	if err != nil {
		return nil, err
	}
	defer ranking.Close()
	size, err := f.table(SizeName) // which the figure is drawn from
	if err != nil {
		return nil, err
	}
	defer size.Close()
	if err := cmp.Or(in.checkTexts(), checkAssumptions(s.Assumptions)); err != nil {
		return nil, fmt.Errorf("%s: %w", RecordName, err)
	}
	if err := f.readStudy(s); err != nil {
		return nil, fmt.Errorf("%s: %w", RecordName, err)
	}
	if err := f.checkAsked(s); err != nil {
		return nil, fmt.Errorf("%s: %w", RecordName, err)
	}
	for i := range s.Classes {
		c, err := f.readClass(&s.Classes[i], &k.Classes[i])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", RecordName, err)
		}
		f.Classes = append(f.Classes, c)
	}
	if err := f.readRanking(ranking, s.Top, k); err != nil {
		return nil, err
	}
	return f, f.readSizes(size, k)
}

// readStudy reads axes, gates and merit, all of which this version must know.
func (f *Finished) readStudy(s *StudyRecord) error {
	if err := f.readAxes(s.Grid.Axes); err != nil {
		return err
	}
	for _, g := range s.Gates {
		gate := sweep.Gate{Name: g.Name}
		if b := g.BoundRecord; b != nil {
			m, err := readMetric(g.Name, b.Bound)
			if err != nil {
				return err
			}
			gate.Name = m.Name // where it had another
			bound := ExportUnit(m).ToSI(b.Bound.Value)
			gate.Requirement = &sweep.Requirement{Metric: m, AtLeast: b.AtLeast, Bound: bound, Default: b.Default}
		}
		f.Gates = append(f.Gates, gate)
	}
	for _, t := range s.Merit {
		m, err := readMetric(t.Metric, t.Worst, t.Best)
		if err != nil {
			return err
		}
		u := ExportUnit(m)
		f.Merit = append(f.Merit, sweep.Term{Metric: m, Weight: t.Weight,
			Worst: u.ToSI(t.Worst.Value), Best: u.ToSI(t.Best.Value)})
	}
	return nil
}

// readMetric finds a metric, and refuses values of it in another unit than they are written in.
func readMetric(name string, values ...Number) (*model.Metric, error) {
	m, ok := model.LookupMetric(name)
	if !ok {
		return nil, fmt.Errorf("metric %.60q is not known to this version, want the one that wrote it", name)
	}
	for _, v := range values {
		if v.Unit != ExportUnit(m).Symbol {
			return nil, unlike("%s in %.20q", name, v.Unit)
		}
	}
	return m, nil
}

// readClass reads what was found in a class.
func (f *Finished) readClass(of *ClassRecord, found *FoundRecord) (c FinishedClass, err error) {
	class := sweep.Class{Label: texts.OneLine(of.Label), Note: texts.OneLine(of.Note), Limit: of.Limit.Value}
	c = FinishedClass{Class: class, Feasible: found.Feasible, Best: f.row(found.Best, class), Ranks: map[string]int{}}
	for _, t := range found.Rejected {
		c.Rejected = append(c.Rejected, t.Designs)
	}
	if gates := len(f.Gates); len(c.Rejected) != gates || found.Class != of.Label {
		return c, unlike("class %s with %d counts for %d requirements in %.60q", class.Label, len(c.Rejected), gates,
			found.Class)
	}
	if err := cmp.Or(f.checkTally(found), f.checkBests(class, found)); err != nil {
		return c, fmt.Errorf("class %s: %w", class.Label, err)
	}
	if c.claims, err = claimsOf(found); err != nil {
		return c, fmt.Errorf("class %s: %w", class.Label, err)
	}
	if c.Chosen, err = f.readChosen(f.Draws, found); err != nil {
		return c, fmt.Errorf("class %s: %w", class.Label, err)
	}
	for _, d := range found.ByPayload {
		c.Payloads = append(c.Payloads, f.row(d, class))
	}
	for _, l := range found.Leaders {
		leader := FinishedLeader{l.Diameter.Value, l.Merit, map[string]float64{}}
		for _, q := range l.Metrics {
			if m, ok := model.LookupMetric(q.Name); ok {
				leader.Metrics[q.Name] = ExportUnit(m).ToSI(q.Value)
			}
		}
		c.Leaders = append(c.Leaders, leader)
	}
	return c, nil
}

// row is Row of a design of the grid, with the parts that its place there has.
func (f *Finished) row(d *DesignRecord, k sweep.Class) *Row {
	x := d.Row(k)
	if x != nil && d.Index < f.Designs { // another is refused
		x.Design.Parts = f.grid.Design(d.Index).Parts
	}
	return x
}

// Row makes a design of what was read of it, without its parts; nil of nil. A metric that this
// version does not know is left out, one that the run did not have is NaN.
func (d *DesignRecord) Row(k sweep.Class) *Row {
	if d == nil {
		return nil
	}
	x := &Row{Class: &k, Values: make([]float64, len(model.Metrics)), Highest: slices.Contains(d.AtLeast, "ceiling")}
	x.Ranked = sweep.Ranked{Index: d.Index, Score: d.Merit}
	for n, words := range d.Warnings {
		t := ToldMark{Words: words}
		if len(d.Outside) == len(d.Warnings) {
			t.Short = d.Outside[n]
		}
		x.Told = append(x.Told, t)
	}
	for _, n := range Inputs {
		v, _ := d.Inputs.Of(n.Name)
		n.Apply(&x.Design, v)
	}
	for n, m := range model.Metrics {
		x.Values[n] = math.NaN()
		if a := Input(m.Name); a != nil {
			x.Values[n] = a.Of(x.Design)
		}
	}
	for _, q := range d.Metrics {
		if m, ok := model.LookupMetric(q.Name); ok { // by a name that it had, too
			x.Values[Place(m)] = ExportUnit(m).ToSI(q.Value)
		}
	}
	return x
}

// keyInputs are the inputs by which a design is found again: all but the
// payload, which is not of the craft.
func keyInputs() []*sweep.AxisDef {
	var out []*sweep.AxisDef
	for _, n := range Inputs {
		if n != sweep.Payload {
			out = append(out, n)
		}
	}
	return out
}

// DesignKey is the text of the inputs by which a design is found again.
func DesignKey(d model.Design) string {
	var key strings.Builder
	for _, n := range keyInputs() {
		key.WriteString(Exact(n.Of(d)) + " ")
	}
	return key.String() + partsKey(d)
}

func partsKey(d model.Design) (key string) {
	for _, p := range NamedParts(d) {
		key += p.Kind + strconv.Quote(p.Name)
	}
	return key
}
