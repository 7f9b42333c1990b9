package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

var _ pflag.Value = (*varying)(nil)

// varying is the value of a flag that takes an assumption of the flight, or several of them with
// commas: every combination of such lists is a scenario of the study.
type varying struct {
	def   *model.AssumptionDef
	kind  string // of its values, as the help says
	one   func(text string, to *model.Assumptions) (written string, err error)
	to    *model.Assumptions // has the first
	all   []model.Assumptions
	texts []string
	lists bool // several have been stated, whatever stands now
}

// varied declares the flag of an assumption that scenarios may differ in.
func (s *studyFlags) varied(f *pflag.FlagSet, d *model.AssumptionDef) {
	v := &varying{def: d, to: &s.assume}
	help := d.Help + "; a list makes scenarios"
	preset := ""
	switch form := d.Form.(type) {
	case *model.Quantity:
		v.kind, preset = newAssumed(d.Name, new(float64)).Type(), form.Text()
		v.one = func(text string, to *model.Assumptions) (string, error) {
			if strings.Contains(text, ":") {
				return "", fmt.Errorf("%q: a range makes no scenarios, want a list such as %s", text,
					listFor(form, text))
			}
			q := newAssumed(d.Name, form.At(to))
			err := q.Set(text)
			return q.text, err
		}
	case *model.Switch:
		v.kind, preset = "bool", "false"
		v.one = func(text string, to *model.Assumptions) (string, error) {
			if text != "true" && text != "false" {
				return "", fmt.Errorf("%q, want true or false, or true,false for a scenario of each", text)
			}
			*form.At(to) = text == "true"
			return text, nil
		}
	default:
		panic(fmt.Sprintf("--%s: no list is taken of a %T", d.Name, form))
	}
	must(v.Set(preset))
	flag := f.VarPF(v, d.Name, "", help)
	if v.kind == "bool" {
		flag.NoOptDefVal = "true"
	}
	s.varies = append(s.varies, v)
}

// listFor is a list to state in place of a range: its ends and what is halfway, or the bounds of
// the quantity where it cannot be read.
func listFor(q *model.Quantity, text string) string {
	values, err := unit.ParseAxis(q.Kind, text)
	if n := len(values); err == nil && n > 2 {
		values = []float64{values[0], values[n/2], values[n-1]}
	}
	if err != nil || len(values) < 2 || bound(q.Bound).Check(q.Kind, values...) != nil {
		values = []float64{q.Bound.Min, q.Bound.Max}
	}
	var texts []string
	for _, v := range values {
		texts = append(texts, q.Kind.Text(v))
	}
	return strings.Join(texts, ",")
}

// Set takes the place of what was stated before, as of an axis.
func (v *varying) Set(text string) error {
	var all []model.Assumptions
	var texts []string
	for part := range strings.SplitSeq(text, ",") {
		part = strings.TrimSpace(part)
		if part == "" && text != "" && strings.Contains(text, ",") {
			return fmt.Errorf("%q: nothing between two commas or at an end, want a value there", text)
		}
		var a model.Assumptions
		written, err := v.one(part, &a)
		if err != nil {
			return err
		}
		if n := slices.IndexFunc(all, func(o model.Assumptions) bool { return v.def.Form.Stands(&a, &o) }); n >= 0 {
			return fmt.Errorf("%q: %s is %s again, want each value once", text, written, texts[n])
		}
		all, texts = append(all, a), append(texts, written)
	}
	if len(all) > model.MostScenarios {
		return fmt.Errorf("%d values, want up to %d", len(all), model.MostScenarios)
	}
	v.all, v.texts, v.lists = all, texts, v.lists || len(all) > 1
	v.def.Take(v.to, &all[0])
	return nil
}

func (v *varying) String() string { return strings.Join(v.texts, ",") }
func (v *varying) Type() string   { return v.kind }

// IsBoolFlag says to pflag that the name alone is a value.
func (v *varying) IsBoolFlag() bool { return v.kind == "bool" }

func (v *varying) offers() []string {
	if q, ok := v.def.Form.(*model.Quantity); ok && q.Word != "" {
		return []string{q.Word}
	}
	return nil
}

// follows says whether the argument after the flag alone is a list for it, as in --pack-aged
// false,true: one value is written with =.
func (v *varying) follows(flag, next string) bool {
	if v.kind != "bool" || strings.Contains(flag, "=") || !strings.Contains(next, ",") {
		return false
	}
	for part := range strings.SplitSeq(next, ",") {
		if part != "true" && part != "false" {
			return false
		}
	}
	return true
}

// newOver makes the value of the flag that says how scenarios rank.
func newOver(to *sweep.Over) *overFlag {
	o := &overFlag{to: to}
	var words []string
	for _, v := range sweep.Overs {
		words = append(words, v.String())
	}
	o.choice = newChoice(&o.word, "rule", words...)
	return o
}

type overFlag struct {
	*choice
	word string
	to   *sweep.Over
}

func (o *overFlag) Set(text string) error {
	if err := o.choice.Set(text); err != nil {
		return err
	}
	*o.to = sweep.Overs[slices.Index(o.words, o.word)]
	return nil
}

// scenarios are the conditions that lists make besides the first, which the assumptions then have: in
// the order of model.Scenarios.
func (s *studyFlags) scenarios() ([]model.Assumptions, error) {
	all := []model.Assumptions{s.assume}
	var flags []string
	lists := false
	for _, v := range s.varies {
		if lists = lists || v.lists; len(v.all) > 1 {
			flags = append(flags, "--"+v.def.Name)
		}
		if n := len(all) * len(v.all); n > 1<<12 {
			return nil, s.tooMany(flags, n)
		}
		var next []model.Assumptions
		for _, a := range all {
			for i := range v.all {
				v.def.Take(&a, &v.all[i])
				next = append(next, a)
			}
		}
		all = next
	}
	if n := len(all); n > model.MostScenarios {
		return nil, s.tooMany(flags, n)
	}
	if len(all) == 1 {
		s.assume = all[0]
		if a, ok := s.set["over"]; ok && !lists {
			return nil, a.errorf("--over says what ranks a design over scenarios, want a list beside it, such as " +
				"--altitude 0m,2000m")
		}
		return nil, nil
	}
	models := make([]*model.Model, len(all))
	for i := range all {
		var err error
		if models[i], err = model.New(all[i]); err != nil {
			return nil, err
		}
	}
	models, err := model.Scenarios(models)
	if err != nil {
		return nil, err
	}
	s.assume = models[0].Assume
	var others []model.Assumptions
	for _, m := range models[1:] {
		others = append(others, m.Assume)
	}
	return others, nil
}

func (s *studyFlags) tooMany(flags []string, n int) error {
	return fmt.Errorf("%s: %d scenarios, want up to %d: fewer values", strings.Join(flags, ", "), n,
		model.MostScenarios)
}

// others are the models of conditions besides that of a first one, which they share all else with.
func (s *studyFlags) others(first *model.Model, in []model.Assumptions) (out []*model.Model, err error) {
	for i := range in {
		a := first.Assume
		for _, v := range s.varies {
			v.def.Take(&a, &in[i])
		}
		m, err := model.New(a)
		if err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}
