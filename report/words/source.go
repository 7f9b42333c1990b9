package words

import (
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	"rotorsieve/sweep/decide"
)

// Source names what moves a merit: a source of error, or an assumption.
func Source(s *decide.Sensitivity) string {
	if s.Assumption {
		return strings.ReplaceAll(s.Name, "-", " ")
	}
	return s.Name
}

// Spread is the standard deviation of a source of error: "15 %"; "" where it is not known.
// Of an assumption it is the other value.
func Spread(s *decide.Sensitivity) string {
	if s.Assumption {
		return s.Meaning
	}
	for i := range model.ParameterTable {
		e := &model.ParameterTable[i]
		if e.Symbol != s.Name || e.Sigma == 0 {
			continue
		}
		if e.Distribution == basis.LogNormal {
			return strconv.FormatFloat(100*e.Sigma, 'g', 2, 64) + " %"
		}
		return Spaced(strconv.FormatFloat(e.Sigma, 'g', 2, 64), Unit(e.Unit))
	}
	return ""
}
