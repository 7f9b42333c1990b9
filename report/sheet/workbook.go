package sheet

import (
	"context"
	"fmt"
	"io"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// Sheets of the workbook, beside one ranking a class.
const (
	SummarySheet      = "Summary"
	confidenceSheet   = "Confidence"
	ClassesSheet      = "Classes"
	leadersSheet      = "Leaders"
	frontSheet        = "Pareto front"
	MeritSheet        = "Merit"
	requirementsSheet = "Requirements"
	massesSheet       = "Masses"
	pointsSheet       = "Operating points"
	partsSheet        = "Parts"
	testPlanSheet     = "Test plan"
	verificationSheet = "Verification"
	figuresSheet      = "Figures"
	basisSheet        = "Basis"
)

// review is the workbook of one run.
type review struct {
	*xlsx.Book
	run      *finding.Run
	found    []finding.Class
	figures  []chart.Picture
	terms    []term // of the merit
	rows     int    // that a sheet has
	rankings []rankingPlace
	sheets   []xlsx.BookSheet

	printedWhole bool // the summary has its picture large enough to be read in print
}

// WriteReview writes the design-review workbook, unless the context ends. While it is
// written, some of it lies in files of the folder spool, which are removed.
func WriteReview(ctx context.Context, w io.Writer, spool string, r *finding.Run, found []finding.Class,
	figures []chart.Picture) error {
	return newReview(ctx, spool, r, found, figures).write(w)
}

func newReview(ctx context.Context, spool string, r *finding.Run, found []finding.Class,
	figures []chart.Picture) *review {
	b := &review{Book: xlsx.NewBook(ctx, spool, r.Study.Name, r.Version, words.RunMark(r)), run: r, found: found,
		figures: figures, terms: terms(r.Study.Merit), rows: sheetRows}
	for _, name := range RankingSheets(found) {
		b.rankings = append(b.rankings, rankingPlace{sheet: name})
	}
	b.sheets = b.contents()
	return b
}

// contents lists the sheets. Those without a design to show are left out.
func (b *review) contents() []xlsx.BookSheet {
	some, front := false, false
	for i := range b.found {
		some = some || b.found[i].Best() != nil
		front = front || len(b.found[i].Front) > 0
	}
	all := []xlsx.BookSheet{{Name: SummarySheet, What: "", Write: b.summary}}
	add := func(shown bool, s xlsx.BookSheet) {
		if shown {
			all = append(all, s)
		}
	}
	add(some && b.run.Decides(), xlsx.BookSheet{Name: confidenceSheet,
		What: "how sure the choice is, what moves it, what to measure", Write: b.confidence})
	whole := some && b.run.Result.Complete // what compares the best
	add(whole, xlsx.BookSheet{Name: ClassesSheet, What: b.theShown() + " side by side", Write: b.classes})
	for i := range b.found {
		what := "no feasible design" + words.SoFar(b.run) + ": the nearest"
		if n := len(b.found[i].Ranking); n > 0 {
			what = fmt.Sprintf("the best %s %s, every number", texts.Grouped(uint64(min(n, SheetRanks))),
				texts.Plural(n, "design", "designs"))
			if !b.run.Result.Complete {
				what = "the best" + words.SoFar(b.run) + ", every number"
			}
		}
		add(true, xlsx.BookSheet{Name: b.rankings[i].sheet, What: what, Write: func() { b.rankingOf(i) }})
	}
	add(some, xlsx.BookSheet{Name: leadersSheet, What: "the best design of each diameter" + words.SoFar(b.run),
		Write: b.leaders})
	add(front && whole, xlsx.BookSheet{Name: frontSheet, What: "designs that none other beats in " +
		"" + words.Front(b.run.Study.Front), Write: b.front})
	add(some, xlsx.BookSheet{Name: MeritSheet, What: "weights and ranges, to be changed", Write: b.merit})
	add(true, xlsx.BookSheet{Name: requirementsSheet, What: "what each requirement rejected", Write: b.requirements})
	add(whole, xlsx.BookSheet{Name: massesSheet, What: "build-up of " + b.theShown(), Write: b.masses})
	add(whole, xlsx.BookSheet{Name: pointsSheet, What: "hover, full throttle, cruise and top speed of " + b.theShown(),
		Write: b.points})
	add(whole, xlsx.BookSheet{Name: partsSheet, What: "what to buy, what it weighs and must bear", Write: b.parts})
	add(whole && b.run.Decides(), xlsx.BookSheet{Name: testPlanSheet, What: "what to measure, and what to expect",
		Write: b.testPlan})
	add(whole, xlsx.BookSheet{Name: verificationSheet, What: "how each requirement is shown to be kept",
		Write: b.verification})
	if n := len(b.figures); n > 0 {
		add(true, xlsx.BookSheet{Name: figuresSheet, What: fmt.Sprintf("%d %s with captions", n,
			texts.Plural(n, "picture", "pictures")), Write: func() {
			main := b.mainFigure()
			if b.run.Decides() && !b.printedWhole {
				main = nil
			}
			figurePages(b.Book, b.figures, main)
		}})
	}
	add(true, xlsx.BookSheet{Name: basisSheet, What: "assumptions, constants, sources, errors, flags", Write: b.basis})
	return all
}

func (b *review) write(w io.Writer) error {
	b.Properties("Design review of an electric quad", "What a sweep of the design space found. "+words.Caution())
	// The sheet of merit shows what the rankings find.
	var calls, late []func()
	for _, s := range b.sheets {
		if s.Name == MeritSheet {
			late = append(late, s.Write)
		} else {
			calls = append(calls, s.Write)
		}
	}
	return b.WriteTo(w, b.sheets, append(calls, late...))
}

// RankingSheets names one sheet a class.
func RankingSheets(found []finding.Class) []string {
	var labels []string
	for i := range found {
		labels = append(labels, found[i].Class.Label)
	}
	return xlsx.SheetNames("Ranking ", labels)
}
