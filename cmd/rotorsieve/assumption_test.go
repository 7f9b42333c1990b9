package main

import (
	"testing"

	"rotorsieve/model"
)

// Every assumption has its flag in sweep and explain, which stands at the default of
// the table and, given another value, changes that assumption.
func TestAssumptionFlags(t *testing.T) {
	t.Parallel()
	usual := model.Defaults()
	for _, defaults := range []axisDefaults{sweepDefaults, oneDefaults} {
		for _, d := range model.AssumptionDefs {
			s := newStudyFlags("study", defaults)
			s.gather()
			f := s.all.Lookup(d.Name)
			if f == nil {
				t.Errorf("no flag --%s", d.Name)
				continue
			}
			if !d.Form.Stands(&s.assume, &usual) {
				t.Errorf("--%s: default %s is not that of the model", d.Name, f.DefValue)
			}
			other := "true"
			switch form := d.Form.(type) {
			case *model.Quantity:
				other = form.Kind.Text((2*form.Bound.Min + form.Bound.Max) / 3)
			case *model.Choice:
				other = form.Options[1]
			case *model.Liking:
				other = "disk-loading=5g/in2"
			}
			if err := f.Value.Set(other); err != nil {
				t.Errorf("--%s=%s: %v", d.Name, other, err)
			}
			if d.Name == "like" {
				if s.assume.Like, _ = reference(s.like, s.assume); s.assume.Like == usual.Like {
					t.Error("--like makes no reference")
				}
				continue
			}
			if d.Form.Stands(&s.assume, &usual) {
				t.Errorf("--%s=%s leaves the assumption as it was", d.Name, other)
			}
		}
	}
}
