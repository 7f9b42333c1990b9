// Package dump keeps tables of numbers in Parquet files: columns in their order, each with
// its unit, and what the table is of, in the metadata of the file. It knows nothing of designs.
package dump

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"

	"github.com/parquet-go/parquet-go"

	"rotorsieve/sweep/whole"
)

// Kind is what the values of a column are.
type Kind int

// Kinds of values. Only a Real may be missing, which a NaN stands for: in the file it is null.
const (
	Real  Kind = iota // binary64
	Whole             // 64 bits, signed
	Flag              // true or false
	Text              // one of the words of the column, by its place there
)

// Column is one column of a table.
type Column struct {
	Name    string // in snake_case
	Unit    string // "" for a pure number
	Title   string
	Meaning string
	Kind    Kind
	Words   []string // of Text
}

// Table is what all files of a dump have in common.
type Table struct {
	Columns []Column
	Of      []Entry // what the table is of, by key

	schema *parquet.Schema
}

// Entry is one piece of a file's metadata.
type Entry struct{ Key, Value string }

// New makes a table of columns, whose names must differ.
func New(columns []Column, of []Entry) *Table {
	t := &Table{Columns: columns, Of: of}
	root := ordered{Group: parquet.Group{}}
	for _, c := range columns {
		if root.Group[c.Name] != nil {
			panic("dump: column " + c.Name + " twice")
		}
		root.Group[c.Name] = c.node()
		root.names = append(root.names, c.Name)
	}
	t.schema = parquet.NewSchema("designs", root)
	return t
}

// node is the column in a schema. Words, and what few values are repeated of, are kept in
// a dictionary; numbers that all differ as they are.
func (c *Column) node() parquet.Node {
	switch c.Kind {
	case Whole:
		return parquet.Leaf(parquet.Int64Type)
	case Flag:
		return parquet.Leaf(parquet.BooleanType)
	case Text:
		return parquet.Encoded(parquet.String(), &parquet.RLEDictionary)
	}
	return parquet.Optional(parquet.Leaf(parquet.DoubleType))
}

// ordered is a group whose fields stand in their own order, not in that of the alphabet.
type ordered struct {
	parquet.Group
	names []string
}

// Fields lists the columns in their order.
func (o ordered) Fields() []parquet.Field {
	by := map[string]parquet.Field{}
	for _, f := range o.Group.Fields() {
		by[f.Name()] = f
	}
	var out []parquet.Field
	for _, n := range o.names {
		out = append(out, by[n])
	}
	return out
}

// How many rows a writer holds: of a batch, which goes to the columns at once, and of a group
// of rows of the file.
const batch, rowGroup = 1 << 9, 1 << 15

// Writer writes rows into a file.
type Writer struct {
	table *Table
	to    *parquet.GenericWriter[any]
	held  [][]parquet.Value // by column: a batch of rows
	group int               // rows of the group that the file is at
	Rows  int64             // so far
}

// NewWriter begins a file with entries of its own beside those of the table.
func (t *Table) NewWriter(to io.Writer, own ...Entry) *Writer {
	options := []parquet.WriterOption{t.schema, parquet.Compression(&parquet.Snappy),
		parquet.CreatedBy("rotorsieve", "1.0.0", "1")}
	for _, e := range append(append([]Entry{}, t.Of...), own...) {
		options = append(options, parquet.KeyValueMetadata(e.Key, e.Value))
	}
	options = append(options, parquet.KeyValueMetadata("columns", t.described()))
	return &Writer{table: t, to: parquet.NewGenericWriter[any](to, options...),
		held: make([][]parquet.Value, len(t.Columns))}
}

// described says of each column what it is, as JSON.
func (t *Table) described() string {
	type column struct {
		Name    string `json:"name"`
		Unit    string `json:"unit"`
		Title   string `json:"title"`
		Meaning string `json:"meaning"`
	}
	var all []column
	for _, c := range t.Columns {
		all = append(all, column{c.Name, c.Unit, c.Title, c.Meaning})
	}
	b, err := json.Marshal(all)
	if err != nil {
		panic(err) // strings alone
	}
	return string(b)
}

// Add writes a row of one number for each column: a flag is 0 or 1, a word its place.
func (w *Writer) Add(values []float64) error {
	for i, v := range values {
		c := &w.table.Columns[i]
		var x parquet.Value
		switch {
		case c.Kind == Whole:
			x = parquet.Int64Value(int64(v))
		case c.Kind == Flag:
			x = parquet.BooleanValue(v != 0)
		case c.Kind == Text:
			x = parquet.ByteArrayValue([]byte(c.Words[int(v)]))
		case math.IsNaN(v) || math.IsInf(v, 0):
			x = parquet.NullValue()
		default:
			x = parquet.DoubleValue(v).Level(0, 1, i)
		}
		w.held[i] = append(w.held[i], x)
	}
	w.Rows++
	if len(w.held[0]) < batch {
		return nil
	}
	return w.pass()
}

// pass gives the columns what is held.
func (w *Writer) pass() error {
	n := len(w.held[0])
	for i, c := range w.to.ColumnWriters() {
		if _, err := c.WriteRowValues(w.held[i]); err != nil {
			return err
		}
		w.held[i] = w.held[i][:0]
	}
	if w.group += n; w.group < rowGroup {
		return nil
	}
	w.group = 0
	return w.to.Flush()
}

// Close ends the file; without it there is none.
func (w *Writer) Close() error {
	if err := w.pass(); err != nil {
		return err
	}
	return w.to.Close()
}

// About is what a file says of itself.
type About struct {
	Rows  int64
	Bytes int64
	Of    map[string]string
}

// ErrBroken says that a file is not one that a Writer has written to its end.
var ErrBroken = errors.New("is damaged, or no Parquet file")

// Read reads what a file says of itself, of its rows nothing.
func Read(path string) (*About, error) {
	f, err := whole.Open(path, math.MaxInt64)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return about(f)
}

func about(f *os.File) (a *About, err error) {
	defer func() { // the reader indexes by what it has read
		if r := recover(); r != nil {
			a, err = nil, fmt.Errorf("%w: %v", ErrBroken, r)
		}
	}()
	there, err := f.Stat()
	if err != nil {
		return nil, err
	}
	p, err := parquet.OpenFile(f, there.Size(), parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true))
	if err != nil {
		return nil, fmt.Errorf("%w", ErrBroken)
	}
	a = &About{Rows: p.NumRows(), Bytes: there.Size(), Of: map[string]string{}}
	for _, x := range p.Metadata().KeyValueMetadata {
		a.Of[x.Key] = x.Value
	}
	return a, nil
}
