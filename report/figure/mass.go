package figure

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

const massCaption = "What the best design of each class weighs, part by part, against the limit of its class."

// massesAbreast is how many bars with their labels stand in one panel.
const massesAbreast = 4

// MassFigure draws the build-up of each class's best design.
func MassFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	var best []*finding.Class
	for i := range found {
		if found[i].Best() != nil {
			best = append(best, &found[i])
		}
	}
	if len(best) == 0 {
		return nil, "no feasible design", nil
	}
	f := &chart.Figure{
		Title:    massTitle(best),
		Subtitle: subtitleOf(r),
		Bound:    "limit of the class",
		Families: words.StackOrder,
		Columns:  1, Height: 4,
	}
	var out words.Outside
	abreast := min(len(best), massesAbreast)
	f.Width = max(5, 2.4+1.9*float64(abreast))
	for row := range slices.Chunk(best, abreast) {
		p := chart.Panel{X: chart.Axis{Label: "best design of each class"},
			Y: chart.Axis{Label: words.Bracketed("mass", "g")}}
		for at, k := range row {
			e := k.Best()
			p.X.Names = append(p.X.Names, fmt.Sprintf("%s: %s", words.ClassName(k.Class),
				finding.Inch.Format(e.Design.Diameter, 4))+out.AddCraft(atClass(r, words.Mass(k.Class.Limit)), e.Craft))
			s := chart.Stack{At: at, Label: finding.Gram.Number(e.Craft.Mass, 4) + " of " +
				finding.Gram.Format(k.Class.Limit, 5), Bound: finding.Gram.FromSI(k.Class.Limit)}
			parts := words.Masses(e.Craft)
			for _, n := range words.Stacked(parts) {
				if part := parts[n]; part.Mass > 0 {
					s.Pieces = append(s.Pieces, chart.Piece{
						Family: part.Title, Length: finding.Gram.FromSI(part.Mass),
						Label: fmt.Sprintf("%s %s, %.0f %%", texts.Lower(part.Title), finding.Gram.Format(part.Mass, 3),
							100*part.Mass/e.Craft.Mass),
					})
				}
			}
			p.Stacks = append(p.Stacks, s)
			p.Y.Max = max(p.Y.Max, 1.1*s.Bound)
		}
		f.Panels = append(f.Panels, p)
	}
	f.Note = strings.TrimSpace(out.Note())
	return f, "", nil
}

// massTitle names the heaviest part of each class's best design and its share.
func massTitle(best []*finding.Class) string {
	var parts []string
	var shares []finds
	for _, k := range best {
		c := k.Best().Craft
		part := words.HeaviestPart(c)
		parts = append(parts, texts.Lower(part.Title))
		shares = append(shares, finds{fmt.Sprintf("%.0f %%", 100*part.Mass/c.Mass),
			words.Mass(k.Class.Limit) + words.Star(k.Best().Marked())})
	}
	head := "Heaviest part: "
	if len(slices.Compact(slices.Clone(parts))) == 1 {
		head = "The " + parts[0] + " is the heaviest part: "
	} else {
		for n := range shares {
			shares[n].where = parts[n] + " " + shares[n].where
		}
	}
	all, _ := gathered(shares)
	return head + allAt(all, "", ", ")
}
