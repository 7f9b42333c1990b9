package trial

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/cmpimg"

	"rotorsieve/report/chart"
)

// CheckGolden holds a picture against the one that is kept.
func CheckGolden(t *testing.T, f chart.Picture) {
	t.Helper()
	file := filepath.Join("testdata", filepath.FromSlash(f.Name))
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, f.PNG, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	same, err := cmpimg.EqualApprox("png", f.PNG, want, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	if !same {
		t.Errorf("%s differs from %s; look at both, accept it with -update", f.Name, file)
	}
}

var update = flag.Bool("update", false, "write the golden files anew")

// Golden compares text with a file of testdata.
func Golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); d != "" {
		t.Errorf("%s (-want +got; -update writes it anew):\n%s", name, d)
	}
}
