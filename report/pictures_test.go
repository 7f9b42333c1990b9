package report

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"rotorsieve/report/figure"
	"rotorsieve/report/trial"
)

func TestWriteRotor(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	d, c, err := trial.SomeDesign(t, 1300)
	if err != nil {
		t.Fatal(err)
	}
	r := figure.CraftRotor(d, c)
	path, err := WriteRotor(t.Context(), dir, &r)
	if err != nil {
		t.Fatal(err)
	}
	first, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(first, []byte("\x89PNG")) {
		t.Error("not a PNG")
	}
	if _, err := WriteRotor(t.Context(), dir, &r); err != nil {
		t.Fatal(err)
	}
	if second, err := os.ReadFile(path); err != nil || !bytes.Equal(first, second) {
		t.Errorf("drawn again the picture differs; error %v", err)
	}
	bad := errors.New("station r/R = 0.5")
	r.At = func(J, n float64) (float64, float64, error) { return 0, 0, bad }
	if _, err := WriteRotor(t.Context(), dir, &r); !errors.Is(err, bad) {
		t.Errorf("error %v, want %v", err, bad)
	}
	r.At = func(J, n float64) (float64, float64, error) { return -0.1, 0.1, nil }
	if _, err := WriteRotor(t.Context(), dir, &r); err == nil || !strings.Contains(err.Error(),
		"want a propeller that gives thrust at rest") {
		t.Errorf("error %v of a propeller that pulls back", err)
	}
}
