package report

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"rotorsieve/report/finding"
	"rotorsieve/sweep/whole"
)

// writeFile writes a file whole or not at all: not where the context ends before.
func writeFile(ctx context.Context, dir, name string, write func(io.Writer) error) (finding.FileRecord, error) {
	x, err := put(ctx, dir, name, write, nil)
	if errors.Is(err, errSame) {
		err = nil
	}
	return x, err
}

// errSame says that a file was not written since it stands there already, to the last byte.
var errSame = errors.New("nothing to write")

// put writes a file whole or not at all, and leaves one alone that holds the same, where
// the error is errSame. Before it replaces another, yields is called where it is given.
func put(ctx context.Context, dir, name string, write func(io.Writer) error, yields func() error) (
	finding.FileRecord, error) {
	if err := ctx.Err(); err != nil {
		return finding.FileRecord{}, err
	}
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := makeDir(path); err != nil {
		return finding.FileRecord{}, err
	}
	sum := sha256.New()
	count := &counter{ctx: ctx}
	x := finding.FileRecord{Name: name}
	err := whole.Write(path, func(f io.Writer) error {
		count.w = io.MultiWriter(f, sum)
		if err := write(count); err != nil {
			return err
		}
		x.Bytes, x.SHA256 = count.n, hex.EncodeToString(sum.Sum(nil))
		if same(dir, x) {
			return errSame
		}
		if yields == nil {
			return nil
		}
		return yields()
	})
	if errors.Is(err, errSame) {
		return x, err
	}
	if err != nil {
		return finding.FileRecord{}, fmt.Errorf("%s: %w", name, err)
	}
	return x, nil
}

// counter counts what goes through it, until the context ends.
type counter struct {
	ctx context.Context
	w   io.Writer
	n   int64
}

func (c *counter) Write(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}

// spoolName is that of a folder in which a workbook lies while it is written; a number
// follows.
const spoolName = ".spool-"

// spooled gives write a folder in dir for what it cannot hold in memory, and removes it.
func spooled(dir string, write func(spool string) error) (err error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	spool, err := os.MkdirTemp(dir, spoolName)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(spool)) }()
	return write(spool)
}

// makeDir makes the folder that a file stands in.
func makeDir(path string) error { return os.MkdirAll(filepath.Dir(path), 0o777) }
