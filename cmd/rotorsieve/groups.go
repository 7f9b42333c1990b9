package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rotorsieve/model/table"
	"rotorsieve/sweep/abandon"
)

// flagGroups are the flags of one command in the groups of its help.
type flagGroups struct {
	groups []*pflag.FlagSet
	over   *pflag.FlagSet // that are ignored, see passed
	all    *pflag.FlagSet
	args   []string            // that were read, as they stood
	set    map[string]argument // by flag name, the argument that set it last
	turn   int                 // how many have been
	tidies bool                // the command sees to its end by itself where it is interrupted: it has files to tidy up
}

// newFlagGroups begins the flags of a command.
func newFlagGroups(command string) *flagGroups {
	g := &flagGroups{all: pflag.NewFlagSet(command, pflag.ContinueOnError), set: map[string]argument{}}
	g.all.SortFlags = false
	g.all.Usage = func() {} // cobra shows the help
	return g
}

// group starts a group of flags, to be added to it before parse.
func (g *flagGroups) group(title string) *pflag.FlagSet {
	fs := pflag.NewFlagSet(title, pflag.ContinueOnError)
	fs.SortFlags = false
	g.groups = append(g.groups, fs)
	return fs
}

// passed returns the set of flags that the command ignores and accepts only from a flag
// file, so that it can share one with a command that uses them. They are not in its help.
func (g *flagGroups) passed() *pflag.FlagSet {
	if g.over == nil {
		g.over = pflag.NewFlagSet("passed over", pflag.ContinueOnError)
	}
	return g.over
}

// gather brings the groups together. A flag in two groups is the programmer's
// mistake and panics.
func (g *flagGroups) gather() {
	for _, fs := range g.groups {
		fs.VisitAll(func(f *pflag.Flag) {
			if g.all.Lookup(f.Name) != f {
				g.all.AddFlag(f)
			}
		})
	}
	g.passed().VisitAll(func(f *pflag.Flag) {
		f.Hidden = true
		if g.all.Lookup(f.Name) == nil {
			g.all.AddFlag(f) // where the command has one of the name, that one is kept
		}
	})
}

// groupTitle is the annotation of a flag that names its group.
const groupTitle = "group"

// command makes c the command of the flags, all of which must be declared. It runs
// run when they are read, with the other arguments, where it has a
// function that completes such. Cobra leaves the flags alone: it does not know where
// an argument of a flag file was written.
func (g *flagGroups) command(c *cobra.Command, run func(c *cobra.Command, beside []argument) error) *cobra.Command {
	g.gather()
	c.Use = g.all.Name()
	c.DisableFlagParsing = true
	alone := c.ValidArgsFunction == nil
	c.RunE = func(c *cobra.Command, args []string) error {
		var beside []argument
		read := func() (err error) {
			if beside, err = g.takeBeside(args); err == nil && alone {
				err = g.noneOf(beside)
			}
			return err
		}
		if g.tidies {
			if err := abandon.Run(c.Context(), read); err != nil {
				return err
			}
			return run(c, beside)
		}
		return abandon.Run(c.Context(), func() error {
			if err := read(); err != nil {
				return err
			}
			return run(c, beside)
		})
	}
	c.Flags().SortFlags = false
	for _, fs := range g.groups {
		fs.VisitAll(func(f *pflag.Flag) { f.Annotations = map[string][]string{groupTitle: {fs.Name()}} })
	}
	c.Flags().AddFlagSet(g.all)
	c.Flags().BoolP("help", "h", false, "print the manual")
	c.ValidArgsFunction = orFlagFile(c.ValidArgsFunction)
	return c
}

// groupsOf are the flags of a command in the groups of its help.
func groupsOf(c *cobra.Command) []*pflag.FlagSet {
	g := &flagGroups{}
	c.Flags().VisitAll(func(f *pflag.Flag) {
		title, ok := f.Annotations[groupTitle]
		if !ok {
			return
		}
		if n := len(g.groups); n == 0 || g.groups[n-1].Name() != title[0] {
			g.group(title[0])
		}
		g.groups[len(g.groups)-1].AddFlag(f)
	})
	return g.groups
}

// take sets the flags from args, @files among them; nothing else may stand there.
func (g *flagGroups) take(args []string) error {
	rest, err := g.takeBeside(args)
	if err != nil {
		return err
	}
	return g.noneOf(rest)
}

// noneOf errs where there are arguments that are no flags.
func (g *flagGroups) noneOf(rest []argument) error {
	if len(rest) == 0 {
		return nil
	}
	if !g.all.HasFlags() {
		return rest[0].errorf("%q after %s, want nothing there", rest[0].text, g.all.Name())
	}
	if f := g.lookup("--" + rest[0].text); f != nil {
		return rest[0].errorf("%q is not a flag, did you mean --%s?", rest[0].text, f.Name)
	}
	return rest[0].errorf("%q is not a flag, want one that begins with --, or a flag file with @", rest[0].text)
}

// takeBeside is take for commands that take arguments besides.
func (g *flagGroups) takeBeside(args []string) (rest []argument, err error) {
	g.args = args
	expanded, err := expandFlagFiles(args)
	if err != nil {
		return nil, err
	}
	return g.parse(expanded)
}

// renewer is a flag value that gathers a list. renew makes its next Set start
// the list afresh, renewAlways every one from then on.
type renewer interface {
	renew()
	renewAlways()
}

// parse sets the flags from args and returns the arguments that are none. A
// list is gathered while its flag is repeated in one source, and started afresh
// by another source. The error is pflag.ErrHelp where help was asked for, and
// otherwise one line that begins with the argument's place.
func (g *flagGroups) parse(args []argument) (rest []argument, err error) {
	g.gather()
	for len(args) > 0 {
		a := args[0]
		args = args[1:]
		switch {
		case a.text == "--":
			rest, args = append(rest, args...), nil
			continue
		case len(a.text) < 2 || a.text[0] != '-':
			rest = append(rest, a)
			continue
		}
		used, err := g.one(a, args)
		if err != nil {
			return nil, err
		}
		args = args[used:]
	}
	for _, a := range rest {
		if err := table.Plain(a.text); err != nil {
			return nil, a.errorf("%.80q: %w", a.text, err)
		}
	}
	return rest, nil
}

// one sets the flag of argument a, and says whether it took its value from the
// next argument: 0 or 1 used.
func (g *flagGroups) one(a argument, next []argument) (used int, err error) {
	if f := g.lookup(a.text); f != nil && f.Hidden && a.from.file == "" {
		return 0, a.errorf("--%s does nothing in %s, want it in a flag file alone", f.Name, g.all.Name())
	}
	argv := []string{a.text}
	if f := g.awaits(a.text); f != nil {
		if len(next) == 0 || next[0].from != a.from || a.from.file != "" || strings.HasPrefix(next[0].text, "--") {
			return 0, a.errorf("--%s has no value, want --%s=%s", f.Name, f.Name, f.Value.Type())
		}
		argv = append(argv, next[0].text)
		used = 1
	} else if f := g.lookup(a.text); f != nil && len(next) > 0 && next[0].from == a.from && a.from.file == "" {
		if l, ok := f.Value.(*varying); ok && l.follows(a.text, next[0].text) {
			argv = []string{a.text + "=" + next[0].text}
			used = 1
		}
	}
	var refused error
	err = g.all.ParseAll(argv, func(f *pflag.Flag, value string) error {
		if l, ok := f.Value.(renewer); ok && g.set[f.Name].from != a.from {
			l.renew()
		}
		if l, ok := f.Value.(interface{ reads(a argument) }); ok {
			l.reads(a)
		}
		g.turn++
		a.turn = g.turn
		g.set[f.Name] = a
		if refused = table.Plain(value); refused != nil {
			refused = a.errorf("--%s: %.80q: %w", f.Name, value, refused)
			return refused
		}
		if isPath(f) {
			value = a.from.found(value)
		}
		return g.all.Set(f.Name, value)
	})
	if refused != nil {
		return 0, refused
	}
	return used, g.explain(a, err)
}

// lookup returns the flag that text sets, with or without a value in it, nil if
// none.
func (g *flagGroups) lookup(text string) *pflag.Flag {
	if name, long := strings.CutPrefix(text, "--"); long {
		name, _, _ = strings.Cut(name, "=")
		return g.all.Lookup(name)
	} else if len(text) == 2 {
		return g.all.ShorthandLookup(text[1:])
	}
	return nil
}

// awaits returns the flag whose value is the argument after text, nil if none.
func (g *flagGroups) awaits(text string) *pflag.Flag {
	f := g.lookup(text)
	if f == nil || f.NoOptDefVal != "" || strings.HasPrefix(text, "--"+f.Name+"=") {
		return nil
	}
	return f
}

// explain words an error of pflag as the rest of the program does.
func (g *flagGroups) explain(a argument, err error) error {
	if err == nil || errors.Is(err, pflag.ErrHelp) {
		return err
	}
	if e, ok := errors.AsType[*pflag.InvalidValueError](err); ok {
		_, ours := e.GetFlag().Value.(*varying)
		if !ours && e.GetFlag().Value.Type() == "bool" { // pflag's own, whose error does not say what was read
			return a.errorf("--%s: %q, want true or false", e.GetFlag().Name, e.GetValue())
		}
		return a.errorf("--%s: %w", e.GetFlag().Name, e.Unwrap())
	}
	if e, ok := errors.AsType[*pflag.NotExistError](err); ok && strings.HasPrefix(a.text, "--") {
		return a.errorf("no flag --%s, %s", e.GetSpecifiedName(), g.meant(e.GetSpecifiedName()))
	}
	return a.errorf("%q is not a flag, %s", a.text, g.meant(strings.TrimLeft(a.text, "-")))
}

// meant says which flag was most likely meant by a name, or by what stands where
// a flag was wanted.
func (g *flagGroups) meant(text string) string {
	name, _, _ := strings.Cut(text, "=")
	var names []string
	g.all.VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	if q := meant(name, "--", names); q != "" {
		return q
	}
	return "want one that rotorsieve help " + g.all.Name() + " lists"
}

// origin says where a flag was set last: "configs/a.flags:3", "command line" or
// "default".
func (g *flagGroups) origin(name string) string {
	a, ok := g.set[name]
	if !ok {
		return "default"
	}
	return a.origin()
}

// since says whether a flag was set after another, elsewhere.
func (g *flagGroups) since(name, other string) bool {
	a, b := g.set[name], g.set[other]
	return a.from != nil && b.from != nil && a.from != b.from && a.turn > b.turn
}
