package finding

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"rotorsieve/model/table"
	"rotorsieve/sweep"
)

// SizeMap is the best merit of a design no heavier than a weight, by diameter: what the
// figure of sizes is drawn from.
type SizeMap struct {
	X     []float64   // all-up weight, g
	Y     []float64   // diameter, in
	Merit [][]float64 // [y][x]; NaN where none is feasible
	// Gate is the furthest at which one was rejected, where none is feasible; or NoDesign, of
	// none so light, or NotJudged.
	Gate [][]int
}

// NoDesign stands for no gate, NotJudged for that of ground that was not judged whole.
const (
	NoDesign  = -1
	NotJudged = -2
)

// Widest is the class of the highest limit, in whose map designs of all others are, too.
func (r *Run) Widest() *sweep.ClassResult {
	widest := &r.Result.Classes[0]
	for i := range r.Result.Classes {
		if k := &r.Result.Classes[i]; k.Class.Limit > widest.Class.Limit {
			widest = k
		}
	}
	return widest
}

// Sizes is the map of the widest class: in each bin of weight the best of it and all
// lighter ones. It begins one bin below the lightest design.
func (r *Run) Sizes() *SizeMap {
	s := &r.Widest().Size
	first := s.Bins - 2
	for d := range s.Diameters {
		for b := range first {
			if s.Seen[d*s.Bins+b] {
				first = b
				break
			}
		}
	}
	first = max(first-1, 0)
	f := &SizeMap{Merit: Blank(s.Bins-first, s.Diameters), Gate: make([][]int, s.Diameters)}
	for b := first; b < s.Bins; b++ {
		f.X = append(f.X, Gram.FromSI(s.Width*float64(b+1)))
	}
	for _, v := range r.Values(sweep.Diameter) {
		f.Y = append(f.Y, sweep.Diameter.Shown(v))
	}
	for d := range s.Diameters {
		f.Gate[d] = make([]int, s.Bins-first)
		var best sweep.Cell
		seen := false
		for b := range s.Bins {
			c := s.Cells[d*s.Bins+b]
			seen = seen || s.Seen[d*s.Bins+b]
			if c.Any && (!best.Any || c.Score > best.Score) {
				best.Best = c.Best
			}
			best.Gate = max(best.Gate, c.Gate)
			if b < first {
				continue
			}
			f.Gate[d][b-first] = NoDesign
			switch {
			case best.Any:
				f.Merit[d][b-first] = best.Score
			case !r.Judged(d).All():
				f.Gate[d][b-first] = NotJudged
			case seen:
				f.Gate[d][b-first] = int(best.Gate)
			}
		}
	}
	return f
}

// SizeHeads are those of the table of sizes.
var SizeHeads = []string{Headed("all-up-weight-at-most", "kg"), Headed("diameter", "m"), "merit"}

// WriteSize writes what the figure of sizes is drawn from: at each weight and
// diameter the best merit of a design no heavier, empty where none is feasible.
func WriteSize(w io.Writer, r *Run) error {
	f := r.Sizes()
	diameters := r.Values(sweep.Diameter)
	c := csv.NewWriter(w)
	if err := c.Write(SizeHeads); err != nil {
		return err
	}
	for j := range f.Y {
		for i := range f.X {
			if err := c.Write([]string{Exact(Gram.ToSI(f.X[i])), Exact(diameters[j]),
				Exact(f.Merit[j][i])}); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}

// ReadSize reads a table of sizes back.
func ReadSize(r io.Reader) (*SizeMap, error) {
	c := csv.NewReader(&table.Lines{From: r, Name: SizeName, Most: maxRow})
	c.FieldsPerRecord = len(SizeHeads)
	rows, err := c.ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 || !slices.Equal(rows[0], SizeHeads) {
		return nil, fmt.Errorf("line 1: want the heads %q", SizeHeads)
	}
	type place struct{ x, y float64 }
	merit := map[place]float64{}
	f := new(SizeMap)
	for n, cells := range rows[1:] {
		var v [3]float64
		for k, text := range cells {
			if v[k], err = strconv.ParseFloat(text, 64); text == "" && k == 2 {
				v[k], err = math.NaN(), nil
			}
			if err != nil || !(v[k] > 0 && sane(v[k])) && k < 2 || k == 2 && (v[k] < 0 || v[k] > 1) {
				return nil, fmt.Errorf("line %d: %.40q, want a number above 0, a merit up to 1", n+2, text)
			}
		}
		at := place{Gram.FromSI(v[0]), Inch.FromSI(v[1])}
		f.X, f.Y = append(f.X, at.x), append(f.Y, at.y)
		merit[at] = v[2]
	}
	for _, axis := range []*[]float64{&f.X, &f.Y} {
		slices.Sort(*axis)
		*axis = slices.Compact(*axis)
	}
	if n := len(f.X) * len(f.Y); n != len(merit) || n != len(rows)-1 || n == 0 { // n may be the square of the rows
		return nil, fmt.Errorf("%d lines for %d weights and %d diameters, want each weight with each diameter once",
			len(rows)-1, len(f.X), len(f.Y))
	}
	f.Merit = Blank(len(f.X), len(f.Y))
	for j, y := range f.Y {
		for i, x := range f.X {
			z, ok := merit[place{x, y}]
			if !ok {
				return nil, fmt.Errorf("no line for %g kg and %g m, want each weight with each diameter", Gram.ToSI(x),
					Inch.ToSI(y))
			}
			f.Merit[j][i] = z
		}
	}
	return f, nil
}
