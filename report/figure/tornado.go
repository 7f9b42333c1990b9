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

const tornadoCaption = "What moves the merit of the recommended build of each class: each thing that the model may err " +
	"by, at one standard deviation less and more, and other assumptions. " +
	"The largest come first; where another size would then be best it is named."

// Families of the bars.
const (
	lessFamily  = "one standard deviation less"
	moreFamily  = "one standard deviation more"
	otherFamily = "another assumption"
)

// sourceLine is how long a line of a source is, in letters.
const sourceLine = 46

// mostMoving is how many sources are drawn.
const mostMoving = 12

// tornadoFigure draws what moves the recommended builds, in panels that share their rows.
func tornadoFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	const abreast = 3
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
		Columns:  len(shown), Width: 8.5, Height: max(0.7, 0.29*float64(n)),
		Note: "A build that breaks a requirement has a merit of 0.",
	}
	if len(shown) > 1 {
		f.Width = 10
	}
	if n < len(rows) {
		f.Note += fmt.Sprintf(" %d of %d are drawn, those that move most.", n, len(rows))
	}
	if all > len(shown) {
		f.Note += fmt.Sprintf(" %d of %d classes are drawn.", len(shown), all)
	}
	y := chart.Axis{Names: make([]string, n)} // from below
	for k, s := range rows[:n] {
		y.Names[n-1-k] = strings.Join(texts.Wrap(sourceText(r, s), sourceLine), "\n")
	}
	for _, k := range shown {
		f.Panels = append(f.Panels, tornadoPanel(k, rows[:n], y))
	}
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
// other value.
func sourceText(r *finding.Run, s *decide.Sensitivity) string {
	text, spread := words.Source(s), words.Spread(r, s)
	switch {
	case spread == "":
		return text
	case s.Assumption:
		return text + ": " + spread
	}
	return text + ", " + spread
}

// tornadoPanel draws what moves the recommended build of a class.
func tornadoPanel(k *finding.Class, rows []*decide.Sensitivity, y chart.Axis) chart.Panel {
	const half = 0.2 // of a bar: the two of a row stand one above the other
	c := k.Choice
	b := c.Recommended()
	p := chart.Panel{Title: words.ClassName(k.Class) + ": " + words.Build(b.Design),
		X: chart.Axis{Label: "merit [-]", Min: b.Nominal, Max: b.Nominal}, Y: y}
	less, more := chart.Area{Family: lessFamily}, chart.Area{Family: moreFamily}
	other := chart.Area{Family: otherFamily}
	add := func(a *chart.Area, at, v float64) {
		a.Half, a.Lying = half, true
		a.At, a.From, a.To = append(a.At, at), append(a.From, b.Nominal), append(a.To, v)
		a.Labels = append(a.Labels, "")
		p.X.Min, p.X.Max = min(p.X.Min, v), max(p.X.Max, v)
	}
	named := false
	for n, row := range rows {
		i := slices.IndexFunc(c.Sensitivities, func(s decide.Sensitivity) bool { return sameSource(&s, row) })
		if i < 0 {
			continue
		}
		s, at := &c.Sensitivities[i], float64(len(rows)-1-n)
		if s.Assumption {
			add(&other, at, s.High)
		} else {
			add(&less, at+half, s.Low)
			add(&more, at-half, s.High)
		}
		low, high := otherSize(c, s.LowSize), otherSize(c, s.HighSize)
		label := func(a *chart.Area, size string) {
			if size != "" {
				named = true
				a.Labels[len(a.Labels)-1] = "best size then " + size
			}
		}
		if s.Assumption {
			label(&other, high)
		} else {
			label(&less, low)
			label(&more, high)
		}
	}
	for _, a := range []chart.Area{less, more, other} {
		if len(a.At) > 0 {
			p.Areas = append(p.Areas, a)
		}
	}
	span := p.X.Max - p.X.Min
	p.X.Min = max(0, p.X.Min-0.05*span)
	room := 0.05
	if named { // for the words beside the bars
		room = 0.45
	}
	p.X.Max += room * span
	if span == 0 {
		p.X.Min, p.X.Max = 0.95*b.Nominal, 1.05*b.Nominal+1e-3
	}
	p.Lines = []chart.Line{{Family: nominalFamily, X: []float64{b.Nominal, b.Nominal},
		Y: []float64{-0.5, float64(len(rows)) - 0.5}}}
	return p
}

// otherSize names the diameter that is best then, "" for that of the recommended build.
func otherSize(c *finding.Choice, size float64) string {
	own := c.Recommended().Design.Diameter
	if size == 0 || math.Abs(size-own) < 1e-6*own {
		return ""
	}
	return finding.Inch.Format(size, 4)
}

// resizes says whether another size is best with another value of a source.
func resizes(c *finding.Choice, s *decide.Sensitivity) bool {
	return otherSize(c, s.HighSize) != "" || !s.Assumption && otherSize(c, s.LowSize) != ""
}

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
				f.where = words.Source(s)
			}
			if what := words.Source(s); resizes(c, s) && !slices.Contains(changing, what) {
				changing = append(changing, what)
			}
		}
		most = append(most, f)
	}
	best, _ := gathered(most)
	title := "Nothing moves the recommended builds"
	if len(best) == 1 {
		title = texts.Upper(best[0].where) + " moves the recommended " + texts.Plural(len(shown), "build", "builds") +
			" most"
	} else if len(best) > 1 {
		title = "The recommended builds are moved most by " + allAt(best, "", ", ")
	}
	switch n := len(changing); {
	case n == 0:
		return title + "; the best size stays"
	case n == 1 && len(best) == 1 && changing[0] == best[0].where:
		return title + " and changes which size is best"
	case n <= 2:
		return title + "; " + texts.JoinAnd(changing) + texts.Plural(n, " changes", " change") + " which size is best"
	default:
		return title + fmt.Sprintf("; %d of them change which size is best", n)
	}
}
