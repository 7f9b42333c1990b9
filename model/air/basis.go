package air

import "rotorsieve/model/basis"

// The defining constants of ISO 2533:1975.
const (
	gravity               = 9.80665
	gasConstant           = 287.05287
	heatRatio             = 1.4
	seaTemperature        = 288.15
	lapse                 = -0.0065
	tropopause            = 11000.0
	sutherlandFactor      = 1.458e-6
	sutherlandTemperature = 110.4
)

const iso = "ISO 2533:1975, Standard Atmosphere; U.S. Standard Atmosphere, 1976"

// Basis returns the constants of the atmosphere with their sources.
func Basis() []basis.Constant {
	p := Nominal()
	return basis.List(Entries(), &p)
}

// Entries lists the constants and parameters of the package.
func Entries() []basis.Entry[Parameters] {
	return []basis.Entry[Parameters]{
		{Symbol: "g", Value: gravity, Unit: "m/s²", Meaning: "standard acceleration of gravity", Source: iso},
		{Symbol: "R", Value: gasConstant, Unit: "J/(kg K)", Meaning: "gas constant of dry air", Source: iso},
		{Symbol: "γ", Value: heatRatio, Meaning: "ratio of specific heats, for the speed of sound", Source: iso},
		{Symbol: "T0", Value: seaTemperature, Unit: "K", Meaning: "standard temperature at sea level", Source: iso},
		{Symbol: "p0", At: func(p *Parameters) *float64 { return &p.SeaPressure }, Unit: "Pa",
			Sigma: 0.03, Reach: basis.All,
			Meaning: "standard pressure at sea level; its spread stands for that of the density with the weather",
			Source:  iso + "; spread: common practice"},
		{Symbol: "L", Value: lapse, Unit: "K/m", Meaning: "temperature gradient up to the tropopause", Source: iso},
		{Symbol: "Ht", Value: tropopause, Unit: "m", Meaning: "geopotential altitude of the tropopause", Source: iso},
		{Symbol: "βs", Value: sutherlandFactor, Unit: "kg/(m s √K)", Meaning: "viscosity, mu = βs T^1.5/(T + S)",
			Source: iso},
		{Symbol: "S", Value: sutherlandTemperature, Unit: "K",
			Meaning: "Sutherland's temperature of the viscosity law", Source: iso},
	}
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	return []basis.Law{
		{Name: "Standard temperature T", Formula: "T = T0 + L H up to Ht, level above, H the geopotential altitude; " +
			"or as given", Source: iso},
		{Name: "Pressure p", Formula: "p = p0 (T/T0)^(-g/(L R)) up to Ht with the standard's T; above, that of Ht " +
			"times exp(-g (H - Ht)/(R T))", Source: iso},
		{Name: "Density rho, speed of sound a, viscosity", Formula: "rho = p/(R T), a = sqrt(γ R T), viscosity βs " +
			"T^1.5/(T + S)", Source: iso},
	}
}
