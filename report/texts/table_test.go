package texts

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestFit(t *testing.T) {
	t.Parallel()
	columns := []Column{
		{Head: "aaaa", Cells: []string{"1"}},
		{Head: "bbbb", Cells: []string{"2"}, Need: 1},
		{Head: "cccc", Cells: []string{"3"}, Need: 2},
	}
	for _, c := range []struct {
		width, kept, gap int
		out              []string
	}{
		{16, 3, 2, nil},
		{15, 3, 1, nil},
		{14, 3, 1, nil},
		{13, 2, 2, []string{"cccc"}},
		{9, 2, 1, []string{"cccc"}},
		{8, 1, 2, []string{"cccc", "bbbb"}},
		{1, 1, 1, []string{"cccc", "bbbb"}},
	} {
		kept, gap, out := Fit(columns, c.width)
		if len(kept) != c.kept || gap != c.gap || !slices.Equal(out, c.out) {
			t.Errorf("width %d keeps %d columns with gaps of %d and leaves out %v, want %d, %d and %v",
				c.width, len(kept), gap, out, c.kept, c.gap, c.out)
		}
	}
	columns[1].Named = true
	for width, want := range map[int]int{16: 3, 15: 3, 14: 2} {
		if kept, _, _ := Fit(columns, width); len(kept) != want {
			t.Errorf("width %d keeps %d columns of which one has names, want %d", width, len(kept), want)
		}
	}
	if columns[1].Head != "bbbb" || len(columns) != 3 {
		t.Error("Fit changed its argument")
	}
}

func TestTableLines(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what    string
		columns []Column
		gap     int
		want    []string
	}{
		{"no column", nil, 2, []string{""}},
		{"words and numbers", []Column{
			{Head: "what", Left: true, Cells: []string{"a", "longer"}},
			{Head: "n", Cells: []string{"1", "10.5"}},
		}, 2, []string{
			"what       n",
			"a          1",
			"longer  10.5",
		}},
		{"names", []Column{
			{Cells: []string{"1"}},
			{Head: "motor", Left: true, Named: true, Cells: []string{"Elm 1 2"}},
			{Head: "pack", Left: true, Named: true, Cells: []string{"Marl 4S"}},
			{Head: "g", Cells: []string{"9"}},
		}, 1, []string{
			"   motor    pack    g",
			"1  Elm 1 2  Marl 4S 9",
		}},
		{"units", []Column{
			{Head: "at", Left: true, Cells: []string{"x"}},
			{Head: "T", Unit: "°C", Cells: []string{"5"}},
		}, 1, []string{
			"at  T",
			"   °C",
			"x   5",
		}},
		{"the widest is a unit of two characters in four bytes", []Column{
			{Head: "µ", Unit: "µµ", Cells: []string{"5"}},
			{Head: "n", Cells: []string{"1"}},
		}, 1, []string{" µ n", "µµ", " 5 1"}},
		{"no space at the end", []Column{
			{Head: "a", Cells: []string{"1", "2"}},
			{Head: "note", Left: true, Cells: []string{"", "x"}},
		}, 2, []string{"a  note", "1", "2  x"}},
	} {
		if got := TableLines(c.columns, c.gap); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%s\nwant\n%s", c.what, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

type full struct{}

var errFull = errors.New("full")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWriteTable(t *testing.T) {
	t.Parallel()
	columns := []Column{{Head: "a", Cells: []string{"1"}}}
	var b strings.Builder
	if err := WriteTable(&b, columns, 2); err != nil || b.String() != "a\n1\n" {
		t.Errorf("%q, %v", b.String(), err)
	}
	if err := WriteTable(full{}, columns, 2); !errors.Is(err, errFull) {
		t.Errorf("error %v, want %v", err, errFull)
	}
}
