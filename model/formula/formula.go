// Package formula writes a formula once: printed with its symbols, printed with the
// values of an object put in, and worked out, it is the same line.
//
// Factors side by side are multiplied, as are those on either side of a lone x; products
// and quotients go from left to right. There are + - / ^, brackets, pi, sqrt and acos. A
// comma ends one equation or expression and begins the next.
//
//	P_h = 4 (u I{hover} + P_idle) + P_av, "u as for the throttle"
//
// Words are in quotes, which are not printed. A name may have spaces in it. What is in
// braces tells a symbol from others that are printed alike and is not printed itself:
// I{hover}.
package formula

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Symbol is one symbol of formulas about a T.
type Symbol[T any] struct {
	Name string          // as formulas have it, with its braces
	Of   func(T) float64 // in SI units; where it is nil, Is says it
	Is   string          // a formula that replaces it in place of a number
	Per  float64         // what one SI unit is in the unit that is put in; 0 for 1
	Put  string          // how the number is put in, "@/60"; "" for "@"
	Show string          // what is printed for it among symbols, "57 m/s" for a constant; "" for the name
	One  bool            // left out where the number is 1
}

// Notation is the symbols that formulas about a T are written in.
type Notation[T any] struct {
	symbols map[string]*Symbol[T]
	names   []string // the longest first
}

// New gathers symbols. It panics where two have one name, which would be a mistake in
// the program.
func New[T any](symbols ...Symbol[T]) *Notation[T] {
	n := &Notation[T]{symbols: map[string]*Symbol[T]{}}
	for i := range symbols {
		s := &symbols[i]
		if n.symbols[s.Name] != nil {
			panic("formula: two symbols are called " + s.Name)
		}
		n.symbols[s.Name] = s
		n.names = append(n.names, s.Name)
	}
	slices.SortFunc(n.names, func(a, b string) int { return len(b) - len(a) })
	return n
}

// Formula is one that has been read.
type Formula[T any] struct {
	notation *Notation[T]
	text     string // with its symbols
	parts    []part
}

// part is an equation, or an expression alone.
type part struct{ left, right *node }

// Parse reads a formula. The error says what is wrong where.
func (n *Notation[T]) Parse(text string) (*Formula[T], error) {
	p := &parser[T]{Notation: n, text: text, left: text}
	f := &Formula[T]{notation: n}
	err := p.catch(func() {
		for p.next(); p.token.kind != end; {
			f.parts = append(f.parts, p.part()...)
		}
	})
	f.text = p.shown.String()
	return f, err
}

// String is the formula with its symbols.
func (f *Formula[T]) String() string { return f.text }

// Solved says whether the formula gives the number of a symbol, printed like this, by
// an expression that stands alone or to the right of that symbol.
func (f *Formula[T]) Solved(symbol string) bool { return f.solution(symbol) != nil }

func (f *Formula[T]) solution(symbol string) *node {
	var out *node
	for _, p := range f.parts {
		switch {
		case p.left == nil && out == nil:
			out = p.right
		case p.left != nil && p.left.kind == name && printed(p.left.text) == symbol:
			return p.right
		}
	}
	return out
}

// Put is the expression that gives the number of a symbol with the values of x put in,
// to five digits; "" where the formula is not solved for it.
func (f *Formula[T]) Put(symbol string, x T) string {
	e := f.solution(symbol)
	if e == nil {
		return ""
	}
	text, _ := f.notation.put(e, x)
	return text
}

// Value works the same expression out in SI units; NaN where there is none.
func (f *Formula[T]) Value(symbol string, x T) float64 {
	e := f.solution(symbol)
	if e == nil {
		return math.NaN()
	}
	return f.notation.value(e, x)
}

// Equations gives both sides of each equation of the formula in SI units.
func (f *Formula[T]) Equations(x T) [][2]float64 {
	var out [][2]float64
	for _, p := range f.parts {
		if p.left != nil {
			out = append(out, [2]float64{f.notation.value(p.left, x), f.notation.value(p.right, x)})
		}
	}
	return out
}

// must reads what a symbol is put in by.
func (n *Notation[T]) must(text string) *node {
	f, err := n.Parse(text)
	if err != nil {
		panic(err)
	}
	return f.parts[0].right
}

// How strongly an expression holds together: a weaker one is put in brackets.
const (
	sum = iota
	product
	power
	atom
	nothing // a factor of 1 that is left out
)

// put prints an expression with the values of x, and how strongly it holds together.
func (n *Notation[T]) put(e *node, x T) (string, int) {
	side := func(e *node, least int) string {
		text, holds := n.put(e, x)
		if holds < least {
			return "(" + text + ")"
		}
		return text
	}
	switch e.kind {
	case number:
		return e.text, atom
	case bracket:
		text, holds := n.put(e.a, x)
		if holds < atom {
			text = "(" + text + ")"
		}
		return text, atom
	case function:
		text, _ := n.put(e.a, x)
		return e.text + "(" + text + ")", atom
	case name:
		return n.putSymbol(n.symbols[e.text], x)
	}
	switch e.text {
	case "+":
		return side(e.a, sum) + " + " + side(e.b, sum), sum
	case "-":
		return side(e.a, sum) + " - " + side(e.b, product), sum
	case "^":
		return side(e.a, atom) + "^" + side(e.b, atom), power
	case "/":
		return side(e.a, product) + "/" + side(e.b, power), product
	}
	if text, holds := n.put(e.b, x); holds == nothing {
		return n.put(e.a, x)
	} else if _, other := n.put(e.a, x); other == nothing {
		return text, holds
	}
	return side(e.a, product) + " x " + side(e.b, product), product
}

func (n *Notation[T]) putSymbol(s *Symbol[T], x T) (string, int) {
	if s.Is != "" {
		return n.put(n.must(s.Is), x)
	}
	v := s.number(x)
	text := fmt.Sprintf("%.5g", v)
	switch {
	case s.One && text == "1":
		return "", nothing
	case s.Put == "":
		return text, atom
	}
	_, holds := n.put(n.must(strings.ReplaceAll(s.Put, "@", "2")), x)
	return strings.ReplaceAll(s.Put, "@", text), holds
}

// number is what is put in for a symbol.
func (s *Symbol[T]) number(x T) float64 {
	if s.Per == 0 {
		return s.Of(x)
	}
	return s.Of(x) * s.Per
}

// value works an expression out.
func (n *Notation[T]) value(e *node, x T) float64 {
	switch e.kind {
	case number:
		if e.text == "pi" {
			return math.Pi
		}
		v, _ := strconv.ParseFloat(e.text, 64) // the parser has read it
		return v
	case bracket:
		return n.value(e.a, x)
	case function:
		return functions[e.text](n.value(e.a, x))
	case name:
		s := n.symbols[e.text]
		if s.Of == nil {
			return n.value(n.must(s.Is), x)
		}
		return s.Of(x)
	}
	a, b := n.value(e.a, x), n.value(e.b, x)
	switch e.text {
	case "+":
		return a + b
	case "-":
		return a - b
	case "/":
		return a / b
	case "^":
		return math.Pow(a, b)
	}
	return a * b
}

var functions = map[string]func(float64) float64{"sqrt": math.Sqrt, "acos": math.Acos}

// printed is a name without its braces.
func printed(name string) string {
	before, _, _ := strings.Cut(name, "{")
	return before
}
