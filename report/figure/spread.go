package figure

import (
	"strconv"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// spreadText is the standard deviation of a source of error: "15 %"; "" where it is not
// known, and for an assumption.
func spreadText(_ *finding.Run, s *decide.Sensitivity) string {
	if s.Assumption {
		return ""
	}
	for i := range model.ParameterTable {
		e := &model.ParameterTable[i]
		if e.Symbol != s.Name || e.Sigma == 0 {
			continue
		}
		if e.Distribution == basis.LogNormal {
			return strconv.FormatFloat(100*e.Sigma, 'g', 2, 64) + " %"
		}
		return words.Spaced(strconv.FormatFloat(e.Sigma, 'g', 2, 64), words.Unit(e.Unit))
	}
	return ""
}
