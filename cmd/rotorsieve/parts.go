package main

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model/part"
	stock "rotorsieve/model/part/list"
	"rotorsieve/model/table"
	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
	"rotorsieve/sweep/whole"
)

// partKind is one kind of parts that exist, of which a flag names a list.
type partKind struct {
	stock.About
	replaces []*sweep.AxisDef // which each part has a value of
	read     func(p *partFlags, k *partKind, path string) (sweep.Axis, error)
}

// partKinds are those of stock.Kinds, in their order.
var partKinds = func() []partKind {
	of := stock.Kinds()
	return []partKind{
		{of[0], []*sweep.AxisDef{sweep.Stator, sweep.KV}, kindOfParts(stock.Motors,
			func(m *part.Motor) string { return m.Name }, sweep.MotorAxis, nil)},
		{of[1], []*sweep.AxisDef{sweep.Diameter, sweep.Pitch, sweep.PitchRatio, sweep.Blades, sweep.Chord},
			kindOfParts(stock.Propellers, func(p *part.Propeller) string { return p.Name }, sweep.PropellerAxis,
				shapePropeller)},
		{of[2], []*sweep.AxisDef{sweep.Cells, sweep.Capacity}, kindOfParts(stock.Packs,
			func(p *part.Pack) string { return p.Name }, sweep.PackAxis, nil)},
		{of[3], nil, kindOfParts(stock.Frames, func(f *part.Frame) string { return f.Name }, sweep.FrameAxis, nil)},
		{of[4], nil, kindOfParts(stock.Boards, func(b *part.Board) string { return b.Name }, sweep.BoardAxis, nil)},
	}
}()

// kindOfParts reads a list of one kind, leaves of it the parts that are picked, and makes
// them an axis. shape, if any, reads the files that a part names.
func kindOfParts[T any](read func(io.Reader, string) ([]T, error), name func(*T) string, axis func([]T) sweep.Axis,
	shape func(by *partFlags, p *T, path string) error) func(p *partFlags, k *partKind, path string) (sweep.Axis,
	error) {
	return func(p *partFlags, k *partKind, path string) (sweep.Axis, error) {
		b, err := readParts(k, path)
		if err != nil {
			return sweep.Axis{}, err
		}
		all, err := read(bytes.NewReader(b), path)
		if err != nil {
			return sweep.Axis{}, err
		}
		if err := p.hold(k, path, b, len(all)); err != nil {
			return sweep.Axis{}, err
		}
		var names []string
		for i := range all {
			names = append(names, name(&all[i]))
		}
		if picked := p.pick(names); len(picked) > 0 {
			all = slices.DeleteFunc(all, func(t T) bool { return !picked[name(&t)] })
		}
		for i := range all {
			if shape != nil {
				if err := shape(p, &all[i], path); err != nil {
					return sweep.Axis{}, err
				}
			}
		}
		return axis(all), nil
	}
}

// noFile gives up a list that a flag file has named.
const noFile = none

func readParts(k *partKind, path string) ([]byte, error) {
	b, err := whole.Read(path, table.MaxBytes)
	if err != nil {
		return nil, fmt.Errorf("--%s %s: %w, want a CSV of %s", k.Many, path, err, k.Many)
	}
	return b, nil
}

// partFlags are the lists of parts that exist.
type partFlags struct {
	listed map[string]*string // by flag; "" or noFile for none
	picks  []string           // names of --part
	hashes []partHash         // of --parts-hash

	by    *flagGroups
	given *givenParts // of a finished run; nil for none
	files *fileHashes // nil where those that parts name are not held against any

	stations int // of the blades that were read

	lists []finding.PartList // that were read
	names []string           // in them
	found map[string]bool    // of the picks
}

// partHash is what a list must be.
type partHash struct{ of, sum string }

// declare puts the flags into a group.
func (p *partFlags) declare(f *pflag.FlagSet, by *flagGroups) {
	p.by = by
	p.listed = map[string]*string{}
	for i := range partKinds {
		k := &partKinds[i]
		p.listed[k.Many] = new(string)
		usage := "CSV of " + k.Many + " that exist"
		if len(k.replaces) > 0 {
			usage += ", in place of " + flagNames(k.replaces, " and ")
		}
		of := newFile(p.listed[k.Many])
		of.bare = true
		f.Var(of, k.Many, usage+"; columns: rotorsieve help parts")
	}
	f.Var(newPicks(&p.picks), "part", "of the parts that exist, of its kind this alone; may be repeated")
	f.Var(newHashes(&p.hashes), "parts-hash",
		"KIND=SHA-256 that a list must have, such as motors=...; a run writes it to its effective flags")
}

// newPicks is the value of a flag that takes names of parts, one each time it is given.
func newPicks(to *[]string) *list[string] {
	l := &list[string]{to: to, item: "name", parse: func(text string) (string, error) { return text, nil },
		clash: func(a, b string) error {
			if strings.EqualFold(a, b) {
				return errors.New("the same part twice, want each once")
			}
			return nil
		}}
	return l.start()
}

var sha256Text = regexp.MustCompile(`^[0-9a-f]{64}$`)

// newHashes is the value of a flag that takes hashes of lists, one each time it is given.
func newHashes(to *[]partHash) *list[partHash] {
	l := &list[partHash]{to: to, item: "hash", parse: func(text string) (partHash, error) {
		of, sum, _ := strings.Cut(text, "=")
		var kinds []string
		for i := range partKinds {
			kinds = append(kinds, partKinds[i].Many)
		}
		if !slices.Contains(kinds, of) || !sha256Text.MatchString(sum) {
			return partHash{}, fmt.Errorf("%.80q, want KIND=SHA-256 in 64 hexadecimal digits, KIND one of %s", text,
				strings.Join(kinds, ", "))
		}
		return partHash{of, sum}, nil
	}, clash: func(a, b partHash) error {
		if a.of == b.of {
			return errors.New("two hashes of one list, want each once")
		}
		return nil
	}}
	return l.start()
}

// path is the list of a kind, "" for none.
func (p *partFlags) path(k *partKind) string {
	if path := *p.listed[k.Many]; path != noFile {
		return path
	}
	return ""
}

// readAxes reads all lists and makes them axes.
func (p *partFlags) readAxes() (axes []sweep.Axis, err error) {
	p.lists, p.names, p.found, p.stations = nil, nil, map[string]bool{}, 0
	for i := range partKinds {
		k := &partKinds[i]
		path := p.path(k)
		if named := p.by.set[k.Many]; *p.listed[k.Many] == "" && named.from != nil {
			return nil, named.errorf("--%s: no path, want a CSV of %s, or %s", k.Many, k.Many, noFile)
		}
		if path == "" {
			continue
		}
		if a, ok := p.givenAxis(k); ok {
			axes = append(axes, p.narrowed(k, a, path))
			continue
		}
		a, err := k.read(p, k, path)
		if err != nil {
			return nil, err
		}
		axes = append(axes, a)
	}
	for _, h := range p.hashes {
		listed := slices.ContainsFunc(p.lists, func(l finding.PartList) bool { return l.Kind == h.of })
		if !listed && !p.by.since(h.of, "parts-hash") {
			return nil, fmt.Errorf("--parts-hash %s: there is no --%s, want its list or no hash of it", h.of, h.of)
		}
	}
	for _, name := range p.picks {
		switch {
		case p.found[name]:
		case p.given != nil:
			return nil, fmt.Errorf("--part %q: no such part in the run, %s", name, cmp.Or(meant(name, "", p.names),
				"want one of its own, or the list that has it"))
		case len(p.lists) == 0:
			return nil, fmt.Errorf("--part %q: no parts are listed, want a list of them, such as --motors FILE", name)
		default:
			want := "want a name that stands there"
			if q := meant(name, "", p.names); q != "" {
				want = q
			}
			return nil, fmt.Errorf("--part %q: no such part in %s, %s", name, p.partFiles(), want)
		}
	}
	return axes, nil
}

// files names the lists that were read.
func (p *partFlags) partFiles() string {
	var paths []string
	for _, l := range p.lists {
		paths = append(paths, l.File)
	}
	return strings.Join(paths, ", ")
}

// hold notes a list that was read, and errs where it is not the one that a hash is of.
func (p *partFlags) hold(k *partKind, path string, b []byte, parts int) error {
	digest := sha256.Sum256(b)
	sum := hex.EncodeToString(digest[:])
	p.lists = append(p.lists, finding.PartList{Kind: k.Many, File: path, SHA256: sum, Parts: parts})
	for _, h := range p.hashes {
		if h.of == k.Many && h.sum != sum && !p.by.since(k.Many, "parts-hash") {
			return changedPart(k.Many, path, h.sum, sum)
		}
	}
	return nil
}

// changedPart is the error of a list that is not as it was.
func changedPart(kind, path, was, now string) error {
	return fmt.Errorf("--%s %s: the file has changed, its SHA-256 is %.12s... and was %.12s...: want it as it was, or "+
		"a new run", kind, path, now, was)
}

// changed errs where a list has another hash than the flags of an earlier run state.
func (p *partFlags) changed(flags []string) error {
	for _, l := range p.lists {
		for _, f := range flags {
			if was, ok := strings.CutPrefix(f, "--parts-hash="+l.Kind+"="); ok && was != l.SHA256 {
				return changedPart(l.Kind, l.File, was, l.SHA256)
			}
		}
	}
	return nil
}

// sameParts errs where a list has changed since the run in a folder that is to go on, unless
// its study is the same all the same.
func (s *studyFlags) sameParts(dir string, st *sweep.Study, whole string) error {
	if len(s.lists) == 0 && len(s.held.noted) == 0 {
		return nil
	}
	f := &folder{dir: dir}
	if record := report.ReadEarlier(dir).Record; record != nil && record.Study.Fingerprint != whole {
		return cmp.Or(s.changed(record.Study.Flags), s.held.changedSince(record.Study.Flags))
	}
	if state, err := sweep.ReadState(f.path(checkpointName)); err == nil && state.Fingerprint != st.Fingerprint() {
		return cmp.Or(s.changed(state.Flags), s.held.changedSince(state.Flags))
	}
	return nil // what else is there is judged where the folder is claimed
}

// pick says which of a list's names are picked; nil for all of them.
func (p *partFlags) pick(names []string) map[string]bool {
	p.names = append(p.names, names...)
	var picked map[string]bool
	for _, name := range names {
		if slices.Contains(p.picks, name) {
			if picked == nil {
				picked = map[string]bool{}
			}
			picked[name], p.found[name] = true, true
		}
	}
	return picked
}

// replacing is the kind of parts whose list stands in place of an axis; nil for none.
func (s *studyFlags) replacing(d *sweep.AxisDef) *partKind {
	for i := range partKinds {
		if k := &partKinds[i]; s.path(k) != "" && slices.Contains(k.replaces, d) {
			return k
		}
	}
	return nil
}

// beside errs where an axis is stated beside or after a list of parts that have their own
// values of it. A list that is stated later stands in its place, as on the command line in
// that of a flag file's.
func (s *studyFlags) beside() error {
	for i := range partKinds {
		k := &partKinds[i]
		if s.path(k) == "" {
			continue
		}
		named := s.set[k.Many]
		for _, d := range k.replaces {
			if a := s.set[d.Name]; a.from != nil && (a.from == named.from || a.turn > named.turn) {
				return a.errorf("--%s beside --%s: each %s has its own, want one of the two flags, or --%s %s", d.Name,
					k.Many, k.One, k.Many, noFile)
			}
		}
	}
	return nil
}

// flagNames are flags of axes, joined.
func flagNames(defs []*sweep.AxisDef, and string) string {
	var names []string
	for _, d := range defs {
		names = append(names, "--"+d.Name)
	}
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + and + names[n-1]
	}
	return strings.Join(names, "")
}
