package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
)

var _ pflag.Value = (*number)(nil)

// number is the value of a flag that takes a whole number within bounds.
type number struct {
	to          *int
	least, most int
}

// newNumber makes the value of a flag that takes a whole number from least to
// most, and sets *to to the default.
func newNumber(to *int, least, most, usual int) *number {
	*to = usual
	return &number{to, least, most}
}

func (w *number) Set(text string) error {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n < w.least || n > w.most {
		return fmt.Errorf("%q, want a whole number from %d to %d", text, w.least, w.most)
	}
	*w.to = n
	return nil
}

func (w *number) String() string { return strconv.Itoa(*w.to) }
func (w *number) Type() string   { return "number" }
