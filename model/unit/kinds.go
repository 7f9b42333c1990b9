package unit

// Exact by definition: the international inch, foot, pound, ounce and nautical
// mile, and the standard acceleration of gravity 9.80665 m/s2 (BIPM, The
// International System of Units, 9th edition, 2019; NIST Special Publication
// 811, 2008), from memory. The U.S. units of this table are the international
// ones.

// The kinds. The unit in which values are kept is the first of each list.
var (
	// Length in metres. Bare numbers are inches, as propellers are sold.
	Length = &Kind{name: "length", want: "a length such as 5in or 127mm", bare: 3, units: []Unit{
		{Symbol: "m", Label: "m", num: 1, den: 1},
		{Symbol: "mm", Label: "mm", num: 1, den: 1000},
		{Symbol: "cm", Label: "cm", num: 1, den: 100},
		{Symbol: "in", Label: "in", num: 254, den: 10000},
		{Symbol: "ft", Label: "ft", num: 3048, den: 10000},
		{Symbol: "km", Label: "km", num: 1000, den: 1},
	}}
	// Area in square metres. Bare numbers are cm2.
	Area = &Kind{name: "area", want: "an area such as 100cm2 or 0.01m2", bare: 1, units: []Unit{
		{Symbol: "m2", Label: "m²", num: 1, den: 1},
		{Symbol: "cm2", Label: "cm²", num: 1, den: 10000},
		{Symbol: "in2", Label: "in²", num: 254 * 254, den: 10000 * 10000},
	}}
	// Mass in kilograms. Bare numbers are grams.
	Mass = &Kind{name: "mass", want: "a mass such as 249g or 1.2kg", bare: 1, units: []Unit{
		{Symbol: "kg", Label: "kg", num: 1, den: 1},
		{Symbol: "g", Label: "g", num: 1, den: 1000},
		{Symbol: "lb", Label: "lb", num: 45359237, den: 100000000},
		{Symbol: "oz", Label: "oz", num: 45359237, den: 1600000000},
	}}
	// Time in seconds. Bare numbers are minutes.
	Time = &Kind{name: "time", want: "a time such as 8min or 30s", bare: 2, units: []Unit{
		{Symbol: "s", Label: "s", num: 1, den: 1},
		{Symbol: "ms", Label: "ms", num: 1, den: 1000},
		{Symbol: "min", Label: "min", num: 60, den: 1},
		{Symbol: "h", Label: "h", num: 3600, den: 1},
	}}
	// Speed in metres per second.
	Speed = &Kind{name: "speed", want: "a speed such as 12m/s or 45km/h", units: []Unit{
		{Symbol: "m/s", Label: "m/s", num: 1, den: 1},
		{Symbol: "km/h", Label: "km/h", num: 1000, den: 3600},
		{Symbol: "mph", Label: "mph", num: 44704, den: 100000},
		{Symbol: "kn", Label: "kn", num: 1852, den: 3600},
	}}
	// Temperature in kelvin. Bare numbers are degrees Celsius.
	Temperature = &Kind{name: "temperature", want: "a temperature such as 35degC or 308.15K", bare: 1, units: []Unit{
		{Symbol: "K", Label: "K", num: 1, den: 1},
		{Symbol: "degC", Label: "°C", num: 1, den: 1, zero: 27315},
		{Symbol: "degF", Label: "°F", num: 5, den: 9, zero: 45967},
	}}
	// TemperatureDifference in kelvin, such as an offset from the standard
	// atmosphere. 1 degC of difference is 1 K.
	TemperatureDifference = &Kind{name: "temperature difference",
		want: "a temperature difference such as 15K or -10degC", units: []Unit{
			{Symbol: "K", Label: "K", num: 1, den: 1},
			{Symbol: "degC", Label: "°C", num: 1, den: 1},
			{Symbol: "degF", Label: "°F", num: 5, den: 9},
		}}
	// Density in kilograms per cubic metre.
	Density = &Kind{name: "density", want: "a density such as 1.225kg/m3", units: []Unit{
		{Symbol: "kg/m3", Label: "kg/m³", num: 1, den: 1},
		{Symbol: "g/cm3", Label: "g/cm³", num: 1000, den: 1},
	}}
	// Pressure in pascals. Bare numbers are hPa.
	Pressure = &Kind{name: "pressure", want: "a pressure such as 1013.25hPa", bare: 1, units: []Unit{
		{Symbol: "Pa", Label: "Pa", num: 1, den: 1},
		{Symbol: "hPa", Label: "hPa", num: 100, den: 1},
		{Symbol: "kPa", Label: "kPa", num: 1000, den: 1},
		{Symbol: "MPa", Label: "MPa", num: 1000000, den: 1},
	}}
	// Voltage in volts.
	Voltage = &Kind{name: "voltage", want: "a voltage such as 14.8V", units: []Unit{
		{Symbol: "V", Label: "V", num: 1, den: 1},
		{Symbol: "mV", Label: "mV", num: 1, den: 1000},
	}}
	// Current in amperes.
	Current = &Kind{name: "current", want: "a current such as 30A", units: []Unit{
		{Symbol: "A", Label: "A", num: 1, den: 1},
		{Symbol: "mA", Label: "mA", num: 1, den: 1000},
	}}
	// Charge in ampere seconds. Bare numbers are mAh. The coulomb is left out:
	// its symbol is the trade's C rate.
	Charge = &Kind{name: "charge", want: "a charge such as 1300mAh or 1.3Ah", bare: 1, units: []Unit{
		{Symbol: "As", Label: "A·s", num: 1, den: 1},
		{Symbol: "mAh", Label: "mAh", num: 36, den: 10},
		{Symbol: "Ah", Label: "Ah", num: 3600, den: 1},
	}}
	// CRate is a current over a capacity, kept in 1/h: 30C is 30.
	CRate = &Kind{name: "C rate", want: "a C rate such as 30C", bare: 1, units: []Unit{
		{Symbol: "/h", Label: "1/h", num: 1, den: 1},
		{Symbol: "C", Label: "C", num: 1, den: 1, tight: true},
	}}
	// Energy in joules. Bare numbers are Wh.
	Energy = &Kind{name: "energy", want: "an energy such as 22Wh", bare: 2, units: []Unit{
		{Symbol: "J", Label: "J", num: 1, den: 1},
		{Symbol: "kJ", Label: "kJ", num: 1000, den: 1},
		{Symbol: "Wh", Label: "Wh", num: 3600, den: 1},
	}}
	// Power in watts.
	Power = &Kind{name: "power", want: "a power such as 130W", units: []Unit{
		{Symbol: "W", Label: "W", num: 1, den: 1},
		{Symbol: "kW", Label: "kW", num: 1000, den: 1},
	}}
	// Resistance in ohms. Bare numbers are milliohms.
	Resistance = &Kind{name: "resistance", want: "a resistance such as 60mohm", bare: 1, units: []Unit{
		{Symbol: "ohm", Label: "Ω", num: 1, den: 1},
		{Symbol: "mohm", Label: "mΩ", num: 1, den: 1000},
	}}
	// Force in newtons.
	Force = &Kind{name: "force", want: "a force such as 6.4N or 650gf", units: []Unit{
		{Symbol: "N", Label: "N", num: 1, den: 1},
		{Symbol: "gf", Label: "gf", num: 980665, den: 100000000},
		{Symbol: "kgf", Label: "kgf", num: 980665, den: 100000},
	}}
	// Torque in newton metres.
	Torque = &Kind{name: "torque", want: "a torque such as 0.05Nm or 50mNm", units: []Unit{
		{Symbol: "Nm", Label: "N·m", num: 1, den: 1},
		{Symbol: "mNm", Label: "mN·m", num: 1, den: 1000},
	}}
	// TorqueDensity is torque per volume in N m/m3. Bare numbers are kN m/m3.
	TorqueDensity = &Kind{name: "torque density", want: "a torque density such as 30kNm/m3", bare: 1, units: []Unit{
		{Symbol: "Nm/m3", Label: "N·m/m³", num: 1, den: 1},
		{Symbol: "kNm/m3", Label: "kN·m/m³", num: 1000, den: 1},
	}}
	// DiskLoading is weight per total disc area in N/m2. Bare numbers are
	// g/in2, the mass whose standard weight loads a square inch.
	DiskLoading = &Kind{name: "disk loading", want: "a disk loading such as 7.5g/in2 or 114N/m2", bare: 1,
		units: []Unit{
			{Symbol: "N/m2", Label: "N/m²", num: 1, den: 1},
			{Symbol: "g/in2", Label: "g/in²", num: 980665, den: 254 * 254},
			{Symbol: "kg/m2", Label: "kg/m²", num: 980665, den: 100000},
		}}
	// ThrustPerPower is thrust, as the mass it holds up, per electrical watt,
	// in kg/W. Bare numbers are g/W.
	ThrustPerPower = &Kind{name: "thrust per power", want: "a thrust per power such as 5.5g/W", bare: 1, units: []Unit{
		{Symbol: "kg/W", Label: "kg/W", num: 1, den: 1},
		{Symbol: "g/W", Label: "g/W", num: 1, den: 1000},
	}}
	// Rotation is a speed of rotation in revolutions per second. Bare numbers
	// are rpm.
	Rotation = &Kind{name: "speed of rotation", want: "a speed of rotation such as 25000rpm", bare: 1, units: []Unit{
		{Symbol: "rev/s", Label: "rev/s", num: 1, den: 1},
		{Symbol: "rpm", Label: "rpm", num: 1, den: 60},
	}}
	// SpeedConstant is a motor's KV, kept in rpm/V.
	SpeedConstant = &Kind{name: "speed constant", want: "a KV such as 1750 or 1750rpm/V", units: []Unit{
		{Symbol: "rpm/V", Label: "rpm/V", num: 1, den: 1},
		{Symbol: "KV", Label: "KV", num: 1, den: 1},
	}}
	// Angle in radians. Bare numbers are degrees. Pi is taken as the float64
	// nearest to it, 884279719003555/2^48.
	Angle = &Kind{name: "angle", want: "an angle such as 30deg or 0.5rad", bare: 1, units: []Unit{
		{Symbol: "rad", Label: "rad", num: 1, den: 1},
		{Symbol: "deg", Label: "°", num: 884279719003555, den: 180 << 48, tight: true},
	}}
	// Conductance is heat passed on for each kelvin of difference, in W/K.
	Conductance = &Kind{name: "conductance of heat", want: "a conductance of heat such as 0.3W/K", units: []Unit{
		{Symbol: "W/K", Label: "W/K", num: 1, den: 1},
		{Symbol: "mW/K", Label: "mW/K", num: 1, den: 1000},
	}}
	// Inertia is a moment of inertia in kg m2.
	Inertia = &Kind{name: "moment of inertia", want: "a moment of inertia such as 50gcm2", units: []Unit{
		{Symbol: "kgm2", Label: "kg·m²", num: 1, den: 1},
		{Symbol: "gcm2", Label: "g·cm²", num: 1, den: 10000000},
	}}
	// AngularAcceleration in rad/s2.
	AngularAcceleration = &Kind{name: "angular acceleration", want: "an angular acceleration such as 200rad/s2",
		units: []Unit{
			{Symbol: "rad/s2", Label: "rad/s²", num: 1, den: 1},
			{Symbol: "deg/s2", Label: "°/s²", num: 884279719003555, den: 180 << 48},
		}}
	// Frequency in hertz.
	Frequency = &Kind{name: "frequency", want: "a frequency such as 48kHz", units: []Unit{
		{Symbol: "Hz", Label: "Hz", num: 1, den: 1},
		{Symbol: "kHz", Label: "kHz", num: 1000, den: 1},
	}}
	// Ratio is a pure number.
	Ratio = &Kind{name: "ratio", want: "a number such as 0.85 or 85%", units: []Unit{
		{num: 1, den: 1},
		{Symbol: "%", Label: "%", num: 1, den: 100},
	}}
	// Count is a whole number.
	Count = &Kind{name: "count", want: "a whole number such as 3", whole: true, units: []Unit{
		{num: 1, den: 1},
	}}
	// Price is a sum of money, in whatever currency all prices are.
	Price = &Kind{name: "price", want: "a price such as 250", units: []Unit{
		{num: 1, den: 1},
	}}
	// Cells is the number of cells in series, as in 4S.
	Cells = &Kind{name: "cells in series", want: "a number of cells such as 4 or 4S", whole: true, units: []Unit{
		{Symbol: "S", Label: "S", num: 1, den: 1, tight: true},
	}}
	// Stator is a motor's stator size as its trade code DDHH, diameter and
	// height in mm: 2207 is 22 mm x 7 mm. An axis of stators keeps the order in
	// which it is written. StatorSize takes a code apart.
	Stator = &Kind{name: "stator size", want: wantStator, unordered: true, read: readStator, fits: oneDiameter,
		units: []Unit{
			{num: 1, den: 1, width: 4},
		}}
)

// Kinds are all kinds. The first that has a unit is the one an error names as
// its kind.
var Kinds = []*Kind{
	Length, Area, Mass, Time, Speed, Temperature, TemperatureDifference, Density, Pressure,
	Voltage, Current, Charge, CRate, Energy, Power, Resistance, Conductance,
	Force, Torque, TorqueDensity, DiskLoading, ThrustPerPower,
	Rotation, SpeedConstant, Angle, Inertia, AngularAcceleration, Frequency,
	Ratio, Count, Price, Cells, Stator,
}
