package report

import (
	"context"
	"errors"
	"io"
	"os"

	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/sweep/spent"
)

// Foresee tells what Write would take for a run of which a part is done, without writing
// anything: figures and the rest together.
func Foresee(r *finding.Run) (out figure.Forecast, err error) {
	start := spent.Time()
	found, err := r.Findings()
	if err != nil {
		return out, err
	}
	spool, err := os.MkdirTemp("", "rotorsieve-") // there may be no folder of the run yet
	if err != nil {
		return out, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(spool)) }()
	if err := sheet.WriteReview(context.Background(), io.Discard, spool, r, found, nil); err != nil {
		return out, err
	}
	rest := spent.Time() - start
	f, err := figure.Foresee(r)
	f.CPU += rest
	return f, err
}
