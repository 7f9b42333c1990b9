package main

import (
	"fmt"
	"os"
	"slices"
	"time"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/sweep"
)

// ratio says whether the pitch is stated over the diameter, and refuses both
// statements in one place.
func (s *studyFlags) ratio() (bool, error) {
	p, r := s.set["pitch"], s.set["pitch-ratio"]
	if p.from != nil && p.from == r.from {
		return false, p.errorf("--pitch and --pitch-ratio state the same axis, want one of them")
	}
	return p.from == nil || s.turns.ratio > s.turns.pitch, nil
}

// study builds the study that the flags state.
func (s *studyFlags) study() (*sweep.Study, error) {
	grade := s.assume.PackGrade
	if grade.CellCharge() > 0 && s.origin("capacity") == "default" {
		// The default capacities are those of pouch packs.
		s.cellCapacity = true
		v, err := unit.ParseAxis(unit.Charge, cellCapacities(grade))
		if err != nil {
			return nil, fmt.Errorf("--pack-grade: %w", err)
		}
		*s.axes[sweep.Capacity] = v
	}
	var err error
	if s.assume.Evidence, err = s.evidence(); err != nil {
		return nil, err
	}
	ratio, err := s.ratio()
	if err != nil {
		return nil, err
	}
	var axes []sweep.Axis
	for _, d := range sweep.AxisDefs {
		if d == sweep.Pitch && ratio || d == sweep.PitchRatio && !ratio {
			continue
		}
		axes = append(axes, sweep.Axis{Def: d, Values: *s.axes[d]})
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
	require := slices.Clone(s.require)
	for _, d := range sweep.DefaultRequirements() {
		at := slices.IndexFunc(require, func(r sweep.Requirement) bool { return r.Metric == d.Metric && r.AtLeast == d.AtLeast })
		switch {
		case at < 0:
			require = append(require, d)
		case require[at].Bound == d.Bound:
			require[at] = d
		}
	}
	m, err := model.New(sweep.Limited(s.assume, require))
	if err != nil {
		return nil, err
	}
	st := &sweep.Study{
		Name: s.name, Grid: grid, Model: m, Classes: s.classes, Require: require, Merit: s.merit,
		Front: s.front, Top: s.top, SizeBins: sweep.DefaultSizeBins,
	}
	for _, m := range s.front {
		if m.ByClass && len(s.classes) > 1 {
			return nil, fmt.Errorf("--front: %s differs by class, want one class or another metric", m.Name)
		}
	}
	for _, spec := range s.maps {
		for _, d := range []*sweep.AxisDef{spec.X, spec.Y} {
			if d == sweep.Pitch && ratio {
				return nil, fmt.Errorf("--map %s: the study states pitch-ratio, want that in place of pitch", mapText(spec))
			}
			if d == sweep.PitchRatio && !ratio {
				return nil, fmt.Errorf("--map %s: the study states pitch, want that in place of pitch-ratio", mapText(spec))
			}
		}
		if spec.X == nil {
			st.Maps = append(st.Maps, impliedMaps(st, s.maps)...)
			continue
		}
		st.Maps = append(st.Maps, spec)
	}
	if err := st.Check(); err != nil {
		return nil, withFlags(err)
	}
	return st, s.checkFigures(st)
}

// report begins the report of a run of the study.
func (s *studyFlags) report(st *sweep.Study) *report.Run {
	r := &report.Run{Study: st, Version: programVersion(), Started: time.Now(), Figures: s.drawn(), DPI: s.dpi}
	r.Flags, r.Defaults = s.effective(st)
	r.Host, _ = os.Hostname() // for the record alone, which may do without
	return r
}

// checkFigures refuses pictures that the study cannot have.
func (s *studyFlags) checkFigures(st *sweep.Study) error {
	names := append(report.FigureNames(st), allFigures, none)
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
	return report.FigureNames(st)
}

// drawn says which pictures a report has.
func (s *studyFlags) drawn() []string {
	if s.figures == nil {
		return []string{}
	}
	return s.figures
}

// mostImpliedCells bounds the memory that maps take which nobody asked for.
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
