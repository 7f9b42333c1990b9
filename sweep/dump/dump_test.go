package dump

import (
	"bytes"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/parquet-go/parquet-go"
)

func table() *Table {
	return New([]Column{{Name: "zeta", Unit: "m"}, {Name: "alpha", Kind: Whole}, {Name: "mid", Kind: Text,
		Words: []string{"one", "two"}}, {Name: "flag", Kind: Flag}}, []Entry{{"of", "a test"}})
}

// Rows come back in their order over batches and groups of rows, columns in theirs, and what
// is not finite as null.
func TestRowsComeBack(t *testing.T) {
	const n = 2*rowGroup + batch + 7
	var b bytes.Buffer
	w := table().NewWriter(&b, Entry{"own", "yes"})
	for i := range n {
		v := []float64{float64(i) / 3, float64(i), float64(i % 2), float64(i % 3)}
		switch i % 100 {
		case 7:
			v[0] = math.NaN()
		case 8:
			v[0] = math.Inf(-1)
		}
		if err := w.Add(v); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil || w.Rows != n {
		t.Fatalf("%d rows: %v", w.Rows, err)
	}
	f, err := parquet.OpenFile(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	names := ""
	for _, c := range f.Schema().Columns() {
		names += c[0] + " "
	}
	if names != "zeta alpha mid flag " || f.NumRows() != n || len(f.RowGroups()) != 3 {
		t.Fatalf("columns %s, %d rows in %d groups", names, f.NumRows(), len(f.RowGroups()))
	}
	i := 0
	for _, g := range f.RowGroups() {
		rows := g.Rows()
		one := make([]parquet.Row, 100)
		for {
			got, err := rows.ReadRows(one)
			for _, r := range one[:got] {
				gone := i%100 == 7 || i%100 == 8
				if r[0].IsNull() != gone || !gone && r[0].Double() != float64(i)/3 || r[1].Int64() != int64(i) ||
					r[2].String() != []string{"one", "two"}[i%2] || r[3].Boolean() != (i%3 > 0) {
					t.Fatalf("row %d is %v", i, r)
				}
				i++
			}
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if err := rows.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if i != n {
		t.Errorf("%d rows came back of %d", i, n)
	}
}

// A file says what it is of; any part of one, and what is none, is refused.
func TestRead(t *testing.T) {
	var b bytes.Buffer
	w := table().NewWriter(&b, Entry{"own", "yes"})
	if err := errors.Join(w.Add([]float64{1, 2, 0, 1}), w.Close()); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "file")
	read := func(text []byte) (*About, error) {
		t.Helper()
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		return Read(path)
	}
	a, err := read(b.Bytes())
	if err != nil || a.Rows != 1 || a.Bytes != int64(b.Len()) || a.Of["of"] != "a test" || a.Of["own"] != "yes" {
		t.Errorf("%+v: %v", a, err)
	}
	for n := 0; n < b.Len(); n += 11 {
		if _, err := read(b.Bytes()[:n]); !errors.Is(err, ErrBroken) {
			t.Errorf("the first %d bytes are taken: %v", n, err)
		}
	}
	for n := 0; n < b.Len(); n += 11 { // any byte of another value ends in an error or in an answer, never in a panic
		other := bytes.Clone(b.Bytes())
		other[n] ^= 0x55
		if _, err := read(other); err != nil && !errors.Is(err, ErrBroken) {
			t.Errorf("byte %d: %v", n, err)
		}
	}
}
