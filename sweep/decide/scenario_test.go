package decide

import (
	"testing"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// scened is a trial over the conditions of its own and of others, swept.
func scened(t testing.TB, x trial, over sweep.Over, changes ...func(*model.Assumptions)) (*sweep.Study,
	*sweep.Result) {
	t.Helper()
	s := x.study(t)
	s.Over = over
	all := []*model.Model{s.Model}
	for _, change := range changes {
		a := s.Model.Assume
		change(&a)
		m, err := model.New(a)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, m)
	}
	all, err := model.Scenarios(all)
	if err != nil {
		t.Fatal(err)
	}
	s.Model, s.Others = all[0], all[1:]
	r, err := sweep.Run(t.Context(), s, sweep.Options{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	return s, r
}

func hot(a *model.Assumptions) { a.Altitude, a.Temperature = 1200, 308.15 }

// A wind that nothing asks for makes a scenario that is the same in all that is read: the choice is
// the same to the last bit, by the worst and by the mean.
func TestScenarioAlike(t *testing.T) {
	t.Parallel()
	x := trials[0]
	s, r := x.run(t)
	want, err := Run(t.Context(), s, r, few(2))
	if err != nil {
		t.Fatal(err)
	}
	for _, over := range sweep.Overs {
		s, r := scened(t, x, over, func(a *model.Assumptions) { a.Wind = 6 })
		got, err := Run(t.Context(), s, r, few(2))
		if err != nil {
			t.Fatal(err)
		}
		if diff := same(got, want); diff != "" {
			t.Errorf("by the %v a scenario that is the same changes the choice:\n%.2000s", over, diff)
		}
	}
}

// Where nothing errs the choice has the merits that crafts have in all scenarios, and each of its
// builds keeps its requirements in all draws or in none.
func TestScenariosCertain(t *testing.T) {
	t.Parallel()
	for _, over := range sweep.Overs {
		s, r := scened(t, trials[2], over, hot, func(a *model.Assumptions) { a.PackAged = true })
		none := func(_ uint64, draws int) (ensemble, error) {
			e := make(models, draws)
			for k := range e {
				e[k] = drawIn(s.Models())
			}
			return e, nil
		}
		d, err := run(t.Context(), s, r, few(2), none)
		if err != nil {
			t.Fatal(err)
		}
		c := &d.Classes[0]
		if len(c.Builds) < 10 {
			t.Fatalf("%d builds", len(c.Builds))
		}
		e := sweep.NewEvaluator(s)
		feasible, fallen := 0, 0
		for i := range c.Builds {
			b := &c.Builds[i]
			in, err := e.Crafts(b.Index, s.Classes[0])
			if err != nil {
				t.Fatal(err)
			}
			keeps := make([]bool, len(in))
			all := true
			for n, craft := range in {
				keeps[n] = true
				for _, q := range s.Require {
					keeps[n] = keeps[n] && q.Kept(q.Metric.Of(craft))
				}
				all = all && keeps[n]
			}
			want, share := 0.0, 0.0
			if all {
				want, share = s.MeritOf(in), 1
				feasible++
			} else if keeps[0] {
				fallen++
			}
			if b.Merit.P50 != want || b.Feasible != share || b.Cautious < want-1e-9 || b.Cautious > want+1e-9 {
				t.Errorf("by the %v build %d has merit %g in %g of the draws, want %g in %g", over, b.Index,
					b.Merit.P50, b.Feasible, want, share)
			}
		}
		if best, ok := r.Classes[0].Best(); !ok || c.Builds[0].Merit.P50 != best.Score {
			t.Errorf("by the %v the recommended build has %g, the best of the sweep %g", over, c.Builds[0].Merit.P50,
				best.Score)
		}
		if feasible < 10 {
			t.Errorf("%d builds keep all, %d fail in a further scenario", feasible, fallen)
		}
	}
}

// Further scenarios are kept less often, requirement by requirement, and by one design as by a choice.
func TestScenariosKeptLess(t *testing.T) {
	t.Parallel()
	x := trials[2]
	s, r := scened(t, x, sweep.Worst, hot)
	best, ok := r.Classes[0].Best()
	if !ok {
		t.Fatal("nothing is feasible")
	}
	d := s.Grid.Design(best.Index)
	one, err := Spread(t.Context(), s.Models()[:1], 0, d, x.limit, s.Require, 256, 1)
	if err != nil {
		t.Fatal(err)
	}
	two, err := Spread(t.Context(), s.Models(), 1, d, x.limit, s.Require, 256, 1)
	if err != nil {
		t.Fatal(err)
	}
	if two.Feasible >= one.Feasible || two.InClass != one.InClass {
		t.Errorf("P(feasible) %g in two scenarios, %g in the first; in class %g and %g", two.Feasible, one.Feasible,
			two.InClass, one.InClass)
	}
	for n := range s.Require {
		if two.Kept[n] > one.Kept[n] || two.Margins[n].P10 > one.Margins[n].P10 {
			t.Errorf("%s is kept in %g of the draws in two scenarios, %g in the first", s.Require[n].Metric.Name,
				two.Kept[n], one.Kept[n])
		}
	}
	of := Contender{s, 0, best.Index}
	p, err := PairOf(t.Context(), of, of, Options{Fresh: 128, Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	if b := p.Of[0]; b.Nominal != best.Score || b.Feasible > one.Feasible+0.1 {
		t.Errorf("nominal merit %g, want %g; P(feasible) %g", b.Nominal, best.Score, b.Feasible)
	}
}

// What chooses and what tells of builds agree in the same draws, where a draw that breaks a requirement
// counts 0, in whichever of several scenarios it does.
func TestScenariosChosenAsTold(t *testing.T) {
	t.Parallel()
	for _, over := range sweep.Overs {
		s, found := scened(t, trials[2], over, hot, func(a *model.Assumptions) { a.Temperature = 268.15 },
			func(a *model.Assumptions) { a.PackAged = true })
		r := newRunner(newRules(s, nil), s.Models(), 2)
		builds := r.space.candidates(0, &found.Classes[0])
		if err := r.plan(t.Context(), builds); err != nil {
			t.Fatal(err)
		}
		e, err := drawn(s.Models())(5, 16)
		if err != nil {
			t.Fatal(err)
		}
		c, err := r.judgeAll(t.Context(), e, e.Draws(), 0, builds)
		if err != nil {
			t.Fatal(err)
		}
		f, err := r.watch(t.Context(), e, builds, 6)
		if err != nil {
			t.Fatal(err)
		}
		fallen := 0
		for i := range builds {
			for k, merit := range f.of(i) {
				told := f.results[i*f.draws+k].gate == kept
				if c.merits[i][k] != merit || c.passed[i][k] != told || !told && merit != 0 {
					t.Fatalf("by the %v build %d in draw %d: chosen by %g, kept %v; told %g, kept %v", over, builds[i].index,
						k, c.merits[i][k], c.passed[i][k], merit, told)
				}
				if !told {
					fallen++
				}
			}
		}
		if fallen == 0 || fallen == len(builds)*f.draws {
			t.Errorf("by the %v %d of %d fail: nothing is told apart", over, fallen, len(builds)*f.draws)
		}
	}
}
