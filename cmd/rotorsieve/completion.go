package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"
)

const completionHead = `rotorsieve completion prints a script that makes a shell complete commands, flags
and what flags take: metrics, axes, grades, files and folders. In one session:

  source <(rotorsieve completion bash)
  source <(rotorsieve completion zsh)
  rotorsieve completion fish | source

To keep it, write it where the shell looks: for bash into rotorsieve in
~/.local/share/bash-completion/completions, for zsh into _rotorsieve in a folder
of fpath, for fish into rotorsieve.fish in ~/.config/fish/completions.
`

// shells are those for which there is a completion.
var shells = []struct {
	name   string
	script func(all []completed) string
}{
	{"bash", bashCompletion}, {"zsh", zshCompletion}, {"fish", fishCompletion},
}

func shellNames() []string {
	var names []string
	for _, s := range shells {
		names = append(names, s.name)
	}
	return names
}

func runCompletion(_ context.Context, args []string, stdout, _ io.Writer) error {
	rest, helped, err := parseArguments(newFlagGroups("completion"), completionHead, args, stdout)
	if helped || err != nil {
		return err
	}
	if len(rest) != 1 {
		return fmt.Errorf("%d shells to complete in, want one of %s", len(rest), strings.Join(shellNames(), ", "))
	}
	for _, s := range shells {
		if s.name == rest[0].text {
			_, err := io.WriteString(stdout, s.script(allCompleted()))
			return err
		}
	}
	return fmt.Errorf("no completion for %q, %s", rest[0].text, wanted(rest[0].text, shellNames()))
}

// completed is what a shell completes of a command.
type completed struct {
	*command
	flags []completedFlag
}

// completedFlag is a flag as a shell completes it.
type completedFlag struct {
	name   string
	help   string   // short
	toggle bool     // takes no value
	item   string   // what it takes
	words  []string // that its value may begin with
	list   bool     // several words with commas
}

// allCompleted describes all commands.
func allCompleted() []completed {
	var all []completed
	for i := range commands {
		c := completed{command: &commands[i]}
		for _, fs := range describe(c.command).groups {
			fs.VisitAll(func(f *pflag.Flag) { c.flags = append(c.flags, complete(f)) })
		}
		c.flags = append(c.flags, completedFlag{name: "help", help: "print the manual", toggle: true})
		all = append(all, c)
	}
	return all
}

func complete(f *pflag.Flag) completedFlag {
	c := completedFlag{name: f.Name, item: placeholder(f), toggle: f.NoOptDefVal != ""}
	c.help, _, _ = strings.Cut(f.Usage, "; ")
	c.help, _, _ = strings.Cut(c.help, ": ")
	if o, ok := f.Value.(offerer); ok {
		c.words = o.offers()
	}
	_, c.list = f.Value.(renewer)
	return c
}
