package report

import (
	"os"
	"sync"
	"testing"
	"testing/fstest"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
)

// finished are the folders of twoRuns, written once for all tests.
var finished struct {
	sync.Once
	second  finding.Run // before it was written
	folders [2]fstest.MapFS
}

// twoRuns are two finished runs with folders of the test's own: SmallRun, and one of the
// same craft under other assumptions, with one class more and one less.
func twoRuns(t *testing.T) (first, second *finding.Run, dirs []string) {
	t.Helper()
	finished.Do(func() {
		finished.second = *trial.OtherRun(t)
		again := finished.second
		for n, r := range []*finding.Run{trial.SmallRun(t), &again} {
			finished.folders[n] = fstest.MapFS{}
			for name, text := range writeTo(t, r) {
				finished.folders[n][name] = &fstest.MapFile{Data: text, Mode: 0o644}
			}
		}
	})
	for _, files := range finished.folders {
		if len(files) == 0 {
			t.Fatal("the runs could not be written")
		}
		dir := t.TempDir()
		if err := os.CopyFS(dir, files); err != nil {
			t.Fatal(err)
		}
		dirs = append(dirs, dir)
	}
	other := finished.second
	return trial.SmallRun(t), &other, dirs
}
