// Package whole writes files whole or not at all: a reader finds the old file or the
// new one and never a part, whenever the writer or the
// machine stops.
//
// The new file is written beside its place, synced, and renamed into place; then
// the folder is synced, so that the rename lasts. Windows and some network file
// systems cannot sync a folder, and Windows does not promise that its rename is one
// step; there the last of this rests with the file system.
package whole

import (
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Write makes the file at path of what write gives it, with permissions 0644 less
// the umask. Until it is whole it stands in the same folder, which must exist,
// under a name that is a dot, its own name and digits. An error is that of write,
// or the system's without the path; then the file at path is unchanged and nothing is
// left beside it.
func Write(path string, write func(io.Writer) error) error {
	return disk.write(path, write)
}

// WriteLight is Write without waiting for the disk, for files that are checked when they are
// read and can be made again: when the machine stops, one may be left that is not whole. Whenever
// the writer alone stops, it is as with Write.
func WriteLight(path string, write func(io.Writer) error) error {
	return light.write(path, write)
}

// system is what Write asks of the operating system.
type system struct {
	light      bool // nothing is synced
	create     func(path string) (file, error)
	rename     func(from, to string) error
	remove     func(path string) error
	syncFolder func(path string) error
}

type file interface {
	io.WriteCloser
	Sync() error
}

var (
	disk  = system{create: create, rename: os.Rename, remove: os.Remove, syncFolder: syncFolder}
	light = system{light: true, create: create, rename: os.Rename, remove: os.Remove}
)

func (s system) write(path string, write func(io.Writer) error) error {
	folder, name := filepath.Split(path)
	var beside string
	var f file
	for {
		var err error
		beside = filepath.Join(folder, "."+name+strconv.FormatUint(rand.Uint64(), 10))
		if f, err = s.create(beside); err == nil {
			break
		}
		if !errors.Is(err, fs.ErrExist) {
			return cause(err)
		}
	}
	err := write(f)
	if err == nil && !s.light {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = s.rename(beside, path)
	}
	if err != nil {
		_ = s.remove(beside) // the first error is the one to know
		return cause(err)
	}
	if s.light {
		return nil
	}
	return cause(s.syncFolder(filepath.Dir(path)))
}

// stale is the age from which a file beside its place is taken for one that its writer has left
// behind: what is written without a lock on its folder is made beforehand and takes no minute.
const stale = time.Hour

// Clear removes what writers of the file at path that were killed have left beside it, an hour
// ago or longer. What cannot be removed does no harm.
func Clear(path string) {
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		number, ok := strings.CutPrefix(e.Name(), "."+name)
		if _, err := strconv.ParseUint(number, 10, 64); !ok || err != nil || !e.Type().IsRegular() {
			continue
		}
		if there, err := e.Info(); err == nil && time.Since(there.ModTime()) > stale {
			_ = os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

func create(path string) (file, error) {
	return os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
}

func syncFolder(path string) error {
	if runtime.GOOS == "windows" {
		return nil // it cannot sync a folder
	}
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	err = d.Sync()
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		err = nil // nor can some network file systems
	}
	return errors.Join(err, d.Close())
}

// cause strips a system's error of paths: the caller knows his own, and the one
// beside it means nothing to a reader.
func cause(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	if e, ok := errors.AsType[*os.LinkError](err); ok {
		return e.Err
	}
	return err
}
