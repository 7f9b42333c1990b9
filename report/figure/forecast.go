package figure

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"time"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/sweep/spent"
)

// Forecast is what the figures of a report take.
type Forecast struct {
	Pictures int
	Dots     float64       // of all of them
	CPU      time.Duration // of all processors together
	Memory   float64       // at most, in bytes
}

// What a picture takes while it is drawn and encoded, in bytes a dot, measured on reports
// of one class at 200, 400 and 600 dots per inch: the image, 4 bytes a dot, and the most of
// another that is not yet collected.
const bytesPerDot = 6.5

// overHeld is by how much the heap reaches over what is held, as the report bounds it.
const overHeld = 1.4

// Foresee draws the figures of a run of which a part is done, with what stands for its choice,
// as Draw would, at no more than fine dots per inch, and tells what Draw would take. The pictures
// are what the rest of the report has of them.
func Foresee(r *finding.Run) (out Forecast, pictures []chart.Picture, err error) {
	found, err := r.Findings()
	if err != nil {
		return out, nil, err
	}
	start := spent.Time()
	var dots []float64 // of each picture
	var more float64   // s that finer ones take
	var held float64   // bytes of all pictures
	dpi := cmp.Or(r.DPI, usualDPI)
	for _, p := range plansOf(context.Background(), r, found) {
		if !wantsFigure(r, &p) {
			continue
		}
		f, _, err := p.draw()
		if err != nil {
			return out, nil, err
		}
		if f == nil {
			continue // the study lacks it
		}
		f.DPI = min(dpi, fine)
		var x chart.Picture
		took, err := spent.On(func() (err error) { x, err = Picture(p.name, p.caption, f); return err })
		if err != nil {
			return out, nil, err
		}
		drawn := float64(x.Width * x.Height)
		d := drawn * float64(dpi*dpi) / float64(f.DPI*f.DPI)
		if dpi > fine {
			// What a dot takes is the difference between two resolutions; the rest, to make and to place
			// what is drawn, is the same in all.
			f.DPI = coarse
			var y chart.Picture
			less, err := spent.On(func() (err error) { y, err = Picture(p.name, p.caption, f); return err })
			if err != nil {
				return out, nil, err
			}
			// A picture is flat but for its edges, which grow with the dots along a side.
			held += float64(len(x.PNG)-len(y.PNG)) / (fine - coarse) * float64(dpi-fine)
			perDot := max(took-less, 0).Seconds() / (drawn * (1 - float64(coarse*coarse)/(fine*fine)))
			more += perDot*(d-drawn) - less.Seconds()
		}
		held += float64(len(x.PNG))
		dots = append(dots, d)
		pictures = append(pictures, x)
	}
	out.CPU = spent.Time() - start + time.Duration(more*float64(time.Second))
	slices.SortFunc(dots, func(a, b float64) int { return cmp.Compare(b, a) })
	out.Pictures = len(dots)
	for _, d := range dots {
		out.Dots += d
	}
	for _, d := range dots[:min(len(dots), runtime.GOMAXPROCS(0))] {
		out.Memory += bytesPerDot * d
	}
	out.Memory += overHeld * held
	return out, pictures, nil
}

// Resolutions at which figures are tried, in dots per inch, and that where none is asked for.
const coarse, fine, usualDPI = 72, 300, 200
