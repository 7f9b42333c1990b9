package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
)

// partsLists are lists for a study of a few dozen designs.
var partsLists = map[string]string{
	"lists/motors.csv": "# made up\nname,stator,kv,mass (g),price\n\"Gale, long\",2207,1750,32.4,20\n" +
		"Lull 2306,2306,1850,,\n",
	"lists/propellers.csv": "name,diameter (in),pitch (in),blades\nReed 5x4x3,5,4,3\nReed 5x4x2,5,4,2\nSedge " +
		"4x3x3,4,3,3\n",
	"lists/packs.csv":  "name,cells,capacity (mAh),rate (C)\nFlint 4S 1300,4,1300,35\nFlint 6S 1100,6,1100,35\n",
	"lists/frames.csv": "name,wheelbase (mm),largest propeller (in)\nTrestle 5,225,5.1\n",
	"lists/boards.csv": "name,current (A),cells\nSill 45,45,6\n",
	"lists/parts.flags": "--motors motors.csv\n--propellers propellers.csv\n--packs packs.csv\n--frames frames.csv\n" +
		"--boards boards.csv\n--class 700g\n--draws 0\n--figures none\n--quiet\n",
}

// A study of parts names them wherever a design is named, keeps the hashes of its lists, and
// is run again from its effective flags, from any folder.
func TestPartsStudy(t *testing.T) {
	writeFiles(t, partsLists)
	printed := said(t, "sweep", "@lists/parts.flags", "--out", "run")
	table := func(dir string) [][]string {
		f, err := os.Open(filepath.Join(dir, "ranking.csv"))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		all, err := csv.NewReader(f).ReadAll()
		if err != nil || len(all) < 3 {
			t.Fatalf("%d rows, %v", len(all), err)
		}
		return all
	}
	all := table("run")
	for kind, names := range map[string][]string{"motor": {"Gale, long", "Lull 2306"},
		"propeller": {"Reed 5x4x3", "Reed 5x4x2", "Sedge 4x3x3"}, "pack": {"Flint 4S 1300", "Flint 6S 1100"},
		"frame": {"Trestle 5"}, "board": {"Sill 45"}} {
		at := slices.Index(all[0], kind)
		if at < 0 {
			t.Fatalf("no column %s in %v", kind, all[0])
		}
		for _, row := range all[1:] {
			if !slices.Contains(names, row[at]) {
				t.Errorf("%s %q", kind, row[at])
			}
		}
		if best := all[1][at]; !strings.Contains(printed, best) {
			t.Errorf("%q is not printed:\n%s", best, printed)
		}
	}
	book, err := excelize.OpenFile("run/review.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	for _, sheet := range book.GetSheetList() {
		rows, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		named := slices.Contains(slices.Concat(rows...), all[1][slices.Index(all[0], "motor")])
		if want := sheet == "Summary" || strings.HasPrefix(sheet, "Ranking"); want && !named {
			t.Errorf("the sheet %s names no motor", sheet)
		}
	}
	var record finding.RunRecord
	b, err := os.ReadFile("run/run.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &record); err != nil {
		t.Fatal(err)
	}
	if n := len(record.Study.Parts); n != 5 {
		t.Errorf("%d lists in the record", n)
	}
	if best := record.Result.Classes[0].Best; best == nil || len(best.Parts) != 5 ||
		best.Parts[0].Name != all[1][slices.Index(all[0], "motor")] {
		t.Errorf("the best of the record is %+v", best)
	}
	effective, err := os.ReadFile("run/effective.flags")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range record.Study.Parts {
		for _, want := range []string{"--" + l.Kind + "=../lists/" + l.Kind + ".csv\n",
			"--parts-hash=" + l.Kind + "=" + l.SHA256 + "\n"} {
			if !strings.Contains(string(effective), want) {
				t.Errorf("no %s in\n%s", want, effective)
			}
		}
	}
	t.Chdir("run")
	said(t, "sweep", "@effective.flags", "--out", "../again", "--quiet")
	if again := table("../again"); !slices.EqualFunc(all, again, slices.Equal[[]string]) {
		t.Error("a run from the effective flags ranks otherwise")
	}
	one := said(t, "explain", "@effective.flags", "--propellers", "../lists/propellers.csv", "--part", "Gale, long",
		"--part", "Reed 5x4x3", "--part", "Flint 4S 1300", "--parts-hash", "packs="+record.Study.Parts[2].SHA256)
	if !strings.HasPrefix(one, "Reed 5x4x3, Gale, long, Flint 4S 1300, frame Trestle 5, board Sill 45\n") {
		t.Errorf("explain begins %.200q", one)
	}
}

// A list that has changed since a run is refused by its name where that run is to go on or
// its shards are joined, and where its effective flags are used.
func TestChangedParts(t *testing.T) {
	writeFiles(t, partsLists)
	for _, k := range []string{"1/2", "2/2"} {
		said(t, "sweep", "@lists/parts.flags", "--out", "k"+k[:1], "--shard", k)
	}
	said(t, "sweep", "@lists/parts.flags", "--out", "run")
	list := partsLists["lists/packs.csv"]
	if err := os.WriteFile("lists/packs.csv", []byte(strings.Replace(list, "1300,35", "1350,35", 1)),
		0o666); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"sweep", "@lists/parts.flags", "--out", "run", "--resume"},
		{"sweep", "@lists/parts.flags", "--out", "k1", "--shard", "1/2", "--resume"},
		{"sweep", "@run/effective.flags", "--out", "other"},
		{"merge", "k1", "k2", "--out", "other"},
	} {
		var stdout, stderr bytes.Buffer
		status := run(t.Context(), args, &stdout, &stderr)
		if got := stderr.String(); status != exitUnusable || strings.Count(got, "\n") != 1 ||
			!strings.Contains(got, "lists/packs.csv: the file has changed, its SHA-256 is ") {
			t.Errorf("%v: status %d, %s", args, status, got)
		}
	}
	if _, err := os.Stat("other"); err == nil {
		t.Error("something is written")
	}
	if err := os.WriteFile("lists/packs.csv", []byte(list), 0o666); err != nil {
		t.Fatal(err)
	}
	said(t, "merge", "k1", "k2", "--out", "other")
	whole, err := os.ReadFile("run/ranking.csv")
	if err != nil {
		t.Fatal(err)
	}
	if merged, err := os.ReadFile("other/ranking.csv"); err != nil || !bytes.Equal(merged, whole) {
		t.Errorf("the shards rank otherwise, %v", err)
	}
}

// Lists stand beside generated axes, and a propeller may name files of its blade and of its
// stand: a study of such is made again from its effective flags, and goes on only where the files
// are as they were.
func TestPartsMixed(t *testing.T) {
	files := map[string]string{
		"lists/motors.csv": partsLists["lists/motors.csv"],
		"lists/props.csv": "name,diameter (in),pitch (in),blades,blade file,stand file\n" +
			"Own,5,4.3,3,blade.csv,\nMeasured,5,4.3,3,,stand.csv\nPlain,5,4.3,3,,\n",
		"lists/blade.csv": wrongFiles["blade.csv"],
		"lists/stand.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n" +
			"5,4.3,3,10000,165,19\n5,4.3,3,20000,690,160\n",
	}
	writeFiles(t, files)
	args := []string{"sweep", "--motors", "lists/motors.csv", "--propellers", "lists/props.csv", "--cells", "4,6",
		"--capacity", "1100:1500:200mAh", "--class", "700g", "--draws", "0", "--figures", "none", "--quiet"}
	said(t, append(args, "--out", "run")...)
	table := func(dir string) [][]string {
		b, err := os.ReadFile(filepath.Join(dir, "ranking.csv"))
		if err != nil {
			t.Fatal(err)
		}
		all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	all := table("run")
	at := func(name string) int {
		return slices.IndexFunc(all[0], func(head string) bool {
			return head == name || strings.HasPrefix(head,
				name+" ")
		})
	}
	seen := map[string]bool{}
	merits := map[string]string{} // of one motor and pack, by propeller
	for _, row := range all[1:] {
		for _, name := range []string{"motor", "propeller", "cells", "capacity"} {
			seen[name+" "+row[at(name)]] = true
		}
		if row[at("motor")] == "Gale, "+
			"long" && row[at("cells")] == "6" && row[at("capacity")] == all[1][at("capacity")] {
			merits[row[at("propeller")]] = row[at("merit")]
		}
	}
	for _, want := range []string{"motor Gale, long", "motor Lull 2306", "propeller Own", "propeller Measured",
		"propeller Plain", "cells 4", "cells 6"} {
		if !seen[want] {
			t.Errorf("no %s is ranked: %v", want, seen)
		}
	}
	if len(merits) != 3 || merits["Own"] == merits["Plain"] || merits["Measured"] == merits["Plain"] {
		t.Errorf("files of blade and stand change nothing: %v", merits)
	}
	said(t, "sweep", "@run/effective.flags", "--out", "again", "--quiet")
	if !slices.EqualFunc(all, table("again"), slices.Equal[[]string]) {
		t.Error("a run from the effective flags ranks otherwise")
	}
	for _, name := range []string{"blade.csv", "stand.csv"} {
		path := "lists/" + name
		changed := strings.NewReplacer("0.21,29", "0.22,29", "690,160", "700,160").Replace(files[path])
		if err := os.WriteFile(path, []byte(changed), 0o666); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{append(args, "--out", "run", "--resume"),
			{"sweep", "@run/effective.flags", "--out", "other"}} {
			var stdout, stderr bytes.Buffer
			status := run(t.Context(), args, &stdout, &stderr)
			got := stderr.String()
			if status != exitUnusable || strings.Count(got, "\n") != 1 || !strings.Contains(got,
				path+": the file has changed, its SHA-256 is ") {
				t.Errorf("%s: %v: status %d, %s", name, args, status, got)
			}
		}
		if _, err := os.Stat("other"); err == nil {
			t.Error("something is written")
		}
		if err := os.WriteFile(path, []byte(files[path]), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}
