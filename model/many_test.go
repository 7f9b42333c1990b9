package model

import (
	"fmt"
	"strings"
	"testing"

	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// More than evidence may hold is refused at once, by the place of the first beyond.
func TestTooManyMeasured(t *testing.T) {
	t.Parallel()
	points := func(n int, row func(i int) string) []rotor.Specimen {
		var b strings.Builder
		b.WriteString("diameter_in,pitch_in,blades,rpm,thrust_N,power_W\n")
		for i := range n {
			b.WriteString(row(i) + "\n")
		}
		all, err := rotor.ReadPoints(strings.NewReader(b.String()), "p")
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	motors := func(n int) []record.Record {
		var b strings.Builder
		b.WriteString(record.Header + "\n")
		for i := range n {
			fmt.Fprintf(&b, "motor,2207 %dKV,KV,%d,KV,5 %%\n", 1000+i, 1000+i)
		}
		all, err := record.Read(strings.NewReader(b.String()), "r")
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	speeds := func(i int) string {
		n := 1 + float64(i)*1e-3
		return fmt.Sprintf("5,4.3,3,%g,%g,%g", 12000*n, 3.6*n*n, 58*n*n*n)
	}
	sizes := func(i int) string { return fmt.Sprintf("%g,4.3,3,12000,3.6,58", 5+float64(i)*1e-4) }
	for _, c := range []struct {
		what      string
		specimens []rotor.Specimen
		records   []record.Record
		want      string
	}{
		{"points", points(mostMeasurements+1, speeds), nil, "p:3002: more than 3000 measurements; want fewer, such " +
			"as their means at each speed"},
		{"points and records", points(mostMeasurements, speeds), motors(1),
			"r:2: more than 3000 measurements; want fewer, such as their means at each speed"},
		{"propellers", points(mostPropellers+1, sizes), nil,
			"p:202: more than 200 propellers; want fewer, those nearest to what is asked"},
		{"motors", nil, motors(mostOfParts + 1), "r:402: more than 400 records of KV; want fewer, such as one of " +
			"each motor"},
	} {
		if _, err := NewEvidence(c.specimens, c.records); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.what, err, c.want)
		}
	}
	if n := Measurements(points(7, speeds), motors(3)); n != 7 {
		t.Errorf("%d measurements to fit, want 7", n)
	}
}
