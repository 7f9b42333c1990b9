package words

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep/decide"
)

// Measurable names what can be measured.
func Measurable(m decide.Measurable) string {
	switch m {
	case decide.FrameMass:
		return "the frame, weighed"
	case decide.PropellerThrust:
		return "the propeller's thrust on a stand"
	case decide.PropellerPower:
		return "the propeller's power on a stand"
	case decide.MotorResistance:
		return "the motor's resistance"
	case decide.PackResistance:
		return "the pack's resistance"
	case decide.PackMass:
		return "the pack, weighed"
	case decide.PackLimit:
		return "the pack's current limit"
	case decide.MotorCooling:
		return "the motor's cooling"
	case decide.HoverPower:
		return "the hover power of the built craft"
	case decide.MotorMass:
		return "the motor, weighed"
	}
	return "something else"
}

// WorthClass names a class of worth.
func WorthClass(k decide.WorthClass) string {
	switch k {
	case decide.LargeWorth:
		return "large"
	case decide.SomeWorth:
		return "some"
	}
	return "within noise"
}

// Measure names what is worth measuring, of a propeller at which speed of rotation, and of
// which build where that is another than the recommended: "the propeller's thrust on a
// stand at 12300 rpm (of 4×2.4×2, 1404 4400KV, 2S)".
func Measure(m *finding.Measure) string {
	what := func(x decide.Measurable) string {
		s := Measurable(x)
		if finding.OfPropeller(x) && m.RPM > 0 {
			s += fmt.Sprintf(" at %.0f rpm", 100*math.Round(m.RPM/100))
		}
		return s
	}
	s := what(m.What)
	if m.Pair {
		s += " and " + what(m.Another)
	}
	if m.Of != nil && m.Build != 0 {
		s += " (of " + Build(m.Of.Design) + ")"
	}
	return s
}

// shownMeasures is how many things worth measuring a terminal tells of.
const shownMeasures = 3

// Measures say what to measure first. It is "" where nothing was looked at.
func Measures(c *finding.Choice) string {
	single, pair := c.Measures()
	if len(single) == 0 {
		return ""
	}
	var all []string
	for _, m := range single {
		if m.Class != decide.WithinNoise && len(all) < shownMeasures {
			all = append(all, Measure(&m)+" "+worthText(c, m.Gain, len(all) == 0)+" ("+WorthClass(m.Class)+")")
		}
	}
	if len(all) == 0 {
		return "nothing that would move the choice by more than noise"
	}
	s := strings.Join(all, "; ")
	if pair != nil && pair.Class != decide.WithinNoise {
		s += "; as a pair " + Measure(pair) + " " + worthText(c, pair.Gain, false)
	}
	return s
}

// worthText is a gain in merit with its scale, which is named where it stands first: "gains 0.012
// of merit, 2.9 % of the build's median", "0.006, 1.4 %".
func worthText(c *finding.Choice, gain float64, first bool) string {
	of := c.Recommended().Merit.P50
	switch {
	case first && of > 0:
		return fmt.Sprintf("gains %s of merit, %.2g %% of the build's median", Merits(gain), 100*gain/of)
	case first:
		return "gains " + Merits(gain) + " of merit"
	case of > 0:
		return fmt.Sprintf("%s, %.2g %%", Merits(gain), 100*gain/of)
	}
	return Merits(gain)
}

// Sensitivity says what a source of error, a sigma to the side that moves more, or another
// assumption moves of the recommended build: "pack resistance +1 sigma: merit -0.044".
func Sensitivity(c *finding.Choice, s *decide.Sensitivity) string {
	was := c.Recommended().Nominal
	what, now, size := "", s.High, s.HighSize
	switch {
	case s.Assumption:
		what = strings.ReplaceAll(s.Name, "-", " ") + " (" + s.Meaning + ")"
	case math.Abs(s.Low-was) > math.Abs(s.High-was):
		what, now, size = s.Name+" -1 sigma", s.Low, s.LowSize
	default:
		what = s.Name + " +1 sigma"
	}
	text := what + ": " + moved(now, was)
	own := c.Recommended()
	if n := c.At(c.Nominal); n != nil {
		own = n // sizes are told apart by nominal merit
	}
	if size > 0 && size != own.Design.Diameter {
		text += ", nominal best then " + finding.Inch.Format(size, 4)
	}
	return text
}

// moved says what a merit has become, 0 for a build that fails.
func moved(now, was float64) string {
	if now == 0 && was > 0 {
		return "it fails"
	}
	return "merit " + Signed(now-was)
}

// shownSensitivities is how many a terminal tells of.
const shownSensitivities = 3

// Sensitivities say it of the largest.
func Sensitivities(c *finding.Choice) string {
	all := c.Sensitivities[:min(shownSensitivities, len(c.Sensitivities))]
	if len(all) == 0 {
		return ""
	}
	return "the widest spans of merit from -1 to +1 sigma, or of another assumption, first: " +
		strings.Join(Each(all, func(s decide.Sensitivity) string { return Sensitivity(c, &s) }), "; ")
}

// Loosened says what loosening a bound by a tenth gains: "use of the pack's rating at most
// 176 %: best merit +0.017".
func Loosened(c *finding.Choice, l *decide.Loosened) string {
	bound := "all-up weight at most " + Mass(l.Bound)
	if q := c.Gates[l.Gate].Requirement; q != nil {
		eased := *q
		eased.Bound = l.Bound
		bound = texts.Lower(q.Metric.Title) + " " + Bound(&eased)
	}
	if !l.Any {
		return bound + ": still no feasible design"
	}
	return bound + ": best merit " + Signed(l.Gain)
}

// WeightRange says over which weights of a term the choice stands: "the choice stands with
// hover time at 34 to 100 % of the merit (50 % asked); below it 2.5×2.25×3, 1404 4400KV, 4S".
func WeightRange(c *finding.Choice, w *decide.WeightRange) string {
	s := fmt.Sprintf("the choice stands with %s at %.0f to %.0f %% of the merit (%.0f %% asked)",
		texts.Lower(c.Merit[w.Term].Metric.Title), 100*w.Least, 100*w.Most, 100*w.Weight)
	for _, x := range []struct {
		where string
		build int
	}{{"below", w.Below}, {"above", w.Above}} {
		if b := c.At(x.build); b != nil {
			s += "; " + x.where + " it " + BuildOf(c, b)
		}
	}
	return s
}
