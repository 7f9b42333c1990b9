package main

import (
	"bytes"
	"context"
	"go/parser"
	"go/token"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/spf13/pflag"
)

// said runs a command that must succeed and returns what it prints.
func said(t *testing.T, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := run(context.Background(), args, &stdout, &stderr); status != 0 {
		t.Fatalf("rotorsieve %s: status %d, %s", strings.Join(args, " "), status, stderr.String())
	}
	return stdout.String()
}

// Every help fits 80 columns, says in its first words what it is of, and has an
// example; what stands as it is fits a manual page.
func TestHelpIsReadable(t *testing.T) {
	pages := map[string]string{"": said(t, "help")}
	root := newRoot()
	for _, name := range helpNames(root) {
		pages[name] = said(t, "help", name)
	}
	for name, text := range pages {
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > helpWidth {
				t.Errorf("help %s: a line of %d columns: %s", name, n, line)
			}
			if strings.TrimRight(line, " \n")+"\n" != line {
				t.Errorf("help %s: %q ends in spaces", name, line)
			}
		}
		if !strings.Contains(text, "\n  rotorsieve "+strings.TrimSpace(name)) && !isTopic(name) {
			t.Errorf("help %s has no example of it", name)
		}
	}
	for _, c := range commandsOf(root) {
		if !strings.HasPrefix(c.Long, "rotorsieve "+c.Name()+" ") {
			t.Errorf("the manual of %s begins %.40q", c.Name(), c.Long)
		}
		checkSetIn(t, c.Name(), c.Long)
	}
	for i := range topics {
		checkSetIn(t, topics[i].name, topics[i].text())
	}
}

func isTopic(name string) bool {
	for i := range topics {
		if topics[i].name == name {
			return true
		}
	}
	return false
}

func checkSetIn(t *testing.T, name, prose string) {
	t.Helper()
	for line := range strings.Lines(prose) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); strings.HasPrefix(line, "  ") && n > setInMost {
			t.Errorf("%s: %d columns, want up to %d: %s", name, n, setInMost, line)
		}
	}
}

// --help after a command is help of the command.
func TestHelpFlag(t *testing.T) {
	for _, name := range commandNames(newRoot()) {
		if said(t, "help", name) != said(t, name, "--help") {
			t.Errorf("help %s and %s --help differ", name, name)
		}
	}
	if said(t, "help") != said(t, "--help") || said(t, "help") != said(t, "-h") {
		t.Error("help, --help and -h differ")
	}
}

// The program's doc comment lists the commands as the help does, and the topics.
func TestDocComment(t *testing.T) {
	doc := docComment(t)
	for _, c := range commandsOf(newRoot()) {
		if !regexp.MustCompile(`\n\t` + c.Name() + ` +` + regexp.QuoteMeta(c.Short) + `\n`).MatchString(doc) {
			t.Errorf("the doc comment has no line of %s, %s", c.Name(), c.Short)
		}
	}
	listed := regexp.MustCompile(`The topics of help are ([^.]*)\.`).FindStringSubmatch(doc)
	if listed == nil {
		t.Fatal("the doc comment does not list the topics")
	}
	var names []string
	for i := range topics {
		names = append(names, topics[i].name)
	}
	last := len(names) - 1
	if want := strings.Join(names[:last], ", ") + " and " + names[last]; listed[1] != want {
		t.Errorf("the doc comment lists %s, want %s", listed[1], want)
	}
}

func docComment(t *testing.T) string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "main.go", nil, parser.ParseComments|parser.PackageClauseOnly)
	if err != nil {
		t.Fatal(err)
	}
	return f.Doc.Text()
}

// A number alone means what the unit of the flag's default says, as help units
// promises; per cent is always written.
func TestUnitsOfDefaults(t *testing.T) {
	checked := 0
	for _, c := range commandsOf(newRoot()) {
		for _, fs := range groupsOf(c) {
			fs.VisitAll(func(f *pflag.Flag) {
				q, ok := f.Value.(*quantity)
				if !ok || f.DefValue == q.word {
					return
				}
				checked++
				symbol := strings.TrimLeft(f.DefValue, "-0123456789.")
				if symbol != q.kind.Default().Symbol && symbol != "%" {
					t.Errorf("%s --%s: default %s, but a number alone is in %q", c.Name(), f.Name, f.DefValue,
						q.kind.Default().Symbol)
				}
			})
		}
	}
	if checked < 20 {
		t.Errorf("%d flags checked", checked)
	}
}

// small makes any sweep quick, whatever stood before it.
var small = []string{"--diameter", "4in,5in", "--pitch-ratio", "0.7", "--blades", "2", "--stator", "1404,2207", "--kv",
	"1350,1750",
	"--cells", "4,6", "--capacity", "650,1050mAh", "--figures", "none", "--quiet", "--draws", "0"}

// The examples of the doc comment and of every help are run as they stand there,
// but for sweeps, which are made small.
func TestExamplesRun(t *testing.T) {
	defer func(d time.Duration) { trial = d }(trial)
	trial = 10 * time.Millisecond
	texts := map[string]string{"the doc comment": docComment(t), "help": overview(newRoot())}
	for _, c := range commandsOf(newRoot()) {
		texts["help "+c.Name()] = c.Long
	}
	for i := range topics {
		texts["help "+topics[i].name] = topics[i].text()
	}
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	texts["README.md"] = strings.ReplaceAll(string(text), "\n    out/bin/rotorsieve ", "\n  rotorsieve ")
	configs, err := filepath.Abs("../../configs")
	if err != nil {
		t.Fatal(err)
	}
	ran := 0
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			writeFiles(t, map[string]string{
				"bench.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,10000,190,22\n" +
					"5,4.3,3,20000,820,170\n",
				"stand.csv": "rpm,voltage_V,current_A,thrust_g,throttle\n10000,11,2.2,130,0.45\n" +
					"15000,10.9,6.1,300,0.7\n18900,10.6,12.5,490,1\n",
				"three-inch.flags": setIn(texts["README.md"], "# three-inch.flags"),
				"myblade.csv": "r/R,c/R,beta\n0.15,0.19,40\n0.3,0.2,37\n0.5,0.21,29\n0.75,0.18,20.5\n0.9,0.13,16.5\n" +
					"1,0.05,13\n",
			})
			if err := os.CopyFS("configs", os.DirFS(configs)); err != nil {
				t.Fatal(err)
			}
			if name == "help compare" { // it tells of runs that are there
				for _, run := range []string{"ridge-scout", "heavier", "a", "b", "c"} {
					said(t, append([]string{"sweep", "--name", run}, small...)...)
				}
			}
			if name == "help explain" || name == "help parts" {
				for _, run := range []string{"ridge-scout", "heavier"} {
					said(t, append([]string{"sweep", "--name", run, "--class", "900g"}, small...)...)
				}
			}
			for _, args := range examples(t, text) {
				ran++
				if args[0] == "sweep" {
					args = append(args, lessened(args)...)
				}
				said(t, globbed(t, args)...)
			}
		})
	}
	if ran < 40 {
		t.Errorf("%d examples found", ran)
	}
}

// lessened is small, but for the axes where the cells or the parts of an example are of its own.
func lessened(args []string) []string {
	own := slices.ContainsFunc(args, func(a string) bool {
		return a == "--pack-grade" || a == "--motors" || strings.Contains(a, "parts-drawer.flags")
	})
	if own {
		return small[slices.Index(small, "--figures"):]
	}
	return small
}

// setIn is the text that is set in after a line of it.
func setIn(text, first string) string {
	_, after, _ := strings.Cut(text, "    "+first+"\n")
	var b strings.Builder
	for line := range strings.Lines(after) {
		line, ok := strings.CutPrefix(line, "    ")
		if !ok {
			break
		}
		b.WriteString(line)
	}
	return b.String()
}

// examples are the commands in a text, one a line that is set in, as a shell
// would take them apart. What they are piped into is left out.
func examples(t *testing.T, text string) [][]string {
	t.Helper()
	var all [][]string
	text = regexp.MustCompile(`\\\n *`).ReplaceAllString(text, " ")
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, "\trotorsieve ") && !strings.HasPrefix(line, "  rotorsieve ") ||
			strings.Contains(line, "COMMAND") {
			continue
		}
		line, _, _ = strings.Cut(line, " | ")
		line, _, _ = strings.Cut(line, " > ")
		line, _, _ = strings.Cut(line, "   ") // what it is for
		var args []string
		for _, word := range regexp.MustCompile(`(?:[^\s']|'[^']*')+`).FindAllString(line, -1)[1:] {
			args = append(args, strings.ReplaceAll(word, "'", ""))
		}
		all = append(all, args)
	}
	return all
}

// globbed puts the files that a pattern names in its place.
func globbed(t *testing.T, args []string) []string {
	t.Helper()
	var out []string
	for _, a := range args {
		if !strings.Contains(a, "*") {
			out = append(out, a)
			continue
		}
		files, err := filepath.Glob(a)
		if err != nil || len(files) == 0 {
			t.Fatalf("no files %s, %v", a, err)
		}
		out = append(out, files...)
	}
	return out
}

// A help that cannot be written ends with an error, as a full disk would have it.
func TestHelpWriteFails(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"help", "units"}, {"man"}, {"metrics"}, {"version"},
		{"completion", "bash"}} {
		var stderr bytes.Buffer
		if status := run(context.Background(), args, closed{}, &stderr); status != 2 ||
			!strings.Contains(stderr.String(), io.ErrClosedPipe.Error()) {
			t.Errorf("%v: status %d, %s", args, status, stderr.String())
		}
	}
}

type closed struct{}

func (closed) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }
