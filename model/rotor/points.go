package rotor

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rotorsieve/model/air"
	"rotorsieve/model/record"
	"rotorsieve/model/table"
)

// Specimen is a measured propeller.
type Specimen struct {
	Diameter, Pitch float64 // m, as sold
	Blades          int
	Chord           float64 // over the radius, at 75 % radius; 0 where unknown
	Air             air.Air // that it was measured in
	Points          []Measurement
	Place           string // file:line of its first measurement
}

// Measurement is one operating point of a specimen.
type Measurement struct {
	J      float64 // 0 at rest
	N      float64 // rev/s
	Thrust float64 // N
	Power  float64 // W, at the shaft

	ThrustSigma, PowerSigma, Lift float64 // as of a StaticPoint

	Place string // file:line; "" where it was not read
}

// StandSpread is the uncertainty of a thrust or power of a usual stand over its
// value, one standard deviation.
const StandSpread = measureSpread

// Static returns the measurements at rest, which Calibrate takes.
func (s *Specimen) Static() []StaticPoint {
	var out []StaticPoint
	for _, m := range s.Points {
		if m.J == 0 {
			out = append(out, StaticPoint{N: m.N, Thrust: m.Thrust, Power: m.Power, ThrustSigma: m.ThrustSigma,
				PowerSigma: m.PowerSigma, Lift: m.Lift})
		}
	}
	return out
}

// Coefficients returns CT and CP of a measurement.
func (s *Specimen) Coefficients(m Measurement) (CT, CP float64) {
	q := s.Air.Density * m.N * m.N * math.Pow(s.Diameter, 4)
	return m.Thrust / q, m.Power / (q * m.N * s.Diameter)
}

// fieldKind is a column that ReadPoints knows.
type fieldKind struct {
	name string
	what string  // columns of one quantity exclude each other
	unit float64 // factor to SI units
	need bool    // otherwise the column may be left out, and a field empty
}

var fieldKinds = []fieldKind{
	{"diameter_in", "diameter", 0.0254, true},
	{"pitch_in", "pitch", 0.0254, true},
	{"blades", "blades", 1, true},
	{"rpm", "speed", 1.0 / 60, true},
	{"thrust_N", "thrust", 1, true},
	{"thrust_g", "thrust", 9.80665e-3, true},
	{"power_W", "load", 1, true},
	{"torque_Nm", "load", 2 * math.Pi, true}, // times rev/s
	{"chord", "chord", 1, false},
	{"J", "advance", 1, false},
	{"altitude_m", "altitude", 1, false},
	{"temperature_degC", "temperature", 1, false},
}

// ReadPoints reads measurements of propellers from CSV, one a row. The header
// names the columns, in any order: diameter_in, pitch_in and blades of the
// propeller; rpm; thrust_N or thrust_g (grams-force); and power_W (at the shaft)
// or torque_Nm. Optional are chord (over the radius, at 75 % radius), J
// (advance ratio V/(n D); none is rest), altitude_m and temperature_degC of the
// air (sea level and the standard atmosphere's by default). Other columns are
// left alone unless they start like one of these, and lines that start with # are
// comments.
//
// Rows of the same diameter, pitch, blades and chord are one specimen, in one
// air, and do not contradict each other; see Specimen.Contradiction. Errors start with name and line.
func ReadPoints(r io.Reader, name string) ([]Specimen, error) {
	in := table.NewReader(r, name, "want as many fields as the header has")
	header, err := in.Next()
	if err == io.EOF {
		return nil, fmt.Errorf("%s:1: no header; want diameter_in,pitch_in,blades,rpm,thrust_N,power_W", name)
	} else if err != nil {
		return nil, err
	}
	line := in.Line()
	fields, err := findColumns(header)
	if err != nil {
		return nil, fmt.Errorf("%s:%d: %w", name, line, err)
	}
	var all []Specimen
	for {
		row, err := in.Next()
		if err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		line = in.Line()
		s, err := fields.specimen(row)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		s.Place = fmt.Sprintf("%s:%d", name, line)
		s.Points[0].Place = s.Place
		if all, err = gather(all, s); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
	}
	for i := range all {
		if err := all[i].Contradiction(); err != nil {
			return nil, err
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s:%d: no measurement below the header; want at least one", name, line)
	}
	return all, nil
}

// placed is where the known columns stand in a row.
type placed map[int]fieldKind

// findColumns finds the known columns in a header.
func findColumns(header []string) (placed, error) {
	if by := record.Separated(header); by != "" {
		return nil, fmt.Errorf("the columns are separated by %s, want commas", by)
	}
	at := placed{}
	of := map[string]string{} // the column that gives a quantity
	for i, h := range header {
		h = strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))
		for _, c := range fieldKinds {
			if c.name != h {
				continue
			}
			if other, twice := of[c.what]; twice {
				return nil, fmt.Errorf("columns %s and %s; want one of them", other, h)
			}
			of[c.what] = h
			at[i] = c
		}
		if _, known := at[i]; known {
			continue
		}
		for _, c := range fieldKinds { // a slip would lose the column in silence
			if start := c.name[:min(4, len(c.name))]; len(h) >= len(start) && strings.EqualFold(h[:len(start)],
				start) && (len(start) > 1 || len(h) == 1) {
				return nil, fmt.Errorf("column %.80s; want %s, or a remark under a name that starts otherwise", h,
					namesOf(c.what))
			}
		}
	}
	for _, c := range fieldKinds {
		if _, ok := of[c.what]; !ok && c.need {
			return nil, fmt.Errorf("columns %.200s; want one named %s", strings.Join(header, ","), namesOf(c.what))
		}
	}
	return at, nil
}

// namesOf lists the columns that may give a quantity.
func namesOf(what string) string {
	var names []string
	for _, c := range fieldKinds {
		if c.what == what {
			names = append(names, c.name)
		}
	}
	return strings.Join(names, " or ")
}

// specimen reads a row as a specimen of one measurement.
func (at placed) specimen(row []string) (Specimen, error) {
	value := map[string]float64{"temperature": math.NaN()}
	from := map[string]string{} // for errors: name and text
	torque := false
	for i, text := range row {
		c, ok := at[i]
		text = strings.TrimSpace(text)
		if !ok || text == "" && !c.need {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(math.Abs(v) <= 1e9) { // far beyond any bench
			return Specimen{}, fmt.Errorf("%s %.80q; want a number", c.name, text)
		}
		value[c.what] = v * c.unit
		from[c.what] = fmt.Sprintf("%s %.80q", c.name, text)
		torque = torque || c.name == "torque_Nm"
	}
	m := Measurement{J: value["advance"], N: value["speed"], Thrust: value["thrust"], Power: value["load"]}
	if torque {
		m.Power *= m.N
	}
	for _, c := range fieldKinds {
		measured := c.what == "thrust" || c.what == "load" // in the wind of either sign
		if v := value[c.what]; c.need && !(v > 0) && !(measured && m.J > 0) {
			return Specimen{}, fmt.Errorf("%s; want a positive number", from[c.what])
		}
	}
	switch B := value["blades"]; {
	case B != math.Trunc(B):
		return Specimen{}, fmt.Errorf("%s; want a whole number", from["blades"])
	case m.J < 0:
		return Specimen{}, fmt.Errorf("%s; want 0 or more", from["advance"])
	case value["chord"] < 0:
		return Specimen{}, fmt.Errorf("%s; want it above 0, or empty where unknown", from["chord"])
	}
	a, err := air.Standard(value["altitude"])
	if T := value["temperature"]; err == nil && !math.IsNaN(T) {
		a, err = air.At(value["altitude"], T+273.15)
	}
	if err != nil {
		return Specimen{}, err
	}
	return Specimen{
		Diameter: value["diameter"], Pitch: value["pitch"], Blades: int(value["blades"]), Chord: value["chord"],
		Air: a, Points: []Measurement{m},
	}, nil
}

// maxSpecimens bounds the time that sorting rows by propeller takes.
const maxSpecimens = 1000

// gather adds the measurement of s to the specimen it belongs to.
func gather(all []Specimen, s Specimen) ([]Specimen, error) {
	for i := range all {
		o := &all[i]
		if o.Diameter != s.Diameter || o.Pitch != s.Pitch || o.Blades != s.Blades || o.Chord != s.Chord {
			continue
		}
		if o.Air != s.Air {
			return nil, fmt.Errorf("altitude or temperature differs from line %s, of the same propeller; want one "+
				"air for each propeller",
				o.Place[strings.LastIndex(o.Place, ":")+1:])
		}
		o.Points = append(o.Points, s.Points...)
		return all, nil
	}
	if len(all) == maxSpecimens {
		return nil, fmt.Errorf("more than %d propellers; want fewer, or a file for each", maxSpecimens)
	}
	return append(all, s), nil
}
