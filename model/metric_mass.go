package model

import (
	"math"

	"rotorsieve/model/unit"
)

// massMetrics are the metrics of what needs no operating point.
var massMetrics = []*Metric{
	{Name: "auw", Even: true, Title: "All-up weight", Symbol: "AUW",
		Kind: unit.Mass, Unit: unit.Mass.Unit("g"), Better: Lower,
		Meaning: "mass before take-off, with pack, strap and payload",
		Formula: words("sum of the masses").solved(massSum()),
		Source:  trade,
		Stage:   StageMass,
		of:      func(c *Craft) float64 { return c.Mass }},
	{Name: "class-margin", Title: "Margin to the class limit", Symbol: "dm",
		Kind: unit.Mass, Unit: unit.Mass.Unit("g"), Better: Higher,
		Meaning: "class limit less all-up weight",
		Formula: symbols("limit - AUW"),
		Source:  defined,
		Stage:   StageMass, ByClass: true, Signed: true,
		of: func(c *Craft) float64 {
			if c.Limit == 0 {
				return math.NaN()
			}
			return c.Limit - c.Mass
		}},
	{Name: "payload", Title: "Payload", Symbol: "m_pl",
		Kind: unit.Mass, Unit: unit.Mass.Unit("g"), Better: Higher,
		Meaning: "mass carried, part of the all-up weight",
		Formula: symbols(`"as given"`),
		Source:  defined,
		Stage:   StageMass, Zero: true,
		of: func(c *Craft) float64 { return c.Payload }},
	{Name: "disk-loading", Even: true, Title: "Disk loading", Symbol: "DL",
		Kind: unit.DiskLoading, Unit: unit.DiskLoading.Unit("g/in2"), Better: Neither,
		Meaning: "weight over the area of all discs",
		Formula: symbols("AUW g/(pi D{in}^2)"),
		Source:  leishman,
		Stage:   StageMass,
		of:      func(c *Craft) float64 { return c.Mass * gravity / c.Powertrain.Propeller.Disc }},
	{Name: "battery-fraction", Even: true, Title: "Battery fraction", Symbol: "f_b",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Neither,
		Meaning: "pack mass over all-up weight",
		Formula: symbols("m_pack/AUW"),
		Source:  defined,
		Stage:   StageMass, Most: whole,
		of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Mass / c.Mass }},
	{Name: "wheelbase", Title: "Wheelbase", Symbol: "L",
		Kind: unit.Length, Unit: unit.Length.Unit("mm"), Better: Neither,
		Meaning: "diagonal between motors",
		Formula: symbols("sqrt(2) D{mm} (1 + clearance)"),
		Source:  "geometry of the X quad",
		Stage:   StageMass, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Propeller.Wheelbase }},
	{Name: "capacity-per-cell", Even: true, Rises: true, Title: "Capacity per cell in series", Symbol: "C/N",
		Kind: unit.Charge, Unit: unit.Charge.Unit("mAh"), Better: Neither,
		Meaning: "capacity of the pack over its cells in series: " +
			"packs of many cells are sold from a larger capacity on",
		Formula: symbols("C/N"),
		Source:  trade,
		Stage:   StageMass, Bare: true,
		of: func(c *Craft) float64 {
			k := &c.Powertrain.Drive.Pack
			return k.Capacity / float64(k.Cells)
		}},
	{Name: "rim-speed", Title: "Stator rim speed without load", Symbol: "V_rim",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Lower,
		Meaning: "KV of the label times the voltage of the charged pack, at the rim of the stator: " +
			"how fast a winding the motor asks for",
		Formula: symbols("pi d KV{rev/s} V_rested(full)"),
		Source:  trade,
		Stage:   StageMass, Bare: true,
		of: (*Craft).rimSpeed},
	{Name: "winding-load", Title: "Use of the fastest winding", Symbol: "V_rim/V_w",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "rim speed of the stator without load over that of the fastest windings that are sold for " +
			"stators of its diameter",
		Formula: symbols("V_rim/([V_w scale] (d{mm}/[d_w])^[V_w exponent])"),
		Source:  trade,
		Stage:   StageMass, Bare: true,
		of: func(c *Craft) float64 { return c.rimSpeed() / c.Powertrain.Drive.Motor.FastestRim() }},
}
