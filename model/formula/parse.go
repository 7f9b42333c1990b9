package formula

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

type kind int

const (
	end kind = iota
	words
	number
	name
	function
	bracket
	operator // and all other characters
)

type token struct {
	kind kind
	text string
}

// node is an expression: a number, a name, or an operator or a function of others.
type node struct {
	token
	a, b *node
}

// parser reads a formula and writes it as it is printed.
type parser[T any] struct {
	*Notation[T]
	text, left string
	token      token
	shown      strings.Builder
}

type wrong string

func (p *parser[T]) fail(format string, args ...any) {
	panic(wrong(fmt.Sprintf("formula %q: %s", p.text, fmt.Sprintf(format, args...))))
}

// catch turns what fail says into an error.
func (p *parser[T]) catch(read func()) (err error) {
	defer func() {
		if r := recover(); r != nil {
			text, ok := r.(wrong)
			if !ok {
				panic(r)
			}
			err = fmt.Errorf("%s", string(text))
		}
	}()
	read()
	return nil
}

// next reads the next token.
func (p *parser[T]) next() {
	rest := strings.TrimLeft(p.left, " ")
	space := p.left[:len(p.left)-len(rest)]
	p.left = rest
	take := func(k kind, n int, as string) {
		p.token = token{k, rest[:n]}
		if p.left = rest[n:]; as != "" {
			p.shown.WriteString(space + as)
		}
	}
	if rest == "" {
		p.token = token{}
		return
	}
	if rest[0] == '"' {
		n := strings.IndexByte(rest[1:], '"')
		if n < 0 {
			p.fail("the quote at %q has no end", rest)
		}
		take(words, n+2, rest[1:1+n])
		return
	}
	for _, s := range p.names {
		if strings.HasPrefix(rest, s) && !inName(rest[len(s):]) {
			as := printed(s)
			if show := p.symbols[s].Show; show != "" {
				as = show
			}
			take(name, len(s), as)
			return
		}
	}
	for f := range functions {
		if strings.HasPrefix(rest, f+"(") {
			take(function, len(f), f)
			return
		}
	}
	if n := strings.IndexFunc(rest, func(r rune) bool { return r != '.' && !unicode.IsDigit(r) }); n != 0 {
		if n < 0 {
			n = len(rest)
		}
		if _, err := strconv.ParseFloat(rest[:n], 64); err != nil {
			p.fail("%q is no number", rest[:n])
		}
		take(number, n, rest[:n])
		return
	}
	if strings.HasPrefix(rest, "pi") && !inName(rest[2:]) {
		take(number, 2, "pi")
		return
	}
	if strings.ContainsRune("+-/^(),=", rune(rest[0])) || rest[0] == 'x' && !inName(rest[1:]) {
		take(operator, 1, rest[:1])
		return
	}
	p.fail("no symbol is meant by %q", rest)
}

// inName says that a name would go on here.
func inName(rest string) bool {
	r, _ := utf8.DecodeRuneInString(rest)
	return rest != "" && (unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("_'{", r))
}

// is takes a character where it is next.
func (p *parser[T]) is(sign string) bool {
	if p.token != (token{operator, sign}) {
		return false
	}
	p.next()
	return true
}

// part reads up to the next comma.
func (p *parser[T]) part() (out []part) {
	p.words()
	if p.token.kind != end && p.token.text != "," {
		e := part{right: p.sum()}
		if p.is("=") {
			e.left, e.right = e.right, p.sum()
		}
		out = append(out, e)
	}
	p.words()
	if p.token.kind != end && !p.is(",") {
		p.fail("a sign is missing before %q", p.token.text+p.left)
	}
	return out
}

func (p *parser[T]) words() {
	for p.token.kind == words {
		p.next()
	}
}

func (p *parser[T]) sum() *node {
	e := p.product()
	for {
		sign := p.token
		if !p.is("+") && !p.is("-") {
			return e
		}
		e = &node{sign, e, p.product()}
	}
}

func (p *parser[T]) product() *node {
	e := p.power()
	for {
		switch t := p.token; {
		case p.is("/"):
			e = &node{t, e, p.power()}
		case p.is("x"), t.kind == number, t.kind == name, t.kind == function, t.text == "(":
			e = &node{token{operator, "x"}, e, p.power()}
		default:
			return e
		}
	}
}

func (p *parser[T]) power() *node {
	e := p.atom()
	if sign := p.token; p.is("^") {
		return &node{sign, e, p.atom()}
	}
	return e
}

func (p *parser[T]) atom() *node {
	t := p.token
	switch {
	case t.kind == number || t.kind == name:
		p.next()
		return &node{token: t}
	case t.kind == function:
		p.next()
		return &node{t, p.atom().a, nil}
	case p.is("("):
		e := &node{token{bracket, "("}, p.sum(), nil}
		if !p.is(")") {
			p.fail("a bracket is not closed before %q", p.token.text+p.left)
		}
		return e
	}
	p.fail("a number is missing before %q", t.text+p.left)
	return nil
}
