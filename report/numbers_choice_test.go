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
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// loaded names a build as the workbook does, with its payload in kg where it has one.
func loaded(name string, payload float64) string {
	if name = strings.ReplaceAll(name, " x ", "×"); payload > 0 {
		return name + ", payload " + words.Mass(payload)
	}
	return name
}

// buildsOf reads robust.csv: by class and name of the build with its payload.
func buildsOf(t *testing.T, file []byte) map[string]map[string]told {
	t.Helper()
	out := map[string]map[string]told{}
	for class, all := range toldOf(t, file) {
		out[class] = map[string]told{}
		for _, x := range all {
			out[class][loaded(x.words["build"], x.numbers["payload"])] = x
		}
	}
	return out
}

// What is told of builds over the draws is that of robust.csv: on the page that is printed, as JSON, on
// the first sheet and on that of the confidence, each number to the last digit that it shows.
func TestChoiceNumbersAgree(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	files := writeTo(t, r)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	all := buildsOf(t, files[finding.RobustName])
	printedBuilds(t, r, found, all)
	jsonBuilds(t, r, all)
	sheetBuilds(t, found, all, files[finding.WorkbookName])
	frontNumbers(t, files)
}

// metricIn is a metric of a build in robust.csv at a quantile, in the unit in which it is shown.
func metricIn(x told, m *model.Metric, quantile string) float64 {
	return m.Unit.FromSI(finding.ExportUnit(m).ToSI(x.numbers[m.Name+quantile]))
}

// ranged says whether a text, of one number or of two with a dash or "to" between, has these ends.
func ranged(text string, lo, hi float64) bool {
	from, to, ok := strings.Cut(strings.Replace(text, " to ", "-", 1), "-")
	if !ok {
		to = from
	}
	return roundsTo(from, lo) && roundsTo(to, hi)
}

func printedBuilds(t *testing.T, r *finding.Run, found []finding.Class, all map[string]map[string]told) {
	var out bytes.Buffer
	if err := screen.PrintRun(&out, r, screen.Page{Width: 400}); err != nil {
		t.Fatal(err)
	}
	gap := regexp.MustCompile(`\s{2,}`)
	class, compared, loads := "", 0, false
	for line := range strings.Lines(out.String()) {
		fields := gap.Split(strings.TrimSpace(line), -1)
		if fields[0] == "order" {
			loads = slices.Contains(fields, "payload")
		}
		for i := range found {
			if fields[0] == words.ClassLabel(found[i].Class) {
				class = found[i].Class.Label
			}
		}
		if len(fields) < 5 {
			continue
		}
		payload := 0.0
		if g, err := strconv.ParseFloat(fields[2], 64); loads && err == nil {
			payload = finding.Gram.ToSI(g)
		}
		x, ok := all[class][loaded(strings.TrimSuffix(fields[1], " *"), payload)]
		if !ok {
			continue
		}
		ranking := found[slices.IndexFunc(found, func(k finding.Class) bool {
			return k.Class.Label == class
		})].Choice.Ranking()
		metrics := fields[len(fields)-len(ranking):]
		before := fields[:len(fields)-len(ranking)]
		cautious, sure, pack := before[len(before)-1], before[len(before)-2], before[len(before)-3]
		if !roundsTo(cautious, x.numbers["cautious"]) ||
			!roundsTo(strings.TrimSuffix(sure, " %"), 100*x.numbers["p-feasible"]) {
			t.Errorf("%q has P(feasible) %g and a cautious merit of %g in robust.csv", line, x.numbers["p-feasible"],
				x.numbers["cautious"])
		}
		if lo, hi := finding.MAh.FromSI(x.numbers["pack-p10"]), finding.MAh.FromSI(x.numbers["pack-p90"]); !ranged(
			pack, lo, hi) {
			t.Errorf("%q has a pack of %g to %g mAh in robust.csv", line, lo, hi)
		}
		for n, m := range ranking {
			if lo, hi := metricIn(x, m, "-p10"), metricIn(x, m, "-p90"); !ranged(metrics[n], lo, hi) {
				t.Errorf("%s reads %q, %g to %g in robust.csv", m.Name, metrics[n], lo, hi)
			}
			compared++
		}
	}
	if compared < 4 {
		t.Errorf("%d metrics were compared: too few to tell:\n%s", compared, &out)
	}
}

// buildRecord is what the JSON has of a build.
type buildRecord struct {
	Build    string
	Inputs   map[string]struct{ Value float64 }
	Feasible float64 `json:"p_feasible"`
	Cautious float64
	Regret   float64
	Merit    finding.QuantilesRecord
	Pack     finding.QuantilesRecord
	Metrics  []finding.NamedQuantiles
}

func jsonBuilds(t *testing.T, r *finding.Run, all map[string]map[string]told) {
	var out bytes.Buffer
	if err := screen.PrintRunJSON(&out, r); err != nil {
		t.Fatal(err)
	}
	var record struct {
		Result struct {
			Classes []struct {
				Decision *struct{ Recommended, Nominal, Surest *buildRecord }
			}
		}
	}
	if err := json.Unmarshal(out.Bytes(), &record); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for i, k := range record.Result.Classes {
		if k.Decision == nil {
			continue
		}
		for _, b := range []*buildRecord{k.Decision.Recommended, k.Decision.Nominal, k.Decision.Surest} {
			if b == nil {
				continue
			}
			x, ok := all[r.Result.Classes[i].Class.Label][loaded(b.Build, b.Inputs["payload"].Value)]
			if !ok {
				t.Fatalf("robust.csv has no %q", b.Build)
			}
			want := map[string]float64{"p-feasible": b.Feasible, "cautious": b.Cautious, "regret": b.Regret}
			quantiles := func(name string, q finding.QuantilesRecord) {
				for at, v := range map[string]*float64{"-p10": q.P10, "-p50": q.P50, "-p90": q.P90} {
					if v != nil {
						want[name+at] = *v
					}
				}
			}
			quantiles("merit", b.Merit)
			quantiles("pack", b.Pack)
			for _, m := range b.Metrics {
				quantiles(m.Name, m.QuantilesRecord)
			}
			for name, v := range want {
				got, ok := x.numbers[name]
				if !ok {
					continue // of a requirement, which the table has not
				}
				compared++
				if got != v {
					t.Errorf("%s: %s is %.17g as JSON, %.17g in robust.csv", b.Build, name, v, got)
				}
			}
		}
	}
	if compared < 40 {
		t.Errorf("%d numbers were compared: too few to tell", compared)
	}
}

// sheetBuilds holds what to order on the first sheet, and the builds of the sheet of confidence.
func sheetBuilds(t *testing.T, found []finding.Class, all map[string]map[string]told, book []byte) {
	f := trial.OpenBook(t, book)
	raw := func(sheet string) [][]string {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		return rows
	}
	compared := 0
	same := func(row []string, at int, want float64) {
		compared++
		if got, err := strconv.ParseFloat(cellOf(row, at), 64); err != nil || math.Abs(got-want) > lastDigit(want) {
			t.Errorf("%q: column %d is %s, want %.17g", row, at+1, cellOf(row, at), want)
		}
	}
	for i := range found {
		c := found[i].Choice
		if c == nil {
			continue
		}
		ordered := slices.IndexFunc(raw("Summary"), func(row []string) bool {
			return cellOf(row, 0) == words.ClassName(found[i].Class) && cellOf(row, 1) == words.Build(c.Recommended().Design)
		})
		if ordered < 0 {
			t.Fatalf("%s: nothing to order", found[i].Class.Label)
		}
		row := raw("Summary")[ordered]
		for n, b := range []*decide.Build{c.Recommended(), c.At(c.Nominal)} {
			if b == nil || n > 0 && c.Nominal == 0 {
				continue
			}
			x := all[found[i].Class.Label][words.Build(b.Design)]
			first := [...]int{5, 12}[n]
			same(row, first, 100*x.numbers["p-feasible"])
			same(row, first+1, x.numbers["cautious"])
			same(row, first+2, x.numbers["regret"])
		}
	}
	class := ""
	for _, row := range raw("Confidence") {
		for i := range found {
			if c := found[i].Choice; c != nil && cellOf(row, 0) == words.ClassName(found[i].Class)+": "+
				words.Build(c.Recommended().Design) {
				class = found[i].Class.Label
			}
		}
		name, _, _ := strings.Cut(cellOf(row, 1), " (")
		x, ok := all[class][name]
		if _, err := strconv.Atoi(cellOf(row, 0)); err != nil || !ok || len(row) < 13 {
			continue
		}
		for n, v := range []float64{100 * x.numbers["p-feasible"], x.numbers["cautious"], x.numbers["merit-p10"],
			x.numbers["merit-p50"], x.numbers["merit-p90"], x.numbers["regret"]} {
			same(row, n+2, v)
		}
		for n, at := range []string{"pack-p10", "pack-p50", "pack-p90"} {
			same(row, n+9, math.Round(1e10*finding.MAh.FromSI(x.numbers[at]))/1e10)
		}
	}
	if compared < 30 {
		t.Errorf("%d cells were compared: too few to tell", compared)
	}
}

// frontNumbers holds every metric of the sheet of the Pareto front against front.csv.
func frontNumbers(t *testing.T, files map[string][]byte) {
	rows, err := csv.NewReader(bytes.NewReader(files[finding.FrontName])).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	f := trial.OpenBook(t, files[finding.WorkbookName])
	cells, err := f.GetRows("Pareto front", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	head := slices.IndexFunc(cells, func(row []string) bool { return cellOf(row, 0) == "Class" })
	if head < 0 || len(cells)-head < len(rows) {
		t.Fatalf("the sheet has %d rows, front.csv %d", len(cells), len(rows))
	}
	compared := 0
	for _, m := range finding.Swept() {
		at := slices.Index(cells[head], finding.Headed(m.Title, m.Unit.Label))
		from := slices.IndexFunc(rows[0], func(s string) bool {
			name, _, _ := strings.Cut(s, " (")
			return name == m.Name
		})
		if at < 0 || from < 0 {
			continue
		}
		for n, row := range rows[1:] {
			want, err := strconv.ParseFloat(row[from], 64)
			text := cellOf(cells[head+1+n], at)
			if err != nil {
				if text != "" {
					t.Errorf("row %d: %s is %s, and empty in front.csv", n+1, m.Name, text)
				}
				continue
			}
			compared++
			want = m.Unit.FromSI(finding.ExportUnit(m).ToSI(want))
			if got, err := strconv.ParseFloat(text, 64); err != nil || math.Abs(got-want) > lastDigit(want) {
				t.Errorf("row %d: %s is %s, %.17g in front.csv", n+1, m.Name, text, want)
			}
		}
	}
	if compared < 100 {
		t.Errorf("%d cells were compared: too few to tell", compared)
	}
}
