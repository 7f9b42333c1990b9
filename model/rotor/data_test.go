package rotor

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"
)

// propeller is one propeller of testdata/propellers with its measurements.
type propeller struct {
	id, family      string
	blades          int
	diameter, pitch float64 // m, nominal
	blade           Blade   // as scanned
	scanned         bool
	static, wind    run
}

// measured is one point of the wind tunnel.
type measured struct{ J, n, CT, CP float64 }

// run is some points of one propeller.
type run []measured

const inch = 0.0254

// propellers reads testdata/propellers once.
var propellers = sync.OnceValues(func() ([]propeller, error) {
	all := []propeller{}
	index := map[string]int{}
	err := eachRow("propellers.csv", func(text []string, v []float64) error {
		index[text[0]] = len(all)
		all = append(all, propeller{id: text[0], family: text[1], blades: int(v[2]), diameter: v[3] * inch,
			pitch: v[4] * inch})
		return nil
	})
	if err != nil {
		return nil, err
	}
	type shape struct{ x, c, beta []float64 }
	shapes := map[string]*shape{}
	err = eachRow("geometry.csv", func(text []string, v []float64) error {
		s := shapes[text[0]]
		if s == nil {
			s = &shape{}
			shapes[text[0]] = s
		}
		s.x = append(s.x, v[1])
		s.c = append(s.c, v[2])
		s.beta = append(s.beta, v[3]*deg)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for id, s := range shapes {
		p := &all[index[id]]
		if p.blade, err = newBlade(s.x, s.c, s.beta); err != nil {
			return nil, err
		}
		p.scanned = true
	}
	err = eachRow("performance.csv", func(text []string, v []float64) error {
		p := &all[index[text[0]]]
		m := measured{J: v[1], n: v[2] / 60, CT: v[3], CP: v[4]}
		if m.J == 0 {
			p.static = append(p.static, m)
		} else {
			p.wind = append(p.wind, m)
		}
		return nil
	})
	return all, err
})

// eachRow calls f with the fields of each row of a CSV file below its header, as
// text and as numbers (0 where the field is none).
func eachRow(file string, f func([]string, []float64) error) error {
	in, err := os.Open(filepath.Join("testdata", "propellers", file))
	if err != nil {
		return err
	}
	defer in.Close()
	all, err := csv.NewReader(in).ReadAll()
	if err != nil {
		return err
	}
	v := make([]float64, len(all[0]))
	for _, row := range all[1:] {
		for i, text := range row {
			v[i], _ = strconv.ParseFloat(text, 64)
		}
		if err := f(row, v); err != nil {
			return err
		}
	}
	return nil
}

func measurements(t testing.TB) []propeller {
	t.Helper()
	all, err := propellers()
	if err != nil {
		t.Fatal(err)
	}
	return all
}
