package whole

import (
	"errors"
	"fmt"
	"io"
	"os"
)

// Open opens a file to read that anybody can have put there: a regular one, since a pipe
// may wait and a device give for ever, of at most so many bytes. The error is the
// system's without the path, or says what the file is.
func Open(path string, most int64) (*os.File, error) {
	about, err := os.Stat(path) // opening a pipe may wait as well
	switch {
	case err != nil:
		return nil, cause(err)
	case about.IsDir():
		return nil, errors.New("is a folder")
	case !about.Mode().IsRegular():
		return nil, errors.New("is no regular file")
	case about.Size() > most:
		return nil, fmt.Errorf("more than %d bytes", most)
	}
	f, err := os.Open(path)
	return f, cause(err)
}

// Read reads a file as Open opens it, and refuses one that grows beyond the bound.
func Read(path string, most int64) ([]byte, error) {
	f, err := Open(path, most)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return nil, cause(err)
	}
	if int64(len(b)) > most {
		return nil, fmt.Errorf("more than %d bytes", most)
	}
	return b, nil
}
