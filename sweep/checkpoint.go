package sweep

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math"
	"os"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep/whole"
)

// The checkpoint file is described in DEVELOPERS.md; change that text and
// checkpointVersion with the format.
const (
	checkpointMagic   = "rotorsieve state\n"
	checkpointVersion = 2
)

// State is what a checkpoint says of itself, without the study that it belongs
// to.
type State struct {
	Fingerprint string
	Shard       Shard
	Flags       []string // of the study
	body        []byte
}

// ReadState reads a checkpoint file. The error names the file and says whether
// it is missing, no checkpoint, of another version of the format or of the model, or
// damaged.
func ReadState(path string) (*State, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	s, err := parseState(b)
	if err != nil {
		return nil, at(path, err)
	}
	return s, nil
}

func parseState(b []byte) (*State, error) {
	rest, ok := bytes.CutPrefix(b, []byte(checkpointMagic))
	if !ok {
		return nil, errors.New("not a checkpoint, want one that a sweep has written")
	}
	if len(rest) < sha256.Size {
		return nil, unusable("the checkpoint is cut short")
	}
	body, sum := rest[:len(rest)-sha256.Size], rest[len(rest)-sha256.Size:]
	if sha256.Sum256(b[:len(b)-sha256.Size]) != [sha256.Size]byte(sum) {
		return nil, unusable("the checkpoint is damaged: its checksum does not fit")
	}
	r := &reader{b: body}
	if v := r.uint(); v != checkpointVersion {
		return nil, unusable("a checkpoint of version %d where this program writes version %d", v, checkpointVersion)
	}
	if v := r.text(); r.err == nil && v != model.Version {
		return nil, unusable("a checkpoint of model %s", model.Other(v))
	}
	s := &State{Fingerprint: r.text(), Shard: Shard{r.int(), r.int()}}
	for range r.count() {
		s.Flags = append(s.Flags, r.text())
	}
	if r.err != nil {
		return nil, r.err
	}
	s.body = r.b
	return s, nil
}

// checkpoint writes the state of the run beside its place and renames it.
func (r *runner) checkpoint() error {
	w := &writer{}
	w.raw([]byte(checkpointMagic))
	w.uint(checkpointVersion)
	w.text(model.Version)
	w.text(r.study.Fingerprint())
	w.int(r.options.Shard.K)
	w.int(r.options.Shard.Of)
	w.uint(uint64(len(r.options.Flags)))
	for _, f := range r.options.Flags {
		w.text(f)
	}
	r.mu.Lock()
	w.total(r.total)
	r.mu.Unlock()
	sum := sha256.Sum256(w.b)
	w.raw(sum[:])
	err := whole.Write(r.options.Checkpoint, func(to io.Writer) error {
		_, err := to.Write(w.b)
		return err
	})
	if err != nil {
		return fmt.Errorf("checkpoint %s cannot be written: %w", r.options.Checkpoint, err)
	}
	return nil
}

// resume takes up the checkpoint where there is one.
func (r *runner) resume() error {
	s, err := ReadState(r.options.Checkpoint)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if s.Fingerprint != r.study.Fingerprint() {
		return &StateError{Path: r.options.Checkpoint, Err: errors.New("the checkpoint of another study"), Want: SameStudy,
			Detail: difference(s.Flags, r.options.Flags)}
	}
	if s.Shard != r.options.Shard {
		return &StateError{Path: r.options.Checkpoint, Err: fmt.Errorf("the checkpoint of shard %v where %v is to run", s.Shard, r.options.Shard),
			Want: SameShard, Shard: s.Shard}
	}
	t, err := s.total(r.plan)
	if err != nil {
		return at(r.options.Checkpoint, err)
	}
	r.total = t
	return nil
}

// difference names the flags in which two studies differ.
func difference(there, here []string) string {
	var out []string
	for _, f := range there {
		if !slices.Contains(here, f) {
			out = append(out, "it has "+f)
		}
	}
	for _, f := range here {
		if !slices.Contains(there, f) {
			out = append(out, "this run has "+f)
		}
	}
	if len(out) == 0 {
		return "the flags are the same, a file that they name is not"
	}
	return strings.Join(out, ", ")
}

// total reads what the checkpoint's blocks have found, of the plan's study.
func (s *State) total(p *plan) (*total, error) {
	r := &reader{b: s.body}
	t := r.total(p)
	if r.err == nil && len(r.b) > 0 {
		r.err = unusable("the checkpoint has more in it than its study")
	}
	if r.err != nil {
		return nil, r.err
	}
	first, last := s.Shard.blocks(p.blocks)
	for _, x := range t.done.ranges {
		if x.from < first || x.to > last {
			return nil, unusable("the checkpoint holds blocks outside its shard %v", s.Shard)
		}
	}
	if t.judged != t.done.size()*p.blockSize {
		return nil, unusable("the checkpoint's count of designs does not fit its blocks")
	}
	return t, nil
}

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
