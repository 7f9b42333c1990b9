package report

import (
	"fmt"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
)

// assumption is one thing held fixed while designs vary.
type assumption struct {
	Name    string // as in flags
	Title   string
	Meaning string
	Kind    *unit.Kind // nil where the value is text
	Unit    unit.Unit  // in which it is shown
	Value   float64    // SI
	Text    string
	Default bool
}

// Titles of what is assumed of the air.
const (
	altitudeTitle = "Altitude"
	airTitle      = "Air temperature"
)

// assumptions lists what a model assumes.
func assumptions(m *model.Model) []assumption {
	a, d := &m.Assume, model.Defaults()
	quantity := func(name, title string, k *unit.Kind, symbol string, v, usual float64, meaning string) assumption {
		return assumption{Name: name, Title: title, Meaning: meaning, Kind: k, Unit: k.Unit(symbol), Value: v, Default: v == usual}
	}
	// The air's temperature is known where the standard atmosphere gives it, too.
	temperature := quantity("temperature", airTitle, unit.Temperature, "degC", m.Air.Temperature, 0, "outside air temperature")
	if temperature.Default = a.Temperature == 0; temperature.Default {
		temperature.Meaning += ": the standard atmosphere's"
	}
	aged := "no"
	if a.PackAged {
		aged = "yes"
	}
	out := []assumption{
		quantity("altitude", altitudeTitle, unit.Length, "m", a.Altitude, d.Altitude, "geopotential altitude of the flight"),
		temperature,
		{Name: "pack-grade", Title: "Pack grade", Text: a.PackGrade.Name, Default: a.PackGrade == d.PackGrade, Meaning: a.PackGrade.Meaning},
		quantity("pack-temperature", "Pack temperature", unit.Temperature, "degC", a.PackTemperature, d.PackTemperature, "temperature of the cells"),
		{Name: "pack-aged", Title: "Aged pack", Text: aged, Default: a.PackAged == d.PackAged, Meaning: "an aged pack has less capacity and more resistance"},
		quantity("winding-temperature", "Winding temperature", unit.Temperature, "degC", a.Winding, d.Winding, "temperature of the motor windings"),
		quantity("pulse-rate", "Pulse rate", unit.Frequency, "kHz", a.PulseRate, d.PulseRate, "of the speed controllers below full duty; 40 % (1 sigma) where it is not known"),
		quantity("charge", "Charge at full throttle", unit.Ratio, "%", a.Charge, d.Charge, "state of charge at which full throttle is judged"),
		quantity("frame-factor", "Frame factor", unit.Ratio, "", a.FrameFactor, d.FrameFactor, "on the regression of the frame's mass: about 0.85 race, 1 cruise, 1.3 freestyle"),
		{Name: "frame-build", Title: "Frame build", Text: a.FrameBuild.String(), Default: a.FrameBuild == d.FrameBuild, Meaning: "mass of the frame by regression on the size, or with arms sized as beams"},
		quantity("crash-load", "Crash load", unit.Ratio, "", a.CrashLoad, d.CrashLoad, "that an arm built by beam stands at its tip, over the weight"),
		quantity("arm-detuning", "Arm detuning", unit.Ratio, "", a.ArmDetuning, d.ArmDetuning, "least ratio between the first bending of arms built by beam and the turns of hover, either way"),
		quantity("clearance", "Clearance", unit.Ratio, "", a.Clearance, d.Clearance, "between neighbouring discs, in diameters"),
		{Name: "board", Title: "Board of the controllers", Text: a.Board.String(), Default: a.Board == d.Board, Meaning: "speed controllers on a board of their own, or joined with the flight controller that avionics count"},
		quantity("avionics", "Avionics mass", unit.Mass, "g", a.Avionics, d.Avionics, "flight controller, receiver, camera and image link"),
		quantity("avionics-power", "Avionics power", unit.Power, "W", a.AvionicsPower, d.AvionicsPower, "steady electrical power of all that does not turn"),
		quantity("payload-area", "Payload area", unit.Area, "cm2", a.PayloadArea, d.PayloadArea, "frontal area that the payload adds, with a drag coefficient of 1"),
		quantity("tilt-limit", "Tilt limit", unit.Angle, "deg", a.TiltLimit, d.TiltLimit, "of level flight; 90° sets none"),
		quantity("mixed-share", "Mixed share", unit.Ratio, "%", a.MixedShare, d.MixedShare, "share of a mixed flight that is flown at 60 % of the full-throttle current"),
		quantity("thrust-reserve", "Thrust reserve", unit.Ratio, "", a.ThrustReserve, d.ThrustReserve, "thrust to weight left at the ceiling, and for the share of the flight with thrust in reserve"),
	}
	if a.Like != (model.Reference{}) {
		var parts []string
		for _, m := range model.Compared() {
			if v := *a.Like.Of(m); v > 0 {
				parts = append(parts, lower(m.Title)+" "+m.Unit.Format(v, 4))
			}
		}
		out = append(out, assumption{Name: "like", Title: "Craft to feel like", Text: strings.Join(parts, ", "), Meaning: "what likeness compares designs with"})
	}
	if all := a.Evidence.Propellers(); len(all) > 0 {
		out = append(out, assumption{Name: "measured", Title: "Measured propellers", Text: strconv.Itoa(len(all)),
			Meaning: measuredText(all) + ": correct those and, less with distance, their neighbours"})
	}
	if all := a.Evidence.Motors(); len(all) > 0 {
		out = append(out, assumption{Name: "measured-motors", Title: "Measured motors", Text: strconv.Itoa(len(all)),
			Meaning: strings.Join(all, ", ") + ": correct those and, less with distance, their neighbours"})
	}
	return out
}

// measuredText lists measured propellers: "5×4.3×3 (2 points)".
func measuredText(all []model.Measured) string {
	var out []string
	for _, m := range all {
		out = append(out, fmt.Sprintf("%s (%d %s)", propellerText(model.Design{Diameter: m.Diameter, Pitch: m.Pitch, Blades: m.Blades}, "×"),
			m.Points, plural(m.Points, "point", "points")))
	}
	return strings.Join(out, ", ")
}
