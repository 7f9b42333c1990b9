package sweep

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/parquet-go/parquet-go"

	"rotorsieve/model"
	"rotorsieve/sweep/dump"
)

// dumpOf is a dump of which each file has so many blocks.
func dumpOf(t testing.TB, s *Study, folder string, merit float64, each uint64) *Dump {
	t.Helper()
	d, err := NewDump(s, folder, merit)
	if err != nil {
		t.Fatal(err)
	}
	d.each, d.files = each, (d.blocks+each-1)/each
	return d
}

// rowsOf reads a folder by the library's own reader: of each row the values that are not
// null, by column.
func rowsOf(t *testing.T, folder string) (rows []map[string]parquet.Value, columns []string) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(folder, "*.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(names)
	for _, name := range names {
		b, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer b.Close()
		about, _ := b.Stat()
		f, err := parquet.OpenFile(b, about.Size())
		if err != nil {
			t.Fatal(err)
		}
		columns = nil
		for _, c := range f.Schema().Columns() {
			columns = append(columns, c[0])
		}
		for _, g := range f.RowGroups() {
			from, read := len(rows), make([]parquet.Row, g.NumRows())
			r := g.Rows()
			if n, _ := r.ReadRows(read); int64(n) != g.NumRows() {
				t.Fatalf("%s: %d rows of %d", name, n, g.NumRows())
			}
			for _, row := range read {
				one := map[string]parquet.Value{}
				for _, v := range row {
					if !v.IsNull() {
						one[columns[v.Column()]] = v.Clone()
					}
				}
				rows = append(rows, one)
			}
			if err := r.Close(); err != nil || len(rows) == from {
				t.Fatalf("%s: %v", name, err)
			}
		}
	}
	return rows, columns
}

// A dump has every feasible design once, and of each what model.Evaluate computes, to the
// last bit; what a design does not have is null.
func TestDumpIsEvaluate(t *testing.T) {
	shy := study(t, small(t, nil))
	shy.Require = []Requirement{{Metric: metric(t, "thrust-to-weight"), AtLeast: true, Bound: 1.2},
		{Metric: metric(t, "class-margin"), AtLeast: true, Bound: 0.02},
		{Metric: metric(t, "top-speed"), AtLeast: true, Bound: 12}}
	shy.Classes = []Class{{Limit: 0.6, Label: "0.6kg"}, {Limit: 0.3, Label: "300 g"}}
	for _, c := range []struct {
		name  string
		study *Study
		merit float64
	}{
		{"all", study(t, small(t, nil)), 0},
		{"by merit", study(t, small(t, nil)), 0.3},
		{"margins by class, lightest last", shy, 0},
		{"worst of scenarios", scened(t, Worst), 0.2},
		{"mean of scenarios", scened(t, Mean), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), "new")
			d := dumpOf(t, c.study, folder, c.merit, 1)
			got, err := d.Write(context.Background(), Options{Workers: 2})
			if err != nil || !got.Whole() || got.Files < 2 {
				t.Fatalf("%+v: %v", got, err)
			}
			rows, columns := rowsOf(t, folder)
			if len(rows) < 5 || uint64(len(rows)) != got.Rows {
				t.Fatalf("%d rows, said to be %d", len(rows), got.Rows)
			}
			want := wantedRows(t, c.study, c.merit)
			nulls := 0
			if len(want) != len(rows) {
				t.Fatalf("%d rows, want %d", len(rows), len(want))
			}
			for i, row := range rows {
				if len(want[i]) != len(columns) {
					t.Fatalf("%d columns, want %d:\n%v\n%v", len(columns), len(want[i]), columns,
						slices.Sorted(maps.Keys(want[i])))
				}
				for name, v := range want[i] {
					x, there := row[name]
					bits := func(v float64) uint64 { return math.Float64bits(v) }
					same := there
					switch v := v.(type) {
					case nil:
						same = !there
						nulls++
					case float64:
						same = same && x.Kind() == parquet.Double && bits(x.Double()) == bits(v)
					case int64:
						same = same && x.Kind() == parquet.Int64 && x.Int64() == v
					case bool:
						same = same && x.Kind() == parquet.Boolean && x.Boolean() == v
					default:
						same = same && x.String() == v
					}
					if !same {
						t.Fatalf("row %d: %s is %v, there %v, want %v", i, name, x, there, v)
					}
				}
			}
			if nulls == 0 {
				t.Error("every value exists, of which nothing shows what becomes of others")
			}
		})
	}
}

// scened is a small study on the ground and on a mountain.
func scened(t testing.TB, over Over) *Study {
	s := study(t, small(t, nil))
	s.Over = over
	under(t, s, func(*model.Assumptions) {}, func(a *model.Assumptions) { a.Altitude = 2000 })
	// Thrust scores the other way, so that now one scenario binds and now the other.
	s.Merit[1].Worst, s.Merit[1].Best = 12, 2
	return s
}

// wantedRows are the rows that a dump is to have, made of model.Evaluate: a value by
// column, nil for null.
func wantedRows(t testing.TB, s *Study, merit float64) (out []map[string]any) {
	t.Helper()
	light := slices.Clone(s.Classes)
	slices.SortFunc(light, func(a, b Class) int { return cmp.Compare(a.Limit, b.Limit) })
	column := strings.NewReplacer("-", "_", ".", "_", " ", "_")
	for _, j := range everyDesign(t, s, nil) {
		row := map[string]any{"design": int64(j.index)}
		var in *Class
		for i := range slices.Backward(light) {
			j.judge(light[i], inOrderOfGates(s.Require))
			row["feasible_"+column.Replace(light[i].Label)] = j.gate < 0
			if j.gate < 0 {
				in, j.merit = &light[i], overAll(s, &j)
			}
		}
		if in == nil || j.merit < merit {
			continue
		}
		least := math.Inf(1)
		for _, c := range j.crafts { // the metrics are those of the scenario of the least merit
			c.Limit = in.Limit
			if v := weighted(s.Merit, c); v < least {
				least, j.craft = v, c
			}
		}
		if len(j.crafts) > 1 {
			row["scenario"] = map[bool]string{true: "0 m", false: "2000 m"}[j.craft == j.crafts[0]]
		}
		row["class"], row["merit"] = in.Label, j.merit
		for _, m := range model.Metrics {
			if m.Stage > model.LastStage {
				continue
			}
			v, _ := m.Exported(j.craft)
			row[column.Replace(m.Name)] = v
			if math.IsNaN(v) {
				row[column.Replace(m.Name)] = nil
			}
		}
		for _, a := range AxisDefs {
			row[column.Replace(a.Name)] = a.Of(s.Grid.Design(j.index))
		}
		out = append(out, row)
	}
	return out
}

// Another program reads the same: hyparquet, which make test-dump installs; HYPARQUET is the
// folder that it is in.
func TestDumpReadElsewhere(t *testing.T) {
	from := os.Getenv("HYPARQUET")
	if from == "" {
		t.Skip("HYPARQUET is not set, which make test-dump does")
	}
	reader, err := os.ReadFile("testdata/read-dump.mjs")
	if err != nil {
		t.Fatal(err)
	}
	script := filepath.Join(from, "read-dump.mjs") // where node finds the modules
	if err := os.WriteFile(script, reader, 0o600); err != nil {
		t.Fatal(err)
	}
	s := study(t, small(t, nil))
	folder := t.TempDir()
	if _, err := dumpOf(t, s, folder, 0, 1).Write(context.Background(), Options{}); err != nil {
		t.Fatal(err)
	}
	var complaint strings.Builder
	node := exec.Command("node", script, folder)
	node.Stderr = &complaint
	out, err := node.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, complaint.String())
	}
	var got struct {
		Of      []map[string]string
		Columns []string
		Rows    []map[string]any
	}
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	want := wantedRows(t, s, 0)
	for _, row := range want {
		if n, whole := row["design"].(int64); whole {
			row["design"] = float64(n) // as JSON has it
		}
	}
	if len(want) < 20 || !reflect.DeepEqual(got.Rows, want) {
		t.Errorf("read as %d rows, want %d; the first are\n%v\n%v", len(got.Rows), len(want), got.Rows[0], want[0])
	}
	if got.Columns[0] != "design" || len(got.Columns) != len(want[0]) {
		t.Errorf("columns %v", got.Columns)
	}
	for _, of := range got.Of {
		if of["fingerprint"] != s.Fingerprint() || of["model_version"] != model.Version {
			t.Errorf("a file is said to be of %v", of)
		}
	}
}

// Every file says what it is of, and each of its columns in which unit.
func TestDumpSaysWhatItIs(t *testing.T) {
	s := study(t, small(t, nil))
	folder := t.TempDir()
	d := dumpOf(t, s, folder, 0.25, 1<<20)
	if _, err := d.Write(context.Background(), Options{}); err != nil {
		t.Fatal(err)
	}
	a, err := dump.Read(filepath.Join(folder, "designs-000-143.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{"fingerprint": s.Fingerprint(), "model_version": model.Version,
		"merit_at_least": "0.25", "classes": "250g: 0.25 kg, 600g: 0.6 kg", "first_design": "0", "last_design": "143"} {
		if a.Of[key] != want {
			t.Errorf("%s is %q, want %q", key, a.Of[key], want)
		}
	}
	var columns []struct{ Name, Unit, Title, Meaning string }
	if err := json.Unmarshal([]byte(a.Of["columns"]), &columns); err != nil {
		t.Fatal(err)
	}
	units := map[string]string{}
	for _, c := range columns {
		units[c.Name] = c.Unit
		if c.Title == "" || c.Meaning == "" {
			t.Errorf("%s is said to be %q, %q", c.Name, c.Title, c.Meaning)
		}
	}
	for name, want := range map[string]string{"auw": "kg", "hover_time": "s", "hover_rpm": "rpm", "diameter": "m",
		"pitch_ratio": "", "design": ""} {
		if got, ok := units[name]; !ok || got != want {
			t.Errorf("%s is in %q, want %q", name, got, want)
		}
	}
}

// hashes are those of all files of a folder.
func hashes(t *testing.T, folder string) map[string]string {
	t.Helper()
	out := map[string]string{}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		b, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = fmt.Sprintf("%x", sha256.Sum256(b))
	}
	return out
}

// A dump is the same bytes by any workers, in shards, and where it is interrupted and goes
// on, which leaves what is there alone.
func TestDumpIsTheSame(t *testing.T) {
	s := study(t, small(t, nil))
	write := func(ctx context.Context, folder string, o Options) DumpTally {
		t.Helper()
		got, err := dumpOf(t, s, folder, 0, 1).Write(ctx, o)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	one := t.TempDir()
	all := write(context.Background(), one, Options{Workers: 1})
	want := hashes(t, one)
	if !all.Whole() || len(want) != 4 {
		t.Fatalf("%+v, %d files", all, len(want))
	}
	var list strings.Builder
	for _, name := range slices.Sorted(maps.Keys(want)) {
		fmt.Fprintf(&list, "%s  %s\n", want[name], name)
	}
	if sum := fmt.Sprintf("%x", sha256.Sum256([]byte(list.String()))); all.SHA256 != sum {
		t.Errorf("the sum is %s, want %s", all.SHA256, sum)
	}
	many, shards, parts := t.TempDir(), t.TempDir(), t.TempDir()
	write(context.Background(), many, Options{Workers: 5})
	if part := write(context.Background(), shards, Options{Shard: Shard{2, 3}}); part.Whole() || part.SHA256 != "" {
		t.Errorf("one shard of three is whole: %+v", part)
	}
	write(context.Background(), shards, Options{Shard: Shard{1, 3}})
	if last := write(context.Background(), shards, Options{Shard: Shard{3, 3}}); last != all {
		t.Errorf("shards come to %+v, want %+v", last, all)
	}
	ended, end := context.WithCancel(context.Background())
	end()
	if got := write(ended, parts, Options{Workers: 1}); got.Files != 0 {
		t.Errorf("%+v where nothing was to be written", got)
	}
	missing := slices.Sorted(maps.Keys(want))[1]
	write(context.Background(), parts, Options{})
	if err := os.Remove(filepath.Join(parts, missing)); err != nil {
		t.Fatal(err)
	}
	left := filepath.Join(parts, "."+missing+"12") // of a writer that was killed
	if err := os.WriteFile(left, []byte("part"), 0o600); err != nil {
		t.Fatal(err)
	}
	about, err := dumpOf(t, s, parts, 0, 1).Estimate(Options{}, time.Minute)
	if err != nil || about.Missing != 1 || about.Files != 4 {
		t.Errorf("%+v: %v, want one file of four to be missing", about, err)
	}
	var told Progress
	write(context.Background(), parts, Options{Progress: func(p Progress) { told = p }})
	if told.Done != told.Total || told.Total != 144 || told.Fresh != 36 {
		t.Errorf("at the end it says %+v", told)
	}
	if _, err := os.Stat(left); err == nil {
		t.Error("what a killed writer left is still there")
	}
	for _, folder := range []string{many, shards, parts} {
		if got := hashes(t, folder); !maps.Equal(got, want) {
			t.Errorf("another way it is\n%v, want\n%v", got, want)
		}
	}
}

// What a dump will take is told from a trial, of a small study exactly but for how the
// rows stand in groups.
func TestDumpEstimate(t *testing.T) {
	s := study(t, small(t, nil))
	folder := t.TempDir()
	d := dumpOf(t, s, folder, 0, 1)
	about, err := d.Estimate(Options{}, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	if entries, _ := os.ReadDir(folder); len(entries) > 0 {
		t.Errorf("it has written %v", entries)
	}
	got, err := d.Write(context.Background(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if float64(got.Rows) != about.Rows || about.Bytes < 0.7*float64(got.Bytes) || about.Bytes > 1.3*float64(got.Bytes) {
		t.Errorf("foretold %.0f rows of %.0f bytes, there are %d of %d", about.Rows, about.Bytes, got.Rows, got.Bytes)
	}
	if about.Time <= 0 {
		t.Errorf("foretold to take %v", about.Time)
	}
}

// A folder with anything else is refused, by name.
func TestDumpRefusesOthers(t *testing.T) {
	s := study(t, small(t, nil))
	full := t.TempDir()
	if _, err := dumpOf(t, s, full, 0, 1).Write(context.Background(), Options{}); err != nil {
		t.Fatal(err)
	}
	first := slices.Sorted(maps.Keys(hashes(t, full)))[0]
	there, err := os.ReadFile(filepath.Join(full, first))
	if err != nil {
		t.Fatal(err)
	}
	other := study(t, small(t, map[*AxisDef]string{Capacity: "450,850,1500"}))
	relabelled := study(t, small(t, nil))
	relabelled.Classes[1].Label = "0.6kg"
	for _, c := range []struct {
		name, file string
		text       []byte
		study      *Study
		merit      float64
		each       uint64
		want       string
	}{
		{"a foreign file", "notes.txt", nil, s, 0, 1, `holds "notes.txt", which is no file of this dump, want an empty ` +
			`folder or a new one`},
		{"no range of it", "designs-000-014.parquet", there, s, 0, 1, "designs-000-014.parquet is " + first + " under another name, want it moved away"},
		{"beyond it", "designs-900-935.parquet", there, s, 0, 1, `holds "designs-900-935.parquet"`},
		{"cut short", first, there[:len(there)/2], s, 0, 1,
			first + " is damaged, or no Parquet file, want it removed: it is then written again"},
		{"empty", first, nil, s, 0, 1, first + " is damaged, or no Parquet file"},
		{"another study", first, there, other, 0, 1, first + ` is of another study (fingerprint "`},
		{"another bound", first, there, s, 0.5, 1, first + ` is of another study (merit at least "0", here "0.5")`},
		{"other names", first, there, relabelled, 0, 1, first + " is of another study (classes"},
		{"other ranges", first, there, s, 0, 2, first + " is of another study (last design \"35\", here \"71\")"},
	} {
		folder := t.TempDir()
		if err := os.WriteFile(filepath.Join(folder, c.file), c.text, 0o600); err != nil {
			t.Fatal(err)
		}
		d := dumpOf(t, c.study, folder, c.merit, c.each)
		_, looked := d.Look()
		_, foretold := d.Estimate(Options{}, 0)
		_, wrote := d.Write(context.Background(), Options{})
		for _, err := range []error{looked, foretold, wrote} {
			if err == nil || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("%s: %v, want %s", c.name, err, c.want)
			}
		}
		if got := hashes(t, folder); len(got) != 1 || got[c.file] != fmt.Sprintf("%x", sha256.Sum256(c.text)) {
			t.Errorf("%s: the folder was changed: %v", c.name, got)
		}
	}
}
