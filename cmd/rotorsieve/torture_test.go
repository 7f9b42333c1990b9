//go:build unix

package main

import (
	codec "encoding/binary"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"rotorsieve/report/finding"
)

// weighed is a study with a choice, of which sweep, choice and report take about as long.
var weighed = []string{"--quiet", "--name", "weighed", "--class", "250g", "--diameter", "3in,4in", "--pitch-ratio", "0.7",
	"--blades", "2", "--stator", "1404", "--kv", "2500,3500", "--cells", "3", "--capacity", "450:1050:0.1mAh",
	"--payload", "0,10g", "--front", "hover-time,top-speed", "--figures", "size", "--dpi", "100", "--top", "200",
	"--draws", "16", "--merit", "hover-time:0.5:3min:20min,range:0.5:0km:15km"}

// torture kills one command after the other.
type torture struct {
	bin, dir string
	rng      *rand.Rand
	killed   int
	at       map[string]int // kills, by what the command was at
	left     int            // kills that left something unfinished beside the results
}

// victim is a command that is killed until it ends by itself.
type victim struct {
	name  string
	whole string                            // the folder of what it leaves where it is left alone
	args  func(into string, n int) []string // of its n-th start
	done  string                            // the file that comes last
	takes time.Duration
}

// A command that is killed at random instants, whatever it is at, and started again each time
// leaves the same files, byte for byte, as one that was left alone, and nothing besides.
func TestKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	t.Parallel()
	k := &torture{bin: binary(t), dir: t.TempDir(), rng: rand.New(rand.NewPCG(17, 18)), at: map[string]int{}}
	for _, shard := range []string{"1/2", "2/2"} {
		k.alone(t, append(append([]string{"sweep"}, weighed...), "--shard", shard, "--cache", "none", "--out",
			"shard-"+shard[:1])...)
	}
	sweeps := func(cache func(into string) string) func(string, int) []string {
		return func(into string, _ int) []string {
			// With other workers each time, and in small steps between what is kept.
			return append(append([]string{"sweep"}, weighed...), "--out", into, "--resume", "--checkpoint-every", "5ms",
				"--workers", fmt.Sprint(1+k.rng.IntN(4)), "--cache", cache(into))
		}
	}
	victims := []*victim{
		{name: "sweep", whole: "whole", done: finding.RecordName, args: sweeps(func(into string) string {
			return into + "-solved" // nothing is solved before, and what is torn is its own
		})},
		{name: "merge", whole: "whole", done: finding.RecordName, args: func(into string, _ int) []string {
			return []string{"merge", "shard-1", "shard-2", "--out", into, "--cache", "solved"}
		}},
		{name: "compare", whole: "compared", done: finding.ComparisonName, args: func(into string, _ int) []string {
			return []string{"compare", "whole", "other", "--out", into, "--force"}
		}},
		{name: "sweep with what others have solved", whole: "whole", done: finding.RecordName,
			args: sweeps(func(string) string { return "solved" })},
	}
	took := k.alone(t, append(append([]string{"sweep"}, weighed...), "--out", "whole", "--cache", "none")...)
	k.alone(t, append(append([]string{"sweep"}, weighed...), "--out", "other", "--cache", "none", "--draws", "0", "--top",
		"100")...)
	compared := k.alone(t, "compare", "whole", "other", "--out", "compared")
	for _, v := range victims {
		if v.takes = took; v.name == "compare" {
			v.takes = compared
		}
	}
	rounds := 0
	for ; k.killed < *kills || rounds < 3; rounds++ {
		k.round(t, victims[rounds%len(victims)], fmt.Sprintf("killed-%d", rounds))
	}
	k.cacheIsSwept(t)
	t.Logf("%d kills in %d rounds of %v: %v; %d left something behind", k.killed, rounds, took.Round(time.Millisecond),
		k.at, k.left)
	if *kills >= 100 {
		for _, phase := range []string{"sweep", "choice", "report"} {
			if k.at[phase] == 0 {
				t.Errorf("of %d kills none came at the %s", k.killed, phase)
			}
		}
	}
}

// alone runs a command to its end, and tells how long it took.
func (k *torture) alone(t *testing.T, args ...string) time.Duration {
	t.Helper()
	began := time.Now()
	c, out := start(t, k.bin, k.dir, args...)
	finishes(t, c, out)
	return time.Since(began)
}

// often is how many times a command is killed at most before it is left alone: a choice begins
// anew each time.
const often = 3

// reportTakes is about how long a report is written.
const reportTakes = time.Second

// reportBegun says whether a report is being written, or has been.
func reportBegun(dir string) bool {
	for _, pattern := range [...]string{"*.xlsx", "figures/[a-z]*", ".spool-[0-9][0-9][0-9][0-9][0-9]*"} {
		if found, _ := filepath.Glob(filepath.Join(dir, pattern)); len(found) > 0 {
			return true
		}
	}
	return false
}

// waits says whether something has ended within a time.
func waits(ended <-chan struct{}, d time.Duration) bool {
	select {
	case <-ended:
		return true
	case <-time.After(d):
		return false
	}
}

// round kills a command until it ends, and compares what it leaves.
func (k *torture) round(t *testing.T, v *victim, into string) {
	t.Helper()
	if k.killed == 0 || k.rng.IntN(4) == 0 {
		k.plant(t, into)
	}
	path := filepath.Join(k.dir, into)
	for n := 0; ; n++ {
		// It may have been killed when all was written.
		if _, err := os.Stat(filepath.Join(path, v.done)); err == nil && n > 0 && !slices.Contains(v.args(into, n),
			"--resume") {
			break
		}
		c, out := start(t, k.bin, k.dir, v.args(into, n)...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan struct{})
		if k.killed < *kills && n < often {
			u := k.rng.Float64() // squared, since the sweep comes first and is short
			after, reports := time.Duration(u*u*float64(v.takes)), k.rng.IntN(3) == 0
			if reports { // which is short, and when it begins depends on what else the machine does
				after = time.Duration(k.rng.Float64() * float64(reportTakes))
			}
			go func() {
				for reports && !reportBegun(path) {
					if waits(ended, 2*time.Millisecond) {
						return
					}
				}
				if !waits(ended, after) {
					_ = c.Process.Kill()
				}
			}()
		}
		err := c.Wait()
		close(ended)
		if err == nil {
			break
		}
		if s, _ := c.ProcessState.Sys().(syscall.WaitStatus); !s.Signaled() || s.Signal() != syscall.SIGKILL {
			t.Fatalf("%s: %v: %s", v.name, err, out)
		}
		k.killed++
		k.at[k.phase(t, v, path)]++
		if len(unfinished(path)) > 0 {
			k.left++
		}
	}
	k.compare(t, v, path)
}

// phase is what a command was at when it was killed, by what it has left.
func (k *torture) phase(t *testing.T, v *victim, path string) string {
	t.Helper()
	there := func(pattern string) bool {
		found, _ := filepath.Glob(filepath.Join(path, pattern))
		return len(found) > 0
	}
	state := filepath.Join(path, checkpointName)
	switch {
	case v.done == finding.ComparisonName:
		return "comparison"
	case there(v.done):
		return "end"
	case reportBegun(path):
		return "report"
	case !there(checkpointName):
		return "start"
	}
	if designs, _ := codec.Uvarint(readHeader(t, state).rest); designs == judged(t, filepath.Join(k.dir, v.whole)) {
		return "choice"
	}
	return "sweep"
}

// judged is how many designs the checkpoint of a finished run has.
func judged(t *testing.T, run string) uint64 {
	t.Helper()
	n, _ := codec.Uvarint(readHeader(t, filepath.Join(run, checkpointName)).rest)
	return n
}

// plant leaves in a folder what commands leave that are killed at their worst.
func (k *torture) plant(t *testing.T, into string) {
	t.Helper()
	for _, name := range []string{".spool-4711/parts-1", ".spool-4711/pages-2", ".checkpoint17", ".ranking.csv8",
		".comparison.xlsx9", ".review.xlsx10", ".rotorsieve-11", "figures/.size.png12", "figures/.size-overlay.png13"} {
		path := filepath.Join(k.dir, into, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("half"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// unfinished lists what stands in a folder under a name that begins with a dot, but for the
// lock of a run.
func unfinished(path string) (left []string) {
	_ = filepath.WalkDir(path, func(at string, _ fs.DirEntry, err error) error {
		if name := filepath.Base(at); err == nil && strings.HasPrefix(name, ".") && name != lockName {
			left = append(left, at)
		}
		return nil
	})
	return left
}

// compare holds all files that a command has left against those of one that was left alone.
// The record has times in it, and the checkpoint what was audited.
func (k *torture) compare(t *testing.T, v *victim, path string) {
	t.Helper()
	whole := filepath.Join(k.dir, v.whole)
	list := func(dir string) (names []string) {
		err := filepath.WalkDir(dir, func(at string, e fs.DirEntry, err error) error {
			if err == nil && !e.IsDir() {
				name, _ := filepath.Rel(dir, at)
				names = append(names, name)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return names
	}
	want, got := list(whole), list(path)
	if !slices.Equal(got, want) {
		t.Fatalf("%s leaves %v\nwant %v", v.name, got, want)
	}
	for _, name := range want {
		if name != finding.RecordName && name != checkpointName {
			same(t, filepath.Join(whole, name), filepath.Join(path, name))
		}
	}
	if v.done == finding.RecordName && judged(t, path) != judged(t, whole) {
		t.Errorf("%s keeps a state of %d designs", v.name, judged(t, path))
	}
}

// cacheIsSwept checks that what processes left in the cache which were killed is removed by
// the next one that writes there, once no process can still be at it.
func (k *torture) cacheIsSwept(t *testing.T) {
	t.Helper()
	cache := filepath.Join(k.dir, "solved")
	some := filepath.Join(cache, "."+strings.Repeat("ab", 32)+".solved123")
	if err := os.WriteFile(some, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	long := time.Now().Add(-2 * time.Hour)
	for _, path := range unfinished(cache) {
		if err := os.Chtimes(path, long, long); err != nil {
			t.Fatal(err)
		}
	}
	k.alone(t, append(append([]string{"sweep"}, small...), "--diameter", "6in", "--out", "more", "--cache", "solved")...)
	if left := unfinished(cache); len(left) > 0 {
		t.Errorf("left in the cache: %v", left)
	}
}

// Commands that write a file or two into a folder which nothing locks, killed as soon as one of these
// is begun, leave none that is a part, and what they leave is removed by the next that is started an
// hour later.
func TestKilledWhereNothingIsLocked(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the command")
	}
	t.Parallel()
	k := &torture{bin: binary(t), dir: t.TempDir()}
	if err := os.WriteFile(filepath.Join(k.dir, "bench.csv"), []byte(fewRows), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, args string }{
		{"rotor", "rotor --rpm 10000 --advance 0 --force --draw"},
		{"explain", "explain --cache none --force --draw"},
		{"stand", "stand --throttle 50% --force --draw"},
		{"fit", "stand --compare bench.csv --force --fit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			args := func(into string) []string {
				if c.name == "fit" {
					into += "/fitted.csv"
				}
				return append(strings.Fields(c.args), into)
			}
			whole, into := "whole-"+c.name, "killed-"+c.name
			for _, dir := range []string{whole, into} {
				if err := os.Mkdir(filepath.Join(k.dir, dir), 0o755); err != nil {
					t.Fatal(err)
				}
			}
			runs := func(into string) {
				x, out := start(t, k.bin, k.dir, args(into)...)
				if err := x.Run(); err != nil && x.ProcessState.ExitCode() != exitUnkept {
					t.Fatalf("%v: %v\n%s", x.Args, err, out)
				}
			}
			runs(whole)
			path := filepath.Join(k.dir, into)
			caught := 0
			for range max(3, *kills/4) {
				x, _ := start(t, k.bin, k.dir, args(into)...)
				if err := x.Start(); err != nil {
					t.Fatal(err)
				}
				ended := make(chan struct{})
				go func() { _ = x.Wait(); close(ended) }()
				before := len(unfinished(path))
				for over := false; !over && len(unfinished(path)) == before; {
					select {
					case <-ended:
						over = true
					default:
					}
				}
				_ = x.Process.Kill()
				<-ended
				caught += len(unfinished(path)) - before
				whatIsThere(t, filepath.Join(k.dir, whole), path)
			}
			long := time.Now().Add(-2 * time.Hour)
			for _, left := range unfinished(path) {
				if err := os.Chtimes(left, long, long); err != nil {
					t.Fatal(err)
				}
			}
			runs(into)
			if left := unfinished(path); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
			whatIsThere(t, filepath.Join(k.dir, whole), path)
			t.Logf("%d files were left half written", caught)
			if *kills >= 100 && caught == 0 {
				t.Error("it was never killed while it wrote")
			}
		})
	}
}

// whatIsThere holds all finished files of a folder against those of the same names in another.
func whatIsThere(t *testing.T, whole, path string) {
	t.Helper()
	entries, err := os.ReadDir(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			same(t, filepath.Join(whole, e.Name()), filepath.Join(path, e.Name()))
		}
	}
}
