package sheet

import (
	"rotorsieve/report/sheet/xlsx"
)

// headColumns writes the heads of a table of designs after those that come first.
func headColumns(p *xlsx.Page, columns []answer, first ...string) {
	heads := first
	var numbers []int
	for _, c := range columns {
		heads = append(heads, c.head)
		if c.number != "" {
			numbers = append(numbers, len(heads))
		}
	}
	p.Head(heads, numbers...)
}
