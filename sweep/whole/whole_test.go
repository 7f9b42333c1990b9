package whole

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// holds checks that a folder holds the one file, with the text given.
func holds(t *testing.T, path, want string) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil || string(b) != want {
		t.Errorf("%s holds %q, error %v, want %q", filepath.Base(path), b, err, want)
	}
	all, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(all) != 1 {
		t.Errorf("beside it stand %v, error %v", all, err)
	}
}

func TestWrite(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state")
	for _, s := range []string{"first", "the second, longer", ""} {
		if err := Write(path, text(s)); err != nil {
			t.Fatal(err)
		}
		holds(t, path, s)
	}
}

func ExampleWrite() {
	folder, err := os.MkdirTemp("", "whole")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "note")
	err = Write(path, func(w io.Writer) error {
		_, err := fmt.Fprintln(w, "all of it")
		return err
	})
	b, _ := os.ReadFile(path)
	fmt.Printf("%s%v\n", b, err)
	// Output:
	// all of it
	// <nil>
}

// The file is synced before it takes its place, and the folder after: a machine
// that stops in between has the old file or the new one.
func TestOrder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state")
	r := recorder{}
	if err := r.system().write(path, text("new")); err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(r.done, ", "), "create, write, sync, close, rename, sync folder"; got != want {
		t.Errorf("steps are %s\nwant %s", got, want)
	}
	holds(t, path, "new")
}

// What is written lightly takes its place whole as well, and waits for no disk.
func TestLight(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state")
	for _, s := range []string{"first", "second"} {
		if err := WriteLight(path, text(s)); err != nil {
			t.Fatal(err)
		}
		holds(t, path, s)
	}
	r := recorder{}
	s := r.system()
	s.light = true
	if err := s.write(path, text("new")); err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(r.done, ", "), "create, write, close, rename"; got != want {
		t.Errorf("steps are %s\nwant %s", got, want)
	}
	mine := errors.New("mine")
	if err := WriteLight(path, func(w io.Writer) error { return errors.Join(text("half")(w), mine) }); !errors.Is(err, mine) {
		t.Errorf("error %v, want that of the writer", err)
	}
	holds(t, path, "new")
}

// Whatever step fails, the old file stays and nothing is left beside it; only
// when the folder cannot be synced is the new one there already.
func TestFailure(t *testing.T) {
	for _, step := range []string{"create", "write", "sync", "close", "rename", "sync folder"} {
		t.Run(step, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "state")
			if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
				t.Fatal(err)
			}
			r := recorder{fails: step}
			err := r.system().write(path, text("new"))
			if err == nil || err.Error() != "no room to "+step {
				t.Errorf("error %v", err)
			}
			want := "old"
			if step == "sync folder" {
				want = "new"
			}
			holds(t, path, want)
		})
	}
}

func TestWriterFails(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state")
	if err := Write(path, text("old")); err != nil {
		t.Fatal(err)
	}
	mine := errors.New("mine")
	err := Write(path, func(w io.Writer) error {
		if err := text("half of it")(w); err != nil {
			return err
		}
		return mine
	})
	if err != mine {
		t.Errorf("error %v, want that of the writer", err)
	}
	holds(t, path, "old")
}

func TestNoFolder(t *testing.T) {
	err := Write(filepath.Join(t.TempDir(), "none", "state"), text("new"))
	if !errors.Is(err, fs.ErrNotExist) || strings.Contains(err.Error(), "state") {
		t.Errorf("error %v, want the system's without a path", err)
	}
}

// Who reads while files are written finds one of them, whole.
func TestReader(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state")
	long := func(c string) string { return strings.Repeat(c, 1<<16) }
	if err := Write(path, text(long("a"))); err != nil {
		t.Fatal(err)
	}
	failed := make(chan error, 1)
	go func() {
		defer close(failed)
		for i := range 100 {
			if err := Write(path, text(long(string(rune('a'+i%26))))); err != nil {
				failed <- err
				return
			}
		}
	}()
	for {
		select {
		case err := <-failed:
			if err != nil {
				t.Error(err)
			}
			return
		default:
		}
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(b) != 1<<16 || strings.Trim(string(b), string(b[0])) != "" {
			t.Fatalf("read %d bytes, which are not those of one file", len(b))
		}
	}
}

// recorder notes what is asked of the disk, and lets one step fail.
type recorder struct {
	done  []string
	fails string
}

func (r *recorder) step(name string, do func() error) error {
	r.done = append(r.done, name)
	err := do()
	if r.fails == name {
		return &fs.PathError{Op: name, Path: "a path", Err: errors.New("no room to " + name)}
	}
	return err
}

func (r *recorder) system() system {
	return system{
		create: func(path string) (f file, err error) {
			if r.fails == "create" {
				return nil, r.step("create", func() error { return nil })
			}
			err = r.step("create", func() error { f, err = disk.create(path); return err })
			return recorded{r, f}, err
		},
		rename: func(from, to string) error {
			if r.fails == "rename" {
				return r.step("rename", func() error { return nil })
			}
			return r.step("rename", func() error { return disk.rename(from, to) })
		},
		remove: disk.remove,
		syncFolder: func(path string) error {
			return r.step("sync folder",
				func() error { return disk.syncFolder(path) })
		},
	}
}

type recorded struct {
	*recorder
	file
}

func (f recorded) Write(p []byte) (n int, err error) {
	err = f.step("write", func() error { n, err = f.file.Write(p); return err })
	return n, err
}
func (f recorded) Sync() error  { return f.step("sync", f.file.Sync) }
func (f recorded) Close() error { return f.step("close", f.file.Close) }

// What a writer that was killed has left is removed once it is old, and nothing else.
func TestClear(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "curve.png")
	// The name under which a killed writer leaves it is that which stands there meanwhile.
	var meanwhile string
	err := Write(path, func(w io.Writer) error {
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) != 1 {
			t.Fatalf("meanwhile there are %v, %v", entries, err)
		}
		meanwhile = entries[0].Name()
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	old, young := time.Now().Add(-2*time.Hour), time.Now().Add(-30*time.Minute)
	left := map[string]time.Time{meanwhile: old, ".curve.png12": old}
	kept := map[string]time.Time{".curve.png7": young, "curve.png": old, ".curve.pngx": old, ".curve.png": old,
		"curve.png12": old, ".other.png12": old}
	for _, all := range []map[string]time.Time{left, kept} {
		for name, when := range all {
			if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
				t.Fatal(err)
			}
			if err := os.Chtimes(filepath.Join(dir, name), when, when); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := os.Mkdir(filepath.Join(dir, ".curve.png99"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(filepath.Join(dir, ".curve.png99"), old, old); err != nil {
		t.Fatal(err)
	}
	Clear(path)
	for name := range left {
		if _, err := os.Lstat(filepath.Join(dir, name)); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s is still there: %v", name, err)
		}
	}
	for name := range kept {
		if _, err := os.Lstat(filepath.Join(dir, name)); err != nil {
			t.Errorf("%s is gone: %v", name, err)
		}
	}
	if _, err := os.Lstat(filepath.Join(dir, ".curve.png99")); err != nil {
		t.Error("a folder is gone")
	}
	Clear(filepath.Join(dir, "none", "curve.png")) // nothing to clear
}
