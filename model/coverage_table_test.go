package model

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"

	"rotorsieve/model/field"
)

// coverageTable is the table of coverage with what goes with it.
func coverageTable(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("Share in per cent of what was measured that lies between P10 and P90 of what is drawn for it, about the " +
		"model's prediction, and the")
	line("95 %% interval of a bootstrap over clusters: families of propellers, motors, or propellers. It is to hold 80. " +
		"A family of k propellers")
	line("weighs sqrt(k), as where the prior of the blade is learnt, or k (each alike). At rest: the mean error of a " +
		"propeller over its speeds; drawn")
	line("with the spreads and the correlation of `model.StaticSpread`. Data of the tables above, blades known by " +
		"diameter, pitch and number.")
	line("")
	line("| wind tunnel | group | propellers | families | covered | each alike |")
	line("|---|---|---|---|---|---|")
	tunnelLines(t, line)
	line("")
	line("| stand | propellers known by | clusters | rows | covered |")
	line("|---|---|---|---|---|")
	standLines(t, line)
	line("")
	structure(t, line)
	return b.Bytes()
}

func tunnelLines(t testing.TB, line func(string, ...any)) {
	for state, s := range tunnelStates {
		for _, q := range tunnelQuantities {
			for group, g := range tunnelGroups {
				if group > 0 && state == 1 || group > 3 && state == 2 {
					continue // hardly different
				}
				name := q.name + " " + s.name
				of := tunnelCovered(t, q, state, group, 1)
				line("| %s | %s | %d | %d | %v | %v |", name, g.name, len(of), clusters(of),
					bootstrap(name+", "+g.name, of, rooted), bootstrap(name+", "+g.name, of, alike))
			}
		}
	}
	of := tunnelCovered(t, tunnelQuantities[0], 0, 1, 1)
	offs, spreads := standBlades(t)
	for i := range offs {
		c := covered{cluster: "stand"}
		if math.Abs(offs[i]) <= outer*spreads[i] {
			c.share = 1
		}
		of = append(of, c)
	}
	const name = "CT, tunnel and 5 in stand"
	line("| %s | below 7 in | %d | %d | %v | %v |", name, len(of), clusters(of), bootstrap(name, of, rooted),
		bootstrap(name, of, alike))
}

// clusters is how many there are.
func clusters(of []covered) int {
	seen := map[string]bool{}
	for _, c := range of {
		seen[c.cluster] = true
	}
	return len(seen)
}

func standLines(t testing.TB, line func(string, ...any)) {
	show := func(stand, known, of string, all []named, weight func(int) float64) {
		for _, q := range all {
			c := bootstrap(q.name, q.of, weight)
			text := c.String()
			if clusters(q.of) == 1 {
				text = fmt.Sprintf("%.0f %%", 100*c.share)
			}
			line("| %s, %s | %s | %d %s | %d | %s |", stand, q.name, known, clusters(q.of), of, len(q.of), text)
		}
	}
	other, err := standByStand()
	if err != nil {
		t.Fatal(err)
	}
	show("5 in", "CT and CP on the other half of the motors", "motors", other.quantities(), alike)
	small, large, all := labelled(t)
	show("5 in", "label", "motors", small, alike)
	show("8 and 9.4 in", "label", "motor", large, alike)
	show("all", "label", "propellers alike", all, single)
}

// structure says how the errors of propellers go together, in the data and as drawn.
func structure(t testing.TB, line func(string, ...any)) {
	all, err := tunnel()
	if err != nil {
		t.Fatal(err)
	}
	members := map[string]int{}
	for i := range all {
		members[all[i].family]++
	}
	var families []string
	var errs, spreads [2]misfit
	var together float64
	var square [2]float64
	var drawn misfit
	var weights float64
	for i := range all {
		p := &all[i]
		families = append(families, p.family)
		w := 1 / math.Sqrt(float64(members[p.family]))
		weights += w
		e := off(p.rest)
		for q := range e {
			errs[q] = append(errs[q], e[q])
			spreads[q] = append(spreads[q], p.spread[q])
			square[q] += w * e[q] * e[q]
		}
		together += w * e[0] * e[1]
		drawn = append(drawn, p.together)
	}
	slices.Sort(drawn)
	line("Errors of propellers at rest, of the logarithms, between families and within them (random effects, by the " +
		"analysis of variance), and")
	line("as drawn, by the share of the field that neighbours have in common:")
	line("")
	line("| | between families | within | root mean square, families as sqrt(k) | drawn in common | of its own | in all |")
	line("|---|---|---|---|---|---|---|")
	for q, name := range []string{"CT", "CP"} {
		between, within := components(families, errs[q])
		rms := spreads[q].rms()
		line("| %s | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f |", name, between, within, math.Sqrt(square[q]/weights),
			math.Sqrt(field.Share)*rms, math.Sqrt(1-field.Share)*rms, rms)
	}
	line("")
	line("Correlation of the errors of CT and CP: %.2f in the data, %.2f as drawn (median; %.2f to %.2f).",
		together/math.Sqrt(square[0]*square[1]), median(drawn), drawn[0], drawn[len(drawn)-1])
	offs, own := standBlades(t)
	line("CT of the six propellers of the 5 in stand is off by %.1f %% (rms), drawn with %.1f %%.", 100*misfit(offs).rms(),
		100*misfit(own).rms())
}

// TestCoverageTable compares the table of coverage in DEVELOPERS.md with what is measured;
// with -update it writes it there.
func TestCoverageTable(t *testing.T) { documented(t, "coverage", coverageTable(t)) }
