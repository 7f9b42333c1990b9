package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"syscall"

	"github.com/spf13/pflag"

	"rotorsieve/report"
)

// ownership is what tells a file of the program from one of the user, as the help has it.
// Package report decides by it, see report.Earlier.
const ownership = `A file is the program's own where run.json beside it lists it and it still has the
size and the SHA-256 that stand there. Whatever else is in a folder is yours: no
command replaces it without --force, and one that would have to says so before it
computes anything. A folder in the place of a file is never replaced, and nothing
is written through a link that stands among the results.
`

// place is a folder that a command writes to, and the flag that states it.
type place struct{ flag, dir string }

func (p place) errorf(format string, args ...any) error {
	return fmt.Errorf("%s %s: %w", p.flag, p.dir, fmt.Errorf(format, args...))
}

// unreachable is why a folder cannot be made: something on the way to it is no folder. It
// makes nothing.
func unreachable(dir string) error {
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		there, err := os.Stat(at)
		if err == nil && there.IsDir() {
			return nil
		}
		if err == nil {
			err = syscall.ENOTDIR
		} else if _, link := os.Lstat(at); link == nil {
			err = errors.New("a link to nothing")
		}
		if !errors.Is(err, fs.ErrNotExist) || at == filepath.Dir(at) {
			return cause(err)
		}
	}
}

// fits errs where files of these names, with slashes, could not be written into the folder
// whatever it is forced to: a folder stands in the place of a file, or something else than
// a folder in that of a folder.
func (p place) fits(names ...string) error {
	if err := portablePath(p.dir); err != nil {
		return p.errorf("%w", err)
	}
	if err := unreachable(p.dir); err != nil {
		return p.errorf("%w, want a folder to write in", err)
	}
	for _, name := range names {
		if within := path.Dir(name); within != "." {
			switch there, err := os.Lstat(p.path(within)); {
			case err == nil && there.Mode()&fs.ModeSymlink != 0:
				return p.errorf("%s is a link, want a folder there, or another %s", within, p.flag)
			case err == nil && !there.IsDir():
				return p.errorf("%s is a file, want a folder there, or another %s", within, p.flag)
			}
		}
		if there, err := os.Lstat(p.path(name)); err == nil && there.IsDir() {
			return p.errorf("%s is a folder, want it moved away, or another %s", name, p.flag)
		}
	}
	return nil
}

// writable errs where nothing can be written into the folder, or where there is none yet into that in
// which it is to be made.
func (p place) writable() error {
	at := filepath.Clean(p.dir)
	for at != filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		at = filepath.Dir(at)
	}
	probe, err := os.CreateTemp(at, ".rotorsieve-*")
	if err == nil {
		err = errors.Join(probe.Close(), os.Remove(probe.Name()))
	}
	if err != nil {
		return p.errorf("%w, want a folder to write in", cause(err))
	}
	return nil
}

// vacant errs where files of these names cannot be written, or would replace what is not
// the program's own, which force allows.
func (p place) vacant(force bool, names ...string) error {
	if err := p.fits(names...); err != nil || force {
		return err
	}
	earlier := report.ReadEarlier(p.dir)
	for _, name := range names {
		if _, err := os.Lstat(p.path(name)); err == nil && !earlier.Left(name) {
			return p.errorf("%s there is not the program's own, want another folder, or --force to replace it", name)
		}
	}
	return nil
}

func (p place) path(name string) string { return filepath.Join(p.dir, filepath.FromSlash(name)) }

// drawing is where a picture goes that is not part of a run.
type drawing struct {
	folder string // "" for none
	force  bool
}

func (d *drawing) declare(f *pflag.FlagSet, usage string) {
	f.Var(newPlace(&d.folder, aFolder), "draw", usage+" (default none)")
	f.BoolVar(&d.force, "force", false, "replace what was left there earlier")
}

// room errs where pictures of these names cannot be drawn, or would replace others.
func (d *drawing) room(names ...string) error {
	if d.folder == "" {
		return nil
	}
	return place{"--draw", d.folder}.vacant(d.force, names...)
}
