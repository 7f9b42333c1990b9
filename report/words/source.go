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

// SourceName names what moves a merit: a source of error or an assumption.
func SourceName(s *decide.Sensitivity) string {
	if s.Assumption {
		if d, ok := model.LookupAssumption(s.Name); ok {
			return texts.Lower(d.Title)
		}
	}
	return s.Name
}

// Source is SourceName of a source of error with the beginning of its meaning.
func Source(s *decide.Sensitivity) string {
	if s.Assumption || s.Meaning == "" {
		return SourceName(s)
	}
	return s.Name + " (" + beginning(s.Meaning) + ")"
}

// SourceShort names it within a title: by its meaning where its name is a symbol.
func SourceShort(s *decide.Sensitivity) string {
	const word = 5 // letters
	if s.Assumption || s.Meaning == "" || utf8.RuneCountInString(s.Name) >= word && !strings.ContainsAny(s.Name, "/_") {
		return SourceName(s)
	}
	return beginning(s.Meaning)
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
