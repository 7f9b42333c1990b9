package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/trial"
)

// A hash is no signature: whoever can write a record can make the hashes of its tables fit.

// forgery is a finished run whose files can be altered and made to fit again.
type forgery struct {
	record        finding.RunRecord
	ranking, size [][]string
}

// forged is a true run that forgeries begin from.
type forged struct {
	dir      string
	texts    map[string]string // of its files
	truth    *finding.Finished
	decision string // of the record
}

// decisionOf is what a record says of draws, as text.
func decisionOf(in *finding.RunRecord) string {
	all := []any{in.Study.Draws}
	for i := range in.Result.Classes {
		all = append(all, in.Result.Classes[i].Decision)
	}
	text, err := json.Marshal(all)
	return fmt.Sprintf("%s %v", text, err)
}

func newForged(t testing.TB) *forged {
	t.Helper()
	f := &forged{dir: t.TempDir(), texts: map[string]string{}}
	r := trial.SmallRun(t)
	r.Decision = trial.Decided(t, r)
	if _, err := Write(t.Context(), r, f.dir); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{finding.RecordName, finding.RankingName, finding.SizeName} {
		b, err := os.ReadFile(filepath.Join(f.dir, name))
		if err != nil {
			t.Fatal(err)
		}
		f.texts[name] = string(b)
	}
	var err error
	if f.truth, err = finding.ReadFinished(f.dir); err != nil {
		t.Fatal(err)
	}
	f.decision = decisionOf(&f.of(t).record)
	return f
}

// of is a forgery that is still true.
func (f *forged) of(t testing.TB) *forgery {
	t.Helper()
	x := new(forgery)
	if err := json.Unmarshal([]byte(f.texts[finding.RecordName]), &x.record); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]*[][]string{finding.RankingName: &x.ranking, finding.SizeName: &x.size} {
		rows, err := csv.NewReader(strings.NewReader(f.texts[name])).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		*to = rows
	}
	return x
}

// write writes a forgery to a folder with hashes that fit.
func (x *forgery) write(t testing.TB, dir string) {
	t.Helper()
	for name, rows := range map[string][][]string{finding.RankingName: x.ranking, finding.SizeName: x.size} {
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		putListed(t, dir, name, b.Bytes(), &x.record)
	}
	text, err := json.MarshalIndent(&x.record, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, finding.RecordName), text, 0o666); err != nil {
		t.Fatal(err)
	}
}

// putListed writes a table, and its hash into a record that lists it.
func putListed(t testing.TB, dir, name string, text []byte, in *finding.RunRecord) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), text, 0o666); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(text)
	for i := range in.Files {
		if x := &in.Files[i]; x.Name == name {
			x.Bytes, x.SHA256 = int64(len(text)), hex.EncodeToString(sum[:])
		}
	}
}

// verdict says what is wrong with how a forged folder was taken: a refusal is one line that
// begins with the folder; what is taken is the true run and can be compared and printed.
func (f *forged) verdict(dir string) string {
	c, err := finding.Compare(f.dir, dir)
	if err != nil {
		text := err.Error()
		if !strings.HasPrefix(text, dir+": ") || len(text) > len(dir)+1000 || strings.ContainsFunc(text,
			func(r rune) bool {
				return r < ' ' || r == 0x7f
			}) {
			return fmt.Sprintf("the refusal %.300q is not one line that says where", text)
		}
		return ""
	}
	if wrong := f.otherThan(c.Runs[1]); wrong != "" {
		return "taken, and changes what was found: " + wrong
	}
	var b bytes.Buffer
	if err := screen.PrintComparison(&b, c, 100); err != nil {
		return err.Error()
	}
	if strings.ContainsFunc(b.String(), func(r rune) bool { return r < ' ' && r != '\n' || r == 0x7f }) {
		return fmt.Sprintf("prints what is no line of text: %.1000q", b.String())
	}
	if err := screen.PrintComparisonJSON(io.Discard, c); err != nil {
		return err.Error()
	}
	return ""
}

// otherThan says in what a run that was taken differs from the true one. A best design of a
// payload or diameter that is not ranked may have been left out: nothing else tells of it.
func (f *forged) otherThan(run *finding.Finished) string {
	for i := range f.truth.Classes {
		k, was := &run.Classes[i], &f.truth.Classes[i]
		if k.Class.Limit != was.Class.Limit || k.Feasible != was.Feasible || !reflect.DeepEqual(k.Ranks, was.Ranks) {
			return "class " + was.Class.Label
		}
		same := func(a, b *finding.Row) bool {
			return a == b || a != nil && b != nil && a.Ranked == b.Ranked && a.Design == b.Design
		}
		if !same(k.Best, was.Best) {
			return "the best of class " + was.Class.Label
		}
		for n, x := range k.Payloads {
			if x != nil && !same(x, was.Payloads[n]) {
				return "a payload of class " + was.Class.Label
			}
		}
		for _, l := range k.Leaders {
			if !slices.ContainsFunc(was.Leaders, func(o finding.FinishedLeader) bool {
				return o.Diameter == l.Diameter && o.Merit == l.Merit
			}) {
				return "a diameter of class " + was.Class.Label
			}
		}
	}
	return ""
}

// Each way in which a record or a table with fitting hashes was altered is refused with what
// is wrong.
func TestForgedRecord(t *testing.T) {
	f := newForged(t)
	at := slices.IndexFunc(f.truth.Classes, func(k finding.FinishedClass) bool { return k.Best != nil })
	row := 1 // of the ranking, the first of that class
	column := func(x *forgery, head string) int { return slices.Index(x.ranking[0], head) }
	for _, c := range []struct {
		name  string
		alter func(x *forgery, k *finding.FoundRecord)
		want  string
	}{
		{"a name of two lines", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Name = "a\nb" },
			`the text "a\nb"`},
		{"a label that moves the cursor", func(x *forgery, k *finding.FoundRecord) {
			x.record.Study.Classes[at].Label, k.Class = "\x1b[2J", "\x1b[2J"
		}, `the text "\x1b[2J"`},
		{"a warning of a megabyte", func(_ *forgery, k *finding.FoundRecord) {
			k.Best.Warnings = append(k.Best.Warnings, strings.Repeat("x", 1<<20))
		}, `the text "xxx`},
		{"no fingerprint", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Fingerprint = "" },
			`the fingerprint ""`},
		{"an assumption that is a list", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Assumptions[0].Value = []any{1.0}
		}, "assumption altitude without a number"},
		{"an assumption twice", func(x *forgery, _ *finding.FoundRecord) {
			a := &x.record.Study.Assumptions
			*a = append(*a, (*a)[0])
		}, `the assumption "altitude"`},
		{"designs without number", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Grid.Designs, x.record.Result.Done = math.MaxUint64, math.MaxUint64
		}, "designs of a grid of 864"},
		{"fewer designs done", func(x *forgery, _ *finding.FoundRecord) { x.record.Result.Done-- },
			"a finished run of 863 designs in 864"},
		{"an axis that falls", func(x *forgery, _ *finding.FoundRecord) {
			slices.Reverse(x.record.Study.Grid.Axes[0].Values)
		}, "axis diameter with values that do not rise"},
		{"a value twice", func(x *forgery, _ *finding.FoundRecord) {
			v := x.record.Study.Grid.Axes[0].Values
			v[1] = v[0]
		}, "axis diameter with a value twice"},
		{"an axis twice", func(x *forgery, _ *finding.FoundRecord) {
			a := x.record.Study.Grid.Axes
			a[1] = a[0]
		}, "axis diameter is given twice"},
		{"axes in another order", func(x *forgery, _ *finding.FoundRecord) {
			a := x.record.Study.Grid.Axes
			a[0], a[1] = a[1], a[0]
		}, "in the place of"},
		{"a diameter of a mile", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Grid.Axes[0].Values[2] = 1609
		}, "a grid of which"},
		{"an axis in miles", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Grid.Axes[0].Unit = "mi"
		}, `axis diameter in "mi"`},
		{"a class below nothing", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Classes[at].Limit.Value = -1
		}, "of -1"},
		{"a class twice", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Classes[2] = x.record.Study.Classes[1]
		}, "the class"},
		{"a gate less", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Gates = x.record.Study.Gates[:3]
		}, "counts for 3 requirements"},
		{"a gate of another name", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Gates[0].Name = "open" },
			`requirement 1 of "open"`},
		{"a gate without a bound", func(x *forgery, _ *finding.FoundRecord) {
			x.record.Study.Gates[4].BoundRecord = nil
		}, "without a bound"},
		{"a bound without end",
			func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Gates[4].Bound.Value = 1e300 }, "requirement 5"},
		{"no merit", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Merit = nil }, "no merit"},
		{"a merit of no weight", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Merit[0].Weight = 0 },
			"weight of 0"},
		{"another merit", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Merit[0].Weight *= 3 },
			"where its metrics give"},
		{"a ranking of 10^9", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Top = 1e9 },
			"rankings of 1000000000 designs"},
		{"a longer ranking", func(x *forgery, _ *finding.FoundRecord) { x.record.Study.Top++ }, "ranking.csv"},

		{"counts that do not add up", func(_ *forgery, k *finding.FoundRecord) { k.Rejected[0].Designs++ },
			"counts that do not come to 864 designs"},
		{"counts that overflow", func(_ *forgery, k *finding.FoundRecord) {
			k.Rejected[0].Designs = math.MaxUint64
			k.Rejected[1].Designs++
		}, "more designs than the grid has"},
		{"no best of feasible designs", func(_ *forgery, k *finding.FoundRecord) { k.Best = nil },
			"and a best one: false"},
		{"a best beyond the grid", func(_ *forgery, k *finding.FoundRecord) { k.Best.Index = 1 << 63 },
			"design 9223372036854775808 of a grid of 864"},
		{"a merit above 1", func(_ *forgery, k *finding.FoundRecord) { k.Best.Merit = 1e300 },
			"with a merit of 1e+300"},
		{"a merit made up", func(_ *forgery, k *finding.FoundRecord) { k.Best.Merit += 0.01 },
			"where its metrics give"},
		{"another design", func(_ *forgery, k *finding.FoundRecord) { k.Best.Index ^= 2 }, "design"},
		{"an input made up", func(_ *forgery, k *finding.FoundRecord) { k.Best.Inputs[0].Value *= 2 },
			"with a diameter of"},
		{"a metric twice", func(_ *forgery, k *finding.FoundRecord) {
			k.Best.Metrics = append(k.Best.Metrics, k.Best.Metrics[0])
		}, "with "},
		{"a metric in another unit", func(_ *forgery, k *finding.FoundRecord) { k.Best.Metrics[0].Unit = "stone" },
			`"stone"`},
		{"a metric that is not ranked so", func(_ *forgery, k *finding.FoundRecord) {
			for i := range k.Best.Metrics {
				if q := &k.Best.Metrics[i]; q.Name == "disk-loading" {
					q.Value *= 1.01
				}
			}
		}, `with a "disk-loading" of`},
		{"a leader better than the best", func(_ *forgery, k *finding.FoundRecord) {
			k.Leaders[0].Merit = 1
		}, "which is better than the best"},
		{"a leader less", func(_ *forgery, k *finding.FoundRecord) {
			k.Leaders = slices.DeleteFunc(k.Leaders,
				func(l finding.LeaderRecord) bool { return l.Index != k.Best.Index })
		}, "as the first of diameter"},
		{"no payloads", func(_ *forgery, k *finding.FoundRecord) { clear(k.ByPayload) }, "as the first of payload 0 g"},
		{"leaders in another order", func(_ *forgery, k *finding.FoundRecord) { slices.Reverse(k.Leaders) },
			"as the best of"},
		{"no leaders", func(_ *forgery, k *finding.FoundRecord) { k.Leaders = nil }, "not the best of its diameter"},
		{"payloads that the grid has not", func(_ *forgery, k *finding.FoundRecord) {
			k.ByPayload = append(k.ByPayload, nil)
		}, "the best designs of 3 payloads"},
		{"payloads in another order", func(_ *forgery, k *finding.FoundRecord) { slices.Reverse(k.ByPayload) },
			"as the best of another payload"},

		{"no rows", func(x *forgery, _ *finding.FoundRecord) { x.ranking = x.ranking[:1] },
			"ranking.csv: unexpected EOF"},
		{"a row less", func(x *forgery, _ *finding.FoundRecord) { x.ranking = slices.Delete(x.ranking, row, row+1) },
			"ranking.csv:2: class limit"},
		{"a row twice", func(x *forgery, _ *finding.FoundRecord) {
			x.ranking = append(x.ranking, x.ranking[len(x.ranking)-1])
		}, "ranking.csv: more than"},
		{"rows exchanged", func(x *forgery, _ *finding.FoundRecord) {
			r := x.ranking
			r[row], r[row+1] = r[row+1], r[row]
		}, "ranking.csv:2: class limit"},
		{"a rank far away", func(x *forgery, _ *finding.FoundRecord) { x.ranking[row][column(x, "rank")] = "99" },
			`and rank "99"`},
		{"a class of another run", func(x *forgery, _ *finding.FoundRecord) {
			x.ranking[row][column(x, "class-limit (kg)")] = "7"
		}, `class limit "7"`},
		{"an index of another design", func(x *forgery, _ *finding.FoundRecord) {
			x.ranking[row+1][column(x, "index")] = "3"
		}, "ranking.csv:3: design 3"},
		{"an index beyond the grid", func(x *forgery, _ *finding.FoundRecord) {
			x.ranking[row+1][column(x, "index")] = "18446744073709551615"
		}, "of a grid of 864"},
		{"a merit that is no number", func(x *forgery, _ *finding.FoundRecord) {
			x.ranking[row+1][column(x, "merit")] = "NaN"
		}, "with a merit of NaN"},
		{"a merit without end", func(x *forgery, _ *finding.FoundRecord) {
			x.ranking[row+1][column(x, "merit")] = "+Inf"
		}, "with a merit of +Inf"},
		{"a column twice", func(x *forgery, _ *finding.FoundRecord) {
			for i := range x.ranking {
				x.ranking[i] = append(x.ranking[i], x.ranking[i][column(x, "rank")])
			}
		}, `two columns "rank"`},
		{"a field of megabytes", func(x *forgery, _ *finding.FoundRecord) {
			x.ranking[row][0] = strings.Repeat("x", 1<<20)
		}, "ranking.csv:2: a line of more than 65536 bytes"},

		{"a size without end", func(x *forgery, _ *finding.FoundRecord) { x.size[1][0] = "Inf" },
			`size.csv: line 2: "Inf"`},
		{"a merit of a size made up", func(x *forgery, _ *finding.FoundRecord) {
			x.size[len(x.size)-1][2] = "0.999"
		}, "size.csv: "},
		{"sizes of n weights and n diameters", func(x *forgery, _ *finding.FoundRecord) {
			x.size = x.size[:1]
			for i := range 50_000 { // the square of them has 20 GB
				x.size = append(x.size, []string{strconv.Itoa(1 + i), strconv.Itoa(1 + i), "0.5"})
			}
		}, "size.csv: 50000 lines for 50000 weights and 50000 diameters"},
		{"a size twice", func(x *forgery, _ *finding.FoundRecord) {
			x.size = append(x.size, x.size[1])
		}, "want each weight with each diameter once"},
	} {
		x := f.of(t)
		c.alter(x, &x.record.Result.Classes[at])
		dir := t.TempDir()
		x.write(t, dir)
		if wrong := f.verdict(dir); wrong != "" {
			t.Errorf("%s: %s", c.name, wrong)
		}
		if _, err := finding.ReadFinished(dir); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	dir := t.TempDir()
	f.of(t).write(t, dir)
	if _, err := finding.ReadFinished(dir); err != nil {
		t.Errorf("a forgery of nothing: %v", err)
	}
}

// Three hundred forgeries at random, a third of the decision: each is refused in one line or
// comes to nothing, and none takes more memory than a run's files. Numbers of a decision that
// it may have come to are taken: no draw is computed again.
func TestForgedRecords(t *testing.T) {
	f := newForged(t)
	rng := rand.New(rand.NewPCG(27, 28))
	refused, written := 0, 0
	rounds := 300
	if testing.Short() {
		rounds = 60
	}
	for n := range rounds {
		x := f.of(t)
		for range 1 + rng.IntN(3) {
			x.forge(rng)
		}
		dir := t.TempDir()
		x.write(t, dir)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if wrong := f.verdict(dir); wrong != "" {
			t.Errorf("forgery %d: %s", n, wrong)
		}
		runtime.ReadMemStats(&after)
		if took := after.TotalAlloc - before.TotalAlloc; took > 200<<20 {
			t.Errorf("forgery %d: %d MB", n, took>>20)
		}
		if _, err := finding.ReadFinished(dir); err != nil {
			refused++
		} else if written < 2 && decisionOf(&x.record) != f.decision {
			written++
			c, err := finding.Compare(f.dir, dir)
			if err == nil {
				_, err = WriteComparison(t.Context(), c, t.TempDir())
			}
			if err != nil {
				t.Errorf("forgery %d: %v", n, err)
			}
		}
		files, err := os.ReadDir(dir)
		if err != nil || len(files) != 3 {
			t.Errorf("forgery %d: left %v", n, files)
		}
	}
	t.Logf("%d of %d refused, %d with another decision written", refused, rounds, written)
	if refused < rounds/2 || written < 2 {
		t.Errorf("%d of %d refused, %d written: the generator alters next to nothing", refused, rounds, written)
	}
}

// forge alters one thing of a run.
func (x *forgery) forge(rng *rand.Rand) {
	switch k := rng.IntN(15); {
	case k < 2:
		forgeRows(rng, &x.ranking)
	case k < 4:
		forgeRows(rng, &x.size)
	case k < 9:
		var all []reflect.Value
		if rng.IntN(8) == 0 {
			values(reflect.ValueOf(x.record.Study.Draws), &all)
		} else {
			c := x.record.Result.Classes
			values(reflect.ValueOf(c[rng.IntN(len(c))].Decision), &all)
		}
		if len(all) > 0 { // it may have been taken away before
			forgeValue(rng, all[rng.IntN(len(all))])
		}
	default:
		var all []reflect.Value
		values(reflect.ValueOf(&x.record.Study), &all)
		values(reflect.ValueOf(&x.record.Result), &all)
		forgeValue(rng, all[rng.IntN(len(all))])
	}
}

// values gathers what can be altered of a value.
func values(v reflect.Value, to *[]reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			values(v.Elem(), to)
		}
		if v.CanSet() {
			*to = append(*to, v)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			values(v.Field(i), to)
		}
	case reflect.Slice:
		*to = append(*to, v)
		for i := range v.Len() {
			values(v.Index(i), to)
		}
	default:
		*to = append(*to, v)
	}
}

var (
	forgedTexts = []string{"", "\x1b[2J", "a\nb", "../../..", "auw", "diameter", "Inf", strings.Repeat("x", 1<<16),
		"\xff"}
	forgedNumbers = []float64{0, -1, 1, 0.5, 2, 1e9, 1e300, -1e300, 5e-324, math.MaxFloat64}
	forgedCounts  = []uint64{0, 1, 7, 863, 864, 1 << 31, 1 << 62, math.MaxUint64}
	forgedCells   = []string{"", "-1", "0", "1", "NaN", "+Inf", "1e300", "18446744073709551615", "x", "\x00", "'"}
)

func pick[T any](rng *rand.Rand, of []T) T { return of[rng.IntN(len(of))] }

func forgeValue(rng *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(pick(rng, forgedTexts))
	case reflect.Float64:
		if f := v.Float() * (1 + 0.1*rng.NormFloat64()); rng.IntN(2) == 0 {
			v.SetFloat(f)
			return
		}
		v.SetFloat(pick(rng, forgedNumbers))
	case reflect.Uint64:
		if rng.IntN(2) == 0 {
			v.SetUint(v.Uint() + uint64(rng.IntN(5)) - 2)
			return
		}
		v.SetUint(pick(rng, forgedCounts))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(pick(rng, forgedCounts)))
	case reflect.Bool:
		v.SetBool(!v.Bool())
	case reflect.Interface:
		v.Set(reflect.ValueOf(pick(rng, []any{1e300, "\x1b[2J", []any{}, map[string]any{"a": 1.0}, true, 7.0})))
	case reflect.Pointer:
		v.SetZero()
	case reflect.Slice:
		n := v.Len()
		switch rng.IntN(4) {
		case 0:
			v.SetZero()
		case 1:
			if n > 0 {
				v.Set(reflect.AppendSlice(v.Slice3(0, n, n), v.Slice(n-1, n)))
			}
		case 2:
			if n > 1 {
				reflect.Swapper(v.Interface())(rng.IntN(n), rng.IntN(n))
			}
		default:
			v.Set(v.Slice(0, n/2))
		}
	}
}

func forgeRows(rng *rand.Rand, rows *[][]string) {
	r := *rows
	i, j := rng.IntN(len(r)), rng.IntN(len(r))
	switch rng.IntN(5) {
	case 0:
		r[i], r[j] = r[j], r[i]
	case 1:
		*rows = slices.Insert(r, i, slices.Clone(r[j]))
	case 2:
		*rows = slices.Delete(r, i, i+1)
	default:
		r[i] = slices.Clone(r[i])
		r[i][rng.IntN(len(r[i]))] = pick(rng, forgedCells)
	}
}
