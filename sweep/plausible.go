package sweep

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"unicode"
	"unicode/utf8"
)

// A checksum says that a checkpoint is as it was written, not that a sweep wrote it. What
// is checked here takes no model: that counts add up, that every design is one of the
// blocks that are done and stands where it belongs, and that the lists of a class agree.
// The scores of designs are computed again by verify.

// impossible is the error of a checkpoint that no sweep has written.
func impossible(format string, args ...any) error {
	return unusable("the checkpoint was altered: "+format, args...)
}

// plausible says in what a total that was read contradicts itself or its study.
func (t *total) plausible() error {
	for i := range t.classes {
		k := &t.classes[i]
		if err := t.plausibleClass(k); err != nil {
			return impossible("class %s: %w", k.Class.Label, err)
		}
	}
	if err := t.plausibleAudit(); err != nil {
		return impossible("self-audit: %w", err)
	}
	return t.plausibleFailures()
}

func (t *total) plausibleClass(k *classTotal) error {
	left := t.judged
	for _, n := range append(slices.Clone(k.Rejected), k.Feasible) {
		if n > left {
			return fmt.Errorf("more designs are tallied than the %d judged", t.judged)
		}
		left -= n
	}
	if left > 0 {
		return fmt.Errorf("%d of the %d designs judged are tallied nowhere", left, t.judged)
	}
	if err := k.plausibleFallen(); err != nil {
		return err
	}
	if err := t.plausibleRanking(k); err != nil {
		return err
	}
	if err := t.plausibleFront(k); err != nil {
		return err
	}
	if err := t.plausibleCandidates(k); err != nil {
		return err
	}
	tables := t.tables(k)
	for _, b := range tables {
		if err := t.plausibleTable(k, &b); err != nil {
			return fmt.Errorf("%s: %w", b.name, err)
		}
	}
	if err := t.plausibleSize(k); err != nil {
		return fmt.Errorf("size map: %w", err)
	}
	if err := t.agree(k, tables); err != nil {
		return err
	}
	if err := t.plausibleGates(k, tables); err != nil {
		return err
	}
	return t.plausibleMiss(k)
}

// judgedDesign refuses a design that is not of the blocks that are done.
func (t *total) judgedDesign(index uint64) error {
	if size := t.plan.study.Grid.size; index >= size {
		return fmt.Errorf("design %d of a grid of %d", index, size)
	}
	if !t.has(index / t.plan.blockSize) {
		return fmt.Errorf("design %d, which is not among those judged", index)
	}
	return nil
}

func (t *total) plausibleRanked(x Ranked) error {
	if !(x.Score >= 0 && x.Score <= 1) {
		return fmt.Errorf("design %d with a merit of %g", x.Index, x.Score)
	}
	return t.judgedDesign(x.Index)
}

func (t *total) plausibleRanking(k *classTotal) error {
	k.Ranking = k.rank.sorted()
	ranking := k.Ranking
	if want := min(uint64(k.rank.k), k.Feasible); uint64(len(ranking)) != want {
		return fmt.Errorf("%d designs are ranked of %d that are feasible, want %d", len(ranking), k.Feasible, want)
	}
	for _, x := range ranking {
		if err := t.plausibleRanked(x); err != nil {
			return fmt.Errorf("ranking: %w", err)
		}
	}
	return nil
}

func (t *total) plausibleFront(k *classTotal) error {
	metrics := len(t.plan.front.metrics)
	if n := len(k.front.points); metrics == 0 && n > 0 {
		return fmt.Errorf("%d points on the Pareto front of a study without one", n)
	}
	most, none := step(math.MaxFloat64*boxSmall), step(math.NaN())
	for _, x := range k.front.points {
		if err := t.plausibleRanked(x.Ranked); err != nil {
			return fmt.Errorf("front: %w", err)
		}
		for i, b := range x.box {
			if (b < -most || b > most) && b != none || i >= metrics && b != 0 {
				return fmt.Errorf("front: design %d beyond all values", x.Index)
			}
		}
	}
	if n := len(pareto(slices.Clone(k.front.points))); n < len(k.front.points) {
		return fmt.Errorf("front: %d points of %d are not on it", len(k.front.points)-n, len(k.front.points))
	}
	return nil
}

func (t *total) plausibleTable(k *classTotal, b *table) error {
	g := t.plan.study.Grid
	for i := range b.len() {
		x := b.best(i)
		if !x.Any {
			continue
		}
		if b.metric != nil {
			if err := t.judgedDesign(x.Index); err != nil {
				return err
			}
			if math.IsInf(x.Score, 0) {
				return fmt.Errorf("design %d with a score of %g", x.Index, x.Score)
			}
		} else if err := t.plausibleMerit(k, x.Ranked); err != nil {
			return err
		}
		if at := b.place(g, x.Index); at != i {
			return fmt.Errorf("design %d in place %d, want it in %d", x.Index, i, at)
		}
	}
	return nil
}

// plausibleMerit refuses a best design by merit that the ranking should have and has not.
func (t *total) plausibleMerit(k *classTotal, x Ranked) error {
	if err := t.plausibleRanked(x); err != nil {
		return err
	}
	_, err := k.ranks(x)
	return err
}

// ranks says whether a design is ranked, and refuses one that is not and is better than
// what is.
func (k *classTotal) ranks(x Ranked) (bool, error) {
	_, ok := slices.BinarySearchFunc(k.Ranking, x, Ranked.compare)
	if n := len(k.Ranking); !ok && (n < k.rank.k || x.compare(k.Ranking[n-1]) < 0) {
		return false, fmt.Errorf("design %d is missing in the ranking", x.Index)
	}
	return ok, nil
}

// agree compares the lists of a class with each other: where a design is kept, each of
// its places has it or a better one.
func (t *total) agree(k *classTotal, tables []table) error {
	g := t.plan.study.Grid
	check := func(x Ranked, merit bool) error {
		for i := range tables {
			b := &tables[i]
			held := b.best(b.place(g, x.Index))
			if !held.Any || merit && b.metric == nil && !holds(held, x) {
				return fmt.Errorf("%s: design %d is missing", b.name, x.Index)
			}
		}
		if merit {
			return t.missing(k, 0, x)
		}
		return nil
	}
	for _, x := range k.Ranking {
		if err := check(x, true); err != nil {
			return err
		}
	}
	for _, x := range k.front.points {
		if err := check(x.Ranked, true); err != nil {
			return err
		}
	}
	for _, x := range k.Size.Cells {
		if !x.Any {
			continue
		}
		if err := check(x.Ranked, true); err != nil {
			return err
		}
	}
	err := k.eachListed(func(_, _ int, x Build) error { return check(x.Ranked, true) })
	if err != nil {
		return err
	}
	for i := range tables {
		for n := range tables[i].len() {
			x := tables[i].best(n)
			if !x.Any {
				continue
			}
			if err := check(x.Ranked, tables[i].metric == nil); err != nil {
				return err
			}
		}
	}
	return nil
}

func (t *total) plausibleSize(k *classTotal) error {
	for i, c := range k.Size.Cells {
		if (c.Any || c.Gate > 0) && !k.Size.Seen[i] {
			return fmt.Errorf("cell %d has designs and was not seen", i)
		}
		if !c.Any {
			continue
		}
		if err := t.plausibleMerit(k, c.Ranked); err != nil {
			return err
		}
		if d := t.plan.study.Grid.at(c.Index, axDiameter); d != i/k.Size.Bins {
			return fmt.Errorf("design %d on diameter %d, want it on %d", c.Index, i/k.Size.Bins, d)
		}
	}
	return nil
}

func (t *total) plausibleAudit() error {
	a := t.audit
	if most := t.judged * uint64(len(t.plan.all())); a.Checked > most {
		return fmt.Errorf("%d designs checked of %d judged", a.Checked, t.judged)
	}
	if most := uint64(len(t.plan.foretold)); a.Breaches > 0 && (most == 0 || a.Breaches/most > a.Checked) {
		return fmt.Errorf("%d bounds of %d designs did not hold", a.Breaches, a.Checked)
	}
	if (a.Breaches > 0) != (a.First != nil) {
		return fmt.Errorf("%d bounds did not hold, want the first of them exactly where there are some", a.Breaches)
	}
	b := a.First
	if b == nil {
		return nil
	}
	if err := t.judgedDesign(b.Index); err != nil {
		return err
	}
	if n := len(t.plan.all()); b.Scenario < 0 || b.Scenario >= n {
		return fmt.Errorf("a bound in scenario %d of %d", b.Scenario+1, n)
	}
	if !slices.Contains(t.plan.foretold, b.Metric) {
		return fmt.Errorf("%s, which the study does not read", b.Metric.Name)
	}
	if (Requirement{AtLeast: b.Least, Bound: b.Bound}).Kept(b.Value) {
		return fmt.Errorf("a bound of %g on %s, which %g keeps", b.Bound, b.Metric.Name, b.Value)
	}
	return nil
}

// plausibleFailures refuses texts that are not those of propellers of the grid that
// cannot be solved.
func (t *total) plausibleFailures() error {
	for _, text := range slices.Sorted(maps.Keys(t.failed)) {
		if !slices.ContainsFunc(t.plan.all(), func(p *plan) bool { return p.propellers.fails(text) }) {
			return impossible("a failure that no propeller has: %.80q", text)
		}
	}
	return nil
}

// printable says whether a text is one line of valid UTF-8.
func printable(text string) bool {
	if !utf8.ValidString(text) {
		return false
	}
	for _, r := range text {
		if unicode.IsControl(r) {
			return false
		}
	}
	return true
}
