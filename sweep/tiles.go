package sweep

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/motor"
)

// tiles judge designs of several KVs at once, where KVs are fine: those of some capacities, of all payloads and of all
// KVs between two, where at both KVs all ended alike, at one gate each, and model.Span says that all between do. KVs
// are halved: the first and the last are judged, then the one in the middle, and so on, each but for what lies in
// tiles of the KVs around it. Feasible designs are in no tile: those of each KV are held against what is best there.
type tiles struct {
	on    bool     // not for a dump, which is in the order of the grid
	at    []level  // by depth of the halving
	place int      // of the present KV
	low   int      // of the nearest below it, below 0 for none
	high  int      // and of the nearest above it
	found [][]tile // by cells: those that the present KV is in
	count []int    // of these
	order []*tile  // the same, by capacity
	kinds []kind   // of the block
	luck  luck
}

// kind is how designs of a line ended, by payload, and what controller they have.
type kind struct {
	endings []ending
	rating  float64 // A
}

// level is a KV that has been judged.
type level struct {
	kv     int
	motor  motor.Motor
	tracks []track // by cells
	before []int   // tiles that what lies around it is in, by cells
}

// track tells how designs of a number of cells and a KV ended: their kinds by capacity, from the first on, of those
// that some class can lift.
type track struct {
	from  int
	kinds []int
}

// tile is what a run of several KVs is judged by: its corners, and the verdicts.
type tile struct {
	from, end              int // capacities
	kind                   int
	lo, hi, fastLo, fastHi model.Powertrain
	fit                    int
	slots                  []uint64
	verdicts               []int
}

const (
	leastKVs        = 12 // that are mostly to lie within the widest span of motors for tiles to be tried
	leastCapacities = 16 // of a study, for the same
	leastTile       = 4  // capacities
	leastWide       = 3  // KVs
)

// planTiles decides whether designs of several KVs may be judged at once.
func (p *plan) planTiles() {
	s := p.study
	kvs := s.Grid.axes[axKV].Values
	if p.motors != nil || p.exist != nil || len(s.Others) > 0 || p.depth > axKV || !s.Model.SpansMotors() ||
		len(s.Grid.axes[axCapacity].Values) < leastCapacities || !slices.IsSorted(kvs) {
		return
	}
	within, beyond := 0, 0
	for i := leastKVs - 1; i < len(kvs); i++ {
		if kvs[i]/kvs[i-leastKVs+1]-1 <= model.LongestMotors {
			within++
		} else {
			beyond++
		}
	}
	p.fineKVs = within > beyond
}

func (p *plan) newTiles(on bool) tiles {
	n := len(p.study.Grid.axes[axCells].Values)
	return tiles{on: on && p.fineKVs, found: make([][]tile, n), count: make([]int, n), luck: luck{1, 1, 0}}
}

// halve judges the designs of a block by halving its KVs. It is false where the propeller cannot be solved.
func (w *worker) halve(at, first, end *coord) bool {
	x := &w.tiles
	x.kinds = x.kinds[:0]
	clear(x.count)
	low, high := first[axKV], end[axKV]-1
	return w.level(at, first, end, low, 0, -1, -1) &&
		(low == high || w.level(at, first, end, high, 1, -1, -1) && w.halves(at, first, end, 0, 1, 2))
}

// halves judges what lies between the KVs of two levels; those from next on are free.
func (w *worker) halves(at, first, end *coord, a, b, next int) bool {
	x := &w.tiles
	low, high := x.at[a].kv, x.at[b].kv
	if high-low <= 1 {
		return true
	}
	ok := w.level(at, first, end, low+(high-low)/2, next, a, b) &&
		w.halves(at, first, end, a, next, next+1) && w.halves(at, first, end, next, b, next+1)
	copy(x.count, x.at[next].before)
	return ok
}

// level judges the designs of a KV, between those of two levels, below 0 for none.
func (w *worker) level(at, first, end *coord, kv, place, a, b int) bool {
	x := &w.tiles
	for place >= len(x.at) {
		x.at = append(x.at, level{tracks: make([]track, len(x.count))})
	}
	l := &x.at[place]
	l.kv, l.before = kv, append(l.before[:0], x.count...)
	for i := range l.tracks {
		l.tracks[i].kinds = l.tracks[i].kinds[:0]
	}
	x.place, x.low, x.high = place, a, b
	ok := w.ofMotor(at, first, end, kv)
	l.motor = w.piece.motor
	return ok
}

// overStrip is strip where KVs are fine.
func (w *worker) overStrip(at *coord, end int) {
	x, cells, next := &w.tiles, at[axCells], at[axCapacity]
	t := x.track(at)
	t.from = next
	t.kinds = slices.Grow(t.kinds[:0], end-next)[:end-next]
	if x.low >= 0 && w.grow[cells] {
		w.tryTiles(at, &x.at[x.low], &x.at[x.high], next, end)
	}
	x.order = x.order[:0]
	for i := range x.found[cells][:x.count[cells]] {
		x.order = append(x.order, &x.found[cells][i])
	}
	slices.SortFunc(x.order, func(a, b *tile) int { return a.from - b.from })
	for _, b := range x.order {
		if next < b.from {
			w.strand(at, next, b.from)
		}
		w.takeTile(at, b)
		t.note(b.from, b.end, b.kind)
		next = b.end
	}
	if next < end {
		w.strand(at, next, end)
	}
}

// note notes how the designs of the capacities from one to before another ended.
func (t *track) note(from, end, kind int) {
	for c := from; c < end; c++ {
		t.kinds[c-t.from] = kind
	}
}

// noteLine notes how a line ended, which has been judged.
func (w *worker) noteLine(at *coord) {
	if w.tiles.on {
		c := at[axCapacity]
		w.tiles.track(at).note(c, c+1, w.kind())
	}
}

// noteRun notes that what lies between two capacities ended as both did.
func (w *worker) noteRun(at *coord, low, high int) {
	if w.tiles.on {
		t := w.tiles.track(at)
		t.note(low+1, high, t.kinds[low-t.from])
	}
}

// track is that of the present KV and number of cells.
func (x *tiles) track(at *coord) *track { return &x.at[x.place].tracks[at[axCells]] }

// kind is the number of how the last line ended.
func (w *worker) kind() int {
	x, rating := &w.tiles, w.train.Full.Controller.Rating
	for i := range x.kinds {
		if k := &x.kinds[i]; k.rating == rating && w.runs.endAlike(k.endings, w.endings) {
			return i
		}
	}
	n := len(x.kinds)
	if n == cap(x.kinds) {
		x.kinds = append(x.kinds, kind{})
	}
	x.kinds = x.kinds[:n+1]
	k := &x.kinds[n]
	k.endings, k.rating = append(k.endings[:0], w.endings...), rating
	return n
}

// rejects says whether no design of a kind is feasible.
func (x *tiles) rejects(kind int) bool {
	return !slices.ContainsFunc(x.kinds[kind].endings, func(e ending) bool { return e.feasible != 0 })
}

// tryTiles looks for tiles between the KVs of two levels.
func (w *worker) tryTiles(at *coord, a, b *level, from, end int) {
	x, cells := &w.tiles, at[axCells]
	s, t := &a.tracks[cells], &b.tracks[cells]
	wide := b.kv - a.kv - 1
	if kvs := w.study.Grid.axes[axKV].Values; wide < leastWide || kvs[b.kv]/kvs[a.kv]-1 > model.LongestMotors {
		return
	}
	if s.from != from || t.from != from || len(s.kinds) != end-from || len(t.kinds) != end-from {
		return
	}
	for first := from; first < end; {
		kind, last := s.kinds[first-from], first+1
		if o := x.over(cells, first); o != nil {
			first = o.end
			continue
		}
		if t.kinds[first-from] != kind {
			first = last
			continue
		}
		for last < end && s.kinds[last-from] == kind && t.kinds[last-from] == kind && x.over(cells, last) == nil {
			last++
		}
		if last-first >= leastTile && x.rejects(kind) && x.luck.due(wide) {
			w.tryTile(at, a, b, first, last, kind)
		}
		first = last
	}
}

// over is the tile that a capacity lies in; nil for none.
func (x *tiles) over(cells, capacity int) *tile {
	for i := range x.count[cells] {
		if o := &x.found[cells][i]; capacity >= o.from && capacity < o.end {
			return o
		}
	}
	return nil
}

// tryTile keeps a tile of capacities between the KVs of two levels where all of its designs end alike.
func (w *worker) tryTile(at *coord, a, b *level, from, end, kind int) {
	x, r, cells := &w.tiles, &w.runs, at[axCells]
	n := x.count[cells]
	if n == len(x.found[cells]) {
		x.found[cells] = append(x.found[cells], tile{slots: make([]uint64, len(r.slots)),
			verdicts: make([]int, len(r.verdicts))})
	}
	k := &x.found[cells][n]
	k.from, k.end, k.kind = from, end, kind
	packs := w.packs[cells*len(w.study.Grid.axes[axCapacity].Values):]
	power := func(to *model.Powertrain, of *level, capacity int) {
		w.power(to, w.piece.prop, &of.motor, &packs[capacity], &w.piece.design.Parts)
	}
	power(&k.lo, a, from)
	power(&k.hi, a, end-1)
	power(&k.fastLo, b, from)
	power(&k.fastHi, b, end-1)
	w.enter(at, k)
	r.at[axKV] = a.kv + 1 // the least index that a nearest miss there could have
	ok := w.agree()
	x.luck.tried(ok)
	if r.tile = nil; !ok {
		return
	}
	k.fit = r.fit
	copy(k.slots, r.slots)
	copy(k.verdicts, r.verdicts)
	x.count[cells]++
}

// enter makes the run that of a tile at the present KV.
func (w *worker) enter(at *coord, b *tile) {
	r := &w.runs
	w.chords.apart() // they are of one KV
	r.tile, r.from, r.to, r.lo, r.hi = b, nil, nil, &b.lo, &b.hi
	r.count = b.end - b.from
	r.at = *at
	r.at[axCapacity], r.at[axPayload] = b.from, 0
}

// takeTile counts the designs of a tile at the present KV.
func (w *worker) takeTile(at *coord, b *tile) {
	r := &w.runs
	w.enter(at, b)
	r.fit = b.fit
	copy(r.slots, b.slots)
	copy(r.verdicts, b.verdicts)
	w.take(r.count)
	r.tiled += uint64(r.count * len(r.slots))
	r.tile = nil
}

// joins says whether crafts between the corners can be bounded.
func (b *tile) joins(s *model.Span) bool { return s.JoinsMotors(&b.lo, &b.hi, &b.fastLo, &b.fastHi) }
