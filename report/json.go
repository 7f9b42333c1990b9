package report

import (
	"bytes"
	"encoding/json"
	"io"
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
