package figure

import (
	"context"
	"io"
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

// decidedArea is about that of a figure of the choice in square inches, such as cannot be made
// before the draws.
const decidedArea = 10 * 6.8

// ofDraws says whether a figure tells of the choice alone.
func (p *plan) ofDraws() bool { return p.name == confidenceName || p.name == tornadoName }

// Foresee tells what Draw would take for a run of which a part is done: it makes each
// figure of what is found, places its texts, and draws it coarsely, and one finely as well.
func Foresee(r *finding.Run) (Forecast, error) {
	var out Forecast
	found, err := r.Findings()
	if err != nil {
		return out, err
	}
	var dots []float64 // of each picture
	var largest *chart.Figure
	var largestArea, largestTook float64 // square inches, s
	var shapes, decided float64          // s of all figures; figures that cannot be drawn yet
	plans := plansOf(context.Background(), r, found)
	start := spent.Time()
	for n := range plans {
		if !wantsFigure(r, &plans[n]) {
			continue
		}
		f, _, err := plans[n].draw()
		if err != nil {
			return out, err
		}
		if f == nil && r.MayDecide() && !r.Decides() && plans[n].ofDraws() {
			d := decidedArea * float64(r.DPI*r.DPI) // once there are draws
			dots = append(dots, d)
			decided++
		}
		if f == nil {
			continue // the study lacks it
		}
		f.DPI = r.DPI
		from := spent.Time()
		l, err := f.Layout()
		if err != nil {
			return out, err
		}
		if placed(f, &l) != "" { // its texts are placed again, with a note
			out.CPU += spent.Time() - from
		}
		area := l.Width * l.Height / (72 * 72)
		dots = append(dots, area*float64(r.DPI*r.DPI))
		took, err := drawnAt(f, coarse)
		if err != nil {
			return out, err
		}
		shapes += took
		if area > largestArea {
			largest, largestArea, largestTook = f, area, took
		}
	}
	if largest == nil {
		return out, nil
	}
	out.CPU += spent.Time() - start // with each drawn once, coarsely
	// What a dot takes is the difference between two resolutions; the rest, to draw the
	// shapes, is the same in all.
	took, err := drawnAt(largest, fine)
	if err != nil {
		return out, err
	}
	perDot := max(took-largestTook, 0) / (largestArea * (fine*fine - coarse*coarse))
	missing := shapes * decided / (float64(len(dots)) - decided)
	slices.SortFunc(dots, func(a, b float64) int {
		if a > b {
			return -1
		}
		return 1
	})
	out.Pictures = len(dots)
	for _, d := range dots {
		out.Dots += d
	}
	coarsely := out.Dots * coarse * coarse / float64(r.DPI*r.DPI)
	out.CPU += time.Duration((missing + perDot*(out.Dots-coarsely)) * float64(time.Second))
	for _, d := range dots[:min(len(dots), runtime.GOMAXPROCS(0))] {
		out.Memory += bytesPerDot * d
	}
	return out, nil
}

// Resolutions at which figures are tried, in dots per inch.
const coarse, fine = 72, 200

// drawnAt is the processor time in s of drawing a figure at a resolution.
func drawnAt(f *chart.Figure, dpi int) (seconds float64, err error) {
	was := f.DPI
	f.DPI = dpi
	took, err := spent.On(func() error { return f.WritePNG(io.Discard) })
	f.DPI = was
	return took.Seconds(), err
}
