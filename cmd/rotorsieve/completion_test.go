package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

const (
	spaced   = cobra.ShellCompDirectiveNoFileComp
	unspaced = spaced | cobra.ShellCompDirectiveNoSpace
	byShell  = cobra.ShellCompDirectiveDefault
	dirs     = cobra.ShellCompDirectiveFilterDirs
)

// completions are lines that are typed, the last word being completed, what must be
// offered for it, and what the shell is to do then. Of files and folders, which the
// shell itself looks for, there are those of placed.
var completions = []struct {
	line string
	want []string
	then cobra.ShellCompDirective
}{
	{"rotorsieve sw", []string{"sweep"}, spaced},
	{"rotorsieve he", []string{"help"}, spaced},
	{"rotorsieve --v", []string{"--version"}, spaced},
	{"rotorsieve sweep --pack-", []string{"--pack-aged", "--pack-grade", "--pack-temperature"}, spaced},
	{"rotorsieve sweep --pack-grade 18", []string{"18650-energy", "18650-power"}, spaced},
	{"rotorsieve sweep --pack-grade=18", []string{"--pack-grade=18650-energy", "--pack-grade=18650-power"}, spaced},
	{"rotorsieve explain --frame-build b", []string{"beam"}, spaced},
	{"rotorsieve explain --to", nil, spaced}, // of a flag file alone
	{"rotorsieve sweep --require hover-tim", []string{"hover-time>="}, unspaced},
	{"rotorsieve sweep --require auw", []string{"auw<="}, unspaced},
	{`rotorsieve sweep --require hover-time\>=6min,auw`, []string{"hover-time>=6min,auw<="}, unspaced},
	{"rotorsieve sweep --front hover-time,clim", []string{"hover-time,climb-rate"}, spaced},
	{"rotorsieve sweep --front=auw,range,clim", []string{"--front=auw,range,climb-rate"}, spaced},
	{"rotorsieve sweep --front auw --fron", []string{"--front"}, spaced}, // a list may be gathered
	{"rotorsieve sweep --kv 900 --kv", nil, spaced},
	{"rotorsieve sweep --merit rang", []string{"range-return:", "range-upwind:", "range:"}, unspaced},
	{"rotorsieve sweep --merit range:0.4:1km:9km,cruise-ti", []string{"range:0.4:1km:9km,cruise-time:"}, unspaced},
	{"rotorsieve sweep --merit range:0.4:1km:9km,cruise-time:", nil, spaced},
	{"rotorsieve sweep --map diameter,pay", []string{"diameter,payload"}, spaced},
	{"rotorsieve sweep --figures en", []string{"envelope"}, spaced},
	{"rotorsieve sweep --map stator,cells --figures stat", []string{"stator-cells"}, spaced},
	{"rotorsieve sweep --like pitch", []string{"pitch-ratio=", "pitch="}, unspaced},
	{"rotorsieve sweep --temperature s", []string{"standard"}, spaced},
	{"rotorsieve parts --like fol", []string{"folder/"}, dirs},
	{"rotorsieve parts --prop", []string{"--propellers"}, spaced},
	{"rotorsieve sweep --out fol", []string{"folder/"}, dirs},
	{"rotorsieve sweep @stu", []string{"@study.flags"}, spaced},
	{"rotorsieve sweep @fol", []string{"@folder/"}, unspaced},
	{"rotorsieve sweep --quiet @folder/ins", []string{"@folder/inside.flags"}, spaced},
	{"rotorsieve sweep @study.flags --resu", []string{"--resume"}, spaced},
	{"rotorsieve rotor --blade bl", []string{"blade.csv"}, byShell},
	{"rotorsieve merge fol", []string{"folder/"}, dirs},
	{"rotorsieve compare folder fol", []string{"folder/"}, dirs},
	{"rotorsieve help requ", []string{"requirements"}, spaced},
	{"rotorsieve help ver", []string{"version"}, spaced},
	{"rotorsieve help units st", nil, spaced},
	{"rotorsieve completion f", []string{"fish"}, spaced},
	{"rotorsieve sweep --quiet --resu", []string{"--resume"}, spaced},
	{"rotorsieve sweep --diameter ", nil, spaced},
	{"rotorsieve version --qui", nil, spaced},
	{"rotorsieve sweep swe", nil, spaced},
}

// placed are files and folders to complete.
var placed = map[string]string{"folder/inside.flags": "", "study.flags": "", "blade.csv": "", ".hidden": ""}

// completed asks for the completion of the last of words, as the scripts do.
func completed(t *testing.T, words ...string) (found []string, then cobra.ShellCompDirective) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	request := append([]string{cobra.ShellCompNoDescRequestCmd}, words...)
	if status := run(context.Background(), request, &stdout, &stderr); status != 0 {
		t.Fatalf("%q: status %d, %s", words, status, &stderr)
	}
	lines := strings.Split(strings.TrimSuffix(stdout.String(), "\n"), "\n")
	last := len(lines) - 1
	if _, err := fmt.Sscanf(lines[last], ":%d", &then); err != nil {
		t.Fatalf("%q: %v\n%s", words, err, &stdout)
	}
	return lines[:last], then
}

func TestCompletion(t *testing.T) {
	writeFiles(t, placed)
	for _, c := range completions {
		words := strings.Split(strings.ReplaceAll(c.line, `\`, ""), " ")
		got, then := completed(t, words[1:]...)
		if then != c.then {
			t.Errorf("%q: directive %d, want %d", c.line, then, c.then)
		}
		if c.then == byShell || c.then == dirs {
			if len(got) > 0 {
				t.Errorf("%q: %q, want the shell to look", c.line, got)
			}
			continue
		}
		if flag, _, ok := strings.Cut(words[len(words)-1], "="); ok && strings.HasPrefix(flag, "--") {
			for i := range got {
				got[i] = flag + "=" + got[i] // which the scripts put there
			}
		}
		offered(t, c.line, got, c.want)
	}
}

// Every flag of every command is offered there, but none that is taken from a flag
// file alone, and so is every command and topic where one is wanted.
func TestCompletionHasAll(t *testing.T) {
	root := newRoot()
	for _, c := range commandsOf(root) {
		want := []string{"--help"}
		for _, fs := range groupsOf(c) {
			fs.VisitAll(func(f *pflag.Flag) { want = append(want, "--"+f.Name) })
		}
		got, _ := completed(t, c.Name(), "--")
		offered(t, c.Name()+" --", got, want)
	}
	got, _ := completed(t, "")
	offered(t, "", got, commandNames(root))
	got, _ = completed(t, "help", "")
	offered(t, "help ", got, helpNames(root))
}

// What is offered with a flag is said beside it.
func TestCompletionDescribes(t *testing.T) {
	if got, want := said(t, cobra.ShellCompRequestCmd, "sweep", "--qui"), "--quiet\tno progress\n:4\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := said(t, cobra.ShellCompRequestCmd, "vers"), "version\tprint the version\n:4\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// shell finds a shell, and prepares a folder with files to complete.
func shell(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("no %s here", name)
	}
	writeFiles(t, placed)
	if err := os.WriteFile("script", []byte(said(t, "completion", name)), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestBashCompletion(t *testing.T) {
	bash := shell(t, "bash")
	// Bash itself parts the line at these signs.
	parts := regexp.MustCompile(`[=:@<>]+|(?:\\.|[^\s=:@<>])+`)
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
		// Without -o default, bash would look for files only at a terminal.
		script := fmt.Sprintf("source ./script; COMP_LINE=%s COMP_POINT=%d COMP_WORDS=(%s) COMP_CWORD=%d; "+
			`__rotorsieve_words; printf '%%s\n' "${COMPREPLY[@]}"`, quoted(c.line), len(c.line),
			strings.Join(quotedWords, " "), len(words)-1)
		command := exec.Command(bash, "--norc", "-c", script)
		var complaints bytes.Buffer
		command.Stderr = &complaints
		out, err := command.Output()
		if err != nil || strings.Contains(complaints.String(), "not found") {
			t.Fatalf("%q: %v\n%s", c.line, err, &complaints)
		}
		var got []string
		for line := range strings.Lines(string(out)) {
			word, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "  (") // what is said beside it
			if word != "" {
				got = append(got, strings.ReplaceAll(before+strings.TrimRight(word, " "), `\`, ""))
			}
		}
		want := c.want
		switch c.then {
		case byShell:
			want = nil // readline looks for them
		case dirs:
			want = []string{"folder"} // readline adds the slash
		}
		offered(t, c.line, got, want)
	}
}

func TestFishCompletion(t *testing.T) {
	fish := shell(t, "fish")
	for _, c := range completions {
		if strings.Contains(c.line, `\`) {
			continue // cobra's script for fish hands such a word on as it stands, not as fish reads it
		}
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

// A zsh that is not at a terminal completes nothing; it reads the script.
func TestZshCompletion(t *testing.T) {
	for _, name := range []string{"zsh", "fish"} {
		script := said(t, "completion", name)
		if strings.Contains(script, "'-.*='") || strings.Count(script, "'^-[^=]*='") != 1 {
			t.Errorf("the script for %s takes hover-time>= for a flag", name)
		}
	}
	zsh := shell(t, "zsh")
	out, err := exec.Command(zsh, "-f", "-c", "autoload -U compinit; compinit -u -D; source ./script; "+
		"whence -w _rotorsieve; print $_comps[rotorsieve]").CombinedOutput()
	if err != nil || string(out) != "_rotorsieve: function\n_rotorsieve\n" {
		t.Errorf("%v\n%s", err, out)
	}
}

// quoted is a text in single quotes, for a shell.
func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

func offered(t *testing.T, line string, got, want []string) {
	t.Helper()
	slices.Sort(got)
	want = slices.Sorted(slices.Values(want))
	if !slices.Equal(got, want) {
		t.Errorf("%q: %q, want %q", line, got, want)
	}
}
