package record

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model/table"
	"rotorsieve/model/unit"
)

var header = []string{"kind", "key", "quantity", "value", "unit", "sigma"}

// Header is the first line of a file of records.
var Header = strings.Join(header, ",")

// Read reads records. Lines that start with # are comments, a byte order mark and
// either end of line are accepted. An error is one line that starts with name and
// line and says what would be right; records that contradict each other are an error,
// see Contradiction. Lines whose value is empty are to be filled in yet: they are left out.
func Read(r io.Reader, name string) ([]Record, error) {
	all, _, err := ReadPlan(r, name)
	return all, err
}

// ReadPlan is Read that counts the lines whose value is empty. A file of nothing else is an error.
func ReadPlan(r io.Reader, name string) (all []Record, empty int, err error) {
	all, empty, err = read(r, name)
	if err == nil {
		err = Contradiction(all)
	}
	return all, empty, err
}

func read(r io.Reader, name string) (all []Record, empty int, err error) {
	in := table.NewReader(r, name, "want fields that are quoted whole or not at all")
	in.Uneven()
	started := false
	for {
		row, err := in.Next()
		if err == io.EOF {
			break
		} else if err != nil {
			return nil, 0, err
		}
		line := in.Line()
		for i := range row {
			row[i] = strings.TrimSpace(row[i])
		}
		if !started {
			row[0] = strings.TrimPrefix(row[0], "\ufeff")
			if strings.HasPrefix(row[0], "#") || row[0] == "" && len(row) == 1 {
				continue // a comment after the byte order mark
			}
			if by := Separated(row); by != "" {
				return nil, 0, fmt.Errorf("%s:%d: the columns are separated by %s, want commas", name, line, by)
			}
			if !slices.Equal(row, header) {
				return nil, 0, fmt.Errorf("%s:%d: header %.80q; want %s", name, line, strings.Join(row, ","), Header)
			}
			started = true
			continue
		}
		if strings.HasPrefix(row[0], "#") {
			continue // a comment that a spreadsheet has put in quotes
		}
		one, err := parse(row)
		one.Place = fmt.Sprintf("%s:%d", name, line)
		if err != nil {
			return nil, 0, fmt.Errorf("%s: %w", one.Place, err)
		}
		if one.Value == 0 {
			empty++
			continue
		}
		all = append(all, one)
	}
	switch {
	case !started:
		return nil, 0, fmt.Errorf("%s:1: no header; want %s", name, Header)
	case len(all) == 0 && empty > 0:
		return nil, empty, fmt.Errorf("%s: none of its %d values is filled in; want at least one", name, empty)
	case len(all) == 0:
		const such = "propeller,5x4x3,CT at 20000rpm,0.12,1,3 %"
		return nil, 0, fmt.Errorf("%s: no record below the header; want at least one, such as %s", name, such)
	}
	return all, empty, nil
}

// Separated names what separates the columns of a header without commas: semicolons or
// tabs; "" where it is neither.
func Separated(header []string) string {
	switch {
	case len(header) != 1:
	case strings.Contains(header[0], ";"):
		return "semicolons"
	case strings.Contains(header[0], "\t"):
		return "tabs"
	}
	return ""
}

// parse reads the fields of a line. The value is 0 where the line has none yet; all else is
// checked.
func parse(row []string) (r Record, err error) {
	if len(row) != len(header) {
		return r, fmt.Errorf("%d fields; want %d: %s", len(row), len(header), Header)
	}
	kind, key, quantity, value, symbol, sigma := row[0], row[1], row[2], row[3], row[4], row[5]
	if !slices.Contains(Kinds, kind) {
		return r, fmt.Errorf("kind %.80q; want one of %s", kind, strings.Join(Kinds, ", "))
	}
	if r.Subject, err = parseKey(kind, key); err != nil {
		return r, err
	}
	if r.Quantity, r.At, err = parseQuantity(kind, quantity); err != nil {
		return r, err
	}
	if _, err = r.Quantity.unitOf(symbol); err != nil {
		return r, err
	}
	if r.Unit = symbol; symbol == "" {
		r.Unit = r.Quantity.symbol()
	}
	if value == "" {
		return r, nil
	}
	if r.Value, err = r.number(value); err != nil || !(r.Value > 0) {
		return r, fmt.Errorf("value %.80q; want a positive number", value)
	}
	if share, ok := strings.CutSuffix(sigma, "%"); ok {
		v, err := unit.Ratio.Parse(strings.TrimSpace(share) + "%")
		if err != nil {
			return r, wantSigma(sigma)
		}
		r.Sigma = v * r.Value
	} else if r.Sigma, err = r.number(sigma); err != nil {
		return r, wantSigma(sigma)
	}
	if !(r.Sigma >= 0) {
		return r, wantSigma(sigma)
	}
	return r, r.check()
}

func wantSigma(text string) error {
	return fmt.Errorf("sigma %.80q; want it at least 0, in the unit of the value or as a per cent of it, such as 3 %%",
		text)
}

// number reads a number in the unit of the record.
func (r *Record) number(text string) (float64, error) {
	if _, err := strconv.ParseFloat(text, 64); err != nil { // no unit of its own
		return 0, err
	}
	u, _ := r.unit()
	return r.Quantity.of.Parse(text + u.Symbol)
}

// Write writes records as Read takes them, each in its unit. It errs where Read would
// refuse a record.
func Write(w io.Writer, all []Record) error {
	out := csv.NewWriter(w)
	if err := out.Write(header); err != nil {
		return err
	}
	for i := range all {
		r := &all[i]
		if err := r.check(); err != nil {
			return fmt.Errorf("record %s %s: %w", r.Subject.Kind, r.Subject.Key(), err)
		}
		if err := out.Write(r.row()); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Planned is a record that is to be measured: its Value and Sigma are not known yet.
type Planned struct {
	Record
	Usual float64 // uncertainty over the value that such a measurement has; 0 up to 1
	Note  string  // what stands in a comment before it; "" for none
}

// Sound says why no such record could be read back; nil where it could.
func (p *Planned) Sound() error {
	some := p.Record
	some.Value, some.Sigma = 1, p.Usual
	return some.check()
}

// WritePlan writes records whose values are to be filled in, below comments. Read takes the
// file with some of them filled in.
func WritePlan(w io.Writer, comments []string, all []Planned) error {
	for _, c := range comments {
		if _, err := fmt.Fprintln(w, "# "+oneLine(c)); err != nil {
			return err
		}
	}
	out := csv.NewWriter(w)
	if err := out.Write(header); err != nil {
		return err
	}
	for i := range all {
		p := &all[i]
		if err := p.Sound(); err != nil {
			return fmt.Errorf("record %s %s: %w", p.Subject.Kind, p.Subject.Key(), err)
		}
		if p.Note != "" {
			out.Flush()
			if _, err := fmt.Fprintln(w, "# "+oneLine(p.Note)); err != nil {
				return err
			}
		}
		_, symbol := p.unit()
		err := out.Write([]string{p.Subject.Kind, p.Subject.Key(), p.quantity(), "", symbol,
			strconv.FormatFloat(100*p.Usual, 'g', 4, 64) + " %"})
		if err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// oneLine keeps a comment one.
func oneLine(text string) string {
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }), " ")
}

// row is the fields of a record, in its unit where value and uncertainty are read
// back to the last bit from it, and in the SI unit otherwise.
func (r *Record) row() []string {
	q := *r
	value, ok1 := q.text(q.Value)
	sigma, ok2 := q.text(q.Sigma)
	if !ok1 || !ok2 {
		q.Unit = q.Quantity.of.SI().Symbol
		value, _ = q.text(q.Value)
		sigma, _ = q.text(q.Sigma)
	}
	_, symbol := q.unit()
	return []string{q.Subject.Kind, q.Subject.Key(), q.quantity(), value, symbol, sigma}
}

// text is a value in the unit of the record with as few digits as read back to
// the same, and whether there are such.
func (r *Record) text(v float64) (string, bool) {
	u, _ := r.unit()
	for digits := 1; digits <= 17; digits++ {
		text := u.Number(v, digits)
		if back, err := r.number(text); err == nil && back == v {
			return text, true
		}
	}
	return u.Number(v, 0), false
}
