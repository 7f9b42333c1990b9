package screen

import (
	"fmt"

	"rotorsieve/model"
	"rotorsieve/report/finding"
)

// powerTitle heads the parts of the power of hover.
const powerTitle = "Where hover power goes"

// powerPart is one part of the electrical power of hover, or the whole.
type powerPart struct {
	told
	watts float64
	share float64 // of the whole
}

// powerParts splits the power of hover; the whole stands last.
func powerParts(c *model.Craft) []powerPart {
	var out []powerPart
	part := func(title, symbol string, watts float64, meaning, formula, worked, source string) {
		out = append(out, powerPart{watts: watts, share: watts / c.Hover.Power, told: told{Value: watts, Unit: "W",
			Shown: finding.Watt.Format(watts, 4), Title: title, Symbol: symbol, Meaning: meaning, Formula: formula,
			Worked: worked, Source: source}})
	}
	for _, p := range model.PowerParts {
		part(p.Title, p.Symbol, p.Of(c), p.Meaning, p.Formula(), p.Worked(c), p.Source)
	}
	whole := finding.Metric("hover-power")
	part(whole.Title, whole.Symbol, c.Hover.Power, "from the pack, the sum of these", "sum of the parts",
		model.PowerSum(c), whole.Source)
	return out
}

// power prints the parts of the power of hover.
func (s *dataSheet) power(c *model.Craft) {
	s.section(powerTitle)
	for _, p := range powerParts(c) {
		s.put(p.Title, p.Symbol, finding.Watt.Number(p.watts, 4), fmt.Sprintf("W  %5.1f %%", 100*p.share),
			p.Meaning+": "+p.Formula, p.Worked, p.Source)
	}
}

// powerRecord holds the parts of the power of hover and the whole, with their shares
// of it.
func powerRecord(c *model.Craft) finding.Object {
	type share struct {
		told
		Share float64 `json:"share"`
	}
	var o finding.Object
	for _, p := range powerParts(c) {
		o = append(o, finding.Member{Name: slug(p.Title), Value: share{p.told, p.share}})
	}
	return o
}
