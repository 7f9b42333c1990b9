package main

import (
	"errors"
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// What is written for one system is there, under the same name, for the others that the program is
// built for: in code and in tests, which are not built for those here.
func TestHouseOfAllSystems(t *testing.T) {
	t.Parallel()
	var folders []string
	for _, tree := range []string{"cmd", "model", "report", "sweep"} {
		err := filepath.WalkDir(filepath.Join("../..", tree), func(path string, e fs.DirEntry, err error) error {
			if err == nil && e.IsDir() {
				if e.Name() == "testdata" {
					return fs.SkipDir
				}
				folders = append(folders, path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	checked := 0
	for _, system := range []string{"linux", "darwin", "windows"} {
		in := build.Default
		in.GOOS = system
		for _, dir := range folders {
			p, err := in.ImportDir(dir, 0)
			var none *build.NoGoError
			if errors.As(err, &none) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(p.IgnoredGoFiles) == 0 { // all of it is for all systems
				continue
			}
			for _, files := range [][]string{slices.Concat(p.GoFiles, p.TestGoFiles), p.XTestGoFiles} {
				for _, missing := range undefined(t, dir, files) {
					t.Errorf("%s: %s", system, missing)
				}
				checked += len(files)
			}
		}
	}
	if checked < 300 {
		t.Errorf("%d files are checked", checked)
	}
}

// undefined lists the names that files of a package use and none of them declares. Nothing is known
// of what they import, which is asked for nothing.
func undefined(t *testing.T, dir string, files []string) (missing []string) {
	set := token.NewFileSet()
	var trees []*ast.File
	for _, name := range files {
		f, err := parser.ParseFile(set, filepath.Join(dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		trees = append(trees, f)
	}
	check := types.Config{Importer: unread{}, FakeImportC: true, Error: func(err error) {
		var e types.Error
		if errors.As(err, &e) && strings.HasPrefix(e.Msg, "undefined: ") && !strings.Contains(e.Msg, ".") {
			missing = append(missing, err.Error())
		}
	}}
	_, _ = check.Check(dir, set, trees, nil) // what is not imported is an error as well
	return missing
}

// unread imports nothing but the name of a package, as its path has it.
type unread struct{}

func (unread) Import(path string) (*types.Package, error) {
	name := filepath.Base(path)
	if majorVersion.MatchString(name) {
		name = filepath.Base(filepath.Dir(path))
	}
	return types.NewPackage(path, strings.TrimSuffix(name, "-go")), errors.New("not read")
}

var majorVersion = regexp.MustCompile(`^v\d+$`)
