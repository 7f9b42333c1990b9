// Package table reads tables of comma-separated values that anybody can have written:
// within bounds, and with errors that say file and line and repeat little of either.
package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
)

// Bounds on a table. A stand that logs 50 rows a second for ten minutes writes 30 000
// rows of 6 MB; what is far beyond that is some other file.
const (
	MaxBytes = 16 << 20
	MaxRows  = 100_000 // below the header
	MaxCells = 256     // in a row; a stand logs a few dozen columns
	maxLine  = 64 << 10
)

// Reader reads a table row by row. Lines that start with # are comments, and space
// before a field is left out.
type Reader struct {
	in         *csv.Reader
	name, want string
	rows       int
}

// NewReader reads the table called name from r. An error that a row is badly formed ends
// in what is wanted, "want three fields".
func NewReader(r io.Reader, name, want string) *Reader {
	t := &Reader{in: csv.NewReader(&Lines{From: &bounded{from: r, name: name}, Name: name, Most: maxLine}), name: name,
		want: want}
	t.in.Comment = '#'
	t.in.TrimLeadingSpace = true
	return t
}

// Uneven lets rows have other numbers of fields than the first.
func (t *Reader) Uneven() { t.in.FieldsPerRecord = -1 }

// Next is the next row; the first is the header. At the end the error is io.EOF, and any
// other is one line that begins with the name of the table.
func (t *Reader) Next() ([]string, error) {
	row, err := t.in.Read()
	if err == io.EOF {
		return nil, err
	}
	if bad, ok := errors.AsType[*csv.ParseError](err); ok {
		return nil, fmt.Errorf("%s:%d: %v; %s", t.name, bad.Line, bad.Err, t.want)
	}
	if _, ok := errors.AsType[*boundError](err); ok {
		return nil, err
	} else if err != nil {
		return nil, fmt.Errorf("%s: %w", t.name, err)
	}
	if len(row) > MaxCells {
		return nil, fmt.Errorf("%s:%d: %d fields; want up to %d", t.name, t.Line(), len(row), MaxCells)
	}
	if t.rows++; t.rows > 1+MaxRows {
		return nil, fmt.Errorf("%s:%d: more than %d rows; want fewer, such as means of what was logged", t.name,
			t.Line(),
			MaxRows)
	}
	return row, nil
}

// Line is where the row that was read last begins, counted from 1.
func (t *Reader) Line() int {
	line, _ := t.in.FieldPos(0)
	return line
}

// boundError is a bound that a file does not keep.
type boundError struct{ text string }

func (e *boundError) Error() string { return e.text }

// bounded ends reading where a file is longer than those of tables.
type bounded struct {
	from io.Reader
	name string
	read int
}

func (b *bounded) Read(p []byte) (int, error) {
	n, err := b.from.Read(p)
	if b.read += n; b.read > MaxBytes {
		return 0, &boundError{fmt.Sprintf("%s: more than %d bytes; want a table", b.name, MaxBytes)}
	}
	return n, err
}

// Lines ends reading where a line is longer than those of the table called Name, so that
// what is read line by line takes no more memory than that.
type Lines struct {
	From io.Reader
	Name string
	Most int // bytes of a line

	lines, line int // so far, and bytes of the last
}

// Read reads from From. The error is From's, or names the line that is longer.
func (l *Lines) Read(p []byte) (int, error) {
	n, err := l.From.Read(p)
	rest := p[:n]
	for {
		end := bytes.IndexByte(rest, '\n')
		if l.line += len(rest); end >= 0 {
			l.line -= len(rest) - end
		}
		if l.line > l.Most {
			const text = "%s:%d: a line of more than %d bytes; want a table"
			return 0, &boundError{fmt.Sprintf(text, l.Name, l.lines+1, l.Most)}
		}
		if end < 0 {
			return n, err
		}
		l.line, rest = 0, rest[end+1:]
		l.lines++
	}
}
