package figure

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// mapTitle says what the map alone shows: how far along its axes designs are about as
// good as the best of each class, and of an axis without a continuum what the next
// costs.
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
	if all[0].Ranges() {
		head = "moving one axis, within " + words.CloseCall + " of the " + head
	}
	return texts.Upper(head) + ": " + allAt(best, none, "; ")
}

func superlative(t *model.Metric) string {
	if t.Better == model.Lower {
		return "lowest " + texts.Lower(t.Title)
	}
	return "highest " + texts.Lower(t.Title)
}

// alikeNote explains the title of a map with ranges.
func alikeNote() string {
	return " Within " + words.CloseCall + ", the model's median error in thrust at rest over all sizes: along one " +
		"axis from the star, the other kept."
}

// extentText says how far along each axis from the star a map's designs are about as good,
// or which is next: "3 to 3.5 in, KV 2400 to 2800", "6S (4S with KV 3600 costs 2 %), KV
// 2000 to 2800". It is "" for a map without a star.
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
	return strings.Join(words.Each(m.Extents(), func(e finding.Extent) string {
		if e.Range {
			return alongText(&e)
		}
		return insteadText(&e)
	}), ", ")
}

// whereText says where on the axes of a map a design is.
func whereText(m *finding.Mapper, d model.Design) string {
	return words.Input(m.Spec.X, d) + " and " + words.Input(m.Spec.Y, d)
}

// alongText says how far designs are about as good along an axis, and what they meet
// there.
func alongText(e *finding.Extent) string {
	out := words.InputRange(e.Axis, e.From, e.To)
	if e.Single {
		out = "only " + out
	}
	switch {
	case e.Above != nil:
		return out + " (above: " + wallText(*e.Above) + ")"
	case e.Below != nil:
		return out + " (below: " + wallText(*e.Below) + ")"
	case e.Few:
	case e.Lowest && e.Highest:
		return out + " (all of the grid)"
	case e.Lowest && e.Single:
		return out + " (the grid's lowest)"
	case e.Lowest:
		return out + " (from the grid's lowest)"
	case e.Highest && e.Single:
		return out + " (the grid's highest)"
	case e.Highest:
		return out + " (up to the grid's highest)"
	}
	return out
}

// insteadText says what the star has on an axis and what the best of the others there
// costs: "6S (4S with KV 3600 costs 2 %)".
func insteadText(e *finding.Extent) string {
	text := words.Input(e.Axis, e.Star)
	if e.Next == nil {
		return "only " + text
	}
	text += " (" + words.Input(e.Axis, e.Next.Design)
	if with := words.Input(e.Other, e.Next.Design); with != words.Input(e.Other, e.Star) {
		text += " with " + with
	}
	return text + " costs " + costText(e.Next.Loss) + ")"
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
	return "Carrying " + payload + ": " + allAt(best, none, "; ")
}
