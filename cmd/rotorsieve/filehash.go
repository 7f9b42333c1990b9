package main

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/model/rotor"
	"rotorsieve/model/table"
	"rotorsieve/sweep/whole"
)

// Files that a study reads beside lists of parts are held against their hashes as well: those of
// measurements, and those of blade and stand that propellers of a list name. A key names one:
// rotor-points, measured:1 for the first of --measured, propellers:blade:NAME or propellers:stand:NAME.

// fileHash is what a file must be, or is.
type fileHash struct{ key, sum string }

// flag is the flag that names the file, or the list that does.
func (h fileHash) flag() string {
	flag, _, _ := strings.Cut(h.key, ":")
	return flag
}

// fileHashes are the hashes that are stated, and those of the files that were read.
type fileHashes struct {
	by     *flagGroups
	stated []fileHash
	noted  []fileHash
	shown  map[string]string // by key, how messages name what was read
}

func (x *fileHashes) declare(f *pflag.FlagSet, by *flagGroups) {
	x.by = by
	l := &list[fileHash]{to: &x.stated, item: "hash", parse: parseFileHash,
		clash: func(a, b fileHash) error {
			if a.key == b.key {
				return errors.New("two hashes of one file, want each once")
			}
			return nil
		}}
	f.Var(l.start(), "file-hash", "KEY=SHA-256 that a file of measurements, or one that a propeller's line names, "+
		"must have; a run writes it to its effective flags")
}

func parseFileHash(text string) (fileHash, error) {
	at := strings.LastIndexByte(text, '=')
	h := fileHash{text[:max(at, 0)], text[at+1:]}
	shape, _, _ := strings.Cut(strings.TrimPrefix(h.key, "propellers:"), ":")
	number, numbered := strings.CutPrefix(h.key, "measured:")
	known := h.key == "rotor-points" || numbered && number != "" && strings.Trim(number, "0123456789") == "" ||
		strings.HasPrefix(h.key, "propellers:") && (shape == "blade" || shape == "stand")
	if !known || !sha256Text.MatchString(h.sum) {
		return h, fmt.Errorf("%.80q, want KEY=SHA-256 in 64 hexadecimal digits, KEY one of rotor-points, measured:1, "+
			"propellers:blade:NAME, propellers:stand:NAME", text)
	}
	return h, nil
}

// begin forgets what was read before.
func (x *fileHashes) begin() { x.noted, x.shown = nil, map[string]string{} }

// open opens the file of a key, of bounded size. done is to be called when all of it was read: it
// notes the hash, and errs where another is stated.
func (x *fileHashes) open(key, shown, path string, most int64) (r io.ReadCloser, done func() error, err error) {
	f, err := whole.Open(path, most)
	if err != nil || x == nil {
		return f, func() error { return nil }, err
	}
	sum := sha256.New()
	read := struct {
		io.Reader
		io.Closer
	}{io.TeeReader(f, sum), f}
	return read, func() error {
		if _, err := io.Copy(io.Discard, read); err != nil {
			return err
		}
		h := fileHash{key, hex.EncodeToString(sum.Sum(nil))}
		x.noted, x.shown[key] = append(x.noted, h), shown
		if x.by.since(h.flag(), "file-hash") {
			return nil // another is named since
		}
		return x.differs(h, x.stated)
	}, nil
}

// differs is the error of a file that is not as it was; nil where it is, or is not known.
func (x *fileHashes) differs(now fileHash, before []fileHash) error {
	for _, was := range before {
		if was.key == now.key && was.sum != now.sum {
			return fmt.Errorf("%s: the file has changed, its SHA-256 is %.12s... and was %.12s...: want it as it "+
				"was, or a new run", x.shown[now.key], now.sum, was.sum)
		}
	}
	return nil
}

// unread errs where a hash is of a file that nothing names. Of a list of propellers not all files
// need be read.
func (x *fileHashes) unread(propellers bool) error {
	for _, h := range x.stated {
		read := slices.ContainsFunc(x.noted, func(n fileHash) bool { return n.key == h.key }) ||
			h.flag() == "propellers" && propellers
		if !read && !x.by.since(h.flag(), "file-hash") {
			return fmt.Errorf("--file-hash %s: there is no --%s, want it or no hash of its files", h.key, h.flag())
		}
	}
	return nil
}

// changedSince errs where a file that was read has another hash than the flags of an earlier run
// state.
func (x *fileHashes) changedSince(flags []string) error {
	var before []fileHash
	for _, f := range flags {
		if text, ok := strings.CutPrefix(f, "--file-hash="); ok {
			if h, err := parseFileHash(text); err == nil {
				before = append(before, h)
			}
		}
	}
	for _, now := range x.noted {
		if err := x.differs(now, before); err != nil {
			return err
		}
	}
	return nil
}

// readBlade reads a blade, which is of a key among those with hashes.
func readBlade(by *fileHashes, key, path string) (b rotor.Blade, err error) {
	f, done, err := by.open(key, path, path, table.MaxBytes)
	if err != nil {
		return rotor.Blade{}, fmt.Errorf("--blade %s: %w, want a CSV of r/R, c/R, beta", path, err)
	}
	defer f.Close()
	if b, err = rotor.ReadBlade(bufio.NewReader(f), path); err == nil {
		err = done()
	}
	return b, err
}
