package words

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model/record"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// Specification says what a part has to be, by its numbers, and of one that exists what its list
// does not state.
func Specification(p *finding.Plan, x *finding.Purchase) string {
	s := numbersOf(p, x)
	if lacks := Unstated(x.Kind, p.Design); lacks != "" {
		s += "; " + lacks
	}
	return s
}

func numbersOf(p *finding.Plan, x *finding.Purchase) string {
	d := p.Design
	switch x.Kind {
	case "motor":
		s := fmt.Sprintf("stator %s, %s rpm/V, for %dS", Stator(d), finding.Input("kv").Unit.Number(d.KV, 6), d.Cells)
		if m := d.Motor; m != nil && m.MostCells.Known {
			s += fmt.Sprintf(" (up to %.0fS)", m.MostCells.Value)
		}
		return s
	case "propeller":
		s := fmt.Sprintf("%s × %s in, %d blades", finding.Inch.Number(d.Diameter, 4), finding.Inch.Number(d.Pitch, 4),
			d.Blades)
		if d.Chord > 0 {
			s += ", chord " + unit.Ratio.Unit("").Number(d.Chord, 4) + " of R"
		}
		return s
	case "pack":
		g := p.Craft.Model.Assume.PackGrade
		if d.Pack != nil && d.Pack.Grade != nil {
			g = d.Pack.Grade
		}
		s := fmt.Sprintf("%dS %s, %s", d.Cells, finding.MAh.Format(d.Capacity, 5), g.Name)
		most := x.Most
		if math.IsNaN(most) {
			most = x.Needs
		}
		if finding.Finite(most) {
			s += fmt.Sprintf(", from %.0fC for seconds", math.Ceil(most/(d.Capacity/3600)))
		}
		return s
	case "frame":
		return fmt.Sprintf("for %s propellers, %s between motors across", finding.Inch.Format(d.Diameter, 4),
			unit.Length.Unit("mm").Format(p.Craft.Powertrain.Propeller.Wheelbase, 3))
	case "board":
		s := fmt.Sprintf("four speed controllers, for %dS", d.Cells)
		if d.Board != nil {
			s += fmt.Sprintf(" (up to %dS)", d.Board.Cells)
			if d.Board.Joined && d.Board.Mass.Known {
				s += fmt.Sprintf("; %s of %s as stated, the rest is the flight controller that avionics count",
					finding.Gram.Number(x.Mass, 2), finding.Gram.Format(d.Board.Mass.Value, 2))
			}
		}
		return s
	}
	return map[string]string{
		"Hardware": "strap, pads, screws and standoffs", "Wiring": "leads and connectors",
		"Avionics": "flight controller, receiver, camera, as assumed",
		"Payload":  "as given",
	}[x.Title]
}

// Load says what a part must bear, and the unit it is told in.
func Load(l finding.Load) (what string, in unit.Unit) {
	amperes := unit.Current.Unit("A")
	switch l {
	case finding.MotorCurrent:
		return "current of one motor", amperes
	case finding.Turns:
		return "speed of rotation", unit.Rotation.Unit("rpm")
	case finding.PackCurrent:
		return "current, for seconds", amperes
	case finding.BoardCurrent:
		return "current of each motor", amperes
	case finding.Room:
		return "diameter of the propeller", finding.Inch
	}
	return "", unit.Unit{}
}

// RatedBy says whose the rating is; "" for none.
func RatedBy(x *finding.Purchase) string {
	switch {
	case math.IsNaN(x.Rated):
		return ""
	case x.Stated:
		return "stated"
	}
	return "by the model"
}

// Subject is what is tested: "motor 2207 1750KV".
func Subject(r *record.Record) string { return r.Subject.Kind + " " + r.Subject.Key() }

// passNote is how a value passes: "passes with at most 55.1 g"; one of a rival has nothing to pass.
func passNote(t *finding.PlannedTest, number func(v float64) string) string {
	if t.Of != nil {
		return "tells which build is better"
	}
	return "passes with " + bound(t, number)
}

// bound is within what a value passes.
func bound(t *finding.PlannedTest, number func(v float64) string) string {
	if t.AtLeast() {
		return "at least " + number(t.P10)
	}
	return "at most " + number(t.P90)
}

// TestNote says what a test is expected to give.
func TestNote(t *finding.PlannedTest) string {
	u, symbol := t.Record.Quantity.UsualUnit()
	number := func(v float64) string { return Spaced(u.Number(v, 4), symbol) }
	what := texts.Upper(strings.TrimPrefix(Measurable(t.What), "the "))
	if t.Of != nil {
		what += ", of " + Build(t.Of.Design)
	}
	return fmt.Sprintf("%s: %s expected, %s to %s in eight of ten draws; %s", what, number(t.P50), u.Number(t.P10, 4),
		number(t.P90), passNote(t, number))
}

// TestPlanHead says how the file of tests is used.
var TestPlanHead = []string{
	"What to measure of the recommended build of each class, and of one that may turn out better. Fill in the values;",
	"where your uncertainty of one standard deviation is another, the last column as well. What stays empty is left",
	"out. A craft is named with its all-up weight: write the weighed one. Then run the study again with --measured and",
	"this file.",
}

// Back says where a measured value goes.
func Back(b finding.Back) string {
	switch b {
	case finding.ToRecords:
		return "--measured"
	case finding.ToParts:
		return "the list of parts"
	}
	return "a check alone"
}

// Shown says how a requirement is shown.
func Shown(c *finding.Check) string {
	switch {
	case c.Shown == finding.ShownComputed && math.IsNaN(c.Kept):
		return "computed, nominal alone"
	case c.Shown == finding.ShownComputed:
		return "computed"
	case c.Shown == finding.ShownOpen:
		return "open: no test of the plan tells enough"
	case len(c.By) == 0:
		return "to be measured: the built craft, weighed"
	}
	var by []string
	for _, t := range c.By {
		by = append(by, fmt.Sprintf("%s (%.0f %%)", Measurable(t.What), 100*t.Share))
	}
	return "to be measured: " + strings.Join(by, ", ")
}

// ShownClass names how a requirement is shown in a word, for machines.
func ShownClass(s finding.Shown) string {
	switch s {
	case finding.ShownByTest:
		return "to be measured"
	case finding.ShownOpen:
		return "open"
	}
	return "computed"
}

// Margin is a margin of a requirement as it is told, of the logarithm of the share of its bound: in per cent
// of the bound, or, of a temperature, whose share says nothing, in kelvins. Above 0 it is kept.
func Margin(q *sweep.Requirement, v float64) (margin float64, kelvins bool) {
	if q.Metric.Kind != unit.Temperature {
		return 100 * math.Expm1(v), false
	}
	left := -math.Expm1(-v) * q.Bound
	if q.AtLeast {
		left = math.Expm1(v) * q.Bound
	}
	return left, true
}

// CheckValue is the value of a check and its bound: "248 g".
func CheckValue(c *finding.Check, v float64) string {
	if q := c.Gate.Requirement; q != nil {
		return shown(q.Metric, v)
	}
	return finding.Gram.Format(v, 4)
}

// RivalOf says of what build the tests below it are, and what they are for.
func RivalOf(t *finding.PlannedTest) string {
	return "Of " + Build(t.Of.Design) + ", which may turn out better than the recommended build: with it measured a " +
		"new run tells"
}

// PlanOf says which design of a class the sheets of the plan are of.
func PlanOf(p *finding.Plan) string {
	if p.Drawn {
		return "the recommended build with the pack as planned, " + Design(p.Design)
	}
	return "the best design, " + Design(p.Design)
}

// Cost says what the sum of the prices leaves out; "" where that is nothing.
func Cost(all []finding.Purchase) string {
	var without []string
	for i := range all {
		if x := &all[i]; math.IsNaN(x.Price) && x.Title != "Payload" {
			without = append(without, texts.Lower(x.Title))
		}
	}
	switch sum := finding.Cost(all); {
	case sum == 0:
		return "no price is known"
	case len(without) > 0:
		return "without a price, not in the sum: " + strings.Join(without, ", ")
	}
	return ""
}

// TestUnit is the unit that a test is told in.
func TestUnit(t *finding.PlannedTest) (unit.Unit, string) { return t.Record.Quantity.UsualUnit() }

// Pass says within what a test is passed; one of a rival has nothing to pass.
func Pass(t *finding.PlannedTest) string {
	if t.Of != nil {
		return "nothing to pass"
	}
	u, symbol := TestUnit(t)
	return bound(t, func(v float64) string { return Spaced(u.Number(v, 4), symbol) })
}
