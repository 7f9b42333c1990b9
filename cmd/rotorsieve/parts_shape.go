package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"rotorsieve/model/part"
	"rotorsieve/model/rotor"
	"rotorsieve/report/finding"
)

// shapePropeller reads the blade and the measurements that a propeller names, beside its
// list.
func shapePropeller(by *partFlags, p *part.Propeller, path string) error {
	if p.Blade == "" && p.Stand == "" {
		return nil
	}
	beside := func(name string) string {
		if filepath.IsAbs(name) {
			return name
		}
		return filepath.Join(filepath.Dir(path), filepath.FromSlash(name))
	}
	wrong := func(column string, err error) error {
		return fmt.Errorf("%s: %s of %q: %w", path, column, p.Name, err)
	}
	g := rotor.Geometry{Diameter: p.Diameter, Blades: p.Blades}
	var err error
	if p.Blade != "" {
		if g.Blade, err = readBlade(by.files, "propellers:blade:"+p.Name, beside(p.Blade)); err != nil {
			return wrong("blade file", err)
		}
	} else if g.Blade, err = rotor.Generic(p.Diameter, p.Pitch, p.Blades, p.Chord.Or(0)); err != nil {
		return wrong("blade", err)
	}
	if p.Stand != "" {
		all, err := readTable(by.files, "propellers:stand:"+p.Name, "--rotor-points", beside(p.Stand),
			"measurements", rotor.ReadPoints)
		if err != nil {
			return wrong("stand file", err)
		}
		own := slices.IndexFunc(all, func(s rotor.Specimen) bool {
			return s.Blades == p.Blades && sameSize(s.Diameter, p.Diameter)
		})
		if own < 0 {
			return wrong("stand file", fmt.Errorf("%s: no propeller of %.4g in and %d blades, want measurements of it",
				beside(p.Stand), p.Diameter/0.0254, p.Blades))
		}
		if g.Correction, err = rotor.Calibrate(g, all[own].Air, all[own].Static()); err != nil {
			return wrong("stand file", err)
		}
	}
	if by.stations += len(g.Blade.Stations().X); by.stations > finding.MostStations {
		return fmt.Errorf("%s: the blades of its propellers have more than %d stations together, want fewer "+
			"propellers, or --part", path, finding.MostStations)
	}
	p.Geometry = &g
	return nil
}
