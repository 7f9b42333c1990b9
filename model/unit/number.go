package unit

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
)

// Numbers are kept exact until the last step, so their text must be bounded.
const (
	maxNumber   = 40  // characters
	maxExponent = 350 // decimal
)

// cut splits text into the decimal number it starts with, "" if none, and the
// rest. An e is an exponent only where digits follow it.
func cut(text string) (number, rest string) {
	i := sign(text, 0)
	whole := digits(text, i)
	end := whole
	if end < len(text) && text[end] == '.' {
		end = digits(text, end+1)
	}
	if end-i == 0 || text[i:end] == "." {
		return "", text
	}
	if end < len(text) && (text[end] == 'e' || text[end] == 'E') {
		j := sign(text, end+1)
		if k := digits(text, j); k > j {
			end = k
		}
	}
	return text[:end], strings.TrimSpace(text[end:])
}

func sign(s string, i int) int {
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	return i
}

func digits(s string, i int) int {
	for i < len(s) && '0' <= s[i] && s[i] <= '9' {
		i++
	}
	return i
}

// decimal gives the exact value of a number that cut found in text.
func decimal(text, number string) (*big.Rat, error) {
	if len(number) > maxNumber {
		return nil, fmt.Errorf("%.20q...: a number of %d characters, want at most %d", text, len(number), maxNumber)
	}
	if i := strings.IndexAny(number, "eE"); i >= 0 {
		e, err := strconv.Atoi(number[i+1:])
		if err != nil || e < -maxExponent || e > maxExponent {
			return nil, fmt.Errorf("%q: exponent beyond %d, want a smaller one", text, maxExponent)
		}
	}
	v, ok := new(big.Rat).SetString(number)
	if !ok {
		return nil, fmt.Errorf("%q: %q is not a number", text, number)
	}
	return v, nil
}
