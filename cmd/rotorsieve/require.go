package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/sweep"
)

var (
	_ pflag.Value = (*requirements)(nil)
	_ renewer     = (*requirements)(nil)
)

// statedBound is a requirement as the user states it.
type statedBound struct {
	sweep.Requirement
	lifted bool // there is to be none on this side of the metric
	at     argument
	over   *statedBound // what it takes the place of, of an earlier source; nil for nothing
}

func (b *statedBound) same(r sweep.Requirement) bool {
	return b.Metric == r.Metric && b.AtLeast == r.AtLeast
}

// String is the statement in canonical form.
func (b *statedBound) String() string {
	if b.lifted {
		return b.Metric.Name + side(b.AtLeast) + none
	}
	return requirementText(b.Requirement)
}

// requirements is the value of the flag that states requirements. Those of one source stand
// beside each other; a later source refines them by metric and side, and keeps the rest.
type requirements struct {
	bounds []statedBound
	at     argument // that is being read
	anew   bool
	gone   []statedBound       // of earlier sources, by none
	files  []string            // with requirements
	fit    []sweep.Requirement // defaults of parts that must fit each other
}

// defaults are the requirements that nobody states.
func (q *requirements) defaults() []sweep.Requirement {
	return append(sweep.DefaultRequirements(), q.fit...)
}

func (q *requirements) renew()       {} // a source refines what came before
func (q *requirements) renewAlways() { q.anew = true }

// reads notes which argument is set next.
func (q *requirements) reads(a argument) {
	q.at = a
	if f := a.from.file; f != "" && !slices.Contains(q.files, f) {
		q.files = append(q.files, f)
	}
}

func (q *requirements) Set(text string) error {
	bounds := slices.Clone(q.bounds)
	if q.anew {
		bounds = nil
	}
	text = strings.TrimSpace(text)
	if text == none {
		q.gone, q.bounds = append(q.gone, bounds...), nil
		return nil
	}
	for part := range strings.SplitSeq(text, ",") {
		part = strings.TrimSpace(part)
		switch part {
		case none:
			return fmt.Errorf("%q: none beside others, want it alone", text)
		case "":
			return fmt.Errorf("%q: nothing between two commas or at an end, want a requirement there", text)
		}
		b, err := parseRequirement(part)
		if err != nil {
			return err
		}
		b.at = q.at
		at := slices.IndexFunc(bounds, func(x statedBound) bool { return x.same(b.Requirement) })
		if at < 0 {
			bounds = append(bounds, b)
			continue
		}
		if was := bounds[at]; was.at.from != q.at.from {
			b.over = &was
		} else {
			return fmt.Errorf("%q beside %q: the same bound twice, want each once", part, was.String())
		}
		bounds[at] = b
	}
	if err := together(bounds, true); err != nil {
		return err
	}
	q.bounds = bounds
	return nil
}

// together refuses two bounds of one metric that no value keeps: of one source, or of two,
// which are known once all is read.
func together(bounds []statedBound, within bool) error {
	for i := range bounds {
		for j := range bounds[:i] {
			a, b := &bounds[j], &bounds[i]
			low, high := a, b
			if !low.AtLeast {
				low, high = high, low
			}
			one := a.at.from == b.at.from
			if a.Metric != b.Metric || a.lifted || b.lifted || low.Bound <= high.Bound || one != within {
				continue
			}
			if one {
				return fmt.Errorf("%q beside %q: no value keeps both bounds", b, a)
			}
			if a.at.from.file == "" {
				a, b = b, a // the file's came first and was refined
			}
			return b.at.errorf("--require: %q beside %q of %s: no value keeps both bounds, want another, or %s%s%s to "+
				"drop that one", b, a, a.at.origin(), a.Metric.Name, side(a.AtLeast), none)
		}
	}
	return nil
}

func (q *requirements) String() string {
	if len(q.bounds) == 0 {
		return none
	}
	return strings.Join(q.GetSlice(), ",")
}

func (q *requirements) Type() string     { return "requirement" }
func (q *requirements) offers() []string { return append(boundNames(), none) }

// GetSlice are the texts that, given to the flag one after the other, make the list again.
func (q *requirements) GetSlice() []string {
	if len(q.bounds) == 0 {
		return []string{none}
	}
	var out []string
	for i := range q.bounds {
		out = append(out, q.bounds[i].String())
	}
	return out
}

// forget leaves out what a file asks of how parts fit each other that are no longer there.
func (q *requirements) forget(file string) {
	q.bounds = slices.DeleteFunc(q.bounds, func(b statedBound) bool {
		return b.at.from != nil && b.at.from.file == file && sweep.ReadsFit(b.Metric) &&
			!slices.ContainsFunc(q.fit, b.same)
	})
}

// study are the requirements of a study: those that are stated, and the defaults on what
// nothing is stated of.
func (q *requirements) study() ([]sweep.Requirement, error) {
	if err := together(q.bounds, false); err != nil {
		return nil, err
	}
	var out []sweep.Requirement
	defaults := q.defaults()
	for i := range q.bounds {
		b := &q.bounds[i]
		if !b.lifted {
			out = append(out, b.Requirement)
			continue
		}
		if b.over == nil && !slices.ContainsFunc(defaults, b.same) {
			return nil, b.at.errorf("--require: %q: there is no such bound to drop, want one of %s", b,
				strings.Join(append(textsOf(q.bounds), textsOf(stated(defaults))...), ", "))
		}
	}
	for _, d := range defaults {
		if slices.ContainsFunc(q.bounds, func(b statedBound) bool { return b.lifted && b.same(d) }) {
			continue
		}
		of := statedBound{Requirement: d}
		at := slices.IndexFunc(out, of.same)
		switch {
		case at < 0:
			out = append(out, d)
		case out[at].Bound == d.Bound:
			out[at] = d
		}
	}
	return out, nil
}

func stated(all []sweep.Requirement) (out []statedBound) {
	for _, r := range all {
		out = append(out, statedBound{Requirement: r})
	}
	return out
}

// textsOf are the bounds that are not lifted.
func textsOf(bounds []statedBound) (out []string) {
	for i := range bounds {
		if !bounds[i].lifted {
			out = append(out, bounds[i].String())
		}
	}
	return out
}

// liftedDefaults are the statements that drop a default, which a run again needs.
func (q *requirements) liftedDefaults() (out []string) {
	defaults := q.defaults()
	for i := range q.bounds {
		if b := &q.bounds[i]; b.lifted && slices.ContainsFunc(defaults, b.same) {
			out = append(out, b.String())
		}
	}
	return out
}

// tell says it where something was refined.
func (q *requirements) tell(w io.Writer) {
	if text := q.refined(); text != "" && w != nil {
		fmt.Fprintln(w, "rotorsieve:", text)
	}
}

// refined says what the command line, or a later flag file, makes of the requirements that
// stood before, those of the program among them; "" for nothing.
func (q *requirements) refined() string {
	var said []string
	defaults := q.defaults()
	for i := range q.bounds {
		b := &q.bounds[i]
		line := b.at.from != nil && b.at.from.file == ""
		at := slices.IndexFunc(defaults, b.same)
		switch {
		case b.over != nil && b.lifted:
			said = append(said, b.over.String()+" dropped")
		case b.over != nil && b.over.Bound != b.Bound:
			said = append(said, b.String()+" in place of "+b.over.String())
		case b.lifted && line:
			said = append(said, "the default "+requirementText(defaults[at])+" dropped")
		case line && at >= 0 && defaults[at].Bound != b.Bound && b.over == nil:
			said = append(said, b.String()+" in place of the default "+requirementText(defaults[at]))
		case line && b.over == nil && len(q.files) > 0:
			said = append(said, b.String()+" added")
		}
	}
	if n := len(q.gone); n > 0 {
		said = append([]string{strings.Join(textsOf(q.gone), ", ") + " dropped"}, said...)
	}
	if len(said) == 0 {
		return ""
	}
	text := "requirements: " + strings.Join(said, "; ")
	if stand := q.standing(); len(stand) > 0 {
		text += fmt.Sprintf("; as in %s stand %s", strings.Join(q.files, " and "), strings.Join(stand, ", "))
	}
	return text
}

// standing are the bounds of files that no later source has refined, but for defaults.
func (q *requirements) standing() (out []string) {
	defaults := stated(q.defaults())
	for i := range q.bounds {
		b := &q.bounds[i]
		usual := slices.ContainsFunc(defaults, func(d statedBound) bool {
			return b.same(d.Requirement) && b.Bound == d.Bound
		})
		if !b.lifted && !usual && b.over == nil && b.at.from != nil && b.at.from.file != "" {
			out = append(out, b.String())
		}
	}
	return out
}

// side is the sign of a requirement.
func side(atLeast bool) string {
	if atLeast {
		return ">="
	}
	return "<="
}
