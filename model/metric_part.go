package model

import (
	"math"

	"rotorsieve/model/part"
	"rotorsieve/model/unit"
)

const owner = "the part, as its owner states it"

// partMetrics are the metrics of crafts of parts that exist: how these fit, and what they
// cost. They are NaN for a craft without the part, and a use is 0 where the part states no limit.
var partMetrics = []*Metric{
	{Name: "frame-use", Title: "Use of the frame's propeller limit", Symbol: "D/D_F",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Neither,
		Meaning: "propeller's diameter over that of the largest that the frame takes; only of frames that exist",
		Formula: words("D over the largest that the frame takes"), Source: owner,
		Stage: StageMass, Bare: true,
		of: ofPart(func(p *Parts) *part.Frame { return p.Frame }, func(c *Craft, k *part.Frame) float64 {
			return c.Powertrain.Propeller.Diameter / k.Largest
		})},
	{Name: "motor-cells-use", Title: "Use of the motor's cell limit", Symbol: "N/N_m",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "cells in series over the most that the motor's maker allows; only of motors that exist, 0 where " +
			"none are stated",
		Formula: words("N over the most that the motor is stated for"), Source: owner,
		Stage: StageMass, Bare: true,
		of: ofPart(func(p *Parts) *part.Motor { return p.Motor }, func(c *Craft, k *part.Motor) float64 {
			return use(float64(c.Powertrain.Drive.Pack.Cells), k.MostCells)
		})},
	{Name: "board-cells-use", Title: "Use of the board's cell limit", Symbol: "N/N_ctl",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "cells in series over the most that the board takes; only of boards that exist",
		Formula: words("N over the most that the board takes"), Source: owner,
		Stage: StageMass, Bare: true,
		of: ofPart(func(p *Parts) *part.Board { return p.Board }, func(c *Craft, k *part.Board) float64 {
			return float64(c.Powertrain.Drive.Pack.Cells) / float64(k.Cells)
		})},
	{Name: "motor-current-use", Title: "Use of the motor's current limit", Symbol: "I_m/I_max",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "current of a motor at full throttle over the most that it may draw; only of motors that exist, 0 " +
			"where none is stated",
		Formula: words("I_m over the most that the motor is stated for"), Source: owner,
		Stage: StageOperate, Bare: true,
		of: ofPart(func(p *Parts) *part.Motor { return p.Motor }, func(c *Craft, k *part.Motor) float64 {
			return use(c.Powertrain.Full.Current, k.Current)
		})},
	{Name: "board-current-use", Title: "Use of the board's current rating", Symbol: "I_m/I_rated",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "current of a motor at full throttle over the board's rating; only of boards that exist",
		Formula: words("I_m/I_rated"), Source: owner,
		Stage: StageOperate, Bare: true,
		of: ofPart(func(p *Parts) *part.Board { return p.Board }, func(c *Craft, k *part.Board) float64 {
			return c.Powertrain.Full.Current / k.Current
		})},
	{Name: "propeller-speed-use", Title: "Use of the propeller's speed limit", Symbol: "n_max/n_P",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "speed of rotation at full throttle over the most of the propeller; only of propellers that exist, " +
			"0 where none is stated",
		Formula: words("n_max over the most that the propeller is stated for"), Source: owner,
		Stage: StageOperate, Bare: true,
		of: ofPart(func(p *Parts) *part.Propeller { return p.Propeller }, func(c *Craft, k *part.Propeller) float64 {
			return use(c.Powertrain.Full.Speed, k.Turns)
		})},
	{Name: "price", Title: "Price of the parts", Symbol: "price",
		Kind: unit.Price, Unit: unit.Price.SI(), Better: Lower,
		Meaning: "sum of the stated prices of the listed parts, motor and propeller four times, in the currency of " +
			"the lists; none where a listed part states none; what is generated is not in it",
		Formula: words("4 motors + 4 propellers + pack + frame + board, of those that exist"), Source: owner,
		Stage: StageMass, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Parts.Price() }},
}

// ofPart reads a metric of one of the parts that exist; NaN of a craft without it.
func ofPart[T any](at func(*Parts) *T, read func(*Craft, *T) float64) func(*Craft) float64 {
	return func(c *Craft) float64 {
		k := at(&c.Powertrain.Parts)
		if k == nil {
			return math.NaN()
		}
		return read(c, k)
	}
}

// use is a value over a limit; 0 where none is stated.
func use(v float64, limit part.Stated) float64 {
	if !limit.Known {
		return 0
	}
	return v / limit.Value
}

// Price is the sum of the stated prices of the parts of a craft, motor and propeller four
// times; NaN where one of them has none, or there are no parts.
func (p *Parts) Price() float64 {
	sum, some := 0.0, false
	add := func(exists bool, count float64, price func() part.Stated) {
		if exists {
			some = true
			sum += count * price().Or(math.NaN())
		}
	}
	add(p.Motor != nil, rotors, func() part.Stated { return p.Motor.Price })
	add(p.Propeller != nil, rotors, func() part.Stated { return p.Propeller.Price })
	add(p.Pack != nil, 1, func() part.Stated { return p.Pack.Price })
	add(p.Frame != nil, 1, func() part.Stated { return p.Frame.Price })
	add(p.Board != nil, 1, func() part.Stated { return p.Board.Price })
	if !some {
		return math.NaN()
	}
	return sum
}
