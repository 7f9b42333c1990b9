package main

import (
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// completions are lines that are typed, the last word being completed, and what
// a shell must offer for it.
var completions = []struct {
	line string
	want []string
}{
	{"rotorsieve sw", []string{"sweep"}},
	{"rotorsieve sweep --pack-", []string{"--pack-aged", "--pack-grade", "--pack-temperature"}},
	{"rotorsieve sweep --pack-grade 18", []string{"18650-energy", "18650-power"}},
	{"rotorsieve sweep --pack-grade=18", []string{"--pack-grade=18650-energy", "--pack-grade=18650-power"}},
	{"rotorsieve explain --frame-build b", []string{"beam"}},
	{"rotorsieve sweep --require hover-tim", []string{"hover-time>="}},
	{"rotorsieve sweep --require auw", []string{"auw<="}},
	{"rotorsieve sweep --front hover-time,clim", []string{"hover-time,climb-rate"}},
	{"rotorsieve sweep --front=auw,range,clim", []string{"--front=auw,range,climb-rate"}},
	{"rotorsieve sweep --merit rang", []string{"range:"}},
	{"rotorsieve sweep --map diameter,pay", []string{"diameter,payload"}},
	{"rotorsieve sweep --like pitch", []string{"pitch-ratio=", "pitch="}},
	{"rotorsieve sweep --temperature s", []string{"standard"}},
	{"rotorsieve sweep --out fol", []string{"folder/"}},
	{"rotorsieve sweep @stu", []string{"@study.flags"}},
	{"rotorsieve rotor --blade bl", []string{"blade.csv"}},
	{"rotorsieve merge fol", []string{"folder/"}},
	{"rotorsieve help requ", []string{"requirements"}},
	{"rotorsieve completion f", []string{"fish"}},
	{"rotorsieve sweep --quiet --resu", []string{"--resume"}},
	{"rotorsieve sweep --diameter ", nil},
	{"rotorsieve version --qui", nil},
}

// shell finds a shell, and prepares a folder with files to complete.
func shell(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("no %s here", name)
	}
	writeFiles(t, map[string]string{"folder/inside": "", "study.flags": "", "blade.csv": "", "script": said(t, "completion", name)})
	return path
}

func TestBashCompletion(t *testing.T) {
	bash := shell(t, "bash")
	// Bash itself parts the line at these signs.
	parts := regexp.MustCompile(`[=:@<>]+|[^\s=:@<>]+`)
	for _, c := range completions {
		words := parts.FindAllString(c.line, -1)
		if strings.HasSuffix(c.line, " ") {
			words = append(words, "")
		}
		var quotedWords []string
		for _, w := range words {
			quotedWords = append(quotedWords, quoted(w))
		}
		last := words[len(words)-1]
		if strings.Trim(last, "=:@<>") == "" {
			last = ""
		}
		typed := c.line[strings.LastIndex(c.line, " ")+1:]
		before := strings.TrimSuffix(typed, last) // stays as it is
		script := fmt.Sprintf("source ./script; COMP_LINE=%s COMP_POINT=%d COMP_WORDS=(%s) COMP_CWORD=%d; _rotorsieve; printf '%%s\\n' \"${COMPREPLY[@]}\"",
			quoted(c.line), len(c.line), strings.Join(quotedWords, " "), len(words)-1)
		out, err := exec.Command(bash, "--norc", "-c", script).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		var got []string
		for _, w := range strings.Fields(string(out)) {
			got = append(got, before+strings.ReplaceAll(w, `\`, ""))
		}
		offered(t, c.line, got, c.want)
	}
}

func TestFishCompletion(t *testing.T) {
	fish := shell(t, "fish")
	for _, c := range completions {
		command := exec.Command(fish, "--no-config", "-c", "source ./script; complete -C $argv[1]", c.line)
		command.Env = append(os.Environ(), "HOME="+t.TempDir())
		out, err := command.CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		var got []string
		for line := range strings.Lines(string(out)) {
			word, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
			got = append(got, word)
		}
		offered(t, c.line, got, c.want)
	}
}

// A zsh that is not at a terminal completes nothing; it reads the script, and
// the words of the flags are there.
func TestZshCompletion(t *testing.T) {
	zsh := shell(t, "zsh")
	out, err := exec.Command(zsh, "-f", "-c", "autoload -U compinit; compinit -u -D; source ./script; whence -w _rotorsieve; print $_comps[rotorsieve]").CombinedOutput()
	if err != nil || string(out) != "_rotorsieve: function\n_rotorsieve\n" {
		t.Errorf("%v\n%s", err, out)
	}
	script := said(t, "completion", "zsh")
	for _, want := range []string{"'*--pack-grade=[cells of the pack]:grade: _rotorsieve_words \"high-rate\"", "'*--quiet[no progress]'",
		"'*--out=[for the results (default out/NAME)]:folder:_files -/'", `"hover-time\:"`, `"hover-time>="`} {
		if !strings.Contains(script, want) {
			t.Errorf("the script has no %s", want)
		}
	}
}

func offered(t *testing.T, line string, got, want []string) {
	t.Helper()
	slices.Sort(got)
	want = slices.Sorted(slices.Values(want))
	if !slices.Equal(got, want) {
		t.Errorf("%q: %q, want %q", line, got, want)
	}
}

// Every flag of every command is in every script, but for those that take
// nothing a value may be offered.
func TestCompletionHasAllFlags(t *testing.T) {
	for _, s := range shells {
		script := s.script(allCompleted())
		for _, c := range allCompleted() {
			for _, f := range c.flags {
				if !strings.Contains(script, "--"+f.name) && !strings.Contains(script, "-l "+f.name) {
					t.Errorf("%s: %s --%s is missing", s.name, c.name, f.name)
				}
			}
		}
	}
}
