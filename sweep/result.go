package sweep

import (
	"cmp"
	"slices"
	"time"
)

// Ranked is a feasible design with its score. It is better than another if the
// score is higher, or equal and the index lower.
type Ranked struct {
	Index uint64
	Score float64
}

func (r Ranked) compare(o Ranked) int {
	if c := cmp.Compare(o.Score, r.Score); c != 0 {
		return c
	}
	return cmp.Compare(r.Index, o.Index)
}

// Best is the best design seen, if any.
type Best struct {
	Ranked
	Any bool
}

func (b *Best) add(r Ranked) {
	if !b.Any || r.compare(b.Ranked) < 0 {
		b.Ranked, b.Any = r, true
	}
}

func (b *Best) merge(o Best) {
	if o.Any && !(b.Any && o.Score < b.Score) { // most are worse; a NaN goes through add
		b.add(o.Ranked)
	}
}

// Cell is one cell of a map: its best feasible design or, where there is none,
// the furthest gate at which one of its designs was rejected.
type Cell struct {
	Best
	Gate uint8
}

func (c *Cell) merge(o Cell) {
	c.Best.merge(o.Best)
	c.Gate = max(c.Gate, o.Gate)
}

// reach says whether a gate is further than that of the cell, which it becomes.
func (c *Cell) reach(gate uint8) bool {
	further := gate > c.Gate
	if further {
		c.Gate = gate
	}
	return further
}

// Map holds the cells over two axes of the grid: the cell at x, y is
// Cells[y*NX+x]. The score of its best design is the merit, or the metric of
// the spec signed so that higher is better.
type Map struct {
	Spec   MapSpec
	NX, NY int
	Cells  []Cell
	Judged []bool // by cell: all of its designs were; nil where all of all were
}

// SizeMap holds the cells over all-up weight and diameter: weight bin b covers
// Width*b to Width*(b+1) in kg, and its cell on diameter d is Cells[d*Bins+b].
// Its scores are merits. Designs outside the class are in no cell.
type SizeMap struct {
	Bins      int
	Width     float64
	Diameters int
	Cells     []Cell
	Seen      []bool // some design of the cell was within the class
}

// Within gives the best of the cells whose bins end at a mass in kg or below it, from the lightest on, and of
// those in whose bin it lies.
func (s *SizeMap) Within(mass float64) (whole, across []Ranked) {
	const rounded = 1e-9 // share by which the end of a bin may miss a mass that it is meant to be
	for b := range s.Bins {
		ends := s.Width*float64(b+1) <= mass*(1+rounded)
		for d := range s.Diameters {
			switch c := &s.Cells[d*s.Bins+b]; {
			case !c.Any:
			case ends:
				whole = append(whole, c.Ranked)
			default:
				across = append(across, c.Ranked)
			}
		}
		if !ends {
			break
		}
	}
	return whole, across
}

// Miss is the infeasible design that came nearest: past the most gates, then by
// the least shortfall at the gate that it fails, then by index.
type Miss struct {
	Index     uint64
	Gate      int
	Shortfall float64
	Any       bool
}

// add says whether it is nearer.
func (m *Miss) add(o Miss) bool {
	nearer := !m.Any || o.compare(*m) < 0
	if nearer {
		*m = o
	}
	return nearer
}

func (m Miss) compare(o Miss) int {
	if c := cmp.Compare(o.Gate, m.Gate); c != 0 {
		return c
	}
	if c := cmp.Compare(m.Shortfall, o.Shortfall); c != 0 {
		return c
	}
	return cmp.Compare(m.Index, o.Index)
}

// ClassResult is what a study found in one weight class.
type ClassResult struct {
	Class    Class
	Rejected []uint64 // designs rejected, by gate
	Fallen   []uint64 // of these, in further scenarios: [(scenario-1)*gates + gate]; see FallenIn
	Feasible uint64
	Ranking  []Ranked // best first
	Leaders  []Best   // by diameter
	ByCells  []Best   // by diameter and cells: [diameter*cells + cells]
	Payloads []Best   // by payload
	Maps     []Map
	Size     SizeMap
	Front    []FrontPoint // of the study's front metrics, sorted by the first
	Nearest  Miss

	// See Builds: by diameter, blades and payload, [(diameter*blades + blade)*payloads +
	// payload]; and by value of each other swept axis but the capacity, in the grid's order.
	Candidates []Lists
	OfValues   []Lists
}

// FallenIn is how many designs were rejected at a gate in a scenario, by its place: they pass all gates
// in those before it.
func (c *ClassResult) FallenIn(scenario, gate int) uint64 {
	n := len(c.Rejected)
	if scenario > 0 {
		return c.Fallen[(scenario-1)*n+gate]
	}
	left := c.Rejected[gate]
	for at := gate; at < len(c.Fallen); at += n {
		left -= c.Fallen[at]
	}
	return left
}

// Best is the first of the ranking, if any.
func (c *ClassResult) Best() (Ranked, bool) {
	if len(c.Ranking) == 0 {
		return Ranked{}, false
	}
	return c.Ranking[0], true
}

// Result is what a study found.
type Result struct {
	Classes  []ClassResult
	Gates    []Gate
	Shard    Shard
	Share    uint64   // designs of the shard: the grid's size for a whole study
	Done     uint64   // designs judged; less than Share in an unfinished run
	Judged   []uint64 // the same by diameter
	Failed   []string
	Elapsed  time.Duration
	Workers  int
	Audit    Audit // with Elapsed and Workers, all that two runs of one study differ in
	Complete bool

	block   uint64                                  // designs of one
	between int                                     // swept axes that blocks differ in
	keep    func(path string, flags []string) error // of a merge, see Keep
}

// ranking keeps the best k designs in a heap with the worst on top.
type ranking struct {
	k    int
	heap []Ranked
}

// add says whether it is one of them.
func (r *ranking) add(x Ranked) bool {
	if len(r.heap) < r.k {
		r.heap = append(r.heap, x)
		for i := len(r.heap) - 1; i > 0; {
			up := (i - 1) / 2
			if r.heap[i].compare(r.heap[up]) <= 0 {
				break
			}
			r.heap[i], r.heap[up] = r.heap[up], r.heap[i]
			i = up
		}
		return true
	}
	if x.compare(r.heap[0]) >= 0 {
		return false
	}
	r.heap[0] = x
	for i := 0; ; {
		worst := i
		for _, down := range [2]int{2*i + 1, 2*i + 2} {
			if down < len(r.heap) && r.heap[down].compare(r.heap[worst]) > 0 {
				worst = down
			}
		}
		if worst == i {
			return true
		}
		r.heap[i], r.heap[worst] = r.heap[worst], r.heap[i]
		i = worst
	}
}

func (r *ranking) sorted() []Ranked {
	out := slices.Clone(r.heap)
	slices.SortFunc(out, Ranked.compare)
	return out
}
