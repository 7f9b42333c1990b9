package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
	"rotorsieve/sweep/abandon"
)

const mergeHead = `rotorsieve merge joins the shards of one study, given by their folders, and writes
the report that one process would have written.

  rotorsieve sweep @configs/ridge-scout.flags --shard 1/2
  rotorsieve sweep @configs/ridge-scout.flags --shard 2/2
  rotorsieve merge out/ridge-scout/shard-*

Where the shards have filled a folder with --dump, --dump names it here as well.
`

func mergeCommand() *cobra.Command {
	g := newFlagGroups("merge")
	g.tidies = true
	var to results
	f := g.group("Output")
	to.declare(f)
	var d dumpFlags
	d.declareAs(f, "that the shards have filled with every feasible design, to be told of in the report (default none)")
	var c cacheFlag
	run := g.group("Run")
	c.declare(run)
	var tell tellFlags
	tell.declare(run)
	return g.command(&cobra.Command{
		GroupID: ofStudies, Short: "join the shards of one study into its report", Long: mergeHead,
		ValidArgsFunction: folders,
	}, func(cmd *cobra.Command, folders []argument) error {
		p, over := tell.begin(cmd, false)
		defer over()
		return merge(cmd.Context(), folders, to, &c, &d, &tell, p, cmd.OutOrStdout())
	})
}

// merge joins the shards in folders.
func merge(ctx context.Context, folders []argument, to results, c *cacheFlag, d *dumpFlags, tell *tellFlags,
	p *progress, stdout io.Writer) error {
	stderr := p.w
	if len(folders) == 0 {
		return errors.New("no shards to merge, want the folders of all shards of one study")
	}
	p.turn(phaseJoin)
	var all *joined
	err := abandon.Run(ctx, func() (err error) {
		all, err = join(ctx, folders, &to, c, d, stderr)
		return err
	})
	if ctx.Err() != nil {
		return &exitError{exitEarly, "interrupted, nothing is written: merge begins anew"}
	}
	if err != nil {
		return err
	}
	defer c.tell(stderr)
	p.has(all.run, to.out, nil)
	if err := tell.open(stderr, append(all.paths, outputsIn(to.out, report.Names(all.run))...), ""); err != nil {
		return err
	}
	home, err := claim(to.out, to.force, mergedBefore(to.out, all.run.Study), "", report.Names(all.run)...)
	if err != nil {
		return err
	}
	defer home.release()
	otherwise(stderr, all.paths, all.states)
	if err := all.run.Result.Keep(home.path(checkpointName), all.run.Flags); err != nil {
		return err
	}
	defer tellAside(stderr, all.run)
	const onwards = "merge begins anew"
	if err := all.choice.decideOn(ctx, all.run, 0, p, onwards); err != nil {
		return err
	}
	return finish(ctx, all.run, home, &to, p, onwards, stdout)
}

// mergedBefore says whether a folder holds what a merge of the study has joined, whose report
// was interrupted: it begins anew there.
func mergedBefore(dir string, st *sweep.Study) bool {
	s, err := sweep.ReadState(filepath.Join(dir, checkpointName))
	return err == nil && s.Shard.Whole() && s.Fingerprint == st.Fingerprint() &&
		!(&folder{dir: dir}).has(finding.RecordName)
}

// joined are the shards of a study, by the paths of their checkpoints, and the run that
// they come to.
type joined struct {
	paths  []string
	states []*sweep.State
	run    *finding.Run
	choice *drawFlags
}

// join reads the shards in folders and joins them, where their results have a place.
func join(ctx context.Context, folders []argument, to *results, c *cacheFlag, d *dumpFlags,
	told io.Writer) (*joined, error) {
	var paths []string
	var states []*sweep.State
	for _, a := range folders {
		path := filepath.Join(a.text, checkpointName)
		s, err := sweep.ReadState(path)
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
			return nil, fmt.Errorf("%s: no shard there, want a folder with a %s", a.text, checkpointName)
		}
		if err != nil {
			return nil, withFlags(err)
		}
		paths, states = append(paths, path), append(states, s)
	}
	s, st, err := studyOf(states[0])
	if err != nil {
		return nil, fmt.Errorf("%s: %w", paths[0], err)
	}
	if to.out == "" {
		to.out = filepath.Join("out", s.name)
	}
	r := s.report(st)
	if err := (&folder{dir: to.out}).room(to.force, report.Names(r)); err != nil {
		return nil, err
	}
	if err := cmp.Or(d.filled(st, to.out), c.serve(st.Models(), false, told)); err != nil {
		return nil, err
	}
	if d.to != nil {
		got, err := d.to.Tally(ctx)
		if err != nil {
			return nil, fmt.Errorf("--dump %s: %w", d.folder, err)
		}
		r.Dump = d.record(got, to.out)
	}
	r.Result, err = sweep.Merge(ctx, st, paths, states)
	if err != nil {
		return nil, withFlags(err)
	}
	r.Result.Elapsed = time.Since(r.Started)
	return &joined{paths, states, r, &s.choice}, nil
}

// studyOf is the study that the flags of a shard state. They come from a file that
// anybody may have written: they are taken one by one, as a run leaves them.
func studyOf(shard *sweep.State) (*studyFlags, *sweep.Study, error) {
	for _, f := range shard.Flags {
		if name, _, ok := strings.Cut(f, "="); !ok || !strings.HasPrefix(name, "--") || name == "--help" {
			return nil, nil, fmt.Errorf("holds the flag %.60q, want flags of a study as --name=value", f)
		}
	}
	s := newStudyFlags("sweep", sweepDefaults)
	s.output(s.group("Output"))
	if err := s.take(shard.Flags); err != nil {
		return nil, nil, fmt.Errorf("its flags cannot be read by this version, want the one that wrote it: %w", err)
	}
	if err := checkName(s.name); err != nil {
		return nil, nil, err
	}
	st, err := s.study()
	if err != nil {
		return nil, nil, err
	}
	return s, withCandidates(st, shard.Fingerprint), nil
}

// otherwise says where shards were given other names or other figures than the first,
// whose are in the report: their numbers are the same.
func otherwise(to io.Writer, paths []string, states []*sweep.State) {
	const most = 3
	n := 0
	for i, s := range states {
		has := s.Difference(states[0])
		if has == "" {
			continue
		}
		if n++; n <= most {
			fmt.Fprintf(to, "rotorsieve: %s has %s, where %s has %s: the report is that of %s\n",
				paths[i], has, paths[0], states[0].Difference(s), paths[0])
		}
	}
	if n > most {
		fmt.Fprintf(to, "rotorsieve: so have %d more\n", n-most)
	}
}
