package report

import (
	"fmt"
	"math"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/rotor"
)

// worked is a formula with the values of a craft put in, such as "508.5/79.11",
// which comes to the number beside it in the unit that is shown.
type worked func(*model.Craft) string

// put writes numbers into a formula, each in place of an @.
func put(formula string, values ...float64) string {
	for _, v := range values {
		formula = strings.Replace(formula, "@", fmt.Sprintf("%.5g", v), 1)
	}
	return formula
}

const (
	grams            = 1e3 // in a kilogram
	cubicCentimetres = 1e6 // in a cubic metre
)

// workedMetrics are the metrics whose formula is short enough to be put in.
var workedMetrics = map[string]worked{
	"auw": func(c *model.Craft) string {
		var sum []string
		for _, p := range masses(c) {
			sum = append(sum, put("@", grams*p.Mass))
		}
		return strings.Join(sum, " + ")
	},
	"class-margin": func(c *model.Craft) string { return put("@ - @", grams*c.Limit, grams*c.Mass) },
	"disk-loading": func(c *model.Craft) string { return put("@/(pi x @^2)", grams*c.Mass, inches(c)) },
	"wheelbase": func(c *model.Craft) string {
		return put("sqrt(2) x @ x (1 + @)", 1e3*c.Powertrain.Propeller.Diameter, c.Model.Assume.Clearance)
	},

	"hover-power": func(c *model.Craft) string {
		h, m := &c.Hover, &c.Powertrain.Drive.Motor
		return put("4 x (@ x @ + @ + @ + @) + @", h.Duty*h.PackVoltage, h.Current, h.Chopping, m.Switching(h.Current)*h.PackVoltage,
			motor.IdleLoss, c.Model.Assume.AvionicsPower)
	},
	"hover-efficiency": func(c *model.Craft) string { return put("@/@", grams*c.Mass, c.Hover.Power) },
	"hover-throttle": func(c *model.Craft) string {
		h, m, e := &c.Hover, &c.Powertrain.Drive.Motor, &c.Powertrain.Full.Controller
		return put("100 x (2 x pi x @/60 x @ + (@ + @ x @/60 + @ + @) x @)/@", 60*h.Speed, m.Kt, m.R, m.Reactance(), 60*h.Speed,
			e.R, e.Leads, h.Current, h.PackVoltage)
	},
	"hover-rpm": func(c *model.Craft) string {
		p := c.Powertrain.Propeller
		CT, _ := p.Table.Static(c.Hover.Speed)
		return put("60 x sqrt(@/(4 x @ x @ x @ x @^4))", weight(c), p.Installed, CT, c.Model.Air.Density, p.Diameter)
	},
	"hover-tip-speed": func(c *model.Craft) string {
		return put("pi x @/60 x @", 60*c.Hover.Speed, c.Powertrain.Propeller.Diameter)
	},
	"figure-of-merit": func(c *model.Craft) string {
		return put("@^1.5/sqrt(2 x @ x @)/(4 x @)", weight(c), c.Model.Air.Density, c.Powertrain.Propeller.Disc, c.Hover.Shaft)
	},

	"thrust-to-weight": func(c *model.Craft) string { return put("4 x @/@", c.Powertrain.Full.Thrust, weight(c)) },
	"full-throttle-rpm": func(c *model.Craft) string {
		f, m := &c.Powertrain.Full, &c.Powertrain.Drive.Motor
		return put("60 x (@ - (@ + @ + @) x @)/(2 x pi x @ + @ x @)", f.PackVoltage, f.Controller.R, f.Controller.Leads, m.R, f.Current,
			m.Kt, m.Reactance(), f.Current)
	},
	"tip-speed": func(c *model.Craft) string {
		return put("pi x @/60 x @", 60*c.Powertrain.Full.Speed, c.Powertrain.Propeller.Diameter)
	},
	"tip-mach": func(c *model.Craft) string {
		return put("@/@", rotor.TipSpeed(c.Powertrain.Propeller.Diameter, c.Powertrain.Full.Speed), c.Model.Air.SoundSpeed)
	},
	"motor-current": func(c *model.Craft) string {
		f, m := &c.Powertrain.Full, &c.Powertrain.Drive.Motor
		T0 := m.LossTorque(f.Speed)
		return put("2 x (@ + @)/(@ + sqrt(@^2 + 2 x @ x (@ + @)/pi))", f.Torque, T0, m.Kt, m.Kt, m.Reactance(), f.Torque, T0)
	},
	"torque-per-volume": func(c *model.Craft) string {
		s := c.Powertrain.Drive.Motor.Stator
		return put("@/(pi/4 x @^2 x @) x 10^6", c.Powertrain.Full.Torque, 1e3*s.Diameter, 1e3*s.Height)
	},

	"torque-load": func(c *model.Craft) string {
		burst, of := constant("Q/V_s burst").Value, cubicCentimetres*constant("V_s burst").Value
		v := cubicCentimetres * c.Powertrain.Drive.Motor.Volume
		return put("100 x @/(@ x @/10^6 x (@/@)^(1/3))", c.Powertrain.Full.Torque, burst, v, v, of)
	},
	"rim-speed": func(c *model.Craft) string {
		m := &c.Powertrain.Drive.Motor
		return put("pi x @/1000 x @/60 x @", 1e3*m.Stator.Diameter, m.KV, c.Powertrain.Drive.Pack.Rested(0))
	},
	"capacity-per-cell": func(c *model.Craft) string {
		k := &c.Powertrain.Drive.Pack
		return put("@/@", k.Capacity/3.6, float64(k.Cells))
	},
	"motor-temperature": func(c *model.Craft) string {
		p := c.Powertrain.Propeller
		return workedSteady(c, &c.Hover, p.Density*p.Wash(weight(c)/frame.Rotors), metric("motor-temperature"))
	},

	"level-tilt-limit": func(c *model.Craft) string {
		return put("acos(1/@)", max(1, metric("thrust-to-weight").Of(c)))
	},
	"cruise-power": func(c *model.Craft) string {
		return put("@ x @", c.Flight.Endurance.PackVoltage, c.Flight.Endurance.PackCurrent)
	},
	"range": func(c *model.Craft) string {
		V := c.Flight.Range.Airspeed
		return put("@ x @/1000", V, c.Powertrain.Drive.Pack.Endurance(c.Flight.Range.Power))
	},

	"rotor-inertia": func(c *model.Craft) string {
		p, m := c.Powertrain.Propeller, &c.Powertrain.Drive.Motor
		return put("@ x @ x @^2 + @ x @ x (@/2 x @)^2", constant("k blade").Value, grams*p.Blades/frame.Rotors, 100*p.Diameter/2,
			constant("bell share").Value, grams*m.Mass, constant("bell radius").Value, 100*m.Stator.Diameter)
	},
	"arm-frequency": func(c *model.Craft) string {
		a := c.Powertrain.Arm
		tip := c.Powertrain.Drive.Motor.Mass + c.Powertrain.Propeller.Blades/frame.Rotors
		return put("sqrt(3 x @ x @ x @^3/12/(@^3 x (@ + @ x @)))/(2 x pi)", constant("E arm").Value, a.Width, a.Thickness, a.Length, tip, constant("arm swing").Value, a.Mass())
	},
	"arm-ratio": func(c *model.Craft) string {
		return put("@/(@/60)", metric("arm-frequency").Of(c), 60*c.Hover.Speed)
	},

	"battery-fraction": func(c *model.Craft) string {
		return put("100 x @/@", grams*c.Powertrain.Drive.Pack.Mass, grams*c.Mass)
	},
	"pack-current": func(c *model.Craft) string {
		f := &c.Powertrain.Full
		return put("4 x @ + (4 x @ + @)/@", f.Current, motor.IdleLoss, c.Model.Assume.AvionicsPower, f.PackVoltage)
	},
	"pack-c-rate": func(c *model.Craft) string {
		return put("@/@", c.Powertrain.Full.PackCurrent, c.Powertrain.Drive.Pack.Capacity/3600)
	},
	"pack-load": func(c *model.Craft) string {
		return put("100 x @/(@ x @)", c.Powertrain.Full.PackCurrent, constant("I burst").Value, c.Powertrain.Drive.Pack.Limit)
	},
	"pack-voltage": func(c *model.Craft) string {
		d := &c.Powertrain.Drive
		return put("@ - @ x @", d.RestedTop, d.Pack.R, c.Powertrain.Full.PackCurrent)
	},
	"voltage-margin": func(c *model.Craft) string {
		k := &c.Powertrain.Drive.Pack
		return put("@/@ - @", c.Powertrain.Full.PackVoltage, float64(k.Cells), k.Floor/float64(k.Cells))
	},
}

// workedMasses put the values into the formulas of the masses, in g.
var workedMasses = map[string]worked{
	"Frame": func(c *model.Craft) string {
		regression := put("@ x @ x @^@", c.Model.Assume.FrameFactor, grams*constant("frame scale").Value, inches(c), constant("frame exponent").Value) + workedMicro("micro frame", c)
		if c.Model.Assume.FrameBuild == frame.ByRegression {
			return regression
		}
		a := c.Powertrain.Arm
		return put("@ x ", constant("body share").Value) + regression +
			put(" + 4 x @ x @ x @ x @", 1e3*a.Width, 1e3*a.Thickness, 1e3*a.Length, 1e-6*constant("rho arm").Value)
	},
	"Hardware": func(c *model.Craft) string {
		fixed, bySize := grams*constant("hardware fixed").Value, grams*constant("hardware by size").Value
		if less := workedMicro("micro hardware", c); less != "" {
			return put("(@ + @ x @)", fixed, bySize, inches(c)) + less
		}
		return put("@ + @ x @", fixed, bySize, inches(c))
	},
	"Propellers": func(c *model.Craft) string {
		return put("4 x (@ x @^2 + @ x @) x (1 + @ x @)", grams*constant("propeller square").Value, inches(c), grams*constant("propeller linear").Value, inches(c),
			constant("propeller blade").Value, float64(c.Powertrain.Propeller.Geometry.Blades-2))
	},
	"Motors": func(c *model.Craft) string {
		m := &c.Powertrain.Drive.Motor
		s := m.Stator
		return measured(c.Model.Assume.Evidence.Motor(s, m.KV).Mass.Value, "4 x @ x @^@ x @^@", grams*constant("motor mass scale").Value, 1e3*s.Diameter, constant("motor mass exponent of d").Value,
			1e3*s.Height, constant("motor mass exponent of h").Value)
	},
	"Speed controller": func(c *model.Craft) string {
		if c.Model.Assume.Board == motor.Joined {
			return put("@ x @", grams*constant("ESC joined").Value, c.Powertrain.Full.Controller.Rating)
		}
		return put("@ x (1 + @ x @)", grams*constant("ESC board").Value, constant("ESC board slope").Value, c.Powertrain.Full.Controller.Rating)
	},
	"Wiring": func(c *model.Craft) string {
		return put("@ x @ x @", grams*constant("wiring").Value, c.Powertrain.Full.Controller.Rating, inches(c))
	},
	"Pack": func(c *model.Craft) string {
		k, g := &c.Powertrain.Drive.Pack, c.Model.Assume.PackGrade
		leads, each := "pack leads LiPo", k.Capacity/3600 // Ah
		if q := g.CellCharge(); q > 0 {
			leads, each = "pack leads Li-ion", math.Round(k.Capacity/q) // cells in parallel
		}
		return put("@ + @ x @ x @ x @", grams*constant(leads).Value, constant("pack overhead").Value, grams*constant(g.Name+" mass").Value, each, float64(k.Cells))
	},
}

// measured is put, times what a measurement makes of it where it makes something.
func measured(factor float64, formula string, values ...float64) string {
	text := put(formula, values...)
	if factor != 1 {
		text += put(" x @", factor)
	}
	return text
}

// workedMicro is the factor of micro craft on a law of the airframe, "" where there is none.
func workedMicro(symbol string, c *model.Craft) string {
	if frame.Micro(c.Powertrain.Propeller.Diameter) == 0 {
		return ""
	}
	x := 3 - inches(c)
	return put(" x (1 - @ x @^2 x (3 - 2 x @))", constant(symbol).Value, x, x)
}

// workedSteady is the steady temperature of a motor at a point, in a stream of a mass
// flux in kg/(m2 s); "" where it is past the highest that is told.
func workedSteady(c *model.Craft, p *flight.Point, flux float64, of *model.Metric) string {
	if of.Of(c) >= of.Cap {
		return ""
	}
	m := &c.Powertrain.Drive.Motor
	G, cold, Pcu := m.Conductance(flux), constant("T_20").Value, m.ColdResistance()*p.Current*p.Current
	return put("@ - 273.15 + (@ - @ + (@ + @ + @)/@)/(1 - @ x @/@)", cold, c.Model.Air.Temperature, cold, Pcu,
		2*math.Pi*p.Speed*m.LossTorque(p.Speed), p.Chopping, G, constant("alpha Cu").Value, Pcu, G)
}

// workedChord is that of the usual chord, and chordSource where it comes from.
func workedChord(d model.Design) string {
	text := put("@ x (@/@)^-@", constant("c75/R").Value, inch.FromSI(d.Diameter), constant("D_c").Value, -chordExponent(d).Value)
	if d.Blades > 2 {
		text += put(" x @", constant("k_cB").Value)
	}
	return text
}

func chordSource(d model.Design) string {
	text := sourced("c75/R")
	if s := chordExponent(d).Source; s != constant("c75/R").Source {
		text += "; " + s
	}
	if d.Blades > 2 {
		text += "; " + sourced("k_cB")
	}
	return text
}

// chordExponent is that of the usual chord with the diameter.
func chordExponent(d model.Design) basis.Constant {
	if inch.FromSI(d.Diameter) < constant("D_small").Value {
		return constant("n_c small")
	}
	return constant("n_c")
}

// weight is in N.
func weight(c *model.Craft) float64 { return c.Mass * flight.Gravity }

// inches is the diameter of the propellers.
func inches(c *model.Craft) float64 { return inch.FromSI(c.Powertrain.Propeller.Diameter) }
