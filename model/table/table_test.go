package table

import (
	"io"
	"strings"
	"testing"
)

// all reads a table to its end.
func all(r io.Reader) (rows int, err error) {
	t := NewReader(r, "t.csv", "want two fields")
	for {
		if _, err := t.Next(); err == io.EOF {
			return rows, nil
		} else if err != nil {
			return rows, err
		}
		rows++
	}
}

// endless gives a text again and again.
type endless struct {
	text string
	at   int
}

func (e *endless) Read(p []byte) (n int, err error) {
	for n < len(p) {
		k := copy(p[n:], e.text[e.at:])
		e.at = (e.at + k) % len(e.text)
		n += k
	}
	return n, nil
}

// What is beyond the bounds of a table is refused in one line that says where, however much
// more there is.
func TestBounds(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", maxLine)
	for _, c := range []struct {
		what string
		from io.Reader
		rows int
		want string
	}{
		{"a table", strings.NewReader("# said\na,b\n1, 2\n"), 2, ""},
		{"a line as long as may be", strings.NewReader("a,b\n" + long[:maxLine-2] + ",2\n3,4"), 3, ""},
		{"a longer one", strings.NewReader("a,b\n1,2\n" + long[:maxLine-1] + ",2\n3,4"), -1,
			"t.csv:3: a line of more than 65536 bytes; want a table"},
		{"zeros", &endless{text: "\x00"}, 0, "t.csv:1: a line of more than 65536 bytes; want a table"},
		{"comments without end", &endless{text: "# a comment of some length\n"}, 0,
			"t.csv: more than 16777216 bytes; want a table"},
		{"a quote without end", io.MultiReader(strings.NewReader("a,b\n\""), &endless{text: "a\n"}), -1,
			"t.csv: more than 16777216 bytes; want a table"},
		{"rows without end", &endless{text: "1,2\n"}, 1 + MaxRows,
			"t.csv:100002: more than 100000 rows; want fewer, such as means of what was logged"},
		{"as many fields as may be", strings.NewReader(strings.Repeat(",", MaxCells-1) + "\n"), 1, ""},
		{"more", strings.NewReader(strings.Repeat(",", MaxCells) + "\n"), 0, "t.csv:1: 257 fields; want up to 256"},
		{"a row that is short", strings.NewReader("a,b\n1\n"), 1, "t.csv:2: wrong number of fields; want two fields"},
	} {
		rows, err := all(c.from)
		switch {
		case c.want == "" && err != nil, c.want != "" && (err == nil || err.Error() != c.want):
			t.Errorf("%s: %v, want %q", c.what, err, c.want)
		case c.rows >= 0 && rows != c.rows:
			t.Errorf("%s: %d rows, want %d", c.what, rows, c.rows)
		}
	}
}

// The bounds hold whatever pieces a reader gives.
func TestPieces(t *testing.T) {
	t.Parallel()
	text := "a,b\n" + strings.Repeat("1,2\n", 100) + strings.Repeat("y", maxLine) + ",2\n"
	_, err := all(strings.NewReader(text))
	if err == nil || !strings.HasPrefix(err.Error(), "t.csv:102: a line of more than") {
		t.Errorf("whole: %v", err)
	}
	_, again := all(struct{ io.Reader }{&slow{text: text}})
	if again == nil || again.Error() != err.Error() {
		t.Errorf("in pieces: %v, want %v", again, err)
	}
}

// slow gives a few bytes at a time.
type slow struct{ text string }

func (s *slow) Read(p []byte) (int, error) {
	if s.text == "" {
		return 0, io.EOF
	}
	n := copy(p[:min(len(p), 7)], s.text)
	s.text = s.text[n:]
	return n, nil
}
