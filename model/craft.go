package model

import (
	"math"
	"sync"

	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// gravity is the standard acceleration of free fall in m/s2.
const gravity = flight.Gravity

const rotors = frame.Rotors

// Airframe is all of a craft that follows from the size of its propellers.
type Airframe struct {
	Diameter  float64 // m
	Disc      float64 // area of all discs, m2
	Wheelbase float64 // m
	Blades    float64 // mass of all propellers, kg
	Frame     float64 // mass, kg; without the arms where they are sized for the craft
	Hardware  float64 // mass, kg
	Board     motor.Board

	Parts Parts // that exist: of propellers, frame and board

	clearance float64 // between neighbouring discs, in diameters

	by    *Parameters
	least float64 // mass of the smallest controller and its wiring, kg
}

// Airframe sizes frame and propellers; diameter in m.
func (m *Model) Airframe(diameter float64, blades int) Airframe {
	return m.AirframeOf(diameter, blades, &Parts{})
}

// AirframeOf is Airframe with the propellers, the frame and the board of some parts, where
// there are any.
func (m *Model) AirframeOf(diameter float64, blades int, of *Parts) Airframe {
	a, by := &m.Assume, &m.parameters
	f := Airframe{
		Diameter:  diameter,
		Disc:      rotors * math.Pi / 4 * diameter * diameter,
		Wheelbase: frame.Wheelbase(diameter, a.Clearance),
		Blades:    rotors * by.Frame.PropellerMass(diameter, blades),
		Frame:     m.frameMass(diameter),
		Hardware:  by.Frame.HardwareMass(diameter),
		Board:     a.Board,
		clearance: a.Clearance,
		Parts:     Parts{Propeller: of.Propeller, Frame: of.Frame, Board: of.Board},
		by:        by,
	}
	own := 1.0
	if v := m.variation; v != nil {
		own = v.factor(propellerMass, v.shared.propeller(diameter, blades))
		f.Blades *= own
	}
	m.state(&f, own)
	f.least = f.electrical(f.controller())
	return f
}

// Propeller is all of a craft that depends on its propellers alone.
type Propeller struct {
	Airframe
	Geometry rotor.Geometry
	flight.Propulsor
	Fit Fit // by measurements

	lightest float64 // craft that its flight is traced for, kg
	solver   *rotor.Solver

	// Built when they are first asked for.
	envelope func() *flight.Envelope
	bodies   func() *flight.Envelopes
	scaled   *flight.Envelope // what envelope has built of a propeller in a draw
	errs     func() *bladeErrors
}

// Propeller builds the performance table of a propeller (milliseconds, less where the Store has
// it) and what follows from its size. Diameter and pitch in m, chord as in Design. The
// propeller is corrected by Assumptions.Evidence.
func (m *Model) Propeller(diameter, pitch float64, blades int, chord float64) (*Propeller, error) {
	blade, err := m.parameters.Rotor.Generic(diameter, pitch, blades, chord)
	if err != nil {
		return nil, err
	}
	f := m.Assume.Evidence.Propeller(diameter, pitch, blades, chord)
	p, err := m.PropellerOf(rotor.Geometry{Diameter: diameter, Blades: blades, Blade: blade, Correction: f.Correction})
	if err != nil {
		return nil, err
	}
	p.Fit = f
	p.errs = sync.OnceValue(func() *bladeErrors { return m.bladeErrors(p, pitch, chord) })
	return p, nil
}

// PropellerOf is Propeller for a blade of stated geometry.
func (m *Model) PropellerOf(g rotor.Geometry) (*Propeller, error) {
	s, err := rotor.New(g, m.Air)
	if err != nil {
		return nil, err
	}
	installed := m.installed(m.Assume.Clearance)
	k := m.solvedOf(s, installed)
	propulsor, err := k.propulsor(s, installed)
	if err != nil {
		return nil, err
	}
	a := &m.Assume
	p := &Propeller{Airframe: m.Airframe(g.Diameter, g.Blades), Geometry: g, Propulsor: propulsor, solver: s}
	p.lightest = p.LeastAUW(a.Avionics+p.Frame+p.Blades+p.Hardware, 0) // of any motor and pack
	m.trace(p, k)
	p.errs = sync.OnceValue(func() *bladeErrors { return m.bladeErrors(p, statedPitch(&g), 0) })
	return p, nil
}

// Motor gives the motor of a stator and a KV in rpm/V, corrected by
// Assumptions.Evidence.
func (m *Model) Motor(s motor.Stator, kv float64) motor.Motor {
	use := m.use()
	if v := m.variation; v != nil {
		return m.parameters.Motor.New(s, kv, use).Scaled(v.motor(s, kv))
	}
	return m.parameters.Motor.New(s, kv, use).Scaled(m.Assume.Evidence.Motor(s, kv).Scale())
}

// use is how motors are driven.
func (m *Model) use() motor.Use {
	return motor.Use{Winding: m.Assume.Winding, PulseRate: m.Assume.PulseRate}
}

// MotorMass is the uncorrected mass of the motor of a stator in kg: times
// Evidence.MotorMass it is that of Motor, to the last bit.
func (m *Model) MotorMass(s motor.Stator) float64 { return m.parameters.Motor.MotorMass(s) }

// Pack gives the pack of cells in series and a capacity in A s, corrected by
// Assumptions.Evidence.
func (m *Model) Pack(cells int, capacity float64) (pack.Pack, error) {
	a := &m.Assume
	k, err := m.parameters.Pack.New(m.cells, cells, capacity,
		pack.Condition{Temperature: a.PackTemperature, Aged: a.PackAged})
	if err != nil {
		return k, err
	}
	if v := m.variation; v != nil {
		v.pack(&k)
		return k, nil
	}
	fit := a.Evidence.Pack(a.PackGrade, capacity)
	return fit.scaled(k), nil
}

// Powertrain is all of a craft that does not depend on its payload.
type Powertrain struct {
	Propeller *Propeller
	Drive     flight.Drive
	Full      flight.FullThrottle
	Arm       frame.Arm
	Parts     Parts // that exist; Power knows of those of the Propeller alone

	bare       float64 // mass without payload, controller and wiring, kg
	electrical float64 // mass of controller and wiring, kg
	cooling    float64 // conductance of a motor at full throttle, W/K; 0 where Craft.Heat has not kept it
}

// Bare is the mass in kg of a craft without payload, controller and wiring:
// what is known before any operating point is.
func (m *Model) Bare(p *Airframe, motorMass, packMass float64) float64 {
	bare := m.Assume.Avionics + p.Frame + p.Blades + p.Hardware + rotors*motorMass + packMass
	if m.beams(&p.Parts) {
		bare += rotors * m.strongArm(p.Diameter, bare).Mass()
	}
	return bare
}

func (p *Airframe) electrical(c motor.Controller) float64 {
	return p.boardMass(c) + p.by.Frame.WiringMass(p.Diameter, c.Rating)
}

// LeastAUW is a lower bound in kg on the all-up weight of a craft of this bare
// mass and payload: with the smallest controller. It never exceeds the all-up weight,
// to the last bit, since both add the same terms in the same order.
func (p *Airframe) LeastAUW(bare, payload float64) float64 {
	return bare + payload + p.least
}

// Powertrain finds the full-throttle point and with it the controller.
func (m *Model) Powertrain(p *Propeller, mot motor.Motor, k pack.Pack) Powertrain {
	var t Powertrain
	m.Power(&t, p, &mot, &k)
	return t
}

// Power is Powertrain with its result written to memory of the caller.
func (m *Model) Power(t *Powertrain, p *Propeller, mot *motor.Motor, k *pack.Pack) {
	m.power(t, p, mot, k, nil)
}

// PowerAs is Power of a craft that has been built: with the controller, the arms and the mass of
// its powertrain under the assumptions that it was sized by, as it flies in other air or with its
// pack in another state. See AssumptionDef.Varies.
func (m *Model) PowerAs(t *Powertrain, p *Propeller, mot *motor.Motor, k *pack.Pack, built *Powertrain) {
	m.power(t, p, mot, k, built)
}

func (m *Model) power(t *Powertrain, p *Propeller, mot *motor.Motor, k *pack.Pack, built *Powertrain) {
	t.Propeller = p
	d := &t.Drive // field by field: it is large, and set for each capacity
	d.Motor, d.Pack, d.Controller = *mot, *k, motor.Controller{}
	d.Avionics, d.RestedTop = m.Assume.AvionicsPower, k.Rested(1-m.Assume.Charge)
	d.Limits = flight.LimitsOf(k, m.Assume.PackLoad, m.Assume.CellMargin)
	t.Parts = p.Parts
	switch {
	case built != nil:
		t.Drive.Controller = built.Full.Controller
	case p.Parts.Board != nil:
		t.Drive.Controller = p.controller()
	}
	d.StaticInto(&t.Full, &p.Propulsor)
	t.cooling = 0
	if built != nil {
		t.bare, t.electrical, t.Arm = built.bare, built.electrical, built.Arm
		return
	}
	t.bare = m.Bare(&p.Airframe, mot.Mass, k.Mass)
	t.electrical = p.electrical(t.Full.Controller)
	m.arm(t)
}

// AUW is the all-up weight in kg: what a scale shows before take-off.
func (t *Powertrain) AUW(payload float64) float64 { return t.bare + payload + t.electrical }

// AUWOf is AUW with another pack, where the controller is the same and the arms are not sized
// for the craft.
func (t *Powertrain) AUWOf(m *Model, k *pack.Pack, payload float64) float64 {
	return m.Bare(&t.Propeller.Airframe, t.Drive.Motor.Mass, k.Mass) + payload + t.electrical
}

// Craft is one evaluated design. Its metrics are read through the registry. Once it has
// been evaluated nothing that is read of it writes to it.
type Craft struct {
	Powertrain *Powertrain
	Model      *Model
	Payload    float64 // kg
	Mass       float64 // all-up weight, kg
	Limit      float64 // of the weight class it is judged in, kg; 0 where there is none
	Hover      flight.Point
	HoverTime  float64 // s
	Flight     flight.Flight
	CruiseTime float64 // at the airspeed of least power, s
	Range      float64 // at the airspeed of least power over airspeed, m

	foreseen       foreseen // of level flight, once foreseen
	thrustToWeight float64
	hoverSteady    float64 // temperature of the motors in hover, K; 0 where Heat has not kept it
	hoverPerWatt   float64 // growth of the same with a loss of a motor, K/W
	fullTime       float64 // that the motors stand full throttle, s; where hasBurst says that Burst has kept it
	hasBurst       bool
	ceiling        float64 // m
	ceilingBy      CeilingLimit
	explained      bool
}

// Load puts a payload in kg on a powertrain; only the mass is known after it.
func (c *Craft) Load(m *Model, t *Powertrain, payload float64) {
	*c = Craft{Powertrain: t, Model: m, Payload: payload, Mass: t.AUW(payload)}
}

// Weight is the craft's weight in N.
func (c *Craft) Weight() float64 { return c.Mass * gravity }

// Operate finds hover, and reports whether both operating points exist; see
// Lacking.
func (c *Craft) Operate() bool {
	t := c.Powertrain
	if !t.Full.OK {
		return false
	}
	t.Drive.HoverInto(&c.Hover, &t.Propeller.Propulsor, t.Full.Controller, c.weigh()/rotors)
	return c.Hover.OK
}

// weigh gives the weight in N, and keeps the thrust to it.
func (c *Craft) weigh() float64 {
	weight := c.Mass * gravity
	c.thrustToWeight = rotors * c.Powertrain.Full.Thrust / weight
	return weight
}

// Advance computes what a stage adds; all earlier stages must have been computed
// and both operating points exist.
func (c *Craft) Advance(s Stage) {
	switch s {
	case StageEndure:
		c.Endure()
	case StageFlight:
		c.Fly()
	}
}

// Endure integrates hover over the discharge of the pack.
func (c *Craft) Endure() {
	c.HoverTime = c.Powertrain.Drive.Pack.Endurance(c.Hover.Power)
}

// Masses is the build-up of the all-up weight, in kg.
type Masses struct {
	Frame, Hardware, Propellers, Motors, Controller, Wiring, Avionics, Pack, Payload float64
}

// Masses gives the build-up of the craft's all-up weight.
func (c *Craft) Masses() Masses {
	t := c.Powertrain
	p := t.Propeller
	f := p.Frame
	if c.Model.beams(&p.Parts) {
		f += rotors * t.Arm.Mass()
	}
	return Masses{
		Frame:      f,
		Hardware:   p.Hardware,
		Propellers: p.Blades,
		Motors:     rotors * t.Drive.Motor.Mass,
		Controller: p.boardMass(t.Full.Controller),
		Wiring:     p.by.Frame.WiringMass(p.Diameter, t.Full.Controller.Rating),
		Avionics:   c.Model.Assume.Avionics,
		Pack:       t.Drive.Pack.Mass,
		Payload:    c.Payload,
	}
}
