//go:build unix

package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"rotorsieve/sweep"
)

var (
	tableSize = flag.Float64("table", 0, "measure whole runs up to this many designs, and write DEVELOPERS.md")
	peerTimes = flag.String("peer", "", "s of processor time of a program of numba for 0.92 and 4.53 million designs, "+
		"as 0.34,1.6, measured in the same hour")
)

// sized is a study of n million designs, alike but for its capacities.
func sized(capacities string) []string {
	return []string{"sweep", "--quiet", "--force", "--cache", "none", "--draws", "0", "--figures", "none", "--name",
		"sized", "--class", "250g,500g", "--diameter",
		"3:6:0.25in",
		"--pitch-ratio", "0.5:0.9:0.1", "--stator", "1204,1404,1507,2004,2207", "--kv", "1200:4000:100", "--cells",
		"3,4,6",
		"--capacity", capacities, "--payload", "0,20g,40g"}
}

// peerStudy is a study of which another program computes the same: a merit with flight, ten requirements.
func peerStudy(step string) []string {
	return []string{"sweep", "--quiet", "--force", "--draws", "0", "--figures", "none", "--workers", "1", "--name",
		"sized", "--class", "5kg", "--diameter", "4,5", "--pitch-ratio", "0.6,0.7,0.8", "--blades", "2,3",
		"--stator", "2004,2205,2206,2207,2306,2407", "--kv", "1000:1700:25", "--cells", "4,5,6",
		"--capacity", "1300:2500:" + step, "--payload", "0,10g,25g",
		"--merit", "hover-time:0.5:3min:40min", "--merit", "thrust-to-weight:0.5:2:14",
		"--merit", "top-speed:1:0m/s:60m/s", "--merit", "range:1:0km:30km", "--merit", "cruise-time:1:0min:60min"}
}

// TestRunTable measures whole processes: time, memory, start, scaling and cost
// against the size of the grid. It measures only when asked to, by make bench. Times are of
// processors, so that it may be run beside other work.
func TestRunTable(t *testing.T) {
	if *tableSize == 0 {
		t.Skip("measures only with -table")
	}
	bin := binary(t)
	dir := t.TempDir()
	type measured struct {
		designs, feasible, cpu, memory float64
	}
	measure := func(args []string) measured {
		c, out := start(t, bin, dir, args...)
		finishes(t, c, out)
		var m measured
		use := c.ProcessState.SysUsage().(*syscall.Rusage)
		m.cpu = c.ProcessState.UserTime().Seconds() + c.ProcessState.SystemTime().Seconds()
		m.memory = float64(use.Maxrss) / 1024
		b, err := os.ReadFile(filepath.Join(dir, "out/sized/run.json"))
		if err != nil {
			t.Fatal(err)
		}
		var record struct {
			Result struct {
				Done    float64 `json:"done"`
				Classes []struct {
					Feasible float64 `json:"feasible"`
				} `json:"classes"`
			} `json:"result"`
		}
		if err := json.Unmarshal(b, &record); err != nil {
			t.Fatal(err)
		}
		m.designs = record.Result.Done
		m.feasible = record.Result.Classes[0].Feasible
		return m
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Whole runs of one study, its capacities made finer; past 1e10 in lighter classes with larger "+
		"packs, of which most are too heavy.\nProcessor time and memory of the whole process, its propellers solved "+
		"anew, with a report without pictures and choice.\n\n")
	fmt.Fprintf(&b, "| designs | workers | processor time, s | ns/design | peak memory, MB |\n|---|---|---|---|---|\n")
	row := func(m measured, workers int) {
		fmt.Fprintf(&b, "| %.3g | %d | %.2f | %.0f | %.0f |\n", m.designs, workers, m.cpu, 1e9*m.cpu/m.designs,
			m.memory)
	}
	for _, c := range []struct {
		capacities string
		designs    float64
	}{
		{"800:900:100mAh", 1e5}, {"300:1500:50mAh", 1e6}, {"300:1500:5mAh", 1e7}, {"300:1500:2mAh", 1e8},
		{"300:1500:0.2mAh", 1e9},
	} {
		if c.designs > *tableSize {
			break
		}
		row(measure(append(sized(c.capacities), "--workers", "2")), 2)
	}
	if *tableSize >= 1e10 { // most are too heavy, as in any grid that reaches so far
		row(measure(append(sized("300:6000:0.08mAh"), "--workers", "2", "--class", "100g,150g")), 2)
	}
	one := measure(append(sized("300:1500:5mAh"), "--workers", "1"))
	two := measure(append(sized("300:1500:5mAh"), "--workers", "2"))
	row(one, 1)
	fmt.Fprintf(&b, "\nTwo workers do %.2f times what one does, where two processors are free. ", 2*one.cpu/two.cpu)

	c := exec.Command(bin, "version")
	began := time.Now()
	if err := c.Run(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&b, "The process starts and ends in %.0f ms, and a sweep first says how far it is after %.0f ms.\n",
		1e3*time.Since(began).Seconds(), 1e3*firstProgress(t))
	b.WriteString("\nA study of which a program of numba computes the same, by one worker, medians of three:\n\n" +
		"| designs | feasible | processor time, s | ns/feasible | numba, s | times that |\n|---|---|---|---|---|---|\n")
	peers := append(strings.Split(*peerTimes, ","), "", "")
	for i, step := range []string{"25mAh", "5mAh"} {
		measure(peerStudy(step)) // fills the cache
		var m [3]measured
		for k := range m {
			m[k] = measure(peerStudy(step))
		}
		slices.SortFunc(m[:], func(a, b measured) int { return cmp.Compare(a.cpu, b.cpu) })
		peer, times := "not measured", ""
		if s, err := strconv.ParseFloat(peers[i], 64); err == nil {
			peer, times = fmt.Sprintf("%.3g", s), fmt.Sprintf("%.2f", m[1].cpu/s)
		}
		fmt.Fprintf(&b, "| %.3g | %.3g | %.2f | %.0f | %s | %s |\n", m[1].designs, m[1].feasible, m[1].cpu,
			1e9*m[1].cpu/m[1].feasible, peer, times)
	}
	b.WriteString("\n" + loops(t))
	t.Log("\n" + b.String())
	writeBetween(t, "../../DEVELOPERS.md", "bench", b.String())
}

// firstProgress is the time in s from the start of a large study to the first word
// of designs that have been judged.
func firstProgress(t *testing.T) float64 {
	f := newStudyFlags("sweep", sweepDefaults)
	output := f.group("Output")
	f.output(output)
	var o sweepOptions
	o.declare(output, f.group("Run"))
	if err := f.take(sized("300:1500:0.5mAh")[1:]); err != nil {
		t.Fatal(err)
	}
	s, err := f.study()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	began, first := time.Now(), 0.0
	_, err = sweep.Run(ctx, s, sweep.Options{Progress: func(p sweep.Progress) {
		if p.Done > 0 && first == 0 {
			first = time.Since(began).Seconds()
			cancel()
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	return first
}

// loops measures the inner loops, beside the plain way, in one run of the
// benchmarks of package sweep.
func loops(t *testing.T) string {
	rows := []struct{ name, what string }{
		{"Evaluate", "the plain way: `model.Evaluate`, one design at a time"},
		{"Complete", "the same with the propeller at hand"},
		{"FlyingLong", "merit with top speed, range and cruise time, 2.1 million designs"},
		{"Flying", "the same, 0.3 million designs"},
		{"FlyingAll", "merit of all metrics that have a better direction, 2.1 million designs"},
		{"Feasible", "merit of hover time and thrust to weight, 0.3 million designs"},
		{"TooHeavy", "designs that mass rejects"},
	}
	least := map[string]float64{}
	out, err := exec.Command("go", "test", "../../sweep", "-run", "^$", "-bench",
		"^Benchmark(Evaluate|Complete|FlyingLong|FlyingAll|Flying|Feasible|TooHeavy)$", "-count", "5").CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for line := range strings.Lines(string(out)) {
		f := strings.Fields(line)
		if len(f) < 4 || !strings.HasPrefix(f[0], "Benchmark") {
			continue
		}
		name, _, _ := strings.Cut(strings.TrimPrefix(f[0], "Benchmark"), "-")
		per := map[string]float64{}
		for i := 3; i < len(f); i += 2 {
			v, err := strconv.ParseFloat(f[i-1], 64)
			if err != nil {
				t.Fatal(err)
			}
			per[f[i]] = v
		}
		v := per["ns/feasible"] // amortised, where the benchmark counts them
		if v == 0 {
			v = per["ns/design"]
		}
		if v == 0 {
			v = per["ns/op"]
		}
		if old, ok := least[name]; !ok || v < old {
			least[name] = v
		}
	}
	var b strings.Builder
	b.WriteString("Inner loops on one core, the least of five, amortised over the feasible designs (over all where " +
		"mass rejects them):\n\n")
	b.WriteString("| | ns/design | times the plain way |\n|---|---|---|\n")
	for _, r := range rows {
		v, ok := least[r.name]
		if !ok {
			t.Fatalf("no benchmark %s in %s", r.name, out)
		}
		fmt.Fprintf(&b, "| %s | %.3g | %.2g |\n", r.what, v, least["Evaluate"]/v)
	}
	return b.String()
}

// writeBetween replaces what stands between the markers of a name in a document.
func writeBetween(t *testing.T, path, name, text string) {
	t.Helper()
	doc, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	begin, end := []byte("<!-- "+name+":begin -->\n"), []byte("<!-- "+name+":end -->")
	head, rest, ok := bytes.Cut(doc, begin)
	_, tail, ok2 := bytes.Cut(rest, end)
	if !ok || !ok2 {
		t.Fatalf("%s has no markers %s", path, name)
	}
	out := bytes.Join([][]byte{head, begin, []byte(text), end, tail}, nil)
	if err := os.WriteFile(path, out, 0o644); err != nil {
		t.Fatal(err)
	}
}
