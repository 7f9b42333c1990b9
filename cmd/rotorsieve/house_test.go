package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// root is the module's, from this package.
const root = "../.."

// written is a file of the program, tests aside.
type written struct {
	path  string // below the root, with slashes
	text  string
	lines int
	tree  *ast.File
}

// sources reads all files of the program.
func sources(t *testing.T) []written {
	t.Helper()
	var out []written
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			if name := d.Name(); p != root && (strings.HasPrefix(name, ".") || name == "out" || name == "testdata") {
				return fs.SkipDir
			}
			return nil
		case !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go"):
			return nil
		}
		text, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		tree, err := parser.ParseFile(token.NewFileSet(), p, text, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		below, err := filepath.Rel(root, p)
		out = append(out, written{filepath.ToSlash(below), string(text), bytes.Count(text, []byte("\n")), tree})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 100 {
		t.Fatalf("only %d files were read", len(out))
	}
	return out
}

// within says whether a package is in one of trees, each named by its topmost folder.
func within(pkg string, trees ...string) bool {
	return slices.ContainsFunc(trees, func(tree string) bool {
		return pkg == tree || strings.HasPrefix(pkg, tree+"/")
	})
}

// floors are the packages of the module from the face down; those of one floor stand side
// by side. A tree is meant with all below it that has no floor of its own.
var floors = [][]string{
	{"cmd"},
	{"report"},
	{"report/figure", "report/sheet", "report/screen"},
	{"report/words"},
	{"report/trial"}, // for the tests of the rooms
	{"report/finding"},
	{"report/sheet/xlsx"},
	{"report/chart"},
	{"report/texts"},
	{"sweep"},
	{"model/bench"}, // fits whole models to measurements
	{"model"},
	{"model/air", "model/basis", "model/draw", "model/field", "model/flight", "model/formula", "model/frame",
		"model/motor", "model/pack", "model/record", "model/root", "model/rotor", "model/table", "model/unit"},
}

// floor is how far down a package lies and the tree that it belongs to there; "" for one
// that has no place.
func floor(pkg string) (at int, tree string) {
	for n, side := range floors {
		for _, k := range side {
			if within(pkg, k) && len(k) > len(tree) {
				at, tree = n, k
			}
		}
	}
	return at, tree
}

// A line is read at once: up to 120 columns, a tab for four.
func TestLinesAreShort(t *testing.T) {
	t.Parallel()
	const most = 120
	for _, f := range sources(t) {
		for n, line := range strings.Split(f.text, "\n") {
			if wide := utf8.RuneCountInString(line) + 3*strings.Count(line, "\t"); wide > most {
				t.Errorf("%s:%d: %d columns, want up to %d", f.path, n+1, wide, most)
			}
		}
	}
}

// Imports run one way: cmd -> report and its rooms -> sweep -> model -> its parts.
func TestImportsRunDown(t *testing.T) {
	t.Parallel()
	// What a tree must not import, beyond the order of the layers.
	forbidden := []struct {
		tree    string
		imports []string
		why     string
	}{
		{"report/chart", []string{"rotorsieve/sweep", "rotorsieve/model", "rotorsieve/report"},
			"drawing knows nothing of studies"},
		{"model", []string{"rotorsieve/sweep", "rotorsieve/report"}, "a craft knows nothing of grids"},
		{"model", []string{"os", "flag", "github.com/spf13"}, "physics reads no files, environment or flags"},
		{"sweep", []string{"rotorsieve/report", "rotorsieve/cmd", "flag", "github.com/spf13"},
			"a run knows neither flags nor drawing"},
		{"report", []string{"flag", "github.com/spf13"}, "a report knows no flags"},
		{"report/texts", []string{"rotorsieve"}, "text is set whatever it says"},
		{"report/sheet/xlsx", []string{"rotorsieve/sweep", "rotorsieve/report/finding", "rotorsieve/report/words"},
			"a page knows nothing of studies"},
		{"cmd", []string{"github.com/spf13/cobra/doc"}, "it brings YAML; the manual page is the program's own"},
	}
	used := map[int]bool{}
	for _, f := range sources(t) {
		pkg := path.Dir(f.path)
		from, tree := floor(pkg)
		if tree == "" {
			t.Errorf("%s is on no floor", f.path)
			continue
		}
		for _, x := range f.tree.Imports {
			name, err := strconv.Unquote(x.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range forbidden {
				golden := pkg == "report/trial" && name == "flag" // of tests, to write what is kept anew
				if within(pkg, r.tree) && within(name, r.imports...) && !golden {
					t.Errorf("%s imports %s: %s", f.path, name, r.why)
				}
			}
			into, ok := strings.CutPrefix(name, "rotorsieve/")
			if !ok {
				continue
			}
			to, other := floor(into)
			used[to] = true
			switch {
			case to < from:
				t.Errorf("%s imports %s, which lies above it", f.path, name)
			case to == from && other != tree && within(pkg, "report"):
				t.Errorf("%s imports %s, a room beside its own", f.path, name)
			}
		}
	}
	if len(used) != len(floors)-2 || used[0] {
		t.Errorf("imports into floors %v were seen, want all but the face and what tests use", used)
	}
}

// The environment and the process are the face's: what lies below is told.
func TestOnlyTheFaceReadsTheEnvironment(t *testing.T) {
	t.Parallel()
	process := []string{"Getenv", "LookupEnv", "Environ", "ExpandEnv", "Args", "Exit", "Stdin", "Stdout", "Stderr"}
	for _, f := range sources(t) {
		if within(f.path, "cmd") {
			continue
		}
		ast.Inspect(f.tree, func(n ast.Node) bool {
			if x, ok := n.(*ast.SelectorExpr); ok {
				if p, ok := x.X.(*ast.Ident); ok && p.Name == "os" && slices.Contains(process, x.Sel.Name) {
					t.Errorf("%s uses os.%s", f.path, x.Sel.Name)
				}
			}
			return true
		})
	}
}

// A file is about one thing, and short enough to be read at once.
func TestFilesAreShort(t *testing.T) {
	t.Parallel()
	const most = 350
	for _, f := range sources(t) {
		if f.lines > most {
			t.Errorf("%s has %d lines, want up to %d: one file for each subject", f.path, f.lines, most)
		}
	}
}

// What a report finds is values, phrased elsewhere: where it is found there are no words
// but those of errors, so that nothing there can be told from a sentence.
func TestFindingsHaveNoWords(t *testing.T) {
	t.Parallel()
	words := func(text string) bool {
		return strings.Contains(text, " ") && strings.ContainsFunc(text, unicode.IsLetter)
	}
	files := 0
	for _, f := range sources(t) {
		if path.Dir(f.path) != "report/finding" {
			continue
		}
		files++
		ast.Inspect(f.tree, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				switch called(n) {
				case "fmt.Errorf", "errors.New", "unlike", "t.unlike", "panic":
					return false
				case "fmt.Sprintf", "fmt.Sprint", "fmt.Sprintln":
					t.Errorf("%s phrases with %s", f.path, called(n))
				}
			case *ast.Field:
				return n.Tag == nil // a tag is for machines
			case *ast.BasicLit:
				if text, err := strconv.Unquote(n.Value); n.Kind == token.STRING && (err != nil || words(text)) {
					t.Errorf("%s says %s", f.path, n.Value)
				}
			}
			return true
		})
	}
	if files < 10 {
		t.Errorf("only %d files of findings were read", files)
	}
}

// called names what a call calls, "" for what is no plain name.
func called(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		if p, ok := f.X.(*ast.Ident); ok {
			return p.Name + "." + f.Sel.Name
		}
	}
	return ""
}

// Texts use one word for one thing (see the glossary of DEVELOPERS.md): designs are
// rejected, and what rejects them is a requirement, which code alone calls a gate.
func TestTextsKeepToTheGlossary(t *testing.T) {
	t.Parallel()
	banned := []struct {
		text *regexp.Regexp
		want string
	}{
		{regexp.MustCompile(`(?i)\bturn(s|ed|ing)?[ _]away\b`), "rejected"},
		{regexp.MustCompile(`(?i)\bturn(s|ed|ing)?\b[^.;:]{1,30}\baway\b`), "rejected"},
		{regexp.MustCompile(`\bgates?\b`), "a requirement"},
	}
	// The gate of a transistor is the trade's.
	drive := strings.NewReplacer("gate drive", "")
	check := func(where, text string) {
		text = drive.Replace(text)
		for _, b := range banned {
			if found := b.text.FindString(text); found != "" {
				t.Errorf("%s says %q, want %s", where, found, b.want)
			}
		}
	}
	literals := 0
	for _, f := range sources(t) {
		check(f.path, f.tree.Doc.Text())
		ast.Inspect(f.tree, func(n ast.Node) bool {
			if x, ok := n.(*ast.BasicLit); ok && x.Kind == token.STRING {
				literals++
				check(f.path, x.Value)
			}
			return true
		})
	}
	if literals < 1000 {
		t.Errorf("only %d texts were read", literals)
	}
	files, err := filepath.Glob(root + "/configs/*.flags")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d flag files: %v", len(files), err)
	}
	for _, name := range append(files, root+"/README.md") {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		check(name, string(text))
	}
}
