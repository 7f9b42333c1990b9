package sweep

import (
	"fmt"
	"math/bits"
	"os"
	"strconv"
	"strings"
)

// Shard is one of Of equal shares of a study's blocks, the K-th, counted from 1.
type Shard struct{ K, Of int }

// MaxShards bounds the number of shards of a study.
const MaxShards = 100000

// Whole says whether the shard is the whole study.
func (s Shard) Whole() bool { return s.Of <= 1 }

func (s Shard) String() string { return fmt.Sprintf("%d/%d", s.K, s.Of) }

// blocks gives the shard's share of n blocks: from the first, before the last.
func (s Shard) blocks(n uint64) (first, last uint64) {
	cut := func(k int) uint64 {
		hi, lo := bits.Mul64(n, uint64(k))
		q, _ := bits.Div64(hi, lo, uint64(s.Of))
		return q
	}
	return cut(s.K - 1), cut(s.K)
}

// ParseShard reads K/N, or auto or auto/N inside an array job. In a task of a
// Slurm job array the place is SLURM_ARRAY_TASK_ID; auto alone counts from the
// array's least task and takes the array's size for N, auto/N takes the place
// from 1 to N, so that a single task can be submitted again. In a Kubernetes
// indexed Job the place is JOB_COMPLETION_INDEX, from 0, and N must be given.
// The variables are read through getenv, os.Getenv where it is nil.
func ParseShard(text string, getenv func(string) string) (Shard, error) {
	if getenv == nil {
		getenv = os.Getenv
	}
	place, count, counted := strings.Cut(text, "/")
	n := 0
	if counted {
		var err error
		if n, err = strconv.Atoi(count); err != nil || n < 1 || n > MaxShards {
			return Shard{}, fmt.Errorf("%q: want K/N with N from 1 to %d, or auto/N", text, MaxShards)
		}
	}
	if place != "auto" {
		k, err := strconv.Atoi(place)
		if !counted || err != nil || k < 1 || k > n {
			return Shard{}, fmt.Errorf("%q: want K/N with K from 1 to N, auto, or auto/N", text)
		}
		return Shard{k, n}, nil
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
			return Shard{}, err
		}
		if !counted {
			least, err := number("SLURM_ARRAY_TASK_MIN")
			if err != nil {
				return Shard{}, err
			}
			if n, err = number("SLURM_ARRAY_TASK_COUNT"); err != nil {
				return Shard{}, err
			}
			k = k - least + 1
		}
		if k < 1 || k > n {
			return Shard{}, fmt.Errorf("%q: task %s of the array is not one of %d, want an array 1-%d", text, getenv("SLURM_ARRAY_TASK_ID"), n, n)
		}
		return Shard{k, n}, nil
	case getenv("JOB_COMPLETION_INDEX") != "":
		k, err := number("JOB_COMPLETION_INDEX")
		if err != nil {
			return Shard{}, err
		}
		if !counted {
			return Shard{}, fmt.Errorf("%q: a Kubernetes job does not say its size, want auto/N with its number of completions", text)
		}
		if k < 0 || k >= n {
			return Shard{}, fmt.Errorf("%q: completion index %d is not below %d", text, k, n)
		}
		return Shard{k + 1, n}, nil
	}
	return Shard{}, fmt.Errorf("%q: neither SLURM_ARRAY_TASK_ID nor JOB_COMPLETION_INDEX is set, want K/N outside an array job", text)
}
