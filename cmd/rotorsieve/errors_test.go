package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/record"
)

// wrongFiles are files that an error is about.
var wrongFiles = map[string]string{
	"kind.flags":    "# a comment\n\n--diameter 5parsec\n",
	"loop.flags":    "@loop.flags\n",
	"bare.flags":    "diameter 5in\n",
	"novalue.flags": "--diameter\n",
	"deep.flags":    "@none.flags\n",
	"binary.flags":  "\x00\x01",
	"floor.flags":   "--require auw>=240g\n",
	"grade.flags":   "--quiet\n--pack-grade middling\n",
	"out.flags":     "--out none\n",

	"word.csv":     "r/R,c/R,beta\n0.2,0.2,30\n0.4,wide,20\n",
	"head.csv":     "r/R,c/R\n0.2,0.2\n",
	"short.csv":    "r/R,c/R,beta\n0.2,0.2,30\n0.4,0.2,20\n",
	"blade.csv":    "r/R,c/R,beta\n0.15,0.19,40\n0.3,0.2,37\n0.5,0.21,29\n0.75,0.18,20.5\n0.9,0.13,16.5\n1,0.05,13\n",
	"empty.csv":    "",
	"none.csv":     "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n",
	"column.csv":   "diameter_in,pitch_in,blades,rpm,thrust_g\n5,4.3,3,10000,190\n",
	"field.csv":    "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,10000,190\n",
	"fraction.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,2.5,10000,190,22\n",
	"negative.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,10000,-190,22\n",

	"text.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,fast,190,22\n",
	"both.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,thrust_N,power_W\n5,4.3,3,10000,190,2,22\n",
	"airs.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W,altitude_m\n5,4.3,3,10000,190,22,0\n" +
		"5,4.3,3,12000,290,42,1000\n",
	"backwards.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W,J\n5,4.3,3,10000,190,22,-1\n",
	"quote.csv":     "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n\"5,4.3,3,10000,190,22\n",

	"fields.csv":  "r/R,c/R,beta\n0.2,0.2\n",
	"beyond.csv":  "r/R,c/R,beta\n1.2,0.2,30\n",
	"falling.csv": "r/R,c/R,beta\n0.2,0.2,30\n0.1,0.2,30\n",
	"broad.csv":   "r/R,c/R,beta\n0.2,2,30\n",
	"steep.csv":   "r/R,c/R,beta\n0.2,0.2,130\n",
	"root.csv":    "r/R,c/R,beta\n0.4,0.2,30\n0.5,0.2,20\n0.7,0.2,10\n1,0.1,5\n",
	"tip.csv":     "r/R,c/R,beta\n0.1,0.2,30\n0.5,0.2,20\n0.7,0.2,10\n0.9,0.1,5\n",

	"record/run.json":      "{",
	"incomplete/run.json":  `{"format": 2, "study": {"classes": [{}]}, "result": {"complete": false}}`,
	"earlier/run.json":     `{"format": 1, "study": {"classes": [{}]}, "result": {"complete": true, "classes": [{}]}}`,
	"later/run.json":       `{"format": 3, "program": {"version": "v9.0.0"}, "study": [], "result": []}`,
	"unlisted/run.json":    `{"format": 2, "study": {"classes": [{}]}, "result": {"complete": true, "classes": [{}]}}`,
	"unlisted/ranking.csv": "rank\n",
	"edited/run.json": `{"format": 2, "study": {"classes": [{}]}, "result": {"complete": true, "classes": [{}]},
		"files": [{"name": "ranking.csv", "bytes": 5, "sha256": "00"}]}`,
	"edited/ranking.csv":   "rank\n",
	"older/run.json":       `{"program": {"model": "5"}, "study": {"classes": [{}]}, "result": {"complete": true}}`,
	"older/sub/checkpoint": olderState(),

	"run.csv": "diameter_in,pitch_in,blades,stator_d_mm,stator_h_mm,kv,rpm,voltage_V,current_A,thrust_g\n" +
		"5,4,3,22,5,2400,10000,11,2.2,130\n",
	"semicolons.csv": "rpm;voltage_V;current_A;thrust_g\n10000;11;2.2;130\n",
	"huge.csv":       "rpm,voltage_V,current_A,thrust_g\n1e300,11,2.2,130\n",
	"units.csv":      "rpm,voltage_V,current_A,thrust_g,thrust_N\n10000,11,2.2,130,2\n",

	"semi.csv":      "diameter_in;pitch_in;blades;rpm;thrust_g;power_W\n5;4,3;3;20000;600;150\n",
	"semiblade.csv": "# a comment\nr/R;c/R;beta\n0,2;0,2;30\n",
	"ideal.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n6,4,2,10000,190,25\n5,4.3,3,10000,190,22\n" +
		"5,4.3,3,20000,600,80\n",
	"ideal5.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,20000,600,30\n",
	"recordideal.csv": "kind,key,quantity,value,unit,sigma\npropeller,5x4.3x3,thrust at 20000rpm,820,g,3 " +
		"%\npropeller,5x4.3x3,shaft-power at 20000rpm,30,W,3 %\n",

	"good.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,10000,190,22\n",
	"two.csv":  "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,10000,190,22\n5,4,3,10000,180,20\n",

	"recordkind.csv":     "kind,key,quantity,value,unit,sigma\nwing,5x4x3,CT at 20000rpm,0.1,1,3 %\n",
	"recordempty.csv":    "kind,key,quantity,value,unit,sigma\nframe,5in,mass,,g,1 %\n",
	"recordquantity.csv": "kind,key,quantity,value,unit,sigma\nmotor,2207 1750KV,colour,1,1,3 %\n",
	"recordunit.csv":     "kind,key,quantity,value,unit,sigma\npropeller,5x4x3,thrust at 20000rpm,400,W,3 %\n",
	"recordsigma.csv":    "kind,key,quantity,value,unit,sigma\npropeller,5x4x3,thrust at 20000rpm,400,g,-1\n",
	"recordexact.csv": "kind,key,quantity,value,unit,sigma\nmotor,2207 1750KV,resistance,58,mohm,0\nmotor,2207 " +
		"1750KV,resistance,70,mohm,0\n",
	"recordtwice.csv": "kind,key,quantity,value,unit,sigma\nmotor,2207 1750KV,resistance,58,mohm,1\nmotor,2207 " +
		"1750KV,resistance,70,mohm,1\n",
	"recordfar.csv":     "kind,key,quantity,value,unit,sigma\nmotor,2207 1750KV,mass,330,g,1\n",
	"recordframe.csv":   record.Header + "\nframe,5in,mass,300,g,1\n",
	"recordweighed.csv": record.Header + "\nframe,5in,mass,95,g,1\n",
	"recordhover.csv":   record.Header + "\ncraft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power,420,W,1\n",
	"recordpack.csv":    record.Header + "\npack,4S 1300mAh,resistance,5,mohm,1 %\n",
	"recordgrade.csv":   record.Header + "\npack,4S 1300mAh good,mass,150,g,1\n",
	"recordprop.csv":    "kind,key,quantity,value,unit,sigma\npropeller,5x4.3x3,thrust at 10000rpm,190,g,3 %\n",

	"motors.csv":     "name,stator,kv\nGale,2207,1750\nLull,1404,4600\n",
	"motorsemi.csv":  "name;stator;kv\nGale;2207;1750\n",
	"motorheavy.csv": "name,stator,kv,mass (g)\nGale,2812,1000,5\n",
	"motorname.csv":  "name,stator,kv\n=Gale,2207,1750\n",
	"props.csv":      "name,diameter (in),pitch (in),blades,blade file\nReed,5,4,3,nowhere.csv\n",
	"propsstand.csv": "name,diameter (in),pitch (in),blades,stand file\nReed,6,4,3,good.csv\n",
	"parts.flags":    "--motors motors.csv\n--kv 1750\n",
	"listed.flags":   "--motors motors.csv\n",

	"plain.txt":             "not a folder",
	"done/run.json":         "{}",
	"unfinished/checkpoint": "x",
	"cut/checkpoint":        "rotorsieve state\n",
	"damaged/checkpoint":    "rotorsieve state\n" + strings.Repeat("x", 64),
	"empty/.keep":           "",
}

const (
	wantGrade   = "want one of high-rate, middle, long-flight, 18650-energy, 18650-power, 21700-energy, 21700-power"
	wantCommand = "want one of sweep, merge, compare, explain, parts, rotor, stand, classes, metrics, parameters, " +
		"help, completion, " +
		"man, version"
	wantStator = "want a stator size such as 2207 (22 mm x 7 mm), 2306.5 or 22x7"
	wantOut    = "--out: none is taken for nothing, and results always go to a folder, want one, such as ./none"
	wantBound  = "want METRIC>=VALUE or METRIC<=VALUE, such as hover-time>=6min, in quotes on a command line"
)

// Every error that a user can bring about says in one line what is wrong, where,
// and what would be right; the status is 2, and nothing is written.
func TestErrors(t *testing.T) {
	writeFiles(t, wrongFiles)
	for _, c := range []struct{ args, want string }{
		// commands
		{"", "no command, want one of sweep, merge, compare, explain, parts, rotor, stand, classes, metrics, " +
			"parameters, help, " +
			"completion, man, version; rotorsieve help says more"},
		{"swep", `no command "swep", did you mean sweep?`},
		{"--quiet sweep", `no command "--quiet", ` + wantCommand},
		{"--kv=9 sweep", `no command "--kv=9", ` + wantCommand},
		{"@kind.flags sweep", `no command "@kind.flags", ` + wantCommand},
		{"swep sweep", `no command "swep", did you mean sweep?`},
		{"--version now", `"now" is not a flag, want one that begins with --, or a flag file with @`},
		{"-h swep", `no command or topic "swep", did you mean sweep?`},
		{"fly", `no command "fly", want one of sweep, merge, compare, explain, parts, rotor, stand, classes, ` +
			`metrics, parameters, help, ` +
			`completion, man, version`},
		{"help swep", `no command or topic "swep", did you mean sweep?`},
		{"help unit", `no command or topic "unit", did you mean units?`},
		{"help hover-time", `no command or topic "hover-time", it is a metric: rotorsieve metrics says what it means`},
		{"help diameter", `no command or topic "diameter", it is a flag: rotorsieve help sweep says what it does`},
		{"help --kv", "no flag --kv, want one that rotorsieve help help lists"},
		{"help sweep merge", "help of 2 things, want that of one command or topic"},
		{"version now", `"now" is not a flag, want one that begins with --, or a flag file with @`},
		{"classes all", `"all" is not a flag, want one that begins with --, or a flag file with @`},
		{"man page", `"page" after man, want nothing there`},
		{"metrics all", `"all" is not a flag, want one that begins with --, or a flag file with @`},
		{"completion", "0 shells to complete in, want one of bash, zsh, fish, powershell"},
		{"completion bash zsh", "2 shells to complete in, want one of bash, zsh, fish, powershell"},
		{"completion bsh", `no completion for "bsh", did you mean bash?`},

		// flags
		{"sweep --diametre 5in", "no flag --diametre, did you mean --diameter?"},
		{"sweep --thrust 2", "no flag --thrust, did you mean --thrust-reserve?"},
		{"sweep --pack 4S", "no flag --pack, did you mean --pack-grade, --pack-temperature or --pack-aged?"},
		{"sweep -diameter 5in", `"-diameter" is not a flag, did you mean --diameter?`},
		{"sweep class 250g", `"class" is not a flag, did you mean --class?`},
		{"explain --top 5", "--top does nothing in explain, want it in a flag file alone"},
		{"explain --workers=2", "--workers does nothing in explain, want it in a flag file alone"},
		{"sweep --wingspan 5in", "no flag --wingspan, want one that rotorsieve help sweep lists"},
		{"rotor --wingspan 5in", "no flag --wingspan, want one that rotorsieve help rotor lists"},
		{"sweep -x", `"-x" is not a flag, want one that rotorsieve help sweep lists`},
		{"sweep 5in", `"5in" is not a flag, want one that begins with --, or a flag file with @`},
		{"sweep --diameter", "--diameter has no value, want --diameter=values"},
		{"sweep --diameter --kv 2000", "--diameter has no value, want --diameter=values"},
		{"sweep --quiet=maybe", `--quiet: "maybe", want true or false`},
		{"sweep --top 0", `--top: "0", want a whole number from 1 to 1000000`},
		{"sweep --top many", `--top: "many", want a whole number from 1 to 1000000`},
		{"sweep --cache plain.txt", "--cache plain.txt: is no folder, want a folder to write in, or none"},
		{"sweep --cache none/solved", "--cache none/solved: no such file or directory, want a folder to write in, or none"},
		{"sweep --cache none/solved --dry-run", "--cache none/solved: no such file or directory, want a folder to write " +
			"in, or none"},
		{"sweep --cache=", `--cache: nothing is given, want a folder or none`},
		{"sweep --cache", "--cache has no value, want --cache=folder"},
		{"explain --diameter 5in --cache plain.txt", "--cache plain.txt: is no folder, want a folder to write in, or none"},
		{"sweep --workers -1", `--workers: "-1", want a whole number from 0 to 4096`},
		{"sweep --dpi 10.5", `--dpi: "10.5", want a whole number from 72 to 600`},
		{"sweep --format xml", `--format: no format "xml", want one of text, json`},
		{"explain --format yaml", `--format: no format "yaml", want one of text, json`},
		{"sweep --name=", `--name: "", want up to 64 letters, digits, dots, dashes and underscores, beginning with a ` +
			`letter or digit`},
		{"sweep --payload 2,5g", `--payload: "2,5g": did you mean 2.5g, or 2g,5g?`},
		{"explain --diameter 3,25in", `--diameter: "3,25in": did you mean 3.25in, or 3in,25in?`},
		{"rotor --rotor-points semi.csv", "semi.csv:1: the columns are separated by semicolons, want commas"},
		{"rotor --rotor-points ideal.csv", "ideal.csv:3: propeller 5 x 4.3 in, 3 blades: rotor: at 20000 rpm the " +
			"ideal power of 5.884 N is 81.02 W, " +
			"above the 80 W that were measured: a figure of merit of 1.01, want it below 1: thrust and power at the " +
			"shaft of one rotor, and the true diameter"},
		{"explain --measured recordideal.csv", "recordideal.csv:2: propeller 5 x 4.3 in, 3 blades: rotor: at 20000 " +
			"rpm the ideal power of 8.041 N is 129.4 W, " +
			"above the 30 W that were measured: a figure of merit of 4.31, want it below 1: thrust and power at the " +
			"shaft of one rotor, and the true diameter"},
		{"rotor --blades 3 --blade blade.csv --rotor-points ideal5.csv",
			"ideal5.csv:2: propeller 5 x 4.3 in, 3 blades: rotor: at 20000 rpm the ideal power of 5.884 N is 81.02 " +
				"W, " +
				"above the 30 W that were measured: a figure of merit of 2.7, want it below 1: thrust and power at " +
				"the " +
				"shaft of one rotor, and the true diameter"},
		{"rotor --blade semiblade.csv", "semiblade.csv:2: the columns are separated by semicolons, want commas"},
		{"sweep --name ../x", `--name: "../x", want up to 64 letters, digits, dots, dashes and underscores, ` +
			`beginning with a letter or digit`},
		{"sweep --force --resume", "--force starts afresh and --resume goes on, want one of them"},
		{"sweep --dump-merit 0.5", "--dump-merit bounds what --dump writes, want --dump FOLDER beside it"},
		{"sweep --dump all --dump-merit 2", `--dump-merit: "2": 2 is out of bounds, want 0 to 1`},
		{"sweep --dump out/study", "--dump out/study: is the folder of the results, want another"},
		{"sweep --dump head.csv", "--dump head.csv: not a directory, want a folder to write in"},
		{"sweep --dump record", `--dump record: holds "run.json", which is no file of this dump, want an empty folder ` +
			`or a new one`},
		{"sweep --shard 3/2", `--shard: "3/2": want K/N with K from 1 to N, auto, or auto/N`},
		{"sweep --shard auto/x", `--shard: "auto/x": want K/N with N from 1 to 100000, or auto/N`},
		{"sweep --shard auto", `--shard: "auto": neither SLURM_ARRAY_TASK_ID nor JOB_COMPLETION_INDEX is set, want ` +
			`K/N outside an array job`},

		// quantities
		{"sweep --altitude 50km", `--altitude: "50km": 50000m is out of bounds, want -500m to 11000m`},
		{"sweep --altitude 5:6m", `--altitude: "5:6m": a range makes no scenarios, want a list such as -500m,11000m`},
		{"sweep --altitude 0:4000:250m", `--altitude: "0:4000:250m": a range makes no scenarios, want a list such as ` +
			`0m,2000m,4000m`},
		{"sweep --wind 0m/s,5:10:5m/s", `--wind: "5:10:5m/s": a range makes no scenarios, want a list such as ` +
			`5m/s,10m/s`},
		{"sweep --temperature warm", `--temperature: "warm": no number, want a temperature such as 35degC or ` +
			`308.15K, or standard`},
		{"sweep --temperature 90degC", `--temperature: "90degC": 90degC is out of bounds, want -50degC to 60degC`},
		{"sweep --avionics -5g", `--avionics: "-5g": -5g is out of bounds, want 0g to 5000g`},
		{"sweep --altitude 0m,0ft", `--altitude: "0m,0ft": 0ft is 0m again, want each value once`},
		{"explain --temperature standard,,35degC", `--temperature: "standard,,35degC": nothing between two commas ` +
			`or at an end, want a value there`},
		{"sweep --wind 0m/s,500m/s", `--wind: "500m/s": 500m/s is out of bounds, want 0m/s to 100m/s`},
		{"sweep --pack-aged true,true", `--pack-aged: "true,true": true is true again, want each value once`},
		{"sweep --pack-aged=true,perhaps", `--pack-aged: "perhaps", want true or false, or true,false for a scenario ` +
			`of each`},
		{"sweep --altitude 1m,2m,3m,4m,5m,6m,7m,8m,9m --pack-aged=false,true", `--altitude, --pack-aged: 18 ` +
			`scenarios, want up to 16: fewer values`},
		{"sweep --altitude 1m,2m,3m,4m,5m,6m,7m,8m,9m,10m,11m,12m,13m,14m,15m,16m,17m", `--altitude: 17 values, ` +
			`want up to 16`},
		{"sweep --over mean", `--over says what ranks a design over scenarios, want a list beside it, such as ` +
			`--altitude 0m,2000m`},
		{"sweep --over best --altitude 0m,2000m", `--over: no rule "best", want one of worst, mean`},
		{"rotor --diameter 5in --altitude 0m,2000m", `--altitude: "0m,2000m": one value is wanted here, not a list ` +
			`or a range: want a length such as 5in or 127mm`},
		{"sweep --altitude 5M", `--altitude: "5M": "M" is not a unit, want m as in 5m`},
		{"sweep --altitude 1e-340m", `--altitude: "1e-340m": too small a number, want 0 or more than 1e-300`},
		{"sweep --altitude 0.00000000000000000000000000000000000000001m",
			`--altitude: "0.000000000000000000"...: a number of 43 characters, want at most 40`},
		{"sweep --altitude=", `--altitude: "": empty, want a length such as 5in or 127mm`},
		{"sweep --pack-temperature 100", `--pack-temperature: "100": 100degC is out of bounds, want -50degC to 60degC`},
		{"sweep --winding-temperature 500degC", `--winding-temperature: "500degC": 500degC is out of bounds, want ` +
			`-50degC to 180degC`},
		{"sweep --clearance -3", `--clearance: "-3": -3 is out of bounds, want 0.01 to 2`},
		{"sweep --avionics-power -1W", `--avionics-power: "-1W": -1W is out of bounds, want 0W to 500W`},
		{"sweep --crash-load 0", `--crash-load: "0": 0 is out of bounds, want 1 to 100`},
		{"sweep --arm-detuning 0", `--arm-detuning: "0": 0 is out of bounds, want 1 to 3`},
		{"sweep --payload-area -1cm2", `--payload-area: "-1cm2": -1cm2 is out of bounds, want 0cm2 to 5000cm2`},
		{"sweep --hard-share 2", `--hard-share: "2": 2 is out of bounds, want 0 to 1, such as 2%`},
		{"sweep --hard-share 200%", `--hard-share: "200%": 2 is out of bounds, want 0 to 1`},
		{"sweep --landing-reserve 20", `--landing-reserve: "20": 20 is out of bounds, want 0 to 0.9, such as 20%`},
		{"sweep --landing-reserve 95", `--landing-reserve: "95": 95 is out of bounds, want 0 to 0.9`},
		{"sweep --usable 80", `--usable: "80": 80 is out of bounds, want 0.2 to 0.95, such as 80%`},
		{"sweep --thrust-reserve 0", `--thrust-reserve: "0": 0 is out of bounds, want 1 to 10`},
		{"sweep --charge 90", `--charge: "90": 90 is out of bounds, want 0.2 to 1, such as 90%`},
		{"sweep --frame-factor 0", `--frame-factor: "0": 0 is out of bounds, want 0.1 to 10`},
		{"sweep --airspeed 0.5m/s", `--airspeed: "0.5m/s": 0.5m/s is out of bounds, want 1m/s to 100m/s`},
		{"sweep --airspeed fast", `--airspeed: "fast": no number, want a speed such as 12m/s or 45km/h, or none`},
		{"sweep --wind -3m/s", `--wind: "-3m/s": -3m/s is out of bounds, want 0m/s to 100m/s`},
		{"sweep --usable 99%", `--usable: "99%": 0.99 is out of bounds, want 0.2 to 0.95`},
		{"sweep --require airspeed-time>=5min",
			"--require: airspeed-time: --airspeed is not given, want it as well, such as --airspeed 12m/s"},
		{"sweep --merit airspeed-power:1:200:50",
			"--merit: airspeed-power: --airspeed is not given, want it as well, such as --airspeed 12m/s"},
		{"sweep --front airspeed-range,hover-time",
			"--front: airspeed-range: --airspeed is not given, want it as well, such as --airspeed 12m/s"},
		{"sweep --map diameter,kv:airspeed-duty",
			"--map: airspeed-duty: --airspeed is not given, want it as well, such as --airspeed 12m/s"},
		{"sweep --merit likeness:1:0:1",
			"--merit: likeness: --like is not given, want it as well, such as --like disk-loading=7.5g/in2"},
		{"sweep --tilt-limit 5rad", `--tilt-limit: "5rad": 5rad is out of bounds, want 10deg to 90deg`},
		{"sweep --checkpoint-every 0s", `--checkpoint-every: "0s": 0s is out of bounds, want 0.001s to 1000000s`},
		{"sweep --max-time -5s", `--max-time: "-5s": -5s is out of bounds, want 0s to 100000000s`},
		{"sweep --pack-grade super", `--pack-grade: no grade "super", ` + wantGrade},
		{"sweep --board jointed", `--board: no board "jointed", did you mean joined?`},
		{"sweep --frame-build bean", `--frame-build: no build "bean", did you mean beam?`},

		// axes
		{"sweep --diameter 5g", `--diameter: "5g": g is a unit of mass, want a length such as 5in or 127mm`},
		{"sweep --diameter 5parsec", `--diameter: "5parsec": "parsec" is not a unit of length, want a length such as ` +
			`5in or 127mm`},
		{"sweep --diameter 3:6:0.7in", `--diameter: "3:6:0.7in": steps of 0.7in from 3in do not land on 6in, want a ` +
			`last value of 5.8in or 6.5in`},
		{"sweep --diameter 3:5:0in", `--diameter: "3:5:0in": step 0in is not above 0, want first:last:step in rising ` +
			`order`},
		{"sweep --diameter 3:x:1in", `--diameter: "3:x:1in": no number in "x", want first:last:step`},
		{"sweep --diameter 3in:5in:1", `--diameter: "3in:5in:1": a range has one unit, at its end, as in ` +
			`first:last:step with in`},
		{"sweep --cells 2:4:0.5", `--cells: "2:4:0.5": 0.5 is not a whole number, want a number of cells such as 4 ` +
			`or 4S`},
		{"sweep --diameter 3:6", `--diameter: "3:6": 2 numbers in a range, want first:last:step`},
		{"sweep --diameter 3,,4", `--diameter: "3,,4": nothing between two commas or at an end, want a list such as ` +
			`a,b,c`},
		{"sweep --diameter 3in,3in", `--diameter: "3in": 3in is already given by "3in", want each value once`},
		{"sweep --diameter 3,4,5mm", `--diameter: "3": no unit beside "5mm", want 3mm or 3in`},
		{"sweep --diameter 3in,15in", `--diameter: "3in,15in": diameter 15 in is outside 2 in to 12 in`},
		{"sweep --diameter 1e999in", `--diameter: "1e999in": exponent beyond 350, want a smaller one`},
		{"sweep --diameter 3:5:0.0000001in", `--diameter: "3:5:0.0000001in": more than 1000000 values on one axis, ` +
			`want a larger step`},
		{"sweep --kv=", `--kv: "": no value, want a KV such as 1750 or 1750rpm/V, a list a,b,c or a range ` +
			`first:last:step`},
		{"sweep --kv 6:3:1", `--kv: "6:3:1": last 3 is below first 6, want first:last:step in rising order`},
		{"sweep --kv 10", `--kv: "10": kv 10 rpm/V is outside 50 rpm/V to 50000 rpm/V`},
		{"sweep --blades 2.5", `--blades: "2.5": not a whole number, want a whole number such as 3`},
		{"sweep --blades 12", `--blades: "12": blades 12 is outside 2 to 8`},
		{"sweep --stator 22", `--stator: "22": not a stator code of four digits, ` + wantStator},
		{"sweep --stator 22x", `--stator: "22x": not a diameter and a height in mm, ` + wantStator},
		{"sweep --stator 22.5x7", `--stator: "22.5x7": the code has no place for a fraction of the diameter, ` +
			wantStator},
		{"sweep --stator 0007", `--stator: "0007": diameter outside 1 to 99 mm, ` + wantStator},
		{"sweep --stator 22x0", `--stator: "22x0": height not above 0 and below 100 mm, ` + wantStator},
		{"sweep --stator 9999", `--stator: "9999": stator 9999 is outside 5 to 60 mm by 2 to 40 mm`},
		{"sweep --stator 2204:2307:1", `--stator: "2204:2307:1": a range of stators keeps one diameter, want a range ` +
			`such as 2204:2208:1 or a list such as 1404,2004,2207`},
		{"sweep --cells 4S,20S", `--cells: "4S,20S": cells 20S is outside 1S to 14S`},
		{"sweep --capacity 5mAh", `--capacity: "5mAh": capacity 5 mAh is outside 50 mAh to 50000 mAh`},
		{"sweep --payload -20g", `--payload: "-20g": payload -20 g is outside 0 g to 20000 g`},
		{"sweep --chord 0.9", `--chord: "0.9": chord 0.9 is outside 0.05 to 0.4 of the radius`},
		{"sweep --pitch 0in", `--pitch: "0in": pitch 0 in is not above 0`},
		{"sweep --pitch 4in --pitch-ratio 0.8", "--pitch and --pitch-ratio state the same axis, want one of them"},
		{"sweep --pitch 20in", "a pitch of 20 in on a diameter of 2 in is a ratio of 10, outside 0.1 to 2"},
		{"sweep --pitch-ratio 9", `--pitch-ratio: "9": pitch-ratio 9 is outside 0.1 to 2`},
		{"sweep --pack-grade 18650-power --capacity 3000mAh",
			"a capacity of 3000 mAh is not a whole number of 18650-power cells, want a multiple of 2800 mAh"},
		{"sweep --kv 300:9999:1 --capacity 50:9000:0.1mAh --payload 0:5000:0.01g --diameter 2:12:0.0001in",
			"the grid has more than 2^63 designs, want fewer values on an axis"},
		{"explain --rank 3", "--rank: of which run? want its folder as well, as in explain out/NAME --rank"},
		{"explain --design 3", "--design: of which run? want its folder as well, as in explain out/NAME --design"},
		{"explain --rank 0", `--rank: "0", want a whole number from 1 to 1000000`},
		{"explain nowhere/x", `"nowhere/x" is no folder of a run and no design, want the folder of a finished run, ` +
			"flags such as --diameter=5in, or a flag file with @"},
		{"explain nowhere", `"nowhere" is no folder of a run and no design, want the folder of a finished run, ` +
			"flags such as --diameter=5in, or a flag file with @"},
		{"explain diameter=5in", `"diameter=5in" is not a flag, did you mean --diameter?`},
		{"explain unlisted", "unlisted: run.json: lists no ranking.csv, want the record that the run left"},
		{"explain --against 3", "--against 3: a rank of which run? want explain with the run's folder, or the folder " +
			"with it, as out/NAME:2"},
		{"explain --against nothing", "--against nothing: want a rank, recommended, a run's folder, alone or with " +
			":RANK, or a flag file"},
		{"explain --diameter 3:5:1in", "--diameter: 3 values, want one: explain takes a single design"},

		{"parts --motors motors.csv", "--like: no run, want the folder of a finished run, as out/NAME"},
		{"parts --like nowhere/x --motors motors.csv", "--like nowhere/x: is no folder, want that of a finished run"},
		{"parts --like incomplete --motors motors.csv", "incomplete: holds an unfinished run, want a finished one: " +
			"rotorsieve sweep --resume goes on with it"},
		{"parts --like empty --motors motors.csv", "empty: holds no run.json, want the folder of a finished run"},
		{"parts --shown 0", `--shown: "0", want a whole number from 1 to 10000`},
		{"parts empty", `"empty" is not a flag, want one that begins with --, or a flag file with @`},

		// what is asked of designs
		{"sweep --class 250g,0.25kg", `--class: "0.25kg" beside "250g": the same limit twice, want each class once`},
		{"sweep --class 0g", `--class: "0g": a limit of 0g, want 10g to 100000g`},
		{"sweep --class 0.25", `--class: "0.25": a limit of 0.25g, want 10g to 100000g`},
		{"sweep --class 249g=", `--class: "249g=": no name after =, want a class such as 249g or 249g=scout`},
		{"sweep --class none", `--class: "none": no number, want a mass such as 249g or 1.2kg`},
		{"sweep --require hover-tine>=6min", `--require: no metric "hover-tine", did you mean hover-time?`},
		{"sweep --require hover-time", `--require: "hover-time": neither >= nor <=, ` + wantBound},
		{"sweep --require hover-time>=6V", `--require: hover-time: "6V": V is a unit of voltage, want a time such as ` +
			`8min or 30s`},
		{"sweep --require ceiling>=3km", `--require: "ceiling" is computed by explain alone, want a metric of ` +
			`sweeps, such as hover-time`},
		{"sweep --require hover>=6min", `--require: no metric "hover", did you mean hover-rpm, hover-tip-speed, ` +
			`hover-throttle, hover-power, hover-efficiency or hover-time?`},
		{"sweep --require auw<=200g,auw<=240g", `--require: "auw<=240g" beside "auw<=200g": the same bound twice, ` +
			`want each once`},
		{"sweep --require none,auw<=240g", `--require: "none,auw<=240g": none beside others, want it alone`},
		{"sweep --require auw>=240g,auw<=200g", `--require: "auw<=200g" beside "auw>=240g": no value keeps both ` +
			`bounds`},
		{"sweep --require hover-throttle<=65", `--require: "hover-throttle<=65": no hover throttle is above 100 % and ` +
			`this is 6500 %, did you mean hover-throttle<=65%?`},
		{"sweep --require pack-load<=80", `--require: "pack-load<=80": this is 8000 %, did you mean pack-load<=80%?`},
		{"sweep --require thrust-share>=120%", `--require: "thrust-share>=120%": no flight with thrust in reserve is ` +
			`above 100 %, want a bound up to that`},
		{"sweep --require motor-temperature<=500degC", `--require: "motor-temperature<=500degC": a motor temperature ` +
			`in hover of 500 °C stands for all beyond it, which keeps every design, want a bound below it`},
		{"sweep --require burst-time>=2h", `--require: "burst-time>=2h": a time at full throttle of 3600 s stands for ` +
			`all beyond it, want a bound up to that`},
		{"sweep --require auw<=0g", `--require: "auw<=0g": all-up weight is above 0 g in all that flies, want a ` +
			`bound above it`},
		{"sweep --require hover-time>=-6min", `--require: "hover-time>=-6min": no hover time is below 0 min, did you ` +
			`mean hover-time>=6min?`},
		{"sweep --require range>=none", `--require: "range>=none": there is no such bound to drop, want one of ` +
			`thrust-to-weight>=2, tip-mach<=0.7, capacity-per-cell>=150mAh, winding-load<=100%, torque-load<=100%, ` +
			`controller-rating<=80A, pack-load<=160%, voltage-margin>=0V, hover-throttle<=75%, motor-temperature<=100degC, ` +
			`burst-time>=10s, cruise-motor-temperature<=100degC`},
		{"sweep @floor.flags --require auw<=200g", `--require: "auw<=200g" beside "auw>=240g" of floor.flags:1: no ` +
			`value keeps both bounds, want another, or auw>=none to drop that one`},
		{"sweep --merit hover-throttle:1:65:30", `--merit: "hover-throttle:1:65:30": 65 of hover-throttle is 6500 %, ` +
			`did you mean 65%?`},
		{"sweep --merit hover-time:0.4:12min", `--merit: "hover-time:0.4:12min": not four parts, want ` +
			`METRIC:WEIGHT:WORST:BEST, such as hover-time:0.4:4min:12min`},
		{"sweep --merit none", `--merit: "none": not four parts, want METRIC:WEIGHT:WORST:BEST, such as ` +
			`hover-time:0.4:4min:12min`},
		{"sweep --merit hover-time:x:4min:12min", `--merit: weight of hover-time: "x": no number, want a number such ` +
			`as 0.85 or 85%`},
		{"sweep --merit hover-time:1:4g:12min", `--merit: worst of hover-time: "4g": g is a unit of mass, want a ` +
			`time such as 8min or 30s`},
		{"sweep --merit hover-time:1:4min:", `--merit: best of hover-time: "": empty, want a time such as 8min or 30s`},
		{"sweep --merit auw:1:300g:300g", `--merit: "auw:1:300g:300g": worst and best of auw are the same, want two ` +
			`values`},
		{"sweep --merit auw:1:2kg:1kg,auw:1:3kg:1kg",
			`--merit: "auw:1:3kg:1kg" beside "auw:1:2kg:1kg": the same metric twice, want each once`},
		{"sweep --merit hover-time:0:4min:12min", `--merit: weight of hover-time: "0" is not above 0, want a number ` +
			`such as 0.4`},
		{"sweep --merit auw:1:200g:300g", `--merit: "auw:1:200g:300g": of auw lower is better, want worst before best`},
		{"sweep --merit ceiling:1:0m:3km", `--merit: "ceiling" is computed by explain alone, want a metric of ` +
			`sweeps, such as hover-time`},
		{"sweep --map diameter,kw", `--map: no axis "kw", did you mean kv?`},
		{"sweep --map kv,kv", `--map: "kv,kv": the same axis twice, want two axes such as diameter,kv`},
		{"sweep --map kv,cells:hover-tim", `--map: no metric "hover-tim", did you mean hover-time?`},
		{"sweep --map diameter", `--map: "diameter": not two axes, want AXIS,AXIS or AXIS,AXIS:METRIC, such as ` +
			`diameter,kv:hover-time`},
		{"sweep --map kv,cells:ceiling", `--map: "ceiling" is computed by explain alone, want a metric of sweeps, ` +
			`such as hover-time`},
		{"sweep --map kv,cells --map kv,cells", `--map: "kv,cells" beside "kv,cells": the same map twice, want each ` +
			`once`},
		{"sweep --figures size,size", `--figures: "size" beside "size": the same figure twice, want each once`},
		{"sweep --map pitch,kv", "--map pitch,kv: the study states pitch-ratio, want that in place of pitch"},
		{"sweep --pitch 4in --diameter 5in --map kv,pitch-ratio",
			"--map kv,pitch-ratio: the study states pitch, want that in place of pitch-ratio"},
		{"sweep --front auw,range,hover-time,top-speed",
			`--front: "auw,range,hover-time,top-speed" makes 4, want up to 3`},
		{"sweep --front mach", `--front: no metric "mach", did you mean tip-mach or flight-tip-mach?`},
		{"sweep --figures none,size", `--figures: "none,size": none beside others, want it alone`},
		{"sweep --front disk-loading", `--front: disk-loading has no better direction, want a metric that has, such ` +
			`as hover-time`},
		{"sweep --front auw,auw", `--front: "auw" beside "auw": the same metric twice, want each once`},
		{"sweep --front class-margin --class 250g,500g", "--front: class-margin differs by class, want one class or " +
			"another metric"},
		{"sweep --figures sizes", `--figures: no figure "sizes" of this study, did you mean size?`},
		{"sweep --like auw", `--like: "auw": no =, want NAME=VALUE, such as auw=600g`},
		{"sweep --like auw=600g", "--like: a weight alone or a diameter alone says nothing to compare, want auw and " +
			"diameter together"},
		{"sweep --like auw=-5g", `--like: auw: "-5g" is not above 0, want what the craft has`},
		{"sweep --like auw=5in", `--like: auw: "5in": in is a unit of length, want a mass such as 249g or 1.2kg`},
		{"sweep --like wheelbase=5", `--like: "wheelbase" is neither compared nor part of a design, want one of ` +
			`disk-loading, thrust-to-weight, tip-speed, thrust-response-time, roll-acceleration, auw, diameter, ` +
			`pitch, pitch-ratio, blades, chord, stator, kv, cells, capacity, payload`},
		{"sweep --like auw=600g,auw=500g", `--like: "auw=500g" beside "auw=600g": the same twice, want each once`},
		{"sweep --like diameter=5g,auw=600g", `--like: diameter: "5g": g is a unit of mass, want a length such as ` +
			`5in or 127mm`},
		{"sweep --like diameter=3:5:1in", `--like: diameter: 3 values, want one`},
		{"sweep --like diameter=20in,auw=600g", `--like: diameter 20 in is outside 2 in to 12 in`},
		{"sweep --like diameter=5in,kv=1750,auw=600g", "--like: auw is computed of a whole design, want it without " +
			"stator, KV, cells and capacity"},
		{"sweep --like diameter=2in,cells=1,stator=1103,kv=300,payload=5kg",
			"--like: the reference craft: no operating point, want one that flies"},

		// flag files
		{"sweep @none.flags", "flag file none.flags: no such file, want the path of a file of flags"},
		{"sweep @kind.flags", `kind.flags:3: --diameter: "5parsec": "parsec" is not a unit of length, want a length ` +
			`such as 5in or 127mm`},
		{"sweep @grade.flags", `grade.flags:2: --pack-grade: no grade "middling", ` + wantGrade},
		{"sweep @loop.flags", "loop.flags:1: flag file loop.flags takes itself in, want files that do not"},
		{"sweep @bare.flags", `bare.flags:1: "diameter 5in" is not a flag, want a line such as --diameter=5in, @file ` +
			`or # a comment`},
		{"sweep @novalue.flags", "novalue.flags:1: --diameter has no value, want --diameter=values"},
		{"sweep @deep.flags", "deep.flags:1: flag file none.flags: no such file, want the path of a file of flags"},
		{"sweep @binary.flags", "flag file binary.flags: not a text file, want a file of flags"},
		{"sweep @empty", "flag file empty: is a folder, want a file of flags"},
		{"sweep @", "@ without a file name, want @file"},

		// tables
		{"sweep --rotor-points none", "--rotor-points none: no such file or directory, want a CSV of measurements"},
		{"sweep --rotor-points empty", "--rotor-points empty: is a folder, want a CSV of measurements"},
		{"sweep --rotor-points empty.csv", "empty.csv:1: no header; want " +
			"diameter_in,pitch_in,blades,rpm,thrust_N,power_W"},
		{"sweep --rotor-points none.csv", "none.csv:1: no measurement below the header; want at least one"},
		{"sweep --rotor-points column.csv", "column.csv:1: columns diameter_in,pitch_in,blades,rpm,thrust_g; want " +
			"one named power_W or torque_Nm"},
		{"sweep --rotor-points field.csv", "field.csv:2: wrong number of fields; want as many fields as the header " +
			"has"},
		{"sweep --rotor-points fraction.csv", `fraction.csv:2: blades "2.5"; want a whole number`},
		{"sweep --rotor-points negative.csv", `negative.csv:2: thrust_g "-190"; want a positive number`},
		{"sweep --rotor-points text.csv", `text.csv:2: rpm "fast"; want a number`},
		{"sweep --rotor-points both.csv", "both.csv:1: columns thrust_g and thrust_N; want one of them"},
		{"sweep --rotor-points airs.csv", "airs.csv:3: altitude or temperature differs from line 2, of the same " +
			"propeller; want one air for each propeller"},
		{"sweep --rotor-points backwards.csv", `backwards.csv:2: J "-1"; want 0 or more`},
		{"sweep --rotor-points quote.csv", `quote.csv:2: extraneous or missing " in quoted-field; want as many ` +
			`fields as the header has`},
		{"sweep --measured none", "--measured none: no such file or directory, want a CSV of records"},
		{"sweep --measured empty", "--measured empty: is a folder, want a CSV of records"},
		{"sweep --measured empty.csv", "empty.csv:1: no header; want kind,key,quantity,value,unit,sigma"},
		{"sweep --measured good.csv", `good.csv:1: header "diameter_in,pitch_in,blades,rpm,thrust_g,power_W"; want ` +
			`kind,key,quantity,value,unit,sigma`},
		{"sweep --measured recordkind.csv", `recordkind.csv:2: kind "wing"; want one of propeller, motor, frame, ` +
			`pack, craft`},
		{"explain --measured recordempty.csv", "recordempty.csv: none of its 1 values is filled in; want at least one"},
		{"explain --measured recordquantity.csv", `recordquantity.csv:2: quantity "colour" of a motor; want one of ` +
			`KV, resistance, idle-current, mass, loss, chopping, cooling`},
		{"sweep --measured recordframe.csv", "recordframe.csv:2: frame 5in: 300 g are 3.42 times those of the model " +
			"with a frame factor of 1, known to ±20 %: want plates and arms alone, and the factor of such frames"},
		{"explain --measured recordweighed.csv --frame-build beam", "recordweighed.csv:2: the mass of a frame says " +
			"nothing of frames whose arms are sized for the craft; want no frame, or frames by regression"},
		{"rotor --measured recordweighed.csv", "recordweighed.csv:2: a frame says nothing here, and nor does any " +
			"other record of the file; want one of a propeller or a motor, or the file in sweep or explain"},
		{"stand --measured recordhover.csv", "recordhover.csv:2: a craft says nothing here, and nor does any " +
			"other record of the file; want one of a propeller or a motor, or the file in sweep or explain"},
		{"explain --measured recordhover.csv", "recordhover.csv:2: craft 5x4.3x3 2207 1750KV 4S 1300mAh 620g: 420 W " +
			"of hover ask for propellers that take 3.59 times the shaft power of the model, which is known to ±19 %: " +
			"want the power that leaves the pack in steady hover, and the true all-up weight"},
		{"explain --measured recordpack.csv", "recordpack.csv:2: pack 4S 1300mAh high-rate: the resistance asks for " +
			"0.227 times that of the model, which is known to ±20 %: want it of the whole pack, at 25 degC, and the " +
			"true grade"},
		{"sweep --measured recordgrade.csv", `recordgrade.csv:2: key "4S 1300mAh good": "good" is not a pack grade, ` +
			wantGrade},
		{"rotor --measured recordunit.csv", `recordunit.csv:2: unit "W" of thrust; want g, kg, N, gf, kgf`},
		{"rotor --measured recordsigma.csv", `recordsigma.csv:2: sigma "-1"; want it at least 0, in the unit of the ` +
			`value or as a per cent of it, such as 3 %`},
		{"explain --measured recordexact.csv", "recordexact.csv:3: 2207 1750KV resistance is 70 ± 0 mohm, but 58 ± 0 " +
			"mohm at recordexact.csv:2, both without uncertainty; want a sigma above 0, or one of the two"},
		{"explain --measured recordtwice.csv", "recordtwice.csv:3: 2207 1750KV resistance is 70 ± 1 mohm, but 58 ± 1 " +
			"mohm at recordtwice.csv:2: " +
			"8 of their sigmas apart; want at most 5, larger sigmas, or one of the two"},
		{"sweep --measured recordfar.csv", "recordfar.csv:2: motor 2207 1750KV: the mass asks for 9.98 times that of " +
			"the model, which is known to ±10 %: want it per motor, of the true stator and KV"},
		{"sweep --measured recordtwice.csv,recordtwice.csv",
			`--measured: "recordtwice.csv" beside "recordtwice.csv": the same file twice, want each once`},
		{"rotor --blades 2 --blade blade.csv --measured recordprop.csv",
			"recordprop.csv: no propeller of 5 in and 2 blades, want measurements of the one that --blade describes"},
		{"rotor --blades 2 --blade blade.csv --rotor-points good.csv",
			"good.csv: no propeller of 5 in and 2 blades, want measurements of the one that --blade describes"},
		{"rotor --blades 3 --blade blade.csv --rotor-points two.csv",
			"two.csv:3: another propeller of 5 in and 3 blades is at two.csv:2, want the one that --blade describes"},
		{"rotor --blade none", "--blade none: no such file or directory, want a CSV of r/R, c/R, beta"},
		{"rotor --blade empty", "--blade empty: is a folder, want a CSV of r/R, c/R, beta"},
		{"rotor --blade word.csv", `word.csv:3: "wide" is no number; want c/R from 0 to 1`},
		{"rotor --blade head.csv", `head.csv:1: header ["r/R" "c/R"]; want r/R,c/R,beta`},
		{"rotor --blade short.csv", "short.csv:3: 2 stations; want at least 4"},
		{"rotor --blade fields.csv", "fields.csv:2: 2 fields; want 3: r/R,c/R,beta"},
		{"rotor --blade beyond.csv", "beyond.csv:2: r/R 1.2; want 0 to 1"},
		{"rotor --blade falling.csv", "falling.csv:3: r/R 0.1 after 0.2; want it to increase"},
		{"rotor --blade broad.csv", "broad.csv:2: c/R 2; want above 0, at most 1"},
		{"rotor --blade steep.csv", "steep.csv:2: beta 130°; want -30 to 90"},
		{"rotor --blade root.csv", "root.csv:5: the first station is at r/R 0.4; want it at 0.25 or less"},
		{"rotor --blade tip.csv", "tip.csv:5: the last station is at r/R 0.9; want it at 0.95 or more"},
		{"rotor --blade empty.csv", "empty.csv:1: no header; want r/R,c/R,beta"},
		{"rotor --blade blade.csv --pitch 4in", "--pitch: the blade of --blade has its own, want one of the two flags"},

		// one propeller
		{"rotor --rpm 0", `--rpm: "0": 0 rpm, want more than 0`},
		{"rotor --rpm 5in", `--rpm: "5in": in is a unit of length, want a speed of rotation such as 25000rpm`},
		{"rotor --advance 9", `--advance: "9": advance ratio 9, want -0.5 to 3`},
		{"rotor --blades 9", `--blades: "9": 9 is out of bounds, want 2 to 8`},
		{"rotor --diameter 50in", `--diameter: "50in": 50in is out of bounds, want 2in to 12in`},
		{"rotor --pitch 15in", "--pitch: 15 in on a diameter of 5 in is a ratio of 3, want 0.1 to 2"},
		{"rotor --chord 0.01", "--chord: chord 0.01 is outside 0.05 to 0.4 of the radius"},
		{"rotor --table --rpm 500000", "--rpm: 500000 is outside the table, want 1023.49 to 51174.3"},
		{"rotor --table --advance 0:3:0.5", "--advance: 1 is outside the table, want -0.2 to 0.9895"},
		{"rotor --draw plain.txt/x", "--draw plain.txt/x: not a directory, want a folder to write in"},
		{"explain --draw plain.txt/x", "--draw plain.txt/x: not a directory, want a folder to write in"},

		// one motor and propeller on a stand
		{"stand --throttle 0", `--throttle: "0": throttle of 0 %, want more than 0, at most 100`},
		{"stand --throttle 50:110:10", `--throttle: "50:110:10": throttle of 110 %, want more than 0, at most 100`},
		{"stand --rpm 0", `--rpm: "0": 0rpm, want more than 0`},
		{"stand --thrust 5N", `--thrust: "5N": N is a unit of force, want a mass such as 249g or 1.2kg`},
		{"stand --rpm 10000 --thrust 100g", "--throttle, --rpm, --thrust: 2 of them, want one"},
		{"stand --voltage 0", `--voltage: "0": 0V is out of bounds, want 1V to 100V`},
		{"stand --controller 0A", `--controller: "0A": 0A is out of bounds, want 1A to 500A`},
		{"stand --controller big", `--controller: "big": no number, want a current such as 30A, or usual`},
		{"stand --motor-mass 0g", `--motor-mass: "0g": 0g is out of bounds, want 0.5g to 5000g`},
		{"stand --motor-resistance 5V", `--motor-resistance: "5V": V is a unit of voltage, want a resistance such as ` +
			`60mohm, or usual`},
		{"stand --motor-idle 0.8", `--motor-idle: "0.8": want a current at a voltage such as 0.8A@10V, or usual`},
		{"stand --motor-idle 10V@0.8A", `--motor-idle: "10V@0.8A": want a current at a voltage such as 0.8A@10V, or ` +
			`usual`},
		{"stand --stator 9999", "--stator: stator 9999 is outside 5 to 60 mm by 2 to 40 mm"},
		{"stand --pitch 15in", "--pitch: 15 in on a diameter of 5 in is a ratio of 3, want 0.1 to 2"},
		{"stand --format xml", `--format: no format "xml", want one of auto, text, csv, json`},
		{"stand --fit new.csv", "--fit: nothing to fit to, want --compare with the measurements"},
		{"stand --compare run.csv --fit run.csv", "--fit run.csv: holds the measurements of --compare, want another " +
			"file"},
		{"stand --compare run.csv --fit empty/../run.csv",
			"--fit empty/../run.csv: holds the measurements of --compare, want another file"},
		{"stand --compare run.csv --fit good.csv", "--fit good.csv: is there already, want a new file, or --force to " +
			"replace it"},
		{"stand --compare run.csv --fit empty.csv", "--fit empty.csv: is there already, want a new file, or --force " +
			"to replace it"},
		{"stand --compare run.csv --fit empty", "--fit empty: is a folder, want a file to write"},
		{"stand --compare run.csv --rpm 1000", "--rpm: the points are those of --compare, want one of the two"},
		{"stand --compare none", "--compare none: no such file or directory, want a CSV of a stand"},
		{"stand --compare empty", "--compare empty: is a folder, want a CSV of a stand"},
		{"stand --compare empty.csv", "empty.csv:1: no header; want rpm or throttle, voltage_V, current_A and " +
			"thrust_N or thrust_g"},
		{"stand --compare none.csv", "none.csv:1: no column of the voltage; want rpm or throttle, voltage_V, " +
			"current_A and thrust_N or thrust_g"},
		{"stand --compare run.csv", "run.csv: no row of 2207 1750KV with 5x4x2; it has 2205 2400KV with 5x4x3"},
		{"stand --compare run.csv --stator 2205 --kv 2400 --blades 3 --fit plain.txt/x",
			"--fit plain.txt/x: not a directory, want a file to write"},
		{"stand --compare run.csv --stator 2205 --kv 2400 --blades 3 --draw plain.txt/x",
			"--draw plain.txt/x: not a directory, want a folder to write in"},
		{"stand --motor-mass 3g", "--motor-mass: 3 g, but the model has 33.1 g for this stator: want 11 to 99.2 g"},
		{"stand --motor-resistance 5ohm", "--motor-resistance: 5000 mohm, but the model has 75.6 mohm for this " +
			"stator and KV: want 15.1 to 378 mohm, between two leads"},
		{"stand --compare semicolons.csv", "semicolons.csv:1: the columns are separated by semicolons, want commas"},
		{"stand --compare huge.csv", `huge.csv:2: rpm "1e300" is out of range; want at most 1e+09`},
		{"stand --compare units.csv", "units.csv:2: thrust_g of 130, but thrust_N of 2; want one thrust"},

		// places
		{"sweep --out none", wantOut},
		{"sweep @out.flags", "out.flags:1: " + wantOut},
		{"merge cut --out none", wantOut},
		{"merge plain.txt", "plain.txt: no shard there, want a folder with a checkpoint"},
		{"compare done damaged --out none", wantOut},
		{"sweep --out plain.txt/sub", "--out plain.txt/sub: not a directory, want a folder to write in"},
		{"sweep --out done", "--out done: holds the results of a run, want another folder or --force to replace them"},
		{"sweep --out done --resume", "--out done: holds results that are not those of this run, want another folder " +
			"or --force to replace them"},
		{"sweep --out older --resume", "--out older: holds the results of model 5, older than " + model.Version +
			" of this program, want another folder or --force to replace them"},
		{"sweep --out older/sub --resume --quiet", "older/sub/checkpoint: a checkpoint of model 5, older than " +
			model.Version + " of this program, want --force to start afresh; a shard is run again"},
		{"merge older/sub", "older/sub/checkpoint: a checkpoint of model 5, older than " + model.Version + " of this " +
			"program, want --force to start afresh; a shard is run again"},
		{"sweep --class " + manyClasses(), "--class: 65 classes, want up to 64"},
		{"sweep --kv 300:9300:1 --capacity 300:900:1mAh --map kv,capacity",
			"--map kv-capacity: 5409601 cells, want up to 4194304: fewer values on an axis"},
		{"sweep --capacity 50:50000:0.1mAh --cells 1,2,3",
			"--capacity: 1498503 packs with the cells in series, want up to 1048576: fewer values on an axis"},
		{"sweep --out record --resume", "--out record: run.json cannot be read: unexpected end of JSON input, want " +
			"it restored, another folder, or --force to start afresh"},
		{"sweep --out unfinished", "--out unfinished: holds an unfinished run, want --resume to go on with it or " +
			"--force to start afresh"},
		{"sweep --out unfinished --resume --quiet", "unfinished/checkpoint: not a checkpoint, want one that a sweep " +
			"has written"},
		{"merge", "no shards to merge, want the folders of all shards of one study"},
		{"merge empty", "empty: no shard there, want a folder with a checkpoint"},
		{"merge unfinished", "unfinished/checkpoint: not a checkpoint, want one that a sweep has written"},
		{"merge cut", "cut/checkpoint: the checkpoint is cut short, want --force to start afresh; a shard is run " +
			"again"},
		{"merge damaged", "damaged/checkpoint: the checkpoint is damaged: its checksum does not fit, want --force to " +
			"start afresh; a shard is run again"},
		{"compare done", "1 folder to compare, want those of two finished runs or more"},
		{"compare", "0 folders to compare, want those of two finished runs or more"},
		{"compare done done", "done: the same folder as done, want each run once"},
		{"compare done incomplete empty/../done", "empty/../done: the same folder as done, want each run once"},
		{"compare incomplete done", "incomplete: holds an unfinished run, want a finished one: rotorsieve sweep " +
			"--resume goes on with it"},
		{"compare earlier done", "earlier: run.json: is of an earlier format, and this version reads 2: want the " +
			"study run again, from the effective.flags beside it"},
		{"compare later done", "later: run.json: is of format 3, and this version reads 2: want the version that " +
			"wrote it, v9.0.0"},
		{"compare unlisted done", "unlisted: run.json: lists no ranking.csv, want the record that the run left"},
		{"compare edited done", "edited: ranking.csv: was changed since the run wrote it, want it restored, or the " +
			"study run again from the effective.flags beside it"},
		{"compare done empty", "done: run.json: is not the record of a run, want the folder of a finished run"},
		{"compare record done", "record: run.json: unexpected end of JSON input, want the record of a finished run"},
		{"compare empty done", "empty: holds no run.json, want the folder of a finished run"},

		// lists of parts
		{"sweep --motors", "--motors has no value, want --motors=file"},
		{"sweep --motors nowhere.csv", "--motors nowhere.csv: no such file or directory, want a CSV of motors"},
		{"sweep --packs empty", "--packs empty: is a folder, want a CSV of packs"},
		{"sweep --frames empty.csv", "empty.csv:1: no header, want a header with name,wheelbase (mm),largest propeller (in)"},
		{"sweep --motors motorsemi.csv", "motorsemi.csv:1: the columns are separated by semicolons, want commas, and a " +
			"point in numbers"},
		{"sweep --motors motorheavy.csv", `motorheavy.csv:2: column "mass (g)": 5 g, but the model has 82.5 g for this ` +
			"stator: want 27.5 to 248 g"},
		{"sweep --motors motorname.csv", `motorname.csv:2: column "name": "=Gale" begins with =, which a spreadsheet ` +
			"takes for a formula, want a letter or digit first"},
		{"sweep --motors motors.csv --kv 1750", "--kv beside --motors: each motor has its own, want one of the two flags, " +
			"or --motors none"},
		{"sweep @parts.flags", "parts.flags:2: --kv beside --motors: each motor has its own, want one of the two flags, or " +
			"--motors none"},
		{"sweep @listed.flags --stator 2207", "--stator beside --motors: each motor has its own, want one of the two " +
			"flags, " +
			"or --motors none"},
		{"explain --propellers props.csv --pitch-ratio 0.5", "--pitch-ratio beside --propellers: each propeller has its " +
			"own, want one of the two flags, or --propellers none"},
		{"sweep --motors motors.csv --map kv,cells", "--map kv,cells: each motor of --motors has its own kv, want a map " +
			"without it, or --map all"},
		{"sweep --map motor,kv", "--map motor,kv: the study has no motors that exist, want --motors FILE beside it"},
		{"sweep --propellers props.csv", "props.csv: blade file of \"Reed\": --blade nowhere.csv: no such file or " +
			"directory, want a CSV of r/R, c/R, beta"},
		{"sweep --propellers propsstand.csv", "propsstand.csv: stand file of \"Reed\": good.csv: no propeller of 6 in and " +
			"3 blades, want measurements of it"},
		{"explain --motors motors.csv", "--motors motors.csv: 2 motors, want one: --part NAME picks it"},
		{"explain --motors motors.csv --part Gsle", `--part "Gsle": no such part in motors.csv, did you mean Gale?`},
		{"sweep --part Gale", `--part "Gale": no parts are listed, want a list of them, such as --motors FILE`},
		{"sweep --motors motors.csv --part Gale --part gale", `--part: "gale" beside "Gale": the same part twice, want ` +
			"each once"},
		{"sweep --parts-hash motors=12", `--parts-hash: "motors=12", want KIND=SHA-256 in 64 hexadecimal digits, KIND one ` +
			"of motors, propellers, packs, frames, boards"},
		{"sweep --parts-hash packs=" + strings.Repeat("0", 64), "--parts-hash packs: there is no --packs, want its list or " +
			"no hash of it"},
		{"sweep --motors motors.csv --parts-hash motors=" + strings.Repeat("0", 64), "--motors motors.csv: the file has " +
			"changed, its SHA-256 is 74a73a3fce2e... and was 000000000000...: want it as it was, or a new run"},
	} {
		t.Run(c.args, func(t *testing.T) {
			fails(t, strings.Fields(c.args), c.want)
			if left := files(t); left != len(wrongFiles) {
				t.Errorf("%d files, %d were there before", left, len(wrongFiles))
			}
			for name, want := range wrongFiles {
				if got, err := os.ReadFile(name); err != nil || string(got) != want {
					t.Errorf("%s was %q, is %q, %v", name, want, got, err)
				}
			}
		})
	}
}

// olderState is the beginning of a checkpoint that another version of the model wrote.
func olderState() string {
	b := "rotorsieve state\n\x07\x015"
	sum := sha256.Sum256([]byte(b))
	return b + string(sum[:])
}

func manyClasses() string {
	var all []string
	for i := range 65 {
		all = append(all, fmt.Sprintf("%dg", 100+i))
	}
	return strings.Join(all, ",")
}

// fails runs a command that must end with an error of one line.
func fails(t *testing.T, args []string, want string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status := run(context.Background(), args, &stdout, &stderr)
	if got := stderr.String(); got != "rotorsieve: "+want+"\n" {
		t.Errorf("rotorsieve %s:\n got %swant rotorsieve: %s", strings.Join(args, " "), got, want)
	}
	if status != 2 || stdout.Len() > 0 {
		t.Errorf("status %d, output %.200q", status, stdout.String())
	}
}

// What is not UTF-8 goes to no terminal as it is.
func TestErrorsAreText(t *testing.T) {
	fails(t, []string{"sweep", "--\xffkv"}, "no flag --\ufffdkv, want one that rotorsieve help sweep lists")
	fails(t, []string{"sweep", "--\x1b[31mkv"}, "no flag -- [31mkv, want one that rotorsieve help sweep lists")
}

// files counts those below the folder of the test but for lock files, which
// hold nothing.
func files(t *testing.T) (n int) {
	t.Helper()
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && d.Name() != lockName {
			n++
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// What an array job says of itself may be wrong as well.
func TestShardErrors(t *testing.T) {
	for _, c := range []struct {
		shard, want string
		env         map[string]string
	}{
		{"auto/4", `--shard: "auto/4": the variable JOB_COMPLETION_INDEX is "x", want a number`,
			map[string]string{"JOB_COMPLETION_INDEX": "x"}},
		{"auto/4", `--shard: "auto/4": completion index 4 is not below 4`,
			map[string]string{"JOB_COMPLETION_INDEX": "4"}},
		{"auto", `--shard: "auto": a Kubernetes job does not say its size, want auto/N with its number of completions`,
			map[string]string{"JOB_COMPLETION_INDEX": "0"}},
		{"auto/4", `--shard: "auto/4": task 7 of the array is not one of 4, want an array 1-4`,
			map[string]string{"SLURM_ARRAY_TASK_ID": "7", "SLURM_ARRAY_TASK_MIN": "1", "SLURM_ARRAY_TASK_MAX": "8",
				"SLURM_ARRAY_TASK_COUNT": "8", "SLURM_ARRAY_TASK_STEP": "1"}},
	} {
		t.Run(c.want, func(t *testing.T) {
			for _, name := range []string{"SLURM_ARRAY_TASK_ID", "SLURM_ARRAY_TASK_MIN", "SLURM_ARRAY_TASK_MAX",
				"SLURM_ARRAY_TASK_COUNT", "SLURM_ARRAY_TASK_STEP", "JOB_COMPLETION_INDEX"} {
				t.Setenv(name, c.env[name])
			}
			fails(t, []string{"sweep", "--shard", c.shard}, c.want)
		})
	}
}

// Shards that do not belong together are told apart.
func TestMergeErrors(t *testing.T) {
	writeFiles(t, map[string]string{"done/run.json": "{}"})
	for _, c := range []struct{ out, flags string }{
		{"k1", "--shard 1/2"}, {"k2", "--shard 2/2"}, {"third", "--shard 2/3"}, {"other", "--payload 5g --shard 2/2"},
	} {
		said(t, append(append([]string{"sweep", "--out", c.out}, small...), strings.Fields(c.flags)...)...)
	}
	for _, c := range []struct{ args, want string }{
		{"merge k1", "shard 2/2 is missing, want the folders of all 2"},
		{"merge k1 k1", "k1/checkpoint: shard 1/2 again, after k1/checkpoint, want each once"},
		{"merge k1 third", "third/checkpoint: shard 2/3, but k1/checkpoint is one of 2, want shards of one division"},
		{"merge k1 other", "other/checkpoint: a shard of another study than k1/checkpoint, want shards of one study: " +
			"it has --payload=5g, this run has --payload=0g"},
		{"merge k1 k2 --cache k1/checkpoint", "--cache k1/checkpoint: is no folder, want a folder to write in, or none"},
		{"merge k2 k1 --shard 1/2", "no flag --shard, want one that rotorsieve help merge lists"},
		{"merge k1 k2 --out done", "--out done: holds the results of a run, want another folder or --force to " +
			"replace them"},
	} {
		fails(t, strings.Fields(c.args), c.want)
	}
	// Nor does a run go on from the state of another.
	resumed := append([]string{"sweep", "--out", "k1", "--resume"}, small...)
	fails(t, append(resumed, "--shard", "1/2", "--payload", "9g"),
		"k1/checkpoint: the checkpoint of another study, want the same flags, or --force to start afresh: it has "+
			"--payload=0g, this run has --payload=9g")
	fails(t, append(resumed, "--shard", "2/2"), "k1/checkpoint: the checkpoint of shard 1/2 where 2/2 is to run, "+
		"want --shard 1/2 here, or another --out")
	if _, err := os.Stat("out"); err == nil {
		t.Error("a merge that failed has written something")
	}
}
