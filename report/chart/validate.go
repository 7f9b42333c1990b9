package chart

import (
	"fmt"
	"math"
	"strings"
)

func (f *Figure) validate() error {
	if len(f.Panels) == 0 {
		return fmt.Errorf("chart: figure %q has no panels: want at least 1", f.Title)
	}
	mapped := false
	for k := range f.Panels {
		if err := f.Panels[k].validate(); err != nil {
			return fmt.Errorf("panel %d %q: %w", k, f.Panels[k].Title, err)
		}
		mapped = mapped || f.Panels[k].Field != nil
	}
	if n, most := len(f.looked()), len(f.looks()); n > most {
		return fmt.Errorf("chart: figure %q has %d families of lines: want at most %d", f.Title, n, most)
	}
	for _, p := range f.Panels {
		for _, a := range p.Areas {
			if name := f.tinted(); a.Pale && a.Family != name {
				return fmt.Errorf("chart: figure %q has pale areas %q and %q: want one family", f.Title, name, a.Family)
			}
		}
	}
	if n := f.columns(); f.Rows != nil && len(f.Rows) != (len(f.Panels)+n-1)/n {
		return fmt.Errorf("chart: figure %q has heights of %d rows: want one for each of %d", f.Title, len(f.Rows),
			(len(f.Panels)+n-1)/n)
	}
	if f.DPI < 0 || f.DPI > maxDPI {
		return fmt.Errorf("chart: figure %q at %d dots per inch: want 1 to %d, or 0", f.Title, f.DPI, maxDPI)
	}
	if !mapped {
		return nil
	}
	b := f.Bar.Levels
	if len(b) < 2 {
		return fmt.Errorf("chart: colour bar %q has %d levels: want at least 2", f.Bar.Label, len(b))
	}
	for k, l := range b {
		if !finite(l) || k > 0 && l <= b[k-1] {
			return fmt.Errorf("chart: colour bar level %d is %g: want finite rising levels", k, l)
		}
	}
	lo, hi := b[0], b[len(b)-1]
	slack := 1e-6 * (hi - lo) // rounding of round levels
	for k := range f.Panels {
		fd := f.Panels[k].Field
		if fd == nil {
			continue
		}
		for j, row := range fd.Z {
			for i, z := range row {
				if z < lo-slack || z > hi+slack {
					return fmt.Errorf("panel %d %q: chart: field Z[%d][%d] is %g: want it within the colour bar, %g "+
						"to %g",
						k, f.Panels[k].Title, j, i, z, lo, hi)
				}
			}
		}
	}
	return nil
}

func (p *Panel) validate() error {
	if err := p.X.validate("x"); err != nil {
		return err
	}
	if err := p.Y.validate("y"); err != nil {
		return err
	}
	if p.Field != nil {
		if err := p.Field.validate(p.X, p.Y); err != nil {
			return err
		}
	}
	for _, o := range p.Overlays {
		if p.Field == nil {
			if p.X.discrete() || p.Y.discrete() {
				return fmt.Errorf("chart: overlay %q without a field: want continuous axes", o.Name)
			}
			if err := o.own().validate(p.X, p.Y); err != nil {
				return fmt.Errorf("overlay %q: %w", o.Name, err)
			}
			continue
		}
		if err := validateShape("overlay "+o.Name, o.Z, len(p.Field.X), len(p.Field.Y)); err != nil {
			return err
		}
		for j := range o.Z {
			for i, z := range o.Z[j] {
				if math.IsInf(z, 0) || math.IsNaN(z) != math.IsNaN(p.Field.Z[j][i]) {
					return fmt.Errorf("chart: overlay %q Z[%d][%d] is %g: want a finite value exactly where the "+
						"field has one", o.Name, j, i, z)
				}
			}
		}
	}
	for _, l := range p.Lines {
		if len(l.X) != len(l.Y) || len(l.X) < 2 {
			return fmt.Errorf("chart: line %q has %d x and %d y: want as many of both, at least 2", l.Label, len(l.X),
				len(l.Y))
		}
		for k := range l.X {
			if !finite(l.X[k]) || !finite(l.Y[k]) || p.X.Log && l.X[k] <= 0 || p.Y.Log && l.Y[k] <= 0 {
				return fmt.Errorf("chart: line %q point %d is (%g, %g): want finite values that the axes can show",
					l.Label, k, l.X[k], l.Y[k])
			}
		}
	}
	for _, q := range p.Points {
		if err := q.validate(p.X, p.Y); err != nil {
			return err
		}
	}
	for _, k := range p.Stacks {
		if err := k.validate(p); err != nil {
			return err
		}
	}
	for k := range p.Areas {
		if err := p.Areas[k].validate(p); err != nil {
			return err
		}
	}
	for _, m := range p.Markers {
		for _, u := range [2]float64{p.X.unit(m.X), p.Y.unit(m.Y)} {
			if !(u >= -1e-9 && u <= 1+1e-9) {
				return fmt.Errorf("chart: marker %q at (%g, %g): want it within the axes", strings.Join(m.Lines, " "),
					m.X, m.Y)
			}
		}
	}
	return nil
}
