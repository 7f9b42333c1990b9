package screen

import (
	"rotorsieve/model"
	"rotorsieve/model/record"
)

// corrections says how measurements correct a craft's propellers, motors, frame and pack,
// of those that were measured.
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
	if len(e.Keys(record.Motor)) > 0 {
		add("motor-correction", "Motor correction", e.Motor(d.Stator, d.KV).String(),
			"over the regressions, the most probable given the measurements", "measured")
	}
	if len(e.Keys(record.Frame)) > 0 {
		add("frame-correction", "Frame correction", e.Frame(d.Diameter).Said("mass"),
			"over the law of the size, the most probable given the measurements", "measured")
	}
	if len(e.Keys(record.Pack)) > 0 {
		add("pack-correction", "Pack correction", e.Pack(c.Model.Assume.PackGrade, d.Capacity).String(),
			"over the laws of the grade, the most probable given the measurements", "measured")
	}
	return out
}
