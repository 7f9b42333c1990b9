package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/sheet"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

func TestFinishedReadsBackExactly(t *testing.T) {
	t.Parallel()
	r, _, dirs := twoRuns(t)
	f, err := finding.ReadFinished(dirs[0])
	if err != nil {
		t.Fatal(err)
	}
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	if f.Name != r.Study.Name || f.Designs != r.Study.Grid.Size() || f.Fingerprint != r.Study.Fingerprint() ||
		f.Model != model.Version {
		t.Errorf("read back %q, %d designs, model %s, %s", f.Name, f.Designs, f.Model, f.Fingerprint)
	}
	if got, want := words.Merit(f.Merit), words.Merit(r.Study.Merit); got != want {
		t.Errorf("merit %s, want %s", got, want)
	}
	if len(f.Gates) != len(r.Result.Gates) {
		t.Fatalf("%d gates, want %d", len(f.Gates), len(r.Result.Gates))
	}
	for n, g := range f.Gates {
		if got, want := words.GateTitle(g)+words.GateBound(g)+words.DefaultMark(g),
			words.GateTitle(r.Result.Gates[n])+words.GateBound(r.Result.Gates[n])+
				words.DefaultMark(r.Result.Gates[n]); got != want {
			t.Errorf("gate %s, want %s", got, want)
		}
	}
	for n, a := range r.Study.Grid.Axes() {
		if f.Axes[n].Def != a.Def || !slices.Equal(f.Axes[n].Values, a.Values) {
			t.Errorf("axis %s has the values %v, want %v", f.Axes[n].Def.Name, f.Axes[n].Values, a.Values)
		}
	}
	if n := len(f.Assumptions); n != len(words.Assumptions(r.Study.Model)) || f.Assumptions[0].Name != "altitude" ||
		f.Assumptions[0].Value != 1600.0 {
		t.Errorf("%d assumptions, first %v", n, f.Assumptions[0])
	}
	for i := range found {
		k, back := &found[i], &f.Classes[i]
		if back.Class != k.Class || back.Feasible != k.Feasible || !slices.Equal(back.Rejected, k.Rejected) {
			t.Errorf("class %+v, want %+v", back.Class, k.Class)
		}
		if (back.Best == nil) != (k.Best() == nil) {
			t.Fatalf("class %s: best %v", k.Class.Label, back.Best)
		}
		leaders := 0
		for _, e := range k.ByDiameter {
			if e == nil {
				continue
			}
			l := back.Leaders[leaders]
			leaders++
			if l.Diameter != e.Design.Diameter || l.Merit != e.Score || l.Metrics["auw"] != e.Craft.Mass ||
				l.Metrics["hover-time"] != e.Craft.HoverTime {
				t.Errorf("class %s: leader %+v, want design %d", k.Class.Label, l, e.Index)
			}
		}
		if k.Best() == nil {
			continue
		}
		want := k.Best().Row(&k.Class)
		d := want.Design
		d.Chord = d.BladeChord() // the usual one is said as a number
		if back.Best.Design != d || back.Best.Score != want.Score ||
			words.Warnings(back.Best) != words.Warnings(&want) {
			t.Errorf("class %s: best %+v, want %+v", k.Class.Label, back.Best.Design, d)
		}
		for n, m := range model.Metrics {
			switch got, want := back.Best.Values[n], want.Values[n]; {
			case got == want, math.IsNaN(got) && math.IsNaN(want), trial.Near(got/want, 1, 1e-14):
			default:
				t.Errorf("class %s: %s of %v, want %v", k.Class.Label, m.Name, got, want)
			}
		}
		// Each ranked design is found again, by its first place whatever its payload.
		for n, x := range k.Ranking {
			if at := back.Ranks[finding.DesignKey(r.Study.Grid.Design(x.Index))]; at < 1 || at > n+1 {
				t.Errorf("class %s: design %d of rank %d is found at %d", k.Class.Label, x.Index, n+1, at)
			}
		}
	}
}

func TestCompare(t *testing.T) {
	t.Parallel()
	first, second, dirs := twoRuns(t)
	c, err := finding.Compare(dirs...)
	if err != nil {
		t.Fatal(err)
	}
	c.Version = "test"
	out := t.TempDir()
	files, err := WriteComparison(t.Context(), c, out)
	if err != nil {
		t.Fatal(err)
	}
	book, err := os.ReadFile(filepath.Join(out, finding.ComparisonName))
	if err != nil || len(files) == 0 || files[len(files)-1] != filepath.Join(out, finding.ComparisonName) {
		t.Fatalf("wrote %v, %v", files, err)
	}
	again := t.TempDir()
	if _, err := WriteComparison(t.Context(), c, again); err != nil {
		t.Fatal(err)
	}
	if b, err := os.ReadFile(filepath.Join(again, finding.ComparisonName)); err != nil || !bytes.Equal(b, book) {
		t.Errorf("the workbook differs when written again, %v", err)
	}
	f := trial.OpenBook(t, book)
	sheets := f.GetSheetList()
	if want := []string{"Summary", "Class 80g", "Class 249g", "Class 600g", "Class 900g", "Diameters",
		"Requirements"}; !slices.Equal(sheets[:len(want)], want) {
		t.Errorf("sheets %q, want %q", sheets, want)
	}
	summary := strings.Join(trial.Cells(t, f, "Summary"), "\n")
	for _, want := range append([]string{
		"harbour watch, hot", "Altitude", "1600 m", "300 m", "at least 4 min", "not asked",
		"80 g, 249 g (light), 600 g", "249 g (light), 600 g, 900 g",
	}, words.Cautions...) {
		if !strings.Contains(summary, want) {
			t.Errorf("the summary does not say %q", want)
		}
	}
	a, b := trial.Best(t, first, "600g"), trial.Best(t, second, "600g")
	hover := finding.Metric("hover-time")
	row, _ := trial.Find(t, f, "Class 600g", hover.Title, 1)
	x, y := hover.Of(a.Craft), hover.Of(b.Craft)
	if got := trial.Number(t, f, "Class 600g", xlsx.CellName(sheet.SideColumn(0), row)); !trial.Near(got, x/60, 1e-12) {
		t.Errorf("the first run hovers %v min, want %v", got, x/60)
	}
	if got := trial.Number(t, f, "Class 600g", xlsx.CellName(sheet.SideColumn(1)+1, row)); !trial.Near(got, 100*(y/x-1),
		1e-9) {
		t.Errorf("the second run hovers %v %% longer, want %v", got, 100*(y/x-1))
	}
	if text := strings.Join(trial.Cells(t, f, "Class 80g"), "\n"); !strings.Contains(text, "none") ||
		!strings.Contains(text, "not asked") {
		t.Errorf("class 80g does not tell an infeasible class from one that was not asked:\n%s", text)
	}
	_, _ = trial.Find(t, f, "Diameters", "5", 1)

	var printed bytes.Buffer
	if err := screen.PrintComparison(&printed, c, 90); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(strings.ReplaceAll(strings.ReplaceAll(printed.String(), dirs[0], "a"), dirs[1],
		"b")) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 90 {
			t.Errorf("a line has %d characters, want at most 90: %q", n, line)
		}
	}
	for _, want := range []string{"The runs differ in:", "  Altitude\n    1  1600 m\n    2  300 m\n",
		"Class 249 g (light), the nominal best design of each run:", "no design: 1 not asked", "2 to 1: all-up weight "} {
		if !strings.Contains(printed.String(), want) {
			t.Errorf("the terminal does not show %q:\n%s", want, printed.String())
		}
	}

	var text bytes.Buffer
	if err := screen.PrintComparisonJSON(&text, c); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Runs        []struct{ Name, Fingerprint string }
		Differences []struct {
			What string
			Runs []string
		}
		Classes []struct {
			Limit finding.Quantity
			Best  []*struct {
				Merit   float64
				Metrics map[string]finding.Quantity
			}
		}
	}
	if err := json.Unmarshal(text.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Runs) != 2 || len(got.Classes) != 4 || got.Classes[0].Best[0] != nil ||
		got.Classes[2].Best[1].Metrics["auw"].Value != b.Craft.Mass {
		t.Errorf("JSON %s", text.String())
	}
	if n := slices.IndexFunc(got.Differences, func(d struct {
		What string
		Runs []string
	}) bool {
		return d.What == "Altitude"
	}); n < 0 || !slices.Equal(got.Differences[n].Runs, []string{"1600 m", "300 m"}) {
		t.Errorf("differences %+v", got.Differences)
	}
}

// A run held against itself differs in nothing, and its designs are the first.
func TestCompareWithItself(t *testing.T) {
	t.Parallel()
	_, _, dirs := twoRuns(t)
	c, err := finding.Compare(dirs[0], dirs[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range c.Aspects() {
		if a.Differs() {
			t.Errorf("%s differs: %q", words.AspectTitle(&a), words.AspectValues(&a))
		}
	}
	if c.Runs[0].Name != filepath.ToSlash(dirs[0]) {
		t.Errorf("runs of one name are told apart as %q", c.Runs[0].Name)
	}
	for _, limit := range c.Limits()[1:] {
		for i, places := range c.Places(limit) {
			for j, at := range places {
				if at != 1 {
					t.Errorf("the best of run %d ranks %d in run %d", i+1, at, j+1)
				}
			}
		}
	}
	var b bytes.Buffer
	if err := screen.PrintComparison(&b, c, 100); err != nil || !strings.Contains(b.String(),
		"nothing that their results depend on") {
		t.Errorf("%v:\n%s", err, b.String())
	}
}

// relisted is a record that lists another ranking in place of the one it lists.
func relisted(record, was, is string) string {
	sum := func(s string) string {
		b := sha256.Sum256([]byte(s))
		return hex.EncodeToString(b[:])
	}
	size := func(s string) string { return fmt.Sprintf(`"bytes": %d,`, len(s)) }
	record = strings.Replace(record, sum(was), sum(is), 1)
	return strings.Replace(record, size(was), size(is), 1)
}

func TestCompareRefuses(t *testing.T) {
	t.Parallel()
	_, _, dirs := twoRuns(t)
	content := func(name string) string {
		b, err := os.ReadFile(filepath.Join(dirs[0], name))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	folder := func(record, ranking string) string {
		dir := t.TempDir()
		for name, text := range map[string]string{finding.RecordName: record, finding.RankingName: ranking,
			finding.SizeName: content(finding.SizeName)} {
			if text == "" {
				continue
			}
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		return dir
	}
	changed := func(name string, change func(string) string) (record, ranking string) {
		record, ranking = content(finding.RecordName), content(finding.RankingName)
		if name == finding.RecordName {
			record = change(record)
		} else {
			ranking = change(ranking)
		}
		if record+ranking == content(finding.RecordName)+content(finding.RankingName) {
			t.Fatalf("%s is not changed", name)
		}
		return record, ranking
	}
	edited := func(name string, change func(string) string) string { return folder(changed(name, change)) }
	broken := func(name string, change func(string) string) string { // as if the run had left it so
		record, ranking := changed(name, change)
		return folder(relisted(record, content(finding.RankingName), ranking), ranking)
	}
	replace := func(old, new string) func(string) string {
		return func(s string) string { return strings.Replace(s, old, new, 1) }
	}
	resized := folder(content(finding.RecordName), content(finding.RankingName))
	size := strings.Replace(content(finding.SizeName), "1", "2", 1)
	if err := os.WriteFile(filepath.Join(resized, finding.SizeName), []byte(size), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := finding.Compare(dirs[1], folder(content(finding.RecordName),
		content(finding.RankingName))); err != nil {
		t.Errorf("a copy of a run: %v", err)
	}
	for _, c := range []struct{ dir, want string }{
		{resized, "size.csv: was changed since the run wrote it, want it restored"},
		{t.TempDir(), "holds no run.json, want the folder of a finished run"},
		{broken(finding.RankingName, func(string) string { return "" }),
			"holds no ranking.csv, want the folder of a finished run"},
		{broken(finding.RecordName, replace(`"complete": true`, `"complete": false`)),
			"holds an unfinished run, want a finished one"},
		{broken(finding.RecordName, replace("{", "")), "run.json: "},
		{broken(finding.RecordName, func(string) string { return "{}" }), "run.json: is not the record of a run"},
		{broken(finding.RecordName, replace(`"name": "stator"`, `"name": "wingspan"`)),
			`run.json: axis "wingspan" is not known to this version`},
		{broken(finding.RecordName, replace(`"metric": "hover-time"`, `"metric": "charm"`)),
			`run.json: metric "charm" is not known to this version`},
		{edited(finding.RecordName, replace(`"format": 2,`, "")),
			"run.json: is of an earlier format, and this version reads 2: want the study run again"},
		{edited(finding.RecordName, replace(`"format": 2,`, `"format": 1,`)),
			"run.json: is of an earlier format, and this version reads 2: want the study run again"},
		{edited(finding.RecordName, replace(`"format": 2,`, `"format": 3,`)),
			"run.json: is of format 3, and this version reads 2: want the version that wrote it, test"},
		{edited(finding.RankingName, replace("\n249g,0.249,1,", "\n249g,0.249,2,")),
			"ranking.csv: was changed since the run wrote it, want it restored"},
		{edited(finding.RankingName, func(s string) string { return s[:len(s)/2] }),
			"ranking.csv: was changed since the run wrote it"},
		{edited(finding.RankingName, func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }),
			"ranking.csv: was changed since the run wrote it"},
		{broken(finding.RankingName, replace("rank", "place")), `ranking.csv: has no column "rank"`},
		{broken(finding.RankingName, replace("\n249g,0.249,1,", "\n249g,0.249,first,")),
			`ranking.csv:2: class limit "0.249" and rank "first" are not of this run`},
	} {
		_, err := finding.Compare(dirs[1], c.dir)
		if err == nil || !strings.HasPrefix(err.Error(), c.dir+": ") || !strings.Contains(err.Error(), c.want) ||
			strings.Contains(err.Error(), "\n") {
			t.Errorf("got %v, want %s: %s", err, c.dir, c.want)
		}
	}
	if _, err := finding.Compare(dirs[0]); err == nil || !strings.Contains(err.Error(), "two finished runs") {
		t.Errorf("one run: %v", err)
	}
}

// The finding of a class names the run that scores most and how far the others
// are behind, where they rank by one merit; and what makes them differ.
func TestVerdict(t *testing.T) {
	t.Parallel()
	_, _, dirs := twoRuns(t)
	c, err := finding.Compare(dirs...)
	if err != nil {
		t.Fatal(err)
	}
	first, second := c.Runs[0], c.Runs[1]
	if got, want := words.Verdict(c, 0.08).Text, first.Name+" has no feasible design; "+second.Name+" was not "+
		"asked"; got != want {
		t.Errorf("80 g: %q, want %q", got, want)
	}
	if got, want := words.Verdict(c, 0.9).Text, "only "+second.Name+" has a design; "+first.Name+" was not "+
		"asked"; got != want {
		t.Errorf("900 g: %q, want %q", got, want)
	}
	const limit = 0.249
	a, b := first.Class(limit).Best, second.Class(limit).Best
	for share, want := range map[float64]string{
		1.25: second.Name + " has the highest nominal merit, 0.500; " + first.Name + " scores 20 % less",
		0.95: first.Name + " has the highest nominal merit, 0.400; " + second.Name + " scores 5 % less",
		1:    first.Name + " and " + second.Name + " score the same, a nominal merit of 0.400",
	} {
		a.Score, b.Score = 0.4, 0.4*share
		if got := words.Verdict(c, limit).Text; got != want {
			t.Errorf("a share of %g: %q, want %q", share, got, want)
		}
	}
	second.Model = "another"
	if got, want := words.Why(c), "The runs differ in 4 things: model, altitude, "; !strings.HasPrefix(got, want) {
		t.Errorf("of two versions of the model: %q, want %q", got, want)
	}
	first.Model, second.Model = "5", "5"
	var printed bytes.Buffer
	if err := screen.PrintComparison(&printed, c, 200); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(printed.String(), ", model 5, older than "+model.Version+" of this program\n"); n != 2 {
		t.Errorf("%d runs are said to be of an older model, want both: %.500s", n, &printed)
	}
	first.Model, second.Model = model.Version, model.Version
	was := b.Design.Diameter
	b.Design.Diameter = finding.Inch.ToSI(2.75)
	if got, want := words.Verdict(c, limit).Text, "; the best diameter moves from 4 to 2.75 in"; !strings.HasSuffix(got,
		want) {
		t.Errorf("of two diameters: %q, want %q", got, want)
	}
	three := append(c.Outcomes(limit), finding.Outcome{Run: "third", Row: a},
		finding.Outcome{Run: "fourth", Asked: true})
	if got, want := words.Moves(three), "the best diameter moves: "+first.Name+" 4 in, "+second.Name+" 2.75 in, "+
		"third 4 in"; got != want {
		t.Errorf("of three designs: %q, want %q", got, want)
	}
	b.Design.Diameter = was
	wording := words.AgainstFirst(c, limit)
	hover := finding.Place(finding.Metric("hover-time"))
	if want := fmt.Sprintf("hover time %+.1f %%", 100*(b.Values[hover]/a.Values[hover]-1)); len(wording) != 1 ||
		!strings.Contains(wording[0].Text, want) {
		t.Errorf("%v does not say %q", wording, want)
	}
	// Altitude, temperature and the requirement that the second does not have.
	if got := words.Why(c); !strings.Contains(got, "What was asked differs in 3 things: altitude, air temperature, "+
		"required: hover time") {
		t.Errorf("the causes are %q", got)
	}
	second.Merit = slices.Clone(second.Merit)
	second.Merit[0].Weight *= 3
	if got := words.Verdict(c, limit).Text; got != "no run wins: they rank by different merits" {
		t.Errorf("by two merits: %q", got)
	}
	again, err := finding.Compare(dirs[0], dirs[0])
	if err != nil {
		t.Fatal(err)
	}
	if got := words.Why(again); got != "The runs share all that the best design of a class depends on." {
		t.Errorf("of one run twice: %q", got)
	}
	if got := words.AgainstFirst(again, limit); len(got) != 1 || !strings.HasSuffix(got[0].Text,
		"its best design is the same") {
		t.Errorf("of one run twice: %v", got)
	}
	again.Runs[1].Assumptions = slices.Clone(again.Runs[1].Assumptions)
	again.Runs[1].Assumptions[0].Value = 2000.0
	if got, want := words.Why(again), "What was asked differs in one thing, altitude: "+again.Runs[0].Name+" 1600 m; "+
		""+again.Runs[1].Name+" 2000 m."; !strings.HasPrefix(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A finished run knows again that a ceiling is at least its value.
func TestFinishedAtLeast(t *testing.T) {
	t.Parallel()
	first, _, dirs := twoRuns(t)
	f, err := finding.ReadFinished(dirs[0])
	if err != nil {
		t.Fatal(err)
	}
	found, err := first.Findings()
	if err != nil {
		t.Fatal(err)
	}
	known := 0
	for i := range found {
		e := found[i].Best()
		if e == nil {
			continue
		}
		x := e.Row(&found[i].Class)
		if got := f.Classes[i].Best.Highest; got != x.Highest {
			t.Errorf("%s: read back as %v, want %v", found[i].Class.Label, got, x.Highest)
		}
		if x.Highest {
			known++
		}
	}
	if known == 0 {
		t.Fatal("no ceiling of the study is bounded by the model")
	}
}

// A run of before a metric had its name is read, and differs in nothing for it.
func TestFinishedOfFormerNames(t *testing.T) {
	t.Parallel()
	_, _, dirs := twoRuns(t)
	record := filepath.Join(dirs[1], finding.RecordName)
	was, err := os.ReadFile(record)
	if err != nil {
		t.Fatal(err)
	}
	former := bytes.ReplaceAll(was, []byte(`"controller-rating"`), []byte(`"esc-rating"`))
	if bytes.Equal(was, former) {
		t.Fatal("no metric had another name")
	}
	if err := os.WriteFile(record, former, 0o600); err != nil {
		t.Fatal(err)
	}
	c, err := finding.Compare(dirs[0], dirs[1])
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range c.Aspects() {
		if title := words.AspectTitle(&a); a.Differs() && strings.Contains(title, "controller") {
			t.Errorf("the runs differ in %q", title)
		}
	}
	x := c.Runs[1].Class(0.249).Best
	if v := x.Values[finding.Place(finding.Metric("controller-rating"))]; !(v >= 10) {
		t.Errorf("the best design has controllers of %g A", v)
	}
}
