package model

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"rotorsieve/model/air"
	"rotorsieve/model/rotor"
)

// tunnelled is a propeller of the wind-tunnel data, known by its label, with what the
// model errs by there: ln(measured/model) of CT and CP.
type tunnelled struct {
	id, family      string
	diameter, pitch float64 // m
	blades          int
	rest            [][2]float64 // at each speed
	slow            [][2]float64 // at advance ratios up to 0.3, as multirotors fly at
	spread          [2]float64   // of ln CT and ln CP at rest, see StaticSpread
	together        float64      // their correlation
}

// off is the mean error over some states.
func off(states [][2]float64) (mean [2]float64) {
	for _, s := range states {
		for q := range s {
			mean[q] += s[q] / float64(len(states))
		}
	}
	return mean
}

// tunnel measures all propellers once.
var tunnel = sync.OnceValues(func() ([]tunnelled, error) {
	named, err := tunnelRows("propellers.csv")
	if err != nil {
		return nil, err
	}
	measured, err := tunnelRows("performance.csv")
	if err != nil {
		return nil, err
	}
	type state struct{ J, n, CT, CP float64 }
	states := map[string][]state{}
	for _, r := range measured {
		v, err := numbersOf(r[1:5])
		if err != nil {
			return nil, err
		}
		states[r[0]] = append(states[r[0]], state{v[0], v[1] / 60, v[2], v[3]})
	}
	a, err := air.Standard(0)
	if err != nil {
		return nil, err
	}
	all := make([]tunnelled, len(named))
	errs := make([]error, len(named))
	var wg sync.WaitGroup
	for i, r := range named {
		wg.Go(func() {
			v, err := numbersOf(r[2:5])
			if err != nil {
				errs[i] = err
				return
			}
			p := tunnelled{id: r[0], family: r[1], blades: int(v[0]), diameter: v[1] * in, pitch: v[2] * in}
			blade, err := rotor.Generic(p.diameter, p.pitch, p.blades, 0)
			g := rotor.Geometry{Diameter: p.diameter, Blades: p.blades, Blade: blade}
			s, err2 := rotor.New(g, a)
			if errs[i] = errors.Join(err, err2); errs[i] != nil {
				return
			}
			static, speeds := 0.0, 0.0
			ln := 0.0 // of the speeds at rest
			for _, m := range states[p.id] {
				if m.J == 0 {
					static += m.CT
					ln += math.Log(m.n)
					speeds++
				}
			}
			for _, m := range states[p.id] {
				const slowest, small = 0.3, 0.3 // advance ratio; of CT at rest, below which relative errors mean little
				if m.J > slowest || m.CT <= small*static/speeds {
					continue
				}
				q, err := s.Solve(m.J, m.n)
				if err != nil {
					errs[i] = err
					return
				}
				e := [2]float64{math.Log(m.CT / q.CT), math.Log(m.CP / q.CP)}
				if m.J == 0 {
					p.rest = append(p.rest, e)
				} else {
					p.slow = append(p.slow, e)
				}
			}
			p.spread, p.together, errs[i] = StaticSpread(g, a, math.Exp(ln/speeds))
			all[i] = p
		})
	}
	wg.Wait()
	return all, errors.Join(errs...)
})

// tunnelRows reads a file of the wind-tunnel data without its header.
func tunnelRows(name string) ([][]string, error) {
	f, err := os.Open(filepath.Join("rotor", "testdata", "propellers", name))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, err
	}
	return all[1:], nil
}

func numbersOf(texts []string) (v []float64, err error) {
	v = make([]float64, len(texts))
	for i, s := range texts {
		var bad error
		v[i], bad = strconv.ParseFloat(s, 64)
		err = errors.Join(err, bad)
	}
	return v, err
}

// tunnelQuantity is one that the model draws for a propeller at rest, as sensitivities to
// ln CT and ln CP.
type tunnelQuantity struct {
	name   string
	CT, CP float64
}

var tunnelQuantities = []tunnelQuantity{{"CT", 1, 0}, {"CP", 0, 1}, {"CP/CT^1.5", -1.5, 1}}

// within says which share of some errors of a propeller lies within what is drawn, with
// all spreads times widen.
func (q tunnelQuantity) within(p *tunnelled, widen float64, errs [][2]float64) (share float64) {
	a, b := q.CT*p.spread[0], q.CP*p.spread[1]
	sd := math.Sqrt(a*a + b*b + 2*p.together*a*b)
	for _, e := range errs {
		if math.Abs(q.CT*e[0]+q.CP*e[1]) <= outer*widen*sd {
			share += 1 / float64(len(errs))
		}
	}
	return share
}

// tunnelGroups are those of the propellers that coverage is told of.
var tunnelGroups = []struct {
	name string
	in   func(p *tunnelled) bool
}{
	{"all", func(*tunnelled) bool { return true }},
	{"below 7 in", func(p *tunnelled) bool { return p.inches() < 7 }},
	{"7 to 10 in", func(p *tunnelled) bool { return p.inches() >= 7 && p.inches() <= 10 }},
	{"above 10 in", func(p *tunnelled) bool { return p.inches() > 10 }},
	{"two blades", func(p *tunnelled) bool { return p.blades == 2 }},
	{"three and four blades", func(p *tunnelled) bool { return p.blades > 2 }},
}

func (p *tunnelled) inches() float64 { return math.Round(p.diameter/in*1e6) / 1e6 }

// tunnelStates are the states that coverage is told of, a propeller's errors in each.
var tunnelStates = []struct {
	name string
	errs func(p *tunnelled) [][2]float64
}{
	{"at rest", func(p *tunnelled) [][2]float64 { return [][2]float64{off(p.rest)} }},
	{"at rest, speed by speed", func(p *tunnelled) [][2]float64 { return p.rest }},
	{"at advance ratios up to 0.3", func(p *tunnelled) [][2]float64 { return [][2]float64{off(p.slow)} }},
}

// tunnelCovered is the coverage of a quantity in one state, over a group of propellers.
func tunnelCovered(t testing.TB, q tunnelQuantity, state, group int, widen float64) (out []covered) {
	t.Helper()
	all, err := tunnel()
	if err != nil {
		t.Fatal(err)
	}
	for i := range all {
		if p := &all[i]; tunnelGroups[group].in(p) {
			out = append(out, covered{cluster: p.family, share: q.within(p, widen, tunnelStates[state].errs(p))})
		}
	}
	return out
}

// The spreads that propellers are drawn with are those by which the model errs on families
// of propellers known by their labels: J.B. Brandt, R.W. Deters, G.K. Ananda, O.D. Dantsker,
// M.S. Selig, UIUC Propeller Database, Vols 1-3. Their errors go together as drawn too, since
// it holds for CP/CT^1.5. Half as much again or half would be told.
func TestTunnelCoverage(t *testing.T) {
	t.Parallel()
	for _, q := range tunnelQuantities {
		for _, widen := range []float64{1, 1.5, 0.5} {
			name := q.name + " at rest"
			of := tunnelCovered(t, q, 0, 0, widen)
			a, b := bootstrap(name, of, rooted), bootstrap(name, of, alike)
			t.Logf("%s, spreads x %g: %v, each propeller alike %v, of %d", name, widen, a, b, len(of))
			if right := a.right() && b.right(); right != (widen == 1) || len(of) < 150 {
				t.Errorf("%s, spreads x %g: P10 to P90 cover %v, each propeller alike %v, of %d: is 80 %% in both: %t",
					name, widen, a, b, len(of), right)
			}
		}
	}
}
