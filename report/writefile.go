package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"rotorsieve/report/finding"
	"rotorsieve/sweep/whole"
)

// writeFile writes a file whole or not at all.
func writeFile(dir, name string, write func(io.Writer) error) (finding.FileRecord, error) {
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := makeDir(path); err != nil {
		return finding.FileRecord{}, err
	}
	sum := sha256.New()
	count := &counter{}
	err := whole.Write(path, func(f io.Writer) error {
		count.w = io.MultiWriter(f, sum)
		return write(count)
	})
	if err != nil {
		return finding.FileRecord{}, fmt.Errorf("%s: %w", name, err)
	}
	return finding.FileRecord{Name: name, Bytes: count.n, SHA256: hex.EncodeToString(sum.Sum(nil))}, nil
}

// counter counts what goes through it.
type counter struct {
	w io.Writer
	n int64
}

func (c *counter) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}

// makeDir makes the folder that a file stands in.
func makeDir(path string) error { return os.MkdirAll(filepath.Dir(path), 0o777) }
