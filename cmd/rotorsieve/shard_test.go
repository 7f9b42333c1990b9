package main

import (
	"strings"
	"testing"

	"rotorsieve/sweep"
)

func TestParseShard(t *testing.T) {
	slurm := map[string]string{"SLURM_ARRAY_TASK_ID": "5", "SLURM_ARRAY_TASK_MIN": "2", "SLURM_ARRAY_TASK_COUNT": "8"}
	vast := map[string]string{"SLURM_ARRAY_TASK_ID": "1", "SLURM_ARRAY_TASK_MIN": "1",
		"SLURM_ARRAY_TASK_COUNT": "4611686018427387904"}
	kube := map[string]string{"JOB_COMPLETION_INDEX": "0"}
	for _, c := range []struct {
		text string
		env  map[string]string
		want sweep.Shard
		err  string
	}{
		{"3/16", nil, sweep.Shard{K: 3, Of: 16}, ""},
		{"1/1", nil, sweep.Shard{K: 1, Of: 1}, ""},
		{"0/4", nil, sweep.Shard{}, "K from 1 to N"},
		{"5/4", nil, sweep.Shard{}, "K from 1 to N"},
		{"3", nil, sweep.Shard{}, "want K/N"},
		{"a/b", nil, sweep.Shard{}, "want K/N"},
		{"1/0", nil, sweep.Shard{}, "N from 1"},
		{"auto", nil, sweep.Shard{}, "neither"},
		{"auto", slurm, sweep.Shard{K: 4, Of: 8}, ""},
		{"auto/16", slurm, sweep.Shard{K: 5, Of: 16}, ""},
		{"auto/4", slurm, sweep.Shard{}, "want an array 1-4"},
		{"auto", vast, sweep.Shard{}, "want at most 100000"},
		{"auto", kube, sweep.Shard{}, "auto/N"},
		{"auto/3", kube, sweep.Shard{K: 1, Of: 3}, ""},
		{"auto/3", map[string]string{"JOB_COMPLETION_INDEX": "3"}, sweep.Shard{}, "not below 3"},
		{"auto/3", map[string]string{"JOB_COMPLETION_INDEX": "x"}, sweep.Shard{}, "want a number"},
	} {
		got, err := parseShard(c.text, func(name string) string { return c.env[name] })
		if c.err == "" && (err != nil || got != c.want) || c.err != "" &&
			(err == nil || !strings.Contains(err.Error(), c.err)) {
			t.Errorf("parseShard(%q) in %v = %v, %v; want %v, %q", c.text, c.env, got, err, c.want, c.err)
		}
	}
}
