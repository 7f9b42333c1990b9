package screen

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

func TestPrint(t *testing.T) {
	t.Parallel()
	for _, width := range []int{80, 100, 120} {
		var out bytes.Buffer
		if err := PrintRun(&out, trial.SmallRun(t), Page{Width: width, Whole: true}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(out.String()) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
				t.Errorf("a line has %d characters, want at most %d: %q", n, width, line)
			}
		}
		if width == 100 {
			trial.Golden(t, "terminal.txt", out.Bytes())
		}
	}
}

// Of a run that was cut short nothing is said but the best so far, what was judged and
// what may be left.
func TestPrintUnfinished(t *testing.T) {
	t.Parallel()
	for _, width := range []int{80, 100, 120} {
		var out bytes.Buffer
		if err := PrintRun(&out, trial.UnfinishedRun(t, 0.6), Page{Width: width, Whole: true}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(out.String()) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
				t.Errorf("a line has %d characters, want at most %d: %q", n, width, line)
			}
		}
		for _, claim := range []string{"leads", "decided:", "edge of the grid", "past the merit", "tied", "more hover"} {
			if strings.Contains(out.String(), claim) {
				t.Errorf("an unfinished run says %q", claim)
			}
		}
		if width == 100 {
			trial.Golden(t, "terminal-unfinished.txt", out.Bytes())
		}
	}
}

// With a decision each class says which build to order, within any width.
func TestPrintDecided(t *testing.T) {
	t.Parallel()
	for _, width := range []int{80, 100, 120} {
		var out bytes.Buffer
		r := trial.DecidedRun(t)
		if width == 80 { // the longest names
			k := &r.Decision.Classes[1]
			k.Builds[0].Design = k.Builds[2].Design
			k.Builds[0].Design.Payload = 0.06
		}
		if err := PrintRun(&out, r, Page{Width: width, Whole: true}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(out.String()) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
				t.Errorf("a line has %d characters, want at most %d: %q", n, width, line)
			}
		}
		if width == 100 {
			trial.Golden(t, "terminal-decided.txt", out.Bytes())
		}
	}
}

func TestPrintJSON(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	var out bytes.Buffer
	if err := PrintRunJSON(&out, r); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Study struct {
			Grid struct {
				Designs uint64
				Axes    []struct {
					Name, Unit string
					Values     []float64
				}
			}
		}
		Result struct {
			Complete bool
			Classes  []struct {
				Class    string
				Rejected []struct {
					Gate    string
					Designs uint64
				} `json:"rejected"`
				Feasible uint64
				Nearest  string
				Best     *struct {
					Index   uint64
					Merit   float64
					Metrics map[string]finding.Quantity
				}
				Ranking []struct{ Index uint64 }
				Leaders []struct {
					Diameter finding.Quantity
					Index    uint64
					Metrics  map[string]finding.Quantity
				}
				ByPayload []*struct{ Inputs map[string]finding.Quantity } `json:"by_payload"`
			}
		}
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Study.Grid.Designs != r.Study.Grid.Size() || len(got.Study.Grid.Axes) != len(r.Study.Grid.Axes()) ||
		!got.Result.Complete {
		t.Errorf("the grid is %+v", got.Study.Grid)
	}
	var again bytes.Buffer
	if err := PrintRunJSON(&again, trial.SmallRun(t)); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Errorf("printed differently when printed again, %v", err)
	}
	for i, k := range got.Result.Classes {
		leaders := 0
		for _, b := range r.Result.Classes[i].Leaders {
			if !b.Any {
				continue
			}
			if leaders == len(k.Leaders) || k.Leaders[leaders].Index != b.Index ||
				k.Leaders[leaders].Metrics["auw"].Unit != "kg" {
				t.Fatalf("class %s: leaders %+v, want design %d", k.Class, k.Leaders, b.Index)
			}
			leaders++
		}
		for n, p := range k.ByPayload {
			if p != nil && p.Inputs["payload"].Value != r.Values(sweep.Payload)[n] {
				t.Errorf("class %s: payload %v in place %d", k.Class, p.Inputs["payload"], n)
			}
		}
		if len(k.ByPayload) != 2 {
			t.Errorf("class %s: %d payloads", k.Class, len(k.ByPayload))
		}
		sum := k.Feasible
		for _, g := range k.Rejected {
			sum += g.Designs
		}
		if sum != r.Study.Grid.Size() {
			t.Errorf("class %s adds up to %d designs, want %d", k.Class, sum, r.Study.Grid.Size())
		}
		best, any := r.Result.Classes[i].Best()
		if (k.Best != nil) != any || (k.Nearest == "") != any {
			t.Fatalf("class %s: best %v, nearest %q", k.Class, k.Best, k.Nearest)
		}
		if !any {
			continue
		}
		if k.Best.Index != best.Index || k.Best.Merit != best.Score || len(k.Ranking) != finding.ShownRanks ||
			k.Ranking[0].Index != best.Index {
			t.Errorf("class %s: best %+v, want design %d", k.Class, k.Best, best.Index)
		}
		if q := k.Best.Metrics["auw"]; q.Unit != "kg" || q.Value.(float64) > r.Study.Classes[i].Limit {
			t.Errorf("class %s: all-up weight %v", k.Class, q)
		}
	}
}
