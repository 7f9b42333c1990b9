// Rotorsieve sweeps the design space of small electric multirotors: every
// combination of propeller, motor, pack and payload goes through one physical
// model; designs that break a requirement are rejected and counted, the rest
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
//	parts       lists of parts that exist, and which come nearest to a design
//	rotor       print the curves of one propeller as CSV
//	stand       print what a thrust stand would show of a motor and a propeller
//	classes     list masses at which published rules change
//	metrics     list what is computed of a design
//	parameters  list what the model may err by, and by how much
//	help        print this, or the manual of a command or topic
//	completion  print what makes a shell complete commands and flags
//	man         print the manual page
//	version     print the version
//
// The topics of help are units, ranges, requirements, merit, files, progress and status.
//
// # A study
//
// A study is a design space, a mission and assumptions; each has a flag, and each
// flag a default, so that a weight class alone is a study. What stood at its
// default is said in the results, and printed with --verbose. What is to be run
// can be seen beforehand:
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
//     says what is wrong, where, and what would be right, and nothing is written; or
//     standard output cannot be written
//   - 3: ended early by a signal or --max-time: --resume goes on with a run or a shard;
//     what else was interrupted begins anew
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
	"slices"
	"strings"
	"syscall"
	"unicode"

	"github.com/spf13/cobra"
)

func init() {
	cobra.EnableCommandSorting = false // commands are in the order of their use
	cobra.MousetrapHelpText = "rotorsieve is used in a terminal: open one and type rotorsieve help there.\n"
}

func main() {
	ends := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) { // as nohup has it
		ends = append(ends, syscall.SIGHUP)
	}
	ctx, stop := signal.NotifyContext(context.Background(), ends...)
	defer stop()
	signal.Ignore(syscall.SIGPIPE) // a run goes on where nobody reads its progress
	context.AfterFunc(ctx, stop)   // a second signal ends the program at once
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// Groups of commands in the help.
const (
	ofStudies = "Studies"
	ofDesigns = "One design"
	ofLists   = "Lists"
	ofProgram = "This program"
)

// newRoot makes the program with all its commands.
func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use: synopsis, Long: summary,
		Args: cobra.ArbitraryArgs, DisableFlagParsing: true, SilenceErrors: true, SilenceUsage: true,
		RunE: func(root *cobra.Command, args []string) error {
			names := commandNames(root)
			if len(args) == 0 {
				return fmt.Errorf("no command, want one of %s; rotorsieve help says more", strings.Join(names, ", "))
			}
			return fmt.Errorf("no command %q, %s", args[0], wanted(args[0], names))
		},
	}
	root.Flags().BoolP("help", "h", false, "print the list of commands")
	root.Flags().Bool("version", false, "print the version")
	root.SetHelpFunc(func(c *cobra.Command, _ []string) { manualOf(c).show(c.OutOrStdout()) })
	for _, title := range []string{ofStudies, ofDesigns, ofLists, ofProgram} {
		root.AddGroup(&cobra.Group{ID: title, Title: title})
	}
	root.AddCommand(sweepCommand(), mergeCommand(), compareCommand(), explainCommand(), partsCommand(), rotorCommand(),
		standCommand(), classesCommand(), metricsCommand(), parametersCommand(), completionCommand(), manCommand(),
		versionCommand())
	help := helpCommand()
	root.SetHelpCommand(help)
	root.AddCommand(help)
	return root
}

// commandsOf lists the commands in the order of the help. Cobra keeps its help
// command last; it is the first of its group.
func commandsOf(root *cobra.Command) []*cobra.Command {
	all := slices.DeleteFunc(slices.Clone(root.Commands()), func(c *cobra.Command) bool { return c.Hidden })
	help := len(all) - 1
	first := slices.IndexFunc(all, func(c *cobra.Command) bool { return c.GroupID == all[help].GroupID })
	return slices.Insert(all[:help:help], first, all[help])
}

func commandNames(root *cobra.Command) []string {
	var names []string
	for _, c := range commandsOf(root) {
		names = append(names, c.Name())
	}
	return names
}

func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	out, log := &output{to: stdout, ctx: ctx}, &output{to: stderr, ctx: ctx}
	log.json = asksJSON(args)
	err := execute(ctx, args, out, log)
	status := exitDone
	if err = ending(ctx, err, out.failed()); err != nil {
		status = exitUnusable
		if e, ok := errors.AsType[*exitError](err); ok {
			status = e.status
		}
		if line := oneLine(err); line != "" {
			log.fail(line, status)
		}
	}
	log.end(status)
	return status
}

// asksJSON says whether arguments ask for progress as JSON, so that an error in another of them
// is told so as well.
func asksJSON(args []string) bool {
	asks := false
	for i, a := range args {
		form, ok := strings.CutPrefix(a, "--progress=")
		if a == "--progress" && i+1 < len(args) {
			form, ok = args[i+1], true
		}
		if ok {
			asks = form == progressJSON
		}
	}
	return asks
}

// ending is what a command ends with that returned err and could not write its answer,
// where unwritten is not nil.
func ending(ctx context.Context, err, unwritten error) error {
	own, ok := errors.AsType[*exitError](err)
	early := ctx.Err()
	switch {
	case ok && own.status > exitUnusable: // says more
		if own.line == "" && unwritten != nil && early == nil {
			return &exitError{own.status, oneLine(unwritable(unwritten))}
		}
		return err
	case early != nil && (errors.Is(err, early) || errors.Is(unwritten, early)):
		return errInterrupted
	case unwritten != nil && (err == nil || ok || errors.Is(err, unwritten)):
		return unwritable(unwritten)
	}
	return err
}

func execute(ctx context.Context, args []string, stdout, stderr io.Writer) error {
	root := newRoot()
	root.SetOut(stdout)
	root.SetErr(stderr)
	args = append([]string{}, args...) // of nil cobra would make those of the process
	if len(args) > 0 {
		switch first := args[0]; {
		case first == "-h" || first == "--help":
			args[0] = "help"
		case first == "--version":
			args[0] = "version"
		case first == cobra.ShellCompRequestCmd || first == cobra.ShellCompNoDescRequestCmd:
			offerAll(root)
		case strings.HasPrefix(first, "-"):
			return root.RunE(root, args) // cobra would look for a command behind it
		}
	}
	root.SetArgs(args)
	return root.ExecuteContext(ctx)
}

// mostSaid is how much of an error is said, in bytes: none that is meant to be read has
// more, and some repeat what they have read.
const mostSaid = 2000

// oneLine is an error on one line, whatever the arguments in it hold; of a long one its
// two ends.
func oneLine(err error) string {
	text := err.Error()
	if n := len(text); n > mostSaid {
		text = strings.ToValidUTF8(text[:mostSaid/2], "") + " ... " + strings.ToValidUTF8(text[n-mostSaid/2:], "")
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)
}
