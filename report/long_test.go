package report

import (
	"io"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/trial"
)

// peak gives the most memory in bytes that the process had from the system
// while f ran, beyond what it held before.
func peak(f func()) uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	before, most := m.HeapInuse+m.StackInuse, uint64(0)
	done, stopped := make(chan bool), make(chan bool)
	go func() {
		defer close(stopped)
		for tick := time.NewTicker(5 * time.Millisecond); ; {
			select {
			case <-done:
				tick.Stop()
				return
			case <-tick.C:
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapInuse+m.StackInuse)
			}
		}
	}()
	f()
	close(done)
	<-stopped
	return most - min(most, before)
}

// A ranking of 100 000 designs is written in less than 200 MB.
func BenchmarkLongRanking(b *testing.B) {
	r := trial.LongRun(b)
	found, err := r.Findings()
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{finding.WorkbookName, func(w io.Writer) error {
			return sheet.WriteReview(b.Context(), w, b.TempDir(), r, found,
				nil)
		}},
		{finding.RankingName, func(w io.Writer) error { return writeRanking(b.Context(), w, r, found) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			dir := b.TempDir()
			for b.Loop() {
				var size int64
				most := peak(func() {
					f, err := writeFile(b.Context(), dir, filepath.Base(c.name), c.write)
					if err != nil {
						b.Fatal(err)
					}
					size = f.Bytes
				})
				b.ReportMetric(float64(most)/1e6, "MB-peak")
				b.ReportMetric(float64(size)/1e6, "MB-file")
				if most > 200e6 {
					b.Errorf("%s took %d MB", c.name, most/1e6)
				}
			}
		})
	}
}
