package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// partLabel names a design of a class: "250 g", and where draws choose "250 g (recommended)".
func partLabel(class string, part finding.Part) string {
	if part == finding.BestPart {
		return class
	}
	return class + " (" + words.PartName(part) + ")"
}

// tabled are the designs of a class that the table of answers has: what it is shown by, or where payload is
// swept the recommended build, as it is planned, and the best with each payload, nil for none.
func (b *review) tabled(f *finding.Class) (all []*finding.Entry, parts []finding.Part) {
	picks := f.Picks()
	if b.run.Swept(sweep.Payload) {
		part := finding.BestPart
		if f.Choice != nil {
			all, parts, part = append(all, f.Planned), append(parts, finding.RecommendedPart), finding.NominalPart
		}
		for _, e := range f.ByPayload {
			all, parts = append(all, e), append(parts, part)
		}
		return all, parts
	}
	for _, k := range picks {
		all, parts = append(all, k.Entry), append(parts, k.Part)
	}
	return all, parts
}

// answerTable writes the designs that each class is shown by, and the best of each payload where it
// is swept, by the nominal model.
func (b *review) answerTable(p *xlsx.Page, columns []answer) {
	last := len(p.Widths)
	what := "The answer: the best design of each class"
	if b.run.Decides() {
		what = "By the nominal model: the recommended build, as it is planned, and beneath it the best design of " +
			"each class"
	}
	if !b.run.Result.Complete {
		what = "The best design" + words.SoFar(b.run) + " of each class"
	}
	if b.run.Swept(sweep.Payload) {
		what += " and payload"
	}
	section(p, what)
	headColumns(p, columns, "Class")
	var marks []string
	name := xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true})
	under := xlsx.Ruled(xlsx.Look{Colour: xlsx.Quiet})
	line := func(f *finding.Class, e *finding.Entry, part finding.Part) {
		class := partLabel(words.ClassName(f.Class), part)
		x := e.Row(&f.Class)
		star := ""
		for _, w := range words.Marks(e.Craft.Warnings()) {
			star = " *"
			if w = class + ": " + w; !slices.Contains(marks, w) {
				marks = append(marks, w)
			}
		}
		if part == finding.NominalPart { // beneath the recommended
			p.Put(1, words.PartName(part)+star, under)
		} else {
			p.Put(1, words.ClassName(f.Class)+star, name)
		}
		for n, c := range columns {
			l := xlsx.Look{Number: c.number}
			if c.number == "" {
				l.Align, l.Wrap = "left", true
			}
			p.Put(n+2, c.cell(&x), xlsx.Ruled(l))
		}
	}
	for i := range b.found {
		f := &b.found[i]
		if f.Best() == nil {
			text := "none: " + texts.Lower(words.NoneKeeps(b.run))
			if f.Missed != nil {
				text += ". Nearest: " + words.Miss(f.Missed)
			}
			p.Put(1, words.ClassName(f.Class), name)
			p.Wide(2, last, text, xlsx.Ruled(xlsx.Plain))
			p.Link(1, b.rankings[i].sheet)
			p.Next()
			continue
		}
		all, parts := b.tabled(f)
		for n, e := range all {
			if e != nil {
				line(f, e, parts[n])
			} else {
				payload := b.run.Values(sweep.Payload)[n-(len(all)-len(f.ByPayload))]
				if parts[n] == finding.NominalPart {
					p.Put(1, words.PartName(parts[n]), under)
				} else {
					p.Put(1, words.ClassName(f.Class), name)
				}
				p.Wide(2, last, "none"+words.SoFar(b.run)+" with a payload of "+words.Mass(payload),
					xlsx.Ruled(xlsx.Plain))
			}
			if parts[n] != finding.NominalPart {
				p.Link(1, b.rankings[i].sheet)
			}
			p.Next()
		}
	}
	for _, s := range b.edges() {
		p.Wide(1, last, s, xlsx.Note)
		p.Next()
	}
	if len(marks) > 0 {
		p.Wide(1, last, "* outside the model's validity limits, to be trusted less: "+strings.Join(marks, "; "),
			xlsx.Note)
		p.Next()
	}
}

// beforeUnit is the space between a number and a word after it, which may be its
// unit: no line is to end there.
var beforeUnit = regexp.MustCompile(`([0-9]) ([%°A-Za-z])`)

// inWords says what to order in each class, or what is best where no draws choose, by how much, and what
// holds it; of the nominal best, where that is another, in one line.
func (b *review) inWords(p *xlsx.Page) {
	p.Keep(10) // with the words on a class
	section(p, "The answer in words")
	last := len(p.Widths)
	spans := [][2]int{{2, 5}, {6, 8}, {9, 11}, {12, last}}
	bound := func(s string) string { return beforeUnit.ReplaceAllString(texts.Upper(s), "$1\u00a0$2") }
	put := func(l xlsx.Look, first string, words ...string) {
		p.Put(1, first, l)
		for n, s := range spans {
			if n > 0 {
				l.Indent = 1 // apart from the words before
			}
			p.Wide(s[0], s[1], bound(words[n]), l)
		}
		p.Next()
	}
	what := "Best design"
	if finding.AnyChoice(b.found) {
		what = "Recommended build"
	}
	put(xlsx.Heading, "Class", what, "Against other diameters", "Its use of the weight", "What holds it")
	for i := range b.found {
		f := &b.found[i]
		name := words.ClassName(f.Class)
		if f.Best() == nil {
			p.Put(1, name, xlsx.Ruled(xlsx.Strong))
			p.Wide(2, last, "No design of the grid keeps every requirement: see the nearest beneath.",
				xlsx.Ruled(xlsx.Plain))
			p.Next()
			continue
		}
		answer, weight, held := b.bestInWords(f)
		beside := ""
		if f.Choice != nil {
			answer, weight, held = b.chosenInWords(f)
			beside = words.BesideChosen(b.run, f)
		}
		p.Block(0, func() {
			l := xlsx.Ruled(xlsx.Plain)
			l.Rule = beside == ""
			put(l, name, answer, words.Lead(b.run.Study.Merit, f.Lead()), weight, held)
			if beside != "" {
				p.Put(1, "", xlsx.Ruled(xlsx.Plain))
				p.Wide(2, last, bound(beside), xlsx.Ruled(xlsx.Look{Wrap: true, Colour: xlsx.Quiet}))
				p.Next()
			}
		})
	}
}

// bestInWords says of the best design what it is, how it uses the weight and what holds it.
func (b *review) bestInWords(f *finding.Class) (answer, weight, held string) {
	answer = words.Answer(b.run, f.Best())
	if s := words.Within(f); s != "" {
		answer += "; outside the limits of the model's validity, to be trusted less; " + s
	}
	weight = words.WeightOf(f.Best().Craft.Mass, f.Class.Limit) + " used"
	if s := words.Unused(b.run.Unused(f)); s != "" {
		weight = s
	}
	if s := words.Against(b.run, f); s != "" {
		weight += "; " + s
	}
	return answer, weight, strings.Join(words.Held(b.run.Held(f, f.Best())), "; ")
}

// chosenInWords says it of the recommended build, over the draws, and as it is planned.
func (b *review) chosenInWords(f *finding.Class) (answer, weight, held string) {
	answer = words.Chosen(f.Choice)
	switch {
	case f.Planned.Index == f.Best().Index:
		answer += "; it is the nominal best as well"
		if s := words.Within(f); s != "" {
			answer += "; outside the limits of the model's validity, to be trusted less; " + s
		}
	case f.Planned.Marked():
		answer += "; outside the limits of the model's validity, to be trusted less"
	}
	weight = words.WeightOf(f.Planned.Craft.Mass, f.Class.Limit) + " used, as planned"
	if b.run.Before(f) == nil && !b.run.Lightest(f) {
		weight += "; " + words.Against(b.run, f)
	}
	if s := words.Buys(b.run, f, false); s != "" {
		weight += "; " + s
	}
	return answer, weight, strings.Join(words.HeldOver(f.Choice, b.run.Held(f, f.Planned)), "; ")
}

// edges says which designs lie at an end of the grid, those at the same end together, and which count no
// more in the merit for being better.
func (b *review) edges() []string {
	if !b.run.Result.Complete {
		return nil // the best may yet lie elsewhere
	}
	var ends, past []string
	of := map[string][]string{}
	for i := range b.found {
		for _, k := range b.found[i].Picks() {
			label := partLabel(words.ClassLabel(k.Class.Class), k.Part)
			if at := words.Edges(finding.Edges(b.run.Study.Grid, k.Index, k.Craft.Mass)); at != "" {
				if len(of[at]) == 0 {
					ends = append(ends, at)
				}
				of[at] = append(of[at], label)
			}
			if s := words.Pasts(finding.Saturated(b.run.Study.Merit, k.Craft)); s != "" {
				past = append(past, fmt.Sprintf("Past the merit, class %s: %s. A wider range may rank otherwise.",
					label, s))
			}
		}
	}
	for n, at := range ends {
		k := of[at]
		ends[n] = fmt.Sprintf("Edge of the grid, %s %s: %s. %s.",
			texts.Plural(len(k), "class", "classes"), strings.Join(k, ", "), at,
			texts.Upper(words.Wider(b.run.Study.Grid)))
	}
	return append(ends, past...)
}
