package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// From tip Mach 0.3 to 0.85 the printed CT and CP change smoothly, straight from
// the solution and from the table.
func TestRotorIsSmoothInSpeed(t *testing.T) {
	for _, more := range [][]string{nil, {"--table"}} {
		var out, log bytes.Buffer
		args := append([]string{"rotor", "--diameter", "5in", "--pitch", "4.3in", "--blades", "3", "--rpm",
			"15400:43400:200", "--advance", "0"}, more...)
		if status := run(context.Background(), args, &out, &log); status != 0 {
			t.Fatalf("status %d: %s", status, &log)
		}
		rows, err := csv.NewReader(&out).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		rows = rows[1:]
		number := func(row, column int) float64 {
			v, err := strconv.ParseFloat(rows[row][column], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		const rpm, CT, CP, mach = 1, 2, 3, 5
		last := len(rows) - 1
		if first, end := number(0, mach), number(last, mach); math.Abs(first-0.3) > 0.005 ||
			math.Abs(end-0.85) > 0.005 {
			t.Errorf("tip Mach %.3f to %.3f, want 0.3 to 0.85", first, end)
		}
		exponent := func(row, column int) float64 {
			return math.Log(number(row+1, column)/number(row, column)) / math.Log(number(row+1, rpm)/number(row, rpm))
		}
		for _, column := range []int{CT, CP} {
			for i := 1; i < last; i++ {
				if a, b := exponent(i-1, column), exponent(i, column); math.Abs(a-b) > 0.04 {
					t.Errorf("%v: at %s rpm column %d grows to the power %.3f, then %.3f", more, rows[i][rpm], column,
						a, b)
				}
			}
		}
	}
}

// The last column names what is beyond the measurements of the diameter, past it and
// not before; the stand's 5 in reach tip Mach 0.39, the tunnel's 4 in 0.26, 10 in 0.29
// and larger ones 0.41.
func TestRotorNamesWhatIsBeyondMeasurements(t *testing.T) {
	const mach, blades = "tip Mach beyond measurements", "blades beyond measurements"
	for _, c := range []struct {
		flags string
		want  []string // a point each
		said  string   // on stderr
	}{
		{"--diameter 5in --pitch 4in --rpm 19800,20500", []string{"", mach}, "1 of 2"},
		{"--diameter 4in --pitch 3in --rpm 16400,17200", []string{"", mach}, "1 of 2"},
		{"--diameter 10in --pitch 5in --rpm 7200,7600", []string{"", mach}, "1 of 2"},
		{"--diameter 11in --pitch 5in --rpm 9400,9700", []string{"diameter", "diameter; " + mach}, "2 of 2"},
		{"--diameter 11in --pitch 5in --rpm 19000", []string{"diameter; tip Mach"}, "1 of 1"},
		{"--diameter 5in --pitch 4in --blades 4 --rpm 19000", []string{""}, ""},
		{"--diameter 5in --pitch 4in --blades 5 --rpm 19000", []string{blades}, "1 of 1"},
		{"--diameter 8in --pitch 4in --blades 3 --rpm 5000,12000", []string{blades, blades + "; " + mach}, "2 of 2"},
		{"--diameter 8in --pitch 4in --chord 0.35 --rpm 9000", []string{"Re beyond measurements"}, "1 of 1"},
		{"--diameter 8in --pitch 4in --chord 0.25 --rpm 5000", []string{""}, ""},
	} {
		var out, log bytes.Buffer
		args := append([]string{"rotor", "--advance", "0"}, strings.Fields(c.flags)...)
		if status := run(context.Background(), args, &out, &log); status != 0 {
			t.Fatalf("%s: status %d: %s", c.flags, status, &log)
		}
		rows, err := csv.NewReader(&out).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, row := range rows[1:] {
			got = append(got, row[len(row)-1])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: outside %q, want %q", c.flags, got, c.want)
		}
		if (log.Len() > 0) != (c.said != "") || !strings.Contains(log.String(), c.said) {
			t.Errorf("%s: said %q, want %q", c.flags, log.String(), c.said)
		}
	}
}
