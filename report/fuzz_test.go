package report

import (
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/trial"
)

// FuzzReadFinished looks for a record or a ranking that breaks the reader, or the
// comparison of what it has read.
func FuzzReadFinished(f *testing.F) {
	good := f.TempDir()
	if _, err := Write(f.Context(), trial.SmallRun(f), good); err != nil {
		f.Fatal(err)
	}
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join(good, name))
		if err != nil {
			f.Fatal(err)
		}
		return string(b)
	}
	record, ranking := read(finding.RecordName), read(finding.RankingName)
	whole, size := ranking, read(finding.SizeName)
	f.Add(record, ranking)
	f.Add(record, "")
	f.Add("{}", ranking)
	for _, cut := range []string{`"complete"`, `"at_least"`, `"best"`, `"leaders"`, `"by_payload"`, `"merit"`} {
		f.Add(strings.ReplaceAll(record, cut, `"other"`), ranking)
	}
	f.Add(strings.ReplaceAll(record, "{", "[{"), ranking)
	f.Add(strings.ReplaceAll(record, "1", "-1e300"), ranking)
	f.Add(record, strings.ReplaceAll(ranking, "1", "\""))
	f.Add(record, strings.ReplaceAll(ranking, ",", ",,"))
	rng := rand.New(rand.NewPCG(29, 30))
	truth := newForged(f)
	for range 20 { // behind the hashes
		x := truth.of(f)
		x.forge(rng)
		dir := f.TempDir()
		x.write(f, dir)
		forged, err := os.ReadFile(filepath.Join(dir, finding.RecordName))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(forged), ranking)
	}
	first, err := finding.ReadFinished(good)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, record, ranking string) {
		dir := t.TempDir()
		record = relisted(record, whole, ranking) // what was edited is refused before it is read
		for name, text := range map[string]string{finding.RecordName: record, finding.RankingName: ranking,
			finding.SizeName: size} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		second, err := finding.ReadFinished(dir)
		if err != nil {
			if text := err.Error(); !strings.HasPrefix(text, dir+": ") || len(text) > len(dir)+1000 ||
				strings.Contains(text, "\n") {
				t.Errorf("%.300q is not one line that says where", text)
			}
			return
		}
		c := &finding.Comparison{Runs: []*finding.Finished{first, second}}
		if err := screen.PrintComparison(io.Discard, c, 100); err != nil {
			t.Error(err)
		}
		if err := screen.PrintComparisonJSON(io.Discard, c); err != nil {
			t.Error(err)
		}
	})
}
