package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"rotorsieve/report/chart"
	"rotorsieve/sweep"
)

// sizeHeads are those of the table of sizes.
var sizeHeads = []string{headed("all-up-weight-at-most", "kg"), headed("diameter", "m"), "merit"}

// writeSize writes what the figure of sizes is drawn from: at each weight and
// diameter the best merit of a design no heavier, empty where none is feasible.
func (r *Run) writeSize(w io.Writer) error {
	_, _, f := r.sizes()
	diameters := r.values(sweep.Diameter)
	c := csv.NewWriter(w)
	if err := c.Write(sizeHeads); err != nil {
		return err
	}
	for j := range f.Y {
		for i := range f.X {
			if err := c.Write([]string{exact(gram.ToSI(f.X[i])), exact(diameters[j]), exact(f.Z[j][i])}); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}

// readSize reads a table of sizes back as a field over grams and inches.
func readSize(r io.Reader) (*chart.Field, error) {
	c := csv.NewReader(r)
	c.FieldsPerRecord = len(sizeHeads)
	rows, err := c.ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 || !slices.Equal(rows[0], sizeHeads) {
		return nil, fmt.Errorf("line 1: want the heads %q", sizeHeads)
	}
	type place struct{ x, y float64 }
	merit := map[place]float64{}
	f := new(chart.Field)
	for n, cells := range rows[1:] {
		var v [3]float64
		for k, text := range cells {
			if v[k], err = strconv.ParseFloat(text, 64); text == "" && k == 2 {
				v[k], err = math.NaN(), nil
			}
			if err != nil {
				return nil, fmt.Errorf("line %d: %q, want a number", n+2, text)
			}
		}
		at := place{gram.FromSI(v[0]), inch.FromSI(v[1])}
		f.X, f.Y = append(f.X, at.x), append(f.Y, at.y)
		merit[at] = v[2]
	}
	for _, axis := range []*[]float64{&f.X, &f.Y} {
		slices.Sort(*axis)
		*axis = slices.Compact(*axis)
	}
	f.Z = blank(len(f.X), len(f.Y))
	for j, y := range f.Y {
		for i, x := range f.X {
			z, ok := merit[place{x, y}]
			if !ok {
				return nil, fmt.Errorf("no line for %g kg and %g m, want each weight with each diameter", gram.ToSI(x), inch.ToSI(y))
			}
			f.Z[j][i] = z
		}
	}
	return f, nil
}
