package cache

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

func open(t testing.TB, path string) *Folder {
	t.Helper()
	f, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func inputs(n int) []byte { return fmt.Appendf(nil, "inputs %d", n) }
func solved(n int) []byte { return bytes.Repeat([]byte{byte(n)}, 1000) }

// has is which of the first n things are kept.
func (f *Folder) has(t testing.TB, n int) (out []int) {
	t.Helper()
	for i := range n {
		switch b := f.Load(inputs(i)); {
		case b == nil:
		case !bytes.Equal(b, solved(i)):
			t.Errorf("%d came back as something else", i)
		default:
			out = append(out, i)
		}
	}
	return out
}

func names(t testing.TB, dir string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// What is saved is there for this process and the next; the folder is made when it is needed.
func TestKeeps(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "solved")
	f := open(t, dir)
	if f.Load(inputs(1)) != nil {
		t.Error("something is found in a folder that is not there")
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("the folder is made before there is something to keep")
	}
	f.Save(inputs(1), solved(1))
	f.Save(inputs(2), nil)
	f.Save(inputs(1), solved(1))
	again := open(t, dir)
	if got := again.has(t, 2); !slices.Equal(got, []int{1}) {
		t.Errorf("%v are kept", got)
	}
	if b := again.Load(inputs(2)); b == nil || len(b) > 0 {
		t.Errorf("nothing that was solved came back as %v", b)
	}
	if got := names(t, dir); len(got) != 2 || !own(got[0]) {
		t.Errorf("the folder holds %q", got)
	}
	if f.Failed() != nil {
		t.Error(f.Failed())
	}
}

// A file that is damaged anywhere, cut short, of another format or under a wrong name is as
// none, and written anew.
func TestDamage(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	f.Save(inputs(1), solved(1))
	path := f.file(inputs(1))
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f.Save(inputs(2), solved(2))
	other, err := os.ReadFile(f.file(inputs(2)))
	if err != nil {
		t.Fatal(err)
	}
	check := func(what string, b []byte) {
		t.Helper()
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		if got := f.Load(inputs(1)); got != nil {
			t.Errorf("%s: %d bytes are believed", what, len(got))
		}
	}
	for i := range whole {
		b := bytes.Clone(whole)
		b[i] ^= 1 << (i % 8)
		check(fmt.Sprintf("byte %d changed", i), b)
	}
	for n := 0; n < len(whole); n += 37 {
		check(fmt.Sprintf("cut to %d bytes", n), whole[:n])
	}
	check("longer", append(bytes.Clone(whole), 0))
	check("of other inputs", other)
	check("of another format", seal(bytes.Replace(whole[:len(whole)-32], []byte("solved 1"), []byte("solved 2"), 1)))
	check("far too long", make([]byte, mostOfFile+1))
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(path, 0o700); err != nil {
		t.Fatal(err)
	}
	if f.Load(inputs(1)) != nil {
		t.Error("a folder is believed")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	check("empty", nil)
	f.Save(inputs(1), solved(1))
	if got := f.has(t, 3); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("after the damage %v are kept", got)
	}
}

// Where files cannot be written, nothing is kept, nothing fails, and it is tried no more.
func TestFull(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	tries := 0
	write := f.write
	f.write = func(path string, do func(io.Writer) error) error {
		tries++
		return write(path, func(w io.Writer) error {
			return do(&filling{w, 100})
		})
	}
	for i := range 5 {
		f.Save(inputs(i), solved(i))
	}
	if f.Failed() == nil || f.Failed().Error() != "no space left" || tries != 1 {
		t.Errorf("%d tries, error %v", tries, f.Failed())
	}
	if got := names(t, dir); len(got) > 0 {
		t.Errorf("left behind: %q", got)
	}
	if got := f.has(t, 5); got != nil {
		t.Errorf("%v are kept", got)
	}
}

// filling is a disk with room for some bytes.
type filling struct {
	w    io.Writer
	room int
}

func (f *filling) Write(p []byte) (int, error) {
	n := min(len(p), f.room)
	f.room -= n
	n, err := f.w.Write(p[:n])
	if err == nil && n < len(p) {
		err = errors.New("no space left")
	}
	return n, err
}

// A folder that cannot be written is refused; one that is read only is left as it is.
func TestOpen(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		file:                                 "is no folder",
		filepath.Join(file, "solved"):        "", // the system's
		filepath.Join(dir, "none", "solved"): "no such file or directory",
	} {
		if _, err := Open(path); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), dir) {
			t.Errorf("%s: error %v, want %q", path, err, want)
		}
	}
	if runtime.GOOS == "linux" { // a folder in which not even root makes files
		if _, err := Open("/proc/self"); err == nil {
			t.Error("/proc/self is taken")
		}
	}
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left behind: %q", got)
	}
	f := open(t, dir)
	f.Save(inputs(1), solved(1))
	old := time.Now().Add(-100 * lately)
	if err := os.Chtimes(f.file(inputs(1)), old, old); err != nil {
		t.Fatal(err)
	}
	f.ReadOnly()
	f.Save(inputs(2), solved(2))
	if got := f.has(t, 3); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("%v are found", got)
	}
	if about, err := os.Stat(f.file(inputs(1))); err != nil || !about.ModTime().Equal(old.Truncate(0)) {
		t.Errorf("a folder to be read alone is changed: %v, error %v", about.ModTime(), err)
	}
	if got := open(t, dir).has(t, 3); !slices.Equal(got, []int{1}) {
		t.Errorf("%v are kept", got)
	}
}

// Many that read and write one folder at once, and let go of files besides, find what was saved
// or nothing.
func TestManyAtOnce(t *testing.T) {
	dir := t.TempDir()
	var group sync.WaitGroup
	for k := range 8 {
		group.Go(func() {
			f := open(t, dir)
			f.most = 40_000 // 37 files
			for i := range 400 {
				n := (i*(k+1) + k) % 100
				if b := f.Load(inputs(n)); b != nil && !bytes.Equal(b, solved(n)) {
					t.Errorf("%d came back as something else", n)
				}
				f.Save(inputs(n), solved(n))
			}
			if f.Failed() != nil {
				t.Error(f.Failed())
			}
		})
	}
	group.Wait()
	var total int64
	for _, name := range names(t, dir) {
		about, err := os.Stat(filepath.Join(dir, name))
		if err != nil || !own(name) {
			t.Errorf("%s is left, error %v", name, err)
			continue
		}
		total += about.Size()
	}
	if most := int64(40_000 + 8*40_000/16 + 8*1100); total > most {
		t.Errorf("%d bytes are kept, want up to %d", total, most)
	}
}
