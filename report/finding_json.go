package report

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// object is a JSON object that keeps the order of its members.
type object []member

type member struct {
	Name  string
	Value any
}

// MarshalJSON writes the members in their order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := writeCompact(&b, m.Name); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := writeCompact(&b, m.Value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

func writeCompact(b *bytes.Buffer, v any) error {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the line end that Encode adds
	return nil
}

// writeJSON writes v indented, with a line end.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// list is never null in JSON.
func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// orNull is a number as JSON has it.
func orNull(v float64) any {
	if !finite(v) {
		return nil
	}
	return v
}

// oneLine makes text of a user fit for one line of a table: no control
// characters.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
}
