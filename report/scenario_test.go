package report

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// A report of a study of several scenarios says in which each design is told, gives its merit over all,
// and is read back, by the worst and by the mean.
func TestScenarioReport(t *testing.T) {
	t.Parallel()
	for _, over := range sweep.Overs {
		s := trial.SmallStudy(t)
		s.Over = over
		var all []*model.Model
		for _, at := range [][2]float64{{0, 268.15}, {0, 308.15}, {2000, 308.15}} {
			a := s.Model.Assume
			a.Altitude, a.Temperature = at[0], at[1]
			all = append(all, trial.Model(t, a))
		}
		s.Model, s.Others = all[0], all[1:]
		result, err := sweep.Run(t.Context(), s, sweep.Options{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		r := &finding.Run{Study: s, Result: result, DPI: 72, Version: "test"}
		dir := t.TempDir()
		if _, err := Write(t.Context(), r, dir); err != nil {
			t.Fatal(err)
		}
		back, err := finding.ReadFinished(dir)
		if err != nil {
			t.Fatalf("by the %v: %v", over, err)
		}
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		record := words.RecordOf(r, found, 3, nil)
		if len(record.Study.Scenarios) != 3 || record.Study.Over != over.String() {
			t.Errorf("%d scenarios by %q in the record", len(record.Study.Scenarios), record.Study.Over)
		}
		for i := range found {
			k := &found[i]
			for g, x := range record.Result.Classes[i].Rejected {
				sum := uint64(0)
				for _, n := range x.In {
					sum += n
				}
				if sum != x.Designs || x.Designs != k.Rejected[g] {
					t.Errorf("class %s: %d rejected at %s in all scenarios, want %d", k.Class.Label, sum, x.Gate,
						k.Rejected[g])
				}
			}
			if k.Best() == nil {
				continue
			}
			if back.Classes[i].Best.Score != k.Best().Score {
				t.Errorf("class %s: merit %g is read back, want %g", k.Class.Label, back.Classes[i].Best.Score,
					k.Best().Score)
			}
			told, sum := math.Inf(1), 0.0
			for _, c := range k.Best().In {
				told, sum = min(told, s.Merit.Of(c)), sum+s.Merit.Of(c)
			}
			want := told
			if over == sweep.Mean {
				want = sum / 3
			}
			if k.Best().Score != want || s.Merit.Of(k.Best().Craft) != told {
				t.Errorf("class %s: the best has %g over all and %g where it is told, want %g and %g", k.Class.Label,
					k.Best().Score, s.Merit.Of(k.Best().Craft), want, told)
			}
			rows, err := r.Front(t.Context(), k)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range rows {
				in, err := r.Evaluator.Crafts(x.Index, k.Class)
				if err != nil {
					t.Fatal(err)
				}
				for _, m := range s.Front {
					for _, c := range in {
						if x.Values[finding.Place(m)] > m.Of(c) {
							t.Errorf("design %d of the front has %s %g, and %g in a scenario", x.Index, m.Name,
								x.Values[finding.Place(m)], m.Of(c))
						}
					}
				}
			}
		}
		f, err := os.Open(filepath.Join(dir, finding.RankingName))
		if err != nil {
			t.Fatal(err)
		}
		table, err := csv.NewReader(f).ReadAll()
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		if err != nil {
			t.Fatal(err)
		}
		at := slices.Index(table[0], "scenario")
		for _, line := range table[1:] {
			if !slices.Contains(words.ScenarioNames(s), line[at]) {
				t.Fatalf("scenario %q, want one of %q", line[at], words.ScenarioNames(s))
			}
		}
		if len(table) < 20 {
			t.Error(fmt.Sprint(len(table)), "lines")
		}
	}
}
