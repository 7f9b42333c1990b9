package report

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/basis"
)

// basis is the sheet of all that the numbers rest on.
func (b *review) basis() {
	const last = 6
	p := b.newPage(basisSheet, 27, 12, 17, 14, 41, 41, 10, 10)
	p.wide(1, last, "What the numbers rest on", title)
	p.next()
	p.wide(1, last, "Every constant and assumption with unit, spread (one standard deviation, where one is claimed) and source. \"From memory\" and \"common practice\" are said where no source was read.", note)
	p.next()
	p.gap()

	p.section("Assumptions of this study")
	p.head([]string{"Assumption", "Value", "Unit", "Set by", "Meaning", ""})
	for _, a := range assumptions(b.run.Study.Model) {
		set := "study"
		if a.Default {
			set = "default"
		}
		p.put(1, a.Title, ruled(plain))
		if a.Kind == nil {
			p.put(2, a.Text, ruled(plain))
		} else {
			p.put(2, round10(a.Unit.FromSI(a.Value)), ruled(look{Align: "left"}))
		}
		p.put(3, a.Unit.Label, ruled(plain))
		p.put(4, set, ruled(plain))
		p.wide(5, last, a.Meaning, ruled(plain))
		p.next()
	}
	air := b.run.Study.Model.Air
	for _, q := range []struct {
		what string
		v    float64
		unit string
	}{{"Air pressure", air.Pressure, "Pa"}, {"Air density", air.Density, "kg/m³"}, {"Speed of sound", air.SoundSpeed, "m/s"}} {
		p.put(1, q.what, ruled(plain))
		p.put(2, q.v, ruled(look{Number: numberFormat(q.v), Align: "left"}))
		p.put(3, q.unit, ruled(plain))
		p.put(4, "computed", ruled(plain))
		p.wide(5, last, airSource(), ruled(plain))
		p.next()
	}
	p.gap()

	p.section("Limits of the model's validity")
	p.wide(1, last, "A design beyond one is computed and marked, to be trusted less.", note)
	p.next()
	ranges := []string{"Quantity", "Range", "", "", "", ""}
	p.head(ranges)
	for _, l := range limits() {
		p.continued(2, ranges)
		p.put(1, l.What, ruled(plain))
		p.wide(2, last, l.Range, ruled(plain))
		p.next()
	}
	p.gap()

	p.keep(8)
	p.section("Error of the rotor model against wind-tunnel measurements")
	p.wide(1, last, comparisonNote, note)
	p.next()
	columns := []string{"Quantity", "Median (%)", "90th percentile (%)", "Bias (%)", "Known of the propeller", "Propellers"}
	p.head(columns)
	for _, c := range comparisons() {
		p.continued(4, columns)
		for _, q := range []struct {
			what string
			deviation
		}{{"CT at rest", c.CT}, {"CP at rest", c.CP}, {"CP/CT^1.5 at rest", c.Hover}, {"CT in axial flight", c.WindCT}, {"CP in axial flight", c.WindCP}} {
			p.put(1, q.what, ruled(plain))
			p.put(2, q.Median, ruled(look{Number: "0.0", Align: "left"}))
			p.put(3, q.Ninety, ruled(look{Number: "0.0", Align: "left"}))
			p.put(4, q.Bias, ruled(look{Number: "+0.0;-0.0;0.0", Align: "left"}))
			p.put(5, c.Known, ruled(plain))
			p.put(6, c.Propellers, ruled(look{Align: "left"}))
			p.next()
		}
	}
	p.gap()
	b.standErrors(p, last)

	p.keep(8)
	p.section("Metrics")
	heads := []string{"Metric", "Symbol", "Unit", "Better", "Meaning and formula", "Source"}
	p.head(heads)
	for _, m := range model.Metrics {
		p.continued(4, heads)
		p.put(1, m.Title, ruled(plain))
		p.put(2, m.Symbol, ruled(plain))
		p.put(3, textOr(m.Unit.Label, "1"), ruled(plain))
		p.put(4, m.Better.String(), ruled(plain))
		p.put(5, m.Meaning+": "+m.FormulaText(), ruled(plain))
		p.put(6, m.Source, ruled(after))
		p.next()
	}
	p.gap()

	p.wide(1, last, "From here on formulas and constants of each part of the model: with them, the assumptions and the inputs of a design every number of its data sheet can be worked out by hand. Lengths, masses and so on are in SI units where none is named; speeds n in rev/s, KV in rpm/V, stators in formulas of regressions in mm; "+
		"x before a factor multiplies; D_in is the diameter in inches.", note)
	p.next()
	p.wide(1, last, "A spread in per cent is that of a log-normal distribution, another is in the unit of a normal one. "+
		"Its reach is \"all\" where all designs have one error, \"family\" where propellers near each other err together, "+
		"\"part\" where each motor, pack, propeller or frame has its own; none is given where it says how errors go together. "+
		"A constant that goes with another shares its error, as both make one law.", note)
	p.next()
	p.gap()
	for _, k := range parts() {
		p.keep(6)
		p.section("Formulas: " + lower(k.Name))
		titles := []string{"What", "Formula", "", "", "", "Source"}
		p.head(titles)
		for _, l := range k.Laws {
			p.continued(4, titles)
			p.put(1, l.Name, ruled(plain))
			p.wide(2, last-1, l.Formula, ruled(plain))
			p.put(last, l.Source, ruled(after))
			p.next()
		}
		p.gap()
		p.keep(6)
		p.section("Constants: " + lower(k.Name))
		heads := []string{"Symbol", "Value", "Unit", "Spread", "Meaning", "Source", "Distribution", "Reach"}
		p.head(heads)
		for _, c := range k.Constants {
			p.continued(2, heads)
			p.put(1, c.Symbol, ruled(plain))
			p.put(2, c.Value, ruled(look{Number: constantFormat(c.Value), Align: "left"}))
			p.put(3, unitText(textOr(c.Unit, "1")), ruled(plain))
			p.put(4, c.Spread, ruled(plain))
			p.put(5, c.Meaning, ruled(plain))
			p.put(6, c.Source, ruled(after))
			if c.Spread != "" {
				p.put(7, c.Distribution.String(), ruled(plain))
				p.put(8, reach(c), ruled(plain))
			}
			p.next()
		}
		p.gap()
	}

	p.keep(8)
	p.section("Run")
	line := func(what, words string) {
		p.put(1, what, ruled(strong))
		p.wide(2, last, words, ruled(plain))
		p.next()
	}
	line("Written by", b.versions)
	line("Fingerprint", b.run.Study.Fingerprint())
	line("Date, host and timings", "in "+RecordName+" beside this workbook, so that two runs of one study give the same workbook")
	if len(b.run.Defaults) > 0 {
		line("Left at default", strings.Join(b.run.Defaults, ", "))
	}
	for i, f := range b.run.Result.Failed {
		line(fmt.Sprintf("Unsolved propeller %d", i+1), f)
	}
	for i, f := range b.run.Flags {
		p.keep(1)
		what := ""
		if i == 0 {
			what = "Flags"
		}
		line(what, f)
	}
	p.end("")
}

// reach says which designs share the error of a constant.
func reach(c basis.Constant) string {
	if c.With != "" {
		return c.Reach.String() + ", with " + c.With
	}
	return c.Reach.String()
}
