package report

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// office has a workbook opened, computed anew and written by an office program,
// LibreOffice. It takes OFFICE=1 to run such tests, since they need the program
// and some seconds.
type office struct{ profile string }

func newOffice(t *testing.T) *office {
	t.Helper()
	if os.Getenv("OFFICE") == "" {
		t.Skip("OFFICE=1 recalculates in an office program")
	}
	if _, err := exec.LookPath("soffice"); err != nil {
		t.Fatalf("OFFICE is set, but %v: install libreoffice-calc", err)
	}
	o := &office{t.TempDir()}
	// Compute every formula on opening, whatever value is stored with it.
	settings := filepath.Join(o.profile, "user", "registrymodifications.xcu")
	if err := os.MkdirAll(filepath.Dir(settings), 0o777); err != nil {
		t.Fatal(err)
	}
	err := os.WriteFile(settings, []byte(`<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`), 0o666)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// recalculate gives the workbook as the program leaves it.
func (o *office) recalculate(t *testing.T, book []byte) []byte {
	t.Helper()
	dir := t.TempDir()
	in := filepath.Join(dir, "in.xlsx")
	if err := os.WriteFile(in, book, 0o666); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	cmd := exec.CommandContext(t.Context(), "soffice", "--headless", "-env:UserInstallation=file://"+o.profile,
		"--convert-to", "xlsx", "--outdir", out, in)
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, text)
	}
	b, err := os.ReadFile(filepath.Join(out, "in.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// formulaCells lists the cells with a formula, by sheet.
func formulaCells(t *testing.T, f *excelize.File, parts map[string]string) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	for i, sheet := range f.GetSheetList() {
		for _, m := range formulaCell.FindAllStringSubmatch(parts["xl/worksheets/sheet"+strconv.Itoa(i+1)+".xml"], -1) {
			out[sheet] = append(out[sheet], m[1])
		}
	}
	return out
}

var (
	formulaCell = regexp.MustCompile(`<c r="([A-Z]+\d+)"[^>]*><f>`)
	errorCell   = regexp.MustCompile(`<c r="([A-Z]+\d+)"[^>]* t="e"`)
)

// compareFormulas holds the values stored with formulas against those that the
// office program computes.
func compareFormulas(t *testing.T, o *office, book []byte, least int) {
	t.Helper()
	f := trial.OpenBook(t, book)
	again := o.recalculate(t, book)
	g := trial.OpenBook(t, again)
	for name, part := range trial.Unzip(t, again) {
		if m := errorCell.FindStringSubmatch(part); m != nil {
			t.Errorf("%s has an error in %s", name, m[1])
		}
	}
	raw := excelize.Options{RawCellValue: true}
	n := 0
	for sheet, cells := range formulaCells(t, f, trial.Unzip(t, book)) {
		for _, at := range cells {
			n++
			want, err := f.GetCellValue(sheet, at, raw)
			if err != nil {
				t.Fatal(err)
			}
			got, err := g.GetCellValue(sheet, at, raw)
			if err != nil {
				t.Fatal(err)
			}
			x, errX := strconv.ParseFloat(want, 64)
			y, errY := strconv.ParseFloat(got, 64)
			switch {
			case errX != nil && errY != nil && got == want:
			case errX == nil && errY == nil && math.Abs(x-y) <= 1e-11*math.Max(1, math.Abs(x)):
			default:
				formula, _ := f.GetCellFormula(sheet, at)
				t.Errorf("%s!%s holds %s, computed anew %s: %s", sheet, at, want, got, formula)
			}
		}
	}
	if n < least {
		t.Errorf("the workbook has %d formulas: too few to test with", n)
	}
}

func TestOfficeAgrees(t *testing.T) {
	o := newOffice(t)
	compareFormulas(t, o, writeTo(t, trial.SmallRun(t))[finding.WorkbookName], 200)
}

func TestOfficeAgreesOnAComparison(t *testing.T) {
	o := newOffice(t)
	_, _, dirs := twoRuns(t)
	c, err := finding.Compare(dirs...)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.WriteComparison(t.Context(), &b, t.TempDir(), c, nil); err != nil {
		t.Fatal(err)
	}
	compareFormulas(t, o, b.Bytes(), 40)
}

// A reader who changes weights and ranges sees the order that a run ranks its
// designs in.
func TestOfficeFollowsTheMerit(t *testing.T) {
	o := newOffice(t)
	r := trial.SmallRun(t)
	f := trial.OpenBook(t, writeTo(t, r)[finding.WorkbookName])
	merit := slices.Clone(r.Study.Merit)
	merit[0].Weight, merit[0].Best = 3, 9*60 // the better half is as good as any: ties
	merit[1].Weight, merit[1].Worst = 1, 3
	for _, m := range merit {
		row, _ := trial.Find(t, f, sheet.MeritSheet, m.Metric.Title, 1)
		for col, v := range map[int]float64{2: m.Weight, 3: m.Metric.Unit.FromSI(m.Worst),
			4: m.Metric.Unit.FromSI(m.Best)} {
			if err := f.SetCellFloat(sheet.MeritSheet, xlsx.CellName(col, row), v, -1, 64); err != nil {
				t.Fatal(err)
			}
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	g := trial.OpenBook(t, o.recalculate(t, b.Bytes()))
	evaluator := sweep.NewEvaluator(r.Study)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	moved := 0
	for i := range found {
		k := &found[i]
		if len(k.Ranking) == 0 {
			continue
		}
		page := sheet.RankingSheets(found)[i]
		_, column := trial.Find(t, g, page, "Merit", sheet.HeadRow)
		var scores []float64
		for _, x := range k.Ranking {
			c, err := evaluator.Craft(x.Index, k.Class)
			if err != nil {
				t.Fatal(err)
			}
			// To the digits to which the workbook tells merits apart.
			scores = append(scores, math.Round(merit.Of(c)*1e12)/1e12)
		}
		for n, want := range sheet.RanksOf(scores) {
			row := sheet.HeadRow + 1 + n
			if got := trial.Number(t, g, page, xlsx.CellName(column, row)); math.Abs(got-scores[n]) > 1e-11 {
				t.Errorf("%s, row %d: merit %v, want %v", page, row, got, scores[n])
			}
			if got := trial.Number(t, g, page, xlsx.CellName(1, row)); got != float64(want) {
				t.Errorf("%s, row %d: rank %v, want %d", page, row, got, want)
			}
			if want != n+1 {
				moved++
			}
		}
		at, _ := trial.Find(t, g, sheet.MeritSheet, words.ClassName(k.Class), 1)
		if got, want := trial.Number(t, g, sheet.MeritSheet, xlsx.CellName(2, at)),
			slices.Max(scores); math.Abs(got-want) > 1e-11 {
			t.Errorf("the best of %s has merit %v, want %v", k.Class.Label, got, want)
		}
		if got, want := trial.Number(t, g, sheet.MeritSheet, xlsx.CellName(3, at)),
			slices.Index(scores, slices.Max(scores))+1; got != float64(want) {
			t.Errorf("the best of %s ranks %v as run, want %d", k.Class.Label, got, want)
		}
	}
	if moved < 10 {
		t.Errorf("the weights move %d designs: too few to test with", moved)
	}
	text := strings.Join(trial.Cells(t, g, sheet.MeritSheet), "\n")
	for _, want := range []string{"--merit hover-time:3:3min:9min", "--merit thrust-to-weight:1:3:14"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet of merit does not say %q", want)
		}
	}
}
