package words_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// What is written of a run is read back whole: the same record, and from it the same
// bytes.
func TestRunRecordRoundTrip(t *testing.T) {
	t.Parallel()
	for _, r := range []*finding.Run{trial.SmallRun(t), trial.OtherRun(t)} {
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
			if (c.files == nil) == strings.Contains(text, `"files"`) || (c.ranks == 0) == strings.Contains(text,
				`"ranking"`) {
				t.Errorf("%s: files and ranking stand where they should not, or are missing", r.Study.Name)
			}
			if !strings.HasPrefix(text, "{\n  \"format\": 2,\n") {
				t.Errorf("%s: begins %.40s, want the format first", r.Study.Name, text)
			}
		}
	}
}

// What merges shards has no workers of its own, and does not say it had none.
func TestRunRecordOfMergedShards(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	origin := func() string {
		var b bytes.Buffer
		if err := finding.WriteJSON(&b, words.RecordOf(r, nil, 0, nil).Run); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if got := origin(); !strings.Contains(got, `"workers": `) || strings.Contains(got, "merged") {
		t.Errorf("a run records %s", got)
	}
	result := *r.Result
	result.Workers = 0
	r.Result = &result
	if got := origin(); strings.Contains(got, "workers") || !strings.Contains(got, `"merged": true`) {
		t.Errorf("a merger records %s", got)
	}
}
