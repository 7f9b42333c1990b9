package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// shapedLists are lists of which propellers name a blade and a stand file.
var shapedLists = map[string]string{
	"lists/motors.csv": partsLists["lists/motors.csv"],
	"lists/props.csv": "name,diameter (in),pitch (in),blades,blade file,stand file,chord,price\n" +
		"Own,5,4.3,3,blade.csv,,,2\nMeasured,5,4.3,3,,stand.csv,,2.1\n" +
		"Narrow,5,4.3,2,,stand.csv,0.15,\nPlain,5,4.3,3,,,,1\n",
	"lists/packs.csv": "name,cells,capacity (mAh),rate (C),grade\nFlint 6S 1100,6,1100,35,high-rate\nFlint 4S " +
		"1300,4,1300,35,\n",
	"lists/frames.csv": partsLists["lists/frames.csv"],
	"lists/boards.csv": partsLists["lists/boards.csv"],
	"lists/blade.csv":  wrongFiles["blade.csv"],
	"lists/stand.csv": "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n" +
		"5,4.3,3,10000,165,19\n5,4.3,3,20000,690,160\n" +
		"5,4.3,2,10000,130,14\n",
	"lists/shaped.flags": "--motors motors.csv\n--propellers props.csv\n--packs packs.csv\n--frames frames.csv\n" +
		"--boards boards.csv\n--class 600g,700g\n--draws 0\n--figures none\n--quiet\n",
}

func exactly(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// tableOf reads a table of a report.
func tableOf(t *testing.T, path string) [][]string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// failed runs a command that is to fail, and gives its status and what it says.
func failed(t *testing.T, args ...string) (status int, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(t.Context(), args, &out, &errs)
	if status == 0 || out.Len() > 0 {
		t.Errorf("%v: status %d, output %.200q", args, status, out.String())
	}
	return status, errs.String()
}

// A run of parts is read back without the lists that it read, as on another machine: every design
// of it is what the sweep has computed.
func TestPartsReadBack(t *testing.T) {
	writeFiles(t, shapedLists)
	said(t, "sweep", "@lists/shaped.flags", "--out", "run")
	for _, k := range []string{"1/2", "2/2"} {
		said(t, "sweep", "@lists/shaped.flags", "--out", "k"+k[:1], "--shard", k)
	}
	said(t, "merge", "k1", "k2", "--out", "joined")
	said(t, "sweep", "--class", "700g", "--diameter", "5in", "--stator", "2207", "--kv", "1700,1900", "--cells", "6",
		"--capacity", "1100:1300:100mAh", "--draws", "0", "--figures", "none", "--quiet", "--out", "generated")
	if err := os.Rename("lists", "elsewhere"); err != nil {
		t.Fatal(err)
	}
	rows := tableOf(t, "run/ranking.csv")
	at := func(head string) int {
		return slices.IndexFunc(rows[0], func(h string) bool { return h == head || strings.HasPrefix(h, head+" ") })
	}
	shapes := map[string]bool{}
	for _, row := range rows[1:] {
		if row[at("class")] != "700g" {
			continue
		}
		var got struct {
			Parts   []struct{ Kind, Name string } `json:"named_parts"`
			Metrics map[string]struct{ Value float64 }
		}
		told := said(t, "explain", "run", "--class", "700g", "--design", row[at("index")], "--format", "json")
		if err := json.Unmarshal([]byte(told), &got); err != nil {
			t.Fatal(err)
		}
		for _, p := range got.Parts {
			if row[at(p.Kind)] != p.Name {
				t.Errorf("design %s has %s %q, the ranking %q", row[at("index")], p.Kind, p.Name, row[at(p.Kind)])
			}
		}
		for _, m := range []string{"auw", "hover-time", "thrust-to-weight", "pack-current"} {
			if place := at(m); place < 0 || exactly(got.Metrics[m].Value) != row[place] {
				t.Errorf("design %s: %s is %s, in the ranking %v", row[at("index")], m, exactly(got.Metrics[m].Value),
					row)
			}
		}
		shapes[row[at("propeller")]] = true
	}
	if len(shapes) != 4 {
		t.Errorf("ranked are %v", shapes)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"explain", "joined", "--class", "600g", "--rank", "2"}, "joined, class 600 g: rank 2 of "},
		{[]string{"explain", "run", "--class", "700g", "--against", "2"}, "\nB  run, class 700 g: rank 2 of "},
		{[]string{"explain", "run", "--class", "700g", "--against", "generated:1"},
			"\nB  generated, class 700 g: rank 1 of "},
		{[]string{"explain", "generated", "--against", "run:1"}, "\nB  run, class 700 g: rank 1 of "},
		{[]string{"explain", "run", "--class", "700g", "--part", "Own"}, "under other flags than the run's\nOwn, "},
		{[]string{"explain", "run", "--class", "700g", "--motors", "none", "--stator", "2207", "--kv", "1700"},
			", 2207 at 1700 rpm/V, Flint "},
		{[]string{"explain", "run", "--class", "700g", "--require", "hover-time>=1min"},
			"under other flags than the run's"},
		{[]string{"compare", "run", "generated", "--out", "compared"}, "\n  Propellers\n    1  Own, Measured, " +
			"Narrow and 1 more\n" +
			"    2  not asked\n"},
		{[]string{"compare", "run", "joined", "--out", "same"}, "nothing that their results depend on"},
		{[]string{"parts", "--like", "run", "--class", "700g", "--motors", "elsewhere/motors.csv"}, "2 MOTORS ALONE"},
	} {
		if got := said(t, c.args...); !strings.Contains(got, c.want) {
			t.Errorf("%v: no %q in\n%s", c.args, c.want, got)
		}
	}
	fails(t, []string{"explain", "run", "--class", "700g", "--part", "Plan"},
		`--part "Plan": no such part in the run, did you mean Plain?`)
	fails(t, []string{"sweep", "@run/effective.flags", "--out", "other"},
		"--motors ../lists/motors.csv: no such file or directory, want a CSV of motors")
}

// What a record says of parts is held against what a list of them is: a forged one is refused in
// one line, whatever hashes it has.
func TestForgedParts(t *testing.T) {
	writeFiles(t, shapedLists)
	said(t, "sweep", "@lists/shaped.flags", "--out", "run")
	whole, err := os.ReadFile("run/run.json")
	if err != nil {
		t.Fatal(err)
	}
	axis := func(r map[string]any, name string) map[string]any {
		for _, a := range r["study"].(map[string]any)["grid"].(map[string]any)["axes"].([]any) {
			if a := a.(map[string]any); a["name"] == name {
				return a
			}
		}
		t.Fatalf("no axis %s", name)
		return nil
	}
	first := func(r map[string]any, name string) map[string]any {
		return axis(r, name)["parts"].(map[string]any)[name+"s"].([]any)[0].(map[string]any)
	}
	numbers := func(n int) (all []any) {
		for range n {
			all = append(all, 0.5)
		}
		return all
	}
	for _, c := range []struct {
		what, want string
		forge      func(r map[string]any)
	}{
		{"no parts", "the run is of parts that exist, of which its record tells no more than the number: want the " +
			"study run " +
			"again by this version, from the effective.flags beside it", func(r map[string]any) {
			delete(axis(r, "motor"), "parts")
		}},
		{"an empty list", "axis motor: 0 kinds of parts", func(r map[string]any) {
			axis(r, "motor")["parts"] = map[string]any{}
		}},
		{"parts of another kind", "axis motor: parts of another kind", func(r map[string]any) {
			axis(r, "motor")["parts"] = axis(r, "frame")["parts"]
		}},
		{"two kinds", "axis motor: 2 kinds of parts", func(r map[string]any) {
			axis(r, "motor")["parts"].(map[string]any)["frames"] = axis(r, "frame")["parts"].(map[string]any)["frames"]
		}},
		{"a name with a line end", `axis motor: motor "a\nb": holds U+000A, a control character`,
			func(r map[string]any) {
				first(r, "motor")["name"] = "a\nb"
			}},
		{"a formula for a name", `axis motor: motor "=A1": "=A1" begins with =`, func(r map[string]any) {
			first(r, "motor")["name"] = "=A1"
		}},
		{"no name", `axis pack: pack "": the name is empty or has space about it`, func(r map[string]any) {
			first(r, "pack")["name"] = ""
		}},
		{"one name twice", `axis motor: motor "Lull 2306": it is there twice`, func(r map[string]any) {
			first(r, "motor")["name"] = "LULL 2306"
		}},
		{"a mass beyond all", `axis motor: motor "Gale, long": mass: 1e+300 is out of bounds, want 0.0002 to 2`,
			func(r map[string]any) { first(r, "motor")["mass"] = 1e300 }},
		{"a mass that no such motor has", `axis motor: motor "Gale, long": mass: 1.5e+03 g, but the model has `,
			func(r map[string]any) { first(r, "motor")["mass"] = 1.5 }},
		{"a KV of 0", `axis motor: motor "Gale, long": kv: 0 is out of bounds`, func(r map[string]any) {
			first(r, "motor")["kv"] = 0
		}},
		{"a stator below 0", `axis motor: motor "Gale, long": stator: -20 by 7 mm is out of bounds`,
			func(r map[string]any) {
				first(r, "motor")["stator"] = []any{-0.02, 0.007}
			}},
		{"an unknown grade", `axis pack: pack "Flint 4S 1300" of grade "cosy"`, func(r map[string]any) {
			first(r, "pack")["grade"] = "cosy"
		}},
		{"packs in another order", "axis pack: packs whose cells fall", func(r map[string]any) {
			all := axis(r, "pack")["parts"].(map[string]any)["packs"].([]any)
			slices.Reverse(all)
		}},
		{"a current that its rate does not allow", `axis pack: pack "Flint 4S 1300": current: 1e+06 A is `,
			func(r map[string]any) { first(r, "pack")["current"] = 1e6 }},
		{"a frame that discs do not fit", `axis frame: frame "Trestle 5": wheelbase: `, func(r map[string]any) {
			first(r, "frame")["largest_propeller"] = 0.3
		}},
		{"a board of no cells", `axis board: board "Sill 45": cells: 0 is out of bounds`, func(r map[string]any) {
			first(r, "board")["cells"] = 0
		}},
		{"a blade of two stations", `axis propeller: propeller "Own": rotor: 2, 2 and 2 numbers of stations`,
			func(r map[string]any) {
				shape := first(r, "propeller")["shape"].(map[string]any)
				shape["r_over_R"], shape["c_over_R"], shape["beta"] = numbers(2), numbers(2), numbers(2)
			}},
		{"a blade whose radius falls", `axis propeller: propeller "Own": rotor: station 1 of r/R 0.5`,
			func(r map[string]any) {
				shape := first(r, "propeller")["shape"].(map[string]any)
				shape["r_over_R"], shape["c_over_R"], shape["beta"] = numbers(5), numbers(5), numbers(5)
			}},
		{"a blade without a file", `axis propeller: propeller "Own" with files and shape that do not belong together`,
			func(r map[string]any) { delete(first(r, "propeller"), "blade_file") }},
		{"a file without a blade", `axis propeller: propeller "Own" with files and shape that do not belong together`,
			func(r map[string]any) { delete(first(r, "propeller"), "shape") }},
		{"a correction beyond all", `axis propeller: propeller "Own": rotor: correction of pitch`,
			func(r map[string]any) {
				first(r, "propeller")["shape"].(map[string]any)["correction"].(map[string]any)["beta"] = 3
			}},
		{"too many stations", "axis propeller: ", func(r map[string]any) {
			shape := first(r, "propeller")["shape"].(map[string]any)
			shape["r_over_R"], shape["c_over_R"], shape["beta"] = numbers(260_000), numbers(4), numbers(4)
		}},
		{"one part less", "axis motor with other values than its parts bring", func(r map[string]any) {
			in := axis(r, "motor")["parts"].(map[string]any)
			in["motors"] = in["motors"].([]any)[:1]
		}},
		{"a value that no part brings", "axis kv with other values than its parts bring", func(r map[string]any) {
			axis(r, "kv")["values"] = []any{1750, 1900}
		}},
		{"a value that parts bring as one of its own", "axis kv is given beside motors that exist",
			func(r map[string]any) {
				delete(axis(r, "kv"), "of")
			}},
		{"a value of other parts", "axis kv with other values than its parts bring", func(r map[string]any) {
			axis(r, "kv")["of"] = "frame"
		}},
		{"a motor of another KV", "axis kv with other values than its parts bring", func(r map[string]any) {
			first(r, "motor")["kv"] = 1760
		}},
		{"parts of an axis of numbers", "axis payload in ", func(r map[string]any) {
			axis(r, "payload")["parts"] = axis(r, "frame")["parts"]
		}},
		{"a design with other parts", "with other parts than the grid has there", func(r map[string]any) {
			best := r["result"].(map[string]any)["classes"].([]any)[1].(map[string]any)["best"].(map[string]any)
			best["parts"].([]any)[0].(map[string]any)["name"] = "Nobody's"
		}},
		{"a motor that others rank", "the files that effective.flags names have changed since the run",
			func(r map[string]any) { first(r, "motor")["price"] = 19 }},
	} {
		var r map[string]any
		if err := json.Unmarshal(whole, &r); err != nil {
			t.Fatal(err)
		}
		c.forge(r)
		b, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join("run", "run.json"), b, 0o666); err != nil {
			t.Fatal(err)
		}
		status, stderr := failed(t, "explain", "run", "--class", "700g", "--rank", "1")
		if status != exitUnusable || strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, c.want) {
			t.Errorf("%s: status %d, %s", c.what, status, stderr)
		}
	}
}

// A file of measurements that has changed since a run is refused by its name: with its effective
// flags, where the run is to go on, where a design of it is asked for and where its shards are
// joined. A file that is named in its place is not.
func TestChangedMeasurements(t *testing.T) {
	const points = "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,10000,165,19\n"
	const masses = "kind,key,quantity,value,unit,sigma\nmotor,2207 1750,mass,32.4,g,0.1\n"
	writeFiles(t, map[string]string{"points.csv": points, "masses.csv": masses, "more.csv": masses})
	args := []string{"sweep", "--class", "700g", "--diameter", "5in", "--stator", "2207", "--kv", "1700,1900",
		"--cells",
		"6", "--capacity", "1100:1300:100mAh", "--draws", "0", "--figures", "none", "--quiet", "--rotor-points",
		"points.csv", "--measured", "masses.csv"}
	said(t, append(args, "--out", "run")...)
	for _, k := range []string{"1/2", "2/2"} {
		said(t, append(args, "--out", "k"+k[:1], "--shard", k)...)
	}
	for path, changed := range map[string]string{"points.csv": strings.Replace(points, "165", "166", 1),
		"masses.csv": strings.Replace(masses, "32.4", "32.5", 1)} {
		was, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(changed), 0o666); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"sweep", "@run/effective.flags", "--out", "other"},
			append(args, "--out", "run", "--resume"), {"explain", "run", "--rank", "1"},
			{"merge", "k1", "k2", "--out", "other"}} {
			status, stderr := failed(t, args...)
			if status != exitUnusable || strings.Count(stderr, "\n") != 1 ||
				!strings.Contains(stderr, path+": the file has changed, its SHA-256 is ") {
				t.Errorf("%v: status %d, %s", args, status, stderr)
			}
		}
		if err := os.WriteFile(path, was, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := os.Stat("other"); err == nil {
		t.Error("something is written")
	}
	if err := os.WriteFile("more.csv", []byte(strings.Replace(masses, "32.4", "32.7", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	said(t, "explain", "run", "--rank", "1", "--measured", "more.csv")
	sum := strings.Repeat("0", 64)
	for text, want := range map[string]string{
		"points=" + sum: `--file-hash: "points=0000000000000000000000000000000000000000000000000000000000000000", ` +
			"want KEY=SHA-256 in 64 hexadecimal digits, KEY one of rotor-points, measured:1, propellers:blade:NAME, " +
			"propellers:stand:NAME",
		"measured:=" + sum: `--file-hash: ` +
			`"measured:=0000000000000000000000000000000000000000000000000000000000000000", ` +
			"want KEY=SHA-256 in 64 hexadecimal digits, KEY one of rotor-points, measured:1, propellers:blade:NAME, " +
			"propellers:stand:NAME",
		"rotor-points=12": `--file-hash: "rotor-points=12", want KEY=SHA-256 in 64 hexadecimal digits, KEY one of ` +
			"rotor-points, measured:1, propellers:blade:NAME, propellers:stand:NAME",
		"rotor-points=" + sum: "--file-hash rotor-points: there is no --rotor-points, want it or no hash of its files",
		"measured:2=" + sum:   "--file-hash measured:2: there is no --measured, want it or no hash of its files",
	} {
		fails(t, []string{"sweep", "--file-hash", text, "--out", "other"}, want)
	}
	fails(t, []string{"sweep", "--measured", "masses.csv", "--file-hash", "measured:1=" + sum, "--file-hash",
		"measured:1=" + sum, "--out", "other"}, `--file-hash: "measured:1=`+sum+`" beside "measured:1=`+sum+
		`": two hashes of one file, want each once`)
}

// Flags of parts that cannot be are refused in one line that says what would be right, and nothing
// is written.
func TestWrongPartFlags(t *testing.T) {
	writeFiles(t, map[string]string{
		"m.csv": "name,stator,kv\nGale,2207,1750\nLull,1404,4600\n", "folder/x": "",
		"f.csv": "name,wheelbase (mm),largest propeller (in)\nKite,220,5.1\n", "picture.png": "\x89PNG\r\n",
		"blade.csv":   "name,diameter (in),pitch (in),blades,blade file\nOwn,5,4.3,3,gone.csv\n",
		"stand.csv":   "name,diameter (in),pitch (in),blades,stand file\nOwn,5,4.3,3,m.csv\n",
		"other.csv":   "name,diameter (in),pitch (in),blades,stand file\nOwn,6,4.3,3,points.csv\n",
		"points.csv":  "diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n5,4.3,3,10000,165,19\n",
		"empty.flags": "--motors=\n",
	})
	before := files(t)
	sum := strings.Repeat("0", 64)
	const unstated = "no part of the study states what it is read from, want files of parts that do"
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--boards", "m.csv"}, `m.csv:1: no column "stator" of boards, want columns of name, current ` +
			`(A), cells, ` +
			"mass (g), joined, price, note"},
		{[]string{"--frames", "m.csv"}, `m.csv:1: no column "stator" of frames, want columns of name, wheelbase ` +
			`(mm), ` +
			"largest propeller (in), mass (g), drag area (cm2), price, note"},
		{[]string{"--propellers", "folder"}, "--propellers folder: is a folder, want a CSV of propellers"},
		{[]string{"--packs", os.DevNull}, "--packs " + os.DevNull + ": is no regular file, want a CSV of packs"},
		{[]string{"--motors", "picture.png"}, `picture.png:1: column 1: "\x89PNG" is not UTF-8, want the file ` +
			`saved as CSV ` +
			"in UTF-8"},
		{[]string{"--motors", ""}, "--motors: no path, want a CSV of motors, or none"},
		{[]string{"@empty.flags"}, "empty.flags:1: --motors: no path, want a CSV of motors, or none"},
		{[]string{"--motors", "m.csv,f.csv"}, "--motors m.csv,f.csv: no such file or directory, want a CSV of motors"},
		{[]string{"--motors", "m.csv", "--part", ""}, `--part: "": nothing between two commas or at an end, want ` +
			`a name there`},
		{[]string{"--motors", "m.csv", "--part", "a\nb"}, `--part: "a\nb": holds U+000A, a control character, ` +
			`want plain ` +
			"text on one line"},
		{[]string{"--propellers", "blade.csv"}, `blade.csv: blade file of "Own": --blade gone.csv: no such file or ` +
			"directory, want a CSV of r/R, c/R, beta"},
		{[]string{"--propellers", "stand.csv"}, `stand.csv: stand file of "Own": m.csv:1: columns name,stator,kv; ` +
			`want one ` +
			"named diameter_in"},
		{[]string{"--propellers", "other.csv"}, `other.csv: stand file of "Own": points.csv: no propeller of 6 in ` +
			`and 3 ` +
			"blades, want measurements of it"},
		{[]string{"--motors", "m.csv", "--stator", "2207"}, "--stator beside --motors: each motor has its own, " +
			"want one of " +
			"the two flags, or --motors none"},
		{[]string{"--motors", "m.csv", "--map", "motor,stator"}, "--map motor,stator: each motor of --motors has " +
			"its own " +
			"stator, want a map without it, or --map all"},
		{[]string{"--frames", "f.csv", "--map", "frame,frame"}, `--map: "frame,frame": the same axis twice, want ` +
			`two axes ` +
			"such as diameter,kv"},
		{[]string{"--motors", "m.csv", "--require", "price<=3"}, "--require: price: " + unstated},
		{[]string{"--motors", "m.csv", "--merit", "price:1:300:100"}, "--merit: price: " + unstated},
		{[]string{"--require", "board-current-use<=1"}, "--require: board-current-use: " + unstated},
		{[]string{"--motors", "m.csv", "--require", "motor-cells-use<=1"}, "--require: motor-cells-use: " + unstated},
		{[]string{"--front", "price,hover-time"}, "--front: price: " + unstated},
		{[]string{"--map", "kv,cells:price"}, "--map: price: " + unstated},
		{[]string{"--parts-hash", ""}, `--parts-hash: "": nothing between two commas or at an end, want a hash there`},
		{[]string{"--parts-hash", "boards=ZZ"}, `--parts-hash: "boards=ZZ", want KIND=SHA-256 in 64 hexadecimal ` +
			`digits, ` +
			"KIND one of motors, propellers, packs, frames, boards"},
		{[]string{"--file-hash", "propellers:tip=" + sum[:9]}, `--file-hash: "propellers:tip=000000000", want ` +
			`KEY=SHA-256 ` +
			"in 64 hexadecimal digits, KEY one of rotor-points, measured:1, propellers:blade:NAME, " +
			"propellers:stand:NAME"},
		{[]string{"--file-hash", "propellers:blade:x=" + sum}, "--file-hash propellers:blade:x: there is no " +
			"--propellers, " +
			"want it or no hash of its files"},
		{[]string{"--propellers", "other.csv", "--file-hash", "propellers:stand:Own=" + sum},
			`other.csv: stand file of "Own": --rotor-points points.csv: the file has changed, its SHA-256 is `},
	} {
		status, stderr := failed(t, append([]string{"sweep", "--out", "written"}, c.args...)...)
		if status != exitUnusable || strings.Count(stderr, "\n") != 1 || !strings.HasPrefix(stderr,
			"rotorsieve: "+c.want) {
			t.Errorf("%q: status %d\n got %swant rotorsieve: %s", c.args, status, stderr, c.want)
		}
	}
	if after := files(t); after != before {
		t.Errorf("%d files, before %d", after, before)
	}
}
