package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

const tornadoCaption = "What moves the merit of the recommended build of each class: each thing that the model may " +
	"err by, at one standard deviation less and more, and other assumptions. " +
	"The largest come first; where another size than the nominal best would then be best it is named."

// Families of the bars.
const (
	lessFamily  = "one standard deviation less"
	moreFamily  = "one standard deviation more"
	otherFamily = "another assumption"
)

// Of a row: its height in inches, and how many letters a line of its name has and how many
// lines.
const (
	rowHeight   = 0.31
	sourceLine  = 46
	sourceLines = 2
)

// mostMoving is how many sources are drawn.
const mostMoving = 12

// tornadoFigure draws what moves the recommended builds, in panels that share their rows.
func tornadoFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	const abreast = 2
	shown, all := choices(found, abreast)
	if len(shown) == 0 {
		return nil, undecided(r, tornadoName, 0), nil
	}
	rows := moving(shown)
	if len(rows) == 0 {
		return nil, "nothing moves the recommended build", nil
	}
	n := min(len(rows), mostMoving)
	f := &chart.Figure{
		Title:    tornadoTitle(shown),
		Subtitle: subtitleOf(r),
		Families: []string{lessFamily, moreFamily, otherFamily},
		Columns:  len(shown), Width: 8.5, Height: max(0.7, rowHeight*float64(n)),
	}
	if len(shown) > 1 {
		f.Width = 10
	}
	f.Note = " In the order of the span of merit from a standard deviation less to one more, of another assumption " +
		"from the nominal merit."
	if n < len(rows) {
		f.Note += fmt.Sprintf(" %d of %d are drawn, those of the widest span.", n, len(rows))
	}
	if all > len(shown) {
		f.Note += fmt.Sprintf(" %d of %d classes are drawn.", len(shown), all)
	}
	y := chart.Axis{Names: make([]string, n)} // from below
	for k, s := range rows[:n] {
		y.Names[n-1-k] = sourceText(r, s)
	}
	var out words.Outside
	marks := recommendedMarks(r, found, &out)
	fails := false
	for _, k := range shown {
		p, some := tornadoPanel(k, rows[:n], y, len(shown))
		p.Title += marks[indexOf(found, k)]
		f.Panels = append(f.Panels, p)
		fails = fails || some
	}
	if fails {
		f.Note = "Fails: a requirement breaks, and the merit is 0, beyond the edge." + f.Note
	}
	f.Note = strings.TrimSpace(f.Note + out.Note())
	return f, "", nil
}

// swing is how far a source moves a merit, in the direction in which it moves it more.
func swing(s *decide.Sensitivity, nominal float64) float64 {
	most := math.Abs(s.High - nominal)
	if !s.Assumption {
		most = max(most, math.Abs(s.Low-nominal), math.Abs(s.High-s.Low))
	}
	return most
}

// moving are the sources of some classes, each once, what moves a merit most first.
func moving(shown []*finding.Class) []*decide.Sensitivity {
	type source struct {
		s    *decide.Sensitivity
		most float64
	}
	var all []source
	for _, k := range shown {
		for i := range k.Choice.Sensitivities {
			s := &k.Choice.Sensitivities[i]
			by := swing(s, k.Choice.Recommended().Nominal)
			n := slices.IndexFunc(all, func(x source) bool { return sameSource(x.s, s) })
			if n < 0 {
				n = len(all)
				all = append(all, source{s, by})
			}
			all[n].most = max(all[n].most, by)
		}
	}
	all = slices.DeleteFunc(all, func(x source) bool { return x.most == 0 })
	slices.SortStableFunc(all, func(a, b source) int { return cmp.Compare(b.most, a.most) })
	out := make([]*decide.Sensitivity, len(all))
	for n := range all {
		out[n] = all[n].s
	}
	return out
}

func sameSource(a, b *decide.Sensitivity) bool {
	return a.Name == b.Name && a.Meaning == b.Meaning && a.Assumption == b.Assumption
}

// sourceText names a source of error with its standard deviation, or an assumption with its
// other value, in few lines.
func sourceText(r *finding.Run, s *decide.Sensitivity) string {
	after := ""
	switch spread := words.Spread(r, s); {
	case spread == "":
	case s.Assumption:
		after = ": " + spread
	default:
		after = ", " + spread
	}
	lines := texts.Wrap(words.Source(s)+after, sourceLine)
	if len(lines) > sourceLines {
		lines = texts.Wrap(words.SourceName(s)+after, sourceLine)
	}
	return strings.Join(lines[:min(len(lines), sourceLines)], "\n")
}

// tornadoPanel draws what moves the recommended build of a class, in one of some panels
// abreast, and says whether it fails anywhere.
func tornadoPanel(k *finding.Class, rows []*decide.Sensitivity, y chart.Axis, abreast int) (p chart.Panel, fails bool) {
	const half = 0.2 // of a bar: the two of a row stand one above the other
	c := k.Choice
	b := c.Recommended()
	p = chart.Panel{Title: words.ClassName(k.Class) + ": " + words.Build(words.Abridge(b.Design)),
		X: chart.Axis{Label: "merit [-]", Min: b.Nominal, Max: b.Nominal}, Y: y}
	less, more := chart.Area{Family: lessFamily}, chart.Area{Family: moreFamily}
	other := chart.Area{Family: otherFamily}
	longest := 0
	add := func(a *chart.Area, at, merit, size float64) {
		var label []string
		if merit == 0 && b.Nominal > 0 {
			fails = true
			label = append(label, "fails")
		} else {
			p.X.Min, p.X.Max = min(p.X.Min, merit), max(p.X.Max, merit)
		}
		if text := otherSize(k, size); text != "" {
			label = append(label, "nominal best then "+text)
		}
		text := strings.Join(label, ", ")
		longest = max(longest, len(text))
		a.Half, a.Lying = half, true
		a.At, a.From, a.To = append(a.At, at), append(a.From, b.Nominal), append(a.To, merit)
		a.Labels = append(a.Labels, text)
	}
	for n, row := range rows {
		i := slices.IndexFunc(c.Sensitivities, func(s decide.Sensitivity) bool { return sameSource(&s, row) })
		if i < 0 {
			continue
		}
		s, at := &c.Sensitivities[i], float64(len(rows)-1-n)
		if s.Assumption {
			add(&other, at, s.High, s.HighSize)
		} else {
			add(&less, at+half, s.Low, s.LowSize)
			add(&more, at-half, s.High, s.HighSize)
		}
	}
	p.X = widened(p.X, longest, abreast)
	for _, a := range []*chart.Area{&less, &more, &other} {
		for n := range a.To { // a merit of 0 lies beyond the edge
			a.To[n] = max(a.To[n], p.X.Min)
		}
		if len(a.At) > 0 {
			p.Areas = append(p.Areas, *a)
		}
	}
	p.Lines = []chart.Line{{Family: nominalFamily, X: []float64{b.Nominal, b.Nominal},
		Y: []float64{-0.5, float64(len(rows)) - 0.5}}}
	return p, fails
}

// widened gives an axis of merit some room at its ends, and to the right that of texts up to
// so many letters.
func widened(a chart.Axis, letters, abreast int) chart.Axis {
	const (
		letter = 4.2 // points, of labels
		edge   = 0.06
		least  = 0.02 // of a merit
	)
	panel := [...]float64{360, 215}[abreast-1] // points, at least
	span := max(a.Max-a.Min, least)
	text := letter * float64(letters) / panel
	a.Min = max(0, a.Min-edge*span)
	a.Max = a.Min + (a.Max-a.Min+edge*span)/(1-text)
	return a
}

// otherSize names the diameter that is best then, "" for that of the nominal best, which is
// best where nothing moves: the recommended build is chosen by more than one merit.
func otherSize(k *finding.Class, size float64) string {
	own := k.Choice.Recommended().Design.Diameter
	if best := k.Best(); best != nil {
		own = best.Design.Diameter
	}
	if size == 0 || math.Abs(size-own) < 1e-6*own {
		return ""
	}
	return finding.Inch.Format(size, 4)
}

// resizes says whether another size is best with another value of a source.
func resizes(k *finding.Class, s *decide.Sensitivity) bool {
	return otherSize(k, s.HighSize) != "" || !s.Assumption && otherSize(k, s.LowSize) != ""
}

// longTitle is how many letters are too many to name what changes the size.
const longTitle = 110

// tornadoTitle says what moves most, and what changes the size.
func tornadoTitle(shown []*finding.Class) string {
	var most []finds
	var changing []string
	for _, k := range shown {
		c := k.Choice
		nominal := c.Recommended().Nominal
		f := finds{limit: words.Mass(k.Class.Limit)}
		by := 0.0
		for i := range c.Sensitivities {
			s := &c.Sensitivities[i]
			if x := swing(s, nominal); x > by {
				by = x
				f.where = words.SourceShort(s)
			}
			if what := words.SourceShort(s); resizes(k, s) && !slices.Contains(changing, what) {
				changing = append(changing, what)
			}
		}
		most = append(most, f)
	}
	best, _ := gathered(most)
	title := "Nothing moves the recommended builds"
	if len(best) > 0 {
		title = "Widest span of the recommended " + texts.Plural(len(shown), "build's", "builds'") + " merit: "
		if len(best) == 1 {
			title += best[0].where
		} else {
			title += allAt(best, "", ", ")
		}
	}
	switch n := len(changing); {
	case n == 0:
		return title + "; the best size stays"
	case n == 1 && len(best) == 1 && changing[0] == best[0].where:
		return title + ", which changes the nominally best size"
	case n <= 2 && len(title)+len(strings.Join(changing, "")) < longTitle:
		return title + "; " + texts.JoinAnd(changing) + texts.Plural(n, " changes", " change") + " which size is nominally best"
	default:
		return title + fmt.Sprintf("; %d of %d errors and assumptions %s which size is nominally best", n,
			len(moving(shown)), texts.Plural(n, "changes", "change"))
	}
}
