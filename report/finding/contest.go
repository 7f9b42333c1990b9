package finding

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"rotorsieve/model"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Chosen is what a finished run has chosen in a class, over draws.
type Chosen struct {
	DrawsRecord
	*DecisionRecord
	model string // its version
}

// Contest holds the recommended builds of two runs within a limit against each other.
type Contest struct {
	A, B   Outcome // A has the higher cautious merit, or is the first of equal ones
	Equal  bool    // both have the same
	Alike  bool    // both recommend one build, which does the same in each draw that they share
	Paired bool    // draw by draw; otherwise the draws of both are taken as independent
	Draws  int     // of each that were held against each other; 0 where one has not told them
	Better float64 // share in which A has the higher merit, half of those where it is equal
	// Of the cautious merit of A over that of B in these draws, and its standard error.
	Difference, Standard float64
}

// contests hold the run of the highest cautious merit against each other that has chosen.
// It is not fair where the throttle is held back for one requirement in one run and for
// another in another, since their merits are not of the same flights.
func contests(all []Outcome) (out []Contest, fair bool) {
	var with []Outcome
	for _, o := range all {
		if o.Chosen != nil {
			with = append(with, o)
		}
	}
	if len(with) < 2 {
		return nil, true
	}
	for _, o := range with[1:] {
		if !slices.Equal(sorted(o.Chosen.ByThrottle), sorted(with[0].Chosen.ByThrottle)) {
			return nil, false
		}
	}
	slices.SortStableFunc(with, func(a, b Outcome) int {
		return cmp.Compare(b.Chosen.Recommended.Cautious, a.Chosen.Recommended.Cautious)
	})
	for _, o := range with[1:] {
		out = append(out, contest(with[0], o))
	}
	return out, true
}

func sorted(names []string) []string {
	names = slices.Clone(names)
	slices.Sort(names)
	return names
}

func contest(a, b Outcome) Contest {
	x, y := a.Chosen, b.Chosen
	c := Contest{A: a, B: b, Equal: x.Recommended.Cautious == y.Recommended.Cautious, Better: math.NaN()}
	c.Draws = min(len(x.Drawn), len(y.Drawn))
	c.Paired = x.model == y.model && x.Seed == y.Seed && x.DrawsRecord.Draws == y.DrawsRecord.Draws &&
		x.Fresh == y.Fresh && len(x.Drawn) == len(y.Drawn)
	switch {
	case c.Draws == 0:
		c.Paired = false
	case c.Paired:
		c.Better = pairedBetter(x.Drawn, y.Drawn)
	default:
		c.Better = freeBetter(x.Drawn, y.Drawn)
	}
	c.Alike = c.Paired && x.Recommended.Build == y.Recommended.Build && slices.Equal(x.Drawn, y.Drawn)
	if c.Draws > 0 {
		c.Difference, c.Standard = decide.Differ(x.Drawn, y.Drawn, c.Paired)
	}
	return c
}

// pairedBetter is the share of draws in which a is above b, half of the ties.
func pairedBetter(a, b []float64) float64 {
	sum := 0.0
	for n := range a {
		switch {
		case a[n] > b[n]:
			sum++
		case a[n] == b[n]:
			sum += 0.5
		}
	}
	return sum / float64(len(a))
}

// freeBetter is the share of all pairs of a draw of each in which a is above b, half of the
// ties.
func freeBetter(a, b []float64) float64 {
	b = slices.Clone(b)
	slices.Sort(b)
	sum := 0.0
	for _, v := range a {
		below := sort.SearchFloat64s(b, v)
		upTo := sort.Search(len(b), func(n int) bool { return b[n] > v })
		sum += float64(below) + 0.5*float64(upTo-below)
	}
	return sum / float64(len(a)) / float64(len(b))
}

// mostDraws is more than any run draws.
const mostDraws = 1 << 24

// readChosen reads what was chosen in a class, and refuses what no run can have chosen; nil
// where nothing was.
func (f *Finished) readChosen(s *DrawsRecord, found *FoundRecord) (*Chosen, error) {
	d := found.Decision
	if d == nil {
		return nil, nil
	}
	if s == nil {
		return nil, unlike("a decision without draws")
	}
	if s.Draws < 1 || s.Draws > mostDraws || s.Fresh < 1 || s.Fresh > mostDraws {
		return nil, unlike("%d draws and %d fresh ones", s.Draws, s.Fresh)
	}
	for _, name := range s.ByThrottle {
		if !slices.ContainsFunc(f.Gates, func(g sweep.Gate) bool { return g.Requirement != nil && g.Name == name }) {
			return nil, unlike("%.60q kept by the throttle", name)
		}
	}
	if d.Recommended == nil || d.Recommended.Rank != 1 {
		return nil, unlike("a decision that recommends nothing")
	}
	if found.Best == nil {
		return nil, unlike("a decision where no design is feasible")
	}
	for _, b := range []*BuildRecord{d.Recommended, d.Nominal, d.Surest} {
		if b == nil {
			continue
		}
		if err := f.checkBuild(b); err != nil {
			return nil, err
		}
	}
	if v := d.PlannedAUW; v != nil && !(*v > 0 && *v <= maxNumber) {
		return nil, unlike("a recommended build of %g kg", *v)
	}
	if len(d.Drawn) > min(s.Fresh, decide.DefaultDraws) {
		return nil, unlike("%d merits of %d draws", len(d.Drawn), s.Fresh)
	}
	for _, v := range d.Drawn {
		if !isShare(v) {
			return nil, unlike("a draw with a merit of %g", v)
		}
	}
	return &Chosen{DrawsRecord: *s, DecisionRecord: d, model: f.Model}, nil
}

func isShare(v float64) bool { return v >= 0 && v <= 1 }

// checkBuild holds a build against the grid, and its numbers against what they can be.
func (f *Finished) checkBuild(b *BuildRecord) error {
	if !line(b.Build) || b.Index >= f.Designs || b.Rank < 1 {
		return unlike("build %.60q of design %d, ranked %d", b.Build, b.Index, b.Rank)
	}
	for _, v := range []float64{b.Feasible, b.CauseShare, b.Cautious, b.Planned, b.Regret} {
		if !isShare(v) {
			return unlike("build %.60q with a share or a merit of %g", b.Build, v)
		}
	}
	if b.Feasible+b.CauseShare > 1+rounding {
		return unlike("build %.60q, which fails more often than it can", b.Build)
	}
	if b.Cause != "" && !slices.ContainsFunc(f.Gates, func(g sweep.Gate) bool { return g.Name == b.Cause }) {
		return unlike("build %.60q, which fails at %.60q", b.Build, b.Cause)
	}
	if err := checkNumbers(b.Index, b.Inputs, inputUnit); err != nil {
		return err
	}
	of := f.grid.Design(b.Index)
	for _, n := range Inputs {
		v, ok := b.Inputs.Of(n.Name)
		if usual := n.Usual != nil && f.usual(n, b.Index); !ok || !usual && v != n.Of(of) {
			return unlike("build %.60q with a %s of %g", b.Build, n.Name, v)
		}
	}
	if !b.Merit.rising(0, 1) || !b.Pack.rising(0, maxNumber) || b.Pack.Unit != sweep.Capacity.Kind.SI().Symbol {
		return unlike("build %.60q with quantiles that do not rise", b.Build)
	}
	for _, q := range b.Metrics {
		m, known := model.LookupMetric(q.Name)
		if !line(q.Name) || known && q.Unit != ExportUnit(m).Symbol || !line(q.Unit) {
			return unlike("build %.60q with %.60q in %.20q", b.Build, q.Name, q.Unit)
		}
	}
	return nil
}

// rising says whether quantiles are numbers from least to most, and rise.
func (q QuantilesRecord) rising(least, most float64) bool {
	return q.P10 != nil && q.P50 != nil && q.P90 != nil && *q.P10 >= least && *q.P10 <= *q.P50 &&
		*q.P50 <= *q.P90 && *q.P90 <= most
}
