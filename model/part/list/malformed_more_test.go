package list

import (
	"slices"
	"strings"
	"testing"
)

// More of what lists get wrong: units of another kind, signs, ranges where one value is wanted, other
// notations, ends of bounds.
func TestMoreWrongFields(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ kind, column, field, says string }{
		{"motors", "name", "   ", "empty"},
		{"motors", "name", "-", "\"-\" begins with -, which a spreadsheet takes for a formula"},
		{"motors", "name", "a\u200fb", "\"a\\u200fb\": holds U+200F, which turns the direction of text"},
		{"motors", "name", "a\x7fb", "\"a\\x7fb\": holds U+007F, a control character"},
		{"motors", "name", "a\u2069b", "\"a\\u2069b\": holds U+2069, which turns the direction of text"},
		{"motors", "stator", "2207.5.1", "\"2207.5.1\": not a diameter and a height in mm"},
		{"motors", "stator", "2207mm", "\"2207mm\": not a stator code of four digits"},
		{"motors", "stator", "0", "\"0\": not a stator code of four digits"},
		{"motors", "stator", "2207,2306", "\"2207,2306\" has a comma"},
		{"motors", "stator", "101", "\"101\": not a stator code of four digits"},
		{"motors", "stator", "NaN", "\"NaN\": not a stator code of four digits"},
		{"motors", "kv", "1750 KV/V", "\"1750 KV/V\": \"KV/V\" is not a unit of speed constant"},
		{"motors", "kv", "0x6D6", "\"0x6D6\": \"x6D6\" is not a unit of speed constant"},
		{"motors", "kv", "1_750", "\"1_750\": \"_750\" is not a unit of speed constant"},
		{"motors", "kv", "1750;", "\"1750;\": \";\" is not a unit of speed constant"},
		{"motors", "kv", "49", "\"49\" is out of bounds"},
		{"motors", "kv", "50001", "\"50001\" is out of bounds"},
		{"motors", "kv", "1750V", "\"1750V\": V is a unit of voltage"},
		{"motors", "mass (g)", "--33", "\"--33\": no number"},
		{"motors", "mass (g)", "33.5.1", "\"33.5.1\": \".1\" is not a unit of mass"},
		{"motors", "mass (g)", "about 33", "\"about 33\": no number"},
		{"motors", "mass (g)", "33g g", "\"33g g\": \"g g\" is not a unit of mass"},
		{"motors", "mass (g)", "3kg", "\"3kg\" is out of bounds"},
		{"motors", "mass (g)", "inf", "\"inf\": no number"},
		{"motors", "resistance (mohm)", "58 Ω", "\"58 Ω\": \"Ω\" is not a unit"},
		{"motors", "resistance (mohm)", "58V", "\"58V\": V is a unit of voltage"},
		{"motors", "resistance (mohm)", "-58", "\"-58\" is out of bounds"},
		{"motors", "resistance (mohm)", "1e-3", "\"1e-3\" is out of bounds"},
		{"motors", "idle current (A)", "0.9V", "\"0.9V\": V is a unit of voltage"},
		{"motors", "idle current (A)", "21", "\"21\" is out of bounds"},
		{"motors", "idle voltage (V)", "0.5", "\"0.5\" is out of bounds"},
		{"motors", "idle voltage (V)", "three", "\"three\": no number"},
		{"motors", "current (A)", "38-45", "\"38-45\": \"-45\" is not a unit of current"},
		{"motors", "current (A)", "n/a", "\"n/a\": no number"},
		{"motors", "current (A)", "-", "\"-\": no number"},
		{"motors", "burst time (s)", "60A", "\"60A\": A is a unit of current"},
		{"motors", "burst time (s)", "2h", "\"2h\" is out of bounds"},
		{"motors", "burst time (s)", "60,5", "\"60,5\" has a comma"},
		{"motors", "most cells", "-6", "\"-6\" is out of bounds"},
		{"motors", "most cells", "2-6S", "\"2-6S\": \"-6S\" is not a unit of cells in series"},
		{"motors", "most cells", "6S6S", "\"6S6S\": \"S6S\" is not a unit of cells in series"},
		{"motors", "price", "21.5.0", "\"21.5.0\""},
		{"motors", "price", "0x10", "\"0x10\""},
		{"motors", "price", "1 000", "\"1 000\""},

		{"propellers", "diameter (in)", "13", "\"13\" is out of bounds"},
		{"propellers", "diameter (in)", "5ft", "\"5ft\" is out of bounds"},
		{"propellers", "diameter (in)", "five", "\"five\": no number"},
		{"propellers", "diameter (in)", "-5", "\"-5\" is out of bounds"},
		{"propellers", "diameter (in)", "5kg", "\"5kg\": kg is a unit of mass"},
		{"propellers", "pitch (in)", "0.86x", "\"0.86x\": \"x\" is not a unit of length"},
		{"propellers", "pitch (in)", "4.3 deg", "\"4.3 deg\": deg is a unit of angle"},
		{"propellers", "pitch (in)", "109mm mm", "\"109mm mm\": \"mm mm\" is not a unit of length"},
		{"propellers", "blades", "-2", "\"-2\" is out of bounds"},
		{"propellers", "blades", "9", "\"9\" is out of bounds"},
		{"propellers", "blades", "3,0", "\"3,0\" has a comma"},
		{"propellers", "blades", "2x", "\"2x\": \"x\" is not a unit of count"},
		{"propellers", "blades", "1e1", "\"1e1\" is out of bounds"},
		{"propellers", "mass (g)", "4.1W", "\"4.1W\": W is a unit of power"},
		{"propellers", "mass (g)", "600", "\"600\" is out of bounds"},
		{"propellers", "mass (g)", "-4", "\"-4\" is out of bounds"},
		{"propellers", "chord", "0.041x", "\"0.041x\": \"x\" is not a unit of ratio"},
		{"propellers", "chord", "0,2", "\"0,2\" has a comma"},
		{"propellers", "chord", "0.41", "\"0.41\" is out of bounds"},
		{"propellers", "chord", "-0.2", "\"-0.2\" is out of bounds"},
		{"propellers", "max rpm", "500rps", "\"500rps\": \"rps\" is not a unit of speed of rotation"},
		{"propellers", "max rpm", "300001", "\"300001\" is out of bounds"},
		{"propellers", "max rpm", "-1", "\"-1\" is out of bounds"},
		{"propellers", "max rpm", "fast", "\"fast\": no number"},
		{"propellers", "stand file", "b\n.csv", "\"b\\n.csv\": holds U+000A, a control character"},
		{"propellers", "blade file", "a\u202e.csv",
			"\"a\\u202e.csv\": holds U+202E, which turns the direction of text"},
		{"propellers", "price", "2,9", "\"2,9\" has a comma"},
		{"propellers", "price", "1000001", "\"1000001\""},

		{"packs", "name", "＠x", "\"＠x\" begins with ＠, which a spreadsheet takes for a formula"},
		{"packs", "cells", "4 in series", "\"4 in series\": \"in series\" is not a unit of cells in series"},
		{"packs", "cells", "-4", "\"-4\" is out of bounds"},
		{"packs", "cells", "1e3", "\"1e3\" is out of bounds"},
		{"packs", "cells", "4P", "\"4P\": \"P\" is not a unit of cells in series"},
		{"packs", "capacity (mAh)", "1300mA", "\"1300mA\": mA is a unit of current"},
		{"packs", "capacity (mAh)", "60Ah", "\"60Ah\" is out of bounds"},
		{"packs", "capacity (mAh)", "1.3 A h", "\"1.3 A h\": \"A h\" is not a unit of charge"},
		{"packs", "capacity (mAh)", "NaN", "\"NaN\": no number"},
		{"packs", "capacity (mAh)", "1300C", "\"1300C\": C is a unit of C rate"},
		{"packs", "mass (g)", "-152", "\"-152\" is out of bounds"},
		{"packs", "mass (g)", "152,0", "\"152,0\" has a comma"},
		{"packs", "mass (g)", "21000", "\"21000\" is out of bounds"},
		{"packs", "resistance (mohm)", "24mV", "\"24mV\": mV is a unit of voltage"},
		{"packs", "resistance (mohm)", "-24", "\"-24\" is out of bounds"},
		{"packs", "resistance (mohm)", "6000", "\"6000\" is out of bounds"},
		{"packs", "current (A)", "0", "\"0\" is out of bounds"},
		{"packs", "current (A)", "1001", "\"1001\" is out of bounds"},
		{"packs", "current (A)", "45 A A", "\"45 A A\": \"A A\" is not a unit of current"},
		{"packs", "burst current (A)", "2001", "\"2001\" is out of bounds"},
		{"packs", "burst current (A)", "90C", "\"90C\": C is a unit of C rate"},
		{"packs", "burst current (A)", "nil", "\"nil\": no number"},
		{"packs", "grade", "High-Rate", "\"High-Rate\" is not a pack grade"},
		{"packs", "grade", "LiPo", "\"LiPo\" is not a pack grade"},
		{"packs", "grade", "middle,high-rate", "\"middle,high-rate\" is not a pack grade"},
		{"packs", "price", "-0.01", "\"-0.01\""},

		{"frames", "name", "", "empty"},
		{"frames", "name", "=HYPERLINK(1)",
			"\"=HYPERLINK(1)\" begins with =, which a spreadsheet takes for a formula"},
		{"frames", "wheelbase (mm)", "-220", "\"-220\" is out of bounds"},
		{"frames", "wheelbase (mm)", "220x220", "\"220x220\": \"x220\" is not a unit of length"},
		{"frames", "wheelbase (mm)", "2m", "\"2m\" is out of bounds"},
		{"frames", "wheelbase (mm)", "2,20", "\"2,20\" has a comma"},
		{"frames", "largest propeller (in)", "1", "\"1\" is out of bounds"},
		{"frames", "largest propeller (in)", "21", "\"21\" is out of bounds"},
		{"frames", "largest propeller (in)", "big", "\"big\": no number"},
		{"frames", "mass (g)", "-96", "\"-96\" is out of bounds"},
		{"frames", "mass (g)", "0.5", "\"0.5\" is out of bounds"},
		{"frames", "mass (g)", "6000", "\"6000\" is out of bounds"},
		{"frames", "drag area (cm2)", "90g", "\"90g\": g is a unit of mass"},
		{"frames", "drag area (cm2)", "-1", "\"-1\" is out of bounds"},
		{"frames", "drag area (cm2)", "1m2", "\"1m2\" is out of bounds"},
		{"frames", "price", "49 USD", "\"49 USD\""},

		{"boards", "name", "\t", "empty"},
		{"boards", "current (A)", "4x45", "\"4x45\": \"x45\" is not a unit of current"},
		{"boards", "current (A)", "201", "\"201\" is out of bounds"},
		{"boards", "current (A)", "45mV", "\"45mV\": mV is a unit of voltage"},
		{"boards", "current (A)", "-45", "\"-45\" is out of bounds"},
		{"boards", "cells", "3-6S", "\"3-6S\": \"-6S\" is not a unit of cells in series"},
		{"boards", "cells", "6.0001", "\"6.0001\": not a whole number"},
		{"boards", "cells", "0", "\"0\" is out of bounds"},
		{"boards", "mass (g)", "14ml", "\"14ml\": \"ml\" is not a unit of mass"},
		{"boards", "mass (g)", "0.4", "\"0.4\" is out of bounds"},
		{"boards", "mass (g)", "501", "\"501\" is out of bounds"},
		{"boards", "joined", "Yes", "\"Yes\""},
		{"boards", "joined", "true", "\"true\""},
		{"boards", "joined", "no,yes", "\"no,yes\""},
		{"boards", "price", "39,-", "\"39,-\""},
		{"propellers", "name", "\ufeff=A", "begins with =, which a spreadsheet takes for a formula"},
		{"propellers", "name", "\u200b", "nothing of the name is seen"},
	} {
		base := bases[c.kind]
		row := slices.Clone(base[1])
		row[slices.Index(base[0], c.column)] = c.field
		_, err := readers[c.kind](quoted(base[0]) + quoted(row))
		if err == nil {
			t.Errorf("%s, %s %q is read", c.kind, c.column, c.field)
			continue
		}
		line, at := err.Error(), `p.csv:2: column "`+c.column+`": `
		if !strings.HasPrefix(line, at) || !strings.Contains(line, c.says) || !strings.Contains(line, ", want ") ||
			strings.Contains(line, "\n") {
			t.Errorf("%s, %s %q:\n got %s\nwant %s%s", c.kind, c.column, c.field, line, at, c.says)
		}
	}
}
