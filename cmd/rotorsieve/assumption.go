package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/model/unit"
)

// assumed declares the flags of the assumptions of a group.
func (s *studyFlags) assumed(f *pflag.FlagSet, group model.AssumptionGroup) {
	for _, d := range model.AssumptionDefs {
		if d.Group != group {
			continue
		}
		if d.Varies {
			s.varied(f, d)
			continue
		}
		switch form := d.Form.(type) {
		case *model.Quantity:
			f.Var(newAssumed(d.Name, form.At(&s.assume)), d.Name, d.Help)
		case *model.Choice:
			f.Var(newAssumedChoice(&s.assume, form), d.Name, d.Help)
		case *model.Liking: // what is stated of the craft makes the reference when all is read
			f.Var(newLike(&s.like), d.Name, d.Help)
		default:
			panic(fmt.Sprintf("--%s: no flag takes a %T", d.Name, form))
		}
	}
}

// newAssumed makes the value of a flag that takes a quantity as an assumption does,
// and sets *to to that assumption's default. It panics where there is no such
// assumption.
func newAssumed(name string, to *float64) *quantity {
	d, _ := model.LookupAssumption(name)
	q := d.Form.(*model.Quantity)
	f := newQuantityOr(q.Word, 0, to, q.Kind, bound(q.Bound), q.Text())
	f.share = q.Kind == unit.Ratio && q.Shown == "%"
	return f
}

func bound(b model.Bound) unit.Range { return unit.Range{Min: b.Min, Max: b.Max} }

var _ pflag.Value = (*assumedChoice)(nil)

// assumedChoice is the value of a flag that takes one of the options of an assumption.
type assumedChoice struct {
	*choice
	word string
	of   *model.Assumptions
	form *model.Choice
}

func newAssumedChoice(of *model.Assumptions, form *model.Choice) *assumedChoice {
	c := &assumedChoice{of: of, form: form}
	c.choice = newChoice(&c.word, form.Item, form.Options...)
	form.Set(of, c.word)
	return c
}

func (c *assumedChoice) Set(text string) error {
	if err := c.choice.Set(text); err != nil {
		return err
	}
	c.form.Set(c.of, c.word)
	return nil
}
