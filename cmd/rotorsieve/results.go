package main

import "github.com/spf13/pflag"

// results are the flags that say where what a command has found goes, and in what
// form it is printed.
type results struct {
	out, format string
	force       bool
	verbose     bool
}

func (r *results) declare(f *pflag.FlagSet) {
	out := newWords(&r.out, aFolder)
	out.none = none + " is taken for nothing, and results always go to a folder, want one, such as ./" + none
	f.Var(out, "out", "for the results (default out/NAME)")
	f.BoolVar(&r.force, "force", false, "replace what was left there earlier")
	f.Var(newFormat(&r.format), "format", "of what is printed at the end: text or json")
	f.BoolVar(&r.verbose, "verbose", false, "print the ranking, what was rejected, all defaults and files as well")
}
