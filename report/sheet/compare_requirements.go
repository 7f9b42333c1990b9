package sheet

import (
	"slices"

	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// requirements is the sheet of what each requirement rejected in each run, in
// per cent of its grid.
func (b *comparisonBook) requirements() {
	limits := b.Limits()
	widths := []float64{32}
	for range b.Runs {
		widths = append(widths, 24, 13)
	}
	p := b.NewPage(requirementsSheet, widths...)
	p.Groups(1, 1, 2)
	p.Wide(1, p.Printed, "What each requirement rejected, run by run", xlsx.Title)
	p.Next()
	p.Wide(1, p.Printed, "A design is counted at the first requirement that it does not keep, in the order of its "+
		"run; shares are of the designs of the run.", xlsx.Note)
	p.Next()
	p.Gap()
	var gates []string // by name, as the runs have them
	titles := map[string]string{}
	for _, f := range b.Runs {
		for _, g := range f.Gates {
			if titles[g.Name] == "" {
				titles[g.Name] = words.GateTitle(g)
				gates = append(gates, g.Name)
			}
		}
	}
	for _, limit := range limits {
		p.Block(0, func() {
			section(p, "Class "+words.ClassOf(b.Comparison, limit))
			heads := []string{"Requirement"}
			var numbers []int
			for _, f := range b.Runs {
				heads = append(heads, f.Name+": bound", "rejected (%)")
				numbers = append(numbers, len(heads))
			}
			p.Head(heads, numbers...)
			for _, name := range gates {
				p.Put(1, titles[name], xlsx.Ruled(xlsx.Plain))
				for i, f := range b.Runs {
					bound, share := words.NotAsked, any(nil)
					if at := slices.IndexFunc(f.Gates, func(g sweep.Gate) bool { return g.Name == name }); at >= 0 {
						bound = words.GateBound(f.Gates[at])
						if k := f.Class(limit); k != nil {
							share = 100 * float64(k.Rejected[at]) / float64(f.Designs)
						}
					}
					p.Put(2+2*i, bound, xlsx.Ruled(xlsx.After))
					p.Put(3+2*i, share, xlsx.Ruled(xlsx.Look{Number: xlsx.SmallShare}))
				}
				p.Next()
			}
			p.Put(1, "Feasible", xlsx.Ruled(xlsx.Strong))
			for i, f := range b.Runs {
				var n any
				words := "class not asked"
				if k := f.Class(limit); k != nil {
					n, words = 100*float64(k.Feasible)/float64(f.Designs), texts.Grouped(k.Feasible)+" designs"
				}
				p.Put(2+2*i, words, xlsx.Ruled(xlsx.Look{Bold: true, Wrap: true, Indent: 1}))
				p.Put(3+2*i, n, xlsx.Ruled(xlsx.Look{Bold: true, Number: "0.000"}))
			}
			p.Next()
		})
		p.Gap()
	}
	p.End("")
}
