package figure

import (
	"fmt"

	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// partsText is valuesText of parts that exist, of which there are no ranges.
func partsText(d *sweep.AxisDef, own string, a *decide.AxisValues, tied []bool) string {
	const named = 2
	var others []string
	for n := range a.Values {
		if name := words.Abridged(d.Text(a.Values[n].Value)); tied[n] && name != own {
			others = append(others, name)
		}
	}
	if len(others) == 0 {
		return "only " + own
	}
	if more := len(others) - named; more > 0 {
		others = append(others[:named:named], fmt.Sprintf("%d more", more))
	}
	return own + ", as good as " + texts.JoinAnd(others)
}
