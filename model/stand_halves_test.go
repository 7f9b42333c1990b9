package model

import (
	"math"
	"testing"

	"rotorsieve/model/motor"
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
		if math.Abs(kv/used-1) > 0.05 {
			t.Errorf("KV under load %.3f of the label on a half, %g used with a spread of 5 %%", kv, used)
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
