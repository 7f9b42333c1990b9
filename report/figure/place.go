package figure

import (
	"math"
	"slices"
	"strings"

	"rotorsieve/report/chart"
	"rotorsieve/report/texts"
)

// mostUnwritten is the share of the values to be written into cells that may lack room: where more
// do, a kind of them is left out.
const mostUnwritten = 0.25

// place gives all of a figure its place. Of the values that are to be written into cells the
// kind that stands first is left out while many lack room.
func place(f *chart.Figure) (*chart.Placed, error) {
	for {
		p, err := f.Place()
		if err != nil {
			return nil, err
		}
		all := 0
		for k := range f.Panels {
			for _, o := range f.Panels[k].Overlays {
				for _, row := range o.Z {
					all += len(row) - countNaN(row)
				}
			}
		}
		lost := 0
		for _, x := range p.Layout.Dropped {
			if valueIn(f, x) {
				lost++
			}
		}
		if float64(lost) <= mostUnwritten*float64(all) {
			return p, nil
		}
		for k := range f.Panels {
			if o := f.Panels[k].Overlays; len(o) > 0 {
				f.Panels[k].Overlays = o[1:]
			}
		}
	}
}

func countNaN(row []float64) (n int) {
	for _, v := range row {
		if math.IsNaN(v) {
			n++
		}
	}
	return n
}

// valueIn says whether what lacks room is a value that was to be written into its cell.
func valueIn(f *chart.Figure, x chart.Lost) bool {
	return slices.ContainsFunc(f.Panels[x.Panel].Overlays, func(o chart.Overlay) bool {
		return strings.HasPrefix(x.Text, o.Name)
	})
}

// placed says what stands in a figure by its symbol alone, and what there is no
// room to write.
func placed(f *chart.Figure, l *chart.Layout) string {
	var symbols []string
	for _, name := range l.Shortened {
		for k := range f.Panels {
			if fd := f.Panels[k].Field; fd != nil && fd.Short[name] != "" {
				symbols = append(symbols, fd.Short[name]+": "+name)
				break
			}
		}
	}
	once := func(texts []string) string {
		slices.Sort(texts)
		return strings.Join(slices.Compact(texts), "; ")
	}
	// told lists texts panel by panel.
	told := func(lost []chart.Lost) string {
		var parts []string
		for k := range f.Panels {
			var all []string
			for _, x := range lost {
				if x.Panel == k && !slices.Contains(all, x.Text) {
					all = append(all, x.Text)
				}
			}
			switch name := texts.Or(f.Panels[k].Title, f.Panels[k].Y.Label); {
			case len(all) == 0:
			case len(f.Panels) == 1:
				parts = append(parts, strings.Join(all, ", "))
			default:
				parts = append(parts, name+": "+strings.Join(all, ", "))
			}
		}
		return strings.Join(parts, "; ")
	}
	out := ""
	if len(symbols) > 0 {
		out += " " + once(symbols) + "."
	}
	if l.Hidden > 0 {
		out += " Lines without room for their number are left out."
	}
	values := func(x chart.Lost) bool { return valueIn(f, x) }
	if slices.ContainsFunc(l.Dropped, values) {
		out += " Values without room in their cells are left out."
	}
	if lost := slices.DeleteFunc(slices.Clone(l.Dropped), values); len(lost) > 0 {
		out += " No room to write: " + told(lost) + "."
	}
	if len(l.Unnamed) > 0 {
		ground := " Hatched"
		if f.Plain {
			ground = " Plain"
		}
		const most = 120 // letters, about a line
		if names := told(l.Unnamed); len(names) <= most {
			out += ground + " without room for the name: " + names + "."
		} else {
			out += ground + " without a name: no room for it."
		}
	}
	return out
}
