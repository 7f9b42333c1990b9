package figure

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// mapTitle says what the map alone shows: where the best of each class is, and what
// leaving it along an axis costs.
func mapTitle(all []*finding.Mapper, stars []string) string {
	var found []finds
	for i, m := range all {
		found = append(found, finds{extentText(m), words.Mass(m.Class.Class.Limit) + stars[i]})
	}
	best, none := gathered(found)
	if len(best) == 0 {
		return "No design of the grid is feasible at " + none
	}
	head := "best"
	if t := all[0].Ranking(); t != nil {
		head = superlative(t)
	}
	return texts.Upper(head) + ": " + allAt(best, none, "; ")
}

// superlative is what a map of a metric shows of each cell: "longest hover time", "lowest hover power".
func superlative(t *model.Metric) string {
	most, least := "highest ", "lowest "
	if t.Kind == unit.Time {
		most, least = "longest ", "shortest "
	}
	if t.Better == model.Lower {
		return least + texts.Lower(t.Title)
	}
	return most + texts.Lower(t.Title)
}

// extentText says where the star of a map is, what the best of the others along each axis
// costs, and what the star lies beside: "6S (4S with KV 3600 costs 2 %), KV 2000 (KV 2400
// costs 9 %; the grid's lowest)". It is "" for a map without a star.
func extentText(m *finding.Mapper) string {
	if m.Best < 0 {
		return ""
	}
	if !m.Ranges() {
		text := whereText(m, m.Design())
		if next := m.Next(func(int) bool { return true }); next != nil {
			text += " (" + whereText(m, next.Design) + " costs " + costText(next.Loss) + ")"
		}
		return text
	}
	return strings.Join(words.Each(m.Extents(), func(e finding.Extent) string { return insteadText(&e) }), ", ")
}

// whereText says where on the axes of a map a design is.
func whereText(m *finding.Mapper, d model.Design) string {
	return words.Input(m.Spec.X, d) + " and " + words.Input(m.Spec.Y, d)
}

// besideText says what a star lies beside along an axis, "" for nothing.
func besideText(e *finding.Extent) string {
	switch {
	case e.Above != nil:
		return "above: " + wallText(*e.Above)
	case e.Below != nil:
		return "below: " + wallText(*e.Below)
	case e.Lowest:
		return "the grid's lowest"
	case e.Highest:
		return "the grid's highest"
	}
	return ""
}

// insteadText says what the star has on an axis and what the best of the others there
// costs: "6S (4S with KV 3600 costs 2 %)".
func insteadText(e *finding.Extent) string {
	text := words.Input(e.Axis, e.Star)
	beside := besideText(e)
	if e.Next == nil {
		if beside != "" {
			beside = " (" + beside + ")"
		}
		return "only " + text + beside
	}
	text += " (" + words.Input(e.Axis, e.Next.Design)
	if with := words.Input(e.Other, e.Next.Design); with != words.Input(e.Other, e.Star) {
		text += " with " + with
	}
	text += " costs " + costText(e.Next.Loss)
	if beside != "" {
		text += "; " + beside
	}
	return text + ")"
}

// costText is a share that is lost.
func costText(share float64) string {
	percent := 100 * share
	if percent < 1 {
		return "< 1 %"
	}
	return fmt.Sprintf("%.0f %%", percent)
}

// wallText names in few words what stops designs.
func wallText(g sweep.Gate) string {
	if short := shortGate(g); short != "" {
		return short
	}
	if g.Name == "class" {
		return "too heavy"
	}
	return words.GateLabel(g)
}

// burdenText says for a map over payload what the heaviest takes in place of the lightest:
// "4.25 in (0 g: 4 in), 12 % less merit".
func burdenText(b *finding.Burden) string {
	text := words.Input(b.Other, b.Heavy)
	if was := words.Input(b.Other, b.Light); was != text {
		text += " (" + words.Mass(b.Light.Payload) + ": " + was + ")"
	}
	what := "merit"
	if b.Ranking != nil {
		what = texts.Lower(b.Ranking.Title)
	}
	way := "more"
	if b.Change < 0 {
		way = "less"
	}
	if finding.Finite(b.Change) {
		text += fmt.Sprintf(", %.0f %% %s %s", math.Abs(b.Change), way, what)
	}
	return text
}

// ladenTitle says for a map over payload what carrying the heaviest takes in each
// class; it is "" where none carries it.
func ladenTitle(r *finding.Run, all []*finding.Mapper, out *words.Outside) string {
	var found []finds
	payload := ""
	for _, m := range all {
		limit := words.Mass(m.Class.Class.Limit)
		f := finds{limit: limit}
		if b := m.Burden(); b != nil {
			payload = words.Mass(b.Heavy.Payload)
			f.where = burdenText(b)
			f.limit += out.Add(atClass(r, limit), words.Each(b.Marks, words.MarkShort))
		}
		found = append(found, f)
	}
	best, none := gathered(found)
	if len(best) == 0 {
		return ""
	}
	head := "Carrying "
	if t := all[0].Ranking(); t != nil {
		head = texts.Upper(superlative(t)) + ", carrying "
	}
	return head + payload + ": " + allAt(best, none, "; ")
}
