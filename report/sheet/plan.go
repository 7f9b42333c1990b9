package sheet

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// plans are those of the classes with a design to show.
func (b *review) plans() (classes []*finding.Class, plans []*finding.Plan) {
	for i := range b.found {
		if p := b.found[i].Plan(b.run.Result.Gates); p != nil {
			classes, plans = append(classes, &b.found[i]), append(plans, p)
		}
	}
	return classes, plans
}

// planSheet is a sheet of the plans, a block of each class under heads in common.
type planSheet struct {
	name, title, note string
	widths            []float64
	heads             []string
	numbers           []int // columns of them
	block             func(p *xlsx.Page, of *finding.Plan)
	// brief is a block in fewer lines, for where not all classes fit on a page; nil for none.
	brief     func(p *xlsx.Page, of *finding.Plan)
	leftAside string // by brief
}

// planned lays out a sheet of the plans. What does not fit on the first page is left on the sheet, not printed.
func (b *review) planned(s planSheet) {
	p := b.NewPage(s.name, s.widths...)
	p.Close = true
	p.Wide(1, p.Printed, s.title, xlsx.Title)
	p.Next()
	p.Wide(1, p.Printed, s.note, xlsx.Note)
	p.Next()
	p.Marked()
	p.Head(s.heads, s.numbers...)
	p.Freeze(1, p.Row-1)
	classes, plans := b.plans()
	head := func(i int) {
		p.Wide(1, p.Printed, words.ClassName(classes[i].Class)+": "+words.PlanOf(plans[i]), xlsx.Section)
		for n := range b.found {
			if &b.found[n] == classes[i] {
				p.Link(1, b.rankings[n].sheet)
			}
		}
		p.Next()
	}
	lines := 0 // of all blocks, at the least
	for _, of := range plans {
		lines += len(of.Checks) + 2
	}
	if used, room := p.Used(); s.brief != nil && used+xlsx.Lines(lines) > room {
		for i, of := range plans {
			head(i)
			s.brief(p, of)
		}
		p.Beneath(s.leftAside)
		for i, of := range plans {
			p.Gap()
			head(i)
			s.block(p, of)
		}
		p.End("")
		return
	}
	aside := false
	for i, of := range plans {
		lines := 2 // of the head, and what stays free
		if i+1 < len(plans) {
			lines += 2 // of the note of what is left aside
		}
		height := p.Measure(func() { s.block(p, of) })
		if used, room := p.Used(); i > 0 && !aside && used+height+xlsx.Lines(lines) > room {
			var rest []string
			for _, k := range classes[i:] {
				rest = append(rest, words.ClassName(k.Class))
			}
			p.Beneath(texts.JoinAnd(rest))
			aside = true
		}
		head(i)
		s.block(p, of)
	}
	p.End("")
}

// known puts a number into a cell, nothing where there is none.
func known(p *xlsx.Page, col int, v float64, number string) {
	l := xlsx.Ruled(xlsx.Look{Number: number})
	if math.IsNaN(v) || math.IsInf(v, 0) {
		p.Put(col, "", l)
		return
	}
	p.Put(col, v, l)
}

// parts is the sheet of what to buy.
func (b *review) parts() {
	widths := []float64{11, 5, 41, 8, 8, 8, 8, 8, 25, 9, 9, 9, 9, 12}
	if len(finding.PartsOf(b.run.Study.Grid)) > 0 { // which have names
		widths = []float64{11, 19, 35, 8, 8, 8, 8, 8, 21, 9, 9, 9, 9, 9}
	}
	b.planned(planSheet{name: partsSheet, title: "What to buy", note: "Masses are those of the model or, of parts " +
		"that exist, as stated; they add up to the all-up weight. A part must bear what full throttle at rest asks " +
		"of it: by the nominal model, and in nine of ten draws of what the model may err by (P90). Margin: what it " +
		"is rated for over the P90, or over the nominal value without draws; in red where the part is asked for " +
		"more, as a pack may be up to the bound on the use of its rating. Prices are in the unit of the lists of " +
		"parts.",
		widths: widths,
		heads: []string{"Part", "Name", "Specification", "Quantity", "Mass of one (g)", "Mass (g)", "Price of one",
			"Price", "Must bear", "Nominal", "P90", "Rated for", "Margin (%)", "Rating"},
		numbers: []int{4, 5, 6, 7, 8, 10, 11, 12, 13}, block: func(p *xlsx.Page, of *finding.Plan) {
			const columns = 14
			top := p.Row
			all := of.Purchases()
			for i := range all {
				x := &all[i]
				p.Put(1, x.Title, inText)
				p.Put(2, x.Name, inText)
				p.Put(3, words.Specification(of, x), inText)
				p.Put(4, x.Count, inCount)
				known(p, 5, finding.Gram.FromSI(x.Mass), "0.0")
				live := func(col int, from string, value float64, number string) {
					if math.IsNaN(value) {
						p.Put(col, "", inText)
						return
					}
					p.Put(col, xlsx.Live{Formula: fmt.Sprintf("D%d*%s%d", p.Row, from, p.Row), Value: value},
						xlsx.Ruled(xlsx.Look{Number: number}))
				}
				live(6, "E", float64(x.Count)*finding.Gram.FromSI(x.Mass), "0.0")
				known(p, 7, x.Price, "0.00")
				live(8, "G", float64(x.Count)*x.Price, "0.00")
				what, in := words.Load(x.Load)
				if x.Load == finding.NoLoad {
					for col := 9; col <= 14; col++ {
						p.Put(col, "", inText)
					}
					p.Next()
					continue
				}
				p.Put(9, finding.Headed(what, in.Label), inWords)
				for n, v := range []float64{x.Needs, x.Most, x.Rated} {
					known(p, 10+n, in.FromSI(v), numberFormat(in.FromSI(x.Needs)))
				}
				known(p, 13, 100*x.Margin(), "+0.0;[Red]-0.0;0.0")
				p.Put(14, words.RatedBy(x), inWords)
				p.Next()
			}
			end := p.Row - 1
			strong := xlsx.Ruled(xlsx.Strong)
			for col := range columns {
				p.Put(col+1, "", strong)
			}
			p.Put(1, "All", strong)
			p.Put(3, words.Cost(all), strong)
			p.Put(6, xlsx.Live{Formula: fmt.Sprintf("SUM(F%d:F%d)", top, end),
				Value: finding.Gram.FromSI(of.Craft.Mass)}, xlsx.Ruled(xlsx.Look{Bold: true, Number: "0.0"}))
			if sum := finding.Cost(all); sum > 0 {
				p.Put(8, xlsx.Live{Formula: fmt.Sprintf("SUM(H%d:H%d)", top, end), Value: sum},
					xlsx.Ruled(xlsx.Look{Bold: true, Number: "0.00"}))
			}
			p.Next()
		}})
}

// testPlan is the sheet of what to measure.
func (b *review) testPlan() {
	widths := []float64{28, 40, 32, 7, 8.5, 8, 8, 19, 10, 12}
	if len(finding.PartsOf(b.run.Study.Grid)) > 0 { // packs have the names of their kind, values go into lists
		widths = []float64{28, 46, 21, 7, 8.5, 8, 8, 19, 10, 16}
	}
	b.planned(planSheet{name: testPlanSheet, title: "What to measure before and after building", note: "Expected: " +
		"what the draws of all that the model may err by come to, resistances of a winding at 20 °C and of a new " +
		"pack at 25 °C. What does not pass is worse than the model expects in nine of ten draws: run the study " +
		"again with it before more is bought. The same lines to be filled in are in " + finding.TestPlanName +
		", which --measured reads back; what is stated of parts that exist goes into their list.",
		widths: widths,
		heads: []string{"Measure", "Of", "Quantity", "Unit", "P10", "P50", "P90", "Passes with", "Measured",
			"Goes into"}, numbers: []int{5, 6, 7}, block: func(p *xlsx.Page, of *finding.Plan) {
			for i := range of.Tests {
				t := &of.Tests[i]
				if t.Of != nil && (i == 0 || of.Tests[i-1].Of != t.Of) {
					p.Wide(1, p.Printed, words.RivalOf(t), xlsx.Ruled(xlsx.Look{Colour: xlsx.Quiet}))
					p.Next()
				}
				u, symbol := words.TestUnit(t)
				p.Put(1, texts.Upper(words.Measurable(t.What)), inText)
				p.Put(2, words.Subject(&t.Record.Record), inText)
				p.Put(3, t.Record.Described(), inText)
				p.Put(4, symbol, inText)
				for n, v := range []float64{t.P10, t.P50, t.P90} {
					known(p, 5+n, significant(u.FromSI(v), 4), "General")
				}
				p.Put(8, words.Pass(t), inWords)
				p.Put(9, "", xlsx.Look{Edit: true})
				p.Put(10, words.Back(t.Back), inWords)
				p.Next()
			}
		}})
}

// verification is the sheet of how each requirement is shown to be kept.
func (b *review) verification() {
	all := func(p *xlsx.Page, of *finding.Plan) {
		for i := range of.Checks {
			putCheck(p, &of.Checks[i])
		}
	}
	b.planned(planSheet{name: verificationSheet, title: "How each requirement is shown to be kept",
		note: fmt.Sprintf("Margin: of the bound, of a temperature in kelvins, over the draws; above 0 it is kept. "+
			"P(kept): share of draws that keep the requirement, whatever else they do, with the pack that each draw "+
			"allows. From %.0f %% on it counts as shown by computing; else it is to be measured by the tests that "+
			"tell most of its margin, with the share of its variance that goes along with each, and open where none "+
			"tells %.0f %%.", 100*finding.SureEnough, 100*finding.TellsEnough),
		widths: []float64{31, 19, 12, 10, 10, 10, 10, 64},
		heads: []string{"Requirement", "Bound", "Nominal value", "Margin P10 (%)", "Margin P50 (%)",
			"Margin P90 (%)", "P(kept) (%)", "Shown"}, numbers: []int{3, 4, 5, 6, 7}, block: all,
		brief: briefChecks, leftAside: "all requirements of each class with their margins"})
}

// briefChecks writes the requirements that some draw in a hundred breaks, and names the others in a line.
func briefChecks(p *xlsx.Page, of *finding.Plan) {
	const hardly = 0.99
	var kept []string
	for i := range of.Checks {
		if c := &of.Checks[i]; c.Shown == finding.ShownComputed && !(c.Kept < hardly) {
			kept = append(kept, texts.Lower(words.GateTitle(c.Gate)))
		} else {
			putCheck(p, c)
		}
	}
	if len(kept) > 0 {
		said := "Computed"
		if of.Drawn {
			said += ", each kept in " + words.Probability(hardly) + " of the draws or more"
		}
		p.Wide(1, p.Printed, said+": "+strings.Join(kept, ", "), xlsx.Ruled(xlsx.Look{Colour: xlsx.Quiet, Wrap: true}))
		p.Next()
	}
}

// putCheck writes how a requirement stands.
func putCheck(p *xlsx.Page, c *finding.Check) {
	p.Put(1, words.GateTitle(c.Gate), inText)
	bound := words.GateBound(c.Gate)
	if c.Gate.Requirement == nil {
		bound = "at most " + words.CheckValue(c, c.Bound)
	}
	p.Put(2, bound, inText)
	p.Put(3, words.CheckValue(c, c.Value), xlsx.Ruled(xlsx.Look{Align: "right"}))
	for n, v := range []float64{c.Margin.P10, c.Margin.P50, c.Margin.P90} {
		p.Put(4+n, "", inText)
		if finding.Finite(v) && c.Relative() {
			putMargin(p, 4+n, c.Gate.Requirement, v)
		}
	}
	known(p, 7, 100*c.Kept, "0.0")
	p.Put(8, words.Shown(c), inWords)
	p.Next()
}
