package list

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/model/table"
	"rotorsieve/model/unit"
)

// column is one of a list.
type column[T any] struct {
	name    string
	meaning string
	needed  bool

	// A number has a kind, the unit that it usually has, and its range in SI units; one
	// that is bare is so of a header without a unit.
	kind  *unit.Kind
	usual string
	bare  bool
	bound model.Bound
	put   func(*T, float64)
	has   func(*T) part.Stated // what a part states of it

	byRate bool // it may have been stated as another column, whose bounds hold then
	called func(*T) string

	text func(*T, string) error // what reads one that is no number; nil for a note
}

// stated is a number that a part may state.
func stated[T any](name, usual string, kind *unit.Kind, least, most float64, meaning string,
	at func(*T) *part.Stated) column[T] {
	u := kind.Unit(usual)
	return column[T]{name: name, meaning: meaning, kind: kind, usual: usual, bound: model.Bound{Min: u.ToSI(least),
		Max: u.ToSI(most)}, put: func(t *T, v float64) { *at(t) = part.Stated{Value: v, Known: true} },
		has: func(t *T) part.Stated { return *at(t) }}
}

// number is a number that makes the part.
func number[T any](name, usual string, kind *unit.Kind, bound model.Bound, meaning string,
	put func(*T, float64), of func(*T) float64) column[T] {
	return column[T]{name: name, meaning: meaning, needed: true, kind: kind, usual: usual, bound: bound, put: put,
		has: func(t *T) part.Stated { return part.Stated{Value: of(t), Known: true} }}
}

// alone is the column with a header without a unit: there is but one, or the name says it.
func (c column[T]) alone() column[T] {
	c.bare = true
	return c
}

// named is the column of names.
func named[T any](at func(*T) *string) column[T] {
	return column[T]{name: "name", needed: true, meaning: "as you call it, each once",
		called: func(t *T) string { return *at(t) },
		text: func(t *T, text string) error {
			*at(t) = text
			return checkName(text)
		}}
}

// noted is a column that is passed over.
func noted[T any]() column[T] {
	return column[T]{name: "note", meaning: "anything; it is passed over"}
}

// mostPrice is a bound against what is no price.
const mostPrice = 1e6

// priced is the column of prices.
func priced[T any](at func(*T) *part.Stated) column[T] {
	return column[T]{name: "price", meaning: "of one; all prices are in one currency, which is not named",
		bound: model.Bound{Min: 0, Max: mostPrice}, has: func(t *T) part.Stated { return *at(t) },
		text: func(t *T, text string) error {
			v, err := unit.Ratio.Parse(text)
			if err != nil || strings.HasSuffix(text, "%") || v < 0 || v > mostPrice {
				return fmt.Errorf("%.80q, want a price of 0 to %d such as 12.90, without a currency", text,
					int(mostPrice))
			}
			*at(t) = part.Stated{Value: v, Known: true}
			return nil
		}}
}

// checkName refuses a name that a spreadsheet would take for a formula, or that is too long
// for a title.
func checkName(name string) error {
	seen := strings.TrimLeftFunc(name, func(r rune) bool { return unicode.Is(unicode.Cf, r) }) // of no width
	if seen == "" {
		return fmt.Errorf("%.80q: nothing of the name is seen, want letters or digits", name)
	}
	if first, _ := utf8.DecodeRuneInString(seen); strings.ContainsRune("=+-@＝＋－＠", first) {
		return fmt.Errorf("%.80q begins with %c, which a spreadsheet takes for a formula, want a letter or digit first",
			name, first)
	}
	if n := utf8.RuneCountInString(name); n > MaxName {
		return fmt.Errorf("%.80q: a name of %d characters, want up to %d", name, n, MaxName)
	}
	return nil
}

// orRate is the column of a current that may be stated as a rate in its place.
func (c column[T]) orRate() column[T] {
	c.byRate = true
	return c
}

// header is how the column is usually headed.
func (c *column[T]) header() string {
	if c.kind == nil || c.bare || c.usual == "" {
		return c.name
	}
	return c.name + " (" + c.usual + ")"
}

// placed is a column where a file has it.
type placed[T any] struct {
	column *column[T]
	kind   *unit.Kind // with the unit of the header
	shown  string     // as the file heads it
}

// spaced takes a header's _, - and runs of space as one space.
func spaced(text string) string {
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '_' || r == '-' }), " ")
}

// place finds the column that a header is of.
func (k *kind[T]) place(head string) (*placed[T], error) {
	shown := fmt.Sprintf("%.80q", head)
	name, symbol, parted := head, "", false
	if open := strings.LastIndexByte(head, '('); open > 0 && strings.HasSuffix(head, ")") {
		name, symbol, parted = head[:open], strings.TrimSpace(head[open+1:len(head)-1]), true
	}
	for i := range k.columns {
		c := &k.columns[i]
		if strings.EqualFold(spaced(name), c.name) {
			return c.in(symbol, parted, shown)
		}
		if parted || c.kind == nil {
			continue
		}
		for _, u := range c.kind.Units() {
			before, ends := strings.CutSuffix(head, "_"+u.Symbol)
			if u.Symbol != "" && ends && strings.EqualFold(spaced(before), c.name) {
				return c.in(u.Symbol, true, shown)
			}
		}
	}
	var names []string
	for i := range k.columns {
		names = append(names, k.columns[i].header())
	}
	want := "want columns of " + strings.Join(names, ", ")
	if c := k.near(name); c != nil {
		want = "did you mean " + c.header() + "? A column headed note is passed over"
	}
	return nil, fmt.Errorf("no column %s of %s, %s", shown, k.many, want)
}

// near is the column that a name most likely means, be it without its last word, which may
// have been a unit; nil for none.
func (k *kind[T]) near(name string) *column[T] {
	var names []string
	for i := range k.columns {
		names = append(names, k.columns[i].name)
	}
	words := strings.Fields(spaced(name))
	for n := len(words); n > 0; n-- {
		typed := strings.Join(words[:n], " ")
		if found, ok := table.Nearest(typed, names); ok {
			return &k.columns[slices.Index(names, found)]
		}
	}
	return nil
}

// in is the column in the unit of a symbol.
func (c *column[T]) in(symbol string, parted bool, shown string) (*placed[T], error) {
	p := &placed[T]{column: c, kind: c.kind, shown: shown}
	switch {
	case parted && c.name == "price":
		return nil, fmt.Errorf("column %s: no currency is read or changed, want price alone and all prices in one",
			shown)
	case c.kind == nil && parted, parted && c.symbols() == "":
		return nil, fmt.Errorf("column %s: %s has no unit, want %s alone", shown, c.name, c.name)
	case c.kind == nil:
		return p, nil
	case !parted:
		if !c.bare {
			return nil, fmt.Errorf("column %s names no unit, want it in one of %s, such as %s or %s_%s", shown,
				c.symbols(), c.header(), strings.ReplaceAll(c.name, " ", "_"), c.usual)
		}
		if c.usual != "" {
			p.kind = c.kind.WithDefault(c.usual)
		}
		return p, nil
	}
	for _, u := range c.kind.Units() {
		if u.Symbol == symbol && symbol != "" {
			p.kind = c.kind.WithDefault(symbol)
			return p, nil
		}
	}
	return nil, fmt.Errorf("column %s: %.20q is no unit of %s, want %s", shown, symbol, c.kind.Name(), c.symbols())
}

// symbols lists the units that the column may be in.
func (c *column[T]) symbols() string {
	var out []string
	for _, u := range c.kind.Units() {
		if u.Symbol != "" {
			out = append(out, u.Symbol)
		}
	}
	return strings.Join(out, ", ")
}

// decimalComma is a number as half of the world writes it, or with its thousands parted.
var decimalComma = regexp.MustCompile(`^[+-]?[0-9]+(,[0-9]+)+`)

// fill puts what a field holds into a part.
func (p *placed[T]) fill(to *T, field string) error {
	c := p.column
	switch {
	case field == "" && c.needed && c.kind == nil:
		return errors.New("empty, want a " + c.name)
	case field == "" && c.needed:
		_, err := p.kind.Parse("") // which says what would be right
		return err
	case field == "":
		return nil
	case c.name != "name" && decimalComma.MatchString(field):
		return fmt.Errorf("%.80q has a comma, want a point before decimals and nothing between thousands", field)
	case c.kind != nil:
		return p.number(to, field)
	case c.text != nil:
		return c.text(to, field)
	}
	return nil
}

// number puts a number into a part, in the unit of the header or in its own.
func (p *placed[T]) number(to *T, field string) error {
	c := p.column
	v, err := p.kind.Parse(field)
	if err != nil {
		return err
	}
	if !c.bound.Contains(v) {
		return fmt.Errorf("%.80q is out of bounds, want %s to %s", field, p.kind.Text(c.bound.Min),
			p.kind.Text(c.bound.Max))
	}
	c.put(to, v)
	return nil
}
