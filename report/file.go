package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"path/filepath"

	"rotorsieve/sweep/whole"
)

// fileRecord is what the record says of a file.
type fileRecord struct {
	Name   string `json:"name"` // in the report's folder, with slashes
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// writeFile writes a file whole or not at all.
func writeFile(dir, name string, write func(io.Writer) error) (fileRecord, error) {
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := makeDir(path); err != nil {
		return fileRecord{}, err
	}
	sum := sha256.New()
	count := &counter{}
	err := whole.Write(path, func(f io.Writer) error {
		count.w = io.MultiWriter(f, sum)
		return write(count)
	})
	if err != nil {
		return fileRecord{}, fmt.Errorf("%s: %w", name, err)
	}
	return fileRecord{Name: name, Bytes: count.n, SHA256: hex.EncodeToString(sum.Sum(nil))}, nil
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
