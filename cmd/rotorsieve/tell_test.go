package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// loud is the small study with its notes and a choice.
var loud = append(slices.DeleteFunc(slices.Clone(small), func(a string) bool { return a == "--quiet" }), "--draws", "8")

// The log has the lines of standard error with their time, after those of earlier runs.
func TestLog(t *testing.T) {
	t.Chdir(t.TempDir())
	var want []string
	for n, more := range [][]string{{"--name", "one"}, {"--name", "one"}, {"--name", "two", "--progress", "json"}} {
		var stdout, stderr bytes.Buffer
		args := slices.Concat([]string{"sweep", "--log", "run.log"}, loud, more)
		status := run(context.Background(), args, &stdout, &stderr)
		if wanted := []int{exitDone, exitUnusable, exitDone}[n]; status != wanted {
			t.Fatalf("%v: status %d, want %d: %s", args, status, wanted, &stderr)
		}
		if n < 2 { // the second finds the results of the first, and says so
			want = append(want, strings.Split(strings.TrimSuffix(stderr.String(), "\n"), "\n")...)
		}
		if n == 0 { // as a crash leaves it
			f, err := os.OpenFile("run.log", os.O_APPEND|os.O_WRONLY, 0)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.WriteString("2026-01-02T03:04:05Z torn"); err != nil || f.Close() != nil {
				t.Fatal(err)
			}
			want = append(want, "torn")
		}
	}
	b, err := os.ReadFile("run.log")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for line := range strings.Lines(string(b)) {
		when, text, ok := strings.Cut(line, " ")
		if _, err := time.Parse(dated, when); err != nil || !ok || !strings.HasSuffix(text, "\n") {
			t.Errorf("%q is no dated line", line)
		}
		got = append(got, strings.TrimSuffix(text, "\n"))
	}
	if len(got) <= len(want) || !slices.Equal(got[:len(want)], want) {
		t.Errorf("the log has\n%s\nwant first\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	last := strings.Join(got[len(want):], "\n")
	for _, said := range []string{"two: sweep", "two: choice", "two: report", "rotorsieve: ended with status 0"} {
		if !strings.Contains(last, said) {
			t.Errorf("of objects the log has\n%s\nwant %q in it", last, said)
		}
	}
}

// A log must not be where the results or something else is.
func TestLogRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("study.flags", []byte("--payload 0g\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.Mkdir("out", 0o755), os.Symlink("out", "way")); err != nil {
		t.Fatal(err)
	}
	const own = "is one of the run's own outputs, want another file"
	for path, want := range map[string]string{
		"out/study/review.xlsx":      own,
		"way/study/run.json":         own,
		"out/study/../study/.lock":   own,
		"out/study/Ranking.CSV":      own,
		"out/study/figures/size.png": own,
		"out":                        "is no regular file, want a file to append to",
		"dumped/run.log":             "is in the folder of the dump, which holds nothing else, want another folder",
		".":                          "is no regular file, want a file to append to",
		"none/run.log":               "cannot be written: no such file or directory, want a file in a folder that exists",
		"study.flags":                "holds something else than an earlier log, want that or a new file",
		"study.flags/run.log":        "cannot be written: not a directory, want a file in a folder that exists",
	} {
		args := append(slices.Clone(loud), "--figures", "all", "--dump", "dumped", "--log", path)
		var stdout, stderr bytes.Buffer
		status := run(context.Background(), append([]string{"sweep"}, args...), &stdout, &stderr)
		got := stderr.String()
		if status != exitUnusable || !strings.HasSuffix(got, "rotorsieve: --log "+path+": "+want+"\n") {
			t.Errorf("--log %s: status %d, %q, want %q", path, status, got, want)
		}
	}
	left, err := os.ReadDir(".")
	if err != nil || len(left) != 3 {
		t.Errorf("left: %v, %v, want the flags, the folder and the link alone", left, err)
	}
	if b, err := os.ReadFile("study.flags"); err != nil || string(b) != "--payload 0g\n" {
		t.Errorf("the flags are %q, %v", b, err)
	}
}

// objects are the lines of standard error of a command, each a JSON object.
func objects(t *testing.T, want int, args ...string) (all []map[string]any) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := run(context.Background(), args, &stdout, &stderr); status != want {
		t.Fatalf("%v: status %d, want %d: %s", args, status, want, &stderr)
	}
	for line := range strings.Lines(stderr.String()) {
		o := map[string]any{}
		if err := json.Unmarshal([]byte(line), &o); err != nil {
			t.Fatalf("%q is no object: %v", line, err)
		}
		all = append(all, o)
	}
	return all
}

// With JSON all of standard error is objects, whose fields are those that the help lists.
func TestProgressJSON(t *testing.T) {
	t.Chdir(t.TempDir())
	study := append(slices.Clone(loud), "--class", "600g,30g", "--progress", "json")
	all := objects(t, exitDone, append([]string{"sweep", "--name", "one"}, study...)...)
	all = append(all, objects(t, exitUnusable, append([]string{"sweep", "--name", "one"}, study...)...)...)
	all = append(all, objects(t, exitUnusable, "sweep", "--diameter", "5g", "--progress=json")...)
	for _, k := range []string{"1/2", "2/2"} {
		shard := append([]string{"sweep", "--shard", k, "--out", "s" + k[:1]}, study...)
		all = append(all, objects(t, exitDone, shard...)...)
	}
	all = append(all, objects(t, exitDone, "merge", "s1", "s2", "--out", "joined", "--progress", "json")...)

	documented := map[string][]string{}
	of := ""
	for _, f := range objectFields {
		if f.of != "" {
			of = f.of
		}
		documented[of] = append(documented[of], strings.Split(f.name, ", ")...)
	}
	snake := regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
	seen := map[string]bool{}
	for _, o := range all {
		kind, _ := o["type"].(string)
		for name := range o {
			if !snake.MatchString(name) ||
				!slices.Contains(documented["all"], name) && !slices.Contains(documented[kind], name) {
				t.Errorf("%v has the field %q, which the help does not list", o, name)
			}
			seen[kind+" "+name] = true
		}
		if kind == "status" {
			seen["phase "+o["phase"].(string)] = true
		}
	}
	for _, kind := range []string{"status", "note", "error", "summary"} {
		for _, name := range documented[kind] {
			if !seen[kind+" "+name] && kind != "note" {
				t.Errorf("no %s has the field %q, which the help lists", kind, name)
			}
		}
	}
	for _, phase := range []string{phaseJoin, phaseSweep, phaseChoice, phaseReport} {
		if !seen["phase "+phase] {
			t.Errorf("no status is of the phase %s", phase)
		}
	}
	last := all[len(all)-1]
	files, _ := last["files"].([]any)
	if last["type"] != "summary" || last["exit_status"] != 0.0 || last["complete"] != true || len(files) < 8 ||
		last["folder"] != "joined" || last["designs_done"] != last["designs_total"] {
		t.Errorf("the last object is %v, want the summary of the merge", last)
	}
	if classes, _ := last["classes"].([]any); len(classes) != 2 {
		t.Errorf("classes %v, want two", last["classes"])
	}
	if _, err := os.Stat(filepath.Join("joined", "review.xlsx")); err != nil {
		t.Error(err)
	}
}

// Every command that prints a result prints it as JSON as well, with the numbers of its text.
func TestEveryResultAsJSON(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"one", "two"} {
		var stdout, stderr bytes.Buffer
		args := append([]string{"sweep", "--name", name}, small...)
		if status := run(context.Background(), args, &stdout, &stderr); status != exitDone {
			t.Fatalf("%v: %s", args, &stderr)
		}
	}
	if err := os.WriteFile("motors.csv", []byte("name,stator,kv\nGale,2207,1750\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	asked := map[string]string{
		"sweep":      "sweep --dry-run --diameter 4in,5in",
		"merge":      "", // as sweep, in TestProgressJSON's folders
		"compare":    "compare out/one out/two",
		"explain":    "explain --diameter 5in",
		"parts":      "parts --like out/one --motors motors.csv",
		"rotor":      "rotor --rpm 10000 --advance 0,0.5,1.5",
		"stand":      "stand --throttle 50%",
		"classes":    "classes",
		"metrics":    "metrics",
		"parameters": "parameters",
		"version":    "version",
	}
	defer func(d time.Duration) { trial = d }(trial)
	trial = 10 * time.Millisecond
	for _, name := range commandNames(newRoot()) {
		if slices.Contains([]string{"help", "completion", "man"}, name) {
			continue
		}
		args, ok := asked[name]
		if !ok {
			t.Errorf("nothing asks %s for JSON", name)
		}
		if args == "" {
			continue
		}
		var stdout, stderr bytes.Buffer
		status := run(context.Background(), append(strings.Fields(args), "--format", "json"), &stdout, &stderr)
		if status > exitUnkept {
			t.Errorf("%s: status %d: %s", args, status, &stderr)
			continue
		}
		var whole any
		if err := json.Unmarshal(stdout.Bytes(), &whole); err != nil {
			t.Errorf("%s --format json: %v: %.200s", args, err, stdout.String())
			continue
		}
		switch name {
		case "sweep":
			o := whole.(map[string]any)
			axes, _ := o["axes"].([]any)
			designs := 1.0
			for _, a := range axes {
				designs *= a.(map[string]any)["values"].(float64)
			}
			if o["designs"] != designs || o["sweep_s"] == nil || o["memory_MB"] == nil || len(axes) < 8 {
				t.Errorf("a dry run tells %v", o)
			}
		case "rotor":
			points := whole.([]any)
			var table bytes.Buffer
			run(context.Background(), strings.Fields(args), &table, &stderr)
			rows := strings.Split(strings.TrimSpace(table.String()), "\n")[1:]
			if len(points) != len(rows) {
				t.Fatalf("%d points as JSON, %d as CSV", len(points), len(rows))
			}
			for i, row := range rows {
				o := points[i].(map[string]any)
				for n, cell := range strings.Split(row, ",")[:len(curveColumns)-1] {
					v, ok := o[curveColumns[n].name].(float64)
					if text := strconv.FormatFloat(v, 'g', 8, 64); ok && text != cell || !ok && cell != "" {
						t.Errorf("point %d: %s is %v as JSON, %q as CSV", i, curveColumns[n].name, v, cell)
					}
				}
			}
		}
	}
}
