package screen

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

func TestSheet(t *testing.T) {
	t.Parallel()
	d, c, err := trial.SomeDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []struct {
		name    string
		why     bool
		require []sweep.Requirement
	}{
		{"sheet.txt", false, append(sweep.DefaultRequirements(), sweep.Requirement{Metric: finding.Metric("hover-time"),
			AtLeast: true, Bound: 3600})},
		{"sheet-why.txt", true, nil},
	} {
		var out bytes.Buffer
		if err := DataSheet(&out, d, c, nil, f.why, nil, f.require...); err != nil {
			t.Fatal(err)
		}
		trial.Golden(t, f.name, out.Bytes())
		for _, text := range words.Cautions {
			if !strings.Contains(out.String(), text) {
				t.Errorf("%s does not say %q", f.name, text)
			}
		}
	}
}

// A sheet says which measurements corrected the propeller, and of which none did.
func TestSheetOfMeasured(t *testing.T) {
	t.Parallel()
	a := model.Defaults()
	var err error
	a.Evidence, err = model.EvidenceOf(model.Measured{Diameter: 5 * 0.0254, Pitch: 3 * 0.0254, Blades: 3, Points: 2,
		Correction: rotor.Correction{Pitch: 0.02, Drag: 0.1, Chord: -0.05}})
	if err != nil {
		t.Fatal(err)
	}
	m := trial.Model(t, a)
	d, _, err := trial.SomeDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for blades, want := range map[int][]string{
		3: {"Measured propellers", "5×3×3 (2 points): correct those and, less with distance, their neighbours",
			"pitch angle +1.1°, drag +10 %, chord -5 %, by 2 points of 5x3x3", "within the limits of the model"},
		2: {"Propeller correction", "by 2 points of 5x3x3 to a share of 0.36", "! propeller is hardly corrected"},
	} {
		d.Blades = blades
		c, err := m.Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := DataSheet(&out, d, c, nil, true, nil); err != nil {
			t.Fatal(err)
		}
		for _, text := range want {
			if !strings.Contains(out.String(), text) {
				t.Errorf("%d blades: the sheet does not say %q:\n%s", blades, text, &out)
			}
		}
	}
}

func TestSheetWithoutOperatingPoint(t *testing.T) {
	t.Parallel()
	d, c, err := trial.SomeDesign(t, 300)
	if !errors.Is(err, model.ErrNoOperatingPoint) {
		t.Fatalf("error %v, want no operating point", err)
	}
	var out bytes.Buffer
	if err := DataSheet(&out, d, c, nil, false, nil, sweep.DefaultRequirements()...); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"\nNo operating point\n  hover would need ",
		" % duty at the pack's mean voltage; static thrust to weight is 0.", "NOT KEPT", "All-up weight"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the sheet does not say %q:\n%s", want, &out)
		}
	}
	for _, not := range []string{"NaN", "Inf", "Hover power"} {
		if strings.Contains(out.String(), not) {
			t.Errorf("the sheet says %q:\n%s", not, &out)
		}
	}
}

// sheetMembers are those of a data sheet for machines, of every craft.
var sheetMembers = []string{"air", "assumptions", "cautions", "class", "design", "draws", "extrapolations", "hover_power",
	"inputs", "limited_by", "masses", "metrics",
	"named_parts", "no_operating_point", "operating_points", "parts", "requirements", "run", "test_plan",
	"to_buy", "validity", "verification", "warnings"}

func TestSheetJSON(t *testing.T) {
	t.Parallel()
	for _, kv := range []float64{1750, 60} {
		d, c, _ := trial.SomeDesign(t, kv)
		var out bytes.Buffer
		if err := DataSheetJSON(&out, d, c, nil, sweep.DefaultRequirements()...); err != nil {
			t.Fatal(err)
		}
		var got map[string]json.RawMessage
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		if names := slices.Sorted(maps.Keys(got)); !slices.Equal(names, sheetMembers) {
			t.Errorf("members %q, want %q", names, sheetMembers)
		}
		read := func(name string, into any) {
			t.Helper()
			if err := json.Unmarshal(got[name], into); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		var limits map[string]string
		read("limited_by", &limits)
		if finding.Operates(c) && limits["top-speed"] != c.Flight.Limit.String() || !finding.Operates(c) &&
			len(limits) > 0 {
			t.Errorf("limited by %q", limits)
		}
		var lacking, cautions []string
		read("no_operating_point", &lacking)
		read("cautions", &cautions)
		if !slices.Equal(lacking, words.Each(c.Lacking(), words.Lack)) || finding.Operates(c) != (len(lacking) == 0) ||
			!slices.Equal(cautions, words.Cautions) {
			t.Errorf("lacking %q, cautions %q", lacking, cautions)
		}
		want := map[string]finding.Quantity{}
		var order []string
		for _, m := range model.Metrics {
			v, symbol := m.Exported(c)
			if math.IsNaN(v) || kv < 100 && m.Stage != model.StageMass {
				continue
			}
			want[m.Name] = finding.Quantity{Value: v, Unit: symbol}
			order = append(order, m.Name)
		}
		if _, ok := want["class-margin"]; ok {
			t.Error("a craft without a class has a margin")
		}
		var metrics map[string]finding.Quantity
		read("metrics", &metrics)
		if d := cmp.Diff(want, metrics); d != "" {
			t.Errorf("metrics (-want +got):\n%s", d)
		}
		last := -1
		for _, name := range order {
			at := bytes.Index(got["metrics"], []byte(`"`+name+`": {`))
			if at < last {
				t.Errorf("%s is out of the registry's order", name)
			}
			last = at
		}
		inputs := map[string]finding.Quantity{}
		read("inputs", &inputs)
		read("assumptions", &inputs) // no name stands twice
		for name, want := range map[string]finding.Quantity{
			"diameter": {Value: d.Diameter, Unit: "m"}, "stator": {Value: 2207.0, Unit: ""},
			"capacity": {Value: 5400.0, Unit: "As"}, "kv": {Value: kv, Unit: "rpm/V"},
			"altitude": {Value: 1600.0, Unit: "m"}, "pack-grade": {Value: "high-rate", Unit: ""},
			"pack-aged": {Value: false, Unit: ""}, "charge": {Value: 0.9, Unit: ""},
			"payload": {Value: 0.03, Unit: "kg"},
		} {
			if d := cmp.Diff(want, inputs[name]); d != "" {
				t.Errorf("input %s (-want +got):\n%s", name, d)
			}
		}
		var at map[string]map[string]finding.Quantity
		read("operating_points", &at)
		if !finding.Operates(c) {
			if len(at) > 0 {
				t.Errorf("operating points of a craft that has none: %v", at)
			}
			continue
		}
		if names := slices.Sorted(maps.Keys(at)); !slices.Equal(names, []string{"best-range", "full-throttle-at-rest",
			"hover", "least-power", "top-speed"}) {
			t.Errorf("operating points %q", names)
		}
		for name, want := range map[string]finding.Quantity{
			"pack-power": {Value: c.Hover.Power, Unit: "W"}, "speed-of-rotation": {Value: 60 * c.Hover.Speed,
				Unit: "rpm"}, "thrust": {Value: c.Mass, Unit: "kg"}, "throttle": {Value: c.Hover.Duty, Unit: ""},
			"airspeed": {Value: 0.0, Unit: "m/s"},
		} {
			if d := cmp.Diff(want, at["hover"][name]); d != "" {
				t.Errorf("%s in hover (-want +got):\n%s", name, d)
			}
		}
		if got := at["top-speed"]["airspeed"].Value; got != c.Flight.Top.Airspeed {
			t.Errorf("top speed of %v m/s, want %v", got, c.Flight.Top.Airspeed)
		}
	}
}

// Each number of the data sheet for people is in that for machines, under the same
// title, in the same words with the same formula and source, and with a value in SI
// units that comes to what is shown; so are what limits, the verdicts and the
// warnings.
func TestSheetJSONHoldsTheSheet(t *testing.T) {
	t.Parallel()
	type entry struct {
		told
		Share  float64
		OrMore bool `json:"or_more"`
	}
	squeeze := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	for _, kv := range []float64{1750, trial.Weak, 60} {
		d, c, _ := trial.SomeDesign(t, kv)
		if finding.Operates(c) {
			c.Explain()
		}
		c.Limit = 0.9
		require := sweep.DefaultRequirements()
		var text, object bytes.Buffer
		if err := DataSheet(&text, d, c, nil, true, nil, require...); err != nil {
			t.Fatal(err)
		}
		if err := DataSheetJSON(&object, d, c, nil, require...); err != nil {
			t.Fatal(err)
		}
		var got struct {
			Inputs, Assumptions, Air, Masses, Metrics map[string]entry
			Hover                                     map[string]entry `json:"hover_power"`
			Parts                                     map[string]entry
			Limits                                    map[string]string `json:"limited_by"`
			Requirements                              []struct {
				Metric string
				Value  *float64
				Bound  float64
				Kept   bool
			}
			Warnings, Cautions, Extrapolations []string
			Lacking                            []string `json:"no_operating_point"`
		}
		if err := json.Unmarshal(object.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		body, rest, _ := strings.Cut(text.String(), "\nRequirements\n")
		body, _, _ = strings.Cut(body, "\nNo operating point")
		numbers, entries := 0, map[string]entry{}
		for _, block := range regexp.MustCompile(`(?m)^(\S.*)$|^  (\S.*\n(?:      .*\n?)*)`).FindAllStringSubmatch(body,
			-1) {
			if heading := block[1]; heading != "" {
				entries = map[string]entry{}
				of := []map[string]entry{got.Metrics}
				switch heading {
				case "Inputs":
					of[0] = got.Inputs
				case "Assumptions":
					of = []map[string]entry{got.Assumptions, got.Air}
				case partsTitle:
					of[0] = got.Parts
				case powerTitle:
					of[0] = got.Hover
				case "Masses":
					of[0] = got.Masses
				}
				for _, m := range of {
					for _, e := range m {
						entries[e.Title] = e
					}
				}
				continue
			}
			line, below, _ := strings.Cut(block[2], "\n")
			r := []rune(line)
			title := strings.TrimSpace(string(r[:min(30, len(r))]))
			switch _, told := entries[title]; {
			case title == "Top speed is limited by":
				if !strings.HasSuffix(line, got.Limits["top-speed"]) {
					t.Errorf("%q is told as %q", line, got.Limits["top-speed"])
				}
				continue
			case title == "Ceiling" && !told: // there is none
				if !strings.Contains(squeeze(below), got.Limits["ceiling"]) || kv != trial.Weak {
					t.Errorf("%q is told as %q", below, got.Limits["ceiling"])
				}
				continue
			}
			numbers++
			e, ok := entries[title]
			if !ok {
				t.Errorf("%q is not told to machines", line)
				continue
			}
			shown := squeeze(string(r[31:]))
			want := e.Symbol + " " + e.Shown
			if e.Share > 0 {
				want += fmt.Sprintf(" %.1f %%", 100*e.Share)
			}
			if e.OrMore {
				want += " or more"
			}
			if got, want := strings.TrimSuffix(strings.ReplaceAll(shown, " ", ""), "(default)"),
				strings.ReplaceAll(want, " ", ""); got != want {
				t.Errorf("%s: shown as %q, told as %q", title, got, want)
			}
			say := strings.Trim(e.Meaning+": "+e.Formula, ": ")
			if e.Worked != "" {
				say += " = " + e.Worked
			}
			say += " source: " + e.Source
			if title == "Ceiling" {
				say += " " + got.Limits["ceiling"]
			}
			if below := squeeze(below); below != squeeze(say) {
				t.Errorf("%s: explained as %q, told as %q", title, below, say)
			}
			if v, ok := e.Value.(float64); ok && !comesTo(v, e.Unit, e.Shown) {
				t.Errorf("%s: %v %s is shown as %q", title, v, e.Unit, e.Shown)
			}
		}
		if want := map[bool]int{true: 60, false: 38}[finding.Operates(c)]; numbers < want {
			t.Errorf("KV %g: %d numbers compared, want %d", kv, numbers, want)
		}
		rest, below, _ := strings.Cut(rest, "\nValidity\n")
		lines := strings.Split(strings.TrimSpace(rest), "\n")
		if len(lines) != len(require) || len(got.Requirements) != len(require) {
			t.Fatalf("%d requirements, %d in text, %d told", len(require), len(lines), len(got.Requirements))
		}
		for i, q := range require {
			x := got.Requirements[i]
			if verdict := map[bool]string{true: " kept", false: "NOT KEPT"}[x.Kept]; !strings.Contains(lines[i],
				verdict+", want ") || x.Metric != q.Metric.Name {
				t.Errorf("%q is told as %+v", lines[i], x)
			}
			if (x.Value == nil) != strings.Contains(lines[i], " none ") {
				t.Errorf("%q has the value %v", lines[i], x.Value)
			}
			if want := finding.ExportUnit(q.Metric).FromSI(q.Bound); x.Bound != want {
				t.Errorf("%s: bound %g, want %g", x.Metric, x.Bound, want)
			}
		}
		for _, line := range slices.Concat(got.Warnings, got.Extrapolations, got.Lacking) {
			if !strings.Contains(squeeze(text.String()), squeeze(line)) {
				t.Errorf("%q is not in the text", line)
			}
		}
		if strings.Count(below, "\n  ! ")+strings.Count(below[:4], "  ! ") != len(got.Warnings) {
			t.Errorf("%d warnings are told, the text says\n%s", len(got.Warnings), below)
		}
		// the weak one turns too slowly
		if n := strings.Count(below, "\n  ~ "); n != len(got.Extrapolations) || kv > trial.Weak && n == 0 ||
			!finding.Operates(c) && n > 0 {
			t.Errorf("%d extrapolations are told, the text says\n%s", len(got.Extrapolations), below)
		}
	}
}

// comesTo says that a value in an exported unit is what is shown, to the digits
// that are.
func comesTo(v float64, symbol, shown string) bool {
	number := regexp.MustCompile(`^-?[0-9.]+(e[-+]?[0-9]+)?`).FindString(shown)
	want, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return false
	}
	label := strings.TrimSpace(strings.TrimPrefix(shown, number))
	if label, _, _ = strings.Cut(label, "("); label == symbol || label == "" || symbol == "rpm" {
		return math.Abs(v-want) <= 6e-4*math.Abs(want)
	}
	for _, k := range unit.Kinds {
		for _, u := range k.Units() {
			if k.SI().Symbol == symbol && u.Label == label && math.Abs(u.FromSI(v)-want) <= 6e-4*math.Abs(want) {
				return true
			}
		}
	}
	return false
}

// The parts of the all-up weight add up to it, and each names a constant that
// the model has, whatever the pack.
func TestMassesAddUp(t *testing.T) {
	t.Parallel()
	d, c, err := trial.SomeDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range pack.Grades {
		a := c.Model.Assume
		a.PackGrade = g
		d.Capacity = 5400
		if q := g.CellCharge(); q > 0 {
			d.Capacity = q
		}
		c, err := trial.Model(t, a).Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		var sum float64
		for _, part := range words.Masses(c) {
			sum += part.Mass
		}
		if math.Abs(sum-c.Mass) > 1e-12 {
			t.Errorf("%s: parts of %v kg in %v kg", g.Name, sum, c.Mass)
		}
	}
}

func TestExportUnit(t *testing.T) {
	t.Parallel()
	_, c, err := trial.SomeDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range model.Metrics {
		v, symbol := m.Exported(c)
		u := finding.ExportUnit(m)
		if u.Symbol != symbol {
			t.Errorf("%s is exported in %q, not %q", m.Name, symbol, u.Symbol)
		}
		if got := u.FromSI(m.Of(c)); got != v && !(math.IsNaN(got) && math.IsNaN(v)) {
			t.Errorf("%s is exported as %v, not %v", m.Name, v, got)
		}
	}
}
