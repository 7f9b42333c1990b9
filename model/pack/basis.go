package pack

import (
	"fmt"

	"rotorsieve/model/basis"
)

const trade = "common practice"

// Basis lists the constants of the package, with the nominal parameters.
func Basis() []basis.Constant {
	p := Nominal()
	return basis.List(Entries(), &p)
}

// Entries lists the constants and parameters of the package.
func Entries() []basis.Entry[Parameters] {
	type entry = basis.Entry[Parameters]
	out := []entry{
		{Symbol: "pack overhead", At: func(p *Parameters) *float64 { return &p.Overhead },
			Sigma: 0.06, Reach: basis.Part,
			Meaning: "pack mass over bare cells",
			Source:  trade},
		{Symbol: "pack leads LiPo", At: func(p *Parameters) *float64 { return &p.LipoLeads }, Unit: "kg",
			Sigma: 0.30, Reach: basis.Part, Meaning: "leads and connector, pouch cells", Source: trade},
		{Symbol: "pack leads Li-ion", At: func(p *Parameters) *float64 { return &p.LiionLeads }, Unit: "kg",
			Sigma: 0.30, Reach: basis.Part, Meaning: "leads and connector, cylindrical cells", Source: trade},
		{Symbol: "R joint", At: func(p *Parameters) *float64 { return &p.JointR }, Unit: "ohm",
			Sigma: 0.20, Reach: basis.All, Meaning: "per cell in series", Source: trade},
		{Symbol: "R lead", At: func(p *Parameters) *float64 { return &p.LeadR }, Unit: "ohm",
			Sigma: 0.20, Reach: basis.All, Meaning: "per pack", Source: trade},
		{Symbol: "I limit factor", At: func(p *Parameters) *float64 { return &p.Current },
			Sigma: 0.20, Reach: basis.All, Meaning: "on the continuous current of all packs",
			Source: trade + ": labels of one current differ as much"},
		{Symbol: "Ea", Value: activation, Unit: "J/mol", Meaning: "Arrhenius growth of the resistance in the cold",
			Source: "from memory"},
		{Symbol: "R_gas", Value: gasConstant, Unit: "J/(mol K)", Meaning: "molar gas constant",
			Source: "handbook value (from memory)"},
		{Symbol: "T_R", Value: referenceT, Unit: "K",
			Meaning: "temperature of the cells for which the resistances stand", Source: "definition"},
		{Symbol: "I limit scale", Value: limitScale, Unit: "A sqrt(mohm/mAh)",
			Meaning: "continuous current of LiPo, scale sqrt(C/R_cell)", Source: trade},
		{Symbol: "I limit rate", Value: limitRate, Unit: "1/h", Meaning: "cap on the continuous C rate of LiPo",
			Source: trade},
		{Symbol: "I burst", Value: burstFactor, Meaning: "full-throttle seconds over continuous current",
			Source: trade},
		{Symbol: "aged capacity", Value: agedCapacity, Meaning: "factor when an aged pack is asked for", Source: trade},
		{Symbol: "aged R", Value: agedR, Meaning: "factor when an aged pack is asked for", Source: trade},
	}
	for i, share := range coldCapacity.share {
		out = append(out, entry{Symbol: fmt.Sprintf("capacity at %.0f degC", coldCapacity.t[i]-273.15), Value: share,
			Meaning: "share of the capacity at that temperature of the cells, in a line between and level outside",
			Source:  trade})
	}
	for i, g := range Grades {
		mass := func(p *Parameters) *float64 { return &p.Cells[i].Mass }
		R := func(p *Parameters) *float64 { return &p.Cells[i].R }
		if g.cellAh > 0 {
			out = append(out,
				entry{Symbol: g.Name + " C", Value: g.cellAh, Unit: "Ah",
					Meaning: "capacity of one cell of " + g.Meaning, Source: trade},
				entry{Symbol: g.Name + " mass", At: mass, Unit: "kg", Sigma: 0.03, Reach: basis.All,
					Meaning: "one cell of " + g.Meaning, Source: trade},
				entry{Symbol: g.Name + " R", At: R, Unit: "ohm", Sigma: 0.15, Reach: basis.All,
					Meaning: "one cell", Source: trade},
				entry{Symbol: g.Name + " I limit", Value: g.cellMax, Unit: "A", Meaning: "one cell, continuous",
					Source: trade})
			continue
		}
		out = append(out,
			entry{Symbol: g.Name + " mass", At: mass, Unit: "kg/Ah", Sigma: 0.06, Reach: basis.All,
				Meaning: "one cell of " + g.Meaning, Source: trade},
			entry{Symbol: g.Name + " R C", At: R, Unit: "ohm Ah", Sigma: 0.20, Reach: basis.All,
				Meaning: "resistance of one cell times its capacity", Source: trade})
	}
	for _, c := range []*chemistry{lipo, liion} {
		out = append(out,
			entry{Symbol: "usable " + c.name, Value: c.usable,
				Meaning: "share of the capacity a flight may draw", Source: trade},
			entry{Symbol: "floor " + c.name, Value: c.floor, Unit: "V",
				Meaning: "loaded voltage per cell that ends a flight", Source: trade})
		for i, v := range c.rested {
			out = append(out, entry{Symbol: fmt.Sprintf("V %s at %.2f", c.name, c.dod[i]), Value: v, Unit: "V",
				Source: trade,
				Meaning: fmt.Sprintf("rested voltage of a cell at a depth of discharge of %.2f, in a line between",
					c.dod[i])})
		}
	}
	return out
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	const derived = "derived here"
	return []basis.Law{
		{Name: "Pack mass, pouch cells", Formula: "m = leads + overhead (mass per Ah) C N, C the capacity in Ah, N " +
			"cells in series", Source: trade},
		{Name: "Pack mass, cylindrical cells", Formula: "m = leads + overhead (mass of a cell) N p, p = C/(capacity " +
			"of a cell) cells in parallel", Source: trade},
		{Name: "Pack resistance R", Formula: "R = (N (R_cell + R joint) + R lead) exp((Ea/R_gas) (1/T - 1/T_R)), T " +
			"of the cells; x aged R; R_cell = (R C)/C of pouch cells, R/p of cylindrical ones", Source: trade},
		{Name: "Charge Q", Formula: "Q = C (capacity at T), x aged capacity", Source: trade},
		{Name: "Continuous current I_cont", Formula: "pouch cells: least of scale sqrt(C/R_cell), C in mAh, R_cell " +
			"in mohm at T_R, and rate C; cylindrical: I limit p; for seconds x I burst", Source: trade},
		{Name: "Loaded voltage V", Formula: "V = V_rested - R I; at a power P: V = (V_rested + sqrt(V_rested^2 - 4 R " +
			"P))/2", Source: derived},
		{Name: "Voltage of hover and cruise", Formula: "V_rested is the mean of the curve over the usable share, N " +
			"times that of a cell; full throttle has it at its state of charge", Source: trade},
		{Name: "Endurance t at a power P", Formula: "t = Q N/(2 P) integral of v + sqrt(v^2 - y) over the depth of " +
			"discharge, y = 4 R P/N^2, v the rested voltage of a cell, from full to the usable share less the " +
			"landing reserve of it or to v = floor + y/(4 floor), where the loaded voltage of a cell is the floor " +
			"(where y > 4 floor^2: to v = sqrt(y))",
			Source: derived},
		{Name: "The integral, between two points of the curve",
			Formula: "(F(v2) - F(v1)) (DoD2 - DoD1)/(v2 - v1), F(v) = (v^2 + v s - y ln(v + s))/2, s = sqrt(v^2 - y)",
			Source:  derived},
	}
}
