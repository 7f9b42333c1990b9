package main

import (
	"slices"

	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// givenParts are those that a finished run has recorded, in place of the lists that its flags
// name: these may be elsewhere, or have changed.
type givenParts struct {
	from string                // the flag file of the run
	axes map[string]sweep.Axis // by partKind.One
}

// giveParts has the lists that a run's flags name taken from its record.
func (p *partFlags) giveParts(run *finding.Finished) {
	g := &givenParts{from: run.Flags(), axes: map[string]sweep.Axis{}}
	for i := range partKinds {
		if a, ok := run.PartsAxis(partKinds[i].One); ok {
			g.axes[partKinds[i].One] = a
		}
	}
	p.given = g
}

// givenAxis is what the record of a run has in place of a list, unless another is named since.
func (p *partFlags) givenAxis(k *partKind) (a sweep.Axis, ok bool) {
	if p.given == nil || p.by.set[k.Many].from == nil || p.by.set[k.Many].from.file != p.given.from {
		return a, false
	}
	a, ok = p.given.axes[k.One]
	return a, ok
}

// narrowed leaves of recorded parts those that are picked.
func (p *partFlags) narrowed(k *partKind, a sweep.Axis, path string) sweep.Axis {
	names := partNames(a)
	p.lists = append(p.lists, finding.PartList{Kind: k.Many, File: path, Parts: len(names)})
	picked := p.pick(names)
	if len(picked) == 0 {
		return a
	}
	var at []int
	for i, name := range names {
		if picked[name] {
			at = append(at, i)
		}
	}
	return a.Only(at)
}

func partNames(a sweep.Axis) (names []string) {
	for _, v := range a.Values {
		names = append(names, a.Def.Text(v))
	}
	return names
}

// pickDesign leaves of the recorded parts those of a design, but where others are picked beside
// the run: picks of a kind stand in place of the design's own.
func (p *partFlags) pickDesign(parts []finding.NamedPart, beside bool) {
	if !beside {
		p.picks = nil
	}
	for _, own := range parts {
		a, ok := p.given.axes[own.Kind]
		names := partNames(a)
		if !ok || slices.ContainsFunc(p.picks, func(name string) bool { return slices.Contains(names, name) }) {
			continue
		}
		if at := slices.Index(names, own.Name); at >= 0 {
			p.given.axes[own.Kind] = a.Only([]int{at})
		}
	}
}
