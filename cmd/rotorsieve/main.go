// Rotorsieve sweeps the design space of small electric multirotors: every
// combination of propeller, motor, pack and payload goes through one physical
// model; designs that break a requirement are turned away and counted, the rest
// are ranked, mapped and written up as a workbook and pictures.
//
//	rotorsieve COMMAND [@FILE] [--flag value]...
//
// # Commands
//
//	sweep       run a study and write workbook, figures and tables
//	merge       join the shards of one study into its report
//	compare     put finished runs side by side
//	explain     compute one design and print every number
//	rotor       print the curves of one propeller as CSV
//	stand       print what a thrust stand would show of a motor and a propeller
//	classes     list masses at which published rules change
//	metrics     list what is computed of a design
//	help        print this, or the manual of a command or topic
//	completion  print what makes a shell complete commands and flags
//	man         print the manual page
//	version     print the version
//
// The topics of help are units, ranges, requirements, merit, files and status.
//
// # A study
//
// A study is a design space, a mission and assumptions; each has a flag, and each
// flag a default, so that a weight class alone is a study. What stood at its
// default is said in every output. What is to be run can be seen beforehand:
//
//	rotorsieve sweep --class 249g --payload 0g,25g --dry-run
//	rotorsieve sweep --class 249g --payload 0g,25g --name camera
//
// A study is kept in a flag file, one flag a line, and refined on the command
// line, where later flags win:
//
//	rotorsieve sweep @configs/ridge-scout.flags
//	rotorsieve sweep @configs/ridge-scout.flags --payload 0g,40g --name heavier
//	rotorsieve compare out/ridge-scout out/heavier
//
// Its answer is in out/NAME: review.xlsx, the workbook for a design review;
// figures; ranking.csv; effective.flags, which runs the same study again; and
// run.json, the record of the run.
//
// A long study goes on where it was interrupted, with --resume. It can be shared
// out over processes or machines and joined:
//
//	rotorsieve sweep @configs/quarter-kilo.flags --shard 1/2
//	rotorsieve sweep @configs/quarter-kilo.flags --shard 2/2
//	rotorsieve merge out/quarter-kilo/shard-00001-of-00002 out/quarter-kilo/shard-00002-of-00002
//
// # One design
//
// Every mass, operating point and limit of one design, with the formula and
// source of each number:
//
//	rotorsieve explain --diameter 5in --pitch 4in --stator 2207 --kv 1300 --why
//	rotorsieve rotor --diameter 5in --pitch 4.3in --blades 3 --rpm 10000:30000:5000
//
// # Exit status
//
//   - 0: done; a study of which no design is feasible is done as well
//   - 1: explain: the design does not keep a requirement, or does not fly
//   - 2: a flag, a file or a folder that cannot be used: one line on standard error
//     says what is wrong, where, and what would be right, and nothing is written
//   - 3: a run, or a shard, that was ended early by an interrupt or --max-time:
//     --resume goes on with it
//   - 4: a self-audit failed: a bound by which designs are passed by did not hold;
//     the results are written and marked, and one line on standard error says what
//     to report
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"unicode"

	"github.com/spf13/pflag"
)

// version is stamped by the build.
var version = "dev"

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // who interrupts twice does not want to wait
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// command is one thing that rotorsieve does.
type command struct {
	name, line string
	run        func(ctx context.Context, args []string, stdout, stderr io.Writer) error
	group      string          // of the list of commands; the first of a group names it
	operands   func() []string // what it takes beside flags, nil for nothing: aFolder, or words
}

var commands []command

func init() {
	commands = []command{
		{name: "sweep", run: runSweep, line: "run a study and write workbook, figures and tables", group: "Studies"},
		{name: "merge", run: runMerge, line: "join the shards of one study into its report", operands: folders},
		{name: "compare", run: runCompare, line: "put finished runs side by side", operands: folders},
		{name: "explain", run: runExplain, line: "compute one design and print every number", group: "One design"},
		{name: "rotor", run: runRotor, line: "print the curves of one propeller as CSV"},
		{name: "stand", run: runStand, line: "print what a thrust stand would show of a motor and a propeller"},
		{name: "classes", run: runClasses, line: "list masses at which published rules change", group: "Lists"},
		{name: "metrics", run: runMetrics, line: "list what is computed of a design"},
		{name: "help", run: runHelp, line: "print this, or the manual of a command or topic", group: "This program", operands: helpNames},
		{name: "completion", run: runCompletion, line: "print what makes a shell complete commands and flags", operands: shellNames},
		{name: "man", run: runMan, line: "print the manual page"},
		{name: "version", run: runVersion, line: "print the version"},
	}
}

func folders() []string { return []string{aFolder} }

func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	err := dispatch(ctx, args, stdout, stderr)
	if err == nil {
		return exitDone
	}
	status := exitUnusable
	if e, ok := errors.AsType[*exitError](err); ok {
		status = e.status
	}
	if line := oneLine(err); line != "" {
		fmt.Fprintln(stderr, "rotorsieve:", line)
	}
	return status
}

// oneLine is an error on one line, whatever the arguments in it hold.
func oneLine(err error) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, err.Error())
}

func dispatch(ctx context.Context, args []string, stdout, stderr io.Writer) error {
	if len(args) == 0 {
		return fmt.Errorf("no command, want one of %s; rotorsieve help says more", strings.Join(commandNames(), ", "))
	}
	name := args[0]
	switch name {
	case "-h", "--help":
		name = "help"
	case "--version":
		name = "version"
	}
	c, err := findCommand(name)
	if err != nil {
		return err
	}
	return c.run(ctx, args[1:], stdout, stderr)
}

func findCommand(name string) (*command, error) {
	for i := range commands {
		if commands[i].name == name {
			return &commands[i], nil
		}
	}
	return nil, fmt.Errorf("no command %q, %s", name, wanted(name, commandNames()))
}

func commandNames() []string {
	var names []string
	for i := range commands {
		names = append(names, commands[i].name)
	}
	return names
}

const versionHead = `rotorsieve version prints the version of the program.

  rotorsieve version
`

func runVersion(_ context.Context, args []string, stdout, _ io.Writer) error {
	if helped, err := parseFlags(newFlagGroups("version"), versionHead, args, stdout); helped || err != nil {
		return err
	}
	_, err := fmt.Fprintln(stdout, "rotorsieve", programVersion())
	return err
}

// programVersion is the stamped version, or what the build knows of its source.
func programVersion() string {
	if version != "dev" {
		return version
	}
	if b, ok := debug.ReadBuildInfo(); ok {
		for _, s := range b.Settings {
			if s.Key == "vcs.revision" && len(s.Value) >= 12 {
				return "dev-" + s.Value[:12]
			}
		}
	}
	return version
}

// parseFlags reads args, @files among them, into the flags, and takes nothing
// else. It prints the help and reports true where help was asked for.
func parseFlags(g *flagGroups, head string, args []string, stdout io.Writer) (helped bool, err error) {
	rest, helped, err := parseArguments(g, head, args, stdout)
	if err == nil && len(rest) > 0 && !g.all.HasFlags() {
		return false, rest[0].errorf("%q after %s, want nothing there", rest[0].text, g.all.Name())
	}
	if err == nil && len(rest) > 0 {
		if f := g.lookup("--" + rest[0].text); f != nil {
			return false, rest[0].errorf("%q is not a flag, did you mean --%s?", rest[0].text, f.Name)
		}
		return false, rest[0].errorf("%q is not a flag, want one that begins with --, or a flag file with @", rest[0].text)
	}
	return helped, err
}

// parseArguments is parseFlags for commands that take arguments besides.
func parseArguments(g *flagGroups, head string, args []string, stdout io.Writer) (rest []argument, helped bool, err error) {
	expanded, err := expandFlagFiles(args)
	if err != nil {
		return nil, false, err
	}
	rest, err = g.parse(expanded)
	if errors.Is(err, pflag.ErrHelp) {
		(&manual{head, g.groups}).show(stdout)
		return nil, true, nil
	}
	return rest, false, err
}
