package model

import (
	"math"
	"testing"

	"rotorsieve/model/basis"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
)

// halves divide the motors of the stand into two that see as many sizes and windings.
var halves = [2]map[string]bool{
	{"M01": true, "M04": true, "M07": true, "M12": true},
	{"M02": true, "M05": true, "M09": true, "M10": true},
}

// chain is what a row at full duty says of its motor, by its label alone: back-EMF of the
// label's KV, ohmic drop, and the drop of a unit of reactance, in V.
func chain(r *standRow) (emf, ohmic, reactive float64) {
	label := motor.New(r.stator, r.kv, motor.Use{Winding: standWinding, PulseRate: standPulse})
	kt := 60 / (2 * math.Pi * r.kv)
	return 2 * math.Pi * r.n * kt, r.amps * (label.R + label.Rated(standRating).Series()),
		r.n * r.amps * kt * kt / label.Volume
}

// underLoad is the KV under load over the label's that fits rows at full duty best, given
// the reactance x, and voltageMisfit the relative errors of the voltage with it.
func underLoad(rows []standRow, x float64) float64 {
	var ee, ev float64
	for i := range rows {
		emf, ohmic, reactive := chain(&rows[i])
		w := 1 / (rows[i].volts * rows[i].volts)
		ee += w * emf * emf
		ev += w * emf * (rows[i].volts - ohmic - x*reactive)
	}
	return ee / ev
}

func voltageMisfit(rows []standRow, kv, x float64) (m misfit) {
	for i := range rows {
		emf, ohmic, reactive := chain(&rows[i])
		m = append(m, (emf/kv+ohmic+x*reactive)/rows[i].volts-1)
	}
	return m
}

// The constants of the chain under load, fitted on either half of the motors: no propeller
// is in it, since speed, voltage and current are measured. With the constants' reactance
// and the KV of one half, the other half is met better than with a reactance of 3.2e-5 and
// the KV that goes with it: a reactance that high is not needed, and would leave a motor of
// 40 A too little voltage.
func TestStandHalves(t *testing.T) {
	t.Parallel()
	const used, small, large = 0.86, 5e-6, 3.2e-5
	var seen []float64
	var kept, other misfit
	for k, half := range halves {
		fit := rowsOf(t, func(r *standRow) bool { return s1(r) && r.full() && half[r.motor] })
		rest := rowsOf(t, func(r *standRow) bool { return s1(r) && r.full() && !half[r.motor] })
		kv := underLoad(fit, small)
		seen = append(seen, kv)
		kept = append(kept, voltageMisfit(rest, kv, small)...)
		other = append(other, voltageMisfit(rest, underLoad(fit, large), large)...)
		t.Logf("half %d: KV under load %.3f of the label, voltage of the other half %v %%", k+1, kv,
			voltageMisfit(rest, kv, small))
	}
	for _, kv := range seen {
		if math.Abs(kv/used-1) > 0.04 {
			t.Errorf("KV under load %.3f of the label on a half, %g used with a spread of 4 %%", kv, used)
		}
	}
	t.Logf("voltage of the half that was not seen: rms %.2f %%, with a reactance of %g %.2f %%", 100*kept.rms(), large,
		100*other.rms())
	if !(kept.rms() < other.rms()) {
		t.Errorf("a reactance of %g meets the half that did not see it better: %.4f, %.4f", large, other.rms(),
			kept.rms())
	}
}

// The chopping loss, fitted on either half of the motors to what the same speed costs more
// from 11 V than from 7 V.
func TestStandChopping(t *testing.T) {
	t.Parallel()
	all := rowsOf(t, s1)
	for k, half := range halves {
		var xx, xy float64 // of the extra power over what is lost without: the loss of unit c, and measured
		for _, m := range names(all, func(r *standRow) string { return r.motor }) {
			if !half[m] {
				continue
			}
			for _, p := range names(all, func(r *standRow) string { return r.propeller }) {
				atBothVoltages(t, m, p, func(r *standRow, P, V float64) {
					s, err := stands.of(r, r.volts)
					if err != nil {
						t.Fatal(err)
					}
					a, _ := s.AtSpeed(r.n)
					s.Volts = V
					b, _ := s.AtSpeed(r.n)
					x := (a.Chopping - b.Chopping) / P
					y := (r.power() - P - (a.Electrical() - a.Chopping) + (b.Electrical() - b.Chopping)) / P
					xx += x * x
					xy += x * y
				})
			}
		}
		t.Logf("half %d: %.2f of the chopping loss", k+1, xy/xx)
		if ratio := xy / xx; math.Abs(ratio-1) > 0.30 {
			t.Errorf("half %d asks for %.2f of the chopping loss, its spread is 30 %%", k+1, ratio)
		}
	}
}

// What the spread of the KV under load rests on: each motor's own KV at full duty, at the
// resistance, leads and reactance of the constants, lies about the mean of the motors as wide as
// all of these are drawn together. 5 % for KV alone would count the others twice. Of k motors a
// further one lies about the mean of the others with (k + 1)/(k - 1) of their variance; eight tell
// a spread to a quarter.
func TestStandSpread(t *testing.T) {
	t.Parallel()
	constants := motor.Basis()
	sigma := func(symbol string) float64 { return basis.Find(constants, symbol).Sigma }
	const quarter = 0.25
	var own misfit
	var others float64 // variance
	motors := names(rowsOf(t, s1), func(r *standRow) string { return r.motor })
	for _, m := range motors {
		rows := rowsOf(t, func(r *standRow) bool { return s1(r) && r.full() && r.motor == m })
		p := motor.Nominal()
		own = append(own, math.Log(underLoad(rows, p.Reactance)/p.UnderLoad))
		for i := range rows {
			r := &rows[i]
			label := motor.New(r.stator, r.kv, motor.Use{Winding: standWinding, PulseRate: standPulse})
			c := label.Rated(standRating)
			emf, _, reactive := chain(r)
			emf /= p.UnderLoad
			for _, drop := range []float64{r.amps * label.R * MotorSpread(record.Resistance),
				r.amps * c.R * sigma("controller drop"),
				r.amps * c.Leads * sigma("leads drop"), p.Reactance * reactive * sigma("x")} {
				others += drop * drop / (emf * emf) / float64(len(rows)*len(motors))
			}
		}
	}
	mean, k := own.mean(), float64(len(own))
	for i := range own {
		own[i] -= mean
	}
	whole := own.rms() * math.Sqrt((k+1)/(k-1))
	left := math.Sqrt(whole*whole - others)
	t.Logf("KV of a further motor lies within %.1f %%, %.1f %% of that by resistance, leads and reactance, %.1f %% by "+
		"itself", 100*whole, 100*math.Sqrt(others), 100*left)
	used := MotorSpread(record.KV)
	if !(math.Abs(math.Log(used/left)) <= quarter && math.Log(0.05/left) > quarter) {
		t.Errorf("KV under load is drawn with %.1f %%, the motors ask for %.1f %%", 100*used, 100*left)
	}
}
