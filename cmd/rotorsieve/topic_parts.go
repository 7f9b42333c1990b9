package main

import (
	"fmt"
	"strings"

	"rotorsieve/report/texts"
)

// partsText is the topic of lists of parts; the columns are those of the tables that read
// them.
func partsText() string {
	var b strings.Builder
	b.WriteString(`Parts that you own or may buy are told in lists, one for each kind of part, and
stand in place of the axes whose values they have:

`)
	var t texts.Listing
	for i := range partKinds {
		k := &partKinds[i]
		t.Add("--"+k.Many+" FILE", strings.Join(strings.Fields(flagNames(k.replaces, " and ")), " "))
	}
	b.WriteString(t.Text(setInMost, "FLAG", "IN PLACE OF"))
	b.WriteString(`
A row is a whole part: its columns are never combined with those of another. All
kinds mix with each other and with generated axes, as motors that exist with
propellers of every size. An axis beside a list that has its values is refused;
a list that is stated later, as on the command line after a flag file, takes its
place, and --motors none gives a list up again. Frames have their own wheelbase,
and boards say whether the flight controller is on them.

  rotorsieve sweep @configs/parts-drawer.flags --dry-run
  rotorsieve sweep --motors configs/parts-motors.csv --dry-run

--part NAME leaves of its kind that part alone, and may be repeated. explain takes
one part of each kind: a list of one row, or a name.

  rotorsieve explain --motors configs/parts-motors.csv \
      --part 'Hazel 2207 1750' --cells 4 --class 700g

A list is CSV with a header, its columns in any order: mass (g) or mass_g, in any
unit of the kind (mass_kg); a number with a unit of its own keeps it. A column
that is headed note is passed over. An empty field states nothing: what is not
stated comes from the regressions of the model. A byte order mark, Windows' ends
of lines and quoted fields are fine; the decimal sign is a point. Names are each
once, and begin like no formula. A value that no such part has, by a wide margin
on the regressions, is refused with its row and column. Up to 10 000 parts a list.

The metric price is the sum of the stated prices, motor and propeller four times. A
part that is generated has none and is not in the sum; a craft with a listed part
that states none has no price, and keeps no bound on it. Dry runs say what the sum
is of: list all that is to be bought before a budget is trusted.

A run writes the SHA-256 of its lists to its effective flags, as --parts-hash,
and to run.json: a list that has changed since is refused by its name.

`)
	for i := range partKinds {
		k := &partKinds[i]
		t = texts.Listing{}
		for _, c := range k.Columns {
			needed := ""
			if c.Needed {
				needed = "needed"
			}
			t.Add(c.Header, needed, c.Meaning)
		}
		fmt.Fprintf(&b, "%s:\n\n%s", texts.Upper(k.Many), t.Text(setInMost, "COLUMN", "", "HOLDS"))
		if i < len(partKinds)-1 {
			b.WriteString("\n")
		}
	}
	return b.String()
}
