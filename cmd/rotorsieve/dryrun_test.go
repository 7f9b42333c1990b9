package main

import (
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"rotorsieve/sweep"
)

// The time that a dry run tells is that with the workers asked for, and of a shard
// its share.
func TestDryRunTellsTheTime(t *testing.T) {
	defer func(f func(*sweep.Study, sweep.Options, time.Duration) (sweep.Forecast, error)) { estimate = f }(estimate)
	told := estimate
	estimate = func(s *sweep.Study, o sweep.Options, _ time.Duration) (sweep.Forecast, error) {
		f, err := told(s, o, 0)
		f.Time = 24 * time.Hour / time.Duration(o.Workers*o.Shard.Of)
		return f, err
	}
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--workers", "1"}, "about 24 h with 1 worker,"},
		{[]string{"--workers", "4"}, "about 6 h with 4 workers,"},
		{[]string{"--workers", "4", "--shard", "2/3"}, "about 2 h with 4 workers,"},
	} {
		text := said(t, append(append([]string{"sweep", "--dry-run"}, small...), c.args...)...)
		if got := strings.Join(strings.Fields(text), " "); !strings.Contains(got, c.want) {
			t.Errorf("%q: no %q in\n%s", c.args, c.want, text)
		}
	}
}

// The pictures that a dry run tells of, with their dots, are those that the run draws, those of the
// choice among them: it draws them, and writes what it tells of nowhere.
func TestForetoldPictures(t *testing.T) {
	defer func(d time.Duration) { trial = d }(trial)
	trial = 100 * time.Millisecond // all of the study
	t.Chdir(t.TempDir())
	for name, more := range map[string][]string{
		"usual":   {"--figures", "usual", "--draws", "16"},
		"all":     {"--figures", "all", "--draws", "16", "--dpi", "72"},
		"without": {"--figures", "usual", "--draws", "0", "--dpi", "100"},
		"fine":    {"--figures", "usual", "--draws", "16", "--dpi", "300"},
		"no":      {"--figures", "none", "--draws", "16"},
		"heavy":   {"--figures", "usual", "--draws", "16", "--class", "60g", "--dpi", "72"}, // nothing is feasible
	} {
		args := append(append([]string{"sweep", "--out", name, "--format", "json"}, small...), more...)
		var told struct {
			Report struct {
				Pictures int     `json:"pictures"`
				Seconds  float64 `json:"processor_s"`
			} `json:"report"`
		}
		if err := json.Unmarshal([]byte(said(t, append(args, "--dry-run")...)), &told); err != nil {
			t.Fatal(err)
		}
		text := said(t, append(args, "--dry-run", "--format", "text")...)
		if n := files(t); n != 0 && name == "usual" {
			t.Errorf("%d files after a dry run", n)
		}
		millions := 0.0
		if m := regexp.MustCompile(`of (\d+)\s+million dots`).FindStringSubmatch(text); m != nil {
			millions, _ = strconv.ParseFloat(m[1], 64)
		}
		said(t, args...)
		drawn, err := filepath.Glob(filepath.Join(name, "figures", "*.png"))
		if err != nil {
			t.Fatal(err)
		}
		dots := 0.0
		for _, path := range drawn {
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			size, err := png.DecodeConfig(f)
			if err != nil {
				t.Fatal(err)
			}
			dots += float64(size.Width*size.Height) / 1e6
			f.Close()
		}
		if told.Report.Pictures != len(drawn) || told.Report.Seconds <= 0 {
			t.Errorf("%s: %d pictures told in %v s, %d drawn: %q", name, told.Report.Pictures, told.Report.Seconds,
				len(drawn), drawn)
		}
		if off := millions - dots; off > 0.6+0.05*dots || off < -0.6-0.05*dots {
			t.Errorf("%s: %v million dots told, %.1f drawn", name, millions, dots)
		}
		if err := os.RemoveAll(name); err != nil {
			t.Fatal(err)
		}
	}
}
