package figure

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

const whyNotCaption = "What each requirement costs, class by class: the share of designs that it rejected, and, " +
	"where draws choose, how much better the best merit would be with its bound alone 10 % looser. " +
	"A design is counted at the first requirement that it does not keep, in the order from above, so that a later " +
	"one may stop more than its bar shows. What stops hardly any has no bar."

// mostTallied is how many bars, one above the other, have room on a page: of more the classes
// stand side by side, up to mostTalliedAbreast.
const (
	mostTallied        = 24
	mostTalliedAbreast = 4
)

// fewRejected is the share of all designs up to which what a gate rejected, and gains nothing,
// is said and not drawn.
const fewRejected = 0.005

// whyNotFigure draws the tally and what looser bounds would gain. What rejected hardly any in
// any class and gains nothing has no bar.
func whyNotFigure(r *finding.Run, found []finding.Class) *chart.Figure {
	found, left := someClasses(found)
	gates := r.Result.Gates
	var drawn []int // places in gates
	var idle, few []string
	for g := range gates {
		most := uint64(0)
		gains := false
		for i := range found {
			k := &found[i]
			most = max(most, k.Rejected[g])
			gains = gains || k.Choice != nil && slices.ContainsFunc(k.Choice.Loosened, func(l decide.Loosened) bool {
				return l.Gate == g && l.Gain > 0
			})
		}
		switch {
		case gains, g == sweep.GateClass, float64(most) > fewRejected*float64(r.Result.Done):
			drawn = append(drawn, g)
		case most == 0:
			idle = append(idle, stops(gates[g]))
		default:
			few = append(few, stops(gates[g]))
		}
	}
	n := len(drawn)
	y := chart.Axis{Names: make([]string, n+1)} // from below
	y.Names[0] = "feasible"
	defaults := false
	for k, g := range drawn {
		name := words.GateLabel(gates[g])
		if q := gates[g].Requirement; q != nil && q.Default {
			name += " †"
			defaults = true
		}
		y.Names[n-k] = name
	}
	f := &chart.Figure{
		Title:    whyNotTitle(gates, found, words.SoFar(r)),
		Subtitle: subtitleOf(r),
		Note:     "A design is counted at the first requirement that it does not keep, in the order from above.",
		Height:   0.17 * float64(n+1),
		Families: []string{rejectedFamily, feasibleFamily},
	}
	if defaults {
		f.Note += " † by default."
	}
	if len(few) > 0 {
		f.Note += fmt.Sprintf(" Under %g %% fail%s at: %s.", 100*fewRejected, words.SoFar(r), strings.Join(few, ", "))
	}
	for i := range found {
		if fall := words.ScenarioFall(r.Study, found[i].ClassResult); fall != "" {
			f.Note += fmt.Sprintf(" Class %s by scenario: %s.", words.ClassLabel(found[i].Class), fall)
		}
	}
	if len(idle) > 0 {
		f.Note += " None fails" + words.SoFar(r) + " at: " + strings.Join(idle, ", ") + "."
	}
	f.Note += left
	if finding.AnyChoice(found) {
		return withGains(f, found, y, drawn)
	}
	switch {
	case len(found) == 1:
		f.Width = 8.5
	case len(found) > 3: // rows of panels
		f.Height = 0.155 * float64(n+1)
	}
	for i := range found {
		f.Panels = append(f.Panels, tallyPanel(&found[i], y, drawn))
	}
	return f
}

// Families of the bars.
const (
	rejectedFamily = "rejected"
	feasibleFamily = "feasible"
)

// tallyPanel draws which share of the designs of a class each gate rejected.
func tallyPanel(k *finding.Class, y chart.Axis, drawn []int) chart.Panel {
	p := chart.Panel{Title: words.ClassName(k.Class), Y: y,
		X: chart.Axis{Label: words.Bracketed("designs", "%"), Max: 100, Ticks: []float64{0, 25, 50, 75, 100}}}
	judged := k.Feasible
	for _, n := range k.Rejected {
		judged += n
	}
	judged = max(1, judged)
	add := func(at int, family string, count uint64) {
		label := "0"
		if count > 0 {
			label = texts.Grouped(count) + " · " + words.Share(count, judged)
		}
		p.Stacks = append(p.Stacks, chart.Stack{At: at, Label: label,
			Pieces: []chart.Piece{{Family: family, Length: 100 * float64(count) / float64(judged)}}})
	}
	for at, g := range drawn {
		add(len(drawn)-at, rejectedFamily, k.Rejected[g])
	}
	add(0, feasibleFamily, k.Feasible)
	return p
}

// withGains fills a figure with a row for each class: the tally, and beside it what each bound
// alone 10 % looser would gain; of more than have room so, with a column for each, the gains below.
func withGains(f *chart.Figure, found []finding.Class, y chart.Axis, drawn []int) *chart.Figure {
	var at []float64
	for i := range found {
		at = append(at, float64(i))
	}
	abreast := len(found) > 1 && len(found)*len(y.Names) > mostTallied
	shown := spread(at, mostTalliedAbreast)
	if best := mostGaining(found); best >= 0 && !slices.Contains(shown, float64(best)) { // the title tells of it
		shown[len(shown)-1] = float64(best)
		slices.Sort(shown)
	}
	most := 0.0
	for i := range found {
		if c := found[i].Choice; c != nil {
			for k := range c.Loosened {
				most = max(most, c.Loosened[k].Gain)
			}
		}
	}
	f.Columns, f.Width = 2, 10
	height := 0.17
	if len(shown) > 2 {
		height = 0.155
	}
	var gains []chart.Panel
	for _, n := range shown {
		k := &found[int(n)]
		tally, gain := tallyPanel(k, y, drawn), gainPanel(k, y, drawn, most)
		tally.Title += ": rejected"
		if !abreast {
			f.Panels = append(f.Panels, tally, gain)
			f.Rows = append(f.Rows, height*float64(len(y.Names)))
			continue
		}
		for i := range tally.Stacks { // the share alone has room
			if _, share, ok := strings.Cut(tally.Stacks[i].Label, " · "); ok {
				tally.Stacks[i].Label = share
			}
		}
		tally.X.Ticks = []float64{0, 50, 100}
		if k.Choice != nil {
			gain.Title = "gain, a bound 10 % looser"
		}
		for i := range gain.Stacks { // the first of what else is best then
			gain.Stacks[i].Label, _, _ = strings.Cut(gain.Stacks[i].Label, ", ")
		}
		if most > 0 && len(shown) > 3 { // a text is longer than half a panel: it stands beside its bar
			gain.X.Max = roundUp(2.5 * most)
		}
		f.Panels, gains = append(f.Panels, tally), append(gains, gain)
	}
	if abreast {
		f.Panels = append(f.Panels, gains...)
		f.Columns = len(shown)
		f.Rows = []float64{height * float64(len(y.Names)), height * float64(len(y.Names))}
	}
	for i := range f.Panels {
		if x := &f.Panels[i].X; x.Ticks == nil { // the bars have their numbers
			x.Ticks = []float64{0, x.Max / 2, x.Max}
		}
	}
	f.Note += " Gain: by how much the best merit by the nominal model is higher with that bound alone 10 % looser; " +
		"at least so much, of the candidates and their neighbours" + sweptWeights(found) + "."
	if len(shown) < len(found) {
		f.Note += fmt.Sprintf(" %d of %d classes are drawn.", len(shown), len(found))
	}
	return f
}

// sweptWeights says of weights that heavier classes reach that the sweep has looked there; "" for none.
func sweptWeights(found []finding.Class) string {
	for i := range found {
		if w := found[i].Weight; w != nil && w.Loosened != nil && w.Loosened.Swept {
			return ", and of what was swept of a weight that a heavier class reaches"
		}
	}
	return ""
}

// mostGaining is the class in which a looser bound gains most merit, whose bar is the longest; -1 for none.
func mostGaining(found []finding.Class) int {
	at, largest := -1, 0.0
	for i := range found {
		if c := found[i].Choice; c != nil {
			if all := c.Gaining(); len(all) > 0 && all[0].Gain > largest {
				at, largest = i, all[0].Gain
			}
		}
	}
	return at
}

// gainPanel draws what each bound of a class would gain, alone 10 % looser.
func gainPanel(k *finding.Class, y chart.Axis, drawn []int, most float64) chart.Panel {
	p := chart.Panel{Title: "gain with the bound 10 % looser", Y: y,
		X: chart.Axis{Label: "gain of merit [-]", Max: 0.01}}
	if most > 0 {
		p.X.Max = roundUp(1.02 * most) // what is best then stands within a bar that leaves no room
	}
	if k.Choice == nil {
		p.Title = "no feasible design to begin from"
		return p
	}
	for at, g := range drawn {
		i := slices.IndexFunc(k.Choice.Loosened, func(l decide.Loosened) bool { return l.Gate == g })
		if i < 0 {
			continue
		}
		l := &k.Choice.Loosened[i]
		label := words.Signed(l.Gain)
		if l.Gain == 0 {
			label = "none found"
		} else if l.Gain < leastShown {
			label = "< " + words.Signed(leastShown)
		} else if best := k.Best(); best != nil && l.Any {
			if other := otherAnswer(k, l.Index); other != "" {
				label += ": " + other
			}
		}
		p.Stacks = append(p.Stacks, chart.Stack{At: len(drawn) - at, Label: label,
			Pieces: []chart.Piece{{Family: gainFamily, Length: max(0, l.Gain)}}})
	}
	return p
}

const gainFamily = "gain"

// leastShown is the least gain that is told in numbers.
const leastShown = 0.001

// otherAnswer says in what another design differs from the nominal best of a class, of what
// makes it another answer: "5 in, 6S"; "" for nothing.
func otherAnswer(k *finding.Class, index uint64) string {
	now, then := k.Best().Design, k.Choice.Grid.Design(index)
	var out []string
	for _, d := range []*sweep.AxisDef{sweep.Diameter, sweep.Cells, sweep.Stator} {
		if was, is := words.Input(d, now), words.Input(d, then); was != is {
			out = append(out, is)
		}
	}
	return strings.Join(out, ", ")
}

// whyNotTitle says which looser bound would gain most merit, and where, or, without
// draws or gains, which gate rejected most designs.
func whyNotTitle(gates []sweep.Gate, found []finding.Class, soFar string) string {
	if n := mostGaining(found); n >= 0 {
		k := &found[n]
		most := k.Choice.Gaining()[0]
		title := fmt.Sprintf("Loosening one bound by 10 %% gains most at %s: %s, merit %s", words.Mass(k.Class.Limit),
			stops(gates[most.Gate]), words.Signed(most.Gain))
		var none []string
		for i := range found {
			if found[i].Choice == nil {
				none = append(none, words.Mass(found[i].Class.Limit))
			}
		}
		if len(none) > 0 {
			title += "; nothing is feasible at " + texts.JoinAnd(none)
		}
		return title
	}
	var what []finds
	for i := range found {
		k := &found[i]
		f := finds{limit: words.Mass(k.Class.Limit)}
		if g, ok := k.Commonest(gates); ok {
			f.where = stops(g)
		}
		what = append(what, f)
	}
	best, none := gathered(what)
	if len(best) == 0 {
		return "Nothing is rejected" + soFar + " at " + none
	}
	title := "The commonest reason to fail" + soFar + ": " + allAt(best, "", ", ")
	if none != "" {
		title += "; none fails" + soFar + " at " + none
	}
	return title
}

// stops names a gate within a sentence.
func stops(g sweep.Gate) string {
	switch {
	case g.Requirement != nil:
		return texts.Lower(g.Requirement.Metric.Title)
	case g.Name == "class":
		return "weight"
	}
	return "having " + words.NoPoint
}
