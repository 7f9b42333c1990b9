package report

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/rotor"
)

// partsTitle heads what the formulas of a data sheet take of motor, controller, pack
// and blades.
const partsTitle = "Motor, controller, pack and blades"

const ohm = "Ω"

// sourced is where a constant comes from, with its spread.
func sourced(symbol string) string {
	k := constant(symbol)
	if k.Spread == "" {
		return k.Source
	}
	return k.Source + "; " + k.Spread + " (1 sigma)"
}

// partLine is one property of the parts of a craft.
type partLine struct {
	told
	number, label string // as shown
}

// partLines lists what goes into the formulas of the metrics.
func partLines(d model.Design, c *model.Craft) []partLine {
	var out []partLine
	line := func(title, symbol string, v float64, unit, formula, worked, source string) {
		number, si := fmt.Sprintf("%.4g", v), unit
		if unit == ohm {
			si = "ohm"
		}
		out = append(out, partLine{number: number, label: unit, told: told{Value: v, Unit: si, Shown: strings.TrimSpace(number + " " + unit),
			Title: title, Symbol: symbol, Formula: formula, Worked: worked, Source: source}})
	}
	m, e, k := &c.Powertrain.Drive.Motor, &c.Powertrain.Full.Controller, &c.Powertrain.Drive.Pack
	a := &c.Model.Assume
	s := m.Stator
	fit := a.Evidence.Motor(s, m.KV).Scale()
	label := put("60/(2 x pi x @)", m.KV)
	volume := cubicCentimetres * m.Volume
	line("Torque constant under load", "K", m.Kt, "N·m/A", put("Kt/@", constant("KV under load").Value)+", Kt = 60/(2 pi KV) of the label: KV under load is less, or the highest duty",
		measured(1/fit.KV, label+put("/@", constant("KV under load").Value)), sourced("KV under load"))
	dm, hm := 1e3*s.Diameter, 1e3*s.Height
	km := put("(@ x @^@ x @^@)", constant("Km scale").Value, dm, constant("Km exponent of d").Value, hm, constant("Km exponent of h").Value)
	line("Winding resistance", "R", m.R, ohm, "(Kt/Km)^2 (1 + alpha (T - T_20)), Km = scale d^1.85 h^0.67, at the assumed temperature",
		measured(fit.Resistance, "("+label+"/"+km+")^2"+put(" x (1 + @ x (@ - @))", constant("alpha Cu").Value, a.Winding, constant("T_20").Value)), sourced("Km scale"))
	line("Reactance of the winding", "X", m.Reactance(), "V·s/A", "x Kt^2/V_s, V_s the stator's volume: voltage for current and turns per second",
		put("@ x (", constant("x").Value)+label+put(")^2/(@/10^6)", volume), sourced("x"))
	rest := grams * m.Mass / fit.Mass // as the regression has it
	line("Loss torque at rest", "T0", m.LossTorque(0), "N·m", "m T0 static of the motor's mass: bearings, iron and windage",
		measured(fit.Loss, "@/1000 x @", rest, constant("T0 static").Value), sourced("T0 static"))
	line("Its slope with speed", "T0'", m.LossSlope(), "N·m·s", "60 m T0 slope, n in rev/s",
		measured(fit.Loss, "60 x @/1000 x @", rest, constant("T0 slope").Value), sourced("T0 slope"))
	line("Chopping constant", "c", chopScale(c), "", "of the loss to the ripple of the pulses, below full duty", measured(fit.Chopping/fit.Loss, "@", constant("c").Value),
		sourced("c")+"; pulse rate of the stands "+constant("f stand").Spread)
	line("Controller resistance", "R_esc", e.R, ohm, put("@ V", constant("ESC drop").Value)+"/I_rated, of the switches that conduct", put("@/@", constant("ESC drop").Value, e.Rating), sourced("ESC drop"))
	line("Resistance of the leads", "R_leads", e.Leads, ohm, put("@ V", constant("leads drop").Value)+"/I_rated, of leads and joints of a motor", put("@/@", constant("leads drop").Value, e.Rating), sourced("leads drop"))
	line("Pack resistance", "R_b", k.R, ohm, "N (R_cell + R joint) + R lead, and what cold and age add", workedPack(c), sourced(packResistance(c)))
	p := d.Pitch
	if d.Chord == 0 {
		p = rotor.TruePitch(d.Diameter, d.Pitch, d.Blades)
	}
	number := inch.Number(p, 4)
	out = append(out, partLine{number: number, label: inch.Label, told: told{Value: p, Unit: "m", Shown: number + " " + inch.Label,
		Title: "Pitch of the blade", Symbol: "P'", Formula: pitchFormula(d), Worked: workedPitch(d), Source: pitchSource(d)}})
	return out
}

// workedPack is the resistance of a pack in ohm, with what cold and age make of it.
func workedPack(c *model.Craft) string {
	k, g := &c.Powertrain.Drive.Pack, c.Model.Assume.PackGrade
	of, per := constant(packResistance(c)).Value, k.Capacity/3600
	if q := g.CellCharge(); q > 0 {
		per = math.Round(k.Capacity / q)
	}
	n, joint, lead := float64(k.Cells), constant("R joint").Value, constant("R lead").Value
	text := put("(@ x (@/@ + @) + @)", n, of, per, joint, lead)
	if f := k.R / (n*(of/per+joint) + lead); math.Abs(f-1) > 1e-9 {
		text += put(" x @", f)
	}
	return text
}

// chopScale is the constant of the chopping loss with what was measured of the motor.
func chopScale(c *model.Craft) float64 {
	m := &c.Powertrain.Drive.Motor
	slow := constant("f stand").Value / c.Model.Assume.PulseRate
	return m.ChopScale(1) / (4 * 2 * math.Pi * m.LossSlope() * m.KV * m.KV / 3600 * slow * slow)
}

// packResistance is the constant of the resistance of a pack's cells.
func packResistance(c *model.Craft) string {
	g := c.Model.Assume.PackGrade
	if g.CellCharge() > 0 {
		return g.Name + " R"
	}
	return g.Name + " R C"
}

// pitchFormula is the law of the pitch that the blade of a label has, workedPitch and
// pitchSource what goes into it and where it comes from.
func pitchFormula(d model.Design) string {
	if d.Chord != 0 {
		return "that of the label, as the chord is given"
	}
	return "of the label, (D/8 in)^0.08 of it below 8 in, and 1.03 of it with more than two blades"
}

func workedPitch(d model.Design) string {
	text := put("@", inch.FromSI(d.Pitch))
	if d.Chord != 0 {
		return text
	}
	if in := inch.FromSI(d.Diameter); in < constant("D_small").Value {
		text += put(" x (@/@)^@", in, constant("D_small").Value, constant("n_P").Value)
	}
	if d.Blades > 2 {
		text += put(" x @", constant("k_PB").Value)
	}
	return text
}

func pitchSource(d model.Design) string {
	if d.Chord != 0 {
		return givenSource
	}
	if d.Blades > 2 {
		return constant("n_P").Source + "; " + constant("k_PB").Source + "; 8 % (1 sigma)"
	}
	return constant("n_P").Source + "; 8 % (1 sigma)"
}

// parts prints what the formulas take of the parts.
func (s *sheet) parts(d model.Design, c *model.Craft) {
	s.section(partsTitle)
	for _, p := range partLines(d, c) {
		s.put(p.Title, p.Symbol, p.number, p.label, p.Formula, p.Worked, p.Source)
	}
}

// partRecord is parts for machines.
func partRecord(d model.Design, c *model.Craft) object {
	var o object
	for _, p := range partLines(d, c) {
		o = append(o, member{slug(p.Title), p.told})
	}
	return o
}
