package sweep

import (
	"encoding/binary"
	"io"
	"maps"
	"math"
	"slices"

	"rotorsieve/model"
)

// writer appends the parts of a checkpoint to b.
type writer struct{ b []byte }

func (w *writer) raw(p []byte)      { w.b = append(w.b, p...) }
func (w *writer) uint(v uint64)     { w.b = binary.AppendUvarint(w.b, v) }
func (w *writer) int(v int)         { w.b = binary.AppendVarint(w.b, int64(v)) }
func (w *writer) float(v float64)   { w.b = binary.LittleEndian.AppendUint64(w.b, math.Float64bits(v)) }
func (w *writer) text(s string)     { w.uint(uint64(len(s))); w.b = append(w.b, s...) }
func (w *writer) ranked(x Ranked)   { w.uint(x.Index); w.float(x.Score) }
func (w *writer) best(x Best)       { w.cell(Cell{Best: x}) }
func (w *writer) bests(x []Best)    { w.uint(uint64(len(x))); each(x, w.best) }
func (w *writer) cells(x []Cell)    { w.uint(uint64(len(x))); each(x, w.cell) }
func (w *writer) counts(x []uint64) { w.uint(uint64(len(x))); each(x, w.uint) }

func each[T any](x []T, do func(T)) {
	for _, v := range x {
		do(v)
	}
}

func (w *writer) flag(v bool) {
	if v {
		w.b = append(w.b, 1)
	} else {
		w.b = append(w.b, 0)
	}
}

func (w *writer) cell(x Cell) {
	w.flag(x.Any)
	w.b = append(w.b, x.Gate)
	if x.Any {
		w.ranked(x.Ranked)
	}
}

func (w *writer) total(t *total) {
	w.uint(t.judged)
	w.uint(uint64(len(t.done.ranges)))
	for _, r := range t.done.ranges {
		w.uint(r.from)
		w.uint(r.to)
	}
	w.uint(uint64(len(t.failed)))
	for _, f := range slices.Sorted(maps.Keys(t.failed)) {
		w.text(f)
	}
	for i := range t.classes {
		k := &t.classes[i]
		w.counts(k.Turned)
		w.uint(k.Feasible)
		ranked := k.rank.sorted()
		w.uint(uint64(len(ranked)))
		each(ranked, w.ranked)
		points := k.front.sorted()
		w.uint(uint64(len(points)))
		for _, x := range points {
			w.ranked(x.Ranked)
			for _, b := range x.box {
				w.int(int(b))
			}
		}
		w.bests(k.Leaders)
		w.bests(k.ByCells)
		w.bests(k.Payloads)
		w.cells(k.Size.Cells)
		each(k.Size.Seen, w.flag)
		for j := range k.Maps {
			w.cells(k.Maps[j].Cells)
		}
		w.flag(k.Nearest.Any)
		w.uint(k.Nearest.Index)
		w.int(k.Nearest.Gate)
		w.float(k.Nearest.Shortfall)
	}
	w.uint(t.audit.Checked)
	w.uint(t.audit.Breaches)
	b := t.audit.First
	w.flag(b != nil)
	if b != nil {
		w.uint(b.Index)
		w.text(b.Metric.Name)
		w.flag(b.Least)
		w.float(b.Bound)
		w.float(b.Value)
	}
}

// reader takes the parts of a checkpoint from b. After an error it gives zeros.
type reader struct {
	b   []byte
	err error
}

func (r *reader) fail() {
	if r.err == nil {
		r.err = unusable("the checkpoint is not whole: %w", io.ErrUnexpectedEOF)
	}
	r.b = nil
}

func (r *reader) uint() uint64 {
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.fail()
		return 0
	}
	r.b = r.b[n:]
	return v
}

func (r *reader) int() int {
	v, n := binary.Varint(r.b)
	if n <= 0 {
		r.fail()
		return 0
	}
	r.b = r.b[n:]
	return int(v)
}

func (r *reader) take(n int) []byte {
	if len(r.b) < n {
		r.fail()
		return make([]byte, min(n, 64))
	}
	p := r.b[:n]
	r.b = r.b[n:]
	return p
}

func (r *reader) float() float64 { return math.Float64frombits(binary.LittleEndian.Uint64(r.take(8))) }
func (r *reader) flag() bool     { return r.take(1)[0] != 0 }

// count reads a number of things of which each takes a byte at least.
func (r *reader) count() int {
	n := r.uint()
	if n > uint64(len(r.b)) {
		r.fail()
		return 0
	}
	return int(n)
}

func (r *reader) text() string { return string(r.take(r.count())) }

// exactly reads a count that the study fixes.
func (r *reader) exactly(n int) int {
	if got := r.count(); got != n && r.err == nil {
		r.err = unusable("the checkpoint has %d where its study has %d", got, n)
		r.b = nil
		return 0
	}
	if r.err != nil {
		return 0
	}
	return n
}

func (r *reader) ranked() Ranked { return Ranked{Index: r.uint(), Score: r.float()} }

func (r *reader) cell() (x Cell) {
	x.Any = r.flag()
	x.Gate = r.take(1)[0]
	if x.Any {
		x.Ranked = r.ranked()
	}
	return x
}

func (r *reader) bests(into []Best) {
	for i := range r.exactly(len(into)) {
		into[i] = r.cell().Best
	}
}

func (r *reader) cells(into []Cell) {
	for i := range r.exactly(len(into)) {
		into[i] = r.cell()
	}
}

func (r *reader) total(p *plan) *total {
	t := p.newTotal()
	t.judged = r.uint()
	for range r.count() {
		x := blockRange{r.uint(), r.uint()}
		if x.from >= x.to || x.to > p.blocks {
			r.fail()
			return t
		}
		t.done.addRange(x)
	}
	for range r.count() {
		t.failed[r.text()] = true
	}
	for i := range t.classes {
		k := &t.classes[i]
		for g := range r.exactly(len(k.Turned)) {
			k.Turned[g] = r.uint()
		}
		k.Feasible = r.uint()
		for range r.count() {
			k.rank.add(r.ranked())
		}
		for range r.count() {
			x := FrontPoint{Ranked: r.ranked()}
			for n := range x.box {
				x.box[n] = int32(r.int())
			}
			k.front.add(x)
		}
		r.bests(k.Leaders)
		r.bests(k.ByCells)
		r.bests(k.Payloads)
		r.cells(k.Size.Cells)
		for n := range k.Size.Seen {
			k.Size.Seen[n] = r.flag()
		}
		for j := range k.Maps {
			r.cells(k.Maps[j].Cells)
		}
		k.Nearest = Miss{Any: r.flag(), Index: r.uint(), Gate: r.int(), Shortfall: r.float()}
		if r.err != nil {
			return t
		}
	}
	t.audit = Audit{Checked: r.uint(), Breaches: r.uint()}
	if r.flag() {
		b := &Breach{Index: r.uint()}
		var ok bool
		if b.Metric, ok = model.LookupMetric(r.text()); !ok {
			r.fail()
			return t
		}
		b.Least, b.Bound, b.Value = r.flag(), r.float(), r.float()
		t.audit.First = b
	}
	return t
}
