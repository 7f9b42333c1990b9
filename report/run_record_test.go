package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// What is written of a run is read back whole: the same record, and from it the same
// bytes.
func TestRunRecordRoundTrip(t *testing.T) {
	first, second, _ := twoRuns(t)
	for _, r := range []*finding.Run{first, second} {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			ranks int
			files []finding.FileRecord
		}{{0, []finding.FileRecord{{Name: "figures/a&b.png", Bytes: 5, SHA256: "00ff"}}}, {finding.ShownRanks, nil}} {
			want := words.RecordOf(r, found, c.ranks, c.files)
			var b, again bytes.Buffer
			if err := finding.WriteJSON(&b, want); err != nil {
				t.Fatal(err)
			}
			got, err := finding.ParseRecord(b.Bytes())
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s (-written +read):\n%s", r.Study.Name, d)
			}
			if err := finding.WriteJSON(&again, got); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(b.Bytes(), again.Bytes()) {
				t.Errorf("%s: other bytes when it is written again", r.Study.Name)
			}
			text := b.String()
			if (c.files == nil) == strings.Contains(text, `"files"`) || (c.ranks == 0) == strings.Contains(text, `"ranking"`) {
				t.Errorf("%s: files and ranking stand where they should not, or are missing", r.Study.Name)
			}
			if !strings.HasPrefix(text, "{\n  \"format\": 2,\n") {
				t.Errorf("%s: begins %.40s, want the format first", r.Study.Name, text)
			}
		}
	}
}

// Named values keep the order in which they were written; what is none is refused.
func TestNamed(t *testing.T) {
	var n finding.Named[float64]
	for _, text := range []string{`{}`, `null`, `{"b":{"value":1,"unit":"m"},"a":{"value":2,"unit":""}}`} {
		if err := n.UnmarshalJSON([]byte(text)); err != nil {
			t.Fatal(err)
		}
		got, err := n.MarshalJSON()
		if want := strings.Replace(text, "null", "{}", 1); err != nil || string(got) != want {
			t.Errorf("%s is written as %s, %v", text, got, err)
		}
	}
	if v, ok := n.Of("a"); v != 2 || !ok {
		t.Errorf("a is %v, %v", v, ok)
	}
	if _, ok := n.Of("c"); ok {
		t.Error("there is a c")
	}
	for _, text := range []string{`[]`, `1`, `{"a":3}`, `{"a":{"value":"x"}}`, `{`, ``} {
		if err := n.UnmarshalJSON([]byte(text)); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}
