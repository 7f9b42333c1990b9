package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

// Mark is the sentence of a mark.
func Mark(m model.Mark) string { head, rest := markWords(m); return head + rest }

// MarkShort is a mark in few words: what is outside, without the limit.
func MarkShort(m model.Mark) string { head, _ := markWords(m); return head }

// markWords says what of a craft lies outside, and outside what.
func markWords(m model.Mark) (head, rest string) {
	if m.Limit.Extrapolated {
		return noteWords(m)
	}
	validated := " is outside the validated " + m.Limit.Range
	switch m.Of {
	case model.OfDiameter:
		return fmt.Sprintf("propeller diameter of %.4g in", finding.Inch.FromSI(m.Value)), validated
	case model.OfCorrection:
		if m.Value == 0 {
			return "propeller is not corrected",
				": none that was measured is near it in diameter, pitch ratio and blades"
		}
		return "propeller is hardly corrected",
			fmt.Sprintf(": %.2g %% of the correction of measured ones carries over to it, below %g %%", 100*m.Value,
				100*model.LeastShare)
	case model.OfMass:
		return "all-up weight of " + weight(m.Value, m.Value), validated
	case model.OfAir, model.OfPack:
		what, T := "air", model.ValidTemperature
		if m.Of == model.OfPack {
			what = "pack"
		}
		return fmt.Sprintf("%s temperature of %.4g degC", what, finding.Celsius.FromSI(m.Value)),
			fmt.Sprintf(" is outside the validated %.4g to %.4g degC", finding.Celsius.FromSI(T.Min),
				finding.Celsius.FromSI(T.Max))
	case model.OfStator:
		return fmt.Sprintf("stator of %.4g mm x %.4g mm", m.Value*1e3, m.Other*1e3),
			fmt.Sprintf(" is outside the %g to %g mm x %g to %g mm of the motor regressions",
				motor.MinDiameter*1e3, motor.MaxDiameter*1e3, motor.MinHeight*1e3, motor.MaxHeight*1e3)
	case model.OfTipMach:
		above := fmt.Sprintf(" is above the validated %g", model.ValidTipMach)
		if m.At == model.FullThrottle {
			return fmt.Sprintf("full-throttle tip Mach number of %.3g", m.Value), above
		}
		return fmt.Sprintf("tip Mach number of %.3g %s", m.Value, momentText(m.At)), above
	case model.OfReynolds:
		return reynoldsText(m), fmt.Sprintf(" is below the validated %g", model.ValidReynolds)
	case model.OfRating:
		return fmt.Sprintf("controller rating of %g A", m.Value),
			fmt.Sprintf(" is above the common %g A", motor.MaxRating)
	case model.OfJoinedRating:
		return fmt.Sprintf("controller rating of %g A", m.Value),
			fmt.Sprintf(" is above the %g A that boards with the flight controller commonly have", motor.MaxJoined)
	case model.OfHeat:
		if math.IsInf(m.Value, 1) {
			return "motors run away thermally " + momentText(m.At), ": their losses grow faster than the air takes them"
		}
		return fmt.Sprintf("motor temperature %s is above %g degC", momentText(m.At),
			finding.Celsius.FromSI(motor.BurstLimit)), ""
	case model.OfLevelFlight:
		return "level flight", ": the weight is outside what the propellers carry within the rotor model"
	case model.OfTopSpeed:
		return "top speed is bounded by the speeds of rotation that the rotor model covers, not by the craft", ""
	case model.OfInFlow:
		where := map[model.Moment]string{model.Cruising: "the airspeed of least power",
			model.Ranging: "the airspeed of best range", model.FastestLevel: "top speed"}[m.At]
		return fmt.Sprintf("flow along the discs is %.2g of the tip speed at %s", m.Value, where),
			fmt.Sprintf(", above the validated %g", model.ValidInFlow)
	}
	panic(fmt.Sprintf("words: no words for the mark %+v", m))
}

// noteWords says what of a craft lies beyond what was measured, and beyond what.
func noteWords(m model.Mark) (head, rest string) {
	switch m.Of {
	case model.OfTipMach:
		return fmt.Sprintf("tip Mach number of %.3g %s", m.Value, momentText(m.At)),
			fmt.Sprintf(" is beyond the %.3g measured at %s: by theory", m.Other, m.Limit.Band.Name)
	case model.OfReynolds:
		b := m.Limit.Band
		return reynoldsText(m),
			fmt.Sprintf(" is beyond the %.0f to %.0f measured at %s: by theory", b.Reynolds.Min, b.Reynolds.Max, b.Name)
	case model.OfBlades:
		blades := int(m.Other)
		return fmt.Sprintf("propeller of %d blades and %.4g in", blades, finding.Inch.FromSI(m.Value)),
			": " + gapText(model.BladesBeyond(m.Value, blades))
	}
	panic(fmt.Sprintf("words: no words for the note %+v", m))
}

func reynoldsText(m model.Mark) string {
	return fmt.Sprintf("Reynolds number of %.0f at 75 %% radius %s", math.Round(m.Value/100)*100, momentText(m.At))
}

func momentText(at model.Moment) string {
	return [...]string{"", "at full throttle", "in hover", "in cruise", "at best range", "at top speed"}[at]
}

// gapText says in what a number of blades was not measured, "" where it was.
func gapText(g model.BladeGap) string {
	return [...]string{"", "more than four blades are measured at no size",
		"three and four blades are measured near 5 in alone"}[g]
}

// stateMarkText names what of a rotor's or a stand's state lies outside, or beyond the
// measurements.
func stateMarkText(m model.StateMark) string {
	text := map[model.Subject]string{
		model.OfDiameter: "diameter", model.OfAir: "temperature", model.OfTipMach: "tip Mach", model.OfReynolds: "Re",
		model.OfAdvance: "J", model.OfBlades: "blades", model.OfStator: "stator", model.OfRating: "controller rating",
		model.OfHeat: "motor temperature",
	}[m.Of]
	if m.Beyond {
		text += " beyond measurements"
	}
	return text
}

// StateMarks names what of a rotor's state lies outside the validity of the model, or
// beyond what was measured, in the order of marks.
func StateMarks(marks []model.StateMark) []string { return Each(marks, stateMarkText) }

// Each is what is said of each of some things.
func Each[T, S any](all []T, say func(T) S) []S {
	var out []S
	for _, x := range all {
		out = append(out, say(x))
	}
	return out
}

// Marks are the sentences of marks.
func Marks(marks []model.Mark) []string { return Each(marks, Mark) }

// warningTexts are the sentences of the marks of a design, also of one that was read back.
func warningTexts(x *finding.Row) []string {
	return append(Marks(x.Marks), Each(x.Told, func(t finding.ToldMark) string { return t.Words })...)
}

// WarningsShort are the same in few words.
func WarningsShort(x *finding.Row) []string {
	short := func(t finding.ToldMark) string { return texts.Or(t.Short, t.Words) }
	return append(Each(x.Marks, MarkShort), Each(x.Told, short)...)
}

// Warnings are the sentences of the marks of a design in one line.
func Warnings(x *finding.Row) string { return strings.Join(warningTexts(x), "; ") }

// Star follows the name of a design outside the model's validity.
func Star(marked bool) string {
	if marked {
		return " *"
	}
	return ""
}

// Outside gathers in what designs lie outside the model's validity, for the note
// of a figure.
type Outside struct {
	places  []string
	reasons map[string][]string // by place
}

// Add notes the marks of a design, in few words, and returns its star. The place says
// which design it is, "" where there is only one.
func (o *Outside) Add(place string, shorts []string) string {
	if len(shorts) > 0 && !slices.Contains(o.places, place) {
		o.places = append(o.places, place)
	}
	for _, why := range shorts {
		if o.reasons == nil {
			o.reasons = map[string][]string{}
		}
		if !slices.Contains(o.reasons[place], why) {
			o.reasons[place] = append(o.reasons[place], why)
		}
	}
	return Star(len(shorts) > 0)
}

// AddCraft is add for a craft.
func (o *Outside) AddCraft(place string, c *model.Craft) string {
	return o.Add(place, Each(c.Warnings(), MarkShort))
}

// Note says what the stars mean, "" where there are none.
func (o *Outside) Note() string {
	if len(o.places) == 0 {
		return ""
	}
	return " * outside the model's validity: " + strings.Join(Each(o.places, func(place string) string {
		return strings.TrimSpace(place + " " + strings.Join(o.reasons[place], ", "))
	}), "; ") + "."
}

// NoteWithin is Note in so many letters, or without the reasons where it would have more.
func (o *Outside) NoteWithin(most int) string {
	if note := o.Note(); len(note) <= most {
		return note
	}
	return " * outside the model's validity."
}

// Lack says which operating point a craft lacks, and why.
func Lack(x model.Lack) string {
	what := "full throttle at rest"
	if x.Hover {
		what = "hover"
	}
	turns := unit.Rotation.Unit("rpm").Format(x.Speed, 4)
	asks := fmt.Sprintf(" asks for %.4g N of each propeller, which would turn", x.Thrust)
	switch ends := fmt.Sprintf("%s, tip Mach %.3g, where the rotor model ends", turns, x.TipMach); {
	case x.Why == flight.TooFast && x.Hover:
		return what + asks + " past " + ends
	case x.Why == flight.TooFast:
		return what + " would turn the propellers past " + ends
	case x.Why == flight.TooSlow && x.Hover:
		return what + asks + " slower than " + turns + ", where the rotor model begins"
	case x.Why == flight.TooSlow:
		return what + " does not turn the propellers faster than " + turns + ", where the rotor model begins"
	case x.Why == flight.PastDuty:
		what += fmt.Sprintf(" would need %.4g %% duty at the pack's mean voltage", 100*x.Duty)
		if x.ThrustToWeight > 0 {
			what += fmt.Sprintf("; static thrust to weight is %.3g", x.ThrustToWeight)
		}
		return what
	}
	what += " asks for more power than the pack can give"
	if x.Hover {
		what += " at its mean voltage"
	}
	return what
}

// TopLimit says what bounds the top speed.
func TopLimit(l model.TopLimit) string {
	if l.Required {
		return l.By.String() + " as required"
	}
	return l.By.String()
}

// NotFlown says why a craft does not keep up an airspeed in m/s.
func NotFlown(c *model.Craft, airspeed float64) string {
	mps := unit.Speed.Unit("m/s")
	if top := c.Flight.Top.Airspeed; !(airspeed <= top) {
		return fmt.Sprintf("%s is past the top speed of %s, which is limited by %s", mps.Format(airspeed, 4),
			mps.Format(top, 3), TopLimit(c.TopLimit()))
	}
	return fmt.Sprintf("%s is past what full duty gives at the pack's mean voltage", mps.Format(airspeed, 4))
}

// Ceiling says what sets the ceiling of a craft, after Explain.
func Ceiling(c *model.Craft) string {
	m := unit.Length.Unit("m")
	reserve := c.Model.Assume.ThrustReserve
	switch c.CeilingLimit() {
	case model.ByReserve:
		return fmt.Sprintf("thrust to weight has fallen to the reserve of %g", reserve)
	case model.ByAltitude:
		return "at least so high: the highest altitude that the model knows"
	case model.ByAir:
		return "at least so high: above, the air is colder than the model knows"
	case model.ByRotor:
		return "at least so high: above, full throttle is past the speeds of rotation that the rotor model covers"
	}
	return fmt.Sprintf("thrust to weight is %.3g at %s, and below the reserve of %g at all altitudes from %s",
		finding.Metric("thrust-to-weight").Of(c), m.Format(c.Model.Assume.Altitude, 5), reserve,
		m.Format(model.AltitudeBound.Min, 5))
}
