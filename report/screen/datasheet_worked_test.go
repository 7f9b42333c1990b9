package screen

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// reckoner works out what a sheet prints: numbers, pi, + - x / ^, brackets, sqrt
// and acos in degrees. Where two factors stand side by side an x is wanted.
type reckoner struct {
	tokens []string
}

var token = regexp.MustCompile(`[0-9.]+(?:e[-+]?[0-9]+)?|sqrt|acos|pi|[-+x/^()]`)

func reckon(text string) (v float64, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%q: %v", text, r)
		}
	}()
	if left := strings.TrimSpace(token.ReplaceAllString(text, "")); left != "" {
		return 0, fmt.Errorf("%q: %q is no part of a formula", text, left)
	}
	r := &reckoner{token.FindAllString(text, -1)}
	v = r.sum()
	if len(r.tokens) > 0 {
		return v, fmt.Errorf("%q: left over %q", text, r.tokens)
	}
	return v, nil
}

func (r *reckoner) take(any ...string) string {
	for _, t := range any {
		if len(r.tokens) > 0 && r.tokens[0] == t {
			r.tokens = r.tokens[1:]
			return t
		}
	}
	return ""
}

func (r *reckoner) sum() float64 {
	v := r.product()
	for {
		switch r.take("+", "-") {
		case "+":
			v += r.product()
		case "-":
			v -= r.product()
		default:
			return v
		}
	}
}

func (r *reckoner) product() float64 {
	v := r.power()
	for {
		switch r.take("x", "/") {
		case "x":
			v *= r.power()
		case "/":
			v /= r.power()
		default:
			return v
		}
	}
}

func (r *reckoner) power() float64 {
	v := r.atom()
	if r.take("^") == "" {
		return v
	}
	if r.take("-") != "" {
		return math.Pow(v, -r.atom())
	}
	return math.Pow(v, r.atom())
}

func (r *reckoner) atom() float64 {
	switch t := r.take("sqrt", "acos", "pi", "("); t {
	case "pi":
		return math.Pi
	case "sqrt", "acos":
		v := r.atom()
		if t == "sqrt" {
			return math.Sqrt(v)
		}
		return math.Acos(v) * 180 / math.Pi
	case "(":
		v := r.sum()
		if r.take(")") == "" {
			panic("a bracket is not closed")
		}
		return v
	}
	v, err := strconv.ParseFloat(r.tokens[0], 64)
	if err != nil {
		panic(err)
	}
	r.tokens = r.tokens[1:]
	return v
}

func TestReckon(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]float64{
		"1 + 2 x 3": 7, "2 x (1 + 2)^2/9": 2, "sqrt(2 x 8) - 1": 3, "acos(1/2)": 60, "8^-1": 0.125, "pi/pi x 1e2": 100,
	} {
		if got, err := reckon(text); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s = %g (%v), want %g", text, got, err, want)
		}
	}
	for _, text := range []string{"2 3", "2 x", "(2", "2 kg"} {
		if v, err := reckon(text); err == nil {
			t.Errorf("%q = %g", text, v)
		}
	}
}

// Every formula with its values put in comes to the number beside it, of crafts
// with pouch and cylindrical packs and frames of either build; the formulas that
// are put in are those of metrics that there are.
func TestWorked(t *testing.T) {
	t.Parallel()
	cells, err := pack.ParseGrade("18650-power")
	if err != nil {
		t.Fatal(err)
	}
	near := func(what, text string, want float64) {
		t.Helper()
		if got, err := reckon(text); err != nil || math.Abs(got-want) > 2e-3*math.Abs(want) {
			t.Errorf("%s: %s = %g (%v), the sheet says %g", what, text, got, err, want)
		}
	}
	for _, change := range []func(*model.Assumptions, *model.Design){
		func(*model.Assumptions, *model.Design) {},
		func(a *model.Assumptions, d *model.Design) {
			a.PackGrade, a.FrameBuild, a.FrameFactor, a.Clearance = cells, frame.ByBeam, 1.3, 0.25
			d.Capacity, d.Blades, d.Cells, d.Chord = 2*2800*3.6, 2, 3, 0.15
		},
		func(a *model.Assumptions, d *model.Design) { // a measured motor, a cold and old pack
			records, err := record.Read(strings.NewReader("kind,key,quantity,value,unit,sigma\nmotor,2207 "+
				"1750KV,resistance,90,mohm,2\n"+
				"motor,2207 1750KV,loss,1.2,,0.05\nmotor,2207 1750KV,chopping at 24kHz,0.7,,0.05\nmotor,2207 "+
				"1750KV,mass,35,g,1 %\n"), "bench.csv")
			if err != nil {
				t.Fatal(err)
			}
			if a.Evidence, err = model.NewEvidence(nil, records); err != nil {
				t.Fatal(err)
			}
			a.PackTemperature, a.PackAged, a.PulseRate = 268.15, true, 96e3
		},
		func(a *model.Assumptions, d *model.Design) { // a micro craft
			a.Board = motor.Joined
			d.Diameter, d.Pitch, d.KV, d.Cells, d.Capacity = 2.4*0.0254, 0.045, 6000, 3, 450*3.6
			d.Stator, d.Payload = motor.Stator{Diameter: 0.012, Height: 0.004}, 0
		},
	} {
		d, _, _ := trial.SomeDesign(t, 1750)
		a := model.Defaults()
		change(&a, &d)
		c, err := trial.Model(t, a).Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		c.Limit = 0.9
		c.Explain()
		workable := 0
		for _, x := range model.Metrics {
			if text := x.Worked(c); text != "" {
				near(x.Name, text, x.Unit.FromSI(x.Of(c)))
				workable++
			}
		}
		if workable < 34 {
			t.Errorf("%d metrics have values put in", workable)
		}
		for _, p := range partLines(d, c) {
			v, _, _ := strings.Cut(p.Shown, " ")
			want, err := strconv.ParseFloat(v, 64)
			if err != nil {
				t.Fatal(err)
			}
			near(p.Title, p.Worked, want)
		}
		left := c.Hover.Power
		for _, p := range powerParts(c) {
			if p.Symbol == "P_h" {
				if math.Abs(left) > 1e-9*p.watts {
					t.Errorf("the parts of %g W of hover leave %g W", p.watts, left)
				}
			}
			if left -= p.watts; !(p.watts > 0) {
				t.Errorf("%s takes %g W", p.Title, p.watts)
			}
			if p.Worked != "" {
				near(p.Title, p.Worked, p.watts)
			} else if p.Title != "Avionics power" {
				t.Errorf("%s has no values put in", p.Title)
			}
		}
		for _, p := range words.Masses(c) {
			if p.Formula == "" || p.Source == "" {
				t.Errorf("%s comes from %q, source %q", p.Title, p.Formula, p.Source)
			}
			if text := p.Worked(c); text != "" {
				near(p.Title, text, finding.Gram.FromSI(p.Mass))
			} else if p.Title != "Avionics" && p.Title != "Payload" {
				t.Errorf("the mass of %s has no values put in", p.Title)
			}
		}
		if text, _ := d.ChordOrigin(); d.Chord == 0 {
			near("chord", text, d.BladeChord())
		}

		// Each number of the sheet says what it comes from, and its source.
		var out bytes.Buffer
		if err := DataSheet(&out, d, c, nil, true, nil); err != nil {
			t.Fatal(err)
		}
		body, _, _ := strings.Cut(out.String(), "\nValidity")
		blocks := regexp.MustCompile(`(?m)^  \S`).Split(body, -1)
		for _, b := range blocks[1:] {
			first, rest, _ := strings.Cut(b, "\n")
			if !strings.Contains(rest, "      source: ") {
				t.Errorf("no source below %q:\n%s", first, rest)
			}
			if lines := strings.Split(rest, "\n"); !strings.HasPrefix(lines[0], "      ") || strings.HasPrefix(lines[0],
				"      source") {
				t.Errorf("nothing says what %q comes from", first)
			}
		}
		if len(blocks) < 60 {
			t.Errorf("the sheet has %d numbers", len(blocks))
		}
	}
}

// A ceiling is a number with what sets it, or none with the reason; never left out.
func TestSheetSaysTheCeiling(t *testing.T) {
	t.Parallel()
	_, c, err := trial.SomeDesign(t, 2300)
	if err != nil {
		t.Fatal(err)
	}
	d, low, err := trial.SomeDesign(t, trial.Weak)
	if err != nil {
		t.Fatal(err)
	}
	low.Explain()
	c.Explain()
	for _, x := range []struct {
		craft *model.Craft
		wants []string
	}{
		{c, []string{"Ceiling                        H_c", "      at least so high: the highest altitude that the " +
			"model knows"}},
		{low, []string{"Ceiling                        H_c                 none\n      thrust to weight is ",
			"below the reserve of 1.5"}},
	} {
		var out, object bytes.Buffer
		if err := DataSheet(&out, d, x.craft, nil, false, nil); err != nil {
			t.Fatal(err)
		}
		for _, want := range x.wants {
			if !strings.Contains(out.String(), want) {
				t.Errorf("the sheet does not say %q:\n%s", want, out.String())
			}
		}
		if err := DataSheetJSON(&object, d, x.craft, nil); err != nil {
			t.Fatal(err)
		}
		if want := `"ceiling": "` + words.Ceiling(x.craft); !strings.Contains(object.String(), want) {
			t.Errorf("the object does not say %q", want)
		}
	}
}
