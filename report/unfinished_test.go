package report

import (
	"strings"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/trial"
)

// The report of a run that was cut short says nowhere what only a whole one may: a lead, a
// tie, a gain of one class over another, an edge of the grid, the best without more.
func TestUnfinishedSaysNothingFalse(t *testing.T) {
	t.Parallel()
	r := trial.UnfinishedRun(t, 0.6)
	r.Figures = []string{"size", "why-not"}
	files := writeTo(t, r)
	book := trial.OpenBook(t, files[finding.WorkbookName])
	var all []string
	for _, name := range book.GetSheetList() {
		if name == "Basis" { // what is said of the model
			continue
		}
		all = append(all, trial.Cells(t, book, name)...)
	}
	record := string(files[finding.RecordName])
	text := strings.Join(all, "\n")
	for _, claim := range []string{" leads ", " tied", "wider grid", "of the grid keeps", "is best at", "The answer", "the same design is best",
		"highest of the grid", "lowest of the grid", "no other diameter"} {
		if strings.Contains(text, claim) {
			t.Errorf("the workbook of an unfinished run says %q", claim)
		}
		if strings.Contains(record, claim) {
			t.Errorf("run.json of an unfinished run says %q", claim)
		}
	}
	for _, name := range []string{"Classes", "Pareto front", "Masses", "Operating points"} {
		if at, _ := book.GetSheetIndex(name); at >= 0 {
			t.Errorf("an unfinished run has the sheet %s, which compares the best", name)
		}
	}
	summary := strings.Join(trial.Cells(t, book, sheet.SummarySheet), "\n")
	for _, said := range []string{"What was judged", "Of each diameter, in every class: 2.5 ", "A better design is left with a chance of 3",
		"The best design so far of each class", "No design judged so far keeps every requirement"} {
		if !strings.Contains(strings.ToLower(summary), strings.ToLower(said)) {
			t.Errorf("the summary does not say %q", said)
		}
	}
	for _, member := range []string{`"judged": [`, `"rest": {`, `"chance": 0.37`, `"gain": `, `"most": `} {
		if !strings.Contains(record, member) {
			t.Errorf("run.json lacks %s", member)
		}
	}
	if whole := string(writeTo(t, trial.SmallRun(t))[finding.RecordName]); strings.Contains(whole, `"judged"`) ||
		strings.Contains(whole, `"rest"`) {
		t.Error("run.json of a complete run tells of what was not judged")
	}
}
