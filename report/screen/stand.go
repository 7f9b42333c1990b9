package screen

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rotorsieve/model/bench"
	"rotorsieve/model/motor"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// standColumn is a number of a state of a stand.
type standColumn struct {
	key    string // of JSON
	name   string // of CSV
	head   string // of the table, where it is shorter
	unit   string
	digits int // of the table's largest number
	need   int // as that of a texts.Column
	of     func(*bench.State) float64
	hot    bool // a temperature of the windings, beyond the hottest of which all stands alike
}

var standColumns = []standColumn{
	{"throttle_percent", "throttle", "throttle", "%", 3, 0, func(s *bench.State) float64 { return 100 * s.Duty },
		false},
	{"voltage_V", "voltage", "voltage", "V", 4, 0, func(s *bench.State) float64 { return s.Voltage }, false},
	{"current_A", "current", "current", "A", 4, 0, func(s *bench.State) float64 { return s.Current }, false},
	{"electrical_power_W", "electrical power", "power", "W", 4, 0,
		func(s *bench.State) float64 { return s.Electrical() }, false},
	{"speed_rpm", "speed", "speed", "rpm", 4, 0, func(s *bench.State) float64 { return 60 * s.Speed }, false},
	{"thrust_N", "thrust", "thrust", "N", 3, 5, func(s *bench.State) float64 { return s.Thrust }, false},
	{"thrust_g", "thrust", "thrust", "g", 3, 0, func(s *bench.State) float64 { return s.Thrust / finding.PerGram },
		false},
	{"torque_Nm", "torque", "torque", "N m", 3, 4, func(s *bench.State) float64 { return s.Torque }, false},
	{"shaft_power_W", "shaft power", "shaft", "W", 3, 3, func(s *bench.State) float64 { return s.Shaft }, false},
	{"efficiency_g_per_W", "efficiency", "thrust", "g/W", 3, 0,
		func(s *bench.State) float64 { return s.PerWatt() / finding.PerGram }, false},
	{"motor_efficiency_percent", "motor efficiency", "motor", "%", 3, 0,
		func(s *bench.State) float64 { return 100 * s.MotorEfficiency() }, false},
	{"duty_percent", "duty", "duty", "%", 3, 6, func(s *bench.State) float64 { return 100 * s.Duty }, false},
	{"tip_mach", "tip Mach", "tip Mach", "", 2, 2, func(s *bench.State) float64 { return s.TipMach }, false},
	{"winding_after_10s_degC", "winding after 10 s", "10 s", "°C", 3, 1,
		func(s *bench.State) float64 { return finding.Celsius.FromSI(s.Soon) }, true},
	{"winding_steady_degC", "winding steady", "steady", "°C", 3, 0,
		func(s *bench.State) float64 { return finding.Celsius.FromSI(s.Rest) }, true},
}

// StandTable prints states aligned, in up to width signs where the words allow it.
func StandTable(w io.Writer, states []bench.State, width int) error {
	var columns []texts.Column
	for _, c := range standColumns {
		columns = append(columns, c.text(states))
	}
	by, out := texts.Column{Head: "bounded by", Left: true}, texts.Column{Head: "outside", Left: true}
	outside := false
	for i := range states {
		by.Cells = append(by.Cells, strings.Join(states[i].By, "; "))
		out.Cells = append(out.Cells, strings.Join(words.StateMarks(states[i].Outside), "; "))
		outside = outside || len(states[i].Outside) > 0
	}
	columns = append(columns, by)
	if outside {
		columns = append(columns, out)
	}
	return printFitted(w, columns, width)
}

// printFitted prints a table, and what was left out of it for want of room.
func printFitted(w io.Writer, columns []texts.Column, width int) error {
	kept, gap, out := texts.Fit(columns, width)
	if err := texts.WriteTable(w, kept, gap); err != nil || len(out) == 0 {
		return err
	}
	for i, o := range out {
		for _, c := range columns {
			if c.Head == o && c.Need > 0 && c.Unit != "" {
				out[i] = finding.Headed(o, c.Unit)
			}
		}
	}
	_, err := fmt.Fprintf(w, "left out at this width: %s\n", strings.Join(out, ", "))
	return err
}

// text is the column in a table: as many decimals as show Digits of its largest
// number.
func (c *standColumn) text(states []bench.State) texts.Column {
	t := texts.Column{Head: c.head, Unit: c.unit, Need: c.need}
	var values []float64
	for i := range states {
		values = append(values, c.of(&states[i]))
	}
	decimals := decimalsFor(values, c.digits)
	for _, v := range values {
		text := strconv.FormatFloat(v, 'f', decimals, 64)
		if c.hot && v >= finding.Celsius.FromSI(motor.Hottest) {
			text = "> " + strconv.FormatFloat(finding.Celsius.FromSI(motor.Hottest), 'f', 0, 64)
		}
		t.Cells = append(t.Cells, text)
	}
	return t
}

// decimalsFor is how many decimals show the largest of some numbers to digits.
func decimalsFor(values []float64, digits int) int {
	most := 0.0
	for _, v := range values {
		most = max(most, math.Abs(v))
	}
	if most == 0 {
		return 0
	}
	return max(0, digits-1-int(math.Floor(math.Log10(most))))
}

// StandCSV writes states in full precision.
func StandCSV(w io.Writer, states []bench.State) error {
	out := csv.NewWriter(w)
	var row []string
	for _, c := range standColumns {
		row = append(row, finding.Headed(c.name, c.unit))
	}
	if err := out.Write(append(row, "bounded by", "outside")); err != nil {
		return err
	}
	for i := range states {
		s := &states[i]
		row = row[:0]
		for _, c := range standColumns {
			row = append(row, strconv.FormatFloat(c.of(s), 'g', 8, 64))
		}
		if err := out.Write(append(row, strings.Join(s.By, "; "), strings.Join(words.StateMarks(s.Outside), "; "+
			""))); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// StandJSON writes states as an array of objects.
func StandJSON(w io.Writer, states []bench.State) error {
	all := make([]finding.Object, 0, len(states))
	for i := range states {
		all = append(all, standObject(&states[i]))
	}
	return finding.WriteJSON(w, all)
}

func standObject(s *bench.State) finding.Object {
	var o finding.Object
	for _, c := range standColumns {
		o = append(o, finding.Member{Name: c.key, Value: c.of(s)})
	}
	return append(o, finding.Member{Name: "bounded_by", Value: finding.List(s.By)},
		finding.Member{Name: "outside", Value: finding.List(words.StateMarks(s.Outside))})
}
