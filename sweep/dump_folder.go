package sweep

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep/dump"
	"rotorsieve/sweep/whole"
)

// dumpFormat changes with the form of the files of a dump.
const dumpFormat = "rotorsieve dump 1"

// identity is what all files of the dump say of themselves, and no file of another does.
func (d *Dump) identity() []dump.Entry {
	var classes []string
	for _, k := range d.study.Classes {
		classes = append(classes, fmt.Sprintf("%s: %v kg", k.Label, k.Limit))
	}
	return []dump.Entry{
		{Key: "format", Value: dumpFormat},
		{Key: "model_version", Value: model.Version},
		{Key: "fingerprint", Value: d.study.Fingerprint()},
		{Key: "classes", Value: strings.Join(classes, ", ")},
		{Key: "merit_at_least", Value: strconv.FormatFloat(d.merit, 'g', -1, 64)},
	}
}

// stretch is what a file says of the designs that it is of.
func (d *Dump) stretch(n uint64) []dump.Entry {
	return []dump.Entry{{Key: "first_design", Value: strconv.FormatUint(d.designs(n), 10)},
		{Key: "last_design", Value: strconv.FormatUint(d.designs(n+1)-1, 10)}}
}

// designs is how many designs are before a file.
func (d *Dump) designs(n uint64) uint64 { return min(n*d.each, d.blocks) * d.blockSize }

// name is that of a file; names sort as the designs do.
func (d *Dump) name(n uint64) string {
	width := len(strconv.FormatUint(d.study.Grid.size-1, 10))
	return fmt.Sprintf("designs-%0*d-%0*d.parquet", width, d.designs(n), width, d.designs(n+1)-1)
}

var (
	dumpName = regexp.MustCompile(`^designs-([0-9]{1,19})-[0-9]{1,19}\.parquet$`)
	// dumpLeft is what a writer leaves that was killed: nobody takes it for a part of the dump.
	dumpLeft = regexp.MustCompile(`^\.(designs-[0-9]{1,19}-[0-9]{1,19}\.parquet)[0-9]+$`)
)

// fileOf is which file of the dump a name could be of.
func (d *Dump) fileOf(name string) (n uint64, ok bool) {
	m := dumpName.FindStringSubmatch(name)
	if m == nil {
		return 0, false
	}
	first, err := strconv.ParseUint(m[1], 10, 64)
	n = first / (d.each * d.blockSize)
	return n, err == nil && n < d.files
}

// look finds which files of the dump are there, and refuses a folder with any other.
func (d *Dump) look(ctx context.Context, sums bool) ([]keptFile, error) {
	entries, err := os.ReadDir(d.folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, cause(err)
	}
	have := make([]keptFile, d.files)
	for _, e := range entries {
		name := e.Name()
		path := filepath.Join(d.folder, name)
		if m := dumpLeft.FindStringSubmatch(name); m != nil && e.Type().IsRegular() {
			if n, ok := d.fileOf(m[1]); ok {
				have[n].left = append(have[n].left, path)
			}
			continue
		}
		n, ok := d.fileOf(name)
		if !ok || !e.Type().IsRegular() {
			return nil, fmt.Errorf("holds %.80q, which is no file of this dump, want an empty folder or a new one",
				name)
		}
		a, err := dump.Read(path)
		if err != nil {
			return nil, fmt.Errorf("%s %w, want it removed: it is then written again", name, err)
		}
		for _, x := range slices.Concat(d.identity(), d.stretch(n)) {
			if a.Of[x.Key] != x.Value {
				return nil, fmt.Errorf("%s is of another study (%s), want an empty folder or a new one", name,
					otherwiseOf(x.Key, a.Of[x.Key], x.Value))
			}
		}
		if name != d.name(n) {
			return nil, fmt.Errorf("%s is %s under another name, want it moved away", name, d.name(n))
		}
		have[n].there, have[n].rows, have[n].bytes = true, uint64(a.Rows), uint64(a.Bytes)
		if sums {
			if have[n].sum, err = sumOf(ctx, path); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		}
	}
	return have, nil
}

// otherwiseOf says in what a file is another's.
func otherwiseOf(key, there, here string) string {
	key = strings.ReplaceAll(key, "_", " ")
	if len(there) > 12 {
		there = there[:12] + "..."
	}
	if len(here) > 12 {
		here = here[:12] + "..."
	}
	return fmt.Sprintf("%s %q, here %q", key, there, here)
}

// sumOf is the SHA-256 of a file.
func sumOf(ctx context.Context, path string) (string, error) {
	f, err := whole.Open(path, math.MaxInt64)
	if err != nil {
		return "", err
	}
	defer f.Close()
	sum := sha256.New()
	for {
		if err := ctx.Err(); err != nil {
			return "", err
		}
		if _, err := io.CopyN(sum, f, 1<<24); err == io.EOF {
			return hex.EncodeToString(sum.Sum(nil)), nil
		} else if err != nil {
			return "", cause(err)
		}
	}
}

// Look says what the folder holds of the dump, without the sum; it errs where there is
// anything else.
func (d *Dump) Look() (DumpTally, error) {
	have, err := d.look(context.Background(), false)
	if err != nil {
		return DumpTally{}, err
	}
	t := d.tally(have, 0, d.files)
	t.SHA256 = ""
	return t, nil
}

// Tally is Look with the hash of what is there, which reads all of it.
func (d *Dump) Tally(ctx context.Context) (DumpTally, error) {
	have, err := d.look(ctx, true)
	if err != nil {
		return DumpTally{}, err
	}
	return d.tally(have, 0, d.files), nil
}

// cause strips a system's error of its path.
func cause(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	return err
}
