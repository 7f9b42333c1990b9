package flight

import (
	"math"

	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// PackLimits are the limits of a pack in level flight.
type PackLimits struct {
	Current float64 // at most, A
	Voltage float64 // loaded, at least, V
}

// LimitsOf lets a pack be drawn up to a share of its burst current, at least 0, and down to
// a voltage in V by which each cell stays above the floor; below 0 it may fall under it.
func LimitsOf(k *pack.Pack, load, margin float64) PackLimits {
	return PackLimits{Current: load * k.BurstLimit(), Voltage: k.Floor + margin*float64(k.Cells)}
}

// ampere is the current in A that both limits allow at the charge of full
// throttle. No pack gives more power than at half its rested voltage.
func (d *Drive) ampere() float64 {
	return min(d.Limits.Current, (d.RestedTop-max(d.Limits.Voltage, d.RestedTop/2))/d.Pack.R)
}

// Keeps says whether full throttle at rest keeps the limits of pack and controller. One that
// is held back says nothing of full duty.
func (d *Drive) Keeps(full *FullThrottle) bool {
	return full.Duty == 1 && full.PackCurrent <= d.Limits.Current && full.PackVoltage >= d.Limits.Voltage &&
		full.Current <= full.Controller.Rating
}

// left is the current in A that a limit leaves at n rev/s against the torque
// q in N m, with the pack at the charge of full throttle.
func (d *Drive) left(c motor.Controller, l Limit, n, q float64) float64 {
	i := d.Motor.Current(q, n)
	if l == ByController {
		return c.Rating - i
	}
	ampere := d.ampere()
	volts := d.RestedTop - d.Pack.R*ampere
	return ampere - d.draw(c, i, n, volts)/volts
}

// before finds the last place up to u that a limit of current leaves, by steps
// down from it, where it leaves none, with the nodes about it. It is 0 where
// hover is past the limit already.
func (d *Drive) before(p *path, c motor.Controller, l Limit, u float64) (float64, stretch) {
	s := p.about(u)
	n, Q := s.turn(u)
	fu := d.left(c, l, n, Q)
	for j := int(math.Ceil(u)) - 1; j >= 0; j-- {
		_, n, Q := p.node(j)
		f := d.left(c, l, n, Q)
		if f >= 0 {
			s = p.about(float64(j))
			return seek.Between(func(u float64) float64 {
				n, Q := s.turn(u)
				return d.left(c, l, n, Q)
			}, float64(j), u, f, fu), s
		}
		u, fu = float64(j), f
	}
	return 0, p.about(0)
}
