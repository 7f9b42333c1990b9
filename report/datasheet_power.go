package report

import (
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/motor"
)

// powerTitle heads the parts of the power of hover.
const powerTitle = "Where hover power goes"

// powerPart is one part of the electrical power of hover, or the whole.
type powerPart struct {
	told
	watts float64
	share float64 // of the whole
}

// powerParts splits the power of hover; the whole stands last.
func powerParts(c *model.Craft) []powerPart {
	d, h, e := &c.Powertrain.Drive, &c.Hover, &c.Powertrain.Full.Controller
	m := &d.Motor
	b := d.Budget(*e, h)
	rpm, u := 60*h.Speed, h.Duty*h.PackVoltage
	idle := sourced("T0 static")
	var out []powerPart
	part := func(title, symbol string, watts float64, meaning, formula, worked, source string) {
		share := watts / h.Power
		out = append(out, powerPart{watts: watts, share: share, told: told{Value: watts, Unit: "W",
			Shown: watt.Format(watts, 4), Title: title, Symbol: symbol, Meaning: meaning, Formula: formula, Worked: worked, Source: source}})
	}
	part("Shaft", "4 P", b.Shaft, "into the propellers", "4 2 pi n Q",
		put("4 x 2 x pi x @/60 x @", rpm, h.Torque), metric("hover-rpm").Source)
	part("Loss torque", "4 P_0", b.Friction, "bearings, iron and windage of the motors", "4 2 pi n T0(n)",
		put("4 x 2 x pi x @/60 x @", rpm, m.LossTorque(h.Speed)), idle)
	part("Winding", "4 P_R", b.Winding, "resistance of the motors at their assumed temperature", "4 R I^2",
		put("4 x @ x @^2", m.R, h.Current), metric("motor-current").Source)
	part("Chopping in the motor", "4 P_c", b.Chopping, "ripple of the controllers' pulses, in copper and iron",
		"4 x 4 c 2 pi T0' (KV/60)^2 u^2 (1 - u/V_b)^2 (24 kHz/f)^2, u = V_m + (R_esc + R_leads) I",
		put("4 x 4 x @ x 2 x pi x @ x (@/60)^2 x @^2 x (1 - @/@)^2 x (@/@)^2", chopScale(c), m.LossSlope(), m.KV, u, u, h.PackVoltage,
			motor.StandPulseRate, c.Model.Assume.PulseRate), sourced("c"))
	part("Leads", "4 P_l", b.Leads, "leads and joints between pack and motors", "4 R_leads I^2",
		put("4 x @ x @^2", e.Leads, h.Current), sourced("leads drop"))
	part("Controller board", "4 P_esc", b.Board, "switches that conduct, their edges, logic", "4 (R_esc I^2 + V_b I edge f/2 + P_idle)",
		put("4 x (@ x @^2 + @ x @ x @ x @/2 + @)", e.R, h.Current, h.PackVoltage, h.Current, constant("ESC edge").Value,
			c.Model.Assume.PulseRate, motor.IdleLoss), sourced("ESC edge"))
	part("Avionics power", "P_av", b.Avionics, "all that does not turn", "as assumed", "", assumedSource)
	sum := fmt.Sprintf("%.5g", out[0].watts)
	for _, p := range out[1:] {
		sum += fmt.Sprintf(" + %.5g", p.watts)
	}
	whole := metric("hover-power")
	part(whole.Title, whole.Symbol, h.Power, "from the pack, the sum of these", "sum of the parts", sum, whole.Source)
	return out
}

// power prints the parts of the power of hover.
func (s *sheet) power(c *model.Craft) {
	s.section(powerTitle)
	for _, p := range powerParts(c) {
		s.put(p.Title, p.Symbol, watt.Number(p.watts, 4), fmt.Sprintf("W  %5.1f %%", 100*p.share), p.Meaning+": "+p.Formula, p.Worked, p.Source)
	}
}

// powerRecord holds the parts of the power of hover and the whole, with their shares
// of it.
func powerRecord(c *model.Craft) object {
	type share struct {
		told
		Share float64 `json:"share"`
	}
	var o object
	for _, p := range powerParts(c) {
		o = append(o, member{slug(p.Title), share{p.told, p.share}})
	}
	return o
}
