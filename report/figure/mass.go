package figure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

const (
	massCaption = "What the best design of each class weighs, part by part, against the limit of its class."
	massChosen  = "What the recommended build and the nominal best of each class weigh, part by part, against the " +
		"limit " +
		"of the class."
)

// massesAbreast is how many bars with their labels stand in one panel.
const massesAbreast = 4

// MassFigure draws the build-up of the designs that the classes are shown by.
func MassFigure(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
	found, left := someClasses(found)
	var shown []finding.Pick
	for i := range found {
		shown = append(shown, found[i].Picks()...)
	}
	if len(shown) == 0 {
		return nil, "no feasible design", nil
	}
	label := "best design of each class"
	if finding.AnyChoice(found) {
		label = "recommended build and nominal best of each class"
		if first := slices.DeleteFunc(slices.Clone(shown), func(k finding.Pick) bool {
			return k.Part == finding.NominalPart
		}); len(shown) > massesAbreast && len(first) < len(shown) { // on one scale
			shown, left = first, left+" The nominal best are not drawn."
			label = "recommended build of each class"
		}
	}
	f := &chart.Figure{
		Title:    massTitle(found),
		Subtitle: subtitleOf(r),
		Bound:    "limit of the class",
		Families: words.StackOrder,
		Columns:  1, Height: 4,
	}
	var out words.Outside
	rows := (len(shown) + massesAbreast - 1) / massesAbreast
	abreast := (len(shown) + rows - 1) / rows
	if finding.AnyChoice(found) && rows > 1 {
		abreast += abreast % 2 // both designs of a class side by side
	}
	f.Width = max(5, 2.4+1.9*float64(abreast))
	for row := range slices.Chunk(shown, abreast) {
		p := chart.Panel{X: chart.Axis{Label: label}, Y: chart.Axis{Label: words.Bracketed("mass", "g")}}
		for at, k := range row {
			of := k.Class.Class
			name := fmt.Sprintf("%s: %s", words.ClassName(of), finding.Inch.Format(k.Design.Diameter, 4)) +
				out.AddCraft(atClass(r, words.Mass(of.Limit)), k.Craft)
			if k.Part != finding.BestPart {
				name += ", " + words.PartName(k.Part)
			}
			p.X.Names = append(p.X.Names, name)
			s := chart.Stack{At: at, Bound: finding.Gram.FromSI(of.Limit),
				Label: finding.Gram.Number(k.Craft.Mass, 4) + " of " + finding.Gram.Format(of.Limit, 5)}
			parts := words.Masses(k.Craft)
			for _, n := range words.Stacked(parts) {
				if part := parts[n]; part.Mass > 0 {
					s.Pieces = append(s.Pieces, chart.Piece{
						Family: part.Title, Length: finding.Gram.FromSI(part.Mass),
						Label: fmt.Sprintf("%s %s, %s", texts.Lower(part.Title), partGrams(part.Mass),
							words.Probability(part.Mass/k.Craft.Mass)),
					})
				}
			}
			p.Stacks = append(p.Stacks, s)
			p.Y.Max = max(p.Y.Max, 1.1*s.Bound)
		}
		f.Panels = append(f.Panels, p)
	}
	f.Note = strings.TrimSpace(out.Note() + left)
	return f, "", nil
}

// partGrams is the mass of a part, to the tenth of a gram of what is light: "9.0 g", "217 g".
func partGrams(kg float64) string {
	decimals := 1
	if finding.Gram.FromSI(kg) >= 99.95 {
		decimals = 0
	}
	return strconv.FormatFloat(finding.Gram.FromSI(kg), 'f', decimals, 64) + " g"
}

// massTitle names the heaviest part of each class's recommended build, or of its best
// design, and its share.
func massTitle(found []finding.Class) string {
	var parts []string
	var shares []finds
	lo, hi := 100.0, 0.0
	for i := range found {
		for _, k := range found[i].Picks()[:min(1, len(found[i].Picks()))] {
			part := words.HeaviestPart(k.Craft)
			parts = append(parts, texts.Lower(part.Title))
			share := 100 * part.Mass / k.Craft.Mass
			lo, hi = min(lo, share), max(hi, share)
			shares = append(shares, finds{fmt.Sprintf("%.0f %%", share),
				words.Mass(found[i].Class.Limit) + words.Star(k.Marked())})
		}
	}
	head, of := "Heaviest part: ", ""
	if finding.AnyChoice(found) {
		of = texts.Plural(len(shares), " of the recommended build", " of the recommended builds")
		head = "Heaviest part" + of + ": "
	}
	if len(slices.Compact(slices.Clone(parts))) == 1 {
		head = "The " + parts[0] + " is the heaviest part" + of + ": "
		switch {
		case len(found) == 1: // the bar says of which class
			return head + shares[0].where + strings.TrimPrefix(shares[0].limit, words.Mass(found[0].Class.Limit))
		case len(shares) > mostTold:
			return head + fmt.Sprintf("%.0f to %.0f %%", lo, hi)
		}
	} else {
		for n := range shares {
			shares[n].where = parts[n] + " " + shares[n].where
		}
	}
	all, _ := gathered(shares)
	return head + endsAt(all, "", ", ")
}
