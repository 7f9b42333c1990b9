package main

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/pflag"

	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// flags is a small command.
type flags struct {
	*flagGroups
	altitude float64
	diameter []float64
	classes  []sweep.Class
	quiet    bool
	top      int
	name     string
}

func newFlags() *flags {
	f := &flags{flagGroups: newFlagGroups("sweep")}
	space := f.group("Space")
	space.Var(newAxis(&f.diameter, unit.Length, func(float64) error { return nil }, "5in"), "diameter",
		"propeller `diameters`")
	space.Var(newClasses(&f.classes, "249g"), "class", "weight classes")
	mission := f.group("Mission")
	mission.Var(newQuantity(&f.altitude, unit.Length.WithDefault("m"), unit.Range{Min: -500, Max: 11000}, "0m"),
		"altitude", "of the air")
	mission.Var(newNumber(&f.top, 1, 1000, 200), "top", "length of a ranking")
	mission.BoolVarP(&f.quiet, "quiet", "q", false, "say less")
	mission.StringVarP(&f.name, "name", "n", "study", "of the study")
	return f
}

func (f *flags) run(args ...string) (rest []argument, err error) {
	expanded, err := expandFlagFiles(args)
	if err != nil {
		return nil, err
	}
	return f.parse(expanded)
}

func labels(classes []sweep.Class) string {
	var s []string
	for _, c := range classes {
		s = append(s, c.Label)
	}
	return strings.Join(s, " ")
}

func TestParseFlags(t *testing.T) {
	f := newFlags()
	rest, err := f.run("out/a", "--altitude", "-100m", "-q", "--diameter=3in,4in", "-n", "-x", "-", "--", "--quiet")
	if err != nil {
		t.Fatal(err)
	}
	if f.altitude != -100 || !f.quiet || f.name != "-x" {
		t.Errorf("altitude %v, quiet %v, name %q", f.altitude, f.quiet, f.name)
	}
	if diff := cmp.Diff([]float64{3 * 0.0254, 4 * 0.0254}, f.diameter); diff != "" {
		t.Errorf("diameter (-want +got):\n%s", diff)
	}
	var texts []string
	for _, a := range rest {
		texts = append(texts, a.text)
	}
	if diff := cmp.Diff([]string{"out/a", "-", "--quiet"}, texts); diff != "" {
		t.Errorf("rest (-want +got):\n%s", diff)
	}
	if !f.all.Lookup("altitude").Changed || f.all.Lookup("class").Changed {
		t.Error("Changed does not tell what was given from what was not")
	}
}

// A list grows within one source and is started afresh by the next.
func TestListsAcrossSources(t *testing.T) {
	writeFiles(t, map[string]string{
		"a": "--class=500g\n--quiet\n--class=900g\n",
		"b": "--class=1kg\n@a\n",
		"c": "--altitude=100m\n",
	})
	for _, c := range []struct {
		args string
		want string
	}{
		{"", "249g"},
		{"--class=300g", "300g"},
		{"--class=300g --class 400g,450g", "300g 400g 450g"},
		{"@a", "500g 900g"},
		{"@a @a", "500g 900g"},
		{"@b", "500g 900g"},
		{"@a --class=1kg", "1kg"},
		{"--class=300g @a", "500g 900g"},
		{"--class=300g @c --class=400g", "300g 400g"},
	} {
		f := newFlags()
		if _, err := f.run(strings.Fields(c.args)...); err != nil {
			t.Errorf("%s: %v", c.args, err)
		} else if got := labels(f.classes); got != c.want {
			t.Errorf("%s: classes %s, want %s", c.args, got, c.want)
		}
	}
}

func TestOrigin(t *testing.T) {
	writeFiles(t, map[string]string{"a": "--altitude=10m\n--diameter=4in\n"})
	f := newFlags()
	if _, err := f.run("@a", "--altitude=20m"); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"altitude": "command line", "diameter": "a:2", "class": "default"} {
		if got := f.origin(name); got != want {
			t.Errorf("origin of %s is %q, want %q", name, got, want)
		}
	}
}

func TestParseFlagErrors(t *testing.T) {
	writeFiles(t, map[string]string{
		"kind":    "\n--diameter=5g\n",
		"unknown": "--diamter=5in\n",
		"bare":    "--quiet\n--diameter\n--quiet\n",
		"twice":   "--class=249g\n--class=0.249kg\n",
	})
	for _, c := range []struct{ args, want string }{
		{"--diameter=5g", `--diameter: "5g": g is a unit of mass, want a length such as 5in or 127mm`},
		{"@kind", `kind:2: --diameter: "5g": g is a unit of mass, want a length such as 5in or 127mm`},
		{"--altitude=12km", `--altitude: "12km": 12000m is out of bounds, want -500m to 11000m`},
		{"@unknown", `unknown:1: no flag --diamter, did you mean --diameter?`},
		{"--wingspan=2m", `no flag --wingspan, want one that rotorsieve help sweep lists`},
		{"-z", `"-z" is not a flag, want one that rotorsieve help sweep lists`},
		{"--=5", `"--=5" is not a flag, want one that rotorsieve help sweep lists`},
		{"@bare", `bare:2: --diameter has no value, want --diameter=values`},
		{"--diameter", `--diameter has no value, want --diameter=values`},
		{"--diameter --quiet", `--diameter has no value, want --diameter=values`},
		{"--diameter @kind", `--diameter has no value, want --diameter=values`},
		{"-n", `--name has no value, want --name=string`},
		{"--quiet=maybe", `--quiet: "maybe", want true or false`},
		{"--top=5x", `--top: "5x", want a whole number from 1 to 1000`},
		{"@twice", `twice:2: --class: "0.249kg" beside "249g": the same limit twice, want each class once`},
	} {
		rest, err := newFlags().run(strings.Fields(c.args)...)
		if err == nil {
			t.Errorf("%s: no error, rest %v, want %s", c.args, rest, c.want)
		} else if err.Error() != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.args, err, c.want)
		}
	}
}

func TestHelp(t *testing.T) {
	for _, arg := range []string{"--help", "-h"} {
		if _, err := newFlags().run(arg); !errors.Is(err, pflag.ErrHelp) {
			t.Errorf("%s: error %v, want %v", arg, err, pflag.ErrHelp)
		}
	}
	var b strings.Builder
	f := newFlags()
	(&manual{"A small command.\n", f.groups}).show(&b)
	want := `A small command.

Space:
  --diameter DIAMETERS    propeller diameters (default 5in)
  --class CLASS           weight classes (default 249g)

Mission:
  --altitude LENGTH       of the air (default 0m)
  --top NUMBER            length of a ranking (default 200)
  -q, --quiet             say less
  -n, --name TEXT         of the study (default study)

` + listHelp + "\n"
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("help (-want +got):\n%s", diff)
	}
}

// A flag that a command passes over is taken from a flag file, checked there, and
// is no part of its help; on the command line it is refused.
func TestPassedFlags(t *testing.T) {
	writeFiles(t, map[string]string{"a": "--top=5\n--length=3m\n", "b": "--length=3g\n"})
	made := func() *flags {
		f := newFlags()
		var length float64
		f.passed().Var(newQuantity(&length, unit.Length, unbounded, "1in"), "length", "of another command")
		f.passed().Var(newNumber(new(int), 7, 9, 8), "top", "of another command")
		return f
	}
	f := made()
	if _, err := f.run("@a"); err != nil {
		t.Fatal(err)
	}
	if f.top != 5 {
		t.Errorf("--top of the command is %d, want 5: it stands before one that is passed over", f.top)
	}
	var b strings.Builder
	(&manual{"A small command.\n", f.groups}).show(&b)
	if strings.Contains(b.String(), "another command") {
		t.Errorf("the help has a flag that is passed over:\n%s", &b)
	}
	for _, c := range []struct{ args, want string }{
		{"--length=3m", "--length does nothing in sweep, want it in a flag file alone"},
		{"@a --length 3m", "--length does nothing in sweep, want it in a flag file alone"},
		{"@b", `b:1: --length: "3g": g is a unit of mass, want a length such as 5in or 127mm`},
		{"--lengt=3", "no flag --lengt, want one that rotorsieve help sweep lists"},
	} {
		if _, err := made().run(strings.Fields(c.args)...); err == nil || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.args, err, c.want)
		}
	}
}

// What a sweep did is explained from its own flags, whatever they say of rankings
// and runs.
func TestExplainFromFlagsOfSweep(t *testing.T) {
	writeFiles(t, map[string]string{"all.flags": "--name x\n--top 5\n--map kv,cells\n--figures size\n--dpi " +
		"100\n--front auw\n--merit auw:1:2kg:1kg\n" +
		"--out x\n--force\n--format json\n--workers 2\n--quiet\n--resume\n--dry-run\n--max-time " +
		"1s\n--checkpoint-every 9s\n--shard 1/2\n"})
	if got, want := said(t, "explain", "@all.flags"), said(t, "explain", "--format", "json"); got != want {
		t.Errorf("with the flags of a sweep explain prints\n%s", cmp.Diff(want, got))
	}
}

func TestFlagInTwoGroupsPanics(t *testing.T) {
	f := newFlags()
	f.all.SetOutput(new(strings.Builder))
	f.group("More").Bool("quiet", false, "again")
	defer func() {
		if recover() == nil {
			t.Error("a flag in two groups was taken")
		}
	}()
	f.gather()
}
