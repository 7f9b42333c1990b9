package screen

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// A page that is not whole is to be seen at once: a screen has 40 lines, of which those below
// tell where the files are and how to go on.
const (
	screenLines = 40
	belowLines  = 4
)

// detail is how much a page has, by worth; one that does not fit the screen has less.
type detail int

const (
	orders  detail = iota // the builds to order in one table alone
	answers               // and the nominal bests
	costs                 // what each costs and is tied with
	causes                // what holds it and what to measure
	gains                 // what more weight or payload buys
	limits                // where the grid and the merit end, and the model's validity
	bases                 // what draws and model rest on
	steps                 // what a step of weight buys each class, with what changes
	rivals                // other sizes, more to measure
	moves                 // what moves the merit
	ranked                // the first of each ranking
)

// printBrief prints the page of most detail that fits a screen, or the least.
func printBrief(w io.Writer, r *finding.Run, found []finding.Class, width int) error {
	indent := 0
	for i := range found {
		indent = max(indent, utf8.RuneCountInString(className(&found[i])))
	}
	indent = max(indent+2, 12)
	for level := ranked; ; level-- {
		var page bytes.Buffer
		b := &brief{&printer{w: &page, width: width}, r, level, indent}
		if err := b.print(found); err != nil {
			return err
		}
		if level == orders || bytes.Count(page.Bytes(), []byte("\n")) <= screenLines-belowLines {
			_, err := w.Write(page.Bytes())
			return err
		}
	}
}

// brief is a page of some detail.
type brief struct {
	*printer
	r      *finding.Run
	level  detail
	indent int // of what is said of a class
}

func (b *brief) print(found []finding.Class) error {
	r := b.r
	b.line("%s: %s designs, %d %s, %s", texts.OneLine(r.Study.Name), texts.Grouped(r.Study.Grid.Size()), len(found),
		texts.Plural(len(found), "weight class", "weight classes"), words.PlaceBriefly(r.Study))
	if len(r.Study.Others) > 0 {
		b.hung("scenarios ", words.Scenarios(r.Study))
	}
	b.hung("merit    ", words.MeritBriefly(r.Study.Merit))
	if price := words.PriceOf(r.Study.Grid); price != "" && words.ReadsPrice(r.Study) {
		b.hung("price    ", price)
	}
	if mark := words.RunMark(r); mark != "" {
		b.line("%s", mark)
	}
	if !r.Result.Complete {
		b.hung("judged   ", "of each diameter, in every class: "+words.JudgedShares(r))
	}
	b.line("")
	if finding.AnyChoice(found) {
		b.table(orderColumns(r, found, b.level > orders, b.level < costs))
		b.legend(slices.ContainsFunc(finding.PicksOf(found), func(p finding.Pick) bool { return p.Marked() }))
	}
	for i := range found {
		if err := b.class(&found[i]); err != nil {
			return err
		}
	}
	if said := words.MoreOfAll(found); said != "" && b.level < steps {
		b.hung("weight   ", said)
	}
	if len(r.Result.Failed) > 0 {
		b.hung("failed   ", "propellers that the model could not solve: "+strings.Join(r.Result.Failed, "; "))
	}
	if len(r.Undrawn) > 0 && r.AsksFigures() {
		b.hung("left out ", "figures: "+strings.Join(r.Undrawn, "; "))
	}
	if finding.AnyChoice(found) && b.level >= bases {
		b.hung("draws    ", words.DrawsBriefly(r.Study, r.Decision))
	}
	if b.level >= bases {
		b.hung("trust    ", words.TrustBriefly(r.Study))
	}
	b.hung("caution  ", words.CautionBriefly())
	return b.err
}

// class tells of a class under its name what the table of answers does not.
func (b *brief) class(f *finding.Class) error {
	switch {
	case f.Best() == nil:
		b.say(className(f), "no feasible design"+words.SoFar(b.r))
		if fall := words.ScenarioFall(b.r.Study, f.ClassResult); fall != "" {
			b.say("  rejected", fall)
		}
		if f.Missed != nil {
			b.say("  nearest", words.Miss(f.Missed))
		}
		b.rest(f)
		return nil
	case f.Choice == nil:
		return b.bests(f)
	}
	if b.level <= answers {
		return nil
	}
	c := f.Choice
	b.say(className(f), words.ChoiceBriefly(c))
	if on := words.Mounted(c.Recommended().Design); on != "" {
		b.say("  on", on)
	}
	if b.level == costs {
		return nil
	}
	b.binds(f.Planned)
	held := words.HeldBriefly(c, b.r.Closest(f, f.Planned))
	if pack := words.PackBriefly(f); pack != "" {
		held += "; " + pack
	}
	b.say("  held by", held)
	b.wider(f, f.Planned)
	if said := words.Rivals(c, briefRivals); said != "" && b.level >= rivals {
		b.say("  sizes", said)
	}
	if said := words.Sensitivities(c); said != "" && b.level >= moves {
		b.say("  moves", said)
	}
	most := 1
	if b.level >= rivals {
		most = 2
	}
	b.say("  measure", words.MeasureBriefly(c, most))
	if b.level == ranked {
		if err := b.ranking(f, fewLines); err != nil {
			return err
		}
	}
	return nil
}

// bests tells of a class that no draws have chosen in.
func (b *brief) bests(f *finding.Class) error {
	b.line("Class %s: %s feasible designs%s", className(f), texts.Grouped(f.Feasible),
		words.SoFar(b.r))
	if err := b.ranking(f, [...]int{1, 1, 1, 1, 2, 2, 3, 3, 3, 4, fewLines}[b.level]); err != nil {
		return err
	}
	b.rest(f)
	if b.r.Result.Complete && b.level >= causes {
		if b.level >= rivals {
			b.say("  scores", words.MeritSplit(b.r.Study.Merit, f.Best().Craft))
			b.say("  leads", words.Lead(b.r.Study.Merit, f.Lead()))
		}
		b.binds(f.Best())
		b.say("  held by", words.BoundsBriefly(b.r.Closest(f, f.Best())))
		b.wider(f, f.Best())
	}
	return nil
}

// binds tells which scenario binds a design, where there are several.
func (b *brief) binds(e *finding.Entry) {
	if said := words.BindsBriefly(b.r.Study, e); said != "" {
		b.say("  binds", said)
	}
}

// ranking prints the first of a ranking, alike ones in one line.
func (b *brief) ranking(f *finding.Class, most int) error {
	lines, err := b.r.Lines(f, most)
	if err != nil {
		return err
	}
	if f.Choice != nil {
		b.line("  By the nominal model, before any error, the best:")
	}
	b.table(rankColumns(finding.Asked(b.r.Study), alikeRows(lines, &f.Class), b.r.Swept(sweep.Payload)))
	return nil
}

// rest tells what may be left in a class that was not judged whole.
func (b *brief) rest(f *finding.Class) {
	if !b.r.Result.Complete {
		b.say("  the rest", words.Rest(b.r.Rest(f), f.Best() != nil))
	}
}

// wider tells what more weight and payload come to, where the grid ends and what to doubt, of
// the design that a class is shown by.
func (b *brief) wider(f *finding.Class, e *finding.Entry) {
	if said := words.Buys(b.r, f, b.level < steps); said != "" && b.level >= gains {
		b.say("  buys", said)
	}
	if len(f.ByPayload) > 0 && b.level >= gains {
		b.say("  payload", words.PayloadsBriefly(b.r, f))
	}
	if said := words.LimitsBriefly(b.r, e); said != "" && b.level >= limits {
		b.say("  limits", said)
	}
}

// say prints what is said of a class under a head of its own.
func (b *brief) say(head, text string) {
	b.hung(head+strings.Repeat(" ", max(b.indent-utf8.RuneCountInString(head), 1)), text)
}

// className is the label of a class, on one line: what a user calls it besides has no room.
func className(f *finding.Class) string { return texts.OneLine(words.ClassLabel(f.Class)) }

// orderColumns hold of each class the recommended build, marked where it lies outside the
// model's validity, and below it, where both are asked for, the nominal best; mounted with the
// names of a frame and a board that exist, which have no room beside what ranks.
func orderColumns(r *finding.Run, found []finding.Class, both, mounted bool) []texts.Column {
	var labels, builds, payloads, packs, sure, cautious []string
	var metrics []texts.Column
	loaded := false
	for i := range found {
		f := &found[i]
		c := f.Choice
		if c == nil {
			continue
		}
		shown := []*decide.Build{c.Recommended()}
		if n := c.At(c.Nominal); n != nil && c.Nominal > 0 && both {
			shown = append(shown, n)
		}
		for n, pick := range shown {
			label, mark := words.Abridged(texts.OneLine(words.ClassLabel(f.Class))), ""
			if n > 0 {
				label = " nominal"
			}
			if at := f.Picks()[n]; at.Marked() {
				mark = " *"
			}
			loaded = loaded || pick.Design.Payload > 0
			labels = append(labels, label)
			of := words.Abridge(pick.Design)
			if !mounted {
				of.Frame, of.Board = nil, nil
			}
			builds = append(builds, words.BuildName(of, "×")+mark)
			payloads = append(payloads, finding.Gram.Number(pick.Design.Payload, 5))
			packs = append(packs, strings.Replace(words.PackNumbers(pick), " to ", "-", 1))
			sure = append(sure, words.Probability(pick.Feasible))
			cautious = append(cautious, words.Merits(pick.Cautious))
		}
		for n, m := range c.Ranking() {
			if len(metrics) == n {
				metrics = append(metrics, texts.Column{Head: words.MetricHead(m), Unit: m.Unit.Label, Need: 2 + n})
			}
			metrics[n].Cells = append(metrics[n].Cells, words.Ranges(m, shown, n)...)
		}
	}
	columns := []texts.Column{
		{Head: "order", Left: true, Cells: labels},
		{Head: "build", Left: true, Cells: builds},
	}
	switch {
	case loaded:
		columns = append(columns, texts.Column{Head: "payload", Unit: finding.Gram.Label, Cells: payloads})
	case r.Swept(sweep.Payload):
		columns[1].Head = "build, without payload"
	}
	columns = append(columns, texts.Column{Head: "pack", Unit: finding.MAh.Label, Cells: packs},
		texts.Column{Head: "P(feas)", Cells: sure},
		texts.Column{Head: "cautious", Unit: "merit", Cells: cautious, Need: 8})
	return append(columns, metrics...)
}
