package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

const sizeCaption = "At each all-up weight and diameter the best merit of any feasible design no heavier"

// sizeLines is said of a map whose diameters are not those of parts.
const sizeLines = ". Dashed: equal disk loading, of a craft of just that weight"

const sizeStars = "; stars mark the best design of each class."

var diskLoading = unit.DiskLoading.Unit("g/in2")

// sizeFigure maps all-up weight against diameter. The classes share one map:
// that of the widest, in which designs of all others are, too.
//
// A cell holds the best design no heavier than its bin's upper end. Packs come
// in steps, so that the best of each bin alone is ragged; the best up to each
// weight answers the question that a weight limit asks, only rises with it, and
// has an edge that is the least weight of a feasible craft.
func sizeFigure(r *finding.Run, found []finding.Class) (*chart.Figure, error) {
	widest, f := r.Widest(), sizeField(r.Sizes(), r.Result.Gates)
	diameters := sizeAxis(r)
	axis, rows := mapAxis(diameters, finding.Smooth(diameters))
	f.Y = rows
	lo, hi := bounds(f.Z, math.Inf(1), math.Inf(-1))
	p := chart.Panel{
		X:     chart.Axis{Label: "all-up weight, at most [g]", Min: f.X[0], Max: f.X[len(f.X)-1]},
		Y:     axis,
		Field: f,
	}
	p.Lines = loadingLines(p.X, p.Y, f, found)
	var limits []float64
	for i := range found {
		limits = append(limits, found[i].Class.Limit)
	}
	p.Lines = append(p.Lines, limitLines(limits, p.X, p.Y)...)
	p.Lines = append(p.Lines, tiedLines(found, p.X, p.Y)...)
	p.Markers = sizeMarkers(r.Study.Merit, found, p.X, p.Y)
	note := fmt.Sprintf("Merit: %s. At each weight and diameter: the best feasible design no heavier than that",
		words.Merit(r.Study.Merit))
	if finding.AnyChoice(found) {
		note += ", by the nominal model"
	}
	if len(found) > 1 {
		note += ", judged in the class of " + words.Mass(widest.Class.Limit)
	}
	note += "."
	var out words.Outside
	for _, k := range finding.PicksOf(found) {
		out.AddCraft(ofPart(atClass(r, words.Mass(k.Class.Class.Limit)), k.Part), k.Craft)
	}
	recommended := recommendedMarks(r, found, &out)
	note += out.Note()
	title, star, ring := recommendedTitle(found, recommended), recommendedStar, nominalRing
	switch {
	case !r.Result.Complete:
		title, star, ring = soFarTitle(sizePlaces(found)), "best so far of its class", ""
	case title == "":
		title, star, ring = sizeTitle(found)+cost(r.Study.Merit, found), "best of its class", ""
	default:
		note += partsNote(found)
	}
	return unjudged(r, &chart.Figure{
		Title: title,
		Subtitle: subtitleOf(r, words.Share(widest.Feasible, r.Result.Done)+" feasible within "+
			""+words.Mass(widest.Class.Limit)),
		Note:       note,
		Panels:     []chart.Panel{p},
		Bar:        finerBar("best merit"+words.SoFar(r)+" [-]", lo, hi),
		Infeasible: infeasible,
		Star:       star,
		Ring:       ring,
	}), nil
}

func sizeAxis(r *finding.Run) sweep.Axis {
	return r.Study.Grid.Axes()[finding.MustPlace(r.Study.Grid, sweep.Diameter)]
}

// rowOf is where a diameter in m stands on the axis of a map of sizes.
func rowOf(y chart.Axis, diameter float64) float64 {
	if len(y.Names) == 0 {
		return finding.Inch.FromSI(diameter)
	}
	return float64(slices.Index(y.Names, sweep.Diameter.Unit.Number(diameter, 6)))
}

// sizeField is a size map as it is drawn.
func sizeField(m *finding.SizeMap, gates []sweep.Gate) *chart.Field {
	f := &chart.Field{X: m.X, Y: m.Y, Z: m.Merit, Gate: blankNames(len(m.X), len(m.Y)), Short: shortGates(gates)}
	for d := range m.Gate {
		for b, g := range m.Gate[d] {
			switch {
			case g == finding.NotJudged:
				f.Gate[d][b] = notJudged
			case g != finding.NoDesign:
				f.Gate[d][b] = words.GateLabel(gates[g])
			case math.IsNaN(m.Merit[d][b]):
				f.Gate[d][b] = "no design this light"
			}
		}
	}
	return f
}

// mostCards is how many callouts a map of sizes has room for: of more designs the nominal
// best ones have none where another is recommended.
const mostCards = 4

// sizeMarkers are the designs that the classes are shown by; one that stands for several
// classes is named for all of them.
func sizeMarkers(merit sweep.Merit, found []finding.Class, x, y chart.Axis) []chart.Marker {
	type place struct {
		index uint64
		ring  bool
	}
	var out []chart.Marker
	at := map[place]int{}
	limits := map[place][]string{}
	picks := finding.PicksOf(found)
	for _, k := range picks {
		key := place{k.Index, k.Part == finding.NominalPart}
		limits[key] = append(limits[key], words.Mass(k.Class.Class.Limit))
		if n, ok := at[key]; ok {
			if out[n].Tag = texts.JoinAnd(limits[key]); len(out[n].Lines) > 0 {
				out[n].Lines[0] = sizeHead(&k, out[n].Tag)
			}
			continue
		}
		at[key] = len(out)
		m := chart.Marker{
			// The map's first bin begins above 0, its last ends at the limit.
			X: min(max(finding.Gram.FromSI(k.Craft.Mass), x.Min), x.Max),
			Y: rowOf(y, k.Design.Diameter), Tag: words.Mass(k.Class.Class.Limit), Ring: key.ring,
		}
		if len(found) == 1 && k.Part != finding.BestPart {
			m.Tag = "" // star and ring tell them apart
		}
		if !m.Ring || len(picks) <= mostCards {
			m.Lines = append([]string{sizeHead(&k, words.ClassName(k.Class.Class))}, words.Tag(k.Design)...)
			m.Lines = append(m.Lines, nominally(k.Part)+words.Reaches(merit, k.Craft))
			if k.Design.Payload > 0 {
				m.Lines = append(m.Lines, words.Input(sweep.Payload, k.Design))
			}
		}
		out = append(out, m)
	}
	for _, k := range picks { // a ring around the star, which has the callout
		if n := at[place{k.Index, false}]; k.Part == finding.BothPart && !out[n].Bare {
			out = append(out, chart.Marker{X: out[n].X, Y: out[n].Y, Ring: true})
		}
	}
	for n := range out { // a ring about the star of its class needs no second name
		ring := &out[n]
		if ring.Ring && slices.ContainsFunc(out, func(m chart.Marker) bool {
			return !m.Ring && m.Tag == ring.Tag && near(m.X, ring.X, x.Max-x.Min) && near(m.Y, ring.Y, y.Max-y.Min)
		}) {
			ring.Tag = ""
		}
	}
	return out
}

// near says whether two places of an axis of that extent are within the breadth of a mark.
func near(a, b, extent float64) bool { return math.Abs(a-b) <= 0.025*extent }

// sizeHead heads the callout of a design: for which classes it stands, and as what.
func sizeHead(k *finding.Pick, limits string) string {
	if k.Part != finding.BestPart {
		limits += ", " + words.PartName(k.Part)
	}
	return limits + words.Star(k.Marked())
}

// sizeTitle says the finding: "3.5 in is best at 249 g, 5 in at 500 g".
func sizeTitle(found []finding.Class) string {
	best, none := gathered(sizePlaces(found))
	if len(best) == 0 {
		return "No propeller of the grid is feasible at " + none
	}
	texts := append([]string{best[0].bestAt()}, words.Each(best[1:], gathering.at)...)
	if none != "" {
		texts = append(texts, "none at "+none)
	}
	return strings.Join(texts, ", ")
}

// sizePlaces are the diameters of the best designs.
func sizePlaces(found []finding.Class) (where []finds) {
	for i := range found {
		f := finds{limit: words.Mass(found[i].Class.Limit)}
		if e := found[i].Best(); e != nil {
			f.where = finding.Inch.Format(e.Design.Diameter, 4)
			f.limit += words.Star(e.Marked())
		}
		where = append(where, f)
	}
	return where
}

// limitLines draw those class limits, in kg, that lie within the axes.
func limitLines(limits []float64, x, y chart.Axis) (out []chart.Line) {
	lo, hi := y.Min, y.Max
	switch n := len(y.Names); {
	case n > 0:
		lo, hi = -0.5, float64(n)-0.5
	case lo == hi:
		lo, hi = lo-1, hi+1
	}
	for _, m := range limits {
		if limit := finding.Gram.FromSI(m); limit > x.Min && limit < x.Max {
			out = append(out, chart.Line{Family: "class limit", Label: words.Mass(m), X: []float64{limit, limit},
				Y: []float64{lo, hi}})
		}
	}
	return out
}

// cost says what another propeller costs the lightest class: that of the next
// class, or of a single class the one farthest from its best. It is "" where
// there is none to compare.
func cost(merit sweep.Merit, found []finding.Class) string {
	first := slices.IndexFunc(found, func(k finding.Class) bool { return k.Best() != nil })
	if first < 0 {
		return ""
	}
	k := &found[first]
	best := k.Best()
	if len(found) == 1 {
		return losesText(merit, best, finding.Farthest(k), "")
	}
	for i := range found[first+1:] {
		e := found[first+1+i].Best()
		if e == nil || e.Design.Diameter == best.Design.Diameter {
			continue
		}
		at := " at " + words.Mass(k.Class.Limit)
		for _, other := range k.ByDiameter {
			if other != nil && other.Design.Diameter == e.Design.Diameter {
				return losesText(merit, best, other, at)
			}
		}
		return "; none of " + finding.Inch.Format(e.Design.Diameter, 4) + at
	}
	return ""
}

// losesText says of which metric of the merit another design loses the largest share:
// "; 5 in costs 31 % of thrust to weight"; "" where that is not known.
func losesText(merit sweep.Merit, best, other *finding.Entry, at string) string {
	l, ok := finding.Loses(merit, best, other)
	if !ok {
		return ""
	}
	return fmt.Sprintf("; %s%s costs %.0f %% of %s", finding.Inch.Format(other.Design.Diameter, 4), at, l.Share,
		texts.Lower(l.Metric.Title))
}

// mostLoadings is how many lines of disk loading a map of sizes has.
const mostLoadings = 4

// loadingLines draws round disk loadings through the feasible part of the map, of many those about
// the middle of the designs that the classes are shown by.
func loadingLines(x, y chart.Axis, f *chart.Field, found []finding.Class) []chart.Line {
	if len(y.Names) > 0 || y.Min == y.Max {
		return nil // a line would have no slope to read
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for j := range f.Z {
		for i := range f.Z[j] {
			if !math.IsNaN(f.Z[j][i]) {
				v := diskLoading.FromSI(model.DiskLoading(finding.Gram.ToSI(f.X[i]), finding.Inch.ToSI(f.Y[j])))
				lo, hi = min(lo, v), max(hi, v)
			}
		}
	}
	near, least, most := math.Sqrt(lo*hi), math.Inf(1), math.Inf(-1)
	for _, k := range finding.PicksOf(found) {
		v := diskLoading.FromSI(model.DiskLoading(k.Craft.Mass, k.Design.Diameter))
		least, most = min(least, v), max(most, v)
		near = math.Sqrt(least * most)
	}
	var round []float64
	for _, v := range []float64{0.5, 0.75, 1, 1.5, 2, 3, 4, 5, 6, 7.5, 10, 15, 20, 30, 50} {
		if v > lo && v < hi {
			round = append(round, v)
		}
	}
	// Of many, those nearest to the loadings of the designs that are shown tell most.
	for len(round) > mostLoadings {
		if math.Log(near/round[0]) > math.Log(round[len(round)-1]/near) {
			round = round[1:]
		} else {
			round = round[:len(round)-1]
		}
	}
	var out []chart.Line
	for _, v := range round {
		si := diskLoading.ToSI(v)
		l := chart.Line{Family: "disk loading at that weight",
			Label: fmt.Sprintf("%s (%.0f N/m²)", diskLoading.Format(si, 3), si)}
		const points = 200
		for k := range points + 1 {
			m := x.Min + (x.Max-x.Min)*float64(k)/points
			l.X = append(l.X, m)
			l.Y = append(l.Y, model.LoadedDiameter(m, v))
		}
		out = append(out, l)
	}
	return out
}
