package sheet

import (
	"fmt"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// toldBuilds is how many builds of a class the sheet tells of.
const toldBuilds = 8

// fewBuilds is how many where several classes share a printed page; all are in robust.csv.
const fewBuilds = 2

// spareLines is by how many lines what is said of a class may be longer than of those before it.
const spareLines = 2

// confidenceColumns are the columns of the sheet: a rank, a build, numbers, and words.
const confidenceColumns = 15

// rankHead tells the rank of the sheet from that of the rankings, which is by the nominal model.
const rankHead = "Rank by the draws"

// Looks of the numbers of the sheet.
var (
	inMerit   = xlsx.Ruled(xlsx.Look{Number: "0.000"})
	inChange  = xlsx.Ruled(xlsx.Look{Number: "+0.000;-0.000;0.000"})
	inPercent = xlsx.Ruled(xlsx.Look{Number: "0"})
	inCount   = xlsx.Ruled(xlsx.Look{Number: "0"})
	inText    = xlsx.Ruled(xlsx.Plain)
	inWords   = xlsx.Ruled(xlsx.After) // after numbers
)

// confidence is the sheet of what the draws make of the choice, class by class.
func (b *review) confidence() {
	widths := slices.Repeat([]float64{9.2}, confidenceColumns)
	widths[0], widths[1], widths[confidenceColumns-1] = 7.5, 34.5, 24
	p := b.NewPage(confidenceSheet, widths...)
	last := len(widths)
	p.Wide(1, last, "How sure the choice is", xlsx.Title)
	p.Next()
	p.Wide(1, last, "Draws of all that the model may err by: "+words.Draws(b.run.Decision)+
		words.DrawnOver(b.run.Study)+". P(feasible): share of "+
		"draws in which a build keeps all requirements; a draw in which it does not counts a merit of 0. Cautious "+
		"merit, which ranks: the mean of the 10th to the 50th percentile. Regret: what the best build of each draw "+
		"has more, on average. Tied: a cautious merit at most two standard errors, of pairs of draws, "+
		"below that of the recommended build; ± is two standard errors in all sentences. A build is bought with "+
		"the pack that the draw allows. All builds are in "+finding.RobustName+", all swept values, as each "+
		"diameter, in "+
		finding.ConfidenceName+".", xlsx.Note)
	p.Next()
	if tied := words.TiedSizes(b.found); tied != "" {
		p.Wide(1, last, tied+".", xlsx.Strong)
		p.Next()
	}
	p.Marked()
	p.Freeze(2, 0)
	many := len(b.found) > pagedClasses
	tallest := 0.0       // of what is printed of a class
	var beneath []func() // of all classes
	for i := range b.found {
		f := &b.found[i]
		if i == 0 {
			b.staleRow(p)
		} else {
			p.Gap()
		}
		c := f.Choice
		if c == nil {
			section(p, words.ClassName(f.Class)+": no build to tell of, since no design is feasible")
			continue
		}
		t := confidencePage{p, b.run, c, toldBuilds}
		first := func() {
			section(p, words.ClassName(f.Class)+": "+words.Build(c.Recommended().Design))
			t.inWords()
			t.builds()
		}
		more := []func(){t.sizes, t.axes, t.metrics, t.margins, t.line, t.sensitivities, t.loosened, t.weights, t.worth}
		if many { // as many as have room are printed on a page
			t.told = fewBuilds
			if used, room := p.Used(); i > 0 && used+tallest+xlsx.Lines(spareLines) > room {
				p.BreakBefore()
			}
			start := p.Row
			first()
			tallest = max(tallest, p.Height(start-1, p.Row-1))
			beneath = append(beneath, func() { section(p, words.ClassName(f.Class)) })
			beneath = append(beneath, more...)
			continue
		}
		if i > 0 {
			p.BreakBefore()
		}
		first()
		if used, room := p.Used(); used+t.sizesHeight() < room { // a class is printed on a page
			t.sizes()
			more = more[1:]
		}
		p.Beneath(confidenceBeneath + words.ClassName(f.Class))
		for _, table := range more {
			table()
		}
		p.Again()
	}
	if many {
		p.Beneath(confidenceBeneath + "each class")
		for _, table := range beneath {
			table()
		}
	}
	p.End("")
}

// pagedClasses is up to how many classes have a printed page each.
const pagedClasses = 3

// confidenceBeneath is what of a class is not printed.
const confidenceBeneath = "the swept values, what the builds reach, requirements, the price of being sure, what " +
	"moves the recommended build, bounds, weights and what to measure of "

// confidencePage writes the tables of a class.
type confidencePage struct {
	*xlsx.Page
	run  *finding.Run
	c    *finding.Choice
	told int // builds of a class
}

// table writes a title and heads, and lines of cells under them that stay on one page.
func (t *confidencePage) table(title string, heads []string, numbers []int, lines func()) {
	t.Gap()
	t.Block(0, func() {
		t.title(title)
		t.Head(heads, numbers...)
		lines()
	})
}

func (t *confidencePage) title(text string) {
	t.Wide(1, confidenceColumns, text, xlsx.Look{Bold: true, Colour: xlsx.Accent})
	t.Next()
}

// numbered are the columns from one to another.
func numbered(from, to int) (out []int) {
	for k := from; k <= to; k++ {
		out = append(out, k)
	}
	return out
}

// row writes cells from the first column on: of floats in looks, of the rest as words.
func (t *confidencePage) row(looks []xlsx.Look, cells ...any) {
	for k, v := range cells {
		t.Put(k+1, v, looks[min(k, len(looks)-1)])
	}
	t.Next()
}

// inWords says what the tables come to.
func (t *confidencePage) inWords() {
	line := func(what, said string) {
		if said == "" {
			return
		}
		t.Wide(1, 2, what, xlsx.Ruled(xlsx.Strong))
		t.Wide(3, confidenceColumns, texts.Upper(said), xlsx.Ruled(xlsx.Plain))
		t.Next()
	}
	c := t.c
	line("Recommended", words.Chances(c.Recommended()))
	line("Tied", words.Ties(c))
	line("Fails", words.FailsBoth(c))
	line("Against the nominal best", words.Price(c))
	line("Price of being sure", words.Line(c))
	line("Against other diameters", words.Rivals(c, min(6, t.told)))
	line("Measure first", words.Measures(c))
}

// shown are the places of the builds that the sheet tells of: the first, and those that
// are spoken of besides.
func (t *confidencePage) shown() []int {
	var out []int
	for n := range t.c.Builds {
		if n < t.told || n == t.c.Nominal || n == t.c.Surest {
			out = append(out, n)
		}
	}
	return out
}

func (t *confidencePage) builds() {
	c := t.c
	shown := t.shown()
	title := fmt.Sprintf("Builds: %d of %d that are told of, of %d that were drawn; the rank is of the draws that "+
		"chose, all else of fresh ones, in which close builds may change places", len(shown), len(c.Builds), c.Judged)
	heads := []string{rankHead, "Build", "P(feasible) (%)", "Cautious merit", "Merit P10", "Merit P50", "Merit P90",
		"Regret", "Tied", "Pack P10 (mAh)", "Pack P50 (mAh)", "Pack P90 (mAh)", "Nominal merit",
		"Most often fails (%)", "Where"}
	t.table(title, heads, slices.Concat(numbered(3, 8), numbered(10, 14)), func() {
		for _, n := range shown {
			b := &c.Builds[n]
			cause, share := "", any("")
			if f, ok := c.Fails(b); ok {
				cause, share = words.CauseName(f.Gate), 100*f.Share
			}
			text := inText
			text.Bold = n == 0
			t.row([]xlsx.Look{{Rule: true, Align: "left"}, text, inPercent, inMerit, inMerit, inMerit, inMerit, inMerit,
				inWords, inCount, inCount, inCount, inMerit, inPercent, inWords}, b.Rank, t.name(n), 100*b.Feasible,
				b.Cautious, b.Merit.P10, b.Merit.P50, b.Merit.P90, b.Regret, tiedText(n, b),
				finding.MAh.FromSI(b.Pack.P10), finding.MAh.FromSI(b.Pack.P50), finding.MAh.FromSI(b.Pack.P90),
				b.Nominal, share, cause)
		}
	})
}

// name names a build, and what it stands out by.
func (t *confidencePage) name(n int) string {
	name := words.Build(t.c.Builds[n].Design)
	switch {
	case n == 0 && n == t.c.Nominal:
		return name + " (recommended; nominal best)"
	case n == 0:
		return name + " (recommended)"
	case n == t.c.Nominal:
		return name + " (nominal best)"
	case n == t.c.Surest:
		return name + " (surest)"
	}
	return name
}

// tiedText says how a build stands to the first.
func tiedText(n int, b *decide.Build) string {
	switch {
	case n == 0:
		return "first"
	case b.Tied:
		return "yes"
	}
	return "no"
}

// metrics are the quantiles of the metrics that rank, four abreast.
func (t *confidencePage) metrics() {
	const abreast = 4
	ranking := t.c.Ranking()
	for from := 0; from < len(ranking); from += abreast {
		some := ranking[from:min(from+abreast, len(ranking))]
		heads := []string{rankHead, "Build"}
		for _, m := range some {
			for _, q := range []string{"P10", "P50", "P90"} {
				heads = append(heads, finding.Headed(m.Title+" "+q, m.Unit.Label))
			}
		}
		t.table("What the builds reach, over the draws", heads, numbered(3, len(heads)), func() {
			for _, n := range t.shown() {
				b := &t.c.Builds[n]
				t.Put(1, b.Rank, xlsx.Ruled(xlsx.Look{Align: "left"}))
				t.Put(2, words.Build(b.Design), inText)
				for k, m := range some {
					if from+k < len(b.Metrics) {
						q := b.Metrics[from+k]
						l := quantileLook(m, q)
						for i, v := range [3]float64{q.P10, q.P50, q.P90} {
							t.Put(3+3*k+i, m.Unit.FromSI(v), l)
						}
					}
				}
				t.Next()
			}
		})
	}
}

// quantileLook shows the quantiles of a metric with decimals for the highest.
func quantileLook(m *model.Metric, q decide.Quantiles) xlsx.Look {
	most := math.Abs(m.Unit.FromSI(q.P90))
	if !finding.Finite(most) {
		most = 1
	}
	return xlsx.Ruled(xlsx.Look{Number: numberFormat(most)})
}

// inMargin shows a margin in per cent, beyond 999 as such.
var inMargin = xlsx.Ruled(xlsx.Look{Number: `[>=999.5]"> 999";[<0]-0;+0`})

// inKelvins shows a margin of a temperature.
var inKelvins = xlsx.Ruled(xlsx.Look{Number: `+0" K";-0" K";0" K"`})

// putMargin puts a margin of a requirement, of the logarithm of the share of its bound, in its unit.
func putMargin(p *xlsx.Page, col int, q *sweep.Requirement, v float64) {
	if m, kelvins := words.Margin(q, v); kelvins {
		p.Put(col, m, inKelvins)
	} else {
		p.Put(col, m, inMargin)
	}
}

// margins say at what the recommended build fails and by how much it keeps the rest.
func (t *confidencePage) margins() {
	c, b := t.c, t.c.Recommended()
	t.table("Requirements of the recommended build over the draws, in the order in which they are looked at",
		[]string{"Requirement", "", "Bound", "", "Fails, whatever else, draws (%)", "Margin P10 (%)", "Margin P50 (%)",
			"Margin P90 (%)"}, numbered(5, 8), func() {
			at := 0
			for g, gate := range c.Gates {
				t.Wide(1, 2, words.GateTitle(gate), inText)
				t.Wide(3, 4, words.GateBound(gate), inText)
				if g < len(b.Fails) {
					t.Put(5, 100*b.Fails[g], xlsx.Ruled(xlsx.Look{Number: "0.0"}))
				}
				if q := gate.Requirement; q != nil {
					if at < len(b.Margins) && q.Bound > 0 {
						m := b.Margins[at]
						for k, v := range [3]float64{m.P10, m.P50, m.P90} {
							putMargin(t.Page, 6+k, q, v)
						}
					}
					at++
				}
				t.Next()
			}
		})
}
