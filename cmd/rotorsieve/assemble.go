package main

import (
	"cmp"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"rotorsieve/model"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// stands says whether an axis is one of the study's: of two with the same index, the one
// that was stated last. None does whose values parts have that exist.
func (s *studyFlags) stands(d *sweep.AxisDef) bool {
	if s.replacing(d) != nil {
		return false
	}
	here, other := s.turns[d], s.turns[d.Other()]
	return d.Other() == nil || here > other || here == other && d.Default(s.one) != ""
}

// statedAxes are the axes of the study with their values, those of parts first. Both statements of an axis in
// the same source are refused.
func (s *studyFlags) statedAxes() ([]sweep.Axis, error) {
	if err := s.beside(); err != nil {
		return nil, err
	}
	axes, err := s.readAxes()
	if err != nil {
		return nil, err
	}
	for _, d := range sweep.AxisDefs {
		if d.Or != nil {
			if a := s.set[d.Name]; a.from != nil && a.from == s.set[d.Or.Name].from {
				return nil, a.errorf("--%s and --%s state the same axis, want one of them", d.Name, d.Or.Name)
			}
		}
		if text := s.under(d); text != "" && s.origin(d.Name) == "default" {
			if err := s.all.Lookup(d.Name).Value.Set(text); err != nil {
				return nil, fmt.Errorf("--%s: %w", d.Name, err)
			}
		}
		if s.stands(d) {
			axes = append(axes, sweep.Axis{Def: d, Values: *s.axes[d]})
		}
	}
	return axes, nil
}

// under is the default of an axis that follows from the assumptions; "" for none.
func (s *studyFlags) under(d *sweep.AxisDef) string {
	if d.Under == nil {
		return ""
	}
	return d.Under(&s.assume)
}

// study builds the study that the flags state.
func (s *studyFlags) study() (*sweep.Study, error) {
	s.held.begin()
	others, err := s.scenarios()
	if err != nil {
		return nil, err
	}
	if s.assume.Evidence, err = s.evidence(&s.assume); err != nil {
		return nil, err
	}
	axes, err := s.statedAxes()
	if err != nil {
		return nil, err
	}
	if err := s.held.unread(s.replacing(sweep.Diameter) != nil); err != nil {
		return nil, err
	}
	grid, err := sweep.NewGrid(axes...)
	if err != nil {
		return nil, err
	}
	if s.assume.Like, err = reference(s.like, s.assume); err != nil {
		return nil, fmt.Errorf("--like: %w", err)
	}
	if len(s.like) > 0 && s.origin("merit") == "default" {
		likeness, err := parseTerm("likeness:1:0:1")
		if err != nil {
			return nil, err
		}
		s.merit = sweep.Merit{likeness}
	}
	if s.require.fit = sweep.FitRequirements(grid); s.given != nil {
		s.require.forget(s.given.from)
	}
	require, err := s.require.study()
	if err != nil {
		return nil, err
	}
	m, err := model.New(sweep.Limited(s.assume, require))
	if err != nil {
		return nil, err
	}
	if s.origin("front") == "default" {
		if err := s.all.Lookup("front").Value.Set(s.frontDefault()); err != nil {
			return nil, fmt.Errorf("--front: %w", err)
		}
	}
	st := &sweep.Study{
		Name: s.name, Grid: grid, Model: m, Over: s.over, Classes: s.classes, Require: require, Merit: s.merit,
		Front: s.front, Top: s.top, SizeBins: sweep.DefaultSizeBins,
		Nominal: s.choice.draws == 0,
	}
	if st.Others, err = s.others(m, others); err != nil {
		return nil, err
	}
	for _, m := range s.front {
		if m.ByClass && len(s.classes) > 1 {
			return nil, fmt.Errorf("--front: %s differs by class, want one class or another metric", m.Name)
		}
	}
	maps, err := s.mapsOver(grid)
	if err != nil {
		return nil, err
	}
	for _, spec := range maps {
		for _, d := range []*sweep.AxisDef{spec.X, spec.Y} {
			if d != nil && s.replacing(d) != nil {
				k := s.replacing(d)
				return nil, fmt.Errorf("--map %s: each %s of --%s has its own %s, want a map without it, or --map %s",
					mapText(spec), k.One, k.Many, d.Name, allMaps)
			}
			if d != nil && !s.stands(d) {
				return nil, fmt.Errorf("--map %s: the study states %s, want that in place of %s",
					mapText(spec), d.Other().Name, d.Name)
			}
		}
		if spec.X == nil {
			st.Maps = append(st.Maps, impliedMaps(st, maps)...)
			continue
		}
		st.Maps = append(st.Maps, spec)
	}
	if err := st.Check(); err != nil {
		return nil, withFlags(err)
	}
	return st, s.checkFigures(st)
}

// mapsOver are the maps that are asked for, those over parts with the parts of the grid.
func (s *studyFlags) mapsOver(grid *sweep.Grid) ([]sweep.MapSpec, error) {
	maps := slices.Clone(s.maps)
	for i := range maps {
		for _, d := range []**sweep.AxisDef{&maps[i].X, &maps[i].Y} {
			if *d == nil || !(*d).IsPart() {
				continue
			}
			of, ok := grid.Axis((*d).Name)
			if !ok {
				return nil, fmt.Errorf("--map %s: the study has no %ss that exist, want --%[2]ss FILE beside it",
					mapText(s.maps[i]), (*d).Name)
			}
			*d = of
		}
	}
	return maps, nil
}

// usualFront are the metrics of the Pareto front of a study whose merit has none to hold against
// each other.
var usualFront = []string{"hover-time", "thrust-to-weight"}

// frontDefault is the front where none is stated: the two metrics of the most weight in the
// merit; of equal ones that of another stage than the first, since range and time in cruise, say,
// hardly cost each other.
func (s *studyFlags) frontDefault() string {
	terms := slices.DeleteFunc(slices.Clone(s.merit), func(t sweep.Term) bool {
		return !inSweep(t.Metric) || t.Metric.Better == model.Neither || t.Metric.ByClass && len(s.classes) > 1
	})
	slices.SortStableFunc(terms, func(a, b sweep.Term) int { return cmp.Compare(b.Weight, a.Weight) })
	if len(terms) > 2 {
		same := func(t sweep.Term) int {
			if t.Metric.Stage == terms[0].Metric.Stage {
				return 1
			}
			return 0
		}
		slices.SortStableFunc(terms[1:], func(a, b sweep.Term) int {
			return cmp.Or(cmp.Compare(b.Weight, a.Weight), cmp.Compare(same(a), same(b)))
		})
	}
	var names []string
	for _, t := range terms[:min(2, len(terms))] {
		names = append(names, t.Metric.Name)
	}
	for _, name := range usualFront {
		if len(names) < 2 && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ",")
}

// report begins the report of a run of the study.
func (s *studyFlags) report(st *sweep.Study) *finding.Run {
	r := &finding.Run{Study: st, Version: programVersion(), Started: time.Now(), Figures: s.drawn(), DPI: s.dpi,
		Paths: s.paths(), Draws: s.choice.draws, Parts: s.lists}
	r.Flags, r.Defaults = s.effective(st)
	r.Host, _ = os.Hostname() // only for the record, which does not need it
	return r
}

// checkFigures refuses pictures that the study cannot have.
func (s *studyFlags) checkFigures(st *sweep.Study) error {
	names := append(figure.Names(st), usualFigures, allFigures, none)
	for _, name := range s.figures {
		if !slices.Contains(names, name) {
			return fmt.Errorf("--figures: no figure %q of this study, %s", name, wanted(name, names))
		}
	}
	return nil
}

// pictures are the names of those that the study may have, for a shell; none where
// it cannot be built yet.
func (s *studyFlags) pictures() []string {
	st, err := s.study()
	if err != nil {
		return nil
	}
	return figure.Names(st)
}

// drawn says which pictures a report has.
func (s *studyFlags) drawn() []string {
	if s.figures == nil {
		return []string{}
	}
	return s.figures
}

// mostImpliedCells bounds the memory of maps that nobody asked for.
const mostImpliedCells = 1 << 19

// impliedMaps are those over every pair of swept axes that are not asked for
// by name, as far as memory lets them.
func impliedMaps(st *sweep.Study, asked []sweep.MapSpec) []sweep.MapSpec {
	var out []sweep.MapSpec
	axes := st.Grid.Axes()
	room := mostImpliedCells / len(st.Classes)
	swept := st.Grid.Swept()
	for i, x := range swept {
		for _, y := range swept[i+1:] {
			m := sweep.MapSpec{X: axes[x].Def, Y: axes[y].Def}
			if m.X == sweep.KV && m.Y == sweep.Cells {
				m.X, m.Y = m.Y, m.X // the trade chooses the KV for the cells
			}
			cells := len(axes[x].Values) * len(axes[y].Values)
			if slices.Contains(asked, m) || cells > room {
				continue
			}
			room -= cells
			m.Implied = true
			out = append(out, m)
		}
	}
	return out
}
