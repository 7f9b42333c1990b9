package record

import (
	"bytes"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
)

const head = "kind,key,quantity,value,unit,sigma\n"

// What is written is read back, and what was read is written as it stood.
func TestGolden(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("testdata/records.csv")
	if err != nil {
		t.Fatal(err)
	}
	all, err := Read(bytes.NewReader(text), "records.csv")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := Write(&out, all); err != nil {
		t.Fatal(err)
	}
	if out.String() != string(text) {
		t.Errorf("written:\n%s\nread:\n%s", &out, text)
	}
	met := map[*Quantity]bool{}
	for _, r := range all {
		met[r.Quantity] = true
	}
	for _, q := range Quantities {
		if !met[q] {
			t.Errorf("no record of %s %s", q.Kind, q.Name)
		}
	}
}

// Values and uncertainties come in SI units, whoever wrote the file.
func TestRead(t *testing.T) {
	t.Parallel()
	five := Subject{Kind: Propeller, Diameter: 0.127, Pitch: 0.1016, Blades: 3}
	for _, c := range []struct {
		what, text string
		want       Record
	}{
		{"byte order mark and CRLF", "\ufeff" + strings.ReplaceAll(head, "\n", "\r\n") + "propeller,5x4x3,CT at " +
			"20000rpm,0.12,,3 %\r\n",
			Record{Subject: five, Quantity: CT, At: Conditions{N: 20000.0 / 60}, Value: 0.12, Sigma: 0.0036, Unit: "1",
				Place: "f:2"}},
		{"comments and blanks", "# a stand\n" + head + "\n# more\n propeller , 5x4x3 , thrust at 20000rpm , 500 , g " +
			", 10 \n",
			Record{Subject: five, Quantity: Thrust, At: Conditions{N: 20000.0 / 60}, Value: 4.903325, Sigma: 0.0980665,
				Unit: "g", Place: "f:5"}},
		{"comment after a byte order mark", "\ufeff# a stand\n" + head + "motor,2207 1750KV,resistance,80,mohm,25%\n",
			Record{Subject: Subject{Kind: Motor, Stator: 2207, KV: 1750}, Quantity: Resistance, Value: 0.08,
				Sigma: 0.02, Unit: "mohm", Place: "f:3"}},
		{"quotes and air", head + `"propeller","5x4x3","shaft-power at 25degC 300m 20000rpm","74","W","5 %"` + "\n",
			Record{Subject: five, Quantity: ShaftPower, At: Conditions{N: 20000.0 / 60, Altitude: 300,
				Temperature: 298.15}, Value: 74, Sigma: 3.7, Unit: "W", Place: "f:2"}},
		{"a stator of a half millimetre", head + "motor,2306.5 2400KV,mass,33,g,0.5\n",
			Record{Subject: Subject{Kind: Motor, Stator: 2306.5, KV: 2400}, Quantity: Mass, Value: 0.033, Sigma: 0.0005,
				Unit: "g", Place: "f:2"}},
		{"an idle current", head + "motor,2207 1750KV,idle-current at 10V,1100,mA,100\n",
			Record{Subject: Subject{Kind: Motor, Stator: 2207, KV: 1750}, Quantity: IdleCurrent,
				At: Conditions{Voltage: 10}, Value: 1.1, Sigma: 0.1, Unit: "mA", Place: "f:2"}},
		{"a chopping loss", head + "motor,2207 1750KV,chopping at 24000Hz,0.8,1,20 %\n",
			Record{Subject: Subject{Kind: Motor, Stator: 2207, KV: 1750}, Quantity: Chopping,
				At: Conditions{PulseRate: 24e3}, Value: 0.8, Sigma: 0.16, Unit: "1", Place: "f:2"}},
		{"a cooled motor", head + "motor,2207 1750KV,cooling at 25degC 12m/s,0.26,W/K,10 %\n",
			Record{Subject: Subject{Kind: Motor, Stator: 2207, KV: 1750}, Quantity: Cooling,
				At: Conditions{Wash: 12, Temperature: 298.15}, Value: 0.26, Sigma: 0.026, Unit: "W/K", Place: "f:2"}},
		{"a frame", head + "frame,5in,mass,92,g,1\n",
			Record{Subject: Subject{Kind: Frame, Diameter: 0.127}, Quantity: FrameMass, Value: 0.092, Sigma: 0.001,
				Unit: "g", Place: "f:2"}},
		{"a pack of the study's grade", head + "pack,4S 1300mAh,resistance,25,mohm,5 %\n",
			Record{Subject: Subject{Kind: Pack, Cells: 4, Capacity: 4680}, Quantity: PackResistance, Value: 0.025,
				Sigma: 0.00125, Unit: "mohm", Place: "f:2"}},
		{"a pack of another", head + "pack,4 1.3Ah long-flight,current-limit,40,A,2\n",
			Record{Subject: Subject{Kind: Pack, Cells: 4, Capacity: 4680, Grade: "long-flight"},
				Quantity: CurrentLimit, Value: 40, Sigma: 2, Unit: "A", Place: "f:2"}},
		{"a craft", head + "craft,5x4x3 2207 1750KV 4S 1300mAh middle 620g,hover-power at 300m,121,W,4\n",
			Record{Subject: Subject{Kind: Craft, Diameter: 0.127, Pitch: 0.1016, Blades: 3, Stator: 2207, KV: 1750,
				Cells: 4, Capacity: 4680, Grade: "middle", AllUp: 0.62}, Quantity: HoverPower,
				At: Conditions{Altitude: 300}, Value: 121, Sigma: 4, Unit: "W", Place: "f:2"}},
	} {
		all, err := Read(strings.NewReader(c.text), "f")
		if err != nil || len(all) != 1 {
			t.Errorf("%s: %d records, error %v", c.what, len(all), err)
			continue
		}
		if math.Abs(all[0].Sigma/c.want.Sigma-1) > 1e-12 || math.Abs(all[0].Value/c.want.Value-1) > 1e-15 {
			t.Errorf("%s: %g ± %g, want %g ± %g", c.what, all[0].Value, all[0].Sigma, c.want.Value, c.want.Sigma)
		}
		all[0].Sigma, all[0].Value = c.want.Sigma, c.want.Value
		if !reflect.DeepEqual(all[0], c.want) {
			t.Errorf("%s: %+v, want %+v", c.what, all[0], c.want)
		}
	}
}

// Bad lines are named with what would be right.
func TestReadErrors(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"", "f:1: no header; want kind,key,quantity,value,unit,sigma"},
		{"# nothing\n", "f:1: no header; want kind,key,quantity,value,unit,sigma"},
		{head, "f: no record below the header; want at least one, such as propeller,5x4x3,CT at 20000rpm,0.12,1,3 %"},
		{"kind;key;quantity;value;unit;sigma\n", "f:1: the columns are separated by semicolons, want commas"},
		{"kind\tkey\tquantity\tvalue\tunit\tsigma\n", "f:1: the columns are separated by tabs, want commas"},
		{"kind,key,value\n", `f:1: header "kind,key,value"; want kind,key,quantity,value,unit,sigma`},
		{head + "propeller,5x4x3,CT at 20000rpm,0.12,1\n", "f:2: 5 fields; want 6: kind,key,quantity,value,unit,sigma"},
		{head + "wing,5x4x3,CT at 20000rpm,0.12,1,3 %\n", `f:2: kind "wing"; want one of propeller, motor, frame, ` +
			`pack, craft`},
		{head + "propeller,5x4,CT at 20000rpm,0.12,1,3 %\n",
			`f:2: key "5x4"; want diameter and pitch in inches and blades, such as 5x4.3x3, or with the chord over ` +
				`the radius, 5x4.3x3 chord 0.16`},
		{head + "propeller,5x4x9,CT at 20000rpm,0.12,1,3 %\n", `f:2: key "5x4x9": 9 blades; want 2 to 8`},
		{head + "propeller,5x14x3,CT at 20000rpm,0.12,1,3 %\n",
			`f:2: key "5x14x3": pitch of 14 in; want 0.1 to 2 diameters`},
		{head + "propeller,50x40x3,CT at 20000rpm,0.12,1,3 %\n",
			`f:2: key "50x40x3": diameter of 50 in; want 0.8 to 39 in`},
		{head + "propeller,5x4x3,CT,0.12,1,3 %\n",
			`f:2: quantity "CT"; want CT at 20000rpm, with the air where it is known: CT at 20000rpm 300m 25degC`},
		{head + "propeller,5x4x3,CT at 20000,0.12,1,3 %\n",
			`f:2: quantity "CT at 20000"; want CT at 20000rpm, with the air where it is known: CT at 20000rpm 300m ` +
				`25degC`},
		{head + "propeller,5x4x3,KV,1750,KV,3 %\n",
			`f:2: quantity "KV" of a propeller; want one of CT, CP, thrust, shaft-power`},
		{head + "propeller,5x4x3,CT at 20000rpm,0.12,g,3 %\n", `f:2: unit "g" of CT; want 1`},
		{head + "propeller,5x4x3,thrust at 20000rpm,0.12,W,3 %\n", `f:2: unit "W" of thrust; want g, kg, N, gf, kgf`},
		{head + "propeller,5x4x3,thrust at 20000rpm,400,,3 %\n", `f:2: unit "" of thrust; want g, kg, N, gf, kgf`},
		{head + "propeller,5x4x3,CT at 20000rpm,-0.12,1,3 %\n", `f:2: value "-0.12"; want a positive number`},
		{head + "propeller,5x4x3,CT at 20000rpm,NaN,1,3 %\n", `f:2: value "NaN"; want a positive number`},
		{head + "propeller,5x4x3,CT at 20000rpm,0.12,1,-1\n",
			`f:2: sigma "-1"; want it at least 0, in the unit of the value or as a per cent of it, such as 3 %`},
		{head + "propeller,5x4x3,CT at 20000rpm,0.12,1,\n",
			`f:2: sigma ""; want it at least 0, in the unit of the value or as a per cent of it, such as 3 %`},
		{head + "propeller,5x4x3,CT at 20000rpm,0.12,1,Inf\n",
			`f:2: sigma "Inf"; want it at least 0, in the unit of the value or as a per cent of it, such as 3 %`},
		{head + "propeller,5x4x3,CT at 20000rpm,0.12,1,3\n",
			"f:2: sigma 3 is larger than the value 0.12; want an uncertainty of at most 100 %"},
		{head + "motor,2207,KV,1750,KV,3 %\n", `f:2: key "2207"; want stator and KV of the label, such as 2207 1750KV`},
		{head + "motor,2207 1750KV,KV at 10V,1750,KV,3 %\n", `f:2: quantity "KV at 10V"; want KV`},
		{head + "motor,2207 1750KV,idle-current,1,A,3 %\n", `f:2: quantity "idle-current"; want idle-current at 10V`},
		{head + "motor,2207 1750KV,chopping,0.8,1,3 %\n", `f:2: quantity "chopping"; want chopping at 24kHz`},
		{head + "motor,2207 1750KV,chopping at 24V,0.8,1,3 %\n",
			`f:2: quantity "chopping at 24V"; want chopping at 24kHz`},
		{head + "motor,2207 1750KV,chopping at 0kHz,0.8,1,3 %\n",
			`f:2: quantity "chopping at 0kHz"; want chopping at 24kHz`},
		{head + "motor,2207 1750KV,resistance,58,V,3 %\n", `f:2: unit "V" of resistance; want ohm, mohm`},
		{head + "motor,2207 1750KV,cooling,0.3,W/K,3 %\n", `f:2: quantity "cooling"; want cooling at 12m/s, with the ` +
			`air where it is known: cooling at 12m/s 300m 25degC`},
		{head + "motor,2207 1750KV,cooling at 12m/s,0.3,W,3 %\n", `f:2: unit "W" of cooling; want W/K, mW/K`},
		{head + "frame,5x4,mass,92,g,1\n",
			`f:2: key "5x4"; want the diameter of the propellers that it is for, such as 5in`},
		{head + "frame,5000,mass,92,g,1\n", `f:2: key "5000": diameter of 5000 in; want 0.8 to 39 in`},
		{head + "frame,5in,weight,92,g,1\n", `f:2: quantity "weight" of a frame; want one of mass`},
		{head + "frame,5in,mass at 10V,92,g,1\n", `f:2: quantity "mass at 10V"; want mass`},
		{head + "frame,5in,mass,92,W,1\n", `f:2: unit "W" of mass; want kg, g, lb, oz`},
		{head + "pack,4S,mass,155,g,1\n", `f:2: key "4S"; want cells in series and capacity, such as 4S 1300mAh, ` +
			`with the grade where it is not the study's, 4S 1300mAh long-flight`},
		{head + "pack,40S 1300mAh,mass,155,g,1\n", `f:2: key "40S 1300mAh": 40 cells in series; want 1 to 14`},
		{head + "pack,4S 1300Ah,mass,155,g,1\n",
			`f:2: key "4S 1300Ah": capacity of 1.3e+06 mAh; want 50 to 50000 mAh`},
		{head + "pack,4S 1300mAh good,mass,155,g,1\n", `f:2: key "4S 1300mAh good": "good" is not a pack grade, want ` +
			`one of high-rate, middle, long-flight, 18650-energy, 18650-power, 21700-energy, 21700-power`},
		{head + "pack,4S 1300mAh 620g,mass,155,g,1\n", `f:2: key "4S 1300mAh 620g"; want cells in series and ` +
			`capacity, such as 4S 1300mAh, with the grade where it is not the study's, 4S 1300mAh long-flight`},
		{head + "craft,5x4.3x3 2207 1750KV 4S 1300mAh,hover-power,121,W,4\n", `f:2: key "5x4.3x3 2207 1750KV 4S ` +
			`1300mAh"; want propeller, motor, pack and all-up weight, such as 5x4.3x3 2207 1750KV 4S 1300mAh 620g`},
		{head + "craft,5x4.3x3 2207 1750KV 4S 1300mAh 620kg,hover-power,121,W,4\n", `f:2: key "5x4.3x3 2207 1750KV ` +
			`4S 1300mAh 620kg": all-up weight of 6.2e+05 g; want 10 g to 50 kg`},
		{head + "craft,5x4.3x9 2207 1750KV 4S 1300mAh 620g,hover-power,121,W,4\n",
			`f:2: key "5x4.3x9 2207 1750KV 4S 1300mAh 620g": 9 blades; want 2 to 8`},
		{head + "craft,5x4.3x3 2207 1750KV 4S 1300mAh 620g,hover-power at,121,W,4\n", `f:2: quantity "hover-power ` +
			`at"; want hover-power, with the air where it is known: hover-power at 300m 25degC`},
		{head + "frame,5in,mass,92,g,1\nframe,127mm,mass,110,g,1\n", "f:3: 5in mass is 110 ± 1 g, but 92 ± 1 g at " +
			"f:2: 13 of their sigmas apart; want at most 5, larger sigmas, or one of the two"},
		{head + "propeller,\"5x4x3,CT at 20000rpm,0.12,1,3 %\n",
			`f:2: extraneous or missing " in quoted-field; want fields that are quoted whole or not at all`},
		{head + "motor,2207 1750KV,KV,1700,KV,10\nmotor,2207 1750KV,KV,1800,KV,10\n",
			"f:3: 2207 1750KV KV is 1800 ± 10 KV, but 1700 ± 10 KV at f:2: 7 of their sigmas apart; want at most 5, " +
				"larger sigmas, or one of the two"},
	} {
		_, err := Read(strings.NewReader(c.text), "f")
		if err == nil || err.Error() != c.want {
			t.Errorf("%q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}

// The same measured twice is fine, and so are other conditions.
func TestRepeated(t *testing.T) {
	t.Parallel()
	all, err := Read(strings.NewReader(head+"motor,2207 1750KV,KV,1700,KV,20\nmotor,2207 1750KV,KV,1740,KV,20\n"+
		"propeller,5x4x3,thrust at 10000rpm,100,g,1 %\npropeller,5x4x3,thrust at 20000rpm,400,g,1 %\n"), "f")
	if err != nil || len(all) != 4 {
		t.Errorf("%d records, error %v", len(all), err)
	}
}

// A record that no file may hold is not written.
func TestWriteErrors(t *testing.T) {
	t.Parallel()
	good := Record{Subject: Subject{Kind: Motor, Stator: 2207, KV: 1750}, Quantity: KV, Value: 1700, Sigma: 10}
	for _, change := range []func(*Record){
		func(r *Record) { r.Quantity = nil },
		func(r *Record) { r.Quantity = CT },
		func(r *Record) { r.Quantity = IdleCurrent },
		func(r *Record) { r.Value = 0 },
		func(r *Record) { r.Value = math.Inf(1) },
		func(r *Record) { r.Sigma = math.NaN() },
		func(r *Record) { r.Sigma = -1 },
		func(r *Record) { r.Subject.KV = 0 },
	} {
		bad := good
		change(&bad)
		if err := Write(new(bytes.Buffer), []Record{bad}); err == nil {
			t.Errorf("written: %+v", bad)
		}
	}
	var out bytes.Buffer
	if err := Write(&out, []Record{good}); err != nil || out.String() != head+"motor,2207 1750KV,KV,1700,KV,10\n" {
		t.Errorf("error %v, written %q", err, &out)
	}
}

// Whatever is read is written so that it is read again to the last bit.
func FuzzRead(f *testing.F) {
	text, err := os.ReadFile("testdata/records.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(text))
	f.Add("\ufeff" + head + "propeller,100mmx2inx3 chord 10%,thrust at 1e4rpm -3degC -30ft,1e-7,kgf,1e-1 %\r\n")
	f.Add(head + "craft,127mmx2inx3 chord 10% 2306.5 2.4e3 6 1.3Ah middle 1lb,hover-power at -3degC,1e-1,kW,1e-1 %\n" +
		"frame,1ft,mass,1,oz,1\npack,6S 4200mAh 21700-power,current-limit,7e4,mA,1\n" +
		"motor,1404 3800,cooling at 20kn 1km,3e2,mW/K,9%\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := Read(strings.NewReader(text), "f")
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "f:") {
				t.Errorf("error %q", err)
			}
			return
		}
		var out bytes.Buffer
		if err := Write(&out, all); err != nil {
			t.Fatal(err)
		}
		again, err := Read(bytes.NewReader(out.Bytes()), "f")
		if err != nil {
			t.Fatalf("%v in\n%s", err, &out)
		}
		for i := range all {
			a, b := all[i], again[i]
			a.Place, b.Place, a.Unit, b.Unit = "", "", "", ""
			if a != b {
				t.Errorf("%+v becomes %+v in\n%s", a, b, &out)
			}
		}
	})
}

// A plan is written with its values empty, read back as far as they are filled in, and refused
// where none is.
func TestPlan(t *testing.T) {
	t.Parallel()
	five := Subject{Kind: Propeller, Diameter: 0.127, Pitch: 0.1016, Blades: 3}
	plan := []Planned{
		{Record{Subject: five, Quantity: Thrust, At: Conditions{N: 250}}, 0.03, "Thrust, on a stand: \n20 N"},
		{Record{Subject: Subject{Kind: Frame, Diameter: 0.127}, Quantity: FrameMass}, 0.01, ""},
	}
	var b bytes.Buffer
	if err := WritePlan(&b, []string{"what to\nmeasure"}, plan); err != nil {
		t.Fatal(err)
	}
	const want = "# what to measure\n" + head + "# Thrust, on a stand:  20 N\npropeller,5x4x3,thrust at 15000rpm,,g,3 %\n" +
		"frame,5in,mass,,g,1 %\n"
	if b.String() != want {
		t.Fatalf("%q, want %q", b.String(), want)
	}
	const none = "f: none of its 2 values is filled in; want at least one"
	if _, _, err := ReadPlan(strings.NewReader(want), "f"); err == nil || err.Error() != none {
		t.Errorf("%v, want %s", err, none)
	}
	filled := strings.Replace(strings.Replace(want, "mass,,", "mass,92,", 1), "# Thrust, on a stand:  20 N",
		`"# Thrust, on a stand:  20 N",,,,,`, 1) // as a spreadsheet saves it
	all, empty, err := ReadPlan(strings.NewReader(filled), "f")
	if err != nil || empty != 1 || len(all) != 1 || all[0].Value != 0.092 || math.Abs(all[0].Sigma-0.00092) > 1e-12 {
		t.Errorf("%+v, %d empty, %v", all, empty, err)
	}
	if _, _, err := ReadPlan(strings.NewReader(head+"frame,five,mass,,g,1 %\n"), "f"); err == nil {
		t.Error("a key that is none is taken where the value is empty")
	}
	plan[0].Subject.Blades = 9
	if err := WritePlan(&b, nil, plan); err == nil {
		t.Error("9 blades are written")
	}
}
