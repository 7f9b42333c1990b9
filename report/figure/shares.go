package figure

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

const sharesCaption = "What the merit of the best different answers of each class is made of: a bar for each, a " +
	"piece for each metric of the merit, as long as its part of the weighted mean. Designs that differ by a step of " +
	"KV, a like stator or a like pack are one answer, shown by its best."

// Of the figure of shares: answers and classes drawn at most, how many letters a line of an
// answer's name has, and the heights of a line and of the gap to the next answer in inches.
const (
	sharedAnswers = 5
	sharedClasses = 4
	answerLetters = 42
	answerLine    = 0.15
	answerGap     = 0.06
)

// part is the length of a term in a merit: all of them add up to it.
func part(m sweep.Merit, at int, c *model.Craft) float64 {
	weight := 0.0
	for i := range m {
		weight += m[i].Weight
	}
	return m[at].Weight * m[at].Score(m[at].Metric.Of(c)) / weight
}

// answersOf are the answers of a class by nominal merit, best first, the recommended build
// before them where it is none of them, each with what it is.
func answersOf(r *finding.Run, k *finding.Class) (entries []*finding.Entry, names []string, err error) {
	lines, err := r.Lines(k, sharedAnswers)
	if err != nil {
		return nil, nil, err
	}
	add := func(e *finding.Entry, what string) {
		entries, names = append(entries, e), append(names, what)
	}
	planned := func(a finding.Alike) bool { return k.Planned != nil && a.Index == k.Planned.Index }
	if k.Planned != nil && !slices.ContainsFunc(lines, planned) {
		add(k.Planned, words.PartName(finding.RecommendedPart))
	}
	for n := range lines {
		what := ""
		switch chosen := planned(lines[n]); {
		case chosen && n == 0:
			what = words.PartName(finding.BothPart)
		case chosen:
			what = words.PartName(finding.RecommendedPart)
		case n == 0 && k.Planned != nil:
			what = words.PartName(finding.NominalPart)
		}
		add(&lines[n].Entry, what)
	}
	return entries, names, nil
}

// sharesFigure draws what the merit of the best answers is made of.
func sharesFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	var shown []*finding.Class
	var at []float64
	for i := range found {
		if found[i].Best() != nil {
			at = append(at, float64(i))
		}
	}
	for _, n := range spread(at, sharedClasses) {
		shown = append(shown, &found[int(n)])
	}
	switch {
	case len(shown) == 0:
		return nil, "no feasible design", nil
	case len(r.Study.Merit) < 2:
		return nil, "a merit of one metric", nil
	}
	merit := r.Study.Merit
	f := &chart.Figure{
		Subtitle: subtitleOf(r), Columns: 1, Width: 8.5,
		Note: "Merit: " + words.Merit(merit) + ". Answers by the nominal model, best first.",
	}
	if len(shown) > 1 {
		f.Columns, f.Width = 2, 10
	}
	for _, t := range merit {
		f.Families = append(f.Families, texts.Lower(t.Metric.Title))
	}
	var out words.Outside
	most, height := 0.0, 0.0
	for _, k := range shown {
		entries, names, err := answersOf(r, k)
		if err != nil {
			return nil, "", err
		}
		p := chart.Panel{Title: words.ClassName(k.Class), X: chart.Axis{Label: "merit [-]"}}
		n := len(entries)
		p.Y.Names = make([]string, n) // from below
		lines := 0
		for row, e := range entries {
			head := words.BuildName(words.Abridge(e.Design), "×")
			if names[row] != "" {
				head = names[row] + ": " + head
			}
			head += out.AddCraft(atClass(r, words.Mass(k.Class.Limit)), e.Craft)
			name := append(texts.Wrap(head, answerLetters), words.Reaches(merit, e.Craft))
			lines = max(lines, len(name))
			p.Y.Names[n-1-row] = strings.Join(name, "\n")
			s := chart.Stack{At: n - 1 - row, Label: fmt.Sprintf("%.3f", e.Score)}
			for t := range merit {
				s.Pieces = append(s.Pieces, chart.Piece{Family: f.Families[t], Length: part(merit, t, e.Craft)})
			}
			most = max(most, e.Score)
			p.Stacks = append(p.Stacks, s)
		}
		height = max(height, float64(n)*(answerLine*float64(lines)+answerGap))
		f.Panels = append(f.Panels, p)
	}
	for k := range f.Panels {
		f.Panels[k].X.Max = roundUp(1.2 * most) // with room for the number
	}
	f.Height = height
	if len(shown) < len(at) {
		f.Note += fmt.Sprintf(" %d of %d classes are drawn.", len(shown), len(at))
	}
	f.Note += out.NoteWithin(mostNote(len(shown)) - len(f.Note))
	f.Title = sharesTitle(merit, found)
	return f, "", nil
}

// sharesTitle says which metric gives most of the merit of each class's recommended build, or
// of its best design.
func sharesTitle(merit sweep.Merit, found []finding.Class) string {
	var most []finds
	for i := range found {
		f := finds{limit: words.Mass(found[i].Class.Limit)}
		if p := found[i].Picks(); len(p) > 0 && p[0].Score > 0 {
			heaviest := 0
			for t := range merit {
				if part(merit, t, p[0].Craft) > part(merit, heaviest, p[0].Craft) {
					heaviest = t
				}
			}
			f.where = fmt.Sprintf("%s %.0f %%", texts.Lower(merit[heaviest].Metric.Title),
				100*part(merit, heaviest, p[0].Craft)/merit.Of(p[0].Craft))
			f.limit += words.Star(p[0].Marked())
		}
		most = append(most, f)
	}
	all, _ := gathered(most)
	of := "best"
	if finding.AnyChoice(found) {
		of = "recommended build's"
	}
	if len(all) == 0 {
		return "The " + of + " merit is 0"
	}
	return "Most of the " + of + " merit: " + allAt(all, "", ", ")
}
