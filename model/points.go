package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// OperatingPoint is a state in which a craft is looked at. What is not known of it is NaN.
type OperatingPoint struct {
	Title       string
	Airspeed    float64 // m/s
	Thrust      float64 // of all rotors, as the mass that it would support, kg
	Available   float64 // of the same, at full throttle
	Speed       float64 // of rotation, rev/s
	Mach        float64 // of the tips; in flight of the advancing ones
	Torque      float64 // of one motor, N m
	Current     float64 // of one motor, A
	Voltage     float64 // of one motor, V
	Duty        float64 // of the controller
	PackCurrent float64 // A
	PackVoltage float64 // V
	Power       float64 // from the pack, W
	Temperature float64 // steady one of the motors, K; NaN where Stands names a time limit instead
	Stands      string  // name of the metric of that time, "" for a point with a steady temperature
}

// Shaft is the power of one motor's shaft in W, 2 pi n Q.
func (p *OperatingPoint) Shaft() float64 { return 2 * math.Pi * p.Speed * p.Torque }

// Efficiency is the shaft's power over the electrical power of a motor.
func (p *OperatingPoint) Efficiency() float64 { return p.Shaft() / (p.Current * p.Voltage) }

// ThrustPerPower is the mass that the thrust would support over the pack's power, in kg/W.
func (p *OperatingPoint) ThrustPerPower() float64 { return p.Thrust / p.Power }

// Title of the point of top speed.
const TopSpeedPoint = "Top speed"

// Points are the operating points of a craft that has both hover and full throttle: at
// rest, and in level flight where it flies.
func (c *Craft) Points() []OperatingPoint {
	t := c.Powertrain
	f := &t.Full
	static := c.thrustToWeight * c.Mass
	hover := pointOf("Hover", &c.Hover)
	hover.Thrust, hover.Available, hover.Mach = c.Mass, static, c.tipSpeed(c.Hover.Speed)/c.Model.Air.SoundSpeed
	hover.Temperature = c.steady()
	full := OperatingPoint{Title: "Full throttle at rest", Thrust: static, Available: static, Speed: f.Speed,
		Mach: c.tipSpeed(f.Speed) / c.Model.Air.SoundSpeed, Torque: f.Torque, Current: f.Current,
		Voltage: t.Drive.Motor.Voltage(f.Current, f.Speed), Duty: 1, PackCurrent: f.PackCurrent,
		PackVoltage: f.PackVoltage,
		Power:       f.PackCurrent * f.PackVoltage, Temperature: math.NaN(), Stands: "burst-time"}
	out := []OperatingPoint{hover, full}
	if !c.Flight.OK {
		return out
	}
	for _, x := range []struct {
		title string
		at    *flight.Cruise
	}{{"Least power", &c.Flight.Endurance}, {"Best range", &c.Flight.Range}, {TopSpeedPoint, &c.Flight.Top}} {
		if x.at.Airspeed == 0 {
			continue
		}
		p := pointOf(x.title, &x.at.Point)
		p.Airspeed, p.Mach = x.at.Airspeed, c.AdvancingMach(x.at)
		if at, ok := c.Thrusts(x.at.Airspeed); ok {
			p.Thrust, p.Available = at.Needed/gravity, at.Available/gravity
		}
		p.Temperature = t.Drive.Motor.Steady(c.heatAt(x.at))
		if x.at == &c.Flight.Top && p.Temperature > motor.BurstLimit {
			p.Temperature, p.Stands = math.NaN(), "top-speed-time"
		}
		out = append(out, p)
	}
	return out
}

// pointOf takes what the electrical chain says of a point.
func pointOf(title string, p *flight.Point) OperatingPoint {
	nan := math.NaN()
	return OperatingPoint{Title: title, Thrust: nan, Available: nan, Speed: p.Speed, Mach: nan, Torque: p.Torque,
		Current: p.Current, Voltage: p.Voltage, Duty: p.Duty, PackCurrent: p.PackCurrent, PackVoltage: p.PackVoltage,
		Power: p.Power, Temperature: nan}
}
