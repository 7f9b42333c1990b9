package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// listHelp is the part of the help that says how lists are put together.
const listHelp = `Lists are written with commas. A flag of the design space that is given again
replaces its values: --kv 1300,1500 is both, --kv 1300 --kv 1500 the second
alone. Lists of other flags, such as --class and --measured, are added to when
the flag is given again within one flag file, or within the command line; a
later flag file or the command line replaces the list that came before it, but
for --require, which refines it. "none" empties a list that may be empty.`

var (
	_ pflag.Value = (*quantity)(nil)
	_ pflag.Value = (*axisValues)(nil)
	_ pflag.Value = (*list[sweep.Class])(nil)
	_ renewer     = (*list[sweep.Class])(nil)
)

// quantity is the value of a flag that takes one quantity with its unit.
type quantity struct {
	to     *float64
	kind   *unit.Kind
	bounds unit.Range
	text   string
	share  bool // of a whole, which is stated in per cent

	word  string  // taken in place of a quantity; "" for none
	means float64 // value that the word stands for
}

// newQuantity makes the value of a flag that takes a quantity of the given kind
// within bounds, and sets *to to the default. It panics where the default is
// not such a quantity.
func newQuantity(to *float64, kind *unit.Kind, bounds unit.Range, text string) *quantity {
	return newQuantityOr("", 0, to, kind, bounds, text)
}

// newQuantityOr is newQuantity, but the flag takes a word as well, such as
// "standard", that stands for a value.
func newQuantityOr(word string, means float64, to *float64, kind *unit.Kind, bounds unit.Range, text string) *quantity {
	q := &quantity{to: to, kind: kind, bounds: bounds, word: word, means: means}
	must(q.Set(text))
	return q
}

func (q *quantity) Set(text string) error {
	text = strings.TrimSpace(text)
	if q.word != "" && text == q.word {
		*q.to, q.text = q.means, text
		return nil
	}
	v, err := q.kind.Parse(text)
	if err != nil {
		if q.word != "" {
			return fmt.Errorf("%w, or %s", err, q.word)
		}
		return err
	}
	if err := q.bounds.Check(q.kind, v); err != nil {
		return fmt.Errorf("%q: %w%s", text, err, q.inPerCent(text, v))
	}
	*q.to, q.text = v, withUnit(text, q.kind)
	return nil
}

// inPerCent is what a number out of bounds may have meant of a share: that many per cent.
func (q *quantity) inPerCent(text string, v float64) string {
	const whole, hundred = 1, 100
	if !q.share || v <= whole || strings.HasSuffix(text, "%") || !q.bounds.Contains(v/hundred) {
		return ""
	}
	return ", such as " + text + "%"
}

// withUnit is a quantity as written, with the unit that a number alone has: who
// reads it later need not know the flag.
func withUnit(text string, kind *unit.Kind) string {
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return text + kind.Default().Symbol
	}
	return text
}

func (q *quantity) String() string { return q.text }
func (q *quantity) Type() string   { return strings.ReplaceAll(q.kind.Name(), " ", "-") }

func (q *quantity) offers() []string {
	if q.word == "" {
		return nil
	}
	return []string{q.word}
}

// axisValues is the value of a flag that takes the values of an axis.
type axisValues struct {
	to    *[]float64
	kind  *unit.Kind
	check func(v float64) error
	text  string
}

// newAxis makes the value of a flag that takes the values of an axis, each of
// which check must pass, and sets *to to the default. It panics where the
// default is no such axis.
func newAxis(to *[]float64, kind *unit.Kind, check func(v float64) error, text string) *axisValues {
	a := &axisValues{to: to, kind: kind, check: check}
	must(a.Set(text))
	return a
}

func (a *axisValues) Set(text string) error {
	text = strings.TrimSpace(text)
	values, err := unit.ParseAxis(a.kind, text)
	if err != nil {
		return err
	}
	for _, v := range values {
		if err := a.check(v); err != nil {
			return fmt.Errorf("%q: %w", text, err)
		}
	}
	*a.to, a.text = values, text
	return nil
}

func (a *axisValues) String() string { return a.text }
func (a *axisValues) Type() string   { return "values" }

// list is the value of a flag that takes a list of T.
type list[T any] struct {
	to    *[]T
	texts []string // of the items, as written
	fresh bool     // the next Set starts afresh
	anew  bool     // every Set does

	item  string          // what the help calls an item
	names []string        // that an item may begin with, see offerer
	more  func() []string // of such names, where they depend on other flags
	comma bool            // several items may stand in one text
	empty bool            // "none" is taken
	most  int             // items, 0 for any number
	parse func(text string) (T, error)
	clash func(a, b T) error // of two items that may not stand in one list
}

const none = "none"

func (l *list[T]) renew()       { l.fresh = true }
func (l *list[T]) renewAlways() { l.anew = true }

func (l *list[T]) Set(text string) error {
	var items []T
	var texts []string
	if !l.fresh && !l.anew {
		items, texts = append(items, *l.to...), append(texts, l.texts...)
	}
	text = strings.TrimSpace(text)
	parts := []string{text}
	if l.comma {
		parts = strings.Split(text, ",")
	}
	if l.empty && text == none {
		items, texts, parts = nil, nil, nil
	}
	for _, part := range parts {
		part = strings.TrimSpace(part)
		if l.empty && part == none {
			return fmt.Errorf("%q: none beside others, want it alone", text)
		}
		if part == "" {
			return fmt.Errorf("%q: nothing between two commas or at an end, want a %s there", text, l.item)
		}
		item, err := l.parse(part)
		if err != nil {
			return err
		}
		for i := range items {
			if err := l.clash(items[i], item); err != nil {
				return fmt.Errorf("%q beside %q: %w", part, texts[i], err)
			}
		}
		items, texts = append(items, item), append(texts, part)
	}
	if l.most > 0 && len(items) > l.most {
		return fmt.Errorf("%q makes %d, want up to %d", text, len(items), l.most)
	}
	*l.to, l.texts, l.fresh = items, texts, false
	return nil
}

// String is the list in one text, for the help. Items that hold commas
// themselves are parted by spaces.
func (l *list[T]) String() string {
	switch {
	case len(l.texts) == 0:
		return none
	case l.comma:
		return strings.Join(l.texts, ",")
	}
	return strings.Join(l.texts, " ")
}

func (l *list[T]) Type() string { return l.item }

func (l *list[T]) offers() []string {
	names := slices.Clone(l.names)
	if l.empty {
		names = append(names, none)
	}
	if l.more != nil {
		names = append(names, l.more()...)
	}
	return names
}

// GetSlice are the texts that, given to the flag one after the other, make the list
// again. By its name cobra knows a flag that may be given again.
func (l *list[T]) GetSlice() []string {
	if len(l.texts) == 0 {
		return []string{none}
	}
	return append([]string(nil), l.texts...)
}

// start sets the defaults, which the first Set by the user replaces.
func (l *list[T]) start(defaults ...string) *list[T] {
	*l.to = nil
	for _, text := range defaults {
		must(l.Set(text))
	}
	l.fresh = true
	return l
}

// unbounded admits every finite value.
var unbounded = unit.Range{Min: math.Inf(-1), Max: math.Inf(1)}

// must panics where a default of the program's own is wrong.
func must(err error) {
	if err != nil {
		panic("default of a flag: " + err.Error())
	}
}
