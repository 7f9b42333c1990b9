package list

import (
	"slices"
	"strings"
	"testing"
)

// bases are a header and a row of each kind that are read.
var bases = map[string][2][]string{
	"motors": {{"name", "stator", "kv", "mass (g)", "resistance (mohm)", "idle current (A)", "idle voltage (V)",
		"current (A)", "burst time (s)", "most cells", "price"},
		{"Gale", "2207", "1750", "33.5", "58", "0.9", "10", "38", "60", "6", "21.5"}},
	"propellers": {{"name", "diameter (in)", "pitch (in)", "blades", "mass (g)", "chord", "blade file", "stand file",
		"max rpm", "price"}, {"Reed", "5", "4.3", "3", "4.1", "0.2", "a.csv", "b.csv", "30000", "2.9"}},
	"packs": {{"name", "cells", "capacity (mAh)", "mass (g)", "resistance (mohm)", "current (A)", "burst current (A)",
		"grade", "price"}, {"Fen", "4", "1300", "152", "24", "45", "90", "middle", "25"}},
	"frames": {{"name", "wheelbase (mm)", "largest propeller (in)", "mass (g)", "drag area (cm2)", "price"},
		{"Kite", "220", "5.1", "96", "90", "49"}},
	"boards": {{"name", "current (A)", "cells", "mass (g)", "joined", "price"}, {"Sill", "45", "6", "14", "no", "39"}},
}

// quoted is a row of CSV.
func quoted(row []string) string {
	var out []string
	for _, f := range row {
		if strings.ContainsAny(f, ",\"\n\r") {
			f = `"` + strings.ReplaceAll(f, `"`, `""`) + `"`
		}
		out = append(out, f)
	}
	return strings.Join(out, ",") + "\n"
}

// A field that is wrong is refused in one line that says where and what would be right.
func TestWrongFields(t *testing.T) {
	t.Parallel()
	const comma = " has a comma, want a point before decimals and nothing between thousands"
	const plain = ", want plain text on one line"
	formula := func(c string) string {
		return " begins with " + c + ", which a spreadsheet takes for a formula, want a letter or digit first"
	}
	long := strings.Repeat("x", MaxName+1)
	for _, c := range []struct{ kind, column, field, want string }{
		{"motors", "name", "", "empty, want a name"},
		{"motors", "name", "=1+1", `"=1+1"` + formula("=")},
		{"motors", "name", "+49 30", `"+49 30"` + formula("+")},
		{"motors", "name", "-Gale", `"-Gale"` + formula("-")},
		{"motors", "name", "@SUM(A1)", `"@SUM(A1)"` + formula("@")},
		{"motors", "name", "  =1", `"=1"` + formula("=")},
		{"motors", "name", "＝1", `"＝1"` + formula("＝")},
		{"motors", "name", "a\x1b[31m", `"a\x1b[31m": holds U+001B, a control character` + plain},
		{"motors", "name", "a\nb", `"a\nb": holds U+000A, a control character` + plain},
		{"motors", "name", "a\tb", `"a\tb": holds U+0009, a control character` + plain},
		{"motors", "name", "a\x00b", `"a\x00b": holds U+0000, a control character` + plain},
		{"motors", "name", "a\u0085b", `"a\u0085b": holds U+0085, a control character` + plain},
		{"motors", "name", "a\xffb", `"a\xffb": is not UTF-8` + plain},
		{"motors", "name", "a\u202eb", `"a\u202eb": holds U+202E, which turns the direction of text` + plain},
		{"motors", "name", "a\u2028b", `"a\u2028b": holds U+2028, a line break` + plain},
		{"motors", "name", "a\uffffb", `"a\uffffb": holds U+FFFF, which is no character` + plain},
		{"motors", "name", long, `"` + long + `": a name of 65 characters, want up to 64`},
		{"motors", "stator", "", `"": empty, want a stator size`},
		{"motors", "stator", "big", `"big"`},
		{"motors", "stator", "22", `"22"`},
		{"motors", "stator", "22*7", `"22*7"`},
		{"motors", "stator", "9907", "99 by 7 mm is out of bounds, want 5 to 60 by 2 to 40 mm, such as 2207"},
		{"motors", "stator", "2299", "22 by 99 mm is out of bounds, want 5 to 60 by 2 to 40 mm, such as 2207"},
		{"motors", "stator", "-2207", `"-2207"`},
		{"motors", "kv", "", `"": empty, want a KV such as 1750 or 1750rpm/V`},
		{"motors", "kv", "fast", `"fast": no number, want a KV such as 1750 or 1750rpm/V`},
		{"motors", "kv", "0", `"0" is out of bounds, want 50rpm/V to 50000rpm/V`},
		{"motors", "kv", "-1750", `"-1750" is out of bounds, want 50rpm/V to 50000rpm/V`},
		{"motors", "kv", "1e9", `"1e9" is out of bounds, want 50rpm/V to 50000rpm/V`},
		{"motors", "kv", "1,750", `"1,750"` + comma},
		{"motors", "kv", "NaN", `"NaN": no number, want a KV`},
		{"motors", "kv", "Inf", `"Inf": no number, want a KV`},
		{"motors", "kv", "1750 rpm", `"1750 rpm": rpm is a unit of speed of rotation, want a KV`},
		{"motors", "kv", "1700:1800:50", `one value is wanted here, not a list or a range`},
		{"motors", "mass (g)", "33,5", `"33,5"` + comma},
		{"motors", "mass (g)", "x", `"x": no number, want a mass such as 249g or 1.2kg`},
		{"motors", "mass (g)", "33.5 gr", `"33.5 gr": "gr" is not a unit of mass, want a mass such as 249g or 1.2kg`},
		{"motors", "mass (g)", "33.5A", `"33.5A": A is a unit of current, want a mass`},
		{"motors", "mass (g)", "0", `"0" is out of bounds, want 0.2g to 2000g`},
		{"motors", "mass (g)", "-33", `"-33" is out of bounds, want 0.2g to 2000g`},
		{"motors", "mass (g)", "5", "5 g, but the model has 33.1 g for this stator: want 11 to 99.2 g"},
		{"motors", "mass (g)", "335", "335 g, but the model has 33.1 g for this stator: want 11 to 99.2 g"},
		{"motors", "mass (g)", "1e400", `"1e400"`},
		{"motors", "mass (g)", strings.Repeat("1", 41), "a number of 41 characters, want at most 40"},
		{"motors", "resistance (mohm)", "58ohm", `"58ohm" is out of bounds, want 1mohm to 50000mohm`},
		{"motors", "resistance (mohm)", "0.058", `"0.058" is out of bounds, want 1mohm to 50000mohm`},
		{"motors", "resistance (mohm)", "5", "5 mohm, but the model has "},
		{"motors", "resistance (mohm)", "900", "900 mohm, but the model has "},
		{"motors", "idle current (A)", "", "stated without an idle current (A), want both or neither"},
		{"motors", "idle current (A)", "0", `"0" is out of bounds, want 0.01A to 20A`},
		{"motors", "idle current (A)", "9", "9 A at 10 V ask for "},
		{"motors", "idle current (A)", "0.02", "0.02 A at 10 V ask for "},
		{"motors", "idle voltage (V)", "", "stated without an idle voltage (V), want both or neither"},
		{"motors", "idle voltage (V)", "100", `"100" is out of bounds, want 1V to 60V`},
		{"motors", "idle voltage (V)", "10A", `"10A": A is a unit of current, want a voltage`},
		{"motors", "current (A)", "0", `"0" is out of bounds, want 0.5A to 200A`},
		{"motors", "current (A)", "380", `"380" is out of bounds, want 0.5A to 200A`},
		{"motors", "current (A)", "38 W", `"38 W": W is a unit of power, want a current`},
		{"motors", "current (A)", "", "stated without a current (A), want both, or the current alone"},
		{"motors", "burst time (s)", "0", `"0" is out of bounds, want 1s to 3600s`},
		{"motors", "burst time (s)", "a minute", `"a minute": no number, want a time`},
		{"motors", "most cells", "6.5", `"6.5": not a whole number, want a number of cells such as 4 or 4S`},
		{"motors", "most cells", "15", `"15" is out of bounds, want 1S to 14S`},
		{"motors", "most cells", "0", `"0" is out of bounds, want 1S to 14S`},
		{"motors", "most cells", "25V", `"25V": V is a unit of voltage, want a number of cells`},
		{"motors", "price", "21,50", `"21,50"` + comma},
		{"motors", "price", "€21", `"€21", want a price of 0 to 1000000 such as 12.90, without a currency`},
		{"motors", "price", "21 EUR", `"21 EUR", want a price of 0 to 1000000 such as 12.90, without a currency`},
		{"motors", "price", "-1", `"-1", want a price of 0 to 1000000`},
		{"motors", "price", "1e9", `"1e9", want a price of 0 to 1000000`},
		{"motors", "price", "20%", `"20%", want a price of 0 to 1000000`},
		{"motors", "price", "free", `"free", want a price of 0 to 1000000`},

		{"propellers", "name", "", "empty, want a name"},
		{"propellers", "name", "=5", `"=5"` + formula("=")},
		{"propellers", "diameter (in)", "", `"": empty, want a length such as 5in or 127mm`},
		{"propellers", "diameter (in)", "127", `"127" is out of bounds, want 2in to 12in`},
		{"propellers", "diameter (in)", "1", `"1" is out of bounds, want 2in to 12in`},
		{"propellers", "diameter (in)", "5,1", `"5,1"` + comma},
		{"propellers", "diameter (in)", `5"`, `want a length such as 5in or 127mm`},
		{"propellers", "diameter (in)", "5x4.3", `want a length such as 5in or 127mm`},
		{"propellers", "pitch (in)", "", `"": empty, want a length such as 5in or 127mm`},
		{"propellers", "pitch (in)", "43", `"43" is out of bounds, want 0in to 24in`},
		{"propellers", "pitch (in)", "0", "0 in on a diameter of 5 in is a ratio of 0, want 0.1 to 2"},
		{"propellers", "pitch (in)", "0.3", "0.3 in on a diameter of 5 in is a ratio of 0.06, want 0.1 to 2"},
		{"propellers", "pitch (in)", "12", "12 in on a diameter of 5 in is a ratio of 2.4, want 0.1 to 2"},
		{"propellers", "pitch (in)", "-4", `"-4" is out of bounds, want 0in to 24in`},
		{"propellers", "blades", "", `"": empty, want a whole number such as 3`},
		{"propellers", "blades", "1", `"1" is out of bounds, want 2 to 8`},
		{"propellers", "blades", "2.5", `"2.5": not a whole number, want a whole number such as 3`},
		{"propellers", "blades", "three", `"three": no number, want a whole number such as 3`},
		{"propellers", "mass (g)", "0.5", "0.5 g is not that of one propeller of the size, want 1.3"},
		{"propellers", "mass (g)", "41", "41 g is not that of one propeller of the size, want 1.3"},
		{"propellers", "mass (g)", "0", `"0" is out of bounds, want 0.05g to 500g`},
		{"propellers", "mass (g)", "4,1", `"4,1"` + comma},
		{"propellers", "chord", "2", `"2" is out of bounds, want 0.05 to 0.4`},
		{"propellers", "chord", "12mm", `"12mm"`},
		{"propellers", "chord", "0", `"0" is out of bounds, want 0.05 to 0.4`},
		{"propellers", "blade file", "a\x07.csv", `"a\a.csv": holds U+0007, a control character` + plain},
		{"propellers", "stand file", "b\xfe.csv", `"b\xfe.csv": is not UTF-8` + plain},
		{"propellers", "max rpm", "30", `"30" is out of bounds, want 500rpm to 200000rpm`},
		{"propellers", "max rpm", "3000", "3000 rpm is a tip speed of 19.9 m/s, want 4.51e+03 to 5.11e+04 rpm"},
		{"propellers", "max rpm", "60000", "6e+04 rpm is a tip speed of 399 m/s, want 4.51e+03 to 5.11e+04 rpm"},
		{"propellers", "max rpm", "30,000", `"30,000"` + comma},
		{"propellers", "price", "$3", `"$3", want a price of 0 to 1000000`},

		{"packs", "name", "+", `"+"` + formula("+")},
		{"packs", "cells", "", `"": empty, want a number of cells such as 4 or 4S`},
		{"packs", "cells", "4S2P", `want a number of cells such as 4 or 4S`},
		{"packs", "cells", "0", `"0" is out of bounds, want 1S to 14S`},
		{"packs", "cells", "20", `"20" is out of bounds, want 1S to 14S`},
		{"packs", "cells", "3.7", `"3.7": not a whole number`},
		{"packs", "cells", "14.8V", `"14.8V": V is a unit of voltage, want a number of cells`},
		{"packs", "capacity (mAh)", "", `"": empty, want a charge such as 1300mAh or 1.3Ah`},
		{"packs", "capacity (mAh)", "1.3", `"1.3" is out of bounds, want 50mAh to 50000mAh`},
		{"packs", "capacity (mAh)", "1,300", `"1,300"` + comma},
		{"packs", "capacity (mAh)", "19Wh", `"19Wh": Wh is a unit of energy, want a charge`},
		{"packs", "capacity (mAh)", "-1300", `"-1300" is out of bounds`},
		{"packs", "mass (g)", "20", "20 g is not that of a pack of these cells and capacity, want 67.1 to 269 g"},
		{"packs", "mass (g)", "1520", "1520 g is not that of a pack of these cells and capacity, want 67.1 to 269 g"},
		{"packs", "mass (g)", "0.152", `"0.152" is out of bounds, want 1g to 20000g`},
		{"packs", "mass (g)", "152A", `"152A": A is a unit of current, want a mass`},
		{"packs", "resistance (mohm)", "0.024", `"0.024" is out of bounds, want 0.5mohm to 5000mohm`},
		{"packs", "resistance (mohm)", "2", "2 mohm is not that of a pack of these cells and capacity, want 6.87 to " +
			"172 mohm"},
		{"packs", "resistance (mohm)", "400", "400 mohm is not that of a pack of these cells and capacity, want "},
		{"packs", "current (A)", "0.6", "0.6 A is 0.462 times the capacity in an hour, want 0.5 to 300 times"},
		{"packs", "current (A)", "600", "600 A is 462 times the capacity in an hour, want 0.5 to 300 times"},
		{"packs", "current (A)", "45C", `"45C": C is a unit of C rate, want a current`},
		{"packs", "current (A)", "4,5", `"4,5"` + comma},
		{"packs", "burst current (A)", "40", "40 A is less than the continuous 45 A, want at least that"},
		{"packs", "burst current (A)", "1000", "1000 A is 769 times the capacity in an hour, want 0.5 to 300 times"},
		{"packs", "grade", "best", `"best" is not a pack grade, want one of high-rate, `},
		{"packs", "grade", "21700-power", "a capacity of 1300 mAh is not a whole number of 21700-power cells, want a " +
			"multiple"},
		{"packs", "price", "two", `"two", want a price of 0 to 1000000`},

		{"frames", "name", "\u200e\u202a", "which turns the direction of text"},
		{"frames", "wheelbase (mm)", "", `"": empty, want a length such as 5in or 127mm`},
		{"frames", "wheelbase (mm)", "22", `"22" is out of bounds, want 50mm to 1500mm`},
		{"frames", "wheelbase (mm)", "180", "180 mm, but discs of 5.1 in touch at 183.2 mm: want 183.2 to 549.6 mm"},
		{"frames", "wheelbase (mm)", "600", "600 mm, but discs of 5.1 in touch at 183.2 mm: want 183.2 to 549.6 mm"},
		{"frames", "wheelbase (mm)", "220g", `"220g": g is a unit of mass, want a length`},
		{"frames", "largest propeller (in)", "", `"": empty, want a length`},
		{"frames", "largest propeller (in)", "127", `"127" is out of bounds, want 2in to 20in`},
		{"frames", "largest propeller (in)", "7", "220 mm, but discs of 7 in touch at 251.4 mm"},
		{"frames", "mass (g)", "9", "9 g is not that of a frame for that propeller, want 18.2 to 454 g"},
		{"frames", "mass (g)", "960", "960 g is not that of a frame for that propeller, want 18.2 to 454 g"},
		{"frames", "mass (g)", "96 g 2", `"96 g 2"`},
		{"frames", "drag area (cm2)", "0.009", `"0.009" is out of bounds, want 1cm2 to 3000cm2`},
		{"frames", "drag area (cm2)", "90cm", `"90cm": cm is a unit of length, want an area`},
		{"frames", "price", "4,900", `"4,900"` + comma},

		{"boards", "name", "@", `"@"` + formula("@")},
		{"boards", "current (A)", "", `"": empty, want a current such as 30A`},
		{"boards", "current (A)", "0.5", `"0.5" is out of bounds, want 1A to 200A`},
		{"boards", "current (A)", "45;50", `"45;50"`},
		{"boards", "cells", "", `"": empty, want a number of cells`},
		{"boards", "cells", "2-6", `"2-6"`},
		{"boards", "cells", "99", `"99" is out of bounds, want 1S to 14S`},
		{"boards", "mass (g)", "1", "1 g is not that of a board of that current, want 3.7 to 59.2 g"},
		{"boards", "mass (g)", "140", "140 g is not that of a board of that current, want 3.7 to 59.2 g"},
		{"boards", "joined", "perhaps", `"perhaps", want yes where the board carries the flight controller, else no`},
		{"boards", "joined", "1", `"1", want yes where the board carries the flight controller, else no`},
		{"boards", "price", "NaN", `"NaN", want a price of 0 to 1000000`},
	} {
		base := bases[c.kind]
		row := slices.Clone(base[1])
		at := slices.Index(base[0], c.column)
		if at < 0 {
			t.Fatalf("%s have no %s", c.kind, c.column)
		}
		row[at] = c.field
		_, err := readers[c.kind](quoted(base[0]) + quoted(base[1][:0:0]) + "# mine\n" + quoted(row))
		if err == nil {
			t.Errorf("%s, %s %q is read", c.kind, c.column, c.field)
			continue
		}
		line := err.Error()
		if !strings.HasPrefix(line, "p.csv:4: column \"") || !strings.Contains(line, c.want) ||
			strings.Contains(line, "\n") || !strings.Contains(line, "want") {
			t.Errorf("%s, %s %q:\n got %s\nwant %s", c.kind, c.column, c.field, line, c.want)
		}
	}
}

// What is wrong with a file as a whole is refused in the same way.
func TestWrongFiles(t *testing.T) {
	t.Parallel()
	motor := quoted(bases["motors"][0]) + quoted(bases["motors"][1])
	for _, c := range []struct{ kind, text, want string }{
		{"motors", "", "p.csv:1: no header, want a header with name,stator,kv"},
		{"motors", "# nothing\n", "p.csv:1: no header, want a header with name,stator,kv"},
		{"propellers", "", "p.csv:1: no header, want a header with name,diameter (in),pitch (in),blades"},
		{"packs", "", "p.csv:1: no header, want a header with name,cells,capacity (mAh)"},
		{"frames", "", "p.csv:1: no header, want a header with name,wheelbase (mm),largest propeller (in)"},
		{"boards", "", "p.csv:1: no header, want a header with name,current (A),cells"},
		{"motors", "name,stator,kv\n", "p.csv: no motor below the header, want at least one"},
		{"motors", "name,stator,kv\n,,\n", "p.csv: no motor below the header, want at least one"},
		{"motors", "name;stator;kv\nGale;2207;1750\n",
			"p.csv:1: the columns are separated by semicolons, want commas, and a point in numbers"},
		{"motors", "name\tstator\tkv\nGale\t2207\t1750\n",
			"p.csv:1: the columns are separated by tabs, want commas, and a point in numbers"},
		{"motors", "name,stator\nGale,2207\n", "p.csv:1: no column kv, want a header with name,stator,kv"},
		{"motors", "mass (g)\n33\n", "p.csv:1: no column name, stator, kv, want a header with name,stator,kv"},
		{"propellers", "name,diameter (in)\nx,5\n",
			"p.csv:1: no column pitch (in), blades, want a header with name,diameter (in),pitch (in),blades"},
		{"motors", "Gale,2207,1750\n", `p.csv:1: no column "Gale" of motors, want columns of name, stator, kv, mass (g), `},
		{"motors", "name,stator,kv,mas (g)\n", `p.csv:1: no column "mas (g)" of motors, did you mean mass (g)? `},
		{"motors", "name,stator,kv,weight\n", `p.csv:1: no column "weight" of motors, want columns of name, `},
		{"motors", "name,stator,kv,cells\n", `p.csv:1: no column "cells" of motors, want columns of name, `},
		{"motors", "name,stater,kv\n", `p.csv:1: no column "stater" of motors, did you mean stator? `},
		{"motors", "name,stator,kv,resistence (mohm)\n",
			`p.csv:1: no column "resistence (mohm)" of motors, did you mean resistance (mohm)? `},
		{"motors", "name,stator,kv,idle_curent_A\n",
			`p.csv:1: no column "idle_curent_A" of motors, did you mean idle current (A)? `},
		{"motors", "name,stator,kv,mass\n", `p.csv:1: column "mass" names no unit, want it in one of kg, g, lb, oz, ` +
			`such as mass (g) or mass_g`},
		{"motors", "name,stator,kv,mass (lbs)\n", `p.csv:1: column "mass (lbs)": "lbs" is no unit of mass, want kg, ` +
			`g, lb, oz`},
		{"motors", "name,stator,kv,mass ()\n", `p.csv:1: column "mass ()": "" is no unit of mass, want kg, g, lb, oz`},
		{"motors", "name,stator,kv,mass (A)\n", `p.csv:1: column "mass (A)": "A" is no unit of mass, want kg, g, lb, oz`},
		{"motors", "name,stator (mm),kv\n", `p.csv:1: column "stator (mm)": stator has no unit, want stator alone`},
		{"motors", "name (x),stator,kv\n", `p.csv:1: column "name (x)": name has no unit, want name alone`},
		{"motors", "name,stator,kv,price (EUR)\n",
			`p.csv:1: column "price (EUR)": no currency is read or changed, want price alone and all prices in one`},
		{"motors", "name,stator,kv,idle current\n",
			`p.csv:1: column "idle current" names no unit, want it in one of A, mA, such as idle current (A) or idle_current_A`},
		{"motors", "name,stator,kv,name\n", `p.csv:1: columns "name" and "name" are the same, want one of them`},
		{"motors", "name,stator,kv,mass (g),mass_kg\n",
			`p.csv:1: columns "mass (g)" and "mass_kg" are the same, want one of them`},
		{"motors", "\xff\xfen\x00a\x00m\x00e\x00\n",
			`p.csv:1: column 1: "\xff\xfen\x00a\x00m\x00e\x00" is not UTF-8, want the file saved as CSV in UTF-8`},
		{"motors", "name,stator,kv,pr\xe9cis\n", `p.csv:1: column 4: "pr\xe9cis" is not UTF-8, want the file saved ` +
			`as CSV in UTF-8`},
		{"motors", "name,stator,kv\x00\n", `p.csv:1: column 3: "kv\x00" is not UTF-8, want the file saved as CSV in UTF-8`},
		{"motors", "name,stator,kv\nGale,2207\n", "p.csv:2: 2 fields where the header has 3, want as many: "},
		{"motors", "name,stator,kv,mass (g)\nGale,2207,1750,33,5\n", "p.csv:2: 5 fields where the header has 4, want " +
			"as many: a point in numbers"},
		{"motors", "name,stator,kv\nGale, long,2207,1750\n", "p.csv:2: 4 fields where the header has 3, want as many: "},
		{"motors", "name,stator,kv,\nGale,2207,1750,x\n", `p.csv:2: "x" is in a column without a name, want one above it`},
		{"motors", "name,stator,kv\n\"Gale,2207,1750\n", "p.csv:"},
		{"motors", "name,stator,kv\nGa\"le,2207,1750\n", "p.csv:2: "},
		{"motors", motor + quoted(bases["motors"][1]), `p.csv:3: column name: "Gale" is the motor of line 2, want ` +
			`each name once`},
		{"motors", "name,stator,kv\nGale,2207,1750\nb,2207,1750\nGALE ,2207,1850\n",
			`p.csv:4: column name: "GALE" is the motor of line 2, want each name once`},
		{"propellers", "name,diameter (in),pitch (in),blades\na,5,4,2\na,5,4,3\n",
			`p.csv:3: column name: "a" is the propeller of line 2, want each name once`},
		{"propellers", "name,diameter,pitch (in),blades\n",
			`p.csv:1: column "diameter" names no unit, want it in one of m, mm, cm, in, ft, km, such as diameter (in) ` +
				`or diameter_in`},
		{"packs", "name,cells,capacity (mAh),current (A),rate (C)\na,4,1300,45,30\n",
			`p.csv:2: column "rate (C)": stated beside the current, want one of them`},
		{"packs", "name,cells,capacity (mAh),burst current (A),burst rate (C)\na,4,1300,45,30\n",
			`p.csv:2: column "burst rate (C)": stated beside the current, want one of them`},
		{"packs", "name,cells,capacity (mAh),rate (C)\na,4,1300,400\n",
			`p.csv:2: column "rate (C)": "400" is out of bounds, want 0.5C to 300C`},
		{"packs", "name,cells,capacity (mAh),rate (C),burst rate (C)\n" +
			"a,4,1300,40,20\n", "p.csv:2: 26 A is less than the continuous 52 A"},
		{"boards", "name,current (A),cells,jointed\n", `p.csv:1: no column "jointed" of boards, did you mean joined? `},
		{"propellers", "name,diameter (in),pitch (in),blades,chord,blade file\na,5,4,2,0.2,a.csv\n",
			`p.csv:2: column "chord": stated beside a blade file, which has its own, want one of them`},
		{"frames", "name,wheelbase (mm),largest propeler (in)\n",
			`p.csv:1: no column "largest propeler (in)" of frames, did you mean largest propeller (in)? `},
	} {
		_, err := readers[c.kind](c.text)
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s %q:\n got %v\nwant %s", c.kind, c.text, err, c.want)
		}
	}
}
