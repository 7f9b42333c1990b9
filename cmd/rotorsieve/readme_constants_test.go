package main

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// unwrapped is a file with its line ends as spaces.
func unwrapped(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(b)), " ")
}

// What README.md says of constants and their spreads is what Basis lists, and of the
// parts that decide most it states no other spread.
func TestReadmeStatesConstants(t *testing.T) {
	all := slices.Concat(rotor.Basis(), motor.Basis(), pack.Basis(), frame.Basis(), flight.Basis())
	value := func(symbol string) float64 { return basis.Find(all, symbol).Value }
	spread := func(symbol string) string { return basis.Find(all, symbol).Spread }
	of := func(format string, args ...any) string { return fmt.Sprintf(format, args...) }
	text := unwrapped(t, "../../README.md")

	decide := of("chord at 75 %% radius %g R at %g in, with the diameter to the power %.2f above and %.2f below (%s), "+
		"times %g for more than two blades (%s besides); pitch that of the label, times (D/%g in)^%g below %g in and "+
		"%g for more than two blades (%s)",
		value("c75/R"), value("D_c"), value("n_c"), value("n_c small"), spread("c75/R"), value("k_cB"), spread("k_cB"),
		value("D_small"), value("n_P"), value("D_small"), value("k_PB"), spread("k_PB"))
	said := []string{decide,
		of("as if its KV were %g of the label's (%s)", value("KV under load"), spread("KV under load")),
		of("the motor constant Km of the stator (%s)", spread("Km scale")),
		of("(x to %s; the same stands)", spread("x")),
		of("(c to %s, the pulse rate of the stands to %s; the same stands)", spread("c"), spread("f stand")),
		of("%g V over the switches at the rating (common practice) and %g V over leads and joints (the same stands), "+
			"%s each",
			value("controller drop"), value("leads drop"), spread("leads drop")),
		of("an edge of %g ns (%s), %g W of logic (%s; common practice)", 1e9*value("controller edge"),
			spread("controller edge"),
			value("controller idle"), spread("controller idle")),
		of("takes %.3g g/A for a board with the flight controller (%s)", 1e3*value("controller joined"),
			spread("controller joined")),
		of("%g kN·m per m³ of a 2207 stator, with the cube root of the volume (%s; common practice)",
			1e-3*value("Q/V_s burst"), spread("Q/V_s burst")),
		of("to the power of %g (%s)", value("G exponent of the wash"), spread("G")),
	}
	if spread("controller drop") != spread("leads drop") {
		t.Errorf("the drops of switches and leads spread %s and %s", spread("controller drop"), spread("leads drop"))
	}
	_, section, _ := strings.Cut(text, "The parts that decide most:")
	section, _, ok := strings.Cut(section, "## How far to trust it")
	if !ok {
		t.Fatal("README.md has no parts that decide most")
	}
	for _, s := range said {
		if !strings.Contains(section, s) {
			t.Errorf("README.md does not say %q", s)
		}
		section = strings.ReplaceAll(section, s, "")
	}
	if other := regexp.MustCompile(`[^.;]*\d %[^.;]*`).FindString(section); other != "" {
		t.Errorf("README.md states a spread that is not checked: %q", other)
	}

	least, most := 1.0, 0.0
	regressions := []string{
		"Km scale", "motor mass scale", "pack overhead", "high-rate mass", "high-rate R C", "frame scale",
	}
	for _, symbol := range regressions {
		s := basis.Find(all, symbol).Sigma
		least, most = min(least, s), max(most, s)
	}
	for _, s := range []string{
		of("Motor, pack and frame are regressions with a spread of %g to %g %%", 100*least, 100*most),
		of("The body's drag area is a rule of thumb (%s), and so is the motors' cooling (%s)",
			spread("body drag"), spread("G")),
		of("%g %% of thrust is taken for the slipstream on arms and body", 100*value("download")),
	} {
		if !strings.Contains(text, s) {
			t.Errorf("README.md does not say %q", s)
		}
	}
}

// So is what is said of the pulse rate, where it is asked for and in DEVELOPERS.md.
func TestPulseRateSpread(t *testing.T) {
	rate, ok := model.LookupAssumption("pulse-rate")
	if !ok {
		t.Fatal("no pulse rate")
	}
	want := basis.Find(motor.Basis(), "f stand").Spread + " (1 sigma) where it is not known"
	if !strings.HasSuffix(rate.Meaning, want) {
		t.Errorf("the pulse rate is %q, want it to end with %q", rate.Meaning, want)
	}
	if !strings.Contains(unwrapped(t, "../../DEVELOPERS.md"), fmt.Sprintf("Meaning: %q", rate.Meaning)) {
		t.Error("DEVELOPERS.md has another meaning of the pulse rate")
	}
}
