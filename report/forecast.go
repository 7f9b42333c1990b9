package report

import (
	"io"
	"time"

	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
)

// Foresee tells what Write would take for a run of which a part is done, without writing
// anything: figures and the rest together.
func Foresee(r *finding.Run) (figure.Forecast, error) {
	start := time.Now()
	found, err := r.Findings()
	if err != nil {
		return figure.Forecast{}, err
	}
	if err := sheet.WriteReview(io.Discard, r, found, nil); err != nil {
		return figure.Forecast{}, err
	}
	rest := time.Since(start)
	f, err := figure.Foresee(r)
	f.CPU += rest
	return f, err
}
