package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"rotorsieve/report/screen"
	"rotorsieve/sweep"
	"rotorsieve/sweep/abandon"
)

const nearestHead = `rotorsieve parts holds parts that exist against a design that a finished run has
generated: which of them make the craft that comes nearest to it, or is better? Each
part is put in the place of the design's own, and the craft is computed as the run
computes it. What counts is what the craft then does, its merit and requirements,
not how close stator, diameter or capacity are.

It prints the best of each list, each part alone in the design, and what it costs in
merit; then the best combination of one part of each list: of all combinations, or,
where these are more than a million, of those of the first 20 of each list, which it
says. What breaks a requirement comes last and says which. What no list replaces
stays as generated. In a run of several scenarios each craft is judged in all of them,
and told of in the one in which it breaks a requirement, or else its merit is least.

  rotorsieve parts --like out/ridge-scout --class 900g --rank 3 \
      --motors configs/parts-motors.csv --frames configs/parts-frames.csv

With --format json it writes one object: run and like (the design), finding, lists
(of each kind how many are listed, and alone, the best of them), best (the best
combination, null where none keeps all requirements), first_of_each (list, alone),
exact (best is that of all combinations) and combinations_tried. A craft has design,
named_parts, operates, merit, by (merit less that of the design), metrics,
keeps_all and breaks; of several scenarios also scenario, the number of that in which
its metrics are told.
`

// nearestFlags are those of one reading of the command.
type nearestFlags struct {
	*flagGroups
	partFlags
	like, class, format string
	choose              choosing
	shown               int
	cache               cacheFlag
}

func newNearest() *nearestFlags {
	x := &nearestFlags{flagGroups: newFlagGroups("parts")}
	f := x.group("Design of a finished run")
	f.Var(newWords(&x.like, aFolder), "like", "of the run whose design the parts are held against")
	f.Var(newWords(&x.class, "class"), "class", "of that run, where it has more than one, as 249g")
	x.choose.declareOne(f)
	x.partFlags.declare(x.group("Parts that exist"), x.flagGroups)
	f = x.group("Output")
	f.Var(newNumber(&x.shown, 1, 10000, 5), "shown", "parts of each list that are printed, 1 to 10000")
	f.Var(newFormat(&x.format), "format", "text or json (SI units)")
	x.cache.declare(f)
	return x
}

func partsCommand() *cobra.Command {
	x := newNearest()
	return x.command(&cobra.Command{
		GroupID: ofDesigns, Short: "lists of parts that exist, and which come nearest to a design",
		Long: nearestHead + "\n" + partsText(),
	}, func(c *cobra.Command, _ []argument) error {
		return x.find(c.Context(), c.OutOrStdout(), c.ErrOrStderr())
	})
}

// find prints which parts come nearest.
func (x *nearestFlags) find(ctx context.Context, stdout, stderr io.Writer) error {
	var of *taken
	var found *sweep.Nearest
	err := abandon.Run(ctx, func() (err error) {
		if of, err = x.design(); err != nil {
			return err
		}
		lists, err := x.readAxes()
		if err != nil {
			return err
		}
		if len(lists) == 0 {
			return fmt.Errorf("no parts are listed, want %s FILE, or several of them", x.kinds())
		}
		if err := of.compute(&x.cache, stderr); err != nil {
			return err
		}
		if !of.operates {
			return fmt.Errorf("--like %s: the design does not fly, want one that does", x.like)
		}
		found, err = sweep.FindNearest(ctx, of.study, lists, sweep.MostCombined, x.shown)
		return err
	})
	if err != nil {
		return withFlags(err)
	}
	if x.format == "json" {
		return screen.PrintNearestJSON(stdout, of.of, found, of.study, x.shown)
	}
	return screen.PrintNearest(stdout, of.of, found, of.study, x.shown, columns(stdout))
}

// design is the one that the parts are held against.
func (x *nearestFlags) design() (*taken, error) {
	if x.like == "" {
		return nil, errors.New("--like: no run, want the folder of a finished run, as out/NAME")
	}
	if at, err := os.Stat(x.like); err != nil || !at.IsDir() {
		return nil, x.set["like"].errorf("--like %.80s: is no folder, want that of a finished run", x.like)
	}
	var args []string
	for _, name := range []string{"class", "rank", "design"} {
		if x.set[name].from != nil {
			args = append(args, "--"+name+"="+x.all.Lookup(name).Value.String())
		}
	}
	return newOfRun(x.like, args, nil)
}

// kinds are the flags of lists: "--motors, --propellers, ...".
func (x *nearestFlags) kinds() string {
	var all []string
	for i := range partKinds {
		all = append(all, "--"+partKinds[i].Many)
	}
	return strings.Join(all[:len(all)-1], ", ") + " or " + all[len(all)-1]
}
