package main

import (
	"cmp"
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// topic is what help says of something that several commands share. Its text is
// written as the prose of a manual is.
type topic struct {
	name, line string
	text       func() string
	title      string // in the manual page; "" for the name
}

func (t *topic) heading() string { return strings.ToUpper(cmp.Or(t.title, t.name)) }

var topics = []topic{
	{name: "units", line: "how quantities are written, and the units of each kind", text: unitsText},
	{name: "ranges", line: "how the values of an axis are written, and the axes", text: rangesText},
	{name: "requirements", line: "what a feasible design keeps, and the order of the checks", text: requirementsText},
	{name: "merit", line: "what ranks the feasible designs, and what can", text: meritText},
	{name: "files", line: "flag files, tables that are read, and what a run leaves", text: filesText},
	{name: "progress", line: "how a command says how far it is: lines, JSON, a log, signals", text: progressText},
	{name: "status", line: "what a command ends with", text: statusText, title: "exit status"},
}

func unitsText() string {
	var b strings.Builder
	b.WriteString(`A quantity is a number with its unit: 3.25in, 249g, 6min, 1600m, 35degC, 450mAh.
The number is decimal, with an exponent where one is wanted (2.5e-3). Units are
ASCII and tell upper from lower case. A unit of another kind is refused, so that
--diameter 5g is an error.

A number alone takes the unit in which the default of its flag is written, or
its metric is listed: --diameter 5 is 5 in, --altitude 1600 is 1600 m, and
hover-time>=6 is 6 min. A share is the exception: 0.65 alone is 65%, and 65 is
6500%. Of each kind the usual unit comes first in the list below.

Decimal text is converted exactly and rounded once: 3in, 76.2mm and 0.0762m are
the same diameter. Files for machines are in SI units, or name the unit.

`)
	var t texts.Listing
	for _, k := range unit.Kinds {
		symbols := []string{sign(k.Default().Symbol)}
		for _, u := range k.Units() {
			if u.Symbol != k.Default().Symbol {
				symbols = append(symbols, sign(u.Symbol))
			}
		}
		t.Add(k.Name(), strings.Join(symbols, "  "))
	}
	b.WriteString(t.Text(setInMost, "KIND", "UNITS"))
	b.WriteString(`
A stator size is the trade's code: 2207 is 22 mm across and 7 mm high, 2306.5 is
23 mm by 6.5 mm.

  rotorsieve explain --diameter 127mm --altitude 5000ft
`)
	return b.String()
}

// sign is a unit's symbol, or a dash for none.
func sign(symbol string) string {
	if symbol == "" {
		return "-"
	}
	return symbol
}

func rangesText() string {
	var b strings.Builder
	b.WriteString(`The values of an axis are written one by one, as a range first:last:step, or
both, with commas between:

  --diameter 5in                    one value
  --cells 3,4,6                     a list
  --diameter 3:6:0.25in             a range, 3 in to 6 in by 0.25 in
  --capacity 300mAh,450:1300:50mAh  a value and a range

The unit at the end of a range holds for its three numbers. The step must land
on the last value: 3:6:0.7in is an error that names 5.8in and 6.5in, which would
fit. No value may be given twice, and an axis has up to 1,000,000 of them.

The decimal sign is a point. Two whole numbers of one or two digits, of which
the second alone has a unit, are refused: 2,5g may be meant as 2.5g or 2g,5g. A
list that begins with 0 stands (0,25g), and so do 2,3 and 100,250g.

A flag given again replaces the values of the earlier one: --kv 1300 --kv 1500
is 1500 alone, and both are --kv 1300,1500.

The grid is the product of all axes; each of its points is a design. Pitch is
stated as such or over the diameter. Both beside each other, in one flag file or
on the command line, are an error; of two places the later one counts.

`)
	var t texts.Listing
	for _, d := range sweep.AxisDefs {
		t.Add(d.Name, strings.ReplaceAll(d.Swept, ",", ", "), d.Meaning)
	}
	b.WriteString(t.Text(setInMost, "AXIS", "OF SWEEP, BY DEFAULT", "MEANING"))
	b.WriteString(`
  rotorsieve sweep --diameter 3:5:0.25in --kv 1400:4200:200 --dry-run
`)
	return b.String()
}

func requirementsText() string {
	var b strings.Builder
	b.WriteString(`A requirement bounds a metric: METRIC>=VALUE or METRIC<=VALUE. In a shell it
wants quotes, since > and < mean something there; in a flag file it does not.

  rotorsieve sweep --require 'hover-time>=6min,auw<=240g' --dry-run

A study has default requirements. Each of your own takes the place of the default
on the same metric and side, and one on the command line that of a flag file; all
others stand, and what was refined is said on one line. METRIC>=none or METRIC<=none
drops one, --require none first all but the defaults.

  rotorsieve sweep @configs/ridge-scout.flags --dry-run \
      --require 'hover-time>=8min,flight-tip-mach<=none'

`)
	var t texts.Listing
	for _, r := range sweep.DefaultRequirements() {
		t.Add(requirementText(r), r.Metric.Meaning)
	}
	b.WriteString(t.Text(setInMost, "DEFAULT", "MEANING"))
	b.WriteString(`
A design is checked in a fixed order and counted at the first requirement that
it does not keep: the weight class; then that hover and full throttle exist; then
those of the study, cheap metrics first, in the order given among those that cost
alike. The counts of all, with the feasible designs, add up to the grid.

The metrics, each after what must be computed for it:

`)
	t = texts.Listing{}
	for stage := range model.StageExplain + 1 {
		var names []string
		for _, m := range model.Metrics {
			if m.Stage == stage {
				names = append(names, m.Name)
			}
		}
		t.Add(stageNames[stage], strings.Join(names, ", "))
	}
	b.WriteString(t.Text(setInMost, "NEEDS", "METRICS"))
	b.WriteString(`
rotorsieve metrics says what they mean.
`)
	return b.String()
}

// stageNames say what must be computed for a metric.
var stageNames = map[model.Stage]string{
	model.StageMass: "masses", model.StageOperate: "hover and full throttle", model.StageEndure: "discharge",
	model.StageFlight: "flight", model.StageExplain: "explain alone",
}

func meritText() string {
	var b strings.Builder
	b.WriteString(`The merit ranks the feasible designs of a weight class. It is the weighted mean
of terms METRIC:WEIGHT:WORST:BEST; each metric is mapped in a line from 0 at
WORST to 1 at BEST, and no further than either. A metric past BEST counts no
more: choose ranges that reach past what designs attain. Weights are relative to
their sum.

  rotorsieve sweep --merit range:0.4:1km:9km,auw:0.6:300g:200g --dry-run

The default:

`)
	for _, t := range sweep.DefaultMerit() {
		fmt.Fprintf(&b, "  %s\n", termText(t))
	}
	b.WriteString(`
A metric that is better when lower takes its WORST above its BEST, as auw does
here. One that is neither takes them in the order you mean.

In place of a merit, --like ranks by how alike a design feels to a craft that
you state, by its design or by the metrics that are compared:

  rotorsieve sweep --like diameter=5in,stator=2207,kv=1750 --dry-run

What a merit can be made of:

`)
	var t texts.Listing
	for _, d := range []model.Direction{model.Higher, model.Lower, model.Neither} {
		var names []string
		for _, m := range model.Metrics {
			if m.Better == d && inSweep(m) {
				names = append(names, m.Name)
			}
		}
		t.Add(d.String(), strings.Join(names, ", "))
	}
	b.WriteString(t.Text(setInMost, "DIRECTION", "METRICS"))
	b.WriteString(`
rotorsieve metrics says what they mean, and their units.
`)
	return b.String()
}

func filesText() string {
	var b strings.Builder
	b.WriteString(`A flag file is given as @FILE among the flags of a command, or as @- where its
lines come from standard input, and its flags stand
in its place. It has one flag a line, as --name value or --name=value; the value
is the rest of the line as it stands, without quotes. Blank lines and lines that
begin with # are skipped, and @FILE on a line takes in another file, relative to
the one it stands in. The path of a table to read is from there as well where
there is such a file, and otherwise from where the program runs. An error says
file and line.

  # a study of my own
  --class 249g=pocket,500g=bag
  --require hover-time>=6min
  --payload 0g,25g

Later flags win. A list is gathered within one file, or within the command line,
and replaced by the next; the values of an axis are those of its last flag.

`)
	b.WriteString("What a run leaves in out/NAME, or the folder of --out:\n\n")
	var t texts.Listing
	t.Add(finding.WorkbookName, "the workbook: mission and answer, rankings with every metric, what each requirement "+
		"rejected, all constants with their sources")
	t.Add("figures/*.png", "the pictures; --figures chooses")
	t.Add(finding.RankingName, "the ranking in full precision, SI units in the header")
	t.Add(finding.FrontName, "the Pareto front: the designs that none other beats in the metrics of --front")
	t.Add(finding.SizeName, "the best merit by all-up weight and diameter")
	t.Add(finding.RobustName, "where --draws chose: the builds, with how often they keep their requirements, cautious "+
		"merit, regret, pack and what ranks over the draws")
	t.Add(finding.ConfidenceName, "where --draws chose: the best build of each value of each swept axis against "+
		"the recommended one: the shares of draws in which it is ahead, level and behind; the difference of the "+
		"cautious merits, and se, its standard error: a build, and with it the value, is tied with the recommended "+
		"one where it is at most two of these below")
	t.Add(finding.TestPlanName, "where --draws chose: what to measure of the recommended build of each class, and of "+
		"another that may turn out better, and what to expect; with values filled in, --measured reads it")
	t.Add(finding.FlagsName, "a flag file that runs the study again, from anywhere: tables are named from its own "+
		"folder")
	t.Add(finding.RecordName, "the record of the run: versions, grid, tally, timings, files with their sizes")
	t.Add("FOLDER/*.parquet", "with --dump FOLDER: every feasible design with all metrics, a column each, in SI "+
		"units; null for what does not exist; what it is of, and units, in the metadata")
	t.Add(checkpointName, "what a run has found so far, for --resume and merge")
	b.WriteString(t.Text(setInMost, "FILE", "HOLDS"))
	b.WriteString(`
All but the record and the checkpoint are the same bytes whenever a study is run
again. Files are replaced whole or not at all.

` + ownership + `
Of a finished run --resume holds the files against run.json and writes again what
is missing or was changed, or differs for another --name, other names of classes,
other --figures, fewer maps or another --dpi; it leaves the others untouched. What it found
changed it does not lose: that is moved aside, to a name with -kept-1 in it.

What is solved of propellers, which takes milliseconds each, is kept for later
runs of sweep, merge and explain: in the folder of --cache or else of the variable
` + cacheVariable + `, or else in rotorsieve in the user's cache folder (~/.cache on Linux,
~/Library/Caches on macOS, %LocalAppData% on Windows). It is found again by the
version of the model, blade, air and what corrects it, checked when it is read, and
changes no result. The files come to 256 MB at most: those that were read least
lately go first. They may be deleted at any time.

Names, labels and paths are plain text on one line. Names that are devices on
Windows (con, nul, com1) or end in a dot or a space are refused on all systems.

Tables that are read are CSV with a header; lines that begin with # are skipped.
They are files of up to 16 MB and 100 000 rows, no pipes; of what was measured up
to 200 propellers, 3000 values, and 400 of a quantity of other parts are taken.

`)
	t = texts.Listing{}
	t.Add("--rotor-points", "propellers measured at rest or in axial flow, one point a row: diameter_in, pitch_in, "+
		"blades, rpm; thrust_N or thrust_g; power_W (at the shaft) or torque_Nm; and where known chord, J, "+
		"altitude_m, temperature_degC")
	t.Add("--compare", "what a thrust stand has measured, one state a row: rpm, or throttle (0 to 1) or "+
		"throttle_percent; voltage_V at the controller, current_A, thrust_N or thrust_g; torque_Nm where there is "+
		"one; and in a file of several things motor and propeller (names), diameter_in, pitch_in, blades, "+
		"stator_d_mm, stator_h_mm, kv. The table that rotorsieve stand writes is one as well")
	t.Add("--measured", "what was measured, one value a row: "+recordsText())
	t.Add("--blade", "a blade of your own, one station a row: r/R and c/R (radius and chord over the tip radius) and "+
		"beta (pitch angle in degrees), from r/R 0.25 or less to 0.95 or more")
	b.WriteString(t.Text(setInMost, "FLAG", "COLUMNS"))
	b.WriteString(`
  rotorsieve sweep @configs/quarter-kilo.flags --dry-run
  rotorsieve rotor --diameter 5in --blade myblade.csv --rpm 20000
`)
	return b.String()
}
