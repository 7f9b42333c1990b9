package words

import (
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// limitOf finds a limit of the model's validity.
func limitOf(t *testing.T, what string) *model.Validity {
	t.Helper()
	n := slices.IndexFunc(model.Validities, func(v *model.Validity) bool { return v.What == what })
	if n < 0 {
		t.Fatalf("the model has no limit %q", what)
	}
	return model.Validities[n]
}

// Every kind of mark has its sentence, which begins with the few words for it.
func TestMarkTexts(t *testing.T) {
	t.Parallel()
	said := map[*model.Validity]bool{}
	for _, c := range []struct {
		limit       string
		of          model.Subject
		at          model.Moment
		value       float64
		other       float64
		short, rest string
	}{
		{"Propeller diameter", model.OfDiameter, 0, finding.Inch.ToSI(2.5), 0,
			"propeller diameter of 2.5 in", " is outside the validated 3 to 10 in"},
		{"Correction by measured propellers", model.OfCorrection, 0, 0, 0,
			"propeller is not corrected", ": none that was measured is near it in diameter, pitch ratio and blades"},
		{"Correction by measured propellers", model.OfCorrection, 0, 0.324, 0,
			"propeller is hardly corrected",
			": 32 % of the correction of measured ones carries over to it, below 40 %"},
		{"All-up weight", model.OfMass, 0, 3.4961, 0,
			"all-up weight of 3.496 kg", " is outside the validated 0.1 to 3 kg"},
		{"Air and pack temperature", model.OfAir, 0, 255.65, 0,
			"air temperature of -17.5 degC", " is outside the validated -10 to 40 degC"},
		{"Air and pack temperature", model.OfPack, 0, 258.15, 0,
			"pack temperature of -15 degC", " is outside the validated -10 to 40 degC"},
		{"Stator diameter", model.OfStator, 0, 0.008, 0.003,
			"stator of 8 mm x 3 mm", " is outside the 11 to 28 mm x 3 to 16 mm of the motor regressions"},
		{"Stator height", model.OfStator, 0, 0.028, 0.02,
			"stator of 28 mm x 20 mm", " is outside the 11 to 28 mm x 3 to 16 mm of the motor regressions"},
		{"Full-throttle tip Mach number", model.OfTipMach, model.FullThrottle, 0.8512, 0,
			"full-throttle tip Mach number of 0.851", " is above the validated 0.8"},
		{"Tip Mach number at top speed", model.OfTipMach, model.FastestLevel, 0.85, 0,
			"tip Mach number of 0.85 at top speed", " is above the validated 0.8"},
		{"Reynolds number at 75 % radius in hover", model.OfReynolds, model.Hovering, 17980, 0,
			"Reynolds number of 18000 at 75 % radius in hover", " is below the validated 20000"},
		{"Flow along the discs over tip speed, in flight", model.OfInFlow, model.Ranging, 0.4, 0,
			"flow along the discs is 0.4 of the tip speed at the airspeed of best range", ", above the validated 0.3"},
		{"Flow along the discs over tip speed, in flight", model.OfInFlow, model.Cruising, 0.4, 0,
			"flow along the discs is 0.4 of the tip speed at the airspeed of least power", ", above the validated 0.3"},
		{"Flow along the discs over tip speed, in flight", model.OfInFlow, model.FastestLevel, 0.4, 0,
			"flow along the discs is 0.4 of the tip speed at top speed", ", above the validated 0.3"},
		{"Level flight", model.OfLevelFlight, 0, 0, 0,
			"level flight", ": the weight is outside what the propellers carry within the rotor model"},
		{"Level flight", model.OfTopSpeed, model.FastestLevel, 30, 0,
			"top speed is bounded by the speeds of rotation that the rotor model covers, not by the craft", ""},
		{"Motor temperature in hover and cruise", model.OfHeat, model.Hovering, math.Inf(1), 0,
			"motors run away thermally in hover", ": their losses grow faster than the air takes them"},
		{"Motor temperature in hover and cruise", model.OfHeat, model.Cruising, 400, 0,
			"motor temperature in cruise is above 120 degC", ""},
		{"Controller rating per motor", model.OfRating, 0, 90, 0,
			"controller rating of 90 A", " is above the common 80 A"},
		{"Controller rating on a joined board", model.OfJoinedRating, 0, 50, 0,
			"controller rating of 50 A", " is above the 45 A that boards with the flight controller commonly have"},
		{"Propellers 4 to 7 in, measured", model.OfTipMach, model.FullThrottle, 0.512, 0.39,
			"tip Mach number of 0.512 at full throttle", " is beyond the 0.39 measured at 4 to 7 in: by theory"},
		{"Propellers up to 4 in, measured", model.OfTipMach, model.FastestLevel, 0.5, 0.26,
			"tip Mach number of 0.5 at top speed", " is beyond the 0.26 measured at up to 4 in: by theory"},
		{"Propellers 7 to 10 in, measured", model.OfReynolds, model.Hovering, 110040, 0,
			"Reynolds number of 110000 at 75 % radius in hover",
			" is beyond the 10000 to 103000 measured at 7 to 10 in: by theory"},
		{"Propellers above 10 in, measured", model.OfReynolds, model.Hovering, 180000, 0,
			"Reynolds number of 180000 at 75 % radius in hover",
			" is beyond the 14000 to 169000 measured at above 10 in: by theory"},
		{"Number of blades, measured", model.OfBlades, 0, finding.Inch.ToSI(7), 3,
			"propeller of 3 blades and 7 in", ": three and four blades are measured near 5 in alone"},
		{"Number of blades, measured", model.OfBlades, 0, finding.Inch.ToSI(5), 5,
			"propeller of 5 blades and 5 in", ": more than four blades are measured at no size"},
	} {
		m := model.Mark{Limit: limitOf(t, c.limit), Of: c.of, At: c.at, Value: c.value, Other: c.other}
		said[m.Limit] = true
		if text, short := Mark(m), MarkShort(m); text != c.short+c.rest || short != c.short {
			t.Errorf("%s is told as %q and %q, want %q and %q", c.limit, text, short, c.short+c.rest, c.short)
		}
	}
	for _, v := range model.Validities {
		if !said[v] {
			t.Errorf("no mark of %q is put into words", v.What)
		}
	}
}

// A mark begins just where its words say that the validated range ends, on either side.
func TestMarksBeginWhereTheySay(t *testing.T) {
	t.Parallel()
	ordinary := trial.Best(t, trial.SmallRun(t), "249g").Craft
	spans := regexp.MustCompile(`outside the validated (-?[0-9.]+) to (-?[0-9.]+) `)
	for _, c := range []struct {
		of       model.Subject
		set      func(c *model.Craft, v float64) // in the unit of the words
		from, to float64                         // outside at both ends
	}{
		{model.OfDiameter, func(c *model.Craft, v float64) {
			train, p := *c.Powertrain, *c.Powertrain.Propeller
			p.Diameter, train.Propeller, c.Powertrain = finding.Inch.ToSI(v), &p, &train
		}, 1, 30},
		{model.OfMass, func(c *model.Craft, v float64) { c.Mass = v }, 0.01, 50},
		{model.OfAir, func(c *model.Craft, v float64) {
			m := *c.Model
			m.Air.Temperature, c.Model = v+273.15, &m
		}, -60, 70},
		{model.OfPack, func(c *model.Craft, v float64) {
			m := *c.Model
			m.Assume.PackTemperature, c.Model = v+273.15, &m
		}, -60, 70},
	} {
		told := func(v float64) string {
			craft := *ordinary
			c.set(&craft, v)
			for _, x := range craft.Warnings() {
				if x.Of == c.of {
					return Mark(x)
				}
			}
			return ""
		}
		said := spans.FindStringSubmatch(told(c.from))
		if said == nil {
			t.Errorf("subject %d: %g is told of as %q", c.of, c.from, told(c.from))
			continue
		}
		var ends [2]float64
		for i := range ends {
			v, err := strconv.ParseFloat(said[1+i], 64)
			if err != nil {
				t.Fatal(err)
			}
			ends[i] = v
		}
		middle := (ends[0] + ends[1]) / 2
		if text := told(middle); text != "" {
			t.Errorf("subject %d: %g is told of as %q", c.of, middle, text)
		}
		for i, out := range []float64{c.from, c.to} {
			want, within := ends[i], middle
			for math.Abs(out-within) > 1e-9*math.Abs(want) {
				if mid := (out + within) / 2; told(mid) != "" {
					out = mid
				} else {
					within = mid
				}
			}
			if math.Abs(out-want) > 1e-6*math.Abs(want) {
				t.Errorf("subject %d: the mark begins at %g, but says %g", c.of, out, want)
			}
		}
	}
}

// A craft without an operating point is told why, from every reason.
func TestLackTexts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lack model.Lack
		want string
	}{
		{model.Lack{Why: flight.TooFast, Speed: 85290.0 / 60, TipMach: 1},
			"full throttle at rest would turn the propellers past 85290 rpm, tip Mach 1, where the rotor model ends"},
		{model.Lack{Why: flight.TooSlow, Speed: 1023.0 / 60, TipMach: 0.02},
			"full throttle at rest does not turn the propellers faster than 1023 rpm, where the rotor model begins"},
		{model.Lack{Why: flight.PastPower}, "full throttle at rest asks for more power than the pack can give"},
		{model.Lack{Hover: true, Why: flight.PastDuty, Duty: 2.07, ThrustToWeight: 0.293},
			"hover would need 207 % duty at the pack's mean voltage; static thrust to weight is 0.293"},
		{model.Lack{Hover: true, Why: flight.PastDuty, Duty: 2.07},
			"hover would need 207 % duty at the pack's mean voltage"},
		{model.Lack{Hover: true, Why: flight.PastPower},
			"hover asks for more power than the pack can give at its mean voltage"},
		{model.Lack{Hover: true, Why: flight.TooFast, Thrust: 50, Speed: 1000, TipMach: 1},
			"hover asks for 50 N of each propeller, which would turn past 60000 rpm, tip Mach 1, where the rotor " +
				"model ends"},
		{model.Lack{Hover: true, Why: flight.TooSlow, Thrust: 0.01, Speed: 17, TipMach: 0.02},
			"hover asks for 0.01 N of each propeller, which would turn slower than 1020 rpm, where the rotor model " +
				"begins"},
	} {
		if got := Lack(c.lack); got != c.want {
			t.Errorf("%+v is told as %q, want %q", c.lack, got, c.want)
		}
	}
}

func TestStateMarks(t *testing.T) {
	t.Parallel()
	marks := []model.StateMark{{Of: model.OfDiameter}, {Of: model.OfAir}, {Of: model.OfTipMach}, {Of: model.OfReynolds},
		{Of: model.OfAdvance},
		{Of: model.OfBlades, Beyond: true}, {Of: model.OfTipMach, Beyond: true}, {Of: model.OfReynolds, Beyond: true},
		{Of: model.OfStator}, {Of: model.OfRating}, {Of: model.OfHeat}}
	const want = "diameter; temperature; tip Mach; Re; J; blades beyond measurements; tip Mach beyond measurements; " +
		"Re beyond measurements; " +
		"stator; controller rating; motor temperature"
	if got := strings.Join(StateMarks(marks), "; "); got != want {
		t.Errorf("told as %q, want %q", got, want)
	}
}

// The marks of a run that is read back are as its record tells them, in few words
// where the record has these, and whole where it is of a version before.
func TestMarksReadBack(t *testing.T) {
	t.Parallel()
	const words, short = "something new of 3 is outside the common 1 to 2", "something new of 3"
	for _, c := range []struct{ member, want string }{
		{`, "outside": ["` + short + `", "b"]`, short}, {"", words}, {`, "outside": ["odd"]`, words},
	} {
		var d finding.DesignRecord
		if err := json.Unmarshal([]byte(`{"warnings": ["`+words+`", "b: c"]`+c.member+`}`), &d); err != nil {
			t.Fatal(err)
		}
		x := d.Row(sweep.Class{})
		if got := Warnings(x); got != words+"; b: c" || !x.Marked() {
			t.Errorf("%q: told as %q", c.member, got)
		}
		if got := WarningsShort(x); len(got) != 2 || got[0] != c.want {
			t.Errorf("%q: in few words %q, want %q", c.member, got, c.want)
		}
	}
	e := trial.Best(t, trial.SmallRun(t), "249g")
	craft, train := *e.Craft, *e.Craft.Powertrain
	train.Full.Controller.Rating, craft.Powertrain = 1000, &train
	marked := finding.Entry{Ranked: e.Ranked, Design: e.Design, Craft: &craft}
	x := entryRecord(&marked).Row(sweep.Class{})
	if text, few := Warnings(x), strings.Join(WarningsShort(x), "; "); text != "controller rating of 1000 A is above "+
		"the common 80 A" || few != "controller rating of 1000 A" {
		t.Errorf("a mark is read back as %q and %q", text, few)
	}
}
