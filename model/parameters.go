package model

import (
	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// Parameters has a value for every constant of the physics whose spread is known; the
// others are Go constants. Measurements of parts correct the nominal parameters, see
// Evidence.
type Parameters struct {
	Air    air.Parameters
	Rotor  rotor.Parameters
	Motor  motor.Parameters
	Pack   pack.Parameters
	Frame  frame.Parameters
	Flight flight.Parameters
}

// Nominal are the parameters as they are best known, those of New.
func Nominal() Parameters {
	return Parameters{Air: air.Nominal(), Rotor: rotor.Nominal(), Motor: motor.Nominal(), Pack: pack.Nominal(),
		Frame: frame.Nominal(), Flight: flight.Nominal()}
}

// ParameterTable lists every parameter, with its field in a set and what is known of it.
var ParameterTable = func() (all []basis.Entry[Parameters]) {
	all = append(all, basis.Parameters(air.Entries(), func(p *Parameters) *air.Parameters { return &p.Air })...)
	all = append(all, basis.Parameters(rotor.Entries(), func(p *Parameters) *rotor.Parameters { return &p.Rotor })...)
	all = append(all, basis.Parameters(motor.Entries(), func(p *Parameters) *motor.Parameters { return &p.Motor })...)
	all = append(all, basis.Parameters(pack.Entries(), func(p *Parameters) *pack.Parameters { return &p.Pack })...)
	all = append(all, basis.Parameters(frame.Entries(), func(p *Parameters) *frame.Parameters { return &p.Frame })...)
	return append(all, basis.Parameters(flight.Entries(),
		func(p *Parameters) *flight.Parameters { return &p.Flight })...)
}()

// check names the first parameter with an unusable value.
func (p *Parameters) check() error {
	for i := range ParameterTable {
		if err := ParameterTable[i].Check(p); err != nil {
			return err
		}
	}
	return nil
}

// NewWith is New with other parameters than the nominal ones. It returns an error that
// names a parameter with an unusable value.
func NewWith(a Assumptions, p Parameters) (*Model, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	if err := p.check(); err != nil {
		return nil, err
	}
	m := &Model{Assume: a, parameters: p,
		cells: a.PackGrade.Used(pack.Use{Usable: a.Usable, Reserve: a.LandingReserve})}
	var err error
	if a.Temperature == 0 {
		m.Air, err = p.Air.Offset(a.Altitude, 0)
	} else {
		m.Air, err = p.Air.At(a.Altitude, a.Temperature)
	}
	if err != nil {
		return nil, err
	}
	return m, nil
}

// Parameters returns those that the model computes with.
func (m *Model) Parameters() Parameters { return m.parameters }
