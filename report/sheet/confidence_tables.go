package sheet

import (
	"fmt"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// sizes hold the best build of each value of the first swept axis against the recommended
// one, axes those of all others.
func (t *confidencePage) sizes() { t.against("an axis", t.c.Axes[:min(1, len(t.c.Axes))]) }
func (t *confidencePage) axes()  { t.against("the other axes", t.c.Axes[min(1, len(t.c.Axes)):]) }

// sizesHeight is about that of sizes, in points.
func (t *confidencePage) sizesHeight() float64 {
	const around = 7 // rows
	if len(t.c.Axes) == 0 {
		return 0
	}
	values := len(t.c.Axes[0].Values)
	if t.c.Recommended().Design.Payload > 0 {
		values *= 2 // builds that say it take two lines
	}
	return xlsx.Lines(around + values)
}

func (t *confidencePage) against(what string, axes []decide.AxisValues) {
	c := t.c
	if len(axes) == 0 {
		return
	}
	heads := []string{rankHead, "Value and its best build", "Ahead (%)", "Level (%)", "Behind (%)", "Higher merit (%)",
		"Difference in cautious merit", "Standard error", "Behind by", "Tied", "P(feasible) (%)", "Cautious " +
			"merit"}
	head := func() { t.Head(heads, append(numbered(3, 9), 11, 12)...) }
	t.Gap()
	t.Keep(8)
	t.title("The best build of each value of " + what + " against the recommended one: shares of draws, and the " +
		"difference in cautious merit. Behind by: the mean of what it lacks, 0 in draws in which it leads")
	head()
	for i := range axes {
		a := &axes[i]
		d := c.Def(a)
		some := 0
		for _, v := range a.Values {
			if v.Any {
				some++
			}
		}
		if t.Keep(4) {
			head()
		}
		name := d.Title
		if n := len(a.Values); some < n {
			name += fmt.Sprintf(": %d of %d values have a build that was drawn", some, n)
		}
		t.Wide(1, len(heads), name, xlsx.Ruled(xlsx.Strong))
		t.Next()
		tied := c.TiedAlong(a)
		for k, v := range a.Values {
			b := c.At(v.Build)
			if !v.Any || b == nil {
				continue
			}
			same := "no"
			switch {
			case v.Build == 0:
				same = "first"
			case tied[k]:
				same = "yes"
			}
			text := inText
			text.Bold = v.Build == 0
			if t.Keep(2) {
				head()
			}
			t.row([]xlsx.Look{{Rule: true, Align: "left"}, text, inPercent, inPercent, inPercent, inPercent, inChange,
				inMerit, inMerit, inWords, inPercent, inMerit}, b.Rank, d.Text(v.Value)+": "+words.Build(b.Design),
				100*v.Ahead, 100*v.Level, 100*v.Behind, 100*v.Better, v.Difference, v.Standard, v.Loss, same,
				100*b.Feasible, b.Cautious)
		}
	}
}

// line is the best merit that can be had at each P(feasible).
func (t *confidencePage) line() {
	c := t.c
	t.table("The price of being sure: the best of the builds that reach a P(feasible)",
		[]string{"Build of the best cautious merit", "", "P(feasible) at least (%)", "Best cautious merit",
			"Best median merit"}, numbered(3, 5), func() {
			for _, x := range c.Line {
				t.Put(3, 100*x.Feasible, inPercent)
				if b := c.At(x.Build); x.Any && b != nil {
					t.Wide(1, 2, words.Build(b.Design), inText)
					t.Put(4, x.Cautious, inMerit)
					t.Put(5, x.Median, inMerit)
				} else {
					t.Wide(1, 2, "no build reaches it", inText)
					t.Put(4, "", inText)
					t.Put(5, "", inText)
				}
				t.Next()
			}
		})
}

// sensitivities are what moves the recommended build.
func (t *confidencePage) sensitivities() {
	c := t.c
	if len(c.Sensitivities) == 0 {
		return
	}
	was := c.Recommended().Nominal
	t.table("What moves the recommended build, whose nominal merit is "+words.Merits(was)+
		"; where it breaks a requirement its merit is 0",
		[]string{"Source of error or assumption", "", "Standard deviation, or other value", "", "",
			"Merit, 1 sigma less", "Merit, 1 more or other", "Change, 1 sigma less", "Change, 1 more or other",
			"Best size, 1 less (in)", "Best size, 1 more or other (in)"}, numbered(6, 11), func() {
			for i := range c.Sensitivities {
				s := &c.Sensitivities[i]
				t.Wide(1, 2, words.Source(s), inText)
				t.Wide(3, 5, words.Spread(t.run, s), inText)
				size := xlsx.Ruled(xlsx.Look{Number: "0.0##"})
				low, lowSize := any(""), any("")
				change := any("")
				if !s.Assumption {
					low, change = s.Low, s.Low-was
					if s.LowSize > 0 {
						lowSize = finding.Inch.FromSI(s.LowSize)
					}
				}
				t.Put(6, low, inMerit)
				t.Put(7, s.High, inMerit)
				t.Put(8, change, inChange)
				t.Put(9, s.High-was, inChange)
				t.Put(10, lowSize, size)
				if s.HighSize > 0 {
					t.Put(11, finding.Inch.FromSI(s.HighSize), size)
				} else {
					t.Put(11, "", size)
				}
				t.Next()
			}
		})
}

// loosened is what each bound costs.
func (t *confidencePage) loosened() {
	c := t.c
	if len(c.Loosened) == 0 {
		return
	}
	t.table("What loosening a bound by 10 % would gain at least, each alone, without errors",
		[]string{"Bound", "", "Loosened to", "", "Best merit", "Gain"}, []int{5, 6}, func() {
			for i := range c.Loosened {
				l := &c.Loosened[i]
				gate := c.Gates[l.Gate]
				asked, eased := words.GateBound(gate), words.Mass(l.Bound)
				if q := gate.Requirement; q != nil {
					loose := *q
					loose.Bound = l.Bound
					eased = words.Bound(&loose)
				}
				t.Wide(1, 2, words.GateTitle(gate)+", "+asked, inText)
				t.Wide(3, 4, eased, inText)
				if l.Any {
					t.Put(5, l.Merit, inMerit)
					if l.Gain > 0 {
						t.Put(6, l.Gain, inChange)
					} else {
						t.Put(6, "none found", inText)
					}
				} else {
					t.Wide(5, 7, "still no feasible design", inText)
				}
				t.Next()
			}
		})
}

// weights are the weights of the merit over which the choice stands.
func (t *confidencePage) weights() {
	c := t.c
	if len(c.Weights) == 0 {
		return
	}
	first := func(n int) string {
		if b := c.At(n); b != nil {
			return words.Build(b.Design)
		}
		return ""
	}
	t.table("Over which weights of the merit the recommended build stays first",
		[]string{"Term", "", "Weight (%)", "From (%)", "To (%)", "First below it", "", "", "", "First above it", "", "",
			""},
		numbered(3, 5), func() {
			for _, w := range c.Weights {
				t.Wide(1, 2, c.Merit[w.Term].Metric.Title, inText)
				t.Put(3, 100*w.Weight, inPercent)
				t.Put(4, 100*w.Least, inPercent)
				t.Put(5, 100*w.Most, inPercent)
				t.Wide(6, 9, first(w.Below), inWords)
				t.Wide(10, 13, first(w.Above), inText)
				t.Next()
			}
		})
}

// worth is what is worth measuring.
func (t *confidencePage) worth() {
	single, pair := t.c.Measures()
	if len(single) == 0 {
		return
	}
	if pair != nil {
		single = append(single, *pair)
	}
	heads := []string{"What", "", "Worth", "Gain in merit", "Of which noise"}
	t.table("What to measure first: the expected gain in merit of knowing it", heads, []int{4, 5}, func() {
		for n := range single {
			m := &single[n]
			t.Wide(1, 2, texts.Upper(words.Measure(m)), inText)
			t.Put(3, words.WorthClass(m.Class), inText)
			t.Put(4, m.Gain, inMerit)
			t.Put(5, m.Noise, inMerit)
			t.Next()
		}
	})
}
