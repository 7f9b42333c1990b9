package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

const completionHead = `rotorsieve completion prints a script that makes a shell complete commands, flags
and what flags take: metrics, axes, grades, pictures, files and folders. In one
session:

  source <(rotorsieve completion bash)
  source <(rotorsieve completion zsh)
  rotorsieve completion fish | source
  rotorsieve completion powershell | Out-String | Invoke-Expression

To keep it, write it where the shell looks: for bash into rotorsieve in
~/.local/share/bash-completion/completions, for zsh into _rotorsieve in a folder
of fpath, for fish into rotorsieve.fish in ~/.config/fish/completions, for
powershell at the end of the file that $PROFILE names.
`

// shells are those for which there is a completion.
var shells = []struct {
	name   string
	script func(root *cobra.Command, w io.Writer) error
}{
	{"bash", bashCompletion},
	{"zsh", func(root *cobra.Command, w io.Writer) error { return root.GenZshCompletion(&anchoring{w}) }},
	{"fish", func(root *cobra.Command, w io.Writer) error { return root.GenFishCompletion(&anchoring{w}, true) }},
	{"powershell", (*cobra.Command).GenPowerShellCompletionWithDesc},
}

func shellNames() []string {
	var names []string
	for _, s := range shells {
		names = append(names, s.name)
	}
	return names
}

func completionCommand() *cobra.Command {
	return newFlagGroups("completion").command(&cobra.Command{
		GroupID: ofProgram, Short: "print what makes a shell complete commands and flags", Long: completionHead,
		ValidArgsFunction: func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			return oneOf(shellNames(), args, typed)
		},
	}, func(c *cobra.Command, in []argument) error {
		if len(in) != 1 {
			return fmt.Errorf("%d shells to complete in, want one of %s", len(in), strings.Join(shellNames(), ", "))
		}
		for _, s := range shells {
			if s.name == in[0].text {
				return s.script(c.Root(), c.OutOrStdout())
			}
		}
		return fmt.Errorf("no completion for %q, %s", in[0].text, wanted(in[0].text, shellNames()))
	})
}

// bashWords follows cobra's script for bash, which does not know @ and commas.
const bashWords = `
# Bash parts a line at = : @ < and > as well, and puts what is offered in place of
# the last part. The words of the line are whole here; the @ of a flag file and what
# stands before the last comma of a list stay on the line and are not handed back.
__rotorsieve_words()
{
    local line=${COMP_LINE:0:COMP_POINT} part=${COMP_WORDS[COMP_CWORD]}
    local words cur out directive last before= flag=
    COMPREPLY=()
    read -ra words <<<"$line"
    [[ $line == *[[:space:]] ]] && words+=("")
    last=$((${#words[@]} - 1))
    cur=${words[last]}
    if [[ $cur == *,* && $cur != @* ]]; then
        [[ $cur == --*=* ]] && flag=${cur%%=*}=
        cur=$flag${cur##*,}
        words[last]=$cur
        [[ $part == *,* ]] && before=${part%,*},
    fi
    __rotorsieve_get_completion_results
    __rotorsieve_process_completion_results
    COMPREPLY=("${COMPREPLY[@]#@}")
    COMPREPLY=("${COMPREPLY[@]/#/$before}")
}

# Folders, where there is no package bash-completion that lists them.
declare -F _filedir >/dev/null || _filedir()
{
    local IFS=$'\n'
    COMPREPLY=($(compgen -d -- "$cur"))
    compopt -o filenames 2>/dev/null
}

complete -o default -F __rotorsieve_words rotorsieve
`

func bashCompletion(root *cobra.Command, w io.Writer) error {
	if err := root.GenBashCompletionV2(w, true); err != nil {
		return err
	}
	_, err := io.WriteString(w, bashWords)
	return err
}

// anchoring passes a script on and mends in it what cobra takes for a flag with its
// value: anything from a dash to an equals sign, as in hover-time>=6min.
type anchoring struct{ w io.Writer }

func (a *anchoring) Write(script []byte) (int, error) {
	if _, err := a.w.Write(bytes.ReplaceAll(script, []byte(`'-.*='`), []byte(`'^-[^=]*='`))); err != nil {
		return 0, err
	}
	return len(script), nil
}

// offerAll makes the commands ready for the request of a shell. Cobra completes the
// flags of those alone whose flags it reads itself.
func offerAll(root *cobra.Command) {
	for _, c := range commandsOf(root) {
		c.DisableFlagParsing = false
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if l, ok := f.Value.(renewer); ok {
				l.renewAlways() // cobra reads a line more than once
			}
			if err := c.RegisterFlagCompletionFunc(f.Name, offer(f)); err != nil {
				panic(err) // a flag has one function
			}
		})
	}
}

// offer completes what a flag takes.
func offer(f *pflag.Flag) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		if o, ok := f.Value.(offerer); ok {
			before := ""
			if _, list := f.Value.(renewer); list {
				before = typed[:strings.LastIndex(typed, ",")+1]
			}
			if words := o.offers(); len(words) > 0 {
				return beginning(words, before, typed)
			}
		}
		switch f.Value.Type() {
		case aFile:
			return nil, cobra.ShellCompDirectiveDefault
		case aFolder:
			return nil, cobra.ShellCompDirectiveFilterDirs
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

// beginning are the words, each with before set in front, that begin as typed. One
// that ends in such a character is only begun: no space follows it.
func beginning(words []string, before, typed string) (found []string, then cobra.ShellCompDirective) {
	then = cobra.ShellCompDirectiveNoFileComp
	for _, w := range words {
		w = before + w
		begun := strings.ContainsAny(w[len(w)-1:], "=:/")
		if !strings.HasPrefix(w, typed) || begun && w == typed {
			continue
		}
		if begun {
			then |= cobra.ShellCompDirectiveNoSpace
		}
		found = append(found, w)
	}
	return found, then
}

// oneOf completes the only thing that a command takes beside flags.
func oneOf(words, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		words = nil
	}
	return beginning(words, "", typed)
}

// folders completes those that a command takes beside flags.
func folders(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}

// orFlagFile completes a flag file after @, and otherwise what a command takes beside
// flags; nil stands for nothing.
func orFlagFile(beside cobra.CompletionFunc) cobra.CompletionFunc {
	return func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		path, file := strings.CutPrefix(typed, "@")
		switch {
		case file:
			return beginning(neighbours(path), "@", typed)
		case beside == nil:
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return beside(c, args, typed)
	}
}

// neighbours are the paths of what stands in the folder of a path, of what is hidden
// only where the path asks for such; folders end in a slash.
func neighbours(path string) []string {
	dir, name := filepath.Split(path)
	entries, _ := os.ReadDir(cmp.Or(dir, ".")) // of a folder that cannot be read nothing is offered
	var paths []string
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") && !strings.HasPrefix(name, ".") {
			continue
		}
		p := dir + e.Name()
		if info, err := os.Stat(p); err == nil && info.IsDir() {
			p += "/"
		}
		paths = append(paths, p)
	}
	return paths
}
