package report

import (
	"slices"

	"rotorsieve/sweep"
)

// requirements is the sheet of what each requirement turned away in each run, in
// per cent of its grid.
func (b *comparisonBook) requirements() {
	limits := b.limits()
	widths := []float64{32}
	for range b.Runs {
		widths = append(widths, 24, 13)
	}
	p := b.newPage(requirementsSheet, widths...)
	p.groups(1, 1, 2)
	p.wide(1, p.printed, "What each requirement turned away, run by run", title)
	p.next()
	p.wide(1, p.printed, "A design is counted at the first requirement that it does not keep, in the order of its run; shares are of the designs of the run.", note)
	p.next()
	p.gap()
	var gates []string // by name, as the runs have them
	titles := map[string]string{}
	for _, f := range b.Runs {
		for _, g := range f.Gates {
			if titles[g.Name] == "" {
				titles[g.Name] = gateTitle(g)
				gates = append(gates, g.Name)
			}
		}
	}
	for _, limit := range limits {
		p.block(0, func() {
			p.section("Class " + classOf(b.Comparison, limit))
			heads := []string{"Requirement"}
			var numbers []int
			for _, f := range b.Runs {
				heads = append(heads, f.Name+": bound", "turned away (%)")
				numbers = append(numbers, len(heads))
			}
			p.head(heads, numbers...)
			for _, name := range gates {
				p.put(1, titles[name], ruled(plain))
				for i, f := range b.Runs {
					bound, share := notAsked, any(nil)
					if at := slices.IndexFunc(f.Gates, func(g sweep.Gate) bool { return g.Name == name }); at >= 0 {
						bound = gateBound(f.Gates[at])
						if k := f.Class(limit); k != nil {
							share = 100 * float64(k.Turned[at]) / float64(f.Designs)
						}
					}
					p.put(2+2*i, bound, ruled(after))
					p.put(3+2*i, share, ruled(look{Number: smallShare}))
				}
				p.next()
			}
			p.put(1, "Feasible", ruled(strong))
			for i, f := range b.Runs {
				var n any
				words := "class not asked"
				if k := f.Class(limit); k != nil {
					n, words = 100*float64(k.Feasible)/float64(f.Designs), grouped(k.Feasible)+" designs"
				}
				p.put(2+2*i, words, ruled(look{Bold: true, Wrap: true, Indent: 1}))
				p.put(3+2*i, n, ruled(look{Bold: true, Number: "0.000"}))
			}
			p.next()
		})
		p.gap()
	}
	p.end("")
}
