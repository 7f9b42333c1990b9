package finding

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"rotorsieve/sweep"
)

// readAxes reads the axes of a grid, which this version must know, and builds it.
func (f *Finished) readAxes(all []AxisRecord) error {
	var axes []sweep.Axis // without those that parts bring
	for i := range all {
		a := &all[i]
		_, ofParts := sweep.LookupPart(a.Name)
		def, ok := sweep.LookupAxis(a.Name)
		switch {
		case ofParts:
			x, err := a.parts()
			if err != nil {
				return err
			}
			axes = append(axes, x)
			continue
		case !ok || len(a.Values) == 0:
			return fmt.Errorf("axis %.60q is not known to this version, want the one that wrote it", a.Name)
		case a.Unit != def.Kind.SI().Symbol || a.Parts != nil:
			return unlike("axis %s in %.20q", a.Name, a.Unit)
		case a.Of != "":
			continue // held against what its parts bring
		}
		axes = append(axes, sweep.Axis{Def: def, Values: a.Values})
	}
	if err := checkRising(axes); err != nil {
		return err
	}
	var err error
	if f.grid, err = sweep.NewGrid(axes...); err != nil {
		return unlike("a grid of which %v", err)
	}
	if f.Axes = f.grid.Axes(); len(f.Axes) != len(all) {
		return unlike("%d axes of a grid of %d", len(all), len(f.Axes))
	}
	for i, a := range f.Axes {
		of := ""
		if a.Of != nil {
			of = a.Of.Name
		}
		switch x := &all[i]; {
		case x.Name != a.Def.Name:
			return unlike("axis %s in the place of %s", x.Name, a.Def.Name)
		case x.Of != of || !slices.Equal(x.Values, a.Values):
			return unlike("axis %s with other values than its parts bring", x.Name)
		}
	}
	if n := f.grid.Size(); n != f.Designs {
		return unlike("%d designs of a grid of %d", f.Designs, n)
	}
	return nil
}

// parts is an axis of parts that exist.
func (a *AxisRecord) parts() (sweep.Axis, error) {
	if a.Parts == nil {
		return sweep.Axis{}, errors.New("the run is of parts that exist, of which its record tells no more than the " +
			"number: want the study run again by this version, from the " + FlagsName + " beside it")
	}
	x, err := a.Parts.axis(a.Name)
	if err != nil {
		return x, unlike("axis %s: %v", a.Name, err)
	}
	if a.Unit != "" || a.Of != "" {
		return x, unlike("axis %s in %.20q of %.20q", a.Name, a.Unit, a.Of)
	}
	return x, nil
}

// checkRising refuses values of an axis that stand twice or do not rise.
func checkRising(axes []sweep.Axis) error {
	for _, a := range axes {
		rising := slices.Clone(a.Values)
		slices.Sort(rising)
		if slices.Contains(a.Values, math.NaN()) || len(slices.Compact(rising)) != len(a.Values) {
			return unlike("axis %s with a value twice", a.Def.Name)
		}
		if a.Def != sweep.Stator && !slices.IsSorted(a.Values) { // whose codes rise with the size
			return unlike("axis %s with values that do not rise", a.Def.Name)
		}
	}
	return nil
}

// PartsAxis is the axis of parts that exist of a kind, with all that they state; false where the
// run has none of them.
func (f *Finished) PartsAxis(kind string) (sweep.Axis, bool) {
	at, ok := f.grid.AxisIndex(kind)
	if !ok || !f.Axes[at].Def.IsPart() {
		return sweep.Axis{}, false
	}
	return f.Axes[at], true
}
