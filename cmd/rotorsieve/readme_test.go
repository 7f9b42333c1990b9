//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

const readmePath = "../../README.md"

var answers = flag.String("answers", "", "run the studies of README.md, and check or write its tables")

func readme(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// README.md names each flag of a sweep in its table of flags, and no other.
func TestReadmeNamesTheFlags(t *testing.T) {
	said := map[string]bool{}
	for line := range strings.Lines(readme(t)) {
		if !strings.HasPrefix(line, "| design") && !strings.HasPrefix(line, "| mission") && !strings.HasPrefix(line,
			"| assumptions") &&
			!strings.HasPrefix(line, "| output") && !strings.HasPrefix(line, "| choice") && !strings.HasPrefix(line, "| run") {
			continue
		}
		for _, m := range regexp.MustCompile("`--([a-z-]+)`").FindAllStringSubmatch(line, -1) {
			said[m[1]] = true
		}
	}
	for _, fs := range describeByName(t, "sweep").groups {
		fs.VisitAll(func(f *pflag.Flag) {
			if !said[f.Name] {
				t.Errorf("README.md does not name --%s", f.Name)
			}
			delete(said, f.Name)
		})
	}
	for name := range said {
		t.Errorf("README.md names --%s, which sweep does not have", name)
	}
}

func describeByName(t *testing.T, name string) *manual {
	t.Helper()
	root := newRoot()
	c, _, _ := root.Find([]string{name})
	if c == root {
		t.Fatalf("no command %s", name)
	}
	return manualOf(c)
}

// Files and folders that README.md names are there.
func TestReadmeNamesFiles(t *testing.T) {
	found := 0
	for _, m := range regexp.MustCompile(
		"`((?:configs/)?[a-z-]+\\.(?:flags|sbatch|json|png|md))`|\\]\\(([^)#:]+)\\)").FindAllStringSubmatch(readme(t),
		-1) {
		name := m[1] + m[2]
		if made[filepath.Base(name)] {
			continue
		}
		found++
		_, err := os.Stat(filepath.Join("../..", name))
		if err != nil {
			_, err = os.Stat(filepath.Join("../../configs", name))
		}
		if err != nil {
			t.Errorf("README.md names %s, which is not there", name)
		}
	}
	if found < 8 {
		t.Errorf("%d files found in README.md", found)
	}
}

// made are files that a run makes.
var made = map[string]bool{finding.RecordName: true, finding.FlagsName: true, "size.png": true, "confidence.png": true, "tornado.png": true, "front.png": true,
	"classes.png": true, "mass.png": true,
	"envelope.png": true, "rotor.png": true, "why-not.png": true, "diameter-kv.png": true, "diameter-payload.png": true}

// answered is what the record of a run says of its best designs, in SI units.
type answered struct {
	Result struct {
		Classes []struct {
			Class     string   `json:"class"`
			Best      answer   `json:"best"`
			ByPayload []answer `json:"by_payload"`
			Leaders   []answer `json:"leaders"`
		} `json:"classes"`
	} `json:"result"`
}

type answer struct {
	Merit    float64
	Diameter struct{ Value float64 }
	Inputs   map[string]struct{ Value float64 }
	Metrics  map[string]struct{ Value float64 }
}

// ask runs a study of configs and reads its record.
func ask(t *testing.T, name string, args ...string) *answered {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	said(t, append([]string{"sweep", "@../../configs/" + name + ".flags", "--out", dir, "--figures", "none", "--quiet"},
		args...)...)
	b, err := os.ReadFile(filepath.Join(dir, finding.RecordName))
	if err != nil {
		t.Fatal(err)
	}
	a := new(answered)
	if err := json.Unmarshal(b, a); err != nil {
		t.Fatal(err)
	}
	return a
}

// in is a metric in the unit in which it is shown.
func (a *answer) in(t *testing.T, name string, digits int) string {
	t.Helper()
	v, ok := a.Metrics[name]
	m, known := model.LookupMetric(name)
	if !ok || !known {
		t.Fatalf("the record has no %s", name)
	}
	return significant(m.Unit.FromSI(v.Value), digits)
}

// significant prints v to so many significant digits, with its trailing zeros.
func significant(v float64, digits int) string {
	return strconv.FormatFloat(v, 'f', max(0, digits-1-int(math.Floor(math.Log10(math.Abs(v))))), 64)
}

// craft names a design as people do.
func (a *answer) craft() string {
	v := func(d *sweep.AxisDef) float64 { return a.Inputs[d.Name].Value }
	const inch = 0.0254
	return fmt.Sprintf("%.4g×%.4g×%g, %04g KV %g, %gS %.4g mAh", v(sweep.Diameter)/inch, v(sweep.Pitch)/inch,
		v(sweep.Blades),
		v(sweep.Stator), v(sweep.KV), v(sweep.Cells), v(sweep.Capacity)/3.6)
}

// ideal is the power that momentum theory asks for a hover without losses, W.
func (a *answer) ideal(rho float64) float64 {
	W := a.Metrics["auw"].Value * 9.80665
	D := a.Inputs["diameter"].Value
	return math.Pow(W, 1.5) / math.Sqrt(2*rho*4*math.Pi/4*D*D)
}

// The tables of answers in README.md are those of the studies. They are run only
// when asked for, by -answers check, or -answers write to renew the tables.
func TestAnswers(t *testing.T) {
	if *answers == "" {
		t.Skip("runs the studies only with -answers")
	}
	table := func(name, text string) {
		if *answers == "write" {
			writeBetween(t, readmePath, name, text)
			return
		}
		if !strings.Contains(readme(t), "<!-- "+name+":begin -->\n"+text+"<!-- "+name+":end -->") {
			t.Errorf("README.md differs from what %s finds; go test ./cmd/rotorsieve -run TestAnswers -answers write "+
				"makes it\n%s", name, text)
		}
	}

	dir := filepath.Join(t.TempDir(), "out")
	said(t, "sweep", "@../../configs/quarter-kilo.flags", "--out", dir, "--figures", "size", "--dpi", "110", "--quiet")
	drawn, err := os.ReadFile(filepath.Join(dir, "figures", "size.png"))
	if err != nil {
		t.Fatal(err)
	}
	const picture = "../../configs/quarter-kilo.png"
	if *answers == "write" {
		if err := os.WriteFile(picture, drawn, 0o644); err != nil {
			t.Fatal(err)
		}
	} else if kept, err := os.ReadFile(picture); err != nil || !bytes.Equal(kept, drawn) {
		t.Errorf("%s is not what quarter-kilo draws, %v", picture, err)
	}

	bare, laden := ask(t, "quarter-kilo", "--payload", "0g"), ask(t, "quarter-kilo", "--payload", "25g")
	var b strings.Builder
	b.WriteString("| propeller | bare: AUW, hover, T/W, disk loading | merit | with 25 g: hover, T/W | merit " +
		"|\n|---|---|---|---|---|\n")
	best := func(a *answered) float64 { return a.Result.Classes[0].Best.Merit }
	mark := func(v, most float64) string {
		if v == most {
			return fmt.Sprintf("**%.3f**", v)
		}
		return fmt.Sprintf("%.3f", v)
	}
	with := map[float64]answer{}
	for _, l := range laden.Result.Classes[0].Leaders {
		with[l.Diameter.Value] = l
	}
	for _, l := range bare.Result.Classes[0].Leaders {
		fmt.Fprintf(&b, "| %.3g in | %s g, %s min, %s, %s g/in² | %s |", l.Diameter.Value/0.0254,
			l.in(t, "auw", 3), l.in(t, "hover-time", 3), l.in(t, "thrust-to-weight", 2), l.in(t, "disk-loading", 2),
			mark(l.Merit, best(bare)))
		if w, ok := with[l.Diameter.Value]; ok {
			fmt.Fprintf(&b, " %s min, %s | %s |\n", w.in(t, "hover-time", 3), w.in(t, "thrust-to-weight", 2),
				mark(w.Merit, best(laden)))
		} else {
			b.WriteString(" none feasible | |\n")
		}
	}
	table("quarter-kilo", b.String())

	for _, s := range []struct {
		name    string
		rho     float64 // kg/m³
		heads   string
		metrics []string // in a column each
	}{
		{"four-classes", 1.225, "hover, min | T/W | top, m/s", []string{"hover-time", "thrust-to-weight", "top-speed"}},
		{"four-classes-high", 0.9091, "hover, min | T/W | top, m/s", []string{"hover-time", "thrust-to-weight",
			"top-speed"}},
		{"racing-five", 1.225, "T/W | top, m/s | to thrust, ms | pack load, %",
			[]string{"thrust-to-weight", "top-speed", "thrust-response-time", "pack-load"}},
		{"long-cruiser", 1.225, "hover, min | range, km | at, m/s | longest flight, min",
			[]string{"hover-time", "range", "best-range-speed", "cruise-time"}},
	} {
		var b strings.Builder
		fmt.Fprintf(&b, "| class | best | AUW, g | %s | g/in² | hover W (ideal) |\n|---|---|%s\n", s.heads,
			strings.Repeat("---|", len(s.metrics)+3))
		for _, c := range ask(t, s.name).Result.Classes {
			a := &c.Best
			fmt.Fprintf(&b, "| %s | %s | %s |", c.Class, a.craft(), a.in(t, "auw", 3))
			for _, m := range s.metrics {
				fmt.Fprintf(&b, " %s |", a.in(t, m, 3))
			}
			fmt.Fprintf(&b, " %s | %s (%s) |\n", a.in(t, "disk-loading", 2), a.in(t, "hover-power", 3),
				significant(a.ideal(s.rho), 3))
		}
		table(s.name, b.String())
	}

	b.Reset()
	b.WriteString("| camera | within 800 g | hover, min | T/W | within 1.2 kg | hover, min | T/W " +
		"|\n|---|---|---|---|---|---|---|\n")
	carrier := ask(t, "camera-carrier").Result.Classes
	if len(carrier) != 2 || len(carrier[0].ByPayload) != len(carrier[1].ByPayload) {
		t.Fatalf("camera-carrier has %d classes", len(carrier))
	}
	for i := range carrier[0].ByPayload {
		fmt.Fprintf(&b, "| %.3g g |", carrier[0].ByPayload[i].Inputs["payload"].Value*1e3)
		for _, c := range carrier {
			a := &c.ByPayload[i]
			fmt.Fprintf(&b, " %s | %s | %s |", a.craft(), a.in(t, "hover-time", 3), a.in(t, "thrust-to-weight", 2))
		}
		b.WriteString("\n")
	}
	table("camera-carrier", b.String())
}
