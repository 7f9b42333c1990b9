package rotor

import "math"

// polar holds the parameters of the section polar: lift and drag of a thin
// cambered section at the low Reynolds numbers of small propellers, from
// reversed flow to far beyond the stall. Angles are in radians.
//
// With x the angle of attack from zero lift, u = |x| and L = ln(Re/1e5):
//
//	a     = 2 pi eta exp(nl L)/g,  g = sqrt(1 - M²)
//	stall = (ast + k3 min(chord/r, 1)) g
//	us    = delta softplus((u - stall)/delta)
//	ur    = delta softplus((-u - stall)/delta), for the stall on the other side
//	|cl|  = a (u - (1 - m) (us - ur))
//	cd    = (cd0 + kd cl²) exp(-nd L) + ks (us + ur)
//
// which goes over, around 40°, into a flat plate: cl = 1.8 sin u cos u,
// cd = cd0 + 1.8 sin² u. The form is derived here; the term k3 chord/r is the
// delay of the stall by rotation near the root, after Snel, Houwink, Bosschers,
// Sectional prediction of lift coefficients on rotating wind turbine blades in
// stall, 1994 (from memory), in its simplest shape.
type polar struct {
	eta    float64 // lift slope over the 2 pi of a thin aerofoil, at Re 1e5
	nl     float64 // exponent of the lift slope with Re
	alpha0 float64 // angle of the zero-lift line from the chord line
	ast    float64 // angle of stall from zero lift, without rotation
	k3     float64 // delay of the stall per chord/radius
	m      float64 // lift slope beyond the stall over that before it
	cd0    float64 // drag at zero lift, at Re 1e5
	nd     float64 // exponent with which drag falls with Re
	kd     float64 // drag per cl²
	ks     float64 // drag per radian beyond the stall
	mirror bool    // false leaves out ur, at the price of a jump of lift at zero
	rise   compressibility
}

// compressibility is the effect of the Mach number M on a section: the factor
// g = sqrt(max(1 - M², floor)) of Prandtl and Glauert, and a drag rise
// gain (M - Mcr)^power above Mcr = critical - lift |cl|.
type compressibility struct {
	floor    float64
	critical float64
	lift     float64
	gain     float64
	power    int
}

// flow is what a section's polar needs to know of the flow besides the angle
// of attack. It stays fixed while the inflow angle is sought.
type flow struct {
	slope   float64 // lift slope, 1/rad
	stall   float64 // rad from zero lift
	viscous float64 // exp(-nd L)
	mach    float64
}

// at prepares the polar for a Reynolds number, a Mach number and the ratio of
// chord to radius of the station.
func (p *polar) at(Re, M, cr float64) flow {
	L := math.Log(math.Max(Re, reFloor) / reRef)
	g := math.Sqrt(math.Max(1-M*M, p.rise.floor))
	return flow{
		slope:   2 * math.Pi * p.eta * math.Exp(p.nl*L) / g,
		stall:   (p.ast + p.k3*math.Min(cr, 1)) * g,
		viscous: math.Exp(-p.nd * L),
		mach:    M,
	}
}

// lifting is a section's lift at one angle, with what its drag is made of.
type lifting struct {
	cl, slope float64 // lift coefficient and its derivative with the angle
	attached  float64 // |cl| without the flat plate
	beyond    float64 // us + ur
	w         float64 // share of the flat plate
}

// lift returns the lift at an angle x from zero lift whose sine and cosine are
// sx and cx.
func (p *polar) lift(f *flow, x, sx, cx float64) lifting {
	u := math.Abs(x)
	su := math.Abs(sx)
	us, dus := softplus((u - f.stall) / stallWidth)
	ur, dur := 0.0, 0.0
	if p.mirror {
		ur, dur = softplus((-u - f.stall) / stallWidth)
	}
	cl := f.slope * (u - (1-p.m)*stallWidth*(us-ur))
	dcl := f.slope * (1 - (1-p.m)*(dus+dur))
	w := 1 / (1 + math.Exp((plateAngle-u)/plateWidth))
	dw := w * (1 - w) / plateWidth
	plate := plateForce * su * cx
	dplate := plateForce * (cx*cx - su*su)
	return lifting{
		cl:       math.Copysign((1-w)*cl+w*plate, x),
		slope:    (1-w)*dcl + w*dplate + dw*(plate-cl),
		attached: cl,
		beyond:   stallWidth * (us + ur),
		w:        w,
	}
}

// drag returns the drag coefficient that goes with a lift at an angle whose
// sine is sx.
func (p *polar) drag(f *flow, l *lifting, sx float64) float64 {
	attached := (p.cd0+p.kd*l.attached*l.attached)*f.viscous + p.ks*l.beyond
	plate := p.cd0 + plateForce*sx*sx
	return (1-l.w)*attached + l.w*plate + p.rise.drag(f.mach, l.cl)
}

// drag returns the drag coefficient that compressibility adds.
func (r *compressibility) drag(M, cl float64) float64 {
	over := M - (r.critical - r.lift*math.Abs(cl))
	if over <= 0 {
		return 0
	}
	cd := r.gain
	for range r.power {
		cd *= over
	}
	return cd
}

// softplus returns ln(1 + e^z), to an absolute accuracy of 1e-16 where z < 0,
// and its derivative 1/(1 + e^-z).
func softplus(z float64) (y, dy float64) {
	e := math.Exp(-math.Abs(z))
	y = math.Log(1 + e)
	if z > 0 {
		return y + z, 1 / (1 + e)
	}
	return y, e / (1 + e)
}
