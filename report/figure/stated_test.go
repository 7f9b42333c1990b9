package figure

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// spoken is a figure with what its run has found.
type spoken struct {
	r     *finding.Run
	found []finding.Class
	f     *chart.Figure
	name  string
	text  string // what is looked at
}

// A saying is a form in which texts of some figures state numbers, its groups. They are rounded
// from what each class has that the text goes on to name ("at 249 g"), all where it names none, or
// from what all have together. Where any is set, one class that agrees is enough.
type saying struct {
	figures, text string
	each          func(s *spoken, k *finding.Class, m []string) []float64
	all           func(s *spoken, m []string) []float64
	any           bool
}

// said is a saying that can be looked for.
type said struct {
	saying
	of, form *regexp.Regexp
}

func saidOf(all []saying) (out []said) {
	for _, say := range all {
		out = append(out, said{say, regexp.MustCompile(say.figures), regexp.MustCompile(say.text)})
	}
	return out
}

const (
	numeral  = `(\d[\d,]*(?:\.\d+)?)`
	limitOf  = `\d[\d.]* k?g(?: \*)?`
	heads    = `(hover|T/W|top|range|cruise)`
	someEnds = numeral + `(?: to ` + numeral + `)?`
)

var (
	digit   = regexp.MustCompile(`\d`)
	limits  = regexp.MustCompile(`\bat (` + limitOf + `(?:, ` + limitOf + `)*(?: and ` + limitOf + `)?)`)
	aNumber = regexp.MustCompile(numeral)
	listed  = regexp.MustCompile(`, | and `)
	weights = regexp.MustCompile(`(?:At |[Cc]arrying |in place of |payload |from |From |to |at |within |of |` +
		`, |and |^)(\d[\d.]*) (k?g)\b`)
)

// fixed are numbers that a text has whatever was found.
var fixed = regexp.MustCompile(`10th to the 50th percentile|10th to 90th|steps of 1 %|counts 0|begins at 0|` +
	`merit is 0|` +
	`Loosening one bound by 10 %|bound alone 10 % looser|Under 0\.5 % fail|at 75 % radius|Answers by|< 1 %`)

// shown is the design by which titles tell of a class.
func shown(k *finding.Class) *finding.Entry { return k.Picks()[0].Entry }

// metricHeaded is the metric of a name in a title.
func metricHeaded(name string) *model.Metric {
	for _, m := range model.Metrics {
		if words.MetricHead(m) == name || texts.Lower(m.Title) == name {
			return m
		}
	}
	return nil
}

// extremes are the least and the most that classes with an answer have.
func extremes(s *spoken, of func(*finding.Class) float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range s.found {
		if k := &s.found[i]; len(k.Picks()) > 0 {
			lo, hi = min(lo, of(k)), max(hi, of(k))
		}
	}
	return lo, hi
}

// either gives one number for a range that is written as one.
func either(m []string, lo, hi float64) []float64 {
	if m[1] == "" || m[len(m)-1] == "" {
		return []float64{hi, hi}
	}
	return []float64{lo, hi}
}

// heaviestShare is the share of the heaviest part in per cent.
func heaviestShare(k *finding.Class) float64 {
	c, most := shown(k).Craft, 0.0
	for _, p := range model.MassParts {
		most = max(most, p.Of(c))
	}
	return 100 * most / c.Mass
}

// markedSo says whether a design that a class is shown by, or its best, has a mark that says so.
func markedSo(k *finding.Class, text string) bool {
	return slices.ContainsFunc(append(words.Each(shown(k).Craft.Warnings(), words.MarkShort),
		words.Each(k.Best().Craft.Warnings(), words.MarkShort)...), func(w string) bool {
		return strings.Contains(w, text)
	})
}

// sayings are all forms in which titles, subtitles and notes state numbers.
func sayings() []saying {
	inch := func(k *finding.Class) float64 { return finding.Inch.FromSI(shown(k).Design.Diameter) }
	feasible := func(k *finding.Class) float64 { return math.Round(100 * k.Choice.Recommended().Feasible) }
	rangeAt := func(k *finding.Class) float64 { return shown(k).Craft.Flight.Range.Airspeed }
	design := func(of func(model.Design) float64) func(*spoken, *finding.Class, []string) []float64 {
		return func(_ *spoken, k *finding.Class, _ []string) []float64 { return []float64{of(shown(k).Design)} }
	}
	span := func(s *spoken, m []string, of func(*finding.Class) float64) []float64 {
		lo, hi := extremes(s, of)
		if m[len(m)-1] == "" {
			return []float64{hi, hi}
		}
		return []float64{lo, hi}
	}
	curve := func(s *spoken, k *finding.Class) (eta, J float64) {
		for _, l := range s.f.Panels[2].Lines {
			if limit := words.Mass(k.Class.Limit); len(s.found) > 1 && !strings.HasPrefix(l.Family, limit+":") {
				continue
			}
			eta, J = 0, 0 // of one propeller the last, fastest, curve
			for n, y := range l.Y {
				if y > eta {
					eta, J = y, l.X[n]
				}
			}
		}
		return eta, J
	}
	return []saying{
		// All figures.
		{"", numeral + ` designs\b`, nil, func(s *spoken, _ []string) []float64 {
			return []float64{float64(s.r.Study.Grid.Size())}
		}, false},
		{"", `altitude ` + numeral + ` m, (-?[\d.]+) °C`, nil, func(s *spoken, _ []string) []float64 {
			a := s.r.Study.Model.Air
			return []float64{a.Altitude, finding.Celsius.FromSI(a.Temperature)}
		}, false},
		{"", numeral + ` % of the designs judged`, nil, func(s *spoken, _ []string) []float64 {
			return []float64{100 * float64(s.r.Result.Done) / float64(s.r.Study.Grid.Size())}
		}, false},
		{"", numeral + ` of ` + numeral + ` classes are drawn`, nil, func(s *spoken, _ []string) []float64 {
			titles := map[string]bool{}
			for i := range s.found {
				for _, p := range s.f.Panels {
					name := words.ClassName(s.found[i].Class)
					if p.Title == name || strings.HasPrefix(p.Title, name+":") ||
						strings.HasPrefix(p.Title, name+" *:") {
						titles[name] = true
					}
				}
			}
			all := len(s.found)
			if s.name != whyNotName { // of those that have an answer
				all = len(about(s, ""))
			}
			return []float64{float64(len(titles)), float64(all)}
		}, false},
		{"", numeral + ` % ([a-z ]+) \(0 at (-?[\d.]+)[^,]*, 1 at (-?[\d.]+)`, nil, func(s *spoken,
			m []string) []float64 {
			sum := 0.0
			for _, t := range s.r.Study.Merit {
				sum += t.Weight
			}
			for _, t := range s.r.Study.Merit {
				if texts.Lower(t.Metric.Title) == m[2] {
					return []float64{100 * t.Weight / sum, math.NaN(), t.Metric.Unit.FromSI(t.Worst),
						t.Metric.Unit.FromSI(t.Best)}
				}
			}
			return nil
		}, false},
		{"", `propeller diameter of ` + numeral + ` in`, func(_ *spoken, k *finding.Class, _ []string) []float64 {
			return []float64{inch(k)}
		}, nil, true},
		{"", `(?:Reynolds number|all-up weight) of ` + numeral, func(_ *spoken, k *finding.Class,
			m []string) []float64 {
			if markedSo(k, m[0]) {
				return []float64{math.NaN()} // marks have tests of their own
			}
			return nil
		}, nil, true},
		// The confidence and the sizes.
		{"^(confidence|size)$", `\(tied: ([^)]*) in\)`, func(_ *spoken, k *finding.Class, m []string) []float64 {
			var want []float64
			for _, x := range k.Choice.TiedSizes() {
				if want = append(want, finding.Inch.FromSI(x.From)); x.To > x.From {
					want = append(want, finding.Inch.FromSI(x.To))
				}
			}
			told := aNumber.FindAllString(m[1], -1)
			for n, x := range told {
				if len(told) != len(want) || !roundsTo(x, want[n]) {
					return nil
				}
			}
			return []float64{math.NaN()}
		}, nil, false},
		{"^size$", `; ` + numeral + ` in( at ` + limitOf + `)? costs ` + numeral + ` % of ([a-z ]+)$`, nil, func(
			s *spoken, m []string) []float64 {
			for i := range s.found {
				k := &s.found[i]
				if len(k.Picks()) == 0 || m[2] != "" && !strings.HasSuffix(m[2], " "+words.Mass(k.Class.Limit)) {
					continue
				}
				for _, e := range k.ByDiameter {
					if e == nil || fmt.Sprintf("%.4g", finding.Inch.FromSI(e.Design.Diameter)) != m[1] {
						continue
					}
					t := metricHeaded(m[4])
					was := t.Of(k.Best().Craft)
					return []float64{number(m[1]), math.NaN(), math.Abs(100 * (was - t.Of(e.Craft)) / was), math.NaN()}
				}
			}
			return nil
		}, false},
		{"^size$", numeral + ` % feasible`, nil, func(s *spoken, _ []string) []float64 {
			return []float64{100 * float64(s.r.Widest().Feasible) / float64(s.r.Result.Done)}
		}, false},
		{"^confidence$", `requirements kept in (?:(\d+) to )?(\d+) %`, nil, func(s *spoken, m []string) []float64 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for i := range s.found {
				if s.found[i].Choice != nil {
					lo, hi = min(lo, feasible(&s.found[i])), max(hi, feasible(&s.found[i]))
				}
			}
			return either(m, lo, hi)
		}, false},
		{"^confidence$", numeral + ` draws · seed ` + numeral, nil, func(s *spoken, _ []string) []float64 {
			return []float64{float64(s.r.Decision.Fresh), float64(s.r.Decision.Seed)}
		}, false},
		{"^confidence$", `below the recommended build \(` + numeral + ` or less`, nil, func(s *spoken,
			_ []string) []float64 {
			ks, _ := choices(s.found, decidedClasses)
			longest := 0.0
			for _, k := range ks {
				for _, v := range k.Choice.Axes[0].Values {
					if b := k.Choice.At(v.Build); v.Any && v.Build != 0 {
						reach := 2 * v.Standard
						longest = max(longest, (reach+min(reach, b.Cautious))/2)
					}
				}
			}
			return []float64{longest}
		}, false},
		{"^confidence$", `a P\(feasible\) of ` + numeral + ` %`, nil, func(s *spoken, _ []string) []float64 {
			ks, _ := choices(s.found, decidedClasses)
			return []float64{100 * ks[0].Choice.Line[0].Feasible}
		}, false},
		{"^confidence$", `no build keeps all in more than ` + numeral + ` %`, func(_ *spoken, k *finding.Class,
			_ []string) []float64 {
			return []float64{100 * k.Choice.At(k.Choice.Surest).Feasible}
		}, nil, true},
		// What a class is shown by.
		{"^(confidence|size|.*diameter.*)$", numeral + ` in\b`, design(func(d model.Design) float64 {
			return finding.Inch.FromSI(d.Diameter)
		}), nil, false},
		{"^confidence$|-", `KV ` + numeral, design(func(d model.Design) float64 {
			return sweep.KV.Unit.FromSI(d.KV)
		}), nil, false},
		{"^confidence$", numeral + ` blades`, design(func(d model.Design) float64 {
			return float64(d.Blades)
		}), nil, false},
		{"^classes$", `is (?:best|recommended): ` + numeral + ` in`, func(_ *spoken, k *finding.Class,
			_ []string) []float64 {
			return []float64{finding.Inch.FromSI(shownOf(k).Design.Diameter)}
		}, nil, false},
		{"^tornado$", numeral + ` of ` + numeral + ` (are drawn|errors)`, nil, func(s *spoken, m []string) []float64 {
			ks, _ := choices(s.found, 2)
			drawn, changing := len(s.f.Panels[0].Y.Names), map[string]bool{}
			for _, k := range ks {
				for i := range k.Choice.Sensitivities {
					x := &k.Choice.Sensitivities[i]
					if otherSize(k, x.HighSize)+otherSize(k, x.LowSize) != "" {
						changing[x.Name] = true
					}
				}
			}
			if m[3] == "errors" {
				drawn = len(changing)
			}
			return []float64{float64(drawn), float64(len(moving(ks))), math.NaN()}
		}, false},
		{"^confidence$|-", numeral + `S\b`, design(func(d model.Design) float64 {
			return float64(d.Cells)
		}), nil, false},
		{"^confidence$|-", numeral + ` stator`, design(func(d model.Design) float64 {
			return sweep.Stator.Of(d)
		}), nil, false},
		{"^front$", `\b` + heads + ` ` + numeral + `[^;]*? with ` + heads + ` ` + numeral, func(s *spoken,
			k *finding.Class, m []string) []float64 {
			y, x := metricHeaded(m[1]), metricHeaded(m[3])
			if strings.HasPrefix(s.text, "Recommended") {
				return []float64{math.NaN(), y.Unit.FromSI(shown(k).Surely(y)), math.NaN(),
					x.Unit.FromSI(shown(k).Surely(x))}
			}
			rows, err := s.r.Front(context.Background(), k)
			if err != nil {
				return nil
			}
			for n := range rows { // a design of the front has both
				v := []float64{math.NaN(), y.Unit.FromSI(rows[n].Values[finding.Place(y)]), math.NaN(),
					x.Unit.FromSI(rows[n].Values[finding.Place(x)])}
				if roundsTo(m[2], v[1]) && roundsTo(m[4], v[3]) {
					return v
				}
			}
			return nil
		}, nil, false},
		{"^merit$", `([a-z ]+) ` + numeral + ` %`, func(s *spoken, k *finding.Class, m []string) []float64 {
			e, sum, share := shown(k), 0.0, 0.0
			for _, t := range s.r.Study.Merit {
				v := t.Weight * min(1, max(0, (t.Metric.Of(e.Craft)-t.Worst)/(t.Best-t.Worst)))
				if sum += v; strings.HasSuffix(" "+m[1], " "+texts.Lower(t.Metric.Title)) {
					share = v
				}
			}
			return []float64{math.NaN(), 100 * share / sum}
		}, nil, false},
		{"^classes$", `Carrying ` + numeral + ` g in place of ` + numeral + ` g`, nil, func(s *spoken,
			_ []string) []float64 {
			all := finding.AxisValues(s.r.Study.Grid, sweep.Payload)
			return []float64{finding.Gram.FromSI(all[len(all)-1]), finding.Gram.FromSI(all[0])}
		}, false},
		{"^classes$", numeral + ` % less merit`, func(_ *spoken, k *finding.Class, _ []string) []float64 {
			return []float64{100 * (1 - k.ByPayload[len(k.ByPayload)-1].Score/k.ByPayload[0].Score)}
		}, nil, false},
		{"^classes$", `propeller ` + someEnds + ` in`, nil, func(s *spoken, m []string) []float64 {
			return span(s, m, func(k *finding.Class) float64 { return finding.Inch.FromSI(shownOf(k).Design.Diameter) })
		}, false},
		{"^classes$", `\b` + heads + ` ` + someEnds, nil, func(s *spoken, m []string) []float64 {
			t := metricHeaded(m[1])
			if t == nil {
				return nil
			}
			return append([]float64{math.NaN()}, span(s, m, func(k *finding.Class) float64 {
				return t.Unit.FromSI(t.Of(shownOf(k).Craft))
			})...)
		}, false},
		{"^mass$", numeral + ` to ` + numeral + ` %`, nil, func(s *spoken, m []string) []float64 {
			lo, hi := extremes(s, heaviestShare)
			return []float64{lo, hi}
		}, false},
		{"^mass$", numeral + ` %`, func(_ *spoken, k *finding.Class, _ []string) []float64 {
			return []float64{heaviestShare(k)}
		}, nil, false},
		{"^envelope$", `best range at (?:` + numeral + ` to )?` + numeral + ` m/s$`, nil, func(s *spoken,
			m []string) []float64 {
			lo, hi := extremes(s, rangeAt)
			return either(m, lo, hi)
		}, false},
		{"^envelope$", `least power at ([\d., and]+) m/s, best range at ([\d., and]+) m/s`, nil, func(s *spoken,
			m []string) []float64 {
			flown := flownOf(s.found)
			chosen := slices.DeleteFunc(slices.Clone(flown), func(k Flown) bool { return !k.part.Recommends() })
			if len(flown) > mostBeside && len(chosen) > 0 {
				flown = chosen
			}
			flown = flown[:min(len(flown), mostFlown)]
			for n, at := range []func(*flight.Flight) float64{
				func(f *flight.Flight) float64 { return f.Endurance.Airspeed },
				func(f *flight.Flight) float64 { return f.Range.Airspeed },
			} {
				told := listed.Split(m[n+1], -1)
				for i, k := range flown { // one stands for all
					if !roundsTo(told[min(i, len(told)-1)], at(&k.Craft.Flight)) {
						return nil
					}
				}
				if len(told) != 1 && len(told) != len(flown) {
					return nil
				}
			}
			return []float64{math.NaN(), math.NaN()}
		}, false},
		{"^envelope$", numeral + ` m/s`, func(_ *spoken, k *finding.Class, _ []string) []float64 {
			return []float64{shown(k).Craft.Flight.Top.Airspeed}
		}, nil, false},
		{"^envelope$", `at ` + numeral + ` % charge`, nil, func(s *spoken, _ []string) []float64 {
			return []float64{100 * s.r.Study.Model.Assume.Charge}
		}, false},
		{"^why-not$", `at (` + limitOf + `): [^;]*, merit \+` + numeral, nil, func(s *spoken, m []string) []float64 {
			for i := range s.found {
				if c := s.found[i].Choice; c != nil && words.Mass(s.found[i].Class.Limit) == m[1] {
					best := 0.0
					for _, l := range c.Loosened {
						best = max(best, l.Gain)
					}
					return []float64{math.NaN(), best}
				}
			}
			return nil
		}, false},
		{"^rotor$", numeral + ` at J = ` + numeral, func(s *spoken, k *finding.Class, _ []string) []float64 {
			eta, J := curve(s, k)
			return []float64{eta, J}
		}, nil, false},
		{"^rotor$", ` and ` + numeral + ` rpm; static CT is ` + numeral + ` % (more|less) than at ` + numeral + ` rpm`,
			nil, func(s *spoken, m []string) []float64 {
				c := shown(&s.found[len(s.found)-1]).Craft
				full, hover := c.Powertrain.Full.Speed, c.Hover.Speed
				lines := s.f.Panels[0].Lines
				change := math.Abs(100 * (lines[len(lines)-1].Y[0]/lines[0].Y[0] - 1))
				return []float64{60 * full, change, math.NaN(), 60 * hover}
			}, false},
		{"^rotor$", `tip Mach ` + numeral + ` at this size`, func(s *spoken, k *finding.Class, _ []string) []float64 {
			return []float64{CraftRotor(shown(k).Design, shown(k).Craft).MeasuredTipMach}
		}, nil, false},
		{"^rotor$", numeral + ` × ` + numeral + ` in, ` + numeral + ` blades`, func(_ *spoken, k *finding.Class,
			_ []string) []float64 {
			d := shown(k).Design
			return []float64{finding.Inch.FromSI(d.Diameter), finding.Inch.FromSI(d.Pitch), float64(d.Blades)}
		}, nil, false},
	}
}

func number(text string) float64 {
	v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// roundsTo says whether a number is rounded to the digits that a text has, of speeds of rotation
// with thousands marked to three figures.
func roundsTo(text string, v float64) bool {
	unit := 1.0
	if _, after, ok := strings.Cut(text, "."); ok {
		unit = math.Pow10(-len(after))
	} else if strings.HasSuffix(text, "0") && strings.Contains(text, ",") {
		unit = math.Pow10(int(math.Log10(v)) - 2)
	}
	return math.Abs(number(text)-v) <= 0.5*unit*(1+1e-9)+1e-9*math.Abs(v)
}

// about are the classes of which a text tells that goes on so.
func about(s *spoken, rest string) (out []*finding.Class) {
	rest, _, _ = strings.Cut(rest, ";")
	named := ""
	if m := limits.FindStringSubmatch(rest); m != nil {
		named = m[1]
	}
	for i := range s.found {
		k := &s.found[i]
		if len(k.Picks()) > 0 && (named == "" || slices.ContainsFunc(listed.Split(named, -1), func(x string) bool {
			return strings.TrimSuffix(x, " *") == words.Mass(k.Class.Limit)
		})) {
			out = append(out, k)
		}
	}
	return out
}

// misstated are the numbers of a text that are not rounded from what was found, and those of which no
// saying tells where they come from; compared is how many others there are.
func misstated(s *spoken, text string, all []said) (wrong []string, compared int) {
	s.text = text
	left := []byte(fixed.ReplaceAllStringFunc(text, func(m string) string { return strings.Repeat("~", len(m)) }))
	take := func(from, to int) {
		for i := from; i < to; i++ {
			left[i] = '~'
		}
	}
	for _, say := range all {
		if !say.of.MatchString(s.name) {
			continue
		}
		for {
			at := say.form.FindSubmatchIndex(left)
			if at == nil || !digit.Match(left[at[0]:at[1]]) {
				break
			}
			var m []string
			for n := 0; n < len(at); n += 2 {
				part := ""
				if at[n] >= 0 {
					part = text[at[n]:at[n+1]]
				}
				m = append(m, part)
			}
			holds := func(want []float64) bool {
				if len(want) < len(m)-1 {
					return false
				}
				for n, x := range m[1:] {
					if x != "" && !math.IsNaN(number(x)) && !math.IsNaN(want[n]) && !roundsTo(x, want[n]) {
						return false
					}
				}
				return true
			}
			ok := false
			if say.all != nil {
				ok = holds(say.all(s, m))
			} else {
				classes := about(s, text[at[1]:])
				if say.any {
					classes = about(s, "")
				}
				n := 0
				for _, k := range classes {
					if holds(say.each(s, k, m)) {
						n++
					}
				}
				ok = n > 0 && (say.any || n == len(classes))
			}
			if compared++; !ok {
				wrong = append(wrong, m[0])
			}
			take(at[0], at[1])
		}
	}
	for _, at := range weights.FindAllSubmatchIndex(left, -1) {
		x := string(left[at[2]:at[5]])
		if slices.ContainsFunc(s.found, func(k finding.Class) bool { return words.Mass(k.Class.Limit) == x }) {
			compared++
			take(at[2], at[5])
		}
	}
	if digit.Match(left) {
		wrong = append(wrong, "unexplained: "+string(left))
	}
	return wrong, compared
}

// statedBySelf are titles of maps, which TestMapTitle* hold against brute force.
var statedBySelf = regexp.MustCompile(`^(Best|Carrying|(Lowest|Highest|Longest|Shortest)[^;:,]*[:,])`)

// Every number that a title, a subtitle or a note states is rounded from what the run has found, of the
// classes that it names; another last digit would be noticed.
func TestStatedNumbers(t *testing.T) {
	t.Parallel()
	runs := decidedRuns(t)
	runs["mapped"], runs["wide"], runs["half"] = trial.MappedRun(t), trial.WideRun(t), trial.UnfinishedRun(t, 0.5)
	runs["one class"] = trial.LongRun(t)
	mapped := trial.MappedRun(t)
	mapped.Decision = trial.Decided(t, mapped)
	runs["mapped and decided"] = mapped
	all := saidOf(sayings())
	compared, kinds := 0, map[string]bool{}
	for run, r := range runs {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range plansOf(t.Context(), r, found) {
			f, _, err := p.draw()
			if err != nil {
				t.Fatalf("%s, %s: %v", run, p.name, err)
			}
			if f == nil {
				continue
			}
			s := &spoken{r: r, found: found, f: f, name: p.name}
			for _, text := range []string{f.Title, f.Subtitle, f.Note} {
				if p.mapped && (text == f.Note || statedBySelf.MatchString(text)) {
					continue
				}
				wrong, n := misstated(s, text, all)
				compared += n
				if len(wrong) > 0 {
					t.Errorf("%s, %s: %q of %q", run, p.name, wrong, text)
					continue
				}
				kinds[p.name] = kinds[p.name] || n > 0
				kept := fixed.FindAllStringIndex(text, -1)
				for at := range len(text) {
					last := at+1 == len(text) || text[at+1] < '0' || text[at+1] > '9'
					if text[at] < '0' || text[at] > '9' || !last || slices.ContainsFunc(kept, func(x []int) bool {
						return at >= x[0] && at < x[1]
					}) {
						continue
					}
					other := text[:at] + string('0'+(text[at]-'0'+1)%10) + text[at+1:]
					if wrong, _ := misstated(s, other, all); len(wrong) == 0 {
						t.Errorf("%s, %s: nobody notices %q in place of %q", run, p.name, other, text)
					}
				}
			}
		}
	}
	for _, name := range []string{confidenceName, sizeName, frontName, sharesName, classesName, massName, envelopeName,
		whyNotName, rotorName, "diameter-kv"} {
		if !kinds[name] {
			t.Errorf("no number of %s was compared", name)
		}
	}
	if compared < 500 {
		t.Errorf("%d numbers were compared: too few to tell", compared)
	}
}
