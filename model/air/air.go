// Package air gives the state of the air a craft flies in.
//
// The altitude is geopotential. Pressure follows ISO 2533:1975, Standard
// Atmosphere (identical to U.S. Standard Atmosphere, 1976, over the range
// used here); the temperature is the standard's or the user's own. The air is
// dry: humidity changes the density by less than 2 % at 30 °C.
package air

import (
	"fmt"
	"math"
)

// Air is the state of still, dry air, in SI units.
type Air struct {
	Altitude    float64 // m, geopotential
	Temperature float64 // K
	Pressure    float64 // Pa
	Density     float64 // kg/m³
	SoundSpeed  float64 // m/s
	Viscosity   float64 // Pa s, dynamic
}

// Mach is the Mach number of a speed in m/s.
func (a Air) Mach(speed float64) float64 { return speed / a.SoundSpeed }

// Altitudes and temperatures for which the package answers.
const (
	MinAltitude    = -500.0  // m
	MaxAltitude    = 20000.0 // m, the top of the isothermal layer
	MinTemperature = 173.15  // K
	MaxTemperature = 343.15  // K
)

// Parameters are the constants of the air whose spread is known; Basis says more of each.
type Parameters struct {
	SeaPressure float64 // at sea level, Pa; the weather changes it
}

// Nominal returns the parameters of the standard atmosphere.
func Nominal() Parameters { return Parameters{SeaPressure: 101325} }

// Standard returns the standard atmosphere at a geopotential altitude in
// metres, from MinAltitude to MaxAltitude.
func Standard(altitude float64) (Air, error) { return Offset(altitude, 0) }

// At returns the air at a geopotential altitude in metres with the pressure of
// the standard atmosphere and an outside air temperature in kelvin, from
// MinTemperature to MaxTemperature.
func At(altitude, temperature float64) (Air, error) {
	p := Nominal()
	return p.At(altitude, temperature)
}

// Offset returns the air at a geopotential altitude in metres with the
// pressure of the standard atmosphere and its temperature raised by dT kelvin.
func Offset(altitude, dT float64) (Air, error) {
	p := Nominal()
	return p.Offset(altitude, dT)
}

// At is the function At with the parameters' pressure at sea level.
func (p *Parameters) At(altitude, temperature float64) (Air, error) {
	if err := checkAltitude(altitude); err != nil {
		return Air{}, err
	}
	_, pressure := p.standard(altitude)
	return state(altitude, temperature, pressure)
}

// Offset is the function Offset with the parameters' pressure at sea level.
func (p *Parameters) Offset(altitude, dT float64) (Air, error) {
	if err := checkAltitude(altitude); err != nil {
		return Air{}, err
	}
	T, pressure := p.standard(altitude)
	return state(altitude, T+dT, pressure)
}

func checkAltitude(H float64) error {
	if !(H >= MinAltitude && H <= MaxAltitude) {
		return fmt.Errorf("air: altitude %g m is outside the atmosphere model, want %g to %g m", H, MinAltitude,
			MaxAltitude)
	}
	return nil
}

// standard returns temperature (K) and pressure (Pa) of ISO 2533:1975: a
// linear temperature up to the tropopause, then an isothermal layer.
func (p *Parameters) standard(H float64) (T, pressure float64) {
	Tt := seaTemperature + lapse*tropopause
	if H <= tropopause {
		T = seaTemperature + lapse*H
		return T, p.SeaPressure * math.Pow(T/seaTemperature, -gravity/(lapse*gasConstant))
	}
	pt := p.SeaPressure * math.Pow(Tt/seaTemperature, -gravity/(lapse*gasConstant))
	return Tt, pt * math.Exp(-gravity*(H-tropopause)/(gasConstant*Tt))
}

// state completes the air from temperature and pressure: perfect gas, and
// Sutherland's law for the viscosity.
func state(H, T, p float64) (Air, error) {
	if !(T >= MinTemperature && T <= MaxTemperature) {
		return Air{}, fmt.Errorf("air: temperature %.2f °C at %g m is outside the model, want %.0f to %.0f °C",
			T-273.15, H, MinTemperature-273.15, MaxTemperature-273.15)
	}
	return Air{
		Altitude:    H,
		Temperature: T,
		Pressure:    p,
		Density:     p / (gasConstant * T),
		SoundSpeed:  math.Sqrt(heatRatio * gasConstant * T),
		Viscosity:   sutherlandFactor * T * math.Sqrt(T) / (T + sutherlandTemperature),
	}, nil
}
