package bench

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model/flight"
	"rotorsieve/model/record"
	"rotorsieve/model/table"
)

// Row is one measured state. What is not known, or has no column in the file, is NaN.
type Row struct {
	Line int // in its file

	Throttle float64 // 0..1
	Volts    float64 // loaded, at the controller, V
	Amps     float64 // of the supply, A
	Speed    float64 // rev/s
	Thrust   float64 // N
	Torque   float64 // N m

	// What was measured, as sold.
	Motor, Propeller        string // names, "" for none
	Diameter, Pitch         float64
	Blades                  float64
	StatorWidth, StatorHigh float64 // m
	KV                      float64 // of the label, rpm/V
}

// File is what a stand has written.
type File struct {
	Name  string
	Rows  []Row
	Turns bool // it has a column of the speed; otherwise rows are read by their throttle
}

// Electrical is the power that enters the controller, in W.
func (r *Row) Electrical() float64 { return r.Volts * r.Amps }

// Full says whether the row is of full throttle.
func (r *Row) Full() bool { return r.Throttle >= 0.995 }

// known is a column that Read takes.
type known struct {
	names []string
	what  string // columns of one quantity agree, or one of them is empty
	unit  float64
	to    func(*Row) *float64
}

var columns = []known{
	{[]string{"throttle"}, "throttle", 1, func(r *Row) *float64 { return &r.Throttle }},
	{[]string{"throttle_percent", "throttle (%)"}, "throttle", 0.01, func(r *Row) *float64 { return &r.Throttle }},
	{[]string{"voltage_V", "voltage (V)"}, "voltage", 1, func(r *Row) *float64 { return &r.Volts }},
	{[]string{"current_A", "current (A)"}, "current", 1, func(r *Row) *float64 { return &r.Amps }},
	{[]string{"rpm", "speed_rpm", "speed (rpm)"}, "speed", 1.0 / 60, func(r *Row) *float64 { return &r.Speed }},
	{[]string{"thrust_N", "thrust (N)"}, "thrust", 1, func(r *Row) *float64 { return &r.Thrust }},
	{[]string{"thrust_g", "thrust (g)"}, "thrust", flight.Gravity / 1e3, func(r *Row) *float64 { return &r.Thrust }},
	{[]string{"torque_Nm", "torque (N m)"}, "torque", 1, func(r *Row) *float64 { return &r.Torque }},
	{[]string{"diameter_in"}, "diameter", 0.0254, func(r *Row) *float64 { return &r.Diameter }},
	{[]string{"pitch_in"}, "pitch", 0.0254, func(r *Row) *float64 { return &r.Pitch }},
	{[]string{"blades"}, "blades", 1, func(r *Row) *float64 { return &r.Blades }},
	{[]string{"stator_d_mm"}, "width", 1e-3, func(r *Row) *float64 { return &r.StatorWidth }},
	{[]string{"stator_h_mm"}, "height", 1e-3, func(r *Row) *float64 { return &r.StatorHigh }},
	{[]string{"kv"}, "kv", 1, func(r *Row) *float64 { return &r.KV }},
}

const wantColumns = "want rpm or throttle, voltage_V, current_A and thrust_N or thrust_g"

// Read reads what a stand gives from CSV, one state a row. The header names the
// columns, in any order: rpm, or throttle (0 to 1) or throttle_percent, voltage_V,
// current_A, thrust_N or thrust_g; where there is one, torque_Nm; and of what it was
// measured, where a file has several: motor and propeller (names), diameter_in,
// pitch_in, blades, stator_d_mm, stator_h_mm, kv. The header that rotorsieve stand
// writes is read as well. Where a quantity has two columns they must agree to 2 %. Other
// columns are left alone, lines that start with # are comments, and a field may be empty
// where it is not known. Errors start with name
// and line.
func Read(r io.Reader, name string) (*File, error) {
	in := table.NewReader(r, name, "want as many fields as the header has")
	header, err := in.Next()
	if err == io.EOF {
		return nil, fmt.Errorf("%s:1: no header; %s", name, wantColumns)
	} else if err != nil {
		return nil, err
	}
	line := in.Line()
	at, err := findColumns(header)
	if err != nil {
		return nil, fmt.Errorf("%s:%d: %w", name, line, err)
	}
	has := func(what string) bool {
		return slices.ContainsFunc(at, func(k *known) bool { return k != nil && k.what == what })
	}
	f := &File{Name: name, Turns: has("speed")}
	for _, what := range []string{"voltage", "current", "thrust"} {
		if !has(what) {
			return nil, fmt.Errorf("%s:%d: no column of the %s; %s", name, line, what, wantColumns)
		}
	}
	if !f.Turns && !has("throttle") {
		return nil, fmt.Errorf("%s:%d: no column of the speed or the throttle; %s", name, line, wantColumns)
	}
	for {
		fields, err := in.Next()
		if err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		row := unknownRow()
		row.Line = in.Line()
		if err := row.fill(at, header, fields); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, row.Line, err)
		}
		if row.Throttle > 1.001 {
			return nil, fmt.Errorf("%s:%d: throttle %.4g; want up to 1, or a column throttle_percent", name, row.Line,
				row.Throttle)
		}
		f.Rows = append(f.Rows, row)
	}
	if len(f.Rows) == 0 {
		return nil, fmt.Errorf("%s:%d: no row below the header; want at least one", name, line)
	}
	return f, nil
}

// fill reads the fields of a row.
func (row *Row) fill(at []*known, header, fields []string) error {
	const (
		most  = 1e9 // far beyond any stand
		apart = 0.02
	)
	from := map[*float64]int{}
	for i, k := range at {
		text := strings.TrimSpace(fields[i])
		switch header[i] {
		case "motor":
			row.Motor = text
		case "propeller":
			row.Propeller = text
		}
		if k == nil || text == "" {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		switch {
		case errors.Is(err, strconv.ErrRange), err == nil && math.Abs(v) > most && !math.IsInf(v, 0):
			return fmt.Errorf("%s %.80q is out of range; want at most %g", header[i], text, most)
		case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
			return fmt.Errorf("%s %.80q; want a number", header[i], text)
		}
		to := k.to(row)
		v *= k.unit
		if was, ok := from[to]; ok && math.Abs(v-*to) > apart*math.Abs(*to) {
			return fmt.Errorf("%s of %.80s, but %s of %.80s; want one %s", header[was], strings.TrimSpace(fields[was]),
				header[i],
				text, k.what)
		} else if !ok {
			*to, from[to] = v, i
		}
	}
	return nil
}

// findColumns finds the known columns of a header, and takes the space off all. It errs
// where a name stands twice.
func findColumns(header []string) ([]*known, error) {
	if by := record.Separated(header); by != "" {
		return nil, fmt.Errorf("the columns are separated by %s, want commas", by)
	}
	at := make([]*known, len(header))
	for i, h := range header {
		h = strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))
		header[i] = h
		for k := range columns {
			if c := &columns[k]; slices.Contains(c.names, h) {
				at[i] = c
			}
		}
		if (at[i] != nil || h == "motor" || h == "propeller") && slices.Contains(header[:i], h) {
			return nil, fmt.Errorf("two columns %s; want one", h)
		}
	}
	return at, nil
}

func unknownRow() Row {
	r := Row{}
	for _, c := range columns {
		*c.to(&r) = math.NaN()
	}
	return r
}

// Used are the rows of a file that are of a rig.
type Used struct {
	Rows    []Row
	Of      int // rows in the file
	Others  int // of them of other motors or propellers
	Lacking int // of the rest without a speed, a voltage, a current or a thrust above 0
	Turns   bool
	Name    string
}

// Of takes the rows of a rig: what a row says of stator, KV, diameter, pitch and
// blades must be that of the rig, to 1 %. It errs where there are none.
func (f *File) Of(r *Rig) (*Used, error) {
	u := &Used{Of: len(f.Rows), Turns: f.Turns, Name: f.Name}
	var found []string
	count := map[string]int{}
	for _, row := range f.Rows {
		if !row.of(r) {
			u.Others++
			what := row.what()
			if count[what]++; count[what] == 1 {
				found = append(found, what)
			}
			continue
		}
		drive := row.Speed
		if !f.Turns {
			drive = row.Throttle
		}
		if !(drive > 0 && row.Volts > 0 && row.Amps > 0 && row.Thrust > 0) {
			u.Lacking++
			continue
		}
		u.Rows = append(u.Rows, row)
	}
	if len(u.Rows) > 0 {
		return u, nil
	}
	if u.Lacking > 0 {
		return nil, fmt.Errorf("%s: no row of %s has speed, voltage, current and thrust above 0, want at least one; "+
			"rows "+
			"that lack one: %d", f.Name, r.what(), u.Lacking)
	}
	const most = 8
	more := ""
	if n := len(found); n > most {
		found, more = found[:most], fmt.Sprintf(" and %d more", n-most)
	}
	return nil, fmt.Errorf("%s: no row of %s; it has %s%s", f.Name, r.what(), strings.Join(found, ", "), more)
}

// of says whether a row is of a rig, as far as it says of what it is.
func (row *Row) of(r *Rig) bool {
	s := r.Motor.Stator
	for _, c := range [...][2]float64{
		{row.Diameter, r.Diameter}, {row.Pitch, r.Pitch}, {row.Blades, float64(r.Blades)},
		{row.StatorWidth, s.Diameter}, {row.StatorHigh, s.Height}, {row.KV, r.Motor.KV},
	} {
		if !math.IsNaN(c[0]) && c[1] != 0 && math.Abs(c[0]-c[1]) > 0.01*c[1] {
			return false
		}
	}
	return true
}

// what gives the names of the motor and propeller of a row, as the trade writes them.
func (row *Row) what() string {
	return named(row.StatorWidth, row.StatorHigh, row.KV, row.Diameter, row.Pitch, row.Blades)
}

func (r *Rig) what() string {
	s := r.Motor.Stator
	return named(s.Diameter, s.Height, r.Motor.KV, r.Diameter, r.Pitch, float64(r.Blades))
}

// named is "2205 2400KV with 5x4x3", a question mark for what is not known.
func named(width, height, kv, diameter, pitch, blades float64) string {
	text := func(v, unit float64) string {
		if !(v > 0) {
			return "?"
		}
		return strconv.FormatFloat(math.Round(v/unit*1e6)/1e6, 'g', 6, 64)
	}
	stator := text(width, 1e-3) + "x" + text(height, 1e-3)
	if h := math.Round(height*1e6) / 1e3; h < 10 && h == math.Trunc(h) {
		stator = text(width, 1e-3) + "0" + text(height, 1e-3)
	} else if h == math.Trunc(h) {
		stator = text(width, 1e-3) + text(height, 1e-3)
	}
	return fmt.Sprintf("%s %sKV with %sx%sx%s", stator, text(kv, 1), text(diameter, 0.0254), text(pitch, 0.0254),
		text(blades, 1))
}
