package screen

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"rotorsieve/model/part"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// A page that is not whole fits a screen of 80 columns, with what is printed below it, however
// many classes it has up to six, and answers for each of them.
func TestBriefFits(t *testing.T) {
	t.Parallel()
	many := func(t *testing.T, classes int) *finding.Run {
		r := trial.DecidedRun(t)
		own := *r.Result // others have the rest of it
		own.Classes = slices.Clone(own.Classes)
		r.Result = &own
		for n := 0; len(r.Result.Classes) < classes; n++ {
			k, d := r.Result.Classes[1+n%2], r.Decision.Classes[1+n%2]
			k.Class.Limit += 0.5 * float64(n+1)
			k.Class.Label = words.Mass(k.Class.Limit)
			r.Result.Classes, r.Decision.Classes = append(r.Result.Classes, k), append(r.Decision.Classes, d)
		}
		return r
	}
	for name, make := range map[string]func(*testing.T) *finding.Run{
		"decided":    func(t *testing.T) *finding.Run { return trial.DecidedRun(t) },
		"undrawn":    func(t *testing.T) *finding.Run { return trial.SmallRun(t) },
		"unfinished": func(t *testing.T) *finding.Run { return trial.UnfinishedRun(t, 0.6) },
		"four":       func(t *testing.T) *finding.Run { return many(t, 4) },
		"six":        func(t *testing.T) *finding.Run { return many(t, 6) },
	} {
		for _, width := range []int{80, 100} {
			r := make(t)
			var out bytes.Buffer
			page := Page{Width: width}
			if err := PrintRun(&out, r, page); err != nil {
				t.Fatal(err)
			}
			found, err := r.Findings()
			if err != nil {
				t.Fatal(err)
			}
			text := out.String()
			for i := range found {
				c := found[i].Choice
				if !strings.Contains(text, words.ClassLabel(found[i].Class)) {
					t.Errorf("%s at %d: class %s is not on the page:\n%s", name, width, found[i].Class.Label, text)
				}
				if c != nil && !strings.Contains(text, words.BuildName(c.Recommended().Design, "×")) {
					t.Errorf("%s at %d: nothing says what to order at %s:\n%s", name, width, found[i].Class.Label,
						text)
				}
			}
			flat := strings.Join(strings.Fields(text), " ")
			_, line, _ := strings.Cut(flat, " weight 10 % more: ")
			for i := range found { // of each class, or of all in a line
				f := &found[i]
				if f.Choice != nil && !strings.Contains(flat, words.More(f)) &&
					!strings.Contains(line, " at "+words.Mass(f.Class.Limit)) {
					t.Errorf("%s at %d: nothing says what more than %s gains:\n%s", name, width, f.Class.Label, text)
				}
			}
			if finding.AnyChoice(found) {
				said := []string{"P(feas)", "nominal", "90th percentile", "draws", "tied with", "held by", "measure"}
				if len(found) > 4 {
					said = said[:5]
				}
				for _, want := range said {
					if !strings.Contains(text, want) {
						t.Errorf("%s at %d: nothing is said under %q:\n%s", name, width, want, text)
					}
				}
			}
			files := []string{"out/harbour/review.xlsx", "out/harbour/ranking.csv", "out/harbour/test-plan.csv",
				"out/harbour/figures/size.png", "out/harbour/run.json"}
			PrintFiles(&out, "out/harbour", files, nil, page)
			lines := slices.Collect(strings.Lines(out.String()))
			if len(lines) > screenLines {
				t.Errorf("%s at %d has %d lines, want %d at most:\n%s", name, width, len(lines), screenLines,
					out.String())
			}
			for _, line := range lines {
				if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
					t.Errorf("%s: a line has %d characters, want at most %d: %q", name, n, width, line)
				}
			}
		}
	}
}

// What ranges, shares and asterisks are is said beneath the table, in the same number of lines on every page that
// does not say it at its end.
func TestLegend(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	const ranges = "ranges: 10th to 90th percentile of 1,024 draws"
	const star = "* outside the model's validity, to be trusted less"
	for _, c := range []struct {
		level  detail
		width  int
		marked bool
		want   string
	}{
		{gains, 100, true, ranges + "; " + star + "\n\n"},
		{gains, 80, true, ranges + "; P(feas): share that keeps all\n" + star + "\n"},
		{gains, 100, false, ranges + "; P(feas): share that keeps all\n"}, {answers, 60, false, ranges + "\n"},
		{bases, 100, true, star + "\n\n"}, {ranked, 80, false, "\n"},
	} {
		var page bytes.Buffer
		b := &brief{&printer{w: &page, width: c.width}, r, c.level, 12}
		if b.legend(c.marked); page.String() != c.want {
			t.Errorf("%+v: %q", c, page.String())
		}
	}
}

// What a class of more weight buys is told of the builds to order, by their medians.
func TestGainBriefly(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	light, heavy := &found[1], &found[2]
	from, to := light.Choice.Recommended().Metrics[0].P50, heavy.Choice.Recommended().Metrics[0].P50
	text := words.GainBriefly(r, light, heavy)
	if sign := map[bool]string{true: "hover time +", false: "hover time -"}[to > from]; !strings.Contains(text, sign) {
		t.Errorf("of medians of %g and %g s it says %q, want %q in it", from, to, text, sign)
	}
	if !strings.HasPrefix(text, "351 g more than 249 g: ") {
		t.Errorf("it says %q, want what 351 g more buy", text)
	}
}

// A frame and a board that exist are told below the table, beside which what ranks has its room.
func TestBriefNamesFrameAndBoard(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	d := &r.Decision.Classes[1].Builds[0].Design
	d.Frame, d.Board = &part.Frame{Name: "Trestle 5"}, &part.Board{Name: "Sill 20"}
	var out bytes.Buffer
	if err := PrintRun(&out, r, Page{Width: 80}); err != nil {
		t.Fatal(err)
	}
	if text := out.String(); strings.Count(text, "frame Trestle 5, board Sill 20\n") != 1 ||
		strings.Contains(text, "left out") || !strings.Contains(text, "cautious") {
		t.Errorf("the page says\n%s", text)
	}
}
