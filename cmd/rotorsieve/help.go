package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rotorsieve/model"
)

const helpHead = `rotorsieve help prints the list of commands, or the manual of a command or topic.

  rotorsieve help
  rotorsieve help sweep
  rotorsieve help units
`

func helpCommand() *cobra.Command {
	return newFlagGroups("help").command(&cobra.Command{
		GroupID: ofProgram, Short: "print this, or the manual of a command or topic", Long: helpHead,
		ValidArgsFunction: func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			return oneOf(helpNames(c.Root()), args, typed)
		},
	}, func(c *cobra.Command, about []argument) error {
		switch len(about) {
		case 0:
			_, err := io.WriteString(c.OutOrStdout(), overview(c.Root()))
			return err
		case 1:
			return helpOn(c.Root(), about[0].text, c.OutOrStdout())
		}
		return fmt.Errorf("help of %d things, want that of one command or topic", len(about))
	})
}

// helpOn prints the page of a topic or the manual of a command.
func helpOn(root *cobra.Command, name string, stdout io.Writer) error {
	for i := range topics {
		if topics[i].name == name {
			_, err := io.WriteString(stdout, filled(topics[i].text()))
			return err
		}
	}
	c, _, _ := root.Find([]string{name}) // root itself where there is none
	if c == root {
		return fmt.Errorf("no command or topic %q, %s", name, helpWanted(root, name))
	}
	manualOf(c).show(stdout)
	return nil
}

// helpWanted says where to find the help on a name that has no page.
func helpWanted(root *cobra.Command, name string) string {
	if _, ok := model.LookupMetric(name); ok {
		return "it is a metric: rotorsieve metrics says what it means"
	}
	for _, c := range commandsOf(root) {
		for _, fs := range groupsOf(c) {
			if f := fs.Lookup(strings.TrimPrefix(name, "--")); f != nil {
				return fmt.Sprintf("it is a flag: rotorsieve help %s says what it does", c.Name())
			}
		}
	}
	return wanted(name, helpNames(root))
}

// helpNames lists all that help knows.
func helpNames(root *cobra.Command) []string {
	names := commandNames(root)
	for i := range topics {
		names = append(names, topics[i].name)
	}
	return names
}

const synopsis = "rotorsieve COMMAND [@FILE] [--flag value]..."

const summary = `rotorsieve sizes small electric multirotors: it sweeps propeller, motor, pack
and payload through a physical model and ranks the designs that keep the
requirements.
`

// overview is the help of the whole program.
func overview(root *cobra.Command) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n  %s\n", root.Long, root.Use)
	group := ""
	for _, c := range commandsOf(root) {
		if c.GroupID != group {
			group = c.GroupID
			fmt.Fprintf(&b, "\n%s:\n", group)
		}
		fmt.Fprintf(&b, "  %-14s%s\n", c.Name(), c.Short)
	}
	fmt.Fprintf(&b, "\nTopics:\n")
	for i := range topics {
		fmt.Fprintf(&b, "  %-14s%s\n", topics[i].name, topics[i].line)
	}
	fmt.Fprintf(&b, `
To begin with:
  rotorsieve sweep --class 249g              the best designs of a weight class
  rotorsieve explain --diameter 5in --why    one design, every number
  rotorsieve help sweep                      the flags of a study

Exit status:
%s`, statusTable())
	return b.String()
}
