package pack

import (
	"fmt"

	"rotorsieve/model/basis"
)

const trade = "common practice"

// Basis lists the constants of the package.
func Basis() []basis.Constant {
	out := []basis.Constant{
		{Symbol: "pack overhead", Value: overhead, Spread: "6 %", Meaning: "pack mass over bare cells", Source: trade},
		{Symbol: "pack leads LiPo", Value: lipoLeads, Unit: "kg", Spread: "30 %", Meaning: "leads and connector, pouch cells", Source: trade},
		{Symbol: "pack leads Li-ion", Value: liionLeads, Unit: "kg", Spread: "30 %", Meaning: "leads and connector, cylindrical cells", Source: trade},
		{Symbol: "R joint", Value: jointR, Unit: "ohm", Spread: "20 %", Meaning: "per cell in series", Source: trade},
		{Symbol: "R lead", Value: leadR, Unit: "ohm", Spread: "20 %", Meaning: "per pack", Source: trade},
		{Symbol: "Ea", Value: activation, Unit: "J/mol", Meaning: "Arrhenius growth of the resistance in the cold", Source: "from memory"},
		{Symbol: "R_gas", Value: gasConstant, Unit: "J/(mol K)", Meaning: "molar gas constant", Source: "handbook value (from memory)"},
		{Symbol: "T_R", Value: referenceT, Unit: "K", Meaning: "temperature of the cells for which the resistances stand", Source: "definition"},
		{Symbol: "I limit scale", Value: limitScale, Unit: "A sqrt(mohm/mAh)", Meaning: "continuous current of LiPo, scale sqrt(C/R_cell)", Source: trade},
		{Symbol: "I limit rate", Value: limitRate, Unit: "1/h", Meaning: "cap on the continuous C rate of LiPo", Source: trade},
		{Symbol: "I burst", Value: burstFactor, Meaning: "full-throttle seconds over continuous current", Source: trade},
		{Symbol: "aged capacity", Value: agedCapacity, Meaning: "factor when an aged pack is asked for", Source: trade},
		{Symbol: "aged R", Value: agedR, Meaning: "factor when an aged pack is asked for", Source: trade},
	}
	for i, share := range coldCapacity.share {
		out = append(out, basis.Constant{Symbol: fmt.Sprintf("capacity at %.0f degC", coldCapacity.t[i]-273.15), Value: share,
			Meaning: "share of the capacity at that temperature of the cells, in a line between and level outside", Source: trade})
	}
	for _, g := range Grades {
		if g.cellAh > 0 {
			out = append(out,
				basis.Constant{Symbol: g.Name + " C", Value: g.cellAh, Unit: "Ah", Meaning: "capacity of one cell of " + g.Meaning, Source: trade},
				basis.Constant{Symbol: g.Name + " mass", Value: g.cellMass, Unit: "kg", Spread: "3 %", Meaning: "one cell of " + g.Meaning, Source: trade},
				basis.Constant{Symbol: g.Name + " R", Value: g.cellR, Unit: "ohm", Spread: "15 %", Meaning: "one cell", Source: trade},
				basis.Constant{Symbol: g.Name + " I limit", Value: g.cellMax, Unit: "A", Meaning: "one cell, continuous", Source: trade})
			continue
		}
		out = append(out,
			basis.Constant{Symbol: g.Name + " mass", Value: g.massPerAh, Unit: "kg/Ah", Spread: "6 %", Meaning: "one cell of " + g.Meaning, Source: trade},
			basis.Constant{Symbol: g.Name + " R C", Value: g.rhoAh, Unit: "ohm Ah", Spread: "20 %", Meaning: "resistance of one cell times its capacity", Source: trade})
	}
	for _, c := range []struct {
		name string
		of   *chemistry
	}{{"LiPo", lipo}, {"Li-ion", liion}} {
		out = append(out,
			basis.Constant{Symbol: "usable " + c.name, Value: c.of.usable, Meaning: "share of the capacity a flight may draw", Source: trade},
			basis.Constant{Symbol: "floor " + c.name, Value: c.of.floor, Unit: "V", Meaning: "loaded voltage per cell that ends a flight", Source: trade})
		for i, v := range c.of.rested {
			out = append(out, basis.Constant{Symbol: fmt.Sprintf("V %s at %.2f", c.name, c.of.dod[i]), Value: v, Unit: "V",
				Meaning: fmt.Sprintf("rested voltage of a cell at a depth of discharge of %.2f, in a line between", c.of.dod[i]), Source: trade})
		}
	}
	return out
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	const derived = "derived here"
	return []basis.Law{
		{Name: "Pack mass, pouch cells", Formula: "m = leads + overhead (mass per Ah) C N, C the capacity in Ah, N cells in series", Source: trade},
		{Name: "Pack mass, cylindrical cells", Formula: "m = leads + overhead (mass of a cell) N p, p = C/(capacity of a cell) cells in parallel", Source: trade},
		{Name: "Pack resistance R", Formula: "R = (N (R_cell + R joint) + R lead) exp((Ea/R_gas) (1/T - 1/T_R)), T of the cells; x aged R; R_cell = (R C)/C of pouch cells, R/p of cylindrical ones", Source: trade},
		{Name: "Charge Q", Formula: "Q = C (capacity at T), x aged capacity", Source: trade},
		{Name: "Continuous current I_cont", Formula: "pouch cells: least of scale sqrt(C/R_cell), C in mAh, R_cell in mohm at T_R, and rate C; cylindrical: I limit p; for seconds x I burst", Source: trade},
		{Name: "Loaded voltage V", Formula: "V = V_rested - R I; at a power P: V = (V_rested + sqrt(V_rested^2 - 4 R P))/2", Source: derived},
		{Name: "Voltage of hover and cruise", Formula: "V_rested is the mean of the curve over the usable share, N times that of a cell; full throttle has it at its state of charge", Source: trade},
		{Name: "Endurance t at a power P", Formula: "t = Q N/(2 P) integral of v + sqrt(v^2 - y) over the depth of discharge, y = 4 R P/N^2, v the rested voltage of a cell, from full to the usable share or to v = floor + y/(4 floor), where the loaded voltage of a cell is the floor (where y > 4 floor^2: to v = sqrt(y))", Source: derived},
		{Name: "The integral, between two points of the curve", Formula: "(F(v2) - F(v1)) (DoD2 - DoD1)/(v2 - v1), F(v) = (v^2 + v s - y ln(v + s))/2, s = sqrt(v^2 - y)", Source: derived},
	}
}
