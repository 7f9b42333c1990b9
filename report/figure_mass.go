package report

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/report/chart"
)

const massCaption = "What the best design of each class weighs, part by part, against the limit of its class."

// massesAbreast is how many bars with their labels stand in one panel.
const massesAbreast = 4

// massFigure draws the build-up of each class's best design.
func massFigure(r *Run, found []finding) (*chart.Figure, string, error) {
	var best []*finding
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
		Families: stackOrder,
		Columns:  1, Height: 4,
	}
	var out outside
	abreast := min(len(best), massesAbreast)
	f.Width = max(5, 2.4+1.9*float64(abreast))
	for row := range slices.Chunk(best, abreast) {
		p := chart.Panel{X: chart.Axis{Label: "best design of each class"}, Y: chart.Axis{Label: bracketed("mass", "g")}}
		for at, k := range row {
			e := k.Best()
			p.X.Names = append(p.X.Names, fmt.Sprintf("%s: %s", className(k.Class), inch.Format(e.Design.Diameter, 4))+out.addCraft(atClass(r, mass(k.Class.Limit)), e.Craft))
			s := chart.Stack{At: at, Label: gram.Number(e.Craft.Mass, 4) + " of " + gram.Format(k.Class.Limit, 5), Bound: gram.FromSI(k.Class.Limit)}
			parts := masses(e.Craft)
			for _, n := range stacked(parts) {
				if part := parts[n]; part.Mass > 0 {
					s.Pieces = append(s.Pieces, chart.Piece{
						Family: part.Title, Length: gram.FromSI(part.Mass),
						Label: fmt.Sprintf("%s %s, %.0f %%", lower(part.Title), gram.Format(part.Mass, 3), 100*part.Mass/e.Craft.Mass),
					})
				}
			}
			p.Stacks = append(p.Stacks, s)
			p.Y.Max = max(p.Y.Max, 1.1*s.Bound)
		}
		f.Panels = append(f.Panels, p)
	}
	f.Note = strings.TrimSpace(out.note())
	return f, "", nil
}

// massTitle names the heaviest part of each class's best design and its share.
func massTitle(best []*finding) string {
	var parts []string
	var shares []finds
	for _, k := range best {
		c := k.Best().Craft
		part := heaviestPart(c)
		parts = append(parts, lower(part.Title))
		shares = append(shares, finds{fmt.Sprintf("%.0f %%", 100*part.Mass/c.Mass), mass(k.Class.Limit) + star(k.Best().marked())})
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
