package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// journal keeps what goes to standard error as dated lines at the end of a file, each in one
// write, so that several processes may share it. Lines that come before it has a file wait.
type journal struct {
	path   string
	file   *os.File // nil before open, and once it has failed
	part   []byte   // of a line that has not ended
	wait   []byte
	failed error
}

// dated is how a line of a journal begins: RFC 3339 in UTC.
const dated = "2006-01-02T15:04:05Z"

// mostWaiting bounds what waits for a file, in bytes.
const mostWaiting = 1 << 20

// take takes text, of which whole lines are written.
func (j *journal) take(text []byte) {
	j.part = append(j.part, text...)
	for {
		line, rest, ok := bytes.Cut(j.part, []byte("\n"))
		if !ok {
			return
		}
		j.line(string(line))
		j.part = rest
	}
}

// line writes one line.
func (j *journal) line(text string) {
	text = time.Now().UTC().Format(dated) + " " + strings.TrimRight(text, " \r") + "\n"
	switch {
	case j.failed != nil:
	case j.file != nil:
		_, j.failed = io.WriteString(j.file, text)
	case len(j.wait) < mostWaiting:
		j.wait = append(j.wait, text...)
	}
}

// open begins to write to the file at the path. One that is among the outputs of the run, or
// holds something else than an earlier journal, is refused and left as it is.
func (j *journal) open(path string, outputs []string, dump string) error {
	at := func(format string, args ...any) error {
		return fmt.Errorf("--log %.200s: %w", path, fmt.Errorf(format, args...))
	}
	for _, name := range outputs {
		if samePath(path, name) {
			return at("is one of the run's own outputs, want another file")
		}
	}
	if dump != "" && samePath(filepath.Dir(path), dump) {
		return at("is in the folder of the dump, which holds nothing else, want another folder")
	}
	switch there, err := os.Stat(path); {
	case err == nil && !there.Mode().IsRegular():
		return at("is no regular file, want a file to append to")
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return at("cannot be written: %w, want a file in a folder that exists", cause(err))
	}
	if err := portable(filepath.Base(path)); err != nil {
		return at("%w", err)
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o666)
	if err != nil {
		return at("cannot be written: %w, want a file in a folder that exists", cause(err))
	}
	torn, err := earlierLines(f)
	if err != nil {
		_ = f.Close()
		return at("%w", err)
	}
	if torn { // as a crash leaves it
		j.wait = append([]byte("\n"), j.wait...)
	}
	if _, err := f.Write(j.wait); err != nil {
		_ = f.Close()
		return at("cannot be written: %w, want a disk with room", cause(err))
	}
	j.path, j.file, j.wait = path, f, nil
	return nil
}

// earlierLines errs where a file holds something else than dated lines, by its first, and says
// whether the last has no end.
func earlierLines(f *os.File) (torn bool, err error) {
	head := make([]byte, len(dated))
	n, err := io.ReadFull(f, head)
	if n == 0 {
		return false, nil
	}
	if _, bad := time.Parse(dated, string(head[:n])); err != nil || bad != nil {
		return false, errors.New("holds something else than an earlier log, want that or a new file")
	}
	last := make([]byte, 1)
	end, err := f.Seek(-1, io.SeekEnd)
	if err == nil {
		_, err = f.ReadAt(last, end)
	}
	if err != nil {
		return false, fmt.Errorf("cannot be read: %w, want a file to append to", cause(err))
	}
	return last[0] != '\n', nil
}

// close ends the file, with what has begun a line.
func (j *journal) close() {
	if len(j.part) > 0 {
		j.take([]byte("\n"))
	}
	if j.file != nil {
		_ = j.file.Close()
		j.file = nil
	}
}

// samePath says whether two paths lead to one file, also where there is none yet, and where a
// file system tells no capitals apart.
func samePath(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	if errX == nil && errY == nil {
		return os.SameFile(x, y)
	}
	return strings.EqualFold(resolved(a), resolved(b))
}

// resolved is a path from the root, with the links on the way to its folder followed as far as
// it exists.
func resolved(path string) string {
	path, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	rest := filepath.Base(path)
	for dir := filepath.Dir(path); ; dir = filepath.Dir(dir) {
		if real, err := filepath.EvalSymlinks(dir); err == nil {
			return filepath.Join(real, rest)
		}
		if dir == filepath.Dir(dir) {
			return path
		}
		rest = filepath.Join(filepath.Base(dir), rest)
	}
}
