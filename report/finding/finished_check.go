package finding

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"unicode"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/sweep"
	"rotorsieve/sweep/whole"
)

// Bounds on a record, far beyond what a run leaves: what a file holds decides how much
// memory reading it takes.
const (
	maxObjects = 400_000 // one for each metric of a design: some 4000 designs
	maxItems   = 4 << 20 // values of axes above all
	maxText    = 500     // bytes of a text
	maxNumber  = 1e15    // in SI units
	rounding   = 1e-9    // of what is worked out again from numbers that were written
)

// ReadRecordFile reads a record whole, as far as one can be that a run has left.
func ReadRecordFile(path string) ([]byte, error) {
	b, err := whole.Read(path, MaxRecord)
	if err != nil {
		return nil, err
	}
	if n := bytes.Count(b, []byte("{")); n > maxObjects {
		return nil, fmt.Errorf("%d objects, which no run leaves", n)
	}
	if n := bytes.Count(b, []byte(",")); n > maxItems {
		return nil, fmt.Errorf("%d values, which no run leaves", n)
	}
	return b, nil
}

// unlike refuses what a run has not left so.
func unlike(format string, args ...any) error {
	return fmt.Errorf("%w, which no run leaves: want the record that the run left", fmt.Errorf(format, args...))
}

// line says whether a text is one line that can be printed.
func line(s string) bool {
	return len(s) <= maxText && utf8.ValidString(s) &&
		!bytes.ContainsFunc([]byte(s), func(r rune) bool { return !unicode.IsPrint(r) && r != '\u00a0' })
}

// sane says whether a number may be one of a craft.
func sane(v float64) bool { return math.Abs(v) <= maxNumber }

var fingerprint = regexp.MustCompile(`^[0-9a-f]{64}$`)

// checkTexts refuses texts that are printed and no lines.
func (in *RunRecord) checkTexts() error {
	texts := []string{in.Program.Version, in.Program.Model, in.Study.Name}
	for _, k := range in.Study.Classes {
		texts = append(texts, k.Label, k.Note)
	}
	for _, k := range in.Result.Classes {
		for _, d := range append([]*DesignRecord{k.Best}, k.ByPayload...) {
			if d != nil {
				texts = append(append(append(texts, d.Warnings...), d.Outside...), d.AtLeast...)
			}
		}
	}
	for _, s := range texts {
		if !line(s) {
			return unlike("the text %.60q", s)
		}
	}
	if !fingerprint.MatchString(in.Study.Fingerprint) {
		return unlike("the fingerprint %.80q", in.Study.Fingerprint)
	}
	return nil
}

// checkAssumptions refuses values that are neither numbers nor texts nor whether one holds.
func checkAssumptions(all Named[any]) error {
	seen := map[string]bool{}
	for _, a := range all {
		if seen[a.Name] || a.Name == "" || !line(a.Name) || !line(a.Unit) {
			return unlike("the assumption %.60q", a.Name)
		}
		seen[a.Name] = true
		ok := false
		switch v := a.Value.(type) {
		case float64:
			ok = sane(v)
		case string:
			ok = line(v)
		case bool:
			ok = true
		}
		if !ok {
			return unlike("assumption %s without a number, a line of text, true or false", a.Name)
		}
	}
	return nil
}

// checkAsked refuses classes, gates and a merit that no study has.
func (f *Finished) checkAsked(s *StudyRecord) error {
	seen := map[string]bool{}
	for _, k := range s.Classes {
		if l := k.Limit.Value; !(l > 0 && sane(l)) || k.Limit.Unit != "kg" || k.Label == "" || seen[k.Label] {
			return unlike("the class %.60q of %g %.20q", k.Label, l, k.Limit.Unit)
		}
		seen[k.Label] = true
	}
	if s.Top < 1 || s.Top > maxTop {
		return unlike("rankings of %d designs", s.Top)
	}
	always := (&sweep.Study{}).Gates()
	if len(f.Gates) < len(always) || len(f.Gates) > len(always)+2*len(model.Metrics) {
		return unlike("%d requirements", len(f.Gates))
	}
	clear(seen)
	for n, g := range f.Gates {
		if n < len(always) {
			if g != always[n] {
				return unlike("requirement %d of %.60q", n+1, g.Name)
			}
			continue
		}
		if g.Requirement == nil || !sane(g.Requirement.Bound) {
			return unlike("requirement %d of %.60q without a bound", n+1, g.Name)
		}
		key := strconv.FormatBool(g.Requirement.AtLeast) + g.Name
		if seen[key] {
			return unlike("two bounds on %s", g.Name)
		}
		seen[key] = true
	}
	clear(seen)
	for _, t := range f.Merit {
		if !(t.Weight > 0 && sane(t.Weight)) || !sane(t.Worst) || !sane(t.Best) || t.Worst == t.Best ||
			seen[t.Metric.Name] {
			return unlike("a merit of %s with a weight of %g from %g to %g", t.Metric.Name, t.Weight, t.Worst, t.Best)
		}
		seen[t.Metric.Name] = true
	}
	if len(f.Merit) == 0 {
		return unlike("no merit")
	}
	return nil
}

// maxTop is the longest ranking that can be asked for.
const maxTop = 1_000_000

// checkTally holds the counts of a class against the designs of the grid.
func (f *Finished) checkTally(found *FoundRecord) error {
	left := f.Designs
	take := func(n uint64) bool {
		ok := n <= left
		left -= min(n, left)
		return ok
	}
	for n, t := range found.Rejected {
		if m, ok := model.LookupMetric(t.Gate); t.Gate != f.Gates[n].Name && !(ok && m.Name == f.Gates[n].Name) {
			return unlike("counts of %.60q at requirement %s", t.Gate, f.Gates[n].Name)
		}
		if !take(t.Designs) {
			return unlike("more designs than the grid has")
		}
	}
	switch {
	case !take(found.Feasible) || left != 0:
		return unlike("counts that do not come to %d designs", f.Designs)
	case (found.Best != nil) != (found.Feasible > 0):
		return unlike("%d feasible designs and a best one: %v", found.Feasible, found.Best != nil)
	}
	return nil
}

// checkPlace holds a design against its place in the grid, where it has one.
func (f *Finished) checkPlace(index uint64, merit float64) error {
	if index >= f.Designs {
		return unlike("design %d of a grid of %d", index, f.Designs)
	}
	if !(merit >= 0 && merit <= 1) {
		return unlike("design %d with a merit of %g", index, merit)
	}
	return nil
}

// checkDesign holds a design of a class against the grid, and its numbers against merit,
// class and requirements.
func (f *Finished) checkDesign(k sweep.Class, d *DesignRecord) error {
	if err := f.checkPlace(d.Index, d.Merit); err != nil {
		return err
	}
	if err := checkNumbers(d.Index, d.Metrics, metricUnit); err != nil {
		return err
	}
	if err := checkNumbers(d.Index, d.Inputs, inputUnit); err != nil {
		return err
	}
	of := f.grid.Design(d.Index)
	if !slices.Equal(NamedParts(of), d.Parts) {
		return unlike("design %d with other parts than the grid has there", d.Index)
	}
	for _, n := range Inputs {
		v, ok := d.Inputs.Of(n.Name)
		if usual := n.Usual != nil && f.usual(n, d.Index); !ok || !usual && v != n.Of(of) {
			return unlike("design %d with a %s of %g", d.Index, n.Name, v)
		}
	}
	x := f.row(d, k)
	var sum, weight float64
	for _, t := range f.Merit {
		sum += t.Weight * t.Score(x.Values[Place(t.Metric)])
		weight += t.Weight
	}
	// A mean over scenarios is no less than the merit in the one that the design is told in.
	if by := d.Merit - sum/weight; math.Abs(by) > rounding && !(f.mean && by > 0) {
		return unlike("design %d with a merit of %g where its metrics give %g", d.Index, d.Merit, sum/weight)
	}
	if auw := x.Values[Place(Metric("auw"))]; !(auw > 0 && auw <= k.Limit*(1+rounding)) {
		return unlike("design %d of %g kg in class %s", d.Index, auw, k.Label)
	}
	for _, g := range f.Gates {
		if r := g.Requirement; r != nil && r.Shortfall(x.Values[Place(r.Metric)]) > rounding {
			return unlike("design %d, which does not keep %s", d.Index, g.Name)
		}
	}
	return nil
}

// usual says whether a design of another version of the model leaves an axis to what is
// usual, which may be another number there.
func (f *Finished) usual(a *sweep.AxisDef, index uint64) bool {
	at, ok := f.grid.AxisIndex(a.Name)
	return f.Model != model.Version && ok && f.grid.Axes()[at].Values[f.grid.At(index, at)] == 0
}

// checkNumbers refuses values of a design that are no numbers of a craft, stand twice or
// have another unit than those of the name; one that this version does not know is left.
func checkNumbers(index uint64, all Named[float64], unitOf func(name string) (string, bool)) error {
	seen := map[string]bool{}
	for _, q := range all {
		symbol, known := unitOf(q.Name)
		if seen[q.Name] || !sane(q.Value) || known && q.Unit != symbol {
			return unlike("design %d with %.60q of %g %.20q", index, q.Name, q.Value, q.Unit)
		}
		seen[q.Name] = true
	}
	return nil
}

func metricUnit(name string) (string, bool) {
	m, ok := model.LookupMetric(name)
	if !ok {
		return "", false
	}
	return ExportUnit(m).Symbol, true
}

func inputUnit(name string) (string, bool) {
	n := Input(name)
	if n == nil {
		return "", false
	}
	return n.Kind.SI().Symbol, true
}
