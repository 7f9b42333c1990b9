package cache

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// Past the bound those go that have been read least lately, until there is room; what is not of
// the folder's own making stays, and what a writer has left goes after a while.
func TestPrune(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	f.most = 1 << 30
	start := time.Now().Add(-1000 * time.Hour)
	const n = 20
	var size int64
	for i := range n {
		f.Save(inputs(i), solved(i))
		at := start.Add(time.Duration(i) * time.Hour)
		if err := os.Chtimes(f.file(inputs(i)), at, at); err != nil {
			t.Fatal(err)
		}
		about, err := os.Stat(f.file(inputs(i)))
		if err != nil {
			t.Fatal(err)
		}
		size = max(size, about.Size())
	}
	for _, i := range []int{3, 5} { // these are read again
		if f.Load(inputs(i)) == nil {
			t.Fatalf("%d is not kept", i)
		}
	}
	begun := "." + filepath.Base(f.file(inputs(0))) + "123"
	theirs := []string{"notes.txt", "a.solved", ".hidden", filepath.Base(f.file(inputs(0))) + ".bak", "folder"}
	for _, name := range append(slices.Clone(theirs), begun) {
		path := filepath.Join(dir, name)
		if name == "folder" {
			if err := os.Mkdir(path, 0o700); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if err := os.WriteFile(path, make([]byte, 1<<20), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, start, start); err != nil {
			t.Fatal(err)
		}
	}
	begunNow := "." + filepath.Base(f.file(inputs(1))) + "4567"
	if err := os.WriteFile(filepath.Join(dir, begunNow), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	f.most = n * size
	f.prune()
	for _, name := range append(theirs, begunNow) {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Error(err)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, begun)); err == nil {
		t.Error("what a writer has left long ago is still there")
	}
	if got := len(f.has(t, n)); got != n {
		t.Errorf("%d of %d are kept, and there is room for all", got, n)
	}
	for i := range n { // has has read them
		at := start.Add(time.Duration(i) * time.Hour)
		if i == 3 || i == 5 {
			at = at.Add(100 * time.Hour)
		}
		if err := os.Chtimes(f.file(inputs(i)), at, at); err != nil {
			t.Fatal(err)
		}
	}
	f.most = 12 * size // and an eighth of room: 10 stay
	f.prune()
	if got, want := f.has(t, n), []int{3, 5, 12, 13, 14, 15, 16, 17, 18, 19}; !slices.Equal(got, want) {
		t.Errorf("%v are kept, want %v", got, want)
	}
}

// Reading notes the use, once an hour at most.
func TestUseIsNoted(t *testing.T) {
	f := open(t, t.TempDir())
	f.Save(inputs(1), solved(1))
	used := func(age time.Duration) time.Time {
		t.Helper()
		at := time.Now().Add(-age)
		if err := os.Chtimes(f.file(inputs(1)), at, at); err != nil {
			t.Fatal(err)
		}
		f.Load(inputs(1))
		about, err := os.Stat(f.file(inputs(1)))
		if err != nil {
			t.Fatal(err)
		}
		return about.ModTime()
	}
	if at := used(lately / 2); time.Since(at) < lately/4 {
		t.Error("a use is noted again within the hour")
	}
	if at := used(2 * lately); time.Since(at) > lately {
		t.Error("a use is not noted")
	}
}

// A process that writes counts what it finds, and again after a part of the bound.
func TestPruneWhileSaving(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	f.most = 20_000
	for i := range 200 {
		f.Save(inputs(i), solved(i))
		if n := len(names(t, dir)); int64(n)*1000 > f.most+f.step()+1100 {
			t.Fatalf("after %d: %d files, past the bound", i, n)
		}
	}
	next := open(t, dir)
	next.most = 5_000
	next.Save(inputs(1000), solved(1000))
	if n := len(names(t, dir)); n > 5 {
		t.Errorf("%d files are left after another process has written one", n)
	}
}
