package trial

import (
	"archive/zip"
	"bytes"
	"image"
	"image/png"
	"io"
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/chart"
)

// Number reads a cell that must hold one.
func Number(t *testing.T, f *excelize.File, sheet, cell string) float64 {
	t.Helper()
	s, err := f.GetCellValue(sheet, cell, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%s!%s: %v", sheet, cell, err)
	}
	return v
}

// Find gives row and column, from 1, of the first cell that shows text, at row
// from or below.
func Find(t *testing.T, f *excelize.File, sheet, text string, from int) (row, col int) {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for i := from - 1; i < len(rows); i++ {
		for j, s := range rows[i] {
			if s == text {
				return i + 1, j + 1
			}
		}
	}
	t.Fatalf("%s does not show %q from row %d on", sheet, text, from)
	return 0, 0
}

// Near says whether a number is within a share tol of what is wanted, or within tol where
// that is below 1.
func Near(got, want, tol float64) bool {
	return math.Abs(got-want) <= tol*math.Max(1, math.Abs(want))
}

// Unzip gives the parts of a workbook by name.
func Unzip(t *testing.T, b []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(text)
	}
	return out
}

// OpenBook reads a workbook, which is closed when the test ends.
func OpenBook(t *testing.T, b []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// Cells lists what the cells of a sheet show.
func Cells(t *testing.T, f *excelize.File, sheet string) []string {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	return slices.Concat(rows...)
}

// Grey is a picture without anything on it.
func Grey(t *testing.T, name string) chart.Picture {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 140, 100))); err != nil {
		t.Fatal(err)
	}
	return chart.Picture{Name: name, Title: "Title of " + name, Caption: "Caption of " + name, PNG: b.Bytes(),
		Width: 140, Height: 100}
}
