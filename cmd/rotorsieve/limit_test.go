package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
)

// What the user lets the pack give bounds the top speed, and sweep and explain say the
// same of the same flags.
func TestTopSpeedKeepsRequirements(t *testing.T) {
	craft := []string{"--diameter", "5in", "--pitch", "5.2in", "--blades", "3", "--stator", "2207", "--kv", "2200",
		"--cells", "6", "--capacity", "1080mAh", "--payload", "145g", "--class", "900g",
		"--require", "torque-load<=300%", "--require", "winding-load<=150%", "--require", "burst-time>=1s"}
	explain := func(require ...string) (speed float64, limit string) {
		t.Helper()
		args := slices.Concat([]string{"explain", "--format", "json"}, craft, require)
		var out, log bytes.Buffer
		if status := run(context.Background(), args, &out, &log); status > exitUnkept {
			t.Fatalf("%v: status %d: %s", args, status, &log)
		}
		var sheet struct {
			Metrics map[string]struct{ Value float64 }
			Limited map[string]string `json:"limited_by"`
		}
		if err := json.Unmarshal(out.Bytes(), &sheet); err != nil {
			t.Fatal(err)
		}
		return sheet.Metrics["top-speed"].Value, sheet.Limited["top-speed"]
	}
	usual, limit := explain()
	if limit != "pack current or voltage" {
		t.Fatalf("top speed is held by %s, want the pack", limit)
	}
	tight, limit := explain("--require", "pack-load<=0.8")
	if !(tight < usual) || limit != "pack current or voltage as required" {
		t.Errorf("with a tighter limit %g m/s by %s, %g before", tight, limit, usual)
	}
	loose := []string{"--require", "pack-load<=250%", "--require", "voltage-margin>=-0.5V"}
	want, _ := explain(loose...)
	if !(want > usual) {
		t.Errorf("with looser limits %g m/s, %g before", want, usual)
	}
	dir := t.TempDir()
	args := slices.Concat([]string{"sweep", "--quiet", "--figures", "none", "--out", dir}, craft, loose)
	var out, log bytes.Buffer
	if status := run(context.Background(), args, &out, &log); status != 0 {
		t.Fatalf("%v: status %d: %s", args, status, &log)
	}
	text, err := os.ReadFile(filepath.Join(dir, "ranking.csv"))
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord, r.Comment = -1, '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%d rows of the ranking, want a design: %v", len(rows), err)
	}
	at := slices.IndexFunc(rows[0], func(s string) bool { return s == "top-speed (m/s)" })
	if at < 0 {
		t.Fatalf("no top speed in %v", rows[0])
	}
	got, err := strconv.ParseFloat(rows[1][at], 64)
	if err != nil || math.Abs(got/want-1) > 1e-5 {
		t.Errorf("top speed of the sweep %g m/s, of explain %g: %v", got, want, err)
	}
}
