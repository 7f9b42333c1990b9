package screen

import (
	"rotorsieve/model"
)

// corrections says how measurements correct a craft's propellers and motors, of
// those that were measured.
func corrections(d model.Design, c *model.Craft) (out []airLine) {
	add := func(name, title, text, meaning, source string) {
		out = append(out, airLine{name: name, told: told{Value: text, Shown: text, Title: title, Meaning: meaning,
			Source: source}})
	}
	e := c.Model.Assume.Evidence
	if len(e.Propellers()) > 0 {
		add("propeller-correction", "Propeller correction", c.Powertrain.Propeller.Fit.String(),
			"the most probable given the measurements", model.Constant("s_beta").Source)
	}
	if len(e.Motors()) > 0 {
		add("motor-correction", "Motor correction", e.Motor(d.Stator, d.KV).String(),
			"over the regressions, the most probable given the measurements", "measured")
	}
	return out
}
