package sheet

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// basis is the sheet of all that the numbers rest on.
func (b *review) basis() {
	const last = 6
	p := b.NewPage(basisSheet, 27, 12, 17, 14, 41, 41)
	p.Freeze(1, 0)
	p.Wide(1, last, "What the numbers rest on", xlsx.Title)
	p.Next()
	p.Wide(1, last, "Every constant and assumption with unit, spread (one standard deviation, where one is claimed) "+
		"and source. \"From memory\" and \"common practice\" are said where no source was read.", xlsx.Note)
	p.Next()
	p.Gap()

	section(p, "Assumptions of this study")
	p.Head([]string{"Assumption", "Value", "Unit", "Set by", "Meaning", ""})
	for _, a := range words.AssumptionsOf(b.run.Study) {
		set := "study"
		if a.Default {
			set = "default"
		}
		p.Put(1, a.Title, xlsx.Ruled(xlsx.Plain))
		if a.Kind == nil {
			p.Put(2, a.Text, xlsx.Ruled(xlsx.Plain))
		} else {
			p.Put(2, xlsx.Round10(a.Unit.FromSI(a.Value)), xlsx.Ruled(xlsx.Look{Align: "left"}))
		}
		p.Put(3, a.Unit.Label, xlsx.Ruled(xlsx.Plain))
		p.Put(4, set, xlsx.Ruled(xlsx.Plain))
		p.Wide(5, last, a.Meaning, xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	at := b.run.Study.Model.Air
	for _, q := range []struct {
		what string
		v    float64
		unit string
	}{{"Air pressure", at.Pressure, "Pa"}, {"Air density", at.Density, "kg/m³"},
		{"Speed of sound", at.SoundSpeed, "m/s"}} {
		p.Put(1, q.what, xlsx.Ruled(xlsx.Plain))
		p.Put(2, q.v, xlsx.Ruled(xlsx.Look{Number: numberFormat(q.v), Align: "left"}))
		p.Put(3, q.unit, xlsx.Ruled(xlsx.Plain))
		p.Put(4, "computed", xlsx.Ruled(xlsx.Plain))
		p.Wide(5, last, air.Basis()[0].Source, xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	p.Gap()

	section(p, "Limits of the model's validity")
	p.Wide(1, last, "A design beyond one is computed and marked, to be trusted less.", xlsx.Note)
	p.Next()
	ranges := []string{"Quantity", "Range", "", "", "", ""}
	p.Head(ranges)
	for _, l := range words.Limits() {
		p.Continued(2, ranges)
		p.Put(1, l.What, xlsx.Ruled(xlsx.Plain))
		p.Wide(2, last, l.Range, xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	p.Gap()

	p.Beneath("errors against measurements, metrics, formulas and constants with their sources, and the run with " +
		"its flags")
	section(p, "Error of the rotor model against wind-tunnel measurements")
	p.Wide(1, last, words.ComparisonNote, xlsx.Note)
	p.Next()
	columns := []string{"Quantity", "Median (%)", "90th percentile (%)", "Bias (%)", "Known of the propeller",
		"Propellers"}
	p.Head(columns)
	for _, c := range words.Comparisons() {
		p.Continued(4, columns)
		for _, q := range []struct {
			what string
			words.Deviation
		}{{"CT at rest", c.CT}, {"CP at rest", c.CP}, {"CP/CT^1.5 at rest", c.Hover}, {"CT in axial flight", c.WindCT},
			{"CP in axial flight", c.WindCP}} {
			p.Put(1, q.what, xlsx.Ruled(xlsx.Plain))
			p.Put(2, q.Median, xlsx.Ruled(xlsx.Look{Number: "0.0", Align: "left"}))
			p.Put(3, q.Ninety, xlsx.Ruled(xlsx.Look{Number: "0.0", Align: "left"}))
			p.Put(4, q.Bias, xlsx.Ruled(xlsx.Look{Number: "+0.0;-0.0;0.0", Align: "left"}))
			p.Put(5, c.Known, xlsx.Ruled(xlsx.Plain))
			p.Put(6, c.Propellers, xlsx.Ruled(xlsx.Look{Align: "left"}))
			p.Next()
		}
	}
	p.Gap()
	b.standErrors(p, last)

	p.Keep(8)
	section(p, "Metrics")
	heads := []string{"Metric", "Symbol", "Unit", "Better", "Meaning and formula", "Source"}
	p.Head(heads)
	for _, m := range model.Metrics {
		p.Continued(4, heads)
		p.Put(1, m.Title, xlsx.Ruled(xlsx.Plain))
		p.Put(2, m.Symbol, xlsx.Ruled(xlsx.Plain))
		p.Put(3, texts.Or(m.Unit.Label, "-"), xlsx.Ruled(xlsx.Plain))
		p.Put(4, m.Better.String(), xlsx.Ruled(xlsx.Plain))
		p.Put(5, m.Meaning+": "+m.FormulaText(), xlsx.Ruled(xlsx.Plain))
		p.Put(6, m.Source, xlsx.Ruled(xlsx.After))
		p.Next()
	}
	p.Gap()

	p.Wide(1, last, "From here on formulas and constants of each part of the model: with them, the assumptions and "+
		"the inputs of a design every number of its data sheet can be worked out by hand. Lengths, masses and so on "+
		"are in SI units where none is named; speeds n in rev/s, KV in rpm/V, stators in formulas of regressions in "+
		"mm; "+
		"x before a factor multiplies; D_in is the diameter in inches.", xlsx.Note)
	p.Next()
	p.Wide(1, last, "A spread in per cent is that of a log-normal distribution, another is in the unit of a normal "+
		"one. "+
		"Its reach is \"all\" where all designs have one error, \"family\" where propellers near each other err "+
		"together, "+
		"\"part\" where each motor, pack, propeller or frame has its own; none is given where it says how errors go "+
		"together. "+
		"A constant that goes with another shares its error, as both make one law.", xlsx.Note)
	p.Next()
	p.Gap()
	for _, k := range model.Submodels() {
		p.Keep(6)
		section(p, "Formulas: "+texts.Lower(k.Name))
		titles := []string{"What", "Formula", "", "", "", "Source"}
		p.Head(titles)
		for _, l := range k.Laws {
			p.Continued(4, titles)
			p.Put(1, l.Name, xlsx.Ruled(xlsx.Plain))
			p.Wide(2, last-1, l.Formula, xlsx.Ruled(xlsx.Plain))
			p.Put(last, l.Source, xlsx.Ruled(xlsx.After))
			p.Next()
		}
		p.Gap()
		p.Keep(6)
		section(p, "Constants: "+texts.Lower(k.Name))
		heads := []string{"Symbol", "Value", "Unit", "Spread, reach", "Meaning", "Source"}
		p.Head(heads)
		for _, c := range k.Constants {
			p.Continued(2, heads)
			p.Put(1, c.Symbol, xlsx.Ruled(xlsx.Plain))
			p.Put(2, c.Value, xlsx.Ruled(xlsx.Look{Number: words.ConstantFormat(c.Value), Align: "left"}))
			p.Put(3, words.Unit(texts.Or(c.Unit, "-")), xlsx.Ruled(xlsx.Plain))
			p.Put(4, spread(c), xlsx.Ruled(xlsx.Plain))
			p.Put(5, c.Meaning, xlsx.Ruled(xlsx.Plain))
			p.Put(6, c.Source, xlsx.Ruled(xlsx.After))
			p.Next()
		}
		p.Gap()
	}

	p.Keep(8)
	section(p, "Run")
	line := func(what, words string) {
		p.Put(1, what, xlsx.Ruled(xlsx.Strong))
		p.Wide(2, last, words, xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	line("Written by", b.Versions)
	line("Fingerprint", b.run.Study.Fingerprint())
	line("Date, host and timings", "in "+finding.RecordName+" beside this workbook, so that two runs of one study "+
		"give the same workbook")
	if len(b.run.Defaults) > 0 {
		line("Left at default", strings.Join(b.run.Defaults, ", "))
	}
	for i, f := range b.run.Result.Failed {
		line(fmt.Sprintf("Unsolved propeller %d", i+1), f)
	}
	for i, f := range b.run.Flags {
		p.Keep(1)
		what := ""
		if i == 0 {
			what = "Flags"
		}
		line(what, f)
	}
	p.End("")
}

// spread is that of a constant with its reach, "" where none is claimed: "10 %, part".
func spread(c basis.Constant) string {
	all := []string{c.Spread}
	if r := c.Reach.String(); r != "" {
		all = append(all, r)
	}
	if c.With != "" {
		all = append(all, "with "+c.With)
	}
	return strings.Join(all, ", ")
}
