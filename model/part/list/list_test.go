package list

import (
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
)

func is(v float64) part.Stated { return part.Stated{Value: v, Known: true} }

// reader reads a list of one kind, for tests of them all.
type reader func(text string) (any, error)

func any1[T any](read func(io.Reader, string) ([]T, error)) reader {
	return func(text string) (any, error) {
		all, err := read(strings.NewReader(text), "p.csv")
		return all, err
	}
}

var readers = map[string]reader{"motors": any1(Motors), "propellers": any1(Propellers), "packs": any1(Packs),
	"frames": any1(Frames), "boards": any1(Boards)}

// What is written is read, in any unit and form of header, and what is not states nothing.
func TestRead(t *testing.T) {
	t.Parallel()
	gale := part.Motor{Name: "Gale, long", Stator: motor.Stator{Diameter: 0.022, Height: 0.007}, KV: 1750,
		Mass: is(0.0335), Resistance: is(0.058), IdleCurrent: is(0.9), IdleVoltage: is(10), Current: is(38),
		Burst: is(60), MostCells: is(6), Price: is(21.5)}
	bare := part.Motor{Name: "Lull", Stator: motor.Stator{Diameter: 0.014, Height: 0.0045}, KV: 4500}
	grade, err := pack.ParseGrade("middle")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		kind, text string
		want       any
	}{
		{"motors", "name,stator,kv,mass (g),resistance (mohm),idle current (A),idle voltage (V),current (A),burst time (s)," +
			"most cells,price\n\"Gale, long\",2207,1750,33.5,58,0.9,10,38,60,6S,21.50\nLull,1404.5,4500KV,,,,,,,,\n",
			[]part.Motor{gale, bare}},
		{"motors", "\ufeff# mine\r\nNAME;,price\r\n", nil},
		{"motors", "\ufeffprice,Most_Cells,burst_time_min,current_A,idle_voltage_V,idle_current_mA,resistance_ohm,mass_kg," +
			"KV (rpm/V),Stator,Name,,note\r\n21.5,6,1,38,10,900,0.058,0.0335,1750,2207,\"Gale, long\",,a = b\r\n" +
			",,,,,,,,,,,,\r\n,,,,,,,,4500,1404.5,Lull,,\r\n", []part.Motor{gale, bare}},
		{"motors", "name,stator,kv,mass (g)\nGale,2207,1750,0.0335kg\n",
			[]part.Motor{{Name: "Gale", Stator: gale.Stator, KV: 1750, Mass: is(0.0335)}}},
		{"propellers", "name,diameter (mm),pitch (in),blades,mass (g),chord,blade file,stand file,max rpm,price\n" +
			"Reed 5,127,4.3,3,4.1,,reed.csv,stand/reed.csv,30000,2.9\nPlain,127,4.3,2,,0.2,,,,\n", []part.Propeller{
			{Name: "Reed 5", Diameter: 0.127, Pitch: 0.10922, Blades: 3, Mass: is(0.0041),
				Blade: "reed.csv", Stand: "stand/reed.csv", Turns: is(500), Price: is(2.9)},
			{Name: "Plain", Diameter: 0.127, Pitch: 0.10922, Blades: 2, Chord: is(0.2)}}},
		{"packs", "name,cells,capacity (mAh),mass (g),resistance (mohm),current (A),burst current (A),grade,price\n" +
			"Fen,4S,1300,152,24,45,90,middle,25\nRush,4,1300,,,,,,\n", []part.Pack{
			{Name: "Fen", Cells: 4, Capacity: 4680, Grade: grade, Mass: is(0.152), Resistance: is(0.024),
				Current: is(45), Burst: is(90), Price: is(25)},
			{Name: "Rush", Cells: 4, Capacity: 4680}}},
		{"packs", "burst rate (C),rate_C,name,cells,capacity_Ah\n100,50C,Fen,4,1.3\n", []part.Pack{
			{Name: "Fen", Cells: 4, Capacity: 4680, Current: is(65), Burst: is(130)}}},
		{"frames", "name,wheelbase (mm),largest propeller (in),mass (g),drag area (cm2),price\nKite,220,5.1,96,90,49\n",
			[]part.Frame{{Name: "Kite", Wheelbase: 0.22, Largest: 0.12954, Mass: is(0.096), Area: is(0.009),
				Price: is(49)}}},
		{"boards", "name,current (A),cells,mass (g),joined,price\nSill,45,6S,14,no,39\nLedge,20,4,8,yes,\n", []part.Board{
			{Name: "Sill", Current: 45, Cells: 6, Mass: is(0.014), Price: is(39)},
			{Name: "Ledge", Current: 20, Cells: 4, Mass: is(0.008), Joined: true}}},
	} {
		got, err := readers[c.kind](c.text)
		if c.want == nil {
			if err == nil {
				t.Errorf("%s: %q is read", c.kind, c.text)
			}
			continue
		}
		if err != nil || !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v\n got %+v\nwant %+v", c.kind, err, got, c.want)
		}
	}
}

// A list has as many parts as a shop, and no more.
func TestManyParts(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("name,current (A),cells\n")
	for i := range MaxParts {
		fmt.Fprintf(&b, "Sill %d,45,6\n", i)
	}
	if all, err := Boards(strings.NewReader(b.String()), "p.csv"); err != nil || len(all) != MaxParts {
		t.Fatalf("%d boards, %v", len(all), err)
	}
	b.WriteString("Sill,45,6\n")
	_, err := Boards(strings.NewReader(b.String()), "p.csv")
	if want := "p.csv:10002: more than 10000 boards, want fewer in a file"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// Every column is told of, once, and can be written as it is told.
func TestColumns(t *testing.T) {
	t.Parallel()
	for _, k := range Kinds() {
		var heads []string
		for _, c := range k.Columns {
			if c.Meaning == "" {
				t.Errorf("%s: column %s means nothing", k.Many, c.Header)
			}
			heads = append(heads, c.Header)
		}
		_, err := readers[k.Many](strings.Join(heads, ",") + "\n")
		if want := "p.csv: no " + k.One + " below the header, want at least one"; err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// Whatever stands in a list, it is refused in one short line that names it, or its parts are
// such as the model takes.
func FuzzLists(f *testing.F) {
	for kind, base := range bases {
		at := byte(slices.IndexFunc(Kinds(), func(k About) bool { return k.Many == kind }))
		f.Add(at, strings.Join(base[0], ",")+"\n"+strings.Join(base[1], ",")+"\n")
	}
	f.Add(byte(0), "\ufeffname,stator,kv\r\n\"a \"\"b\"\"\",2207,1750\r\n")
	f.Add(byte(1), "name;diameter (in)\n")
	f.Add(byte(2), "name,cells,capacity_mAh,rate_C\nx,4S,1300,1e400\n")
	f.Add(byte(3), "\xff\xfen\x00a\x00")
	f.Add(byte(4), "name,current (A),cells,joined\n=1+1,45,6,yes\n")
	kinds := Kinds()
	f.Fuzz(func(t *testing.T, at byte, text string) {
		kind := kinds[int(at)%len(kinds)].Many
		all, err := readers[kind](text)
		if err != nil {
			if line := err.Error(); !strings.HasPrefix(line, "p.csv:") || strings.ContainsAny(line, "\n\r") || len(line) > 1200 {
				t.Fatalf("%s %q: %q", kind, text, line)
			}
			return
		}
		if n := reflect.ValueOf(all).Len(); n < 1 || n > MaxParts {
			t.Fatalf("%s %q: %d parts", kind, text, n)
		}
	})
}
