package words

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep/decide"
)

// Source names what moves a merit: a source of error, with the beginning of its meaning, or
// an assumption.
func Source(s *decide.Sensitivity) string {
	if s.Assumption {
		if d, ok := model.LookupAssumption(s.Name); ok {
			return texts.Lower(d.Title)
		}
		return s.Name
	}
	if s.Meaning == "" {
		return s.Name
	}
	return s.Name + " (" + beginning(s.Meaning) + ")"
}

// beginning is a meaning in as few of its clauses as say something.
func beginning(meaning string) string {
	const enough = 16 // letters
	said := ""
	for _, clause := range strings.FieldsFunc(meaning, func(r rune) bool { return r == ',' || r == ';' || r == ':' }) {
		if said != "" {
			said += ","
		}
		if said += clause; utf8.RuneCountInString(said) >= enough {
			break
		}
	}
	return said
}

// Spread is the standard deviation of a source of error of the run's model: "15 %", "1.5 deg";
// "" where the model does not know it. Of an assumption it is the other value.
func Spread(r *finding.Run, s *decide.Sensitivity) string {
	if s.Assumption {
		return s.Meaning
	}
	for _, x := range r.Study.Model.Sources() {
		if x.Name != s.Name {
			continue
		}
		if x.Distribution == basis.Normal {
			return Spaced(strconv.FormatFloat(x.Sigma, 'g', 3, 64), Unit(x.Unit))
		}
		return strconv.FormatFloat(100*x.Sigma, 'g', 3, 64) + " %"
	}
	return ""
}
