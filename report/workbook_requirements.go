package report

// requirements is the sheet of what each gate turned away. Every design counts
// once, at the first gate that it does not pass, so that a column adds up to the
// grid.
func (b *review) requirements() {
	widths := []float64{7, 32, 28, 10}
	heads := []string{"Order", "Requirement", "Bound", "Set by"}
	var numbers []int
	for i := range b.found {
		widths = append(widths, 13, 11)
		heads = append(heads, b.found[i].Class.Label+": designs turned away", b.found[i].Class.Label+": share of the grid (%)")
		numbers = append(numbers, len(heads)-1, len(heads))
	}
	p := b.newPage(requirementsSheet, widths...)
	p.groups(2, 4, 2)
	last := p.printed
	size := b.run.Study.Grid.Size()
	p.wide(1, last, "What each requirement turned away", title)
	p.next()
	p.wide(1, last, "A design is counted at the first requirement, in this order, that it does not keep; what passes all is feasible. The column of a class adds up to the grid.", note)
	p.next()
	p.marked()
	p.gap()
	top := p.row
	p.head(heads, numbers...)
	count := look{Number: "#,##0"}
	share := look{Number: smallShare}
	counts := func(l look, of func(*finding) uint64) {
		number, percent := count, share
		number.Bold, percent.Bold = l.Bold, l.Bold
		for i := range b.found {
			n := of(&b.found[i])
			p.put(5+2*i, n, ruled(number))
			p.put(6+2*i, 100*float64(n)/float64(size), ruled(percent))
		}
	}
	for n, g := range b.run.Result.Gates {
		set := "always"
		if q := g.Requirement; q != nil {
			if set = "study"; q.Default {
				set = "default"
			}
		}
		p.put(1, n+1, ruled(look{Align: "left"}))
		p.put(2, gateTitle(g), ruled(plain))
		p.put(3, gateBound(g), ruled(plain))
		p.put(4, set, ruled(plain))
		counts(look{}, func(f *finding) uint64 { return f.Turned[n] })
		p.next()
	}
	line := func(text string, of func(*finding) uint64) {
		for col := 1; col <= 4; col++ {
			p.put(col, "", ruled(strong))
		}
		p.put(2, text, ruled(strong))
		counts(look{Bold: true}, of)
		p.next()
	}
	line("Feasible", func(f *finding) uint64 { return f.Feasible })
	if !b.run.Result.Complete {
		line("Not judged", func(*finding) uint64 { return size - b.run.Result.Done })
	}
	line("All designs of the grid", func(*finding) uint64 { return size })
	p.gap()
	b.nearest(p)
	p.end(repeated(top))
}

// nearest says of the classes without a feasible design which came nearest.
func (b *review) nearest(p *page) {
	var missed []*finding
	for i := range b.found {
		if b.found[i].Missed != nil {
			missed = append(missed, &b.found[i])
		}
	}
	if len(missed) == 0 {
		return
	}
	last := p.printed
	p.section("Classes without a feasible design: the design that came nearest")
	p.wide(1, last, "The one that passes the most requirements and, of those, fails the next by the least.", note)
	p.next()
	for _, f := range missed {
		value, bound, short := shortfallTexts(f.Missed)
		p.put(1, "", plain)
		p.wide(2, last, className(f.Class), look{Bold: true, Colour: accent})
		p.next()
		line := func(what, words string) {
			if words != "" {
				p.put(2, what, ruled(plain))
				p.wide(3, last, words, ruled(plain))
				p.next()
			}
		}
		line("Design", designText(f.Missed.Design))
		line("Fails", lower(gateTitle(f.Missed.Gate)))
		line("Has", value)
		line("Wanted", bound)
		line("Short by", short)
	}
}
