package screen

import (
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// fewLines is how many answers of a class a page has that is not whole.
const fewLines = 5

// printClass prints what was found in a class, whole.
func printClass(r *finding.Run, p *printer, f *finding.Class) error {
	name := texts.OneLine(words.ClassName(f.Class))
	soFar := words.SoFar(r)
	if len(f.First) == 0 {
		p.line("Class %s: no feasible design%s", name, soFar)
		if fall := words.ScenarioFall(r.Study, f.ClassResult); fall != "" {
			p.hung("  rejected: ", fall)
		}
		if f.Missed != nil {
			p.hung("  nearest"+soFar+": ", words.Miss(f.Missed))
		}
		printRest(r, p, f)
		return nil
	}
	if f.Choice != nil {
		p.line("Class %s: %s feasible designs, the build to order", name, texts.Grouped(f.Feasible))
		printChoice(p, f.Choice)
	} else {
		p.line("Class %s: %s feasible designs%s", name, texts.Grouped(f.Feasible), soFar)
	}
	lines, err := r.Lines(f, finding.ShownRanks)
	if err != nil {
		return err
	}
	if f.Choice != nil {
		p.line("By the nominal model, before any error, the best:")
	} else {
		p.line("The best%s:", soFar)
	}
	p.table(rankColumns(finding.Asked(r.Study), alikeRows(lines, &f.Class), r.Swept(sweep.Payload)))
	if note := words.AlikeNote(lines); note != "" {
		p.hung("   ", note)
	}
	var shown []*finding.Entry
	for i := range lines {
		shown = append(shown, &lines[i].Entry)
	}
	p.hung("scores:  ", words.MeritSplit(r.Study.Merit, f.Best().Craft)+words.Binds(r.Study, f.Best()))
	shown = append(shown, printPayloads(r, p, f)...)
	printDecided(r, p, f)
	printMarks(p, shown)
	return nil
}

// printMarks says what of the designs shown lies outside the model's validity.
func printMarks(p *printer, shown []*finding.Entry) {
	var said []string // warnings, in the order in which they come
	of := map[string][]string{}
	var seen []uint64
	for _, e := range shown {
		head := strconv.Itoa(e.Rank)
		if e.Rank == 0 {
			if slices.Contains(seen, e.Index) {
				continue // told by its rank
			}
			head = "payload " + words.Mass(e.Design.Payload)
		}
		seen = append(seen, e.Index)
		for _, w := range words.Marks(e.Craft.Warnings()) {
			if len(of[w]) == 0 {
				said = append(said, w)
			}
			of[w] = append(of[w], head)
		}
	}
	if len(said) > 0 {
		p.line("* outside the model's validity, to be trusted less:")
	}
	for _, w := range said {
		p.hung("  ", strings.Join(of[w], ", ")+": "+w)
	}
}

// printDecided prints what decides a class and where a wider grid may; of one that was not
// judged whole what is left.
func printDecided(r *finding.Run, p *printer, f *finding.Class) {
	if !r.Result.Complete {
		printRest(r, p, f)
		return
	}
	best := &f.First[0]
	p.hung("decided: ", strings.Join(words.Decisions(r, f), "; "))
	if fall := words.ScenarioFall(r.Study, f.ClassResult); fall != "" {
		p.hung("rejected: ", fall)
	}
	if at := words.Edges(finding.Edges(r.Study.Grid, best.Index, best.Craft.Mass)); at != "" {
		p.hung("edge of the grid: ", at+": "+words.Wider(r.Study.Grid))
	}
	if past := words.Pasts(finding.Saturated(r.Study.Merit, best.Craft)); past != "" {
		p.hung("past the merit: ", past+": a wider range may rank otherwise")
	}
}

// printRest prints what may be left in a class that was not judged whole.
func printRest(r *finding.Run, p *printer, f *finding.Class) {
	if !r.Result.Complete {
		p.hung("the rest: ", words.Rest(r.Rest(f), f.Best() != nil))
	}
}

// printPayloads prints the best design with each payload that was swept, and gives them.
func printPayloads(r *finding.Run, p *printer, f *finding.Class) (shown []*finding.Entry) {
	if len(f.ByPayload) == 0 {
		return nil
	}
	var best []rankRow
	var none []string
	for n, e := range f.ByPayload {
		if e == nil {
			none = append(none, words.Mass(r.Values(sweep.Payload)[n]))
			continue
		}
		shown = append(shown, e)
		best = append(best, rowOf(e.Row(&f.Class)))
	}
	p.line("The best%s with each payload:", words.SoFar(r))
	p.table(rankColumns(finding.Asked(r.Study), best, true))
	if len(none) > 0 {
		p.line("none%s with a payload of %s", words.SoFar(r), texts.JoinOr(none))
	}
	return shown
}

// rankRow is a line of a ranking: its numbers, and what stands for its parts.
type rankRow struct {
	finding.Row
	stator, kv, pack string
}

// rowOf is the line of one design.
func rowOf(x finding.Row) rankRow {
	return rankRow{x, words.Stator(x.Design), sweep.KV.Unit.Number(x.Design.KV, 5),
		finding.MAh.Number(x.Design.Capacity, 6)}
}

// rowsOf are the lines of designs.
func rowsOf(rows []finding.Row) (all []rankRow) {
	for _, x := range rows {
		all = append(all, rowOf(x))
	}
	return all
}

// alikeRows are the lines of alike designs.
func alikeRows(lines []finding.Alike, k *sweep.Class) []rankRow {
	var rows []rankRow
	for i := range lines {
		a := &lines[i]
		rows = append(rows, rankRow{a.Row(k), words.AlikeStators(a), words.AlikeKV(a), words.AlikePack(a)})
	}
	return rows
}

// rowsIn are the rows of lines.
func rowsIn(lines []rankRow) []finding.Row {
	all := make([]finding.Row, len(lines))
	for i := range lines {
		all[i] = lines[i].Row
	}
	return all
}

// rankColumns are those of a ranking: design, what was asked for, what is told of every study,
// merit.
func rankColumns(asked []*model.Metric, rows []rankRow, payload bool) []texts.Column {
	text := func(head, unit string, left bool, of func(*rankRow) string) texts.Column {
		c := texts.Column{Head: head, Unit: unit, Left: left}
		for i := range rows {
			c.Cells = append(c.Cells, of(&rows[i]))
		}
		return c
	}
	columns := []texts.Column{
		text("", "", false, func(x *rankRow) string {
			rank, mark := "", " "
			if x.Rank > 0 {
				rank = strconv.Itoa(x.Rank)
			}
			if x.Marked() {
				mark = "*"
			}
			return rank + mark
		}),
	}
	// A part that exists has its name in place of its numbers.
	exist := map[string]bool{}
	kinds := finding.PartsIn(rowsIn(rows))
	for _, k := range kinds {
		exist[k.Name] = true
	}
	named := func(k finding.PartKind) texts.Column {
		c := text(k.Name, "", true, func(x *rankRow) string { return words.Abridged(words.PartOf(k, x.Design)) })
		c.Named = true
		return c
	}
	if at := slices.IndexFunc(kinds, func(k finding.PartKind) bool { return k.Name == "propeller" }); at >= 0 {
		columns = append(columns, named(kinds[at]))
	} else {
		columns = append(columns,
			text("propeller", "in", true, func(x *rankRow) string { return words.Propeller(x.Design, "×") }))
	}
	if !exist["motor"] {
		columns = append(columns,
			text("stator", "mm", true, func(x *rankRow) string { return x.stator }),
			text("KV", "rpm/V", false, func(x *rankRow) string { return x.kv }))
	}
	if !exist["pack"] {
		columns = append(columns,
			text("cells", "", false, func(x *rankRow) string { return sweep.Cells.Text(float64(x.Design.Cells)) }),
			text("pack", "mAh", false, func(x *rankRow) string { return x.pack }))
	}
	for _, k := range kinds {
		if k.Name != "propeller" {
			columns = append(columns, named(k))
		}
	}
	if payload {
		columns = append(columns, text("payload", "g", false,
			func(x *rankRow) string { return finding.Gram.Number(x.Design.Payload, 5) }))
	}
	for n, m := range asked {
		at := finding.Place(m)
		var values []float64
		for i := range rows {
			values = append(values, rows[i].Values[at])
		}
		decimals := words.KnownDecimals(m, values)
		c := text(words.MetricHead(m), m.Unit.Label, false, func(x *rankRow) string {
			v := m.Unit.FromSI(x.Values[at])
			if !finding.Finite(v) {
				return "-"
			}
			return strconv.FormatFloat(v, 'f', decimals, 64)
		})
		c.Need = n // the first, which ranks most, stays
		columns = append(columns, c)
	}
	columns = append(columns, text("merit", "", false,
		func(x *rankRow) string { return strconv.FormatFloat(x.Score, 'f', 3, 64) }))
	if slices.ContainsFunc(rows, func(x rankRow) bool { return x.Scenarios > 1 }) {
		columns = append(columns, text("scenario", "", false,
			func(x *rankRow) string { return strconv.Itoa(x.Scenario + 1) }))
	}
	return columns
}
