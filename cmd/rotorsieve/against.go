package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/sweep"
	"rotorsieve/sweep/abandon"
	"rotorsieve/sweep/decide"
)

// recommendedWord asks for the build that a run recommends.
const recommendedWord = "recommended"

// second is the design that a first one is held against.
func (x *explaining) second(a *taken) (*taken, error) {
	text := x.o.choose.against
	refuse := func(format string, args ...any) error {
		return fmt.Errorf("--against %.80s: %w", text, fmt.Errorf(format, args...))
	}
	n, err := strconv.Atoi(text)
	switch ranked := err == nil; {
	case (ranked || text == recommendedWord) && a.of == nil:
		return nil, refuse("a rank of which run? want explain with the run's folder, or the folder with it, as " +
			"out/NAME:2")
	case ranked:
		return x.fromRun(a.of.Run.Dir, a, n, x.args...)
	case text == recommendedWord:
		if a.of.Class.Chosen == nil {
			return nil, refuse("the run has made no choice over draws, want a rank")
		}
		return x.fromRun(a.of.Run.Dir, a, 0, x.args...)
	}
	path := strings.TrimPrefix(text, "@")
	at, err := os.Stat(path)
	if folder, rank, ok := cutRank(path); err != nil && ok {
		if of, err := os.Stat(folder); err == nil && of.IsDir() {
			return x.fromRun(folder, a, rank)
		}
	}
	switch {
	case err != nil:
		return nil, refuse("want a rank, %s, a run's folder, alone or with :RANK, or a flag file", recommendedWord)
	case at.IsDir():
		return x.fromRun(path, a, 0)
	}
	b := newExplaining()
	if err := b.flagGroups.take([]string{"@" + path}); err != nil {
		return nil, err
	}
	t, err := b.stated()
	if err != nil {
		return nil, refuse("%w", err)
	}
	t.file = path
	return t, nil
}

// cutRank is the folder and the rank of out/NAME:2.
func cutRank(path string) (folder string, rank int, ok bool) {
	at := strings.LastIndexByte(path, ':')
	if at < 0 {
		return "", 0, false
	}
	rank, err := strconv.Atoi(path[at+1:])
	return path[:at], rank, err == nil
}

// fromRun is the design of a rank of a run, 0 for the one that it answers with, in the class
// of the first, under the run's flags and those that follow.
func (x *explaining) fromRun(dir string, a *taken, rank int, args ...string) (*taken, error) {
	return newOfRun(dir, args, func(run *finding.Finished) (*finding.InHand, error) {
		var asked []sweep.Class
		if len(a.study.Classes) == 1 && len(run.Classes) > 1 {
			asked = a.study.Classes
		}
		k, err := classAsked(run, asked)
		if err != nil {
			return nil, err
		}
		if rank == 0 {
			return run.Answer(k)
		}
		return run.ByRank(k, rank)
	})
}

// versus prints the design against the one that was asked for.
func (x *explaining) versus(ctx context.Context, a *taken, stdout, stderr io.Writer) error {
	for _, name := range []string{"why", "draw"} {
		if set, ok := x.set[name]; ok && set.from.file == "" {
			return fmt.Errorf("--%s does nothing beside --against, want one of the two", name)
		}
	}
	v := &finding.Versus{Merit: a.study.Merit, Require: a.study.Require}
	err := abandon.Run(ctx, func() error {
		b, err := x.second(a)
		if err != nil {
			return err
		}
		if err := b.compute(&x.o.cache, stderr); err != nil {
			return err
		}
		v.OtherMerit = !finding.SameMerit(a.study.Merit, b.study.Merit)
		v.OtherRequire = !slices.EqualFunc(a.study.Require, b.study.Require, func(p, q sweep.Requirement) bool {
			return p.Metric == q.Metric && p.AtLeast == q.AtLeast && p.Bound == q.Bound
		})
		for i, t := range []*taken{a, b} {
			judged := *t.study // both are held against what the first asks for
			judged.Require, judged.Merit = a.study.Require, a.study.Merit
			v.Sides[i] = finding.Side{File: t.file, Of: t.of, Design: t.design, Craft: t.craft,
				Scenarios: finding.ScenariosOf(&judged, t.crafts)}
			if t.operates {
				v.Sides[i].Craft = t.crafts[judged.Telling(t.crafts)]
			}
		}
		if x.choice.draws == 0 {
			return nil
		}
		v.Pair, err = decide.PairOf(ctx, a.contender(), b.contender(), decide.Options{Seed: uint64(x.choice.seed),
			ByThrottle: x.choice.byThrottle})
		return err
	})
	if err != nil {
		return err
	}
	if x.o.format == "json" {
		err = screen.PrintVersusJSON(stdout, v)
	} else {
		err = screen.PrintVersus(stdout, v, columns(stdout))
	}
	if err == nil && !v.Keeps(0) {
		return errUnkept
	}
	return err
}
