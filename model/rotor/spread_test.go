package rotor

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestSpreadHeldOut has the spreads of the generic blade, by which propellers are drawn,
// learnt from one half of the families and judged on the other, 12 times by lot: P10 to P90
// about the model's prediction cover four in five of the propellers there, a family of k
// weighing sqrt(k).
func TestSpreadHeldOut(t *testing.T) {
	t.Parallel()
	all, err := samples()
	if err != nil {
		t.Fatal(err)
	}
	errors := map[string]seen{}
	for _, s := range allSeen(t) {
		errors[s.id] = s
	}
	members := map[string]int{}
	for _, s := range all {
		members[s.family]++
	}
	var families []string
	for f := range members {
		families = append(families, f)
	}
	slices.Sort(families)
	rng := rand.New(rand.NewPCG(7, 71))
	var halves [2][]float64 // coverage of CT and CP of each half that was judged
	for range 12 {
		rng.Shuffle(len(families), func(i, j int) { families[i], families[j] = families[j], families[i] })
		for _, from := range [][]string{families[:len(families)/2], families[len(families)/2:]} {
			var known []sample
			for _, s := range all {
				if slices.Contains(from, s.family) {
					known = append(known, s)
				}
			}
			learnt := learn(known)
			var inside [2]float64
			weights := 0.0
			for _, s := range all {
				if slices.Contains(from, s.family) {
					continue
				}
				e := errors[s.id]
				prior := genericPrior(s.diameter, s.blades, false)
				w := 1 / math.Sqrt(float64(members[s.family]))
				weights += w
				for q, off := range e.off {
					variance := 0.0
					for k, v := range e.estimate.Sensitivity[q] {
						spread := learnt[k].spread
						if k == 2 && s.blades > 2 {
							spread = math.Hypot(spread, moreChordSpread)
						}
						variance += math.Pow(v*spread/prior.spread[k], 2)
					}
					const outer = 1.2816 // P90 of a normal distribution, in standard deviations
					if math.Abs(off) <= outer*math.Sqrt(variance) {
						inside[q] += w
					}
				}
			}
			for q := range inside {
				halves[q] = append(halves[q], inside[q]/weights)
			}
		}
	}
	said := [2]float64{74, 82} // per cent, in DEVELOPERS.md
	for q, name := range []string{"CT", "CP"} {
		sum, least, most := 0.0, 1.0, 0.0
		for _, c := range halves[q] {
			sum += c / float64(len(halves[q]))
			least, most = min(least, c), max(most, c)
		}
		t.Logf("static %s: P10 to P90 cover %.1f %% of the families held out, %.0f to %.0f %% of the halves", name, 100*sum,
			100*least, 100*most)
		if math.Abs(100*sum-said[q]) > 0.5 {
			t.Errorf("static %s: P10 to P90 cover %.1f %%, said %g", name, 100*sum, said[q])
		}
		if !(math.Abs(sum-0.8) <= 0.08 && least < 0.8 && most > 0.8) {
			t.Errorf("static %s: P10 to P90 cover %.1f %% of the families held out, want 80 within 8", name, 100*sum)
		}
	}
}
