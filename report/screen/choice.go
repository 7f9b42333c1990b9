package screen

import (
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// printChoice prints which build of a class to order, how sure that is, what it costs and
// what to measure first.
func printChoice(p *printer, c *finding.Choice) {
	p.table(choiceColumns(c))
	p.hung("costs:   ", words.Price(c))
	p.hung("fails:   ", words.FailsBoth(c))
	p.hung("tied:    ", words.Ties(c))
	p.hung("sure:    ", words.Line(c))
	for _, x := range []struct{ head, text string }{
		{"sizes:   ", words.Rivals(c)}, {"moves:   ", words.Sensitivities(c)}, {"measure: ", words.Measures(c)},
	} {
		if x.text != "" {
			p.hung(x.head, x.text)
		}
	}
}

// choiceColumns hold the recommended build, the nominal best and, where none is as sure as
// it should be, the surest, side by side.
func choiceColumns(c *finding.Choice) []texts.Column {
	heads := []string{"order"}
	builds := []*decide.Build{c.Recommended()}
	add := func(head string, n int) {
		if b := c.At(n); b != nil && n > 0 {
			heads, builds = append(heads, head), append(builds, b)
		}
	}
	add("nominal", c.Nominal)
	if !c.Reached() && c.Surest != c.Nominal {
		add("surest", c.Surest)
	}
	column := func(head, unit string, of func(b *decide.Build) string) texts.Column {
		return texts.Column{Head: head, Unit: unit, Cells: words.Each(builds, of)}
	}
	build := column("build", "", func(b *decide.Build) string { return words.BuildName(words.Abridge(b.Design), "×") })
	build.Left = true
	parts := []texts.Column{{Left: true, Cells: heads}, build}
	if c.Swept(sweep.Payload) {
		parts = append(parts, column("payload", finding.Gram.Label,
			func(b *decide.Build) string { return finding.Gram.Number(b.Design.Payload, 5) }))
	}
	ends := func(c texts.Column) texts.Column { c.Need = 1; return c }
	return append(parts,
		column("pack", finding.MAh.Label, func(b *decide.Build) string { return words.PackNumbers(b) }),
		column("P(feas)", "", func(b *decide.Build) string { return words.Probability(b.Feasible) }),
		column("cautious", "merit", func(b *decide.Build) string { return words.Merits(b.Cautious) }),
		ends(column("P10", "merit", func(b *decide.Build) string { return words.Merits(b.Merit.P10) })),
		column("P50", "merit", func(b *decide.Build) string { return words.Merits(b.Merit.P50) }),
		ends(column("P90", "merit", func(b *decide.Build) string { return words.Merits(b.Merit.P90) })),
	)
}
