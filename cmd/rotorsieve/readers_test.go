package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Readers of files that anybody can have written end in one short line, soon, whatever
// stands there: a device, a pipe that nobody writes to, a folder, megabytes of one field.
func TestBoundedReaders(t *testing.T) {
	long := strings.Repeat("x", 1<<20)
	const points = "diameter_in,pitch_in,blades,rpm,thrust_N,power_W\n"
	writeFiles(t, map[string]string{
		"long.csv":     long,
		"blade.csv":    "r/R,c/R,beta\n0.1," + long[:60000] + ",20\n",
		"points.csv":   points + "5,4.3,3," + long[:60000] + ",3.5,60\n",
		"records.csv":  "kind,key,quantity,value,unit,sigma\n" + long[:60000] + ",a,b,1,1,1\n",
		"stand.csv":    "rpm,voltage_V,current_A,thrust_N\n" + long[:60000] + ",11,3,1\n",
		"columns.csv":  strings.Repeat("rpm_", 1) + strings.Repeat(",", 300) + "\n",
		"speeds.csv":   points + "5,4.3,3,12000,3.5,60\n5,4.3,3,12000,7,60\n",
		"line.flags":   "--class=" + long[:maxFlagLine] + "\n",
		"word.flags":   long[:60000] + "\n",
		"value.flags":  "--diameter=" + long[:60000] + "\n",
		"name.flags":   "--" + long[:60000] + "=1\n",
		"many.flags":   strings.Repeat("--kv=1750\n", maxFlags+1),
		"a/run.json":   "{\"format\":" + long + "}",
		"sparse.flags": "",
		"sparse.csv":   "",
		"folder/x":     "",
		"b/run.json":   "",
		"d/checkpoint": "rotorsieve state\n",
	})
	for _, name := range []string{"sparse.flags", "sparse.csv", "b/run.json", "d/checkpoint"} {
		if err := os.Truncate(name, 1<<40); err != nil { // takes no room on a disk
			t.Skip("no sparse files here:", err)
		}
	}
	for i := range 8 { // each takes in ten times the one below: 10^7 files
		text := strings.Repeat(fmt.Sprintf("@fan%d\n", i+1), 10)
		if err := os.WriteFile(fmt.Sprintf("fan%d", i), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile("fan8", nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("/dev/zero", "zero"); err != nil {
		t.Skip("no links here:", err)
	}
	if err := os.MkdirAll("c", 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("/dev/zero", filepath.Join("c", "run.json")); err != nil {
		t.Fatal(err)
	}
	rotor := []string{"rotor", "--blades", "3", "--rpm", "20000"}
	with := func(args ...string) []string { return append(rotor[:len(rotor):len(rotor)], args...) }
	stand := []string{"stand", "--blades", "3", "--compare"}
	failure := func(args []string) (int, string) {
		var stdout, stderr bytes.Buffer
		return run(t.Context(), args, &stdout, &stderr), stderr.String()
	}
	for _, c := range []struct {
		args []string
		want string // begins the line
	}{
		{with("--blade", "zero"), "--blade zero: is no regular file, want a CSV of r/R, c/R, beta"},
		{with("--rotor-points", "zero"), "--rotor-points zero: is no regular file, want a CSV of measurements"},
		{with("--measured", "zero"), "--measured zero: is no regular file, want a CSV of records"},
		{append(stand, "zero"), "--compare zero: is no regular file, want "},
		{[]string{"sweep", "@zero"}, "flag file zero: is no regular file, want a file of flags"},
		{[]string{"compare", "c", "folder"}, "c: run.json: is no regular file, want the record of a finished run"},
		{[]string{"compare", "b", "folder"}, "b: run.json: more than 67108864 bytes, want the record of a finished " +
			"run"},
		{[]string{"sweep", "--out", "c", "--class", "250g"}, "--out c: run.json there is a link or a device, want it " +
			"removed, or another folder"},
		{[]string{"sweep", "--out", "b", "--class", "250g"}, "--out b: run.json cannot be read: more than 67108864 bytes"},
		{[]string{"sweep", "--out", "b", "--resume"}, "--out b: run.json cannot be read: more than 67108864 bytes"},
		{[]string{"explain", "b"}, "b: run.json: more than 67108864 bytes, want the record of a finished run"},
		{[]string{"sweep", "--out", "d", "--diameter", "5in", "--quiet", "--resume"}, "d/checkpoint: a checkpoint of "},
		{[]string{"merge", "d"}, "d/checkpoint: a checkpoint of more than 2147483648 bytes"},
		{[]string{"sweep", "--motors", "sparse.csv"}, "--motors sparse.csv: more than 16777216 bytes, want a CSV of motors"},
		{with("--blade", "sparse.csv"), "--blade sparse.csv: more than 16777216 bytes, want a CSV of r/R, c/R, beta"},
		{with("--measured", "sparse.csv"), "--measured sparse.csv: more than 16777216 bytes, want a CSV of records"},
		{[]string{"sweep", "@sparse.flags"}, "flag file sparse.flags: more than 8388608 bytes, want a file of flags"},
		{with("--measured", "folder"), "--measured folder: is a folder, want a CSV of records"},
		{with("--blade", "long.csv"), "long.csv:1: a line of more than 65536 bytes; want a table"},
		{with("--blade", "blade.csv"), `blade.csv:2: "xxx`},
		{with("--rotor-points", "points.csv"), `points.csv:2: rpm "xxx`},
		{with("--rotor-points", "columns.csv"), "columns.csv:1: 301 fields; want up to 256"},
		{with("--rotor-points", "speeds.csv"), "speeds.csv:3: thrust of 7 N at 12000 rpm, but thrust of 3.5 N at " +
			"12000 rpm at speeds.csv:2"},
		{with("--measured", "records.csv"), `records.csv:2: kind "xxx`},
		{append(stand, "stand.csv"), `stand.csv:2: rpm "xxx`},
		{[]string{"sweep", "@line.flags"}, "line.flags:1: a line of 131080 bytes, want up to 131072"},
		{[]string{"sweep", "@word.flags"}, `word.flags:1: "xxx`},
		{[]string{"sweep", "@value.flags"}, `value.flags:1: --diameter: "xxx`},
		{[]string{"sweep", "@name.flags"}, "name.flags:1: no flag --xxx"},
		{[]string{"sweep", "@many.flags"}, "many.flags:40001: more than 40000 flags in files, want fewer"},
		{[]string{"sweep", "@fan1"}, "fan"},
		{[]string{"compare", "a", "folder"}, "a: run.json: "},
	} {
		began := time.Now()
		status, line := failure(c.args)
		if status != exitUnusable || !strings.HasPrefix(line, "rotorsieve: "+c.want) || len(line) > mostSaid+40 ||
			strings.Count(line, "\n") != 1 {
			t.Errorf("%.80q: status %d, %d bytes:\n got %.300s\nwant %s", c.args, status, len(line), line, c.want)
		}
		if took := time.Since(began); took > 20*time.Second {
			t.Errorf("%.80q took %v", c.args, took)
		}
	}
}
