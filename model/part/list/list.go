// Package list reads the lists of parts that somebody owns or may buy: CSV with a header,
// a part in each row. Columns are named with their units, as "mass (g)" or mass_g, in any
// order; an empty field states nothing.
//
// A value that no such part has, by the regressions of the model and a wide margin, is
// most likely one in another unit or of another part, and is refused: see column.check
// and the checks of each kind.
package list

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"rotorsieve/model/part"
	"rotorsieve/model/record"
	"rotorsieve/model/table"
)

// Bounds on a list. A shop has some thousands of parts of a kind.
const (
	MaxParts = 10_000
	MaxName  = 64 // characters of a name: pictures and sheets are headed by it
)

// Motors reads motors. As with all lists: a line that starts with # is a comment; a byte
// order mark, either end of line and quoted fields are accepted; an error is one line that
// begins with name and line, names the column, and says what would be right.
func Motors(r io.Reader, name string) ([]part.Motor, error) { return motors.read(r, name) }

// Propellers reads propellers. Paths of their blade and stand files are as written.
func Propellers(r io.Reader, name string) ([]part.Propeller, error) { return propellers.read(r, name) }

// Packs reads packs.
func Packs(r io.Reader, name string) ([]part.Pack, error) {
	rows, err := packs.read(r, name)
	var all []part.Pack
	for i := range rows {
		all = append(all, rows[i].Pack)
	}
	return all, err
}

// Frames reads frames.
func Frames(r io.Reader, name string) ([]part.Frame, error) { return frames.read(r, name) }

// Boards reads boards that carry speed controllers.
func Boards(r io.Reader, name string) ([]part.Board, error) { return boards.read(r, name) }

// kind is one kind of list.
type kind[T any] struct {
	one, many string
	columns   []column[T]
	check     func(*T) *fault // what its values say together; nil for nothing
}

// fault is what is wrong with a part in a column.
type fault struct{ column, text string }

func amiss(column, format string, args ...any) *fault {
	return &fault{column, fmt.Sprintf(format, args...)}
}

// read reads a list to its end.
func (k *kind[T]) read(r io.Reader, name string) ([]T, error) {
	in := table.NewReader(r, name, "want fields that are quoted whole or not at all")
	in.Uneven()
	var all []T
	var at []*placed[T]
	lines := map[string]int{} // by name without upper case
	for {
		row, err := in.Next()
		if err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		line := in.Line()
		fail := func(err error) error { return fmt.Errorf("%s:%d: %w", name, line, err) }
		if at == nil {
			if at, err = k.header(row); err != nil {
				return nil, fail(err)
			}
			continue
		}
		if blank(row) {
			continue // as spreadsheets leave them
		}
		one, called, err := k.row(at, row)
		if err != nil {
			return nil, fail(err)
		}
		if before := lines[strings.ToLower(called)]; before != 0 {
			return nil, fail(fmt.Errorf("column name: %q is the %s of line %d, want each name once", called, k.one,
				before))
		}
		lines[strings.ToLower(called)] = line
		if all = append(all, one); len(all) > MaxParts {
			return nil, fail(fmt.Errorf("more than %d %s, want fewer in a file", MaxParts, k.many))
		}
	}
	switch {
	case at == nil:
		return nil, fmt.Errorf("%s:1: no header, want %s", name, k.wanted())
	case len(all) == 0:
		return nil, fmt.Errorf("%s: no %s below the header, want at least one", name, k.one)
	}
	return all, nil
}

func blank(row []string) bool {
	for _, field := range row {
		if strings.TrimSpace(field) != "" {
			return false
		}
	}
	return true
}

// row reads a part and its name.
func (k *kind[T]) row(at []*placed[T], row []string) (one T, name string, err error) {
	if len(row) != len(at) {
		return one, "", fmt.Errorf("%d fields where the header has %d, want as many: a point in numbers, and names "+
			"with a comma in quotes", len(row), len(at))
	}
	for i, field := range row {
		field = strings.TrimSpace(field)
		p := at[i]
		if p == nil {
			if field != "" {
				return one, "", fmt.Errorf("%.80q is in a column without a name, want one above it", field)
			}
			continue
		}
		if err := table.Plain(field); err != nil {
			return one, "", fmt.Errorf("column %s: %.80q: %w", p.shown, field, err)
		}
		if err := p.fill(&one, field); err != nil {
			return one, "", fmt.Errorf("column %s: %w", p.shown, err)
		}
		if p.column.name == "name" {
			name = field
		}
	}
	if f := k.check(&one); f != nil {
		for _, p := range at {
			if p != nil && p.column.name == f.column {
				return one, "", fmt.Errorf("column %s: %s", p.shown, f.text)
			}
		}
		return one, "", fmt.Errorf("%s", f.text)
	}
	return one, name, nil
}

// header finds the columns of a header; nil where a field of it is empty.
func (k *kind[T]) header(row []string) ([]*placed[T], error) {
	row[0] = strings.TrimPrefix(row[0], "\ufeff")
	for i := range row {
		if !utf8.ValidString(row[i]) || strings.ContainsRune(row[i], 0) {
			return nil, fmt.Errorf("column %d: %.80q is not UTF-8, want the file saved as CSV in UTF-8", i+1, row[i])
		}
		row[i] = strings.TrimSpace(row[i])
	}
	if by := record.Separated(row); by != "" {
		return nil, fmt.Errorf("the columns are separated by %s, want commas, and a point in numbers", by)
	}
	at := make([]*placed[T], len(row))
	seen := map[string]string{}
	for i, field := range row {
		if field == "" {
			continue // a column that a spreadsheet has left
		}
		p, err := k.place(field)
		if err != nil {
			return nil, err
		}
		if before, twice := seen[p.column.name]; twice {
			return nil, fmt.Errorf("columns %.80q and %.80q are the same, want one of them", before, field)
		}
		seen[p.column.name] = field
		at[i] = p
	}
	var lacking []string
	for i := range k.columns {
		if c := &k.columns[i]; c.needed && seen[c.name] == "" {
			lacking = append(lacking, c.header())
		}
	}
	if len(lacking) > 0 {
		return nil, fmt.Errorf("no column %s, want %s", strings.Join(lacking, ", "), k.wanted())
	}
	return at, nil
}

// wanted says what a header has at least.
func (k *kind[T]) wanted() string {
	var needed []string
	for i := range k.columns {
		if k.columns[i].needed {
			needed = append(needed, k.columns[i].header())
		}
	}
	return "a header with " + strings.Join(needed, ",")
}
