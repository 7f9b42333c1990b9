package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/sweep/cache"
)

// cacheFlag says where what is solved of propellers is kept for later runs.
type cacheFlag struct {
	place  string // a folder or none; "" for that of the user
	folder *cache.Folder
}

// cacheWord is the value of the flag.
type cacheWord struct{ phrase }

func (w *cacheWord) Set(text string) error {
	if text == "" {
		return errors.New("nothing is given, want a folder or " + none)
	}
	return w.phrase.Set(text)
}

func (c *cacheFlag) declare(f *pflag.FlagSet) {
	f.Var(&cacheWord{*newWords(&c.place, aFolder)}, "cache", "where what is solved of propellers is kept for later "+
		"runs, in up to 256 MB; none for nowhere (default $"+cacheVariable+
		", or rotorsieve in the user's cache folder)")
}

// cacheVariable is what the environment may state in place of the flag.
const cacheVariable = "ROTORSIEVE_CACHE"

// serve gives models the folder. One that is stated and cannot be used is an error; where that
// of the user cannot, it is told, and nothing is kept. Of a dry run nothing is kept either.
func (c *cacheFlag) serve(of []*model.Model, dry bool, told io.Writer) error {
	path, by := c.place, "--cache "
	if path == "" {
		path, by = os.Getenv(cacheVariable), cacheVariable+"="
	}
	if path == none {
		return nil
	}
	stated := path != ""
	var err error
	if !stated {
		path, err = usersCache(dry)
	}
	if err == nil {
		c.folder, err = cache.Open(path)
	}
	switch {
	case err == nil:
		if dry {
			c.folder.ReadOnly()
		}
		for _, m := range of {
			m.Store = c.folder
		}
		return nil
	case stated:
		return fmt.Errorf("%s%s: %w, want a folder to write in, or %s", by, path, cause(err), none)
	case told != nil && !(dry && errors.Is(err, fs.ErrNotExist)):
		fmt.Fprintf(told, "rotorsieve: what is solved of propellers is not kept for later runs, since the user's "+
			"cache folder cannot be used: %v\n", cause(err))
	}
	return nil
}

// usersCache is the program's folder in that which the system has for a user's caches, which is
// made where there is none yet.
func usersCache(dry bool) (string, error) {
	dir, err := os.UserCacheDir()
	if err == nil && !dry {
		err = os.MkdirAll(dir, 0o700)
	}
	return filepath.Join(dir, "rotorsieve"), err
}

// tell says where something could not be kept.
func (c *cacheFlag) tell(to io.Writer) {
	if c.folder == nil {
		return
	}
	if err := c.folder.Failed(); err != nil {
		fmt.Fprintf(to, "rotorsieve: not all that was solved of propellers is kept for later runs: %v\n", err)
	}
}
