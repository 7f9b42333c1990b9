package finding

import (
	"bytes"
	"encoding/json"
	"io"
)

// Object is a JSON object that keeps the order of its members.
type Object []Member

// Member is a name of an object with its value.
type Member struct {
	Name  string
	Value any
}

// MarshalJSON writes the members in their order.
func (o Object) MarshalJSON() ([]byte, error) {
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

// WriteJSON writes v indented, with a line end.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// List is never null in JSON.
func List(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// OrNull is a number as JSON has it.
func OrNull(v float64) any {
	if !Finite(v) {
		return nil
	}
	return v
}
