package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"strconv"
	"testing"
)

// From tip Mach 0.3 to 0.85 the printed CT and CP change smoothly, straight from
// the solution and from the table.
func TestRotorIsSmoothInSpeed(t *testing.T) {
	for _, more := range [][]string{nil, {"--table"}} {
		var out, log bytes.Buffer
		args := append([]string{"rotor", "--diameter", "5in", "--pitch", "4.3in", "--blades", "3", "--rpm", "15400:43400:200", "--advance", "0"}, more...)
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
		if first, end := number(0, mach), number(last, mach); math.Abs(first-0.3) > 0.005 || math.Abs(end-0.85) > 0.005 {
			t.Errorf("tip Mach %.3f to %.3f, want 0.3 to 0.85", first, end)
		}
		exponent := func(row, column int) float64 {
			return math.Log(number(row+1, column)/number(row, column)) / math.Log(number(row+1, rpm)/number(row, rpm))
		}
		for _, column := range []int{CT, CP} {
			for i := 1; i < last; i++ {
				if a, b := exponent(i-1, column), exponent(i, column); math.Abs(a-b) > 0.04 {
					t.Errorf("%v: at %s rpm column %d grows to the power %.3f, then %.3f", more, rows[i][rpm], column, a, b)
				}
			}
		}
	}
}
