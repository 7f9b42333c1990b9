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
	if err := ctx.Err(); err != nil {
		return finding.FileRecord{}, err
	}
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := makeDir(path); err != nil {
		return finding.FileRecord{}, err
	}
	sum := sha256.New()
	count := &counter{ctx: ctx}
	err := whole.Write(path, func(f io.Writer) error {
		count.w = io.MultiWriter(f, sum)
		return write(count)
	})
	if err != nil {
		return finding.FileRecord{}, fmt.Errorf("%s: %w", name, err)
	}
	return finding.FileRecord{Name: name, Bytes: count.n, SHA256: hex.EncodeToString(sum.Sum(nil))}, nil
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
