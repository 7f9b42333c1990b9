package main

import (
	"fmt"
	"strconv"
	"strings"

	"rotorsieve/sweep"
)

// parseShard reads K/N, or auto or auto/N inside an array job. In a task of a
// Slurm job array the place is SLURM_ARRAY_TASK_ID; auto alone counts from the
// array's least task and takes the array's size for N, auto/N takes the place
// from 1 to N, so that a single task can be submitted again. In a Kubernetes
// indexed Job the place is JOB_COMPLETION_INDEX, from 0, and N must be given.
// getenv gives the scheduler's variables, as os.Getenv does.
func parseShard(text string, getenv func(string) string) (sweep.Shard, error) {
	place, count, counted := strings.Cut(text, "/")
	n := 0
	if counted {
		var err error
		if n, err = strconv.Atoi(count); err != nil || n < 1 || n > sweep.MaxShards {
			return sweep.Shard{}, fmt.Errorf("%q: want K/N with N from 1 to %d, or auto/N", text, sweep.MaxShards)
		}
	}
	if place != "auto" {
		k, err := strconv.Atoi(place)
		if !counted || err != nil || k < 1 || k > n {
			return sweep.Shard{}, fmt.Errorf("%q: want K/N with K from 1 to N, auto, or auto/N", text)
		}
		return sweep.Shard{K: k, Of: n}, nil
	}
	number := func(name string) (int, error) {
		v, err := strconv.Atoi(getenv(name))
		if err != nil {
			return 0, fmt.Errorf("%q: the variable %s is %q, want a number", text, name, getenv(name))
		}
		return v, nil
	}
	switch {
	case getenv("SLURM_ARRAY_TASK_ID") != "":
		k, err := number("SLURM_ARRAY_TASK_ID")
		if err != nil {
			return sweep.Shard{}, err
		}
		if !counted {
			least, err := number("SLURM_ARRAY_TASK_MIN")
			if err != nil {
				return sweep.Shard{}, err
			}
			if n, err = number("SLURM_ARRAY_TASK_COUNT"); err != nil {
				return sweep.Shard{}, err
			}
			k = k - least + 1
		}
		if n > sweep.MaxShards {
			return sweep.Shard{}, fmt.Errorf("%q: an array of %d tasks, want at most %d", text, n, sweep.MaxShards)
		}
		if k < 1 || k > n {
			return sweep.Shard{}, fmt.Errorf("%q: task %s of the array is not one of %d, want an array 1-%d",
				text, getenv("SLURM_ARRAY_TASK_ID"), n, n)
		}
		return sweep.Shard{K: k, Of: n}, nil
	case getenv("JOB_COMPLETION_INDEX") != "":
		k, err := number("JOB_COMPLETION_INDEX")
		if err != nil {
			return sweep.Shard{}, err
		}
		if !counted {
			return sweep.Shard{}, fmt.Errorf("%q: a Kubernetes job does not say its size, "+
				"want auto/N with its number of completions", text)
		}
		if k < 0 || k >= n {
			return sweep.Shard{}, fmt.Errorf("%q: completion index %d is not below %d", text, k, n)
		}
		return sweep.Shard{K: k + 1, Of: n}, nil
	}
	return sweep.Shard{}, fmt.Errorf("%q: neither SLURM_ARRAY_TASK_ID nor JOB_COMPLETION_INDEX is set, "+
		"want K/N outside an array job", text)
}
