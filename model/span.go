package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
)

// Span bounds all crafts of one payload that have the same propellers and motors and a pack
// between two of pack.Grow: what is true of the crafts at its corners, either pack at either
// mass, with a margin. Between the packs full throttle at rest turns faster the lower the
// resistance, and mass grows; the controller is the same. See DEVELOPERS.md.
//
// A Span is for one caller at a time.
type Span struct {
	crafts   [8]Craft         // by larger, heavier and faster
	corners  int              // 4 of one motor, 8 of two
	extent   float64          // mass of the heaviest over that of the lightest, less 1
	longer   float64          // capacity of the larger pack over that of the smaller, less 1
	quicker  float64          // KV of the faster motor over that of the slower, less 1
	hovers   [2]*flight.Point // of the craft at either end; nil where it is not known
	endured  bool
	easy     bool // at both ends hover keeps off the voltage floor
	foreseen bool
}

// Corners of a span; corner 0 is the smaller pack at the lesser mass.
const (
	larger  = 1
	heavier = 2
	faster  = 4
)

// LongestMotors is the furthest that the KVs of a span may be apart, over the lower one.
const LongestMotors = 0.2

// Spans says whether the model has spans. Arms that are sized for the craft are made stiffer
// where they would resonate, so that mass may fall under a heavier pack.
func (m *Model) Spans() bool { return m.Assume.FrameBuild == frame.ByRegression }

// SpansMotors says whether spans may go from motor to motor: as long as none was measured, they follow smoothly from
// their KV.
func (m *Model) SpansMotors() bool {
	e := m.Assume.Evidence
	return m.Spans() && m.variation == nil && (e == nil || len(e.motors) == 0)
}

// Joins says whether crafts of powertrains between two, the second with the larger pack, can
// be bounded: both reach full throttle, and with the same controller.
func (s *Span) Joins(lo, hi *Powertrain) bool {
	return lo.Full.OK && hi.Full.OK && lo.Drive.OneRating(&lo.Full, &hi.Full)
}

// JoinsMotors says whether crafts of the powertrains between two of a motor and two of another, of the same stator and
// wound for more turns a volt, all built as the generic motors of the model, can be bounded, with the same packs. The
// peak current rises with both, so that the controller is the same. Speed at full throttle rises with the turns a
// volt until what the pack leaves behind the controller is half of its rested voltage, and falls beyond: all are to be
// on this side.
func (s *Span) JoinsMotors(lo, hi, fastLo, fastHi *Powertrain) bool {
	for _, t := range [...]*Powertrain{lo, hi, fastLo, fastHi} {
		f := &t.Full
		if !f.OK || !(f.PackVoltage-f.Controller.Series()*f.Current > leastLoaded*t.Drive.RestedTop) {
			return false
		}
	}
	a, b := &lo.Drive.Motor, &fastHi.Drive.Motor
	return a.Mass == b.Mass && b.Kt <= a.Kt && a.Kt/b.Kt-1 <= LongestMotors &&
		lo.Drive.OneRating(&lo.Full, &fastHi.Full)
}

// leastLoaded is the part of the pack's rested voltage that is to be left behind the controller at full throttle, 0.5
// by what JoinsMotors says, and a margin.
const leastLoaded = 0.6

// LoadMotors is Load of powertrains that JoinsMotors joins.
func (s *Span) LoadMotors(m *Model, lo, hi, fastLo, fastHi *Powertrain, payload float64) (lightest, heaviest float64) {
	lightest, heaviest = s.Load(m, lo, hi, payload)
	for k := faster; k < len(s.crafts); k++ {
		t := fastLo
		if k&larger != 0 {
			t = fastHi
		}
		c := &s.crafts[k]
		c.Load(m, t, payload)
		c.Mass = s.crafts[k&^faster].Mass
	}
	s.corners = len(s.crafts)
	s.quicker = lo.Drive.Motor.Kt/fastLo.Drive.Motor.Kt - 1
	return lightest, heaviest
}

// Load puts a payload in kg on powertrains that the span joins, and gives the mass in kg of
// the lightest craft and of the heaviest; only these are known after it.
func (s *Span) Load(m *Model, lo, hi *Powertrain, payload float64) (lightest, heaviest float64) {
	lightest, heaviest = lo.AUW(payload), hi.AUW(payload)
	s.corners, s.quicker = faster, 0
	for k := range s.crafts[:faster] {
		c := &s.crafts[k]
		t, mass := lo, lightest
		if k&larger != 0 {
			t = hi
		}
		if k&heavier != 0 {
			mass = heaviest
		}
		c.Load(m, t, payload)
		c.Mass = mass
	}
	s.extent = heaviest/lightest - 1
	s.longer = hi.Drive.Pack.Capacity/lo.Drive.Pack.Capacity - 1
	s.endured, s.foreseen = false, false
	s.hovers = [2]*flight.Point{}
	return lightest, heaviest
}

// Limit puts the crafts into a class of a limit in kg.
func (s *Span) Limit(limit float64) {
	for k := range s.crafts[:s.corners] {
		s.crafts[k].Limit = limit
	}
}

// Hovers gives it hover of the crafts of the powertrains that it joins, with its payload, where that has
// been found: Operate then takes less time. They must not change as long as it may be called.
func (s *Span) Hovers(lo, hi *flight.Point) { s.hovers = [2]*flight.Point{lo, hi} }

// Operate finds hover. All crafts have an operating point, or none has, or neither is known.
func (s *Span) Operate() (all, none bool) {
	all, none = s.operate(0)
	if s.corners > faster && (all || none) {
		a, n := s.operate(faster) // the faster motor needs less of the voltage
		// Where the voltage floor comes into reach duty and times bend sharply.
		all, none = all && a && s.atEase(), none && n
	}
	return all, none
}

// operate is Operate of the crafts of the motor whose corners begin at one.
func (s *Span) operate(from int) (all, none bool) {
	c := s.crafts[from:][:faster]
	margin := 1e-9 + spanMotor*s.quicker*s.quicker // of a duty
	if known := s.hovers; from == 0 && known[0] != nil {
		c[0].hoverKnown(known[0])
		c[larger|heavier].hoverKnown(known[1])
	} else {
		c[0].Operate()
		c[larger|heavier].Operate()
	}
	if !c[larger].operateAs(&c[0].Hover) { // no other hovers more easily
		return false, c[larger].Hover.Duty > 1+margin
	}
	if !c[heavier].operateAs(&c[larger|heavier].Hover) { // nor any less so than this
		return false, false
	}
	return c[0].Hover.OK && c[larger|heavier].Hover.OK && c[heavier].Hover.Duty < 1-margin, false
}

// hoverKnown is Operate where hover is known.
func (c *Craft) hoverKnown(h *flight.Point) {
	c.weigh()
	c.Hover = *h
}

// operateAs is Operate where hover is known of a craft of the same mass and propellers.
func (c *Craft) operateAs(of *flight.Point) bool {
	t := c.Powertrain
	if !t.Full.OK {
		return false
	}
	c.weigh()
	t.Drive.HoverAs(&c.Hover, of, t.Full.Controller)
	return c.Hover.OK
}

// Endure integrates hover over the discharge of the packs; once is enough.
func (s *Span) Endure() {
	for k := 0; k < s.corners && !s.endured; k++ {
		s.crafts[k].Endure()
	}
	s.easy = s.atEase()
	s.endured = true
}

// atEase says whether hover keeps off the voltage floor at both ends.
func (s *Span) atEase() bool {
	easy := func(c *Craft) bool { return c.Powertrain.Drive.Pack.Easy(c.Hover.Power) }
	for k := 0; k < s.corners; k += faster {
		if !easy(&s.crafts[k]) || !easy(&s.crafts[k|larger|heavier]) {
			return false
		}
	}
	return true
}

// Foresee bounds level flight as Craft.Foresee does; once is enough.
func (s *Span) Foresee(r *Reach) {
	if s.foreseen {
		return
	}
	s.foreseen = true
	for k := range s.crafts[:s.corners] {
		s.crafts[k].foreseen = unknown
	}
	if s.extent > reachStep || s.corners > faster {
		return // a craft much heavier may be a little faster; of another motor nothing is known
	}
	row := r.row(&s.crafts[larger]) // it bounds them all
	if !row.ok {
		return
	}
	for k := range s.crafts[:s.corners] {
		c := &s.crafts[k]
		c.foreseen.own(row, c)
		r.ask(row, c)
	}
}

// The margin of a span's bounds: parts of the difference between its corners, of the value
// times the square of the extent in mass, by which a curve may bulge between them, and of
// the value, for rounding and for tables. Chosen from measurements, see DEVELOPERS.md.
const (
	spanPart  = 0.02
	spanCurve = 0.5
	spanEdge  = 2e-6
)

// spanMotor is the part of a value times the square of the extent in KV by which it may be outside its values at
// the corners of a span of two motors: most are highest or lowest at some KV. Chosen from measurements, see
// DEVELOPERS.md.
const spanMotor = 3

// What a metric that is Even may be off the line between its ends, over its value and the
// square of the extent of the capacity; the longest such extent. Chosen from measurements, see
// DEVELOPERS.md.
const (
	chordBulge  = 1.5
	longestSpan = 0.2
)

// Chord gives a metric that is Even, or its bound AtBest, at both ends of the span, the craft
// of the smaller pack and that of the larger, each at its own mass. One between, whose capacity
// is a part of the way, is no further than off from the line. It is false where nothing is known, as
// where one has none.
func (s *Span) Chord(m *Metric) (lo, hi, off float64, ok bool) {
	a, b := &s.crafts[0], &s.crafts[larger|heavier]
	of := m.Foreseen()
	if !m.Even || of == nil || !(s.longer <= longestSpan) || s.corners > faster {
		return 0, 0, 0, false
	}
	// Endurance has an edge where the voltage floor comes into reach.
	if m.Stage >= StageEndure && !s.easy || a.Powertrain.yields() {
		return 0, 0, 0, false
	}
	if m.start != nil {
		m.start(a)
		m.start(b)
	}
	lo, hi = of(a), of(b)
	most := max(math.Abs(lo), math.Abs(hi))
	off = (spanEdge + chordBulge*s.longer*s.longer) * most
	return lo, hi, off, lo*hi > 0 && !math.IsInf(most, 0)
}

// bulge is the part of a value by which it may be outside its values at the corners.
func (s *Span) bulge() float64 { return spanEdge + spanCurve*s.extent*s.extent }

// between is the part of a value by which it may be outside its values at the corners for the motors between two.
func (s *Span) between() float64 { return spanMotor * s.quicker * s.quicker }

// ends gives the least and the greatest value at the corners, with the margin: -Inf and +Inf
// where one has no value. What depends on no payload is the same at both masses.
func (s *Span) ends(m *Metric, of func(*Craft) float64) (least, most float64) {
	start := m.start
	least, most = math.Inf(1), math.Inf(-1)
	for k := range s.crafts[:s.corners] {
		if m.Bare && k&heavier != 0 {
			continue
		}
		c := &s.crafts[k]
		var lo, hi float64
		if m.warmer != nil { // near its end such a time changes fast with the temperature it starts from
			c.Heat()
			by := (s.bulge() + s.between()) * c.steady()
			lo, hi = m.warmer(c, by), m.warmer(c, -by)
		} else {
			if start != nil {
				start(c)
			}
			lo = of(c)
			hi = lo
		}
		if math.IsNaN(lo) || math.IsNaN(hi) {
			return math.Inf(-1), math.Inf(1)
		}
		least, most = min(least, lo), max(most, hi)
	}
	if m.Rises || least == most && (s.corners == faster || m.Most == 0) {
		return least, most
	}
	size := max(math.Abs(least), math.Abs(most))
	margin := spanPart*(most-least) + s.bulge()*size
	if s.corners > faster { // a share of a charge follows a voltage steeply, however small it is
		margin += s.between() * max(size, m.Most)
	}
	return least - margin, most + margin
}

// Range bounds a metric that is Known, of crafts that have come to its stage.
func (s *Span) Range(m *Metric) (least, most float64) { return s.ends(m, m.of) }

// AtBest is as Metric.AtBest for all crafts, which have been foreseen where the metric is of
// their flight. Of a slow metric nothing is known: with little thrust to spare response is
// fastest somewhere between the corners.
func (s *Span) AtBest(m *Metric) float64 {
	least, most := math.Inf(-1), math.Inf(1)
	if m.atBest != nil && !m.Slow {
		least, most = s.ends(m, m.atBest)
	}
	return m.better(most, least)
}

// AtWorst is as Metric.AtWorst for all crafts; nothing known is infinite, too.
func (s *Span) AtWorst(m *Metric) float64 {
	least, most := math.Inf(-1), math.Inf(1)
	if m.atWorst != nil {
		least, most = s.ends(m, m.atWorst)
	}
	return m.better(least, most)
}

// better picks what is for a metric that is better higher, or for one that is better lower.
func (m *Metric) better(higher, lower float64) float64 {
	switch m.Better {
	case Higher:
		return higher
	case Lower:
		return lower
	}
	return math.NaN()
}
