package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/sheet"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// told is what ranking.csv has of a design: by the name of an input or metric, in the unit of
// its head, NaN for an empty cell; and what else stands there, as text.
type told struct {
	numbers map[string]float64
	words   map[string]string
}

// toldOf reads ranking.csv by class and rank.
func toldOf(t *testing.T, file []byte) map[string][]told {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]told{}
	for _, row := range rows[1:] {
		x := told{map[string]float64{}, map[string]string{}}
		for i, cell := range row {
			name, _, _ := strings.Cut(rows[0][i], " (")
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				v = math.NaN()
			}
			x.numbers[name], x.words[name] = v, cell
		}
		out[row[0]] = append(out[row[0]], x)
	}
	return out
}

// roundsTo says whether a text is a number rounded to the digits that the text has.
func roundsTo(text string, v float64) bool {
	shown, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
	if err != nil {
		return false
	}
	decimals := 0
	if _, after, ok := strings.Cut(text, "."); ok {
		decimals = len(after)
	}
	return math.Abs(shown-v) <= 0.5*math.Pow10(-decimals)*(1+1e-9)+1e-12*math.Abs(v)
}

// The workbook's rankings, what is printed and the JSON have the numbers of ranking.csv: every
// input and metric of every design, to the last digit that each shows.
func TestNumbersAgree(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	files := writeTo(t, r)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	all := toldOf(t, files[finding.RankingName])
	sheetNumbers(t, r, found, all, files[finding.WorkbookName])
	jsonNumbers(t, r, all)
	printedNumbers(t, r, found, all)
}

// sheetNumbers holds every cell of the ranking sheets against ranking.csv.
func sheetNumbers(t *testing.T, r *finding.Run, found []finding.Class, all map[string][]told, book []byte) {
	f := trial.OpenBook(t, book)
	metrics, cells := map[string]bool{}, 0
	for i := range found {
		if found[i].Best() == nil {
			continue
		}
		page := sheet.RankingSheets(found)[i]
		raw, err := f.GetRows(page, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		shown, err := f.GetRows(page)
		if err != nil {
			t.Fatal(err)
		}
		heads := raw[sheet.HeadRow-1]
		designs := all[found[i].Class.Label]
		if len(raw)-sheet.HeadRow != len(designs) {
			t.Fatalf("%s has %d designs, ranking.csv %d", page, len(raw)-sheet.HeadRow, len(designs))
		}
		column := func(name string, scale func(float64) float64, head string) {
			at := slices.Index(heads, head)
			if at < 0 {
				return
			}
			metrics[name] = true
			for n, x := range designs {
				want := scale(x.numbers[name])
				text, seen := cellOf(raw[sheet.HeadRow+n], at), cellOf(shown[sheet.HeadRow+n], at)
				cells++
				if math.IsNaN(want) {
					if text != "" {
						t.Errorf("%s, rank %d: %s is %q, and empty in ranking.csv", page, n+1, head, text)
					}
					continue
				}
				got, err := strconv.ParseFloat(text, 64)
				if err != nil || math.Abs(got-want) > lastDigit(want) {
					t.Errorf("%s, rank %d: %s is %s, %.17g in ranking.csv", page, n+1, head, text, want)
				}
				if bare := regexp.MustCompile(`^[≥> ]*`).ReplaceAllString(seen, ""); !roundsTo(bare, want) {
					t.Errorf("%s, rank %d: %s reads %q, %.17g in ranking.csv", page, n+1, head, seen, want)
				}
			}
		}
		for _, m := range finding.Swept() {
			from := finding.ExportUnit(m)
			column(m.Name, func(v float64) float64 { return m.Unit.FromSI(from.ToSI(v)) },
				finding.Headed(m.Title, m.Unit.Label))
		}
		for _, a := range finding.Inputs {
			if a == sweep.Stator || a == sweep.Chord {
				continue // a trade code, and one with a default that depends
			}
			from := a.Kind.SI()
			column(a.Name, func(v float64) float64 { return a.Unit.FromSI(from.ToSI(v)) },
				finding.Headed(a.Title, words.InputLabel(a)))
		}
		column("merit", func(v float64) float64 { return math.Round(v*1e12) / 1e12 }, "Merit")
	}
	// What no sheet has is what no design has.
	for _, m := range finding.Swept() {
		some := false
		for _, designs := range all {
			some = some || slices.ContainsFunc(designs, func(x told) bool { return finding.Finite(x.numbers[m.Name]) })
		}
		calm := m.Windy && r.Study.Model.Assume.Wind == 0 // it says what others say
		if some && !metrics[m.Name] && !calm {
			t.Errorf("no ranking sheet has the %s that ranking.csv has", m.Name)
		}
	}
	if cells < 2000 {
		t.Errorf("%d cells were compared: too few to tell", cells)
	}
}

// lastDigit is a step of the last of the 15 digits that are read of a cell.
func lastDigit(v float64) float64 {
	if v == 0 {
		return 0
	}
	return 1.01 * math.Pow10(int(math.Floor(math.Log10(math.Abs(v))))-14)
}

func cellOf(row []string, at int) string {
	if at < len(row) {
		return row[at]
	}
	return ""
}

// jsonNumbers holds the first designs as JSON against ranking.csv, bit for bit.
func jsonNumbers(t *testing.T, r *finding.Run, all map[string][]told) {
	var out bytes.Buffer
	if err := screen.PrintRunJSON(&out, r); err != nil {
		t.Fatal(err)
	}
	type number struct{ Value float64 }
	var record struct {
		Result struct {
			Classes []struct {
				Ranking []struct {
					Rank            int
					Merit           float64
					Inputs, Metrics map[string]number
				}
			}
		}
	}
	if err := json.Unmarshal(out.Bytes(), &record); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for i, k := range record.Result.Classes {
		label := r.Result.Classes[i].Class.Label
		for _, x := range k.Ranking {
			want := all[label][x.Rank-1]
			if x.Merit != want.numbers["merit"] {
				t.Errorf("class %s, rank %d: merit %g as JSON, %g in ranking.csv", label, x.Rank, x.Merit,
					want.numbers["merit"])
			}
			for _, of := range []map[string]number{x.Inputs, x.Metrics} {
				for name, v := range of {
					m, isMetric := model.LookupMetric(name)
					if isMetric && !slices.Contains(finding.Swept(), m) {
						continue // computed for the first of a ranking alone
					}
					compared++
					if v.Value != want.numbers[name] {
						t.Errorf("class %s, rank %d: %s is %.17g as JSON, %.17g in ranking.csv", label, x.Rank, name,
							v.Value, want.numbers[name])
					}
				}
			}
			for _, m := range finding.Swept() {
				if _, ok := x.Metrics[m.Name]; !ok && finding.Finite(want.numbers[m.Name]) &&
					finding.Input(m.Name) == nil {
					t.Errorf("class %s, rank %d: no %s as JSON, which ranking.csv has", label, x.Rank, m.Name)
				}
			}
		}
	}
	if compared < 300 {
		t.Errorf("%d numbers were compared: too few to tell", compared)
	}
}

// printedNumbers holds the printed table of each ranking against ranking.csv.
func printedNumbers(t *testing.T, r *finding.Run, found []finding.Class, all map[string][]told) {
	for _, whole := range []bool{true, false} {
		var out bytes.Buffer
		if err := screen.PrintRun(&out, r, screen.Page{Width: 400, Whole: whole}); err != nil {
			t.Fatal(err)
		}
		gap := regexp.MustCompile(`\s{2,}`)
		var class string
		var heads []string
		compared := 0
		for line := range strings.Lines(out.String()) {
			fields := gap.Split(strings.TrimSpace(line), -1)
			for i := range found {
				if strings.HasPrefix(line, "Class "+words.ClassLabel(found[i].Class)) {
					class, heads = found[i].Class.Label, nil
				}
			}
			if fields[0] == "propeller" && heads == nil {
				heads = append([]string{""}, fields...)
				continue
			}
			rank, err := strconv.Atoi(strings.TrimSuffix(fields[0], "*"))
			if heads == nil || err != nil || len(fields) != len(heads) {
				continue
			}
			if rank < 1 || rank > len(all[class]) {
				t.Fatalf("class %q has no rank %d: %q", class, rank, line)
			}
			x := all[class][rank-1]
			for _, m := range finding.Asked(r.Study) {
				at := slices.Index(heads, words.MetricHead(m))
				if at < 0 {
					t.Errorf("no column %s in %q", words.MetricHead(m), heads)
					continue
				}
				want := m.Unit.FromSI(finding.ExportUnit(m).ToSI(x.numbers[m.Name]))
				compared++
				if math.IsNaN(want) != (fields[at] == "-") || !math.IsNaN(want) && !roundsTo(fields[at], want) {
					t.Errorf("class %s, rank %d: %s reads %q, %.17g in ranking.csv", class, rank, m.Name, fields[at], want)
				}
			}
			if merit := fields[len(fields)-1]; !roundsTo(merit, x.numbers["merit"]) {
				t.Errorf("class %s, rank %d: merit reads %q, %g in ranking.csv", class, rank, merit, x.numbers["merit"])
			}
		}
		if compared < 20 {
			t.Errorf("%d numbers were compared (whole page %v): too few to tell:\n%s", compared, whole, &out)
		}
	}
}
