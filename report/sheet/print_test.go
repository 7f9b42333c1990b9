package sheet

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rotorsieve/report/chart"
	"rotorsieve/report/figure"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
)

// What is kept on one page counts every line of a wrapped text.
func TestBlock(t *testing.T) {
	t.Parallel()
	b := xlsx.NewBook(t.Context(), t.TempDir(), "block", "test", "")
	p := b.NewPage("Sheet1", 20, 20)
	_, room := p.Used()
	for used, _ := p.Used(); used < 0.7*room; used, _ = p.Used() {
		p.Put(1, "x", xlsx.Plain)
		p.Next()
	}
	lines := func(text string) func() {
		return func() {
			for range 6 {
				p.Put(1, text, xlsx.Plain)
				p.Next()
			}
		}
	}
	if p.Block(0, lines("x")); p.Broken != 0 {
		t.Fatalf("six lines break the page after row %d", p.Broken)
	}
	p.Row -= 6
	start := p.Row
	p.Block(0, lines(strings.Repeat("words ", 12)))
	if p.Broken != start-1 {
		t.Errorf("six rows of several lines from row %d are kept after row %d", start, p.Broken)
	}
	if used, room := p.Used(); used != p.Height(start-1, p.Row-1) || used > room {
		t.Errorf("the block takes %g of %g points", used, room)
	}
}

var (
	seriesFill = regexp.MustCompile(`<ser>.*?</ser>`)
	seriesName = regexp.MustCompile(`<tx><strRef><f>&#39;Masses&#39;!\$A\$(\d+)</f>`)
	solidFill  = regexp.MustCompile(`srgbClr val="([0-9A-F]{6})"`)
)

// The chart of masses has the parts in the order and the colours of the picture.
func TestMassChart(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	drawn, _, err := figure.MassFigure(r, found)
	if err != nil {
		t.Fatal(err)
	}
	var families []string
	for _, p := range drawn.Panels {
		for _, s := range p.Stacks {
			for _, q := range s.Pieces {
				if !slices.Contains(families, q.Family) {
					families = append(families, q.Family)
				}
			}
		}
	}
	var b bytes.Buffer
	if err := WriteReview(t.Context(), &b, t.TempDir(), r, found, nil); err != nil {
		t.Fatal(err)
	}
	f := trial.OpenBook(t, b.Bytes())
	var got []string
	for _, text := range trial.Unzip(t, b.Bytes()) {
		for _, s := range seriesFill.FindAllString(text, -1) {
			name, fill := seriesName.FindStringSubmatch(s), solidFill.FindStringSubmatch(s)
			if name == nil {
				continue
			}
			part, err := f.GetCellValue(massesSheet, "A"+name[1])
			if err != nil || fill == nil {
				t.Fatalf("a series reads A%s, %v, and has the colour %v", name[1], err, fill)
			}
			got = append(got, part+" "+fill[1])
		}
	}
	var want []string
	for _, name := range families {
		red, green, blue, _ := chart.StackShade(slices.Index(drawn.Families, name), len(drawn.Families)).RGBA()
		want = append(want, fmt.Sprintf("%s %02X%02X%02X", name, red>>8, green>>8, blue>>8))
	}
	if len(want) < 6 || !slices.Equal(got, want) {
		t.Errorf("the chart has %q, the picture %q", got, want)
	}
}
