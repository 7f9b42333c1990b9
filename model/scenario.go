package model

import (
	"fmt"
	"math"
	"strings"
)

// MostScenarios bounds the scenarios of a study: each has tables of all propellers and packs of its own.
const MostScenarios = 16

// Scenarios puts models of one craft in the conditions that it is to fly in into the order in which
// they are read: first that in which full throttle draws most, the densest air with the strongest
// pack, since the craft's controllers are bought for it; the others as given. It refuses models that
// differ in more than AssumptionDef.Varies allows, two that are the same, and too many.
func Scenarios(of []*Model) ([]*Model, error) {
	if n := len(of); n > MostScenarios {
		return nil, fmt.Errorf("%d scenarios, want up to %d: fewer values of what they differ in", n, MostScenarios)
	}
	for i, m := range of {
		for _, d := range AssumptionDefs {
			if !d.Varies && !d.Form.Stands(&m.Assume, &of[0].Assume) {
				return nil, fmt.Errorf("scenarios of two crafts, which differ in %s", strings.ToLower(d.Title))
			}
		}
		for _, o := range of[:i] {
			if m.Assume == o.Assume {
				return nil, fmt.Errorf("a scenario is given twice: %s", ScenarioName(m, of))
			}
		}
	}
	out, first := append([]*Model(nil), of...), 0
	for i, m := range of {
		if m.strains(of[first]) {
			first = i
		}
	}
	m := out[first]
	copy(out[1:first+1], out[:first])
	out[0] = m
	return out, nil
}

// strains says whether full throttle draws more in a scenario than in another: the air is denser,
// or else the pack new, or else warmer.
func (m *Model) strains(o *Model) bool {
	a, b := &m.Assume, &o.Assume
	const same = 1e-12
	switch {
	case math.Abs(m.Air.Density/o.Air.Density-1) > same:
		return m.Air.Density > o.Air.Density
	case a.PackAged != b.PackAged:
		return b.PackAged
	}
	return a.PackTemperature > b.PackTemperature
}

// Differing are the assumptions in which some of the models differ, in the order of outputs.
func Differing(of []*Model) (out []*AssumptionDef) {
	for _, d := range AssumptionRows() {
		for _, m := range of[1:] {
			if !d.Form.Stands(&m.Assume, &of[0].Assume) {
				out = append(out, d)
				break
			}
		}
	}
	return out
}

// Take gives assumptions the value that others have.
func (d *AssumptionDef) Take(to, from *Assumptions) { d.Form.take(to, from) }

// ScenarioName names a scenario by what it differs in from the others, such as "2000 m, air 35 °C".
func ScenarioName(m *Model, among []*Model) string {
	var parts []string
	for _, d := range Differing(among) {
		switch f := d.Form.(type) {
		case *Quantity:
			v := *f.At(&m.Assume)
			if f.Word != "" && v == 0 {
				parts = append(parts, f.Word+" "+strings.ToLower(d.Title))
				continue
			}
			parts = append(parts, strings.TrimSpace(d.scenarioWord()+" "+f.Unit().Format(v, 6)))
		case *Switch:
			if *f.At(&m.Assume) {
				parts = append(parts, "aged pack")
			} else {
				parts = append(parts, "new pack")
			}
		}
	}
	return strings.Join(parts, ", ")
}

// scenarioWord is what a value of the assumption is of, in a word; "" for what a length says.
func (d *AssumptionDef) scenarioWord() string {
	switch d.Name {
	case "altitude":
		return ""
	case "temperature":
		return "air"
	case "pack-temperature":
		return "pack"
	}
	return strings.ToLower(d.Title)
}
