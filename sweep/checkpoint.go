package sweep

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep/whole"
)

// The checkpoint file is described in DEVELOPERS.md; change that text, state.go and
// checkpointVersion with the format.
const (
	checkpointMagic   = "rotorsieve state\n"
	checkpointVersion = 7
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
	b, err := readCheckpoint(path)
	if err != nil {
		return nil, err
	}
	s, err := parseState(b)
	if err != nil {
		return nil, at(path, err)
	}
	return s, nil
}

// maxCheckpoint is more than the largest study leaves, in bytes.
const maxCheckpoint = 2 << 30

// readCheckpoint reads a whole file that begins as a checkpoint does.
func readCheckpoint(path string) ([]byte, error) {
	about, err := os.Stat(path) // opening a pipe may wait for ever
	if err != nil {
		return nil, err
	}
	if !about.Mode().IsRegular() {
		return nil, at(path, errNoCheckpoint)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, len(checkpointMagic))
	if _, err := io.ReadFull(f, head); err != nil || string(head) != checkpointMagic {
		return nil, at(path, errNoCheckpoint)
	}
	if about.Size() > maxCheckpoint {
		return nil, at(path, unusable("a checkpoint of more than %d bytes", maxCheckpoint))
	}
	b := bytes.NewBuffer(make([]byte, 0, about.Size()+bytes.MinRead))
	b.Write(head)
	_, err = b.ReadFrom(io.LimitReader(f, maxCheckpoint))
	return b.Bytes(), err
}

var errNoCheckpoint = errors.New("not a checkpoint, want one that a sweep has written")

func parseState(b []byte) (*State, error) {
	rest, ok := bytes.CutPrefix(b, []byte(checkpointMagic))
	if !ok {
		return nil, errNoCheckpoint
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
	if k := s.Shard; r.err == nil && (k.Of < 1 || k.Of > MaxShards || k.K < 1 || k.K > k.Of) {
		return nil, impossible("shard %v, which does not exist", k)
	}
	for range r.count(1) {
		f := r.text()
		if !printable(f) {
			return nil, impossible("a flag of %.40q, which is no line of text", f)
		}
		s.Flags = append(s.Flags, f)
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
	r.total.settle()
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

// resume takes up the checkpoint where there is one, once it has been confirmed.
func (r *runner) resume(ctx context.Context) error {
	s, err := ReadState(r.options.Checkpoint)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if s.Fingerprint != r.study.Fingerprint() {
		return &StateError{Path: r.options.Checkpoint, Err: errors.New("the checkpoint of another study"),
			Want:   SameStudy,
			Detail: difference(s.Flags, r.options.Flags)}
	}
	if s.Shard != r.options.Shard {
		return &StateError{Path: r.options.Checkpoint, Want: SameShard, Shard: s.Shard,
			Err: fmt.Errorf("the checkpoint of shard %v where %v is to run", s.Shard, r.options.Shard)}
	}
	t, err := s.total(r.plan)
	if err != nil {
		return at(r.options.Checkpoint, err)
	}
	if _, err := r.confirm(ctx, t, s.Shard, r.workers(), verifyBudget); err != nil {
		return at(r.options.Checkpoint, err)
	}
	r.total, r.resumed = t, true
	return nil
}

// difference names the flags in which two studies differ.
func difference(there, here []string) string {
	out := append(lacking(there, here, "it has "), lacking(here, there, "this run has ")...)
	if len(out) == 0 {
		return "the flags are the same, a file that they name is not"
	}
	return shortened(out)
}

// Difference names the flags of the state that another does not have, "" for none.
func (s *State) Difference(o *State) string { return shortened(lacking(s.Flags, o.Flags, "")) }

// lacking lists flags that are not among others, each shortened to be read at a glance.
func lacking(flags, others []string, prefix string) (out []string) {
	there := make(map[string]bool, len(others))
	for _, f := range others {
		there[f] = true
	}
	for _, f := range flags {
		if there[f] {
			continue
		}
		if r := []rune(f); len(r) > 100 {
			f = string(r[:100]) + "..."
		}
		out = append(out, prefix+f)
	}
	return out
}

// shortened joins words, of many the first.
func shortened(words []string) string {
	const most = 8
	if n := len(words); n > most {
		words = append(words[:most:most], fmt.Sprintf("and %d more", n-most))
	}
	return strings.Join(words, ", ")
}

// total reads what the checkpoint's blocks have found, of the plan's study.
func (s *State) total(p *plan) (*total, error) {
	r := &reader{b: s.body}
	t := r.total(p, s.Shard)
	if r.err == nil && len(r.b) > 0 {
		r.err = unusable("the checkpoint has more in it than its study")
	}
	if r.err != nil {
		return nil, r.err
	}
	for _, x := range t.done.ranges {
		if x.from < t.visits.first || x.to > t.visits.last {
			return nil, unusable("the checkpoint holds blocks outside its shard %v", s.Shard)
		}
	}
	if t.judged != t.done.size()*p.blockSize {
		return nil, unusable("the checkpoint's count of designs does not fit its blocks")
	}
	if err := t.plausible(); err != nil {
		return nil, err
	}
	t.recount()
	return t, nil
}
