package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"time"

	"rotorsieve/sweep"
)

const mergeHead = `rotorsieve merge joins the shards of one study, given by their folders, and writes
the report that one process would have written.

  rotorsieve sweep @configs/ridge-scout.flags --shard 1/2
  rotorsieve sweep @configs/ridge-scout.flags --shard 2/2
  rotorsieve merge out/ridge-scout/shard-*
`

func runMerge(ctx context.Context, args []string, stdout, _ io.Writer) error {
	g := newFlagGroups("merge")
	f := g.group("Output")
	var to results
	to.declare(f)
	folders, helped, err := parseArguments(g, mergeHead, args, stdout)
	if helped || err != nil {
		return err
	}
	if len(folders) == 0 {
		return errors.New("no shards to merge, want the folders of all shards of one study")
	}
	var paths []string
	var states []*sweep.State
	for _, a := range folders {
		path := filepath.Join(a.text, checkpointName)
		s, err := sweep.ReadState(path)
		if errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s: no shard there, want a folder with a %s", a.text, checkpointName)
		}
		if err != nil {
			return withFlags(err)
		}
		paths, states = append(paths, path), append(states, s)
	}
	s := newStudyFlags("sweep", sweepDefaults)
	s.output(s.group("Output"))
	if helped, err := parseFlags(s.flagGroups, "", states[0].Flags, io.Discard); helped || err != nil {
		return fmt.Errorf("%s: its flags cannot be read by this version, want the one that wrote it: %w", paths[0], err)
	}
	st, err := s.study()
	if err != nil {
		return fmt.Errorf("%s: %w", paths[0], err)
	}
	if to.out == "" {
		to.out = filepath.Join("out", s.name)
	}
	r := s.report(st)
	if r.Result, err = sweep.Merge(ctx, st, paths, states); err != nil {
		return withFlags(err)
	}
	r.Result.Elapsed = time.Since(r.Started)
	home, err := claim(to.out, to.force, false, "")
	if err != nil {
		return err
	}
	defer home.release()
	return finish(r, home, to.format, stdout)
}
