package main

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"

	"rotorsieve/report/finding"
)

// curveColumns are what rotor prints of a point, in a table and as members of an object.
var curveColumns = []struct{ head, name string }{
	{"J", "J"}, {"rpm", "rpm"}, {"CT", "CT"}, {"CP", "CP"}, {"efficiency", "efficiency"}, {"tip Mach", "tip_mach"},
	{"Re at 75 % radius", "reynolds"}, {"outside", "outside"},
}

// pointWriter writes points of curves one by one, however many there are.
type pointWriter struct {
	csv  *csv.Writer // nil for JSON
	json *bufio.Writer
	any  bool
	err  error
}

func newCurvePoints(w io.Writer, format string) *pointWriter {
	if format == "json" {
		return &pointWriter{json: bufio.NewWriter(w)}
	}
	p := &pointWriter{csv: csv.NewWriter(w)}
	var heads []string
	for _, c := range curveColumns {
		heads = append(heads, c.head)
	}
	p.err = p.csv.Write(heads)
	return p
}

// point writes the numbers of a point, in the order of the columns, and what is outside; a
// number that does not exist is empty, or null.
func (p *pointWriter) point(numbers []float64, outside string) error {
	if p.err != nil {
		return p.err
	}
	if p.csv != nil {
		var cells []string
		for _, v := range numbers {
			cell := ""
			if finding.Finite(v) {
				cell = strconv.FormatFloat(v, 'g', 8, 64)
			}
			cells = append(cells, cell)
		}
		p.err = p.csv.Write(append(cells, outside))
		return p.err
	}
	var o finding.Object
	for i, v := range numbers {
		o = append(o, finding.Member{Name: curveColumns[i].name, Value: finding.OrNull(v)})
	}
	o = append(o, finding.Member{Name: curveColumns[len(numbers)].name, Value: outside})
	line, err := json.Marshal(o)
	if err != nil {
		return err
	}
	start := ",\n  "
	if !p.any {
		start, p.any = "[\n  ", true
	}
	_, p.err = p.json.WriteString(start + string(line))
	return p.err
}

// end ends the points.
func (p *pointWriter) end() error {
	if p.csv != nil {
		p.csv.Flush()
		return p.csv.Error()
	}
	end := "\n]\n"
	if !p.any {
		end = "[]\n"
	}
	if _, err := p.json.WriteString(end); p.err == nil {
		p.err = err
	}
	if err := p.json.Flush(); p.err == nil {
		p.err = err
	}
	return p.err
}
