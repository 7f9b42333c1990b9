package report

import (
	"context"
	"io"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// longRun ranks 100 000 designs in one class.
func longRun(t testing.TB) *Run {
	t.Helper()
	g, err := sweep.NewGrid(
		axis(t, sweep.Diameter, "4in,5in,6in"),
		axis(t, sweep.PitchRatio, "0.7"),
		axis(t, sweep.Blades, "2,3"),
		axis(t, sweep.Chord, "0"),
		axis(t, sweep.Stator, "1507,2207,2507"),
		axis(t, sweep.KV, "700:1900:20"),
		axis(t, sweep.Cells, "3,4,6"),
		axis(t, sweep.Capacity, "500:2460:40mAh"),
		axis(t, sweep.Payload, "0"),
	)
	if err != nil {
		t.Fatal(err)
	}
	m, err := model.New(model.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	s := &sweep.Study{Name: "long", Grid: g, Model: m, Classes: []sweep.Class{{Limit: 3, Label: "3kg"}},
		Merit: sweep.DefaultMerit(), Top: 100_000, SizeBins: 40}
	result, err := sweep.Run(context.Background(), s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(result.Classes[0].Ranking); n != s.Top {
		t.Fatalf("%d designs are ranked, want %d", n, s.Top)
	}
	return &Run{Study: s, Result: result, Version: "test"}
}

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
	r := longRun(b)
	found, err := r.findings()
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{WorkbookName, func(w io.Writer) error { return writeWorkbook(w, r, found, nil) }},
		{RankingName, func(w io.Writer) error { return writeRanking(r, w, found) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			dir := b.TempDir()
			for b.Loop() {
				var size int64
				most := peak(func() {
					f, err := writeFile(dir, filepath.Base(c.name), c.write)
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
