package figure

import (
	"context"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

const frontCaption = "Pareto front, what can be had at once: designs that none other of their class beats in all of " +
	"these metrics, at steps of 1 %. " +
	"To have more of one is to have less of another; past a knee each gain costs more."

const (
	mostBands    = 5 // of diameter
	mostCallouts = 6 // designs, beyond which the recommended ones alone are named, or the knees
)

// frontFigure draws the fronts of the classes, in a panel for each pair of
// metrics.
func frontFigure(ctx context.Context, r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	metrics := r.Study.Front
	switch {
	case len(metrics) < 2:
		return nil, "a Pareto front of less than two metrics", nil
	case !slices.ContainsFunc(found, func(k finding.Class) bool { return len(k.Front) > 0 }):
		return nil, "no feasible design", nil
	}
	rows := make([][]finding.Row, len(found))
	for i := range found {
		var err error
		if rows[i], err = r.Front(ctx, &found[i]); err != nil {
			return nil, "", err
		}
	}
	bands := bandsOf(slices.Concat(rows...))
	f := &chart.Figure{
		Subtitle: subtitleOf(r),
		Note: "Designs that none other of the class beats in " + words.Front(metrics) +
			", at steps of 1 %" + words.Surely(r.Study) + ". Colour and shape: diameter of the propeller.",
		Star: "best merit of its class",
	}
	if finding.AnyChoice(found) {
		f.Star, f.Ring = recommendedStar, nominalRing
		f.Note += partsNote(found)
	}
	for b, y := range metrics {
		for _, x := range metrics[b+1:] {
			f.Panels = append(f.Panels, frontPanel(r, found, rows, bands, x, y))
		}
	}
	if len(f.Panels) == 1 {
		f.Note += " A knee is where the front is farthest from the straight line between its ends."
	}
	if slices.ContainsFunc(r.Study.Merit, func(t sweep.Term) bool { return !slices.Contains(metrics, t.Metric) }) {
		f.Note += " The best by merit may lie off the front, since merit weighs other metrics, too."
	}
	if finding.AnyChoice(found) {
		f.Note += " The recommended build may lie off the front: it keeps its requirements with more to spare."
	}
	var out words.Outside
	for i := range found {
		at := atClass(r, words.Mass(found[i].Class.Limit))
		for _, k := range found[i].Picks() {
			out.AddCraft(ofPart(at, k.Part), k.Craft)
		}
		if n, ok := finding.Knee(rows[i], metrics[1], metrics[0]); ok && len(metrics) == 2 {
			out.Add(at, words.WarningsShort(&rows[i][n]))
		}
	}
	f.Note += out.NoteWithin(mostReasons)
	f.Title = frontTitle(found, rows, metrics)
	if finding.AnyChoice(found) {
		y, x := metrics[0], metrics[1]
		best, none := gathered(recommendedAt(found, func(e *finding.Entry) string {
			return words.Told(y, e.Surely(y)) + " with " + words.Told(x, e.Surely(x))
		}))
		if len(found) <= mostTold { // of more the callouts tell
			f.Note += " " + f.Title + "."
		}
		f.Title = "Recommended by the draws, nominal values: " + endsAt(best, none, "; ")
	}
	return f, "", nil
}

// frontPanel draws two metrics of the fronts.
func frontPanel(r *finding.Run, found []finding.Class, rows [][]finding.Row, bands []band, x,
	y *model.Metric) chart.Panel {
	at := func(m *model.Metric, k *finding.Row) float64 { return m.Unit.FromSI(k.Values[finding.Place(m)]) }
	p := chart.Panel{X: metricAxis(x), Y: metricAxis(y)}
	widen := func(vx, vy float64) {
		p.X.Min, p.X.Max = min(p.X.Min, vx), max(p.X.Max, vx)
		p.Y.Min, p.Y.Max = min(p.Y.Min, vy), max(p.Y.Max, vy)
	}
	for _, b := range bands {
		p.Points = append(p.Points, chart.Points{Family: b.name})
	}
	ends := endNames(found, rows)
	plane := len(r.Study.Front) == 2
	for i := range found {
		line := chart.Line{Family: texts.Plural(len(found), "Pareto front", "Pareto front of a class")}
		for n := range rows[i] {
			d := &rows[i][n]
			vx, vy := at(x, d), at(y, d)
			widen(vx, vy)
			line.X, line.Y = append(line.X, vx), append(line.Y, vy)
			q := &p.Points[slices.IndexFunc(bands, func(b band) bool { return b.has(d.Design.Diameter) })]
			q.X, q.Y = append(q.X, vx), append(q.Y, vy)
			label := ""
			if n == len(rows[i])-1 {
				label = ends[i]
			}
			q.Labels = append(q.Labels, label)
		}
		if plane && len(line.X) > 1 {
			p.Lines = append(p.Lines, line)
		}
	}
	knees := chart.Points{Family: "knee", Hollow: true}
	all := notables(found, rows, x, y, plane)
	for _, k := range all {
		vx, vy := x.Unit.FromSI(k.x), y.Unit.FromSI(k.y)
		widen(vx, vy)
		m := chart.Marker{X: vx, Y: vy, Bare: len(k.best)+len(k.nominal) == 0, Ring: len(k.best) == 0}
		if m.Bare {
			knees.X, knees.Y = append(knees.X, vx), append(knees.Y, vy)
		}
		if len(all) <= mostCallouts || len(k.knee) > 0 && (len(found) <= mostTold || !finding.AnyChoice(found)) ||
			len(k.best) > 0 && k.chosen {
			m.Lines = append([]string{k.name()}, words.Tag(k.design)...)
			m.Lines = append(m.Lines, words.Told(y, k.y)+", "+words.Told(x, k.x))
		}
		p.Markers = append(p.Markers, m)
		if len(k.best) > 0 && len(k.nominal) > 0 {
			p.Markers = append(p.Markers, chart.Marker{X: vx, Y: vy, Ring: true})
		}
	}
	p.Points = append(p.Points, knees)
	p.X, p.Y = padded(p.X), padded(p.Y)
	return p
}

// endNames says at the best of each front's first metric whose front it is:
// once for all classes that share the design there, nothing for a single class.
func endNames(found []finding.Class, rows [][]finding.Row) []string {
	names := make([]string, len(found))
	if len(found) == 1 {
		return names
	}
	first := map[uint64]int{}
	shared := map[uint64][]string{}
	for i := range found {
		if len(rows[i]) == 0 {
			continue
		}
		end := rows[i][len(rows[i])-1].Index
		shared[end] = append(shared[end], words.Mass(found[i].Class.Limit))
		if n, ok := first[end]; ok {
			names[n] = texts.JoinAnd(shared[end])
			continue
		}
		first[end] = i
		names[i] = words.ClassName(found[i].Class)
	}
	return names
}

// notable is a design that is the best by merit, or recommended, the nominal best where
// draws choose, or the knee of the front, of the classes with these limits.
type notable struct {
	index               uint64
	design              model.Design
	x, y                float64 // SI
	best, nominal, knee []string
	chosen              bool // best are those in which it is recommended
	marked              bool
}

func (k *notable) name() string { return k.plainName() + words.Star(k.marked) }

// plainName says what the design is, and at which limits: "best and knee at 250 g",
// "recommended at 250 g, knee at 500 g".
func (k *notable) plainName() string {
	var all []gathering
	first := "best"
	if k.chosen {
		first = "recommended"
	}
	for _, x := range []struct {
		what   string
		limits []string
	}{{first, k.best}, {"nominal best", k.nominal}, {"knee", k.knee}} {
		if len(x.limits) == 0 {
			continue
		}
		if n := slices.IndexFunc(all, func(g gathering) bool { return slices.Equal(g.limits, x.limits) }); n >= 0 {
			all[n].where += " and " + x.what
			continue
		}
		all = append(all, gathering{x.what, x.limits})
	}
	return strings.Join(words.Each(all, gathering.at), ", ")
}

// notables lists the designs that classes are shown by and, of fronts in a plane, the
// knees, each design once.
func notables(found []finding.Class, rows [][]finding.Row, x, y *model.Metric, plane bool) []notable {
	var out []notable
	add := func(index uint64, d model.Design, vx, vy float64, marked bool) *notable {
		n := slices.IndexFunc(out, func(k notable) bool { return k.index == index })
		if n < 0 {
			n = len(out)
			out = append(out, notable{index: index, design: d, x: vx, y: vy, marked: marked})
		}
		return &out[n]
	}
	for i := range found {
		limit := words.Mass(found[i].Class.Limit)
		picks := found[i].Picks()
		for _, p := range picks {
			k := add(p.Index, p.Design, p.Surely(x), p.Surely(y), p.Marked())
			if p.Part != finding.NominalPart {
				k.best, k.chosen = append(k.best, limit), p.Part.Recommends()
			}
			if p.Part == finding.NominalPart || p.Part == finding.BothPart {
				k.nominal = append(k.nominal, limit)
			}
		}
		if n, ok := finding.Knee(rows[i], x, y); ok && plane && len(picks) > 0 {
			d := &rows[i][n]
			k := add(d.Index, d.Design, d.Values[finding.Place(x)], d.Values[finding.Place(y)], d.Marked())
			k.knee = append(k.knee, limit)
		}
	}
	return out
}

// metricAxis is an axis for a metric, yet without limits.
func metricAxis(m *model.Metric) chart.Axis {
	return chart.Axis{Label: words.Bracketed(texts.Lower(m.Title), m.Unit.Label), Min: math.Inf(1), Max: math.Inf(-1)}
}

// padded gives an axis some room beyond its ends.
func padded(a chart.Axis) chart.Axis {
	room := 0.06 * (a.Max - a.Min)
	if room == 0 {
		room = 0.1*math.Abs(a.Min) + 1e-3
	}
	a.Min, a.Max = a.Min-room, a.Max+room
	return a
}

// frontTitle says what the knees give, or what the ends exchange.
func frontTitle(found []finding.Class, rows [][]finding.Row, metrics []*model.Metric) string {
	y, x := metrics[0], metrics[1]
	var knees []finds
	for i := range found {
		if n, ok := finding.Knee(rows[i], x, y); ok && len(metrics) == 2 {
			d := &rows[i][n]
			knees = append(knees, finds{words.Told(y, d.Values[finding.Place(y)]) + " with " +
				words.Told(x, d.Values[finding.Place(x)]),
				words.Mass(found[i].Class.Limit) + words.Star(d.Marked())})
		}
	}
	if len(knees) == 0 {
		return "Pareto front of " + words.Front(metrics) + ": what can be had at once"
	}
	all, _ := gathered(knees)
	return texts.Plural(len(all), "At the knee of the Pareto front: ", "At the knees of the Pareto fronts: ") +
		allAt(all, "", "; ")
}

// band is a range of diameters.
type band struct {
	name   string
	lo, hi float64 // m, both in it
}

func (b band) has(d float64) bool { return d >= b.lo && d <= b.hi }

// bandsOf divides the diameters of designs into bands of about as many
// diameters each.
func bandsOf(rows []finding.Row) []band {
	var d []float64
	for n := range rows {
		d = append(d, rows[n].Design.Diameter)
	}
	slices.Sort(d)
	d = slices.Compact(d)
	n := min(len(d), mostBands)
	var out []band
	for k := range n {
		b := band{lo: d[k*len(d)/n], hi: d[(k+1)*len(d)/n-1]}
		b.name = finding.Inch.Format(b.lo, 4)
		if b.hi > b.lo {
			b.name = finding.Inch.Number(b.lo, 4) + " to " + finding.Inch.Format(b.hi, 4)
		}
		out = append(out, b)
	}
	return out
}
