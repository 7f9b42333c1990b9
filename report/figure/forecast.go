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
// figure of what is found, places its texts, and draws one coarsely.
func Foresee(r *finding.Run) (Forecast, error) {
	var out Forecast
	found, err := r.Findings()
	if err != nil {
		return out, err
	}
	var dots []float64 // of each picture
	var least *chart.Figure
	var leastArea float64 // square inches
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
		if least == nil || area < leastArea {
			least, leastArea = f, area
		}
	}
	if least == nil {
		return out, nil
	}
	out.CPU += spent.Time() - start
	// What a dot takes is the difference between two resolutions; the rest, to draw the
	// shapes, is the same in all.
	const coarse, fine = 72, 200 // dots per inch
	var took [2]float64          // s
	for n, dpi := range [2]int{coarse, fine} {
		least.DPI = dpi
		from := spent.Time()
		if err := least.WritePNG(io.Discard); err != nil {
			return out, err
		}
		took[n] = (spent.Time() - from).Seconds()
	}
	perDot := max(took[1]-took[0], 0) / (leastArea * (fine*fine - coarse*coarse))
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
	out.CPU += time.Duration((took[0]*float64(len(dots)) + perDot*out.Dots) * float64(time.Second))
	for _, d := range dots[:min(len(dots), runtime.GOMAXPROCS(0))] {
		out.Memory += bytesPerDot * d
	}
	return out, nil
}
