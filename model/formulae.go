package model

import (
	"strings"

	"rotorsieve/model/formula"
	"rotorsieve/model/unit"
)

// Formula is where a number comes from, in the notation of package formula and the
// symbols of symbol.go. Text is what is printed of it. Solved gives the number where Text
// does not: where it is words, or an equation for something else; without it such a
// formula has no values to be put in.
type Formula struct{ Text, Solved string }

// symbols is a formula of symbols.
func symbols(text string) Formula { return Formula{Text: text} }

// solved is the formula with another that gives the number.
func (f Formula) solved(text string) Formula { return Formula{Text: f.Text, Solved: text} }

// words is a formula in words, or in symbols that no craft has values of.
func words(text string) Formula { return Formula{Text: `"` + text + `"`} }

// String is the formula with its symbols.
func (f Formula) String() string { return read(f.Text).String() }

// read reads a formula of the program, which TestFormulas holds to be right.
func read(text string) *formula.Formula[*Craft] {
	f, err := notation().Parse(text)
	if err != nil {
		panic(err)
	}
	return f
}

// solution is the formula that gives the number of a symbol.
func (f Formula) solution() *formula.Formula[*Craft] {
	if f.Solved != "" {
		return read(f.Solved)
	}
	return read(f.Text)
}

// put is the formula for the number of a symbol with the values of a craft put in,
// which comes to that number in u; "" where there is no such formula.
func (f Formula) put(symbol string, c *Craft, u unit.Unit) string {
	text := f.solution().Put(symbol, c)
	if into, ok := putInto[u.Symbol]; ok && text != "" {
		return strings.Replace(into, "@", text, 1)
	}
	return text
}

// putInto converts what comes out in SI units, a product, to other units.
var putInto = map[string]string{"%": "100 x @", "rpm": "60 x @", "kNm/m3": "@ x 10^6", "km": "@/1000"}

// FormulaText is the formula with the metric's symbol before it, unless it is an
// equation by itself.
func (m *Metric) FormulaText() string {
	text := m.Formula.String()
	if strings.Contains(text, "=") || text == m.Symbol {
		return text
	}
	return m.Symbol + " = " + text
}

// Worked is the formula with the values of a craft put in, which comes to the metric
// in its Unit; "" where the formula is words or the craft does not have the metric. The
// craft is as for Of.
func (m *Metric) Worked(c *Craft) string {
	if v := m.Of(c); v != v || m.Cap != 0 && v >= m.Cap {
		return ""
	}
	return m.Formula.put(m.Symbol, c, m.Unit)
}
