package sweep

import (
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// buildParts builds the packs of the grid, and the motors that exist.
func (p *plan) buildParts() error {
	g, m := p.study.Grid, p.study.Model
	if g.follows[axStator] != nil {
		for _, r := range g.axes[axMotor].Def.rows {
			mot, err := m.MotorOf(r.design())
			if err != nil {
				return fmt.Errorf("motor %s: %w", r.name, err)
			}
			p.motors = append(p.motors, mot)
		}
	}
	if g.follows[axCells] != nil {
		return p.buildPacks()
	}
	// A stated burst time has no bounds between packs.
	burst := g.states(func(p model.Parts) bool { return p.Motor != nil && p.Motor.Burst.Known })
	p.rising = true
	for at, n := range g.axes[axCells].Values {
		for i, q := range g.axes[axCapacity].Values {
			k, err := m.Pack(int(n), q)
			if err != nil {
				return err
			}
			p.rising = p.rising && (i == 0 || k.Mass >= p.packs[len(p.packs)-1].Mass)
			p.packs = append(p.packs, k)
		}
		p.grow = append(p.grow, m.Spans() && !burst && pack.Grow(p.packs[at*len(g.axes[axCapacity].Values):]))
	}
	return nil
}

// lookAhead is how many further packs that exist a bound on flight is to cover.
const lookAhead = 24

// buildPacks builds the packs that exist, in the order of the axis. They are judged one by one.
func (p *plan) buildPacks() error {
	g := p.study.Grid
	rows := g.axes[axPack].Def.rows
	for _, r := range rows {
		k, err := p.study.Model.PackOf(r.design())
		if err != nil {
			return fmt.Errorf("pack %s: %w", r.name, err)
		}
		p.packs, p.exist = append(p.packs, k), append(p.exist, r.design().Pack)
	}
	p.grow = make([]bool, len(g.axes[axCells].Values))
	p.leastAhead = make([]float64, len(rows))
	for i := range rows {
		p.leastAhead[i] = p.packs[i].R
		for j := i; j < min(i+lookAhead+1, len(rows)) && p.alike(i, j); j++ {
			p.leastAhead[i] = min(p.leastAhead[i], p.packs[j].R)
		}
	}
	return nil
}

// design is a design of the part alone.
func (x *existing) design() *model.Design {
	d := new(model.Design)
	x.apply(d)
	return d
}

// alike says whether two packs that exist have the same cells of the same grade, so that what
// bounds the flight of one may be read of the other.
func (p *plan) alike(a, b int) bool {
	x, y := p.exist[a], p.exist[b]
	return x.Cells == y.Cells && x.Grade == y.Grade
}

// firstPack is the first pack that exists of the cells of another.
func (g *Grid) firstPack(at int) int {
	cells := g.follows[axCells]
	for at > 0 && cells[at-1] == cells[at] {
		at--
	}
	return at
}

// packAt is the pack of a design.
func (p *plan) packAt(at *coord) *pack.Pack {
	return &p.packsFrom(at)[0]
}

// packsFrom are the packs of some cells from a design's on.
func (p *plan) packsFrom(at *coord) []pack.Pack {
	if p.exist != nil {
		return p.packs[at[axPack]:][:1]
	}
	n := len(p.study.Grid.axes[axCapacity].Values)
	return p.packs[at[axCells]*n:][at[axCapacity]:n]
}

// motorOf is the motor of a design.
func (p *plan) motorOf(d *model.Design, at *coord) motor.Motor {
	if p.motors != nil {
		return p.motors[at[axMotor]]
	}
	return p.study.Model.Motor(d.Stator, d.KV)
}

// power is model.Model.Power of a design of the grid, whose parts go with it.
func (p *plan) power(t *model.Powertrain, prop *model.Propeller, mot *motor.Motor, k *pack.Pack, of *model.Parts) {
	p.study.Model.Power(t, prop, mot, k)
	t.Parts = *of
}

// whole takes a design of an index to its powertrain, as one that has been built in another scenario
// where there is one.
func (p *plan) whole(t *model.Powertrain, index uint64, built *model.Powertrain) (model.Design, error) {
	g := p.study.Grid
	at := g.coord(index)
	d := g.design(at)
	prop, err := p.propellers.at(index)
	if err != nil {
		return d, err
	}
	mot := p.motorOf(&d, &at)
	if built != nil {
		p.study.Model.PowerAs(t, prop, &mot, p.packAt(&at), built)
		t.Parts = d.Parts
		return d, nil
	}
	p.power(t, prop, &mot, p.packAt(&at), &d.Parts)
	return d, nil
}
