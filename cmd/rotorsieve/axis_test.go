package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"rotorsieve/sweep"
)

// axisValue is a value for the flag of an axis that is not its default.
func axisValue(d *sweep.AxisDef) string {
	b := d.Bound()
	switch {
	case d == sweep.Pitch:
		return "3.5in"
	case d == sweep.Stator:
		return "2206"
	case d == sweep.Chord:
		return "0.17"
	case !d.Continuous:
		return d.Kind.Text(b.Max)
	}
	return d.Kind.Text((5*b.Min + b.Max) / 6)
}

// Every axis has its flag in sweep and explain, with its help and completion, which
// stands at the default of the table; given another value it changes the study.
func TestAxisFlags(t *testing.T) {
	for command, defaults := range map[string]axisDefaults{"sweep": sweepDefaults, "explain": oneDefaults} {
		help := strings.Join(strings.Fields(said(t, command, "--help")), " ")
		for _, d := range sweep.AxisDefs {
			want := "--" + d.Name + " VALUES " + d.Meaning
			if text := d.Default(bool(defaults)); text != "" {
				want += " (default " + text + ")"
			}
			if !strings.Contains(help, want) {
				t.Errorf("%s: no %q in its help", command, want)
			}
			s := newStudyFlags(command, defaults)
			s.output(s.group("Output"))
			args, err := expandFlagFiles([]string{"--" + d.Name, axisValue(d)})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := s.parse(args); err != nil {
				t.Error(err)
				continue
			}
			st, err := s.study()
			if err != nil {
				t.Error(err)
				continue
			}
			at, ok := st.Grid.AxisIndex(d.Name)
			if !ok {
				t.Errorf("%s --%s: the grid has no such axis", command, d.Name)
				continue
			}
			a := st.Grid.Axes()[at]
			if want := (*s.axes[d])[0]; len(a.Values) != 1 || a.Values[0] != want {
				t.Errorf("%s --%s=%s: the grid has %v", command, d.Name, axisValue(d), a.Values)
			}
			if flags, defaults := s.effective(st); !slices.Contains(flags, "--"+d.Name+"="+axisValue(d)) ||
				slices.Contains(defaults, "--"+d.Name+"="+axisValue(d)) {
				t.Errorf("%s --%s=%s is not among the effective flags, or as a default", command, d.Name, axisValue(d))
			}
		}
	}
	for _, command := range []string{"sweep", "explain"} {
		offers, _ := completed(t, command, "--")
		for _, d := range sweep.AxisDefs {
			if !slices.Contains(offers, "--"+d.Name) && !slices.Contains(offers, "--"+d.Name+"=") {
				t.Errorf("%s completes no --%s", command, d.Name)
			}
		}
	}
}

// headed says whether one of some heads is a name, alone or with its unit.
func headed(heads []string, name string) bool {
	return slices.ContainsFunc(heads, func(head string) bool {
		return head == name || strings.HasPrefix(head, name+" (")
	})
}

// Every axis of a study stands in the dry run and the effective flags, and has its
// column in the ranking and the workbook, its member in the record and its line in the
// data sheet, whichever way it is stated.
func TestAxisOutputs(t *testing.T) {
	defer func(d time.Duration) { trial = d }(trial)
	trial = time.Millisecond
	t.Chdir(t.TempDir())
	dry := said(t, append([]string{"sweep", "--dry-run", "--out", "dry"}, small...)...)
	said(t, append([]string{"sweep", "--out", "run"}, small...)...)
	read := func(name string) string {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	effective, record := read("run/effective.flags"), read("run/run.json")
	table, err := csv.NewReader(strings.NewReader(read("run/ranking.csv"))).ReadAll()
	if err != nil || len(table) < 2 {
		t.Fatalf("a ranking of %d lines, %v", len(table), err)
	}
	book, err := excelize.OpenFile("run/review.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	rows, err := book.GetRows("Ranking 250g")
	if err != nil {
		t.Fatal(err)
	}
	cells := slices.Concat(rows...)
	sheet := said(t, "explain")
	for _, d := range sweep.AxisDefs {
		stated := d != sweep.Pitch // small states the ratio
		if strings.Contains(dry, "\n  "+d.Name+" ") != stated {
			t.Errorf("the dry run has %s: %v, want %v\n%s", d.Name, !stated, stated, dry)
		}
		if strings.Contains(effective, "--"+d.Name+"=") != stated {
			t.Errorf("the effective flags have --%s: %v, want %v", d.Name, !stated, stated)
		}
		if d.Other() != nil && d.Or == nil {
			continue // designs have the one statement
		}
		if !headed(table[0], d.Name) {
			t.Errorf("the ranking has no column for %s", d.Name)
		}
		if !headed(cells, d.Title) {
			t.Errorf("the workbook's ranking has no column for %s", d.Title)
		}
		if !strings.Contains(record, `"`+d.Name+`": `) {
			t.Errorf("the record has no %s", d.Name)
		}
		if !strings.Contains(sheet, "\n  "+d.Title+" ") {
			t.Errorf("the data sheet has no line for %s", d.Title)
		}
	}
}

// The entries that DEVELOPERS.md shows of the tables of axes and assumptions stand there.
func TestDevelopersShowsEntries(t *testing.T) {
	read := func(names ...string) (text string) {
		for _, name := range names {
			b, err := os.ReadFile(filepath.Join("..", "..", name))
			if err != nil {
				t.Fatal(err)
			}
			text += string(b)
		}
		return text
	}
	code := read("model/design.go", "model/assumption_table.go", "sweep/axis_table.go")
	shown := 0
	for line := range strings.Lines(read("DEVELOPERS.md")) {
		if entry, ok := strings.CutPrefix(line, "      +"); ok {
			shown++
			if !strings.Contains(code, entry) {
				t.Errorf("DEVELOPERS.md shows %q, which is in no table", entry)
			}
		}
	}
	if shown < 10 {
		t.Errorf("DEVELOPERS.md shows %d lines", shown)
	}
}
