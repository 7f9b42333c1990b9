package cache

import (
	"bytes"
	"testing"
)

// FuzzDecode looks for a file behind its checksum that is believed and is not what it would be
// written as.
func FuzzDecode(f *testing.F) {
	f.Add([]byte("inputs"), encode([]byte("inputs"), []byte("solved"))[:len(magic)+4+12])
	f.Add([]byte{}, encode(nil, nil)[:len(magic)+4])
	f.Add([]byte("other"), encode([]byte("inputs"), []byte("solved"))[:len(magic)+4+12])
	f.Fuzz(func(t *testing.T, inputs, body []byte) {
		file := seal(bytes.Clone(body))
		solved, ok := decode(file, inputs)
		if ok && !bytes.Equal(encode(inputs, solved), file) {
			t.Errorf("%q is believed for %q", file, inputs)
		}
		if solved, ok := decode(body, inputs); ok && !bytes.Equal(encode(inputs, solved), body) {
			t.Errorf("%q is believed without its checksum", body)
		}
	})
}
