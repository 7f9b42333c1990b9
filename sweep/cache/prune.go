package cache

import (
	"cmp"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// step is how much a process writes before it counts the files again.
func (f *Folder) step() int64 { return max(f.most/16, 1) }

// abandoned is the age of a file that its writer will not finish any more.
const abandoned = time.Hour

// prune removes those files that have been used least lately, where all come to more than the
// bound, until there is some room; and what writers that were killed have left. Other files in
// the folder are not its own. What another process has removed in between is gone all the same,
// and a file that is just being read is read to its end.
func (f *Folder) prune() {
	entries, err := os.ReadDir(f.path)
	if err != nil {
		return
	}
	type kept struct {
		name string
		size int64
		used time.Time
	}
	var all []kept
	var total int64
	for _, e := range entries {
		part := unfinished(e.Name())
		if !e.Type().IsRegular() || !part && !own(e.Name()) {
			continue
		}
		about, err := e.Info()
		switch {
		case err != nil: // removed since
		case part && f.now().Sub(about.ModTime()) > abandoned:
			_ = os.Remove(filepath.Join(f.path, e.Name()))
		case !part:
			all = append(all, kept{e.Name(), about.Size(), about.ModTime()})
			total += about.Size()
		}
	}
	if total <= f.most {
		return
	}
	slices.SortFunc(all, func(a, b kept) int {
		return cmp.Or(a.used.Compare(b.used), strings.Compare(a.name, b.name))
	})
	for _, k := range all {
		if total <= f.most-f.most/8 {
			break
		}
		_ = os.Remove(filepath.Join(f.path, k.name)) // one that stays is tried again
		total -= k.size
	}
}

// own says whether a name is that of a kept file.
func own(name string) bool {
	sum, ok := strings.CutSuffix(name, suffix)
	b, err := hex.DecodeString(sum)
	return ok && err == nil && len(b) == 32 && strings.ToLower(sum) == sum
}

// unfinished says whether a name is that under which package whole writes a kept file.
func unfinished(name string) bool {
	rest, ok := strings.CutPrefix(name, ".")
	if !ok {
		return false
	}
	at := strings.LastIndex(rest, suffix) + len(suffix)
	return at > len(suffix) && own(rest[:at]) && at < len(rest) && strings.Trim(rest[at:], "0123456789") == ""
}
