package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// No point of a line needs less power than the mark of least power, or less
// power over airspeed than that of best range. Thrust available starts at thrust to
// weight and thrust needed at 1; they cross at the top speed of a class that flies
// to full throttle, and what is available is never less before.
func TestEnvelopeFigure(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f, lacks, err := envelopeFigure(r, found)
	if err != nil || lacks != "" {
		t.Fatal(err, lacks)
	}
	power, thrust := f.Panels[0], f.Panels[1]
	const slack = 1e-3 // between nodes
	for n, l := range power.Lines {
		least, far := power.Points[3*n], power.Points[3*n+1]
		for k, V := range l.X {
			if P := l.Y[k]; P < least.Y[0]*(1-slack) {
				t.Errorf("%s: %g W at %g m/s, less than the least, %g W", l.Family, P, V, least.Y[0])
			}
			if P := l.Y[k]; V > 0 && P/V < far.Y[0]/far.X[0]*(1-slack) {
				t.Errorf("%s: %g J/m at %g m/s, less than at best range, %g J/m", l.Family, P/V, V, far.Y[0]/far.X[0])
			}
		}
	}
	all := flownOf(found)
	if len(thrust.Lines) != 2*len(all) || len(thrust.Points) != len(all) {
		t.Fatalf("%d lines and %d marks of thrust for %d designs", len(thrust.Lines), len(thrust.Points), len(all))
	}
	crossed := 0
	for n, k := range all {
		available, needed, top := thrust.Lines[2*n], thrust.Lines[2*n+1], thrust.Points[n]
		own := fmt.Sprintf("%s: top speed %.1f m/s", k.Class, k.Craft.Flight.Top.Airspeed)
		if available.Family != own || available.Label != "available" || needed.Label != "needed" {
			t.Fatalf("lines of %q are %q and %q of %q", own, available.Label, needed.Label, available.Family)
		}
		ratio := finding.Metric("thrust-to-weight").Of(k.Craft)
		if math.Abs(available.Y[0]/ratio-1) > 1e-6 || math.Abs(needed.Y[0]-1) > 1e-6 {
			t.Errorf("%s: at rest %g is available and %g needed, thrust to weight is %g", k.Class, available.Y[0],
				needed.Y[0], ratio)
		}
		for i, V := range needed.X {
			if spare := available.Y[i] - needed.Y[i]; V < 0.995*top.X[0] && spare <= 0 {
				t.Errorf("%s: %g is available at %g m/s, %g needed", k.Class, available.Y[i], V, needed.Y[i])
			} else if V > 1.005*top.X[0] && k.Craft.Flight.Limit == 0 {
				crossed++
				if spare >= 0 {
					t.Errorf("%s: %g is available past the top speed at %g m/s, %g needed", k.Class, available.Y[i], V,
						needed.Y[i])
				}
			}
		}
	}
	if crossed == 0 {
		t.Error("no class flies to full throttle, want one to test")
	}
	marks := []string{}
	for _, q := range power.Points[:3] {
		marks = append(marks, q.Family)
	}
	if want := []string{"least power", "best range", "top speed"}; !slices.Equal(marks, want) {
		t.Errorf("marks %q, want %q", marks, want)
	}
	for _, p := range f.Panels { // what is held against each other has one scale
		if p.X.Min != power.X.Min || p.X.Max != power.X.Max {
			t.Errorf("%s from %g to %g m/s, power from %g to %g m/s", p.Title, p.X.Min, p.X.Max, power.X.Min,
				power.X.Max)
		}
	}
	// Of several designs no mark has its number: the legend has that of top speed, the note the others'.
	note := "In the order of the legend least power at"
	for _, k := range all {
		note += fmt.Sprintf(" %.1f", k.Craft.Flight.Endurance.Airspeed)
	}
	if got := strings.NewReplacer(",", "", " and", "").Replace(f.Note); len(all) < 2 || !strings.Contains(got,
		note+" m/s best range at ") {
		t.Errorf("note %q does not say %q", f.Note, note)
	}
	for _, q := range power.Points {
		if len(q.Labels) > 0 {
			t.Errorf("%s has the numbers %q", q.Family, q.Labels)
		}
	}
	one := Envelope([]Flown{{Craft: all[0].Craft, Class: "one", Limits: []string{"one"}}}, "t", "s")
	for _, q := range one.Panels[0].Points {
		if want := []string{tenths(q.X[0]) + " m/s"}; !slices.Equal(q.Labels, want) {
			t.Errorf("%s of one design has the numbers %q, want %q", q.Family, q.Labels, want)
		}
	}
	for _, f := range []*chart.Figure{f, one} {
		if l, err := f.Layout(); err != nil || len(l.Faults()) > 0 || len(l.Dropped) > 0 {
			t.Errorf("layout: %v, %v, %v", err, l.Faults(), l.Dropped)
		}
	}
}

// Where something else than thrust holds top speed, a line that names it stands there from the
// thrust needed to that available; where thrust does, they cross and there is none.
func TestHeldTopSpeed(t *testing.T) {
	t.Parallel()
	d, free, err := trial.SomeDesign(t, 1900)
	if err != nil {
		t.Fatal(err)
	}
	a := free.Model.Assume
	a.TiltLimit = 0.6 // rad
	held, err := trial.Model(t, a).Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		craft *model.Craft
		held  bool
	}{{free, false}, {held, true}} {
		if by := c.craft.Flight.Limit; (by == flight.ByTilt) != c.held {
			t.Fatalf("top speed is held by %s", by)
		}
		f := Envelope([]Flown{{Craft: c.craft, Class: "one", Limits: []string{"one"}}}, "t", "s")
		top, lines := c.craft.Flight.Top.Airspeed, 0
		for _, l := range f.Panels[1].Lines {
			if l.Label != words.TopLimit(c.craft.TopLimit()) {
				continue
			}
			lines++
			at, ok := c.craft.Thrusts(top)
			W := c.craft.Weight()
			if !ok || !slices.Equal(l.X, []float64{top, top}) || !slices.Equal(l.Y, []float64{at.Needed / W,
				at.Available / W}) {
				t.Errorf("a line from %g to %g at %g m/s, of %+v", l.Y[0], l.Y[1], l.X[0], at)
			}
		}
		if (lines == 1) != c.held || lines > 1 {
			t.Errorf("%d lines that hold it, held: %v", lines, c.held)
		}
	}
}

// The range is drawn of a study whose merit asks for it.
func TestEnvelopeRange(t *testing.T) {
	t.Parallel()
	for _, r := range []*finding.Run{trial.MappedRun(t), trial.WideRun(t)} {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		f, _, err := envelopeFigure(r, found)
		if err != nil {
			t.Fatal(err)
		}
		asks := slices.ContainsFunc(r.Study.Merit, func(t sweep.Term) bool { return t.Metric.Name == "range" })
		if n := len(f.Panels); asks != (n == 4) || n < 3 {
			t.Errorf("%d panels of a merit that asks for the range: %t", n, asks)
		}
		if !asks {
			continue
		}
		p := &f.Panels[3]
		for n, q := range p.Points {
			k := flownOf(found)[n].Craft
			want := finding.Metric("range").Of(k) / 1e3
			if math.Abs(q.Y[0]-want) > 0.001*want {
				t.Errorf("%s of %s is %g km, want %g", q.Family, q.Ink, q.Y[0], want)
			}
			if slices.Max(p.Lines[n].Y) > 1.005*want {
				t.Errorf("the line of %s goes to %g km, its best range is %g", q.Ink, slices.Max(p.Lines[n].Y), want)
			}
		}
	}
}
