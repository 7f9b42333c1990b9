package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// answered is what run.json has of a class.
type answered struct {
	Class     string
	Best      *struct{ Merit float64 }
	ByPayload []*struct {
		Metrics map[string]struct{ Value float64 }
	} `json:"by_payload"`
	Decision *struct {
		Recommended finding.BuildRecord
		Tied        []string
		PlannedAUW  float64 `json:"planned_auw"`
		Worth       []struct {
			What, Another string
			Gain          float64
		}
	}
}

// leftBehind is what the tests of printed sentences read: the files of a run, by class.
type leftBehind struct {
	class map[string]answered
	order []string                   // the classes
	along map[string]map[string]told // confidence.csv of the diameters by class and value in inches
	tied  map[string][]float64       // diameters in inches that confidence.csv has within two standard errors
	more  map[string][]float64       // a tenth of the limit in g, and what the decision has it gain
}

// A sentence is a form of what is printed of a class, with what its numbers are rounded from.
type sentence struct {
	form *regexp.Regexp
	of   func(l *leftBehind, class string, m []string) []float64
}

const written = `(-?\d[\d,]*(?:\.\d+)?)`

// sentences are the forms, of a class each.
func sentences() []sentence {
	planned := func(k answered) float64 { return k.Decision.Recommended.Planned }
	p50 := func(k answered, metric string) float64 {
		for _, q := range k.Decision.Recommended.Metrics {
			if q.Name == metric {
				return *q.P50
			}
		}
		return math.NaN()
	}
	list := regexp.MustCompile(`, `)
	return []sentence{
		{regexp.MustCompile(`costs ` + written + ` % of nominal merit; tied with ` + written +
			` builds?; by size (?:` + written + ` to )?` + written + ` in`), func(l *leftBehind,
			class string, m []string) []float64 {
			k := l.class[class]
			lo, hi := slices.Min(l.tied[class]), slices.Max(l.tied[class])
			return []float64{100 * (1 - planned(k)/k.Best.Merit), float64(len(k.Decision.Tied)), lo, hi}
		}},
		{regexp.MustCompile(`held by .*?\(fails ` + written + ` % of draws\)`), func(l *leftBehind, class string,
			_ []string) []float64 {
			return []float64{100 * l.class[class].Decision.Recommended.CauseShare}
		}},
		{regexp.MustCompile(`\d* in against ` + written + ` in: ahead in ` + written + ` %, level in ` + written +
			` %, behind in ` + written + ` % of the draws \(cautious merit \+?` + written + ` ± ` + written), func(
			l *leftBehind, class string, m []string) []float64 {
			x := l.along[class][m[1]].numbers
			shares := words.Hundred(x["behind"], x["level"], x["ahead"]) // which add up to 100
			return []float64{math.NaN(), float64(shares[0]), float64(shares[1]), float64(shares[2]),
				-x["difference"], 2 * x["se"]}
		}},
		{regexp.MustCompile(`buys +` + written + ` g more than ` + written + ` g: median hover time \+?` + written +
			` %, thrust to weight \+?` + written + ` %`), func(l *leftBehind, class string, _ []string) []float64 {
			before := l.order[slices.Index(l.order, class)-1]
			a, b := l.class[before], l.class[class]
			grams := func(label string) float64 {
				v, err := strconv.ParseFloat(strings.TrimRightFunc(label, func(r rune) bool { return r > '9' }), 64)
				if err != nil {
					return math.NaN()
				}
				return v
			}
			change := func(metric string) float64 { return 100 * (p50(b, metric)/p50(a, metric) - 1) }
			return []float64{grams(class) - grams(before), grams(before), change("hover-time"), change("thrust-to-weight")}
		}},
		{regexp.MustCompile(written + ` g more would gain at least merit \+` + written), func(l *leftBehind,
			class string, _ []string) []float64 {
			return l.more[class]
		}},
		{regexp.MustCompile(`the nominal best of each\): hover time ([\d., -]+) min; ` +
			`thrust to weight ([\d., -]+)`), func(l *leftBehind, class string, m []string) []float64 {
			for n, metric := range []string{"hover-time", "thrust-to-weight"} {
				told := list.Split(strings.TrimSpace(m[n+1]), -1)
				if len(told) != len(l.class[class].ByPayload) {
					return nil
				}
				for i, x := range l.class[class].ByPayload {
					v := finding.Metric(metric)
					if x == nil != (told[i] == "-") || x != nil && !roundsTo(told[i],
						v.Unit.FromSI(finding.ExportUnit(v).ToSI(x.Metrics[metric].Value))) {
						return nil
					}
				}
			}
			return []float64{math.NaN(), math.NaN()}
		}},
		{regexp.MustCompile(`measure +([a-z', ]+) \(merit \+` + written + ` %\)`), func(l *leftBehind, class string,
			m []string) []float64 {
			k := l.class[class].Decision
			for _, w := range k.Worth {
				if w.What == m[1] && w.Another == "" {
					return []float64{math.NaN(), 100 * w.Gain / *k.Recommended.Merit.P50}
				}
			}
			return nil
		}},
	}
}

// missaid are the sentences of a page of which a number is not that of the files; compared is how many
// have been looked at.
func missaid(l *leftBehind, page string, all []sentence) (wrong []string, compared int) {
	class := ""
	for _, line := range strings.Split(page, "\n") {
		for _, k := range l.order {
			head := words.Spaced(strings.TrimRight(k, "kg"), strings.TrimLeft(k, "0123456789."))
			if strings.HasPrefix(line, head+" ") {
				class = k
			}
		}
		if class == "" || l.class[class].Decision == nil {
			continue
		}
		for _, s := range all {
			m := s.form.FindStringSubmatch(line)
			if m == nil {
				continue
			}
			compared++
			want := s.of(l, class, m)
			ok := len(want) == len(m)-1
			for n := 0; ok && n < len(want); n++ {
				text := strings.TrimPrefix(m[n+1], "+")
				ok = text == "" || math.IsNaN(want[n]) || roundsTo(text, want[n])
			}
			if !ok {
				wrong = append(wrong, fmt.Sprintf("%q, by the files %v", m[0], want))
			}
		}
	}
	return wrong, compared
}

// unwrapped is a page with its sentences in one line each.
func unwrapped(page string) string { return regexp.MustCompile(`\n {8,}`).ReplaceAllString(page, " ") }

// What the printed page says of each class in sentences has the numbers of run.json, robust.csv and
// confidence.csv; another last digit would be noticed.
func TestSaidNumbersAgree(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	files := writeTo(t, r)
	var record struct {
		Result struct{ Classes []answered }
	}
	if err := json.Unmarshal(files[finding.RecordName], &record); err != nil {
		t.Fatal(err)
	}
	l := &leftBehind{class: map[string]answered{}, along: map[string]map[string]told{}, tied: map[string][]float64{},
		more: map[string][]float64{}}
	for _, k := range record.Result.Classes {
		l.class[k.Class], l.order = k, append(l.order, k.Class)
	}
	for class, all := range toldOf(t, files[finding.ConfidenceName]) {
		l.along[class] = map[string]told{}
		for _, x := range all {
			if x.words["axis"] == "diameter (m)" {
				inches := finding.Inch.FromSI(x.numbers["value"])
				l.along[class][fmt.Sprintf("%.4g", inches)] = x
				if x.words["ahead"] != "" && x.numbers["difference"] >= -2*x.numbers["se"] {
					l.tied[class] = append(l.tied[class], inches)
				}
			}
		}
	}
	for i, k := range r.Result.Classes {
		for _, x := range r.Decision.Classes[i].Loosened {
			if x.Gate == sweep.GateClass {
				l.more[k.Class.Label] = []float64{100 * k.Class.Limit, x.Gain}
			}
		}
	}
	var out bytes.Buffer
	if err := screen.PrintRun(&out, r, screen.Page{Width: 120}); err != nil {
		t.Fatal(err)
	}
	all := sentences()
	page := unwrapped(out.String())
	wrong, compared := missaid(l, page, all)
	for _, text := range wrong {
		t.Error(text)
	}
	if compared < 10 {
		t.Errorf("%d sentences were compared: too few to tell:\n%s", compared, page)
	}
	// Each number that a form has among its groups, with another last digit.
	for _, s := range all {
		found := s.form.FindAllStringSubmatchIndex(page, -1)
		if len(found) == 0 {
			t.Errorf("no sentence is of the form %s:\n%s", s.form, page)
		}
		for _, at := range found {
			for n := 2; n < len(at); n += 2 {
				if at[n] < 0 || page[at[n+1]-1] < '0' || page[at[n+1]-1] > '9' {
					continue
				}
				last := at[n+1] - 1
				other := page[:last] + string('0'+(page[last]-'0'+1)%10) + page[last+1:]
				if wrong, again := missaid(l, other, all); len(wrong) == 0 && again == compared {
					t.Errorf("nobody notices %q in place of %q", other[at[0]:at[1]], page[at[0]:at[1]])
				}
			}
		}
	}
}
