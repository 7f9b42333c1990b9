package sweep

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"sync"
	"testing"

	"rotorsieve/model"
	"rotorsieve/sweep/cache"
)

// cached is the medium study with a model that keeps what it solves in a folder.
func cached(t testing.TB, dir string) *Study {
	t.Helper()
	s := medium(t)
	f, err := cache.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	s.Model.Store = f
	return s
}

// left is the state that a run of a study leaves, and what it found. One worker finds the same in
// the same order, so that what it is spared is the same too.
func left(t testing.TB, s *Study) ([]byte, *Result) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "state")
	r := run(t, s, Options{Workers: 1, Checkpoint: path, Flags: []string{"--name=cached"}})
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b, r
}

// What a run finds is the same to the last byte whatever is kept of its propellers: nothing, all,
// what is damaged or under wrong names; alone or with others that write at the same time.
func TestCacheChangesNothing(t *testing.T) {
	t.Parallel()
	want, found := left(t, medium(t))
	check := func(what string, dir string) {
		t.Helper()
		got, r := left(t, cached(t, dir))
		if !bytes.Equal(got, want) {
			t.Errorf("%s: another state is left than without a cache", what)
		}
		for i := range found.Classes {
			if !reflect.DeepEqual(r.Classes[i].Ranking, found.Classes[i].Ranking) {
				t.Errorf("%s: another ranking than without a cache", what)
			}
		}
	}
	dir := filepath.Join(t.TempDir(), "solved")
	check("cold", dir)
	files, err := filepath.Glob(filepath.Join(dir, "*.solved"))
	if err != nil || len(files) < 4 {
		t.Fatalf("%d files are kept, error %v", len(files), err)
	}
	check("warm", dir)
	whole := map[string][]byte{}
	for _, f := range files {
		if whole[f], err = os.ReadFile(f); err != nil {
			t.Fatal(err)
		}
	}
	for what, damage := range map[string]func(b []byte, i int) []byte{
		"cut short":    func(b []byte, _ int) []byte { return b[:len(b)/2] },
		"changed":      func(b []byte, _ int) []byte { b[len(b)/2] ^= 1; return b },
		"emptied":      func([]byte, int) []byte { return nil },
		"another name": func(_ []byte, i int) []byte { return whole[files[(i+1)%len(files)]] },
	} {
		for i, f := range files {
			if err := os.WriteFile(f, damage(bytes.Clone(whole[f]), i), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		check(what, dir)
		for _, f := range files {
			if b, err := os.ReadFile(f); err != nil || !bytes.Equal(b, whole[f]) {
				t.Errorf("%s: a file is not written anew, error %v", what, err)
			}
		}
	}
	together := filepath.Join(t.TempDir(), "solved")
	var group sync.WaitGroup
	for i := range 8 {
		group.Go(func() { check(fmt.Sprint("one of eight, ", i), together) })
	}
	group.Wait()
	again, err := filepath.Glob(filepath.Join(together, "*"))
	if err != nil || len(again) != len(files) {
		t.Errorf("eight at once leave %d files, want %d; error %v", len(again), len(files), err)
	}
}

// refusing is a store that a second run must not need to write to.
type refusing struct {
	model.Store
	saved int
}

func (r *refusing) Save([]byte, []byte) { r.saved++ }

// A second run solves nothing: all is there, and the place of what was solved does not depend on
// the study alone, so that another with the same propellers finds them.
func TestCacheSparesSolving(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	left(t, cached(t, dir))
	s := cached(t, dir)
	once := &refusing{Store: s.Model.Store}
	s.Model.Store = once
	s.Top, s.Merit = 3, s.Merit[:1]
	left(t, s)
	if once.saved > 0 {
		t.Errorf("%d are solved again", once.saved)
	}
}
