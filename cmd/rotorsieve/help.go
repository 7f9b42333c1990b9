package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"rotorsieve/model"
)

const helpHead = `rotorsieve help prints the list of commands, or the manual of a command or topic.

  rotorsieve help
  rotorsieve help sweep
  rotorsieve help units
`

func runHelp(_ context.Context, args []string, stdout, _ io.Writer) error {
	rest, helped, err := parseArguments(newFlagGroups("help"), helpHead, args, stdout)
	if helped || err != nil {
		return err
	}
	switch len(rest) {
	case 0:
		_, err := io.WriteString(stdout, overview())
		return err
	case 1:
	default:
		return fmt.Errorf("help of %d things, want that of one command or topic", len(rest))
	}
	name := rest[0].text
	for i := range topics {
		if topics[i].name == name {
			_, err := io.WriteString(stdout, filled(topics[i].text()))
			return err
		}
	}
	c, err := findCommand(name)
	if err != nil {
		return fmt.Errorf("no command or topic %q, %s", name, helpWanted(name))
	}
	describe(c).show(stdout)
	return nil
}

// helpWanted says where the help is that was wanted by a name which has no page
// of its own.
func helpWanted(name string) string {
	if _, ok := model.LookupMetric(name); ok {
		return "it is a metric: rotorsieve metrics says what it means"
	}
	for i := range commands {
		for _, fs := range describe(&commands[i]).groups {
			if f := fs.Lookup(strings.TrimPrefix(name, "--")); f != nil {
				return fmt.Sprintf("it is a flag: rotorsieve help %s says what it does", commands[i].name)
			}
		}
	}
	return wanted(name, helpNames())
}

// helpNames lists all that help knows.
func helpNames() []string {
	names := commandNames()
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
func overview() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n  %s\n", summary, synopsis)
	for i := range commands {
		c := &commands[i]
		if c.group != "" {
			fmt.Fprintf(&b, "\n%s:\n", c.group)
		}
		fmt.Fprintf(&b, "  %-14s%s\n", c.name, c.line)
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
