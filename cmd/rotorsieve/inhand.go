package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// choosing says which design of a finished run is taken, and what it is held against.
type choosing struct {
	rank, index int
	against     string
}

func (c *choosing) declare(f *pflag.FlagSet) {
	c.declareOne(f)
	f.Var(newWords(&c.against, "design"), "against", "a second design to hold it against: a rank of the run or "+
		"recommended, a run's folder, alone or with :RANK, or the path of a flag file")
}

// declareOne declares the flags of the first design alone.
func (c *choosing) declareOne(f *pflag.FlagSet) {
	f.Var(newNumber(&c.rank, 1, 1e6, 1), "rank", "of the design in the ranking of its class (default: the "+
		"recommended build, or else 1)")
	f.Var(newNumber(&c.index, 0, math.MaxInt, 0), "design",
		"its index in the grid, as tables have it, in place of a rank")
	for _, name := range []string{"rank", "design"} {
		f.Lookup(name).DefValue = ""
	}
}

// taken is a design with what it is judged by.
type taken struct {
	by       *explaining  // flags that were read
	study    *sweep.Study // of the one design
	design   model.Design
	craft    *model.Craft   // in the scenario that tells of it, of several
	crafts   []*model.Craft // in all, up to the first in which it does not operate
	operates bool
	file     string          // that states it; "" for the command line or a run
	of       *finding.InHand // of a run; nil for none
	run      *sweep.Study    // that it is judged in unless it was changed
}

// take is the design that flags state, or that of the run whose folder stands beside them.
func (x *explaining) take(beside []argument) (*taken, error) {
	if len(beside) == 0 {
		for _, name := range []string{"rank", "design"} {
			if a, ok := x.set[name]; ok {
				return nil, a.errorf("--%s: of which run? want its folder as well, as in explain out/NAME --%s", name,
					name)
			}
		}
		return x.stated()
	}
	dir := beside[0].text
	if at, err := os.Stat(dir); err != nil || !at.IsDir() {
		return nil, x.noFolder(beside[0])
	}
	if err := x.noneOf(beside[1:]); err != nil {
		return nil, err
	}
	return newOfRun(dir, x.args, nil)
}

// noFolder says what an argument that should be the folder of a run is not.
func (x *explaining) noFolder(a argument) error {
	if strings.HasPrefix(a.text, "-") || x.lookup("--"+a.text) != nil { // meant as a flag
		return x.noneOf([]argument{a})
	}
	near := "" // where runs are left unasked
	if at, err := os.Stat(filepath.Join("out", a.text)); err == nil && at.IsDir() {
		near = fmt.Sprintf(" (did you mean %s?)", filepath.ToSlash(filepath.Join("out", a.text)))
	}
	return a.errorf("%.80q is no folder of a run%s and no design, want the folder of a finished run, flags such as "+
		"--diameter=5in, or a flag file with @", a.text, near)
}

// stated is the design that the flags state.
func (x *explaining) stated() (*taken, error) {
	x.name, x.maps = "explain", nil
	st, err := x.study()
	if err != nil {
		return nil, err
	}
	for _, a := range st.Grid.Axes() {
		n := len(a.Values)
		if at := slices.IndexFunc(partKinds, func(k partKind) bool { return k.One == a.Def.Name }); n != 1 && at >= 0 {
			k := &partKinds[at]
			return nil, fmt.Errorf("--%s %s: %d %s, want one: --part NAME picks it", k.Many, x.path(k), n, k.Many)
		}
		if n != 1 {
			return nil, fmt.Errorf("--%s: %d values, want one: explain takes a single design%s", a.Def.Name, n,
				x.insteadOf(a.Def.Name))
		}
	}
	if x.origin("class") == "default" {
		st.Classes = nil // none was asked for
	}
	return &taken{by: x, study: st, design: st.Grid.Design(0)}, nil
}

// insteadOf points to the run that left the flag file with the values of an axis.
func (x *explaining) insteadOf(axis string) string {
	a, ok := x.set[axis]
	if !ok || a.from.file == "" || filepath.Base(a.from.file) != finding.FlagsName {
		return ""
	}
	return fmt.Sprintf("; explain %s --rank 1 takes one of that run", filepath.ToSlash(filepath.Dir(a.from.file)))
}

// newOfRun is a design of the run in a folder, under the flags that stand beside it. which
// chooses it where it is not for these to say.
func newOfRun(dir string, args []string, which func(*finding.Finished) (*finding.InHand, error)) (*taken, error) {
	run, err := finding.ReadFinished(dir)
	if errors.Is(err, finding.ErrUnfinished) {
		return nil, fmt.Errorf("%w: rotorsieve sweep --resume goes on with it", err)
	} else if err != nil {
		return nil, err
	}
	if other := model.Other(run.Model); other != "" {
		return nil, fmt.Errorf("%s: was computed by model %s, want the study run again by this version, from its %s",
			dir, other, finding.FlagsName)
	}
	if err := run.Unchanged(finding.FlagsName); err != nil {
		return nil, err
	}
	flags := "@" + run.Flags()
	of := newExplaining()
	of.giveParts(run)
	if err := of.flagGroups.take([]string{flags}); err != nil {
		return nil, err
	}
	whole, err := of.study()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	if whole = withCandidates(whole, run.Fingerprint); whole.Fingerprint() != run.Fingerprint {
		return nil, fmt.Errorf("%s: the files that %s names have changed since the run, want them restored or the "+
			"study run again", dir, finding.FlagsName)
	}
	x := newExplaining()
	x.giveParts(run)
	if _, err := x.takeBeside(append([]string{flags}, args...)); err != nil {
		return nil, err
	}
	if which == nil {
		which = x.chosen
	}
	h, err := which(run)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	return x.inHand(h, whole)
}

// inHand is the design of a run under the flags that have been read, of which those of the
// command line change it, or the study.
func (x *explaining) inHand(h *finding.InHand, whole *sweep.Study) (*taken, error) {
	x.classes = whole.Classes
	now, err := x.study()
	if err != nil {
		return nil, err
	}
	now.Nominal = whole.Nominal // draws beside a run are of the design in hand
	h.Changed = now.Fingerprint() != whole.Fingerprint()
	for _, d := range sweep.AxisDefs {
		if a, ok := x.set[d.Name]; ok && a.from.file == h.Run.Flags() {
			if v, ok := h.Value(d); ok {
				*x.axes[d] = []float64{v}
			}
		}
	}
	a, ok := x.set["part"]
	x.pickDesign(finding.NamedParts(h.Design), ok && a.from.file != h.Run.Flags())
	x.classes = []sweep.Class{h.Class.Class}
	t, err := x.stated()
	if err != nil {
		return nil, err
	}
	t.of, t.run = h, whole
	if !h.Changed {
		t.design = h.Design
	}
	return t, nil
}

// chosen is the design of a run that the flags ask for.
func (x *explaining) chosen(run *finding.Finished) (*finding.InHand, error) {
	var limits []sweep.Class
	if a, ok := x.set["class"]; ok && a.from.file != run.Flags() {
		limits = x.classes
	}
	k, err := classAsked(run, limits)
	if err != nil {
		return nil, err
	}
	_, ranked := x.set["rank"]
	_, indexed := x.set["design"]
	switch {
	case ranked && indexed:
		return nil, errors.New("--rank and --design state the same, want one of them")
	case ranked:
		return run.ByRank(k, x.o.choose.rank)
	case indexed:
		return run.ByIndex(k, uint64(x.o.choose.index))
	}
	return run.Answer(k)
}

// classAsked is the class of a run that was asked for, or its only one.
func classAsked(run *finding.Finished, asked []sweep.Class) (*finding.FinishedClass, error) {
	var names []string
	for i := range run.Classes {
		names = append(names, run.Classes[i].Class.Label)
	}
	switch {
	case len(asked) > 1:
		return nil, fmt.Errorf("--class: %d classes, want one of %s", len(asked), strings.Join(names, ", "))
	case len(asked) == 1:
		if k := run.Class(asked[0].Limit); k != nil {
			return k, nil
		}
		return nil, fmt.Errorf("the run has no class %s, want one of %s", words.ClassLabel(asked[0]),
			strings.Join(names, ", "))
	case len(run.Classes) > 1:
		return nil, fmt.Errorf("the run has %d classes, want --class with one of %s", len(names),
			strings.Join(names, ", "))
	}
	return &run.Classes[0], nil
}

// compute evaluates the design.
func (t *taken) compute(cache *cacheFlag, stderr io.Writer) error {
	if err := cache.serve(t.study.Models(), false, stderr); err != nil {
		return err
	}
	if t.run != nil {
		for _, m := range t.run.Models() {
			m.Store = t.study.Model.Store
		}
	}
	var built *model.Powertrain
	for _, m := range t.study.Models() {
		c, err := m.EvaluateAs(t.design, built)
		t.operates = !errors.Is(err, model.ErrNoOperatingPoint)
		if err != nil && t.operates {
			return err
		}
		if len(t.study.Classes) == 1 {
			c.Limit = t.study.Classes[0].Limit
		}
		if t.crafts = append(t.crafts, c); !t.operates {
			break
		}
		c.Explain()
		built = t.crafts[0].Powertrain
	}
	c := t.crafts[len(t.crafts)-1]
	if t.operates {
		c = t.crafts[t.study.Telling(t.crafts)]
	}
	t.study.Require = slices.DeleteFunc(slices.Clone(t.study.Require), func(r sweep.Requirement) bool {
		return r.Metric.ByClass && c.Limit == 0
	})
	t.craft = c
	return nil
}

// contender is the design as draws take it: in the grid of its run, or alone.
func (t *taken) contender() decide.Contender {
	if t.of != nil && !t.of.Changed {
		at := slices.IndexFunc(t.run.Classes, func(k sweep.Class) bool { return k.Limit == t.of.Class.Class.Limit })
		return decide.Contender{Study: t.run, Class: at, Index: t.of.Index}
	}
	alone := *t.study
	if len(alone.Classes) == 0 {
		alone.Classes = []sweep.Class{{Label: "none", Limit: mostClass}}
	}
	return decide.Contender{Study: &alone}
}
