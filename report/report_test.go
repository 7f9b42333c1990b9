package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/sheet"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// writeTo writes a report and returns its files by name.
func writeTo(t *testing.T, r *finding.Run) map[string][]byte {
	t.Helper()
	dir := t.TempDir()
	files, err := Write(t.Context(), r, dir)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if !slices.Contains(files, path) {
			t.Errorf("%s is in the folder, but was not returned", path)
		}
		name, _ := filepath.Rel(dir, path)
		out[filepath.ToSlash(name)], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) != len(files) {
		t.Errorf("%d files in the folder, %d returned", len(out), len(files))
	}
	return out
}

func TestWriteIsDeterministic(t *testing.T) {
	t.Parallel()
	a := trial.SmallRun(t)
	b := trial.SmallRun(t)
	b.Started = a.Started.Add(time.Hour)
	b.Host, b.Result.Workers, b.Result.Elapsed = "another", 7, time.Minute
	first, second := writeTo(t, a), writeTo(t, b)
	for name := range first {
		if name == finding.RecordName {
			continue
		}
		if !bytes.Equal(first[name], second[name]) {
			t.Errorf("%s differs between two runs of one study", name)
		}
	}
	record := func(b []byte) map[string]any {
		var v map[string]any
		if err := json.Unmarshal(b, &v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	x, y := record(first[finding.RecordName]), record(second[finding.RecordName])
	if cmp.Equal(x["run"], y["run"]) {
		t.Error("run.json has the same date, host and timings for both")
	}
	delete(x, "run")
	delete(y, "run")
	if d := cmp.Diff(x, y); d != "" {
		t.Errorf("run.json differs beyond its member run:\n%s", d)
	}
}

func TestWriteListsItsFiles(t *testing.T) {
	t.Parallel()
	files := writeTo(t, trial.SmallRun(t))
	for _, name := range []string{finding.WorkbookName, finding.RankingName, finding.FrontName, finding.FlagsName,
		finding.RecordName} {
		if len(files[name]) == 0 {
			t.Errorf("no %s", name)
		}
	}
	var record struct {
		Files []finding.FileRecord `json:"files"`
	}
	if err := json.Unmarshal(files[finding.RecordName], &record); err != nil {
		t.Fatal(err)
	}
	if len(record.Files) != len(files)-1 {
		t.Errorf("run.json lists %d files of %d", len(record.Files), len(files)-1)
	}
	for _, f := range record.Files {
		sum := sha256.Sum256(files[f.Name])
		if f.Bytes != int64(len(files[f.Name])) || f.SHA256 != hex.EncodeToString(sum[:]) {
			t.Errorf("run.json is wrong about %s", f.Name)
		}
	}
	want := "# The flags of this study. To run it again: rotorsieve sweep " +
		"@effective.flags\n--class=80g,249g,600g\n--diameter=2.5in,4in,5in\n"
	if got := string(files[finding.FlagsName]); got != want {
		t.Errorf("%s is %q, want %q", finding.FlagsName, got, want)
	}
}

func TestWriteRefuses(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	r.Flags = []string{"--name=two\nlines"}
	if _, err := Write(t.Context(), r, t.TempDir()); err == nil || !strings.Contains(err.Error(), "line break") {
		t.Errorf("a flag of two lines: error %v", err)
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if files, err := Write(t.Context(), trial.SmallRun(t), file); err == nil || len(files) > 0 {
		t.Errorf("a file as the folder: wrote %v, error %v", files, err)
	}
}

func TestIncompleteRunIsMarked(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	r.Result.Complete = false
	r.Result.Done = 356
	const mark = "INCOMPLETE: 41.2 % of the designs judged"
	files := writeTo(t, r)
	var out bytes.Buffer
	if err := screen.PrintRun(&out, r, screen.Page{Width: 100, Whole: true}); err != nil {
		t.Fatal(err)
	}
	book := trial.OpenBook(t, files[finding.WorkbookName])
	for what, text := range map[string]string{
		"the terminal": out.String(), "run.json": string(files[finding.RecordName]),
		"the summary": strings.Join(trial.Cells(t, book, sheet.SummarySheet), "\n"),
		"a ranking":   strings.Join(trial.Cells(t, book, "Ranking 249g"), "\n"),
	} {
		if !strings.Contains(text, mark) {
			t.Errorf("%s does not say %q", what, mark)
		}
	}
	for done, want := range map[uint64]string{0: "0.0", 1: "0.0", 999_999: "99.9", 500_000: "50.0"} {
		if got := words.DoneShare(done, 1_000_000); got != want {
			t.Errorf("share of %d in a million is %s, want %s", done, got, want)
		}
	}
}

// A CSV of designs gives back each bit of what was found.
func TestTablesReadBackExactly(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	files := writeTo(t, r)
	t.Run(finding.RankingName, func(t *testing.T) {
		readsBack(t, r, files[finding.RankingName], "rank",
			func(k *sweep.ClassResult) []sweep.Ranked { return k.Ranking })
	})
	t.Run(finding.FrontName, func(t *testing.T) {
		readsBack(t, r, files[finding.FrontName], "position", func(k *sweep.ClassResult) (out []sweep.Ranked) {
			for _, p := range k.Front {
				out = append(out, p.Ranked)
			}
			return out
		})
	})
}

func readsBack(t *testing.T, r *finding.Run, file []byte, position string,
	designs func(*sweep.ClassResult) []sweep.Ranked) {
	rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, h := range rows[0] {
		if _, ok := at[h]; ok {
			t.Errorf("head %q stands twice", h)
		}
		at[h] = i
	}
	evaluator := sweep.NewEvaluator(r.Study)
	n := 1
	for i := range r.Result.Classes {
		k := &r.Result.Classes[i]
		for j, x := range designs(k) {
			c, err := evaluator.Craft(x.Index, k.Class)
			if err != nil {
				t.Fatal(err)
			}
			d := r.Study.Grid.Design(x.Index)
			row := rows[n]
			n++
			number := func(head string) float64 {
				k, ok := at[head]
				if !ok {
					t.Fatalf("no column %q in %q", head, rows[0])
				}
				v, err := strconv.ParseFloat(row[k], 64)
				if err != nil {
					t.Fatalf("%s: %v", head, err)
				}
				return v
			}
			if row[at["class"]] != k.Class.Label || number("index") != float64(x.Index) ||
				number(position) != float64(j+1) || number("merit") != x.Score {
				t.Fatalf("row %d is of another design: %q", n, row)
			}
			if number("diameter (m)") != d.Diameter || number("capacity (As)") != d.Capacity ||
				number("payload (kg)") != d.Payload || number("kv (rpm/V)") != d.KV {
				t.Errorf("row %d has other inputs than design %d", n, x.Index)
			}
			for _, m := range finding.Swept() {
				v, unit := m.Exported(c)
				if head := finding.Headed(m.Name, unit); math.IsNaN(v) {
					if got := row[at[head]]; got != "" {
						t.Errorf("row %d: %s is %s, want nothing", n, m.Name, got)
					}
				} else if got := number(head); got != v {
					t.Errorf("row %d: %s is %v, want %v", n, m.Name, got, v)
				}
			}
		}
	}
	if n != len(rows) {
		t.Errorf("%d rows, want %d", len(rows), n)
	}
	if n < 8 {
		t.Errorf("the table has %d designs: too few to test with", n-1)
	}
}

func TestUsersTextIsHarmless(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	study := *r.Study
	study.Name = "=cmd()\n@x & \"<y>\""
	result := *r.Result
	result.Classes = slices.Clone(result.Classes)
	result.Classes[1].Class.Label = "=1+1"
	result.Classes[2].Class.Label = "@SUM(A1:A9)[*]/a-very-long-label-that-no-sheet-takes"
	result.Classes[2].Class.Note = "-2+3"
	r.Study, r.Result = &study, &result
	r.Defaults = []string{"+1"}
	files := writeTo(t, r)

	rows, err := csv.NewReader(bytes.NewReader(files[finding.RankingName])).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		for _, cell := range row {
			if _, err := strconv.ParseFloat(cell, 64); err != nil && cell != "" && strings.ContainsRune("=+-@\t\r",
				rune(cell[0])) {
				t.Fatalf("%s has a cell %q", finding.RankingName, cell)
			}
		}
	}
	// The workbook has the formulas that it has without such text, and no other.
	formulas := func(book []byte) (out []string) {
		parts := trial.Unzip(t, book)
		for _, name := range slices.Sorted(maps.Keys(parts)) {
			for _, m := range regexp.MustCompile(`<f>[^<]*</f>`).FindAllString(parts[name], -1) {
				out = append(out, regexp.MustCompile(`'[^']*'!`).ReplaceAllString(strings.ReplaceAll(m, "&#39;", "'"),
					""))
			}
		}
		return out
	}
	if got, want := formulas(files[finding.WorkbookName]),
		formulas(writeTo(t, trial.SmallRun(t))[finding.WorkbookName]); !slices.Equal(got, want) || len(want) < 100 {
		t.Errorf("%d formulas, want %d", len(got), len(want))
	}
	book := trial.OpenBook(t, files[finding.WorkbookName])
	if got := trial.Cells(t, book, sheet.SummarySheet); !slices.Contains(got, `=cmd() @x & "<y>"`) ||
		!slices.Contains(got, "=1+1 (249 g, light)") {
		t.Errorf("the summary does not show the user's text as it is: %q", got)
	}
	var out bytes.Buffer
	if err := screen.PrintRun(&out, r, screen.Page{Width: 80, Whole: true}); err != nil {
		t.Fatal(err)
	}
}

func TestFingerprint(t *testing.T) {
	t.Parallel()
	s := *trial.SmallStudy(t)
	base := s.Fingerprint()
	same := s
	same.Name = "another"
	same.Classes = slices.Clone(s.Classes)
	same.Classes[0].Label, same.Classes[0].Note = "x", "y"
	if same.Fingerprint() != base {
		t.Error("names change the fingerprint")
	}
	changes := map[string]func(*sweep.Study){
		"class":       func(s *sweep.Study) { s.Classes = slices.Clone(s.Classes); s.Classes[0].Limit += 1e-9 },
		"requirement": func(s *sweep.Study) { s.Require = slices.Clone(s.Require); s.Require[0].Bound *= 1 + 1e-15 },
		"merit":       func(s *sweep.Study) { s.Merit = slices.Clone(s.Merit); s.Merit[0].Weight *= 2 },
		"top":         func(s *sweep.Study) { s.Top++ },
		"bins":        func(s *sweep.Study) { s.SizeBins++ },
		"assumption":  func(s *sweep.Study) { m := *s.Model; m.Assume.Winding++; s.Model = &m },
		"map": func(s *sweep.Study) {
			s.Maps = append(s.Maps, sweep.MapSpec{X: sweep.Diameter, Y: sweep.KV})
		},
	}
	for what, change := range changes {
		other := s
		change(&other)
		if other.Fingerprint() == base {
			t.Errorf("another %s has the same fingerprint", what)
		}
	}
}
