package report

import (
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"os"

	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/words"
	"rotorsieve/sweep/spent"
)

// Foresee tells what Write would take for a run of which a part is done, and whose Decision is a
// sketch of that to come, by making its files without writing them. Figures are drawn coarsely where
// many dots are asked for.
func Foresee(r *finding.Run) (out figure.Forecast, err error) {
	whole := *r.Result
	whole.Complete = true // or it would be told of as one that was cut short
	r.Result = &whole
	start := spent.Time()
	found, err := r.Findings()
	if err != nil {
		return out, err
	}
	rest := spent.Time() - start
	out, pictures, err := figure.Foresee(r)
	if err != nil {
		return out, err
	}
	start = spent.Time()
	spool, err := os.MkdirTemp("", "rotorsieve-") // there may be no folder of the run yet
	if err != nil {
		return out, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(spool)) }()
	ctx := context.Background()
	to := io.MultiWriter(io.Discard, sha256.New())
	writes := []func() error{
		func() error { return sheet.WriteReview(ctx, to, spool, r, found, pictures) },
		func() error { return writeRanking(ctx, to, r, found) },
		func() error { return finding.WriteSize(to, r) },
		func() error { return finding.WriteJSON(to, words.RecordOf(r, found, 0, nil)) },
	}
	if len(r.Study.Front) > 0 {
		writes = append(writes, func() error { return writeFront(ctx, to, r, found) })
	}
	if r.Decides() {
		writes = append(writes, func() error { return writeRobust(to, r, found) },
			func() error { return writeConfidence(to, found) }, func() error { return writeTestPlan(to, r, found) })
	}
	for _, write := range writes {
		if err := write(); err != nil {
			return out, err
		}
	}
	out.CPU += rest + spent.Time() - start
	return out, nil
}
