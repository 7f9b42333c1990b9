package sweep

import (
	"encoding/binary"
	"io"
	"math"
)

// writer appends the parts of a checkpoint to b.
type writer struct{ b []byte }

func (w *writer) raw(p []byte)      { w.b = append(w.b, p...) }
func (w *writer) uint(v uint64)     { w.b = binary.AppendUvarint(w.b, v) }
func (w *writer) int(v int)         { w.b = binary.AppendVarint(w.b, int64(v)) }
func (w *writer) float(v float64)   { w.b = binary.LittleEndian.AppendUint64(w.b, math.Float64bits(v)) }
func (w *writer) text(s string)     { w.uint(uint64(len(s))); w.b = append(w.b, s...) }
func (w *writer) ranked(x Ranked)   { w.uint(x.Index); w.float(x.Score) }
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

// asBefore stands in place of a cell that is that of the next lighter class: nested classes have
// most in common.
const asBefore = 2

// bests and cells write those of a class, beside those of the next lighter one, nil for none.
func (w *writer) bests(x, before []Best) {
	w.uint(uint64(len(x)))
	for i := range x {
		if before != nil && x[i] == before[i] {
			w.b = append(w.b, asBefore)
		} else {
			w.cell(Cell{Best: x[i]})
		}
	}
}

func (w *writer) cells(x, before []Cell) {
	w.uint(uint64(len(x)))
	for i := range x {
		if before != nil && x[i] == before[i] {
			w.b = append(w.b, asBefore)
		} else {
			w.cell(x[i])
		}
	}
}

func (w *writer) cell(x Cell) {
	w.flag(x.Any)
	w.b = append(w.b, x.Gate)
	if x.Any {
		w.ranked(x.Ranked)
	}
}

// reader takes the parts of a checkpoint from b. After an error it gives zeros.
type reader struct {
	b   []byte
	err error
}

func (r *reader) fail() { r.refuse(unusable("the checkpoint is not whole: %w", io.ErrUnexpectedEOF)) }

func (r *reader) refuse(err error) {
	if r.err == nil {
		r.err = err
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

func (r *reader) flag() bool {
	v := r.take(1)[0]
	if v > 1 {
		r.refuse(impossible("a flag of %d, want 0 or 1", v))
	}
	return v == 1
}

// count reads a number of things of which each takes some bytes at least.
func (r *reader) count(least int) int {
	n := r.uint()
	if n > uint64(len(r.b)/least) {
		r.fail()
		return 0
	}
	return int(n)
}

func (r *reader) text() string { return string(r.take(r.count(1))) }

// Bytes that things take at least.
const (
	leastRange  = 2
	leastRanked = 1 + 8
	leastPoint  = leastRanked + maxFront
	leastCell   = 1
)

// exactly reads a count that the study fixes.
func (r *reader) exactly(n int) int {
	if got := r.count(1); got != n && r.err == nil {
		r.refuse(unusable("the checkpoint has %d where its study has %d", got, n))
		return 0
	}
	if r.err != nil {
		return 0
	}
	return n
}

func (r *reader) ranked() Ranked { return Ranked{Index: r.uint(), Score: r.float()} }

// cell reads one beside that of the next lighter class, nil for none.
func (r *reader) cell(before *Cell) (x Cell) {
	if before != nil && len(r.b) > 0 && r.b[0] == asBefore {
		r.b = r.b[1:]
		return *before
	}
	x.Any = r.flag()
	x.Gate = r.take(1)[0]
	if x.Any {
		x.Ranked = r.ranked()
	}
	return x
}

func (r *reader) bests(into, before []Best) {
	for i := range r.exactly(len(into)) {
		if before != nil {
			into[i] = r.cell(&Cell{Best: before[i]}).Best
		} else {
			into[i] = r.cell(nil).Best
		}
	}
}

func (r *reader) cells(into, before []Cell) {
	for i := range r.exactly(len(into)) {
		if before != nil {
			into[i] = r.cell(&before[i])
		} else {
			into[i] = r.cell(nil)
		}
	}
}

// positions reads ranges of them, in rising order with gaps between.
func (r *reader) positions(of uint64) (s blockSet) {
	for range r.count(leastRange) {
		x := blockRange{r.uint(), r.uint()}
		if n := len(s.ranges); x.from >= x.to || x.to > of || n > 0 && x.from <= s.ranges[n-1].to {
			r.refuse(impossible("blocks %d to %d, want ranges of %d blocks in rising order", x.from, x.to, of))
			return s
		}
		s.ranges = append(s.ranges, x)
	}
	return s
}
