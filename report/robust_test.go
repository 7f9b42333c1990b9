package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model/record"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// decided is the report of a run with an invented decision, one figure of it.
func decided(t *testing.T) (*finding.Run, map[string][]byte) {
	t.Helper()
	r := trial.DecidedRun(t)
	r.Figures = []string{"size"}
	return r, writeTo(t, r)
}

// cells are the rows of a CSV by column.
func cells(t *testing.T, text []byte) []map[string]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		x := map[string]string{}
		for n, head := range rows[0] {
			x[head] = row[n]
		}
		out = append(out, x)
	}
	return out
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The tables, the record and what is printed tell the same numbers, to the last bit where
// they are not rounded.
func TestDecisionIsToldAlike(t *testing.T) {
	t.Parallel()
	r, files := decided(t)
	trial.Golden(t, finding.RobustName, files[finding.RobustName])
	trial.Golden(t, finding.ConfidenceName, files[finding.ConfidenceName])
	trial.Golden(t, finding.TestPlanName, files[finding.TestPlanName])
	var record finding.RunRecord
	if err := json.Unmarshal(files[finding.RecordName], &record); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{finding.RobustName, finding.ConfidenceName, finding.TestPlanName} {
		if !slices.ContainsFunc(record.Files, func(x finding.FileRecord) bool { return x.Name == name }) {
			t.Errorf("run.json does not list %s", name)
		}
		if !slices.Contains(Names(r), name) || !OwnName(name) {
			t.Errorf("%s is no name of a report", name)
		}
	}
	if d := record.Study.Draws; d == nil || d.Draws != r.Decision.Draws || d.Fresh != r.Decision.Fresh ||
		d.Seed != r.Decision.Seed {
		t.Errorf("run.json has draws %+v", d)
	}
	var printed bytes.Buffer
	if err := screen.PrintRun(&printed, r, screen.Page{Width: 120, Whole: true}); err != nil {
		t.Fatal(err)
	}
	robust, confidence := cells(t, files[finding.RobustName]), cells(t, files[finding.ConfidenceName])
	rows, against := 0, 0
	for i, k := range r.Decision.Classes {
		told := record.Result.Classes[i].Decision
		if (told == nil) != (len(k.Builds) == 0) {
			t.Fatalf("class %d: run.json has a decision: %v", i, told != nil)
		}
		if told == nil {
			continue
		}
		label := r.Result.Classes[i].Class.Label
		for n := range k.Builds {
			b, x := &k.Builds[n], robust[rows]
			rows++
			if x["class"] != label || x["rank"] != strconv.Itoa(n+1) || number(t, x["p-feasible"]) != b.Feasible ||
				number(t, x["cautious"]) != b.Cautious || number(t, x["merit-p50"]) != b.Merit.P50 ||
				x["cause"] != r.Result.Gates[b.Cause].Name || number(t, x["cause-share"]) != b.Causes[b.Cause] ||
				number(t, x["regret"]) != b.Regret || x["tied"] != strconv.FormatBool(b.Tied) ||
				number(t, x["pack-p10 (As)"]) != b.Pack.P10 ||
				number(t, x["hover-time-p90 (s)"]) != b.Metrics[0].P90 ||
				number(t, x["thrust-to-weight-p10"]) != b.Metrics[1].P10 {
				t.Errorf("%s: build %d is told as %v", label, n, x)
			}
		}
		for _, x := range []struct {
			told *finding.BuildRecord
			of   int
		}{{told.Recommended, 0}, {told.Nominal, k.Nominal}, {told.Surest, k.Surest}} {
			b := &k.Builds[x.of]
			if x.told == nil || x.told.Index != b.Index || x.told.Feasible != b.Feasible ||
				x.told.Cautious != b.Cautious || *x.told.Merit.P90 != b.Merit.P90 || *x.told.Pack.P10 != b.Pack.P10 ||
				*x.told.Metrics[0].P50 != b.Metrics[0].P50 || x.told.CauseShare != b.Causes[b.Cause] {
				t.Errorf("%s: run.json tells %+v of build %d", label, x.told, x.of)
			}
			line := words.BuildName(b.Design, "×") // the row of the table that is printed
			at := strings.Index(printed.String(), line)
			if at < 0 {
				t.Fatalf("%s is not printed", line)
			}
		}
		b := &k.Builds[0]
		row := ""
		for l := range strings.Lines(printed.String()) {
			if strings.HasPrefix(l, "order ") && strings.Contains(l, words.BuildName(b.Design, "×")) {
				row = l
			}
		}
		said := []string{words.Probability(b.Feasible), words.Merits(b.Cautious), words.Merits(b.Merit.P50),
			words.PackNumbers(b)}
		beside := []*decide.Build{b} // the decimals of a column are of all that stand in it
		if n := k.Nominal; n > 0 {
			beside = append(beside, &k.Builds[n])
		}
		for n, m := range r.Decision.Metrics[:len(r.Study.Merit)] {
			said = append(said, words.Ranges(m, beside, n)[0])
		}
		for _, want := range said {
			if !strings.Contains(row, want) {
				t.Errorf("%s: %q does not say %q", label, row, want)
			}
		}
		for n, a := range k.Axes {
			for m, v := range a.Values {
				x, o := confidence[against], told.Axes[n].Values[m]
				against++
				if x["class"] != label || number(t, x["value"]) != v.Value || o.Value != v.Value ||
					(x["ahead"] == "") == v.Any || (o.Paired == nil) == v.Any {
					t.Fatalf("%s: a value is told as %v and %+v", label, x, o)
				}
				if !v.Any {
					continue
				}
				ahead, level, behind := number(t, x["ahead"]), number(t, x["level"]), number(t, x["behind"])
				if math.Abs(ahead+level+behind-1) > 1e-12 || ahead != o.Paired.Ahead || behind != o.Paired.Behind ||
					level != v.Level || number(t, x["p-better"]) != o.Paired.Better ||
					number(t, x["difference"]) != v.Difference || number(t, x["se"]) != o.Paired.Standard ||
					number(t, x["behind-mean"]) != v.Loss || o.Paired.Loss != v.Loss {
					t.Errorf("%s: a value is told as %v and %+v", label, x, o.Paired)
				}
			}
		}
	}
	if rows != len(robust) || against != len(confidence) || rows < 10 || against < 20 {
		t.Errorf("%d builds of %d and %d values of %d were held", rows, len(robust), against, len(confidence))
	}
}

// Without a decision, and of an unfinished run, nothing is said of draws.
func TestNoDecisionSaysNothing(t *testing.T) {
	t.Parallel()
	plain := trial.SmallRun(t)
	unfinished := trial.DecidedRun(t)
	unfinished.Result.Complete = false
	for name, r := range map[string]*finding.Run{"--draws 0": plain, "unfinished": unfinished} {
		r.Figures = []string{"size"}
		files := writeTo(t, r)
		for _, file := range []string{finding.RobustName, finding.ConfidenceName} {
			if _, ok := files[file]; ok || slices.Contains(Names(r), file) {
				t.Errorf("%s: has %s", name, file)
			}
		}
		var printed, machines bytes.Buffer
		if err := screen.PrintRun(&printed, r, screen.Page{Width: 100, Whole: true}); err != nil {
			t.Fatal(err)
		}
		if err := screen.PrintRunJSON(&machines, r); err != nil {
			t.Fatal(err)
		}
		for _, s := range []string{`"decision"`, `"draws"`, "P(feas)", "cautious", "\norder", "of the draws"} {
			for where, text := range map[string][]byte{"is printed": printed.Bytes(), "is in the JSON": machines.Bytes(),
				"is in run.json": files[finding.RecordName]} {
				if bytes.Contains(text, []byte(s)) {
					t.Errorf("%s: %q %s", name, s, where)
				}
			}
		}
	}
	asked := trial.SmallRun(t) // before the run, what it may leave
	asked.Draws = 256
	if !slices.Contains(Names(asked), finding.RobustName) {
		t.Error("a run that is to draw may leave no table of builds")
	}
}

// Runs with the same draws are paired by them, others are held against each other as
// independent, and what has no draws is told without a share.
func TestCompareDecisions(t *testing.T) {
	t.Parallel()
	const limit = 0.249
	write := func(alter func(*decide.Decision)) string {
		r := trial.DecidedRun(t)
		r.Figures = []string{"size"}
		alter(r.Decision)
		dir := t.TempDir()
		if _, err := Write(t.Context(), r, dir); err != nil {
			t.Fatal(err)
		}
		return dir
	}
	worse := func(d *decide.Decision) {
		k := &d.Classes[1]
		k.Builds[0].Cautious = 0.1
		for n := range k.Drawn {
			switch n % 4 {
			case 0:
				k.Drawn[n] = 1
			case 1:
			default:
				k.Drawn[n] = max(0, k.Drawn[n]-0.001)
			}
		}
	}
	first := write(func(*decide.Decision) {})
	for name, c := range map[string]struct {
		alter  func(*decide.Decision)
		paired bool
		draws  int
		says   string
	}{
		"paired": {worse, true, 256, " of 256 draws that both share"},
		"another seed": {func(d *decide.Decision) { worse(d); d.Seed = 2 }, false, 256,
			" of pairs of their draws, which differ and are taken as independent"},
		"not told": {func(d *decide.Decision) { worse(d); d.Classes[1].Drawn = nil }, false, 0,
			", with a median merit of 0.211 against 0.211"},
	} {
		c2, err := finding.Compare(first, write(c.alter))
		if err != nil {
			t.Fatal(err)
		}
		v := c2.Verdict(limit)
		if len(v.Contests) != 1 {
			t.Fatalf("%s: %d contests", name, len(v.Contests))
		}
		k := v.Contests[0]
		if k.A.Run != c2.Runs[0].Name || k.Paired != c.paired || k.Draws != c.draws || k.Equal {
			t.Errorf("%s: %+v", name, k)
		}
		if text := words.Verdict(c2, limit).Text; !strings.Contains(text, c.says) ||
			!strings.Contains(text, ": 0.176 against 0.100; all requirements are kept in 86 % against 86 %") {
			t.Errorf("%s: %q does not say %q", name, text, c.says)
		}
		a, b := k.A.Chosen.Drawn, k.B.Chosen.Drawn
		want, pairs := 0.0, 0.0 // by brute force
		for i := range a {
			for j := range b {
				if c.paired && i != j {
					continue
				}
				pairs++
				if a[i] > b[j] {
					want++
				} else if a[i] == b[j] {
					want += 0.5
				}
			}
		}
		if want /= pairs; c.draws > 0 && (math.Abs(k.Better-want) > 1e-12 || want < 0.3 || want > 0.9) ||
			c.draws == 0 && !math.IsNaN(k.Better) {
			t.Errorf("%s: the better in %g, want %g", name, k.Better, want)
		}
		var printed, machines bytes.Buffer
		if err := screen.PrintComparison(&printed, c2, 100); err != nil {
			t.Fatal(err)
		}
		if err := screen.PrintComparisonJSON(&machines, c2); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(machines.String(), `"p_better": `) || strings.Contains(machines.String(), "NaN") ||
			!strings.Contains(strings.Join(strings.Fields(printed.String()), " "), "over draws the build that ") {
			t.Errorf("%s: printed as %.2000s", name, &printed)
		}
		if seed := strings.Contains(printed.String(), "\n  Draws\n"); seed != (name == "another seed") {
			t.Errorf("%s: the draws are said to differ: %v", name, seed)
		}
	}
}

// Merits of flights with the throttle held back are not held against others.
func TestCompareThrottles(t *testing.T) {
	t.Parallel()
	_, files := decided(t)
	var dirs []string
	for _, by := range []string{`"by_throttle": []`, `"by_throttle": ["pack-load"]`} {
		dir := t.TempDir()
		for name, text := range files {
			if name == finding.RecordName {
				text = bytes.Replace(text, []byte(`"by_throttle": []`), []byte(by), 1)
			}
			if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, name), text, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		dirs = append(dirs, dir)
	}
	c, err := finding.Compare(dirs...)
	if err != nil {
		t.Fatal(err)
	}
	const limit = 0.249
	if v := c.Verdict(limit); len(v.Contests) > 0 || !v.Unlike {
		t.Errorf("%d contests, told to be unlike: %v", len(v.Contests), v.Unlike)
	}
	if got, want := words.Verdict(c, limit).Text, "the throttle is held back for other requirements"; !strings.
		HasSuffix(got, want) {
		t.Errorf("%q, want it to end with %q", got, want)
	}
	c.Runs[1] = c.Runs[0]
	if v := c.Verdict(limit); len(v.Contests) != 1 || v.Unlike || !v.Contests[0].Equal || v.Contests[0].Better != 0.5 ||
		!v.Contests[0].Paired {
		t.Errorf("a run against itself: %+v", v.Contests)
	}
	if got := words.Verdict(c, limit).Text; strings.Count(got, "recommend the same build, ") != 1 ||
		strings.Contains(got, "better in") {
		t.Errorf("a run against itself: %q", got)
	}
}

// A decision that no run can have come to is refused, in one line.
func TestForgedDecision(t *testing.T) {
	t.Parallel()
	r, files := decided(t)
	for name, forge := range map[string]func(*finding.RunRecord, *finding.DecisionRecord){
		"":                  func(*finding.RunRecord, *finding.DecisionRecord) {},
		"no draws":          func(in *finding.RunRecord, _ *finding.DecisionRecord) { in.Study.Draws = nil },
		"draws":             func(in *finding.RunRecord, _ *finding.DecisionRecord) { in.Study.Draws.Fresh = 0 },
		"throttle":          func(in *finding.RunRecord, _ *finding.DecisionRecord) { in.Study.Draws.ByThrottle[0] = "charm" },
		"nothing":           func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Recommended = nil },
		"rank":              func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Recommended.Rank = 2 },
		"a line":            func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Recommended.Build = "a\nb" },
		"no design":         func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Nominal.Index = 1 << 40 },
		"another design":    func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Nominal.Index++ },
		"more than all":     func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Recommended.Feasible = 1.1 },
		"fails too often":   func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Surest.CauseShare = 0.5 },
		"merit":             func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Surest.Cautious = -1 },
		"cause":             func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Surest.Cause = "charm" },
		"quantiles":         func(_ *finding.RunRecord, d *finding.DecisionRecord) { *d.Surest.Merit.P10 = 0.9 },
		"no quantile":       func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Surest.Pack.P50 = nil },
		"unit of the pack":  func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Surest.Pack.Unit = "mAh" },
		"unit of a metric":  func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Surest.Metrics[0].Unit = "min" },
		"too many drawn":    func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Drawn = append(d.Drawn, 0) },
		"a draw beyond all": func(_ *finding.RunRecord, d *finding.DecisionRecord) { d.Drawn[3] = 2 },
	} {
		var record finding.RunRecord
		if err := json.Unmarshal(files[finding.RecordName], &record); err != nil {
			t.Fatal(err)
		}
		record.Study.Draws.ByThrottle = []string{"pack-load"}
		forge(&record, record.Result.Classes[1].Decision)
		text, err := json.Marshal(&record)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		for file, b := range map[string][]byte{finding.RecordName: text,
			finding.RankingName: files[finding.RankingName], finding.SizeName: files[finding.SizeName]} {
			if err := os.WriteFile(filepath.Join(dir, file), b, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		f, err := finding.ReadFinished(dir)
		switch {
		case name == "" && err != nil:
			t.Error(err)
		case name == "":
			if c := f.Class(0.249).Chosen; c == nil || c.Recommended.Cautious != r.Decision.Classes[1].Builds[0].Cautious ||
				!slices.Equal(c.Drawn, r.Decision.Classes[1].Drawn) {
				t.Errorf("read back as %+v", c)
			}
		case err == nil:
			t.Errorf("%s: taken", name)
		case !strings.HasPrefix(err.Error(), dir+": run.json: ") || strings.Contains(err.Error(), "\n"):
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The plan of each class agrees with the decision: tests and checks with it, purchases with the
// all-up weight.
func TestPlanAgrees(t *testing.T) {
	t.Parallel()
	r, files := decided(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	all, empty, err := record.ReadPlan(bytes.NewReader(bytes.ReplaceAll(files[finding.TestPlanName], []byte(",mass,,"),
		[]byte(",mass,50,"))), "plan")
	if err != nil || len(all) == 0 || empty == 0 {
		t.Errorf("%d records and %d empty ones are read back, %v", len(all), empty, err)
	}
	for i := range found {
		f := &found[i]
		p := f.Plan(r.Result.Gates)
		if (p == nil) != (f.Choice == nil) {
			t.Fatalf("class %d has a plan: %v", i, p != nil)
		}
		if p == nil {
			continue
		}
		sum := 0.0
		purchases := p.Purchases()
		for n := range purchases {
			sum += float64(purchases[n].Count) * purchases[n].Mass
		}
		if math.Abs(sum/p.Craft.Mass-1) > 1e-12 {
			t.Errorf("class %d: parts of %g kg, want %g", i, sum, p.Craft.Mass)
		}
		b := f.Choice.Recommended()
		told := len(f.Choice.Tests)
		for _, x := range f.Choice.Class.Rivals {
			told += len(x.Tests)
		}
		single, _ := f.Choice.Measures()
		for _, m := range single { // whatever is told to be worth it is in the plan
			if m.Class != decide.WithinNoise && !slices.ContainsFunc(p.Tests, func(x finding.PlannedTest) bool {
				return x.What == m.What && (x.Of == nil) == (m.Build == 0) && (x.Of == nil || x.Of == m.Of)
			}) {
				t.Errorf("class %d: %s is not in the plan", i, words.Measure(&m))
			}
		}
		if len(p.Tests) != told || len(p.Checks) != len(b.Margins)+1 {
			t.Fatalf("class %d: %d tests and %d checks", i, len(p.Tests), len(p.Checks))
		}
		for n := range p.Checks {
			c := &p.Checks[n]
			if n == 0 {
				if c.Kept != 1-b.Causes[0] || c.Value != p.Craft.Mass || c.Bound != f.Class.Limit {
					t.Errorf("class %d: %+v", i, c)
				}
				continue
			}
			if c.Kept != b.Kept[n-1] || c.Margin != b.Margins[n-1] ||
				c.Value != c.Gate.Requirement.Metric.Of(p.Craft) ||
				(c.Shown == finding.ShownComputed) != (c.Kept >= finding.SureEnough) ||
				(c.Shown == finding.ShownByTest) != (len(c.By) > 0) {
				t.Errorf("class %d, %s: %+v", i, c.Gate.Name, c)
			}
			for _, by := range c.By {
				if by.Share < finding.TellsEnough {
					t.Errorf("class %d, %s: %+v", i, c.Gate.Name, c.By)
				}
			}
		}
	}
}
