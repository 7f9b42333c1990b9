package sheet_test

import (
	"math"
	"strconv"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/gonum/interp"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// A design worked out by hand: with the constants of sheet Basis and its formulas,
// written out here anew, and none of the model's code but the propeller's table.
type byHand struct {
	t *testing.T
	d model.Design
	a model.Assumptions

	CT, CP func(n float64) float64
	rho    float64

	kt, K, X, R, R20, volume, motor, drop0, dropn float64 // of a motor; drop is its loss torque
	pack, charge                                  float64 // ohm, A s
	dod, rested                                   []float64
	kept                                          float64 // thrust
}

// listed are the constants of sheet Basis by symbol.
var listed = sync.OnceValue(func() map[string]float64 {
	out := map[string]float64{}
	for _, p := range model.Submodels() {
		for _, c := range p.Constants {
			out[c.Symbol] = c.Value
		}
	}
	return out
})

func (b *byHand) of(symbol string) float64 { return of(b.t, symbol) }

func of(t *testing.T, symbol string) float64 {
	v, ok := listed()[symbol]
	if !ok {
		t.Fatalf("the basis has no %s", symbol)
	}
	return v
}

// curve reads a table of Basis, of symbols such as "V LiPo at 0.05".
func curve(prefix string) (x, y []float64) {
	for _, p := range model.Submodels() {
		for _, c := range p.Constants {
			if at, ok := strings.CutPrefix(c.Symbol, prefix+" at "); ok {
				v, err := strconv.ParseFloat(at, 64)
				if err != nil {
					panic(err)
				}
				x, y = append(x, v), append(y, c.Value)
			}
		}
	}
	return x, y
}

func newByHand(t *testing.T, c *model.Craft, d model.Design) *byHand {
	b := &byHand{t: t, d: d, a: c.Model.Assume, rho: c.Model.Air.Density}
	b.CT = func(n float64) float64 { CT, _ := c.Powertrain.Propeller.Table.Static(n); return CT }
	b.CP = func(n float64) float64 { _, CP := c.Powertrain.Propeller.Table.Static(n); return CP }

	dm, hm := 1e3*d.Stator.Diameter, 1e3*d.Stator.Height
	b.kt = 60 / (2 * math.Pi * d.KV)
	km := b.of("Km scale") * math.Pow(dm, b.of("Km exponent of d")) * math.Pow(hm, b.of("Km exponent of h"))
	b.R20 = math.Pow(b.kt/km, 2)
	b.R = b.R20 * (1 + b.of("alpha Cu")*(b.a.Winding-b.of("T_20")))
	b.K = b.kt / b.of("KV under load")
	b.volume = math.Pi / 4 * d.Stator.Diameter * d.Stator.Diameter * d.Stator.Height
	b.X = b.of("x") * b.kt * b.kt / b.volume
	b.motor = b.of("motor mass scale") * math.Pow(dm, b.of("motor mass exponent of d")) * math.Pow(hm,
		b.of("motor mass exponent of h"))
	b.drop0, b.dropn = b.motor*b.of("T0 static"), 60*b.motor*b.of("T0 slope")

	b.dod, b.rested = curve("V LiPo")
	ah, n := d.Capacity/3600, float64(d.Cells)
	b.pack = (n*(b.of("high-rate R C")/ah+b.of("R joint")) + b.of("R lead")) *
		math.Exp(b.of("Ea")/b.of("R_gas")*(1/b.a.PackTemperature-1/b.of("T_R")))
	b.charge = d.Capacity * cold(b.a.PackTemperature-273.15)
	close, far := b.of("close discs"), b.of("far discs")
	penalty := b.of("thrust penalty") * math.Max(0, math.Min(1, (far-b.a.Clearance)/(far-close)))
	b.kept = (1 - penalty) * (1 - b.of("download"))
	return b
}

// cold is the share of the capacity at a temperature in degrees Celsius.
func cold(degrees float64) float64 {
	var x, y []float64
	for _, c := range pack.Basis() {
		if s, ok := strings.CutPrefix(c.Symbol, "capacity at "); ok {
			v, err := strconv.ParseFloat(strings.TrimSuffix(s, " degC"), 64)
			if err != nil {
				panic(err)
			}
			x, y = append(x, v), append(y, c.Value)
		}
	}
	return linear(x, y, degrees)
}

func linear(x, y []float64, at float64) float64 {
	for k := 1; k < len(x); k++ {
		if at <= x[k] && at >= x[k-1] {
			return y[k-1] + (y[k]-y[k-1])*(at-x[k-1])/(x[k]-x[k-1])
		}
	}
	return y[len(y)-1]
}

// fall finds where a function falls through 0.
func fall(lo, hi float64, f func(float64) float64) float64 {
	for range 200 {
		if mid := (lo + hi) / 2; f(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

func (b *byHand) thrust(n float64) float64 {
	return b.kept * b.CT(n) * b.rho * n * n * math.Pow(b.d.Diameter, 4)
}

func (b *byHand) torque(n float64) float64 {
	return b.CP(n) * b.rho * n * n * math.Pow(b.d.Diameter, 5) / (2 * math.Pi)
}

func (b *byHand) lost(n float64) float64 { return b.drop0 + b.dropn*n }

// current solves Q + T0 = K I + X I^2/(2 pi) by bisection.
func (b *byHand) current(n float64) float64 {
	Q := b.torque(n) + b.lost(n)
	return fall(0, Q/b.K, func(i float64) float64 { return Q - b.K*i - b.X*i*i/(2*math.Pi) })
}

func (b *byHand) voltage(i, n float64) float64 { return 2*math.Pi*n*b.K + (b.R+b.X*n)*i }

// mean is the rested voltage over the usable share, by the trapezoids that the curve
// is made of.
func (b *byHand) mean() float64 {
	usable := b.of("usable LiPo")
	sum := 0.0
	for k := 1; k < len(b.dod); k++ {
		x0, x1 := b.dod[k-1], math.Min(b.dod[k], usable)
		if x1 > x0 {
			sum += (x1 - x0) * (linear(b.dod, b.rested, x0) + linear(b.dod, b.rested, x1)) / 2
		}
	}
	return float64(b.d.Cells) * sum / usable
}

func (b *byHand) steady() float64 { return 4*b.of("controller idle") + b.a.AvionicsPower }

// full is the speed and the loaded voltage of full throttle with a resistance in series.
func (b *byHand) full(series, most float64) (n, V, I float64) {
	top := float64(b.d.Cells) * linear(b.dod, b.rested, 1-b.a.Charge)
	loaded := func(n float64) float64 {
		open := top - 4*b.pack*b.current(n)
		return (open + math.Sqrt(open*open-4*b.pack*b.steady())) / 2
	}
	n = fall(most/20, most, func(n float64) float64 {
		i := b.current(n)
		return loaded(n) - series*i - b.voltage(i, n) // NaN, past the pack's most power, is past the point
	})
	return n, loaded(n), b.current(n)
}

// Hover, full throttle, masses, endurance and temperature of a design come out of the
// numbers and formulas of sheet Basis to a part in a million.
func TestBasisByHand(t *testing.T) {
	t.Parallel()
	d := model.Design{Diameter: 5 * 0.0254, Pitch: 4.3 * 0.0254, Blades: 3, Stator: sweep.StatorOf(2207), KV: 1850,
		Cells: 6, Capacity: 1300 * 3.6}
	a := model.Defaults()
	a.PackTemperature, a.Clearance = 280.15, 0.1
	m, err := model.New(a)
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
			t.Errorf("%s: %.9g by hand, the model has %.9g", what, got, want)
		}
	}
	b := newByHand(t, c, d)
	_, most := c.Powertrain.Propeller.Table.SpeedRange()

	// Full throttle and with it the controller.
	_, _, free := b.full(0, most)
	rating := math.Inf(1)
	for _, k := range motor.Basis() {
		if strings.HasPrefix(k.Symbol, "controller step ") && k.Symbol != "controller step above" &&
			k.Value >= b.of("controller margin")*free {
			rating = math.Min(rating, k.Value)
		}
	}
	switches, leads := b.of("controller drop")/rating, b.of("leads drop")/rating
	n, V, I := b.full(switches+leads, most)
	full := &c.Powertrain.Full
	near("controller", rating, full.Controller.Rating)
	near("full-throttle speed", n, full.Speed)
	near("full-throttle current", I, full.Current)
	near("full-throttle pack voltage", V, full.PackVoltage)
	near("balance of voltages at full throttle", V-(switches+leads)*I, b.voltage(I, n))

	// The all-up weight.
	in := d.Diameter / 0.0254
	mass := b.of("frame scale")*math.Pow(in, b.of("frame exponent"))*a.FrameFactor + b.of("hardware fixed") +
		b.of("hardware by size")*in +
		4*(b.of("propeller square")*in*in+b.of("propeller linear")*in)*(1+b.of("propeller blade")*float64(d.Blades-2)) +
		4*b.motor +
		b.of("controller board")*(1+b.of("controller board slope")*rating) + b.of("wiring")*rating*in + a.Avionics +
		b.of("pack leads LiPo") + b.of("pack overhead")*b.of("high-rate mass")*d.Capacity/3600*float64(d.Cells)
	near("all-up weight", mass, c.Mass)

	// Hover.
	T := mass * b.of("g_n") / 4
	n = fall(most/20, most, func(n float64) float64 { return T - b.thrust(n) })
	I = b.current(n)
	Vm := b.voltage(I, n)
	u := Vm + (switches+leads)*I
	f := a.PulseRate
	chopping := func(V float64) float64 {
		return 4 * b.of("c") * 2 * math.Pi * b.dropn * math.Pow(d.KV/60, 2) * u * u * math.Pow(1-u/V,
			2) * math.Pow(b.of("f stand")/f, 2)
	}
	power := func(V float64) float64 { return 4*(u*I+chopping(V)+V*I*b.of("controller edge")*f/2) + b.steady() }
	mean := b.mean()
	V = fall(mean/2, mean, func(V float64) float64 { return mean - b.pack*power(V)/V - V })
	h := &c.Hover
	near("hover speed", n, h.Speed)
	near("hover motor current", I, h.Current)
	near("hover motor voltage", Vm, h.Voltage)
	near("hover pack voltage", V, h.PackVoltage)
	near("hover duty", u/V, h.Duty)
	near("hover power", power(V), h.Power)
	near("hover chopping loss", chopping(V), h.Chopping)

	// The hover time, by small steps of the depth of discharge.
	const steps = 200000
	usable, cells := b.of("usable LiPo"), float64(d.Cells)
	time := 0.0
	for k := range steps {
		rested := cells * linear(b.dod, b.rested, usable*(float64(k)+0.5)/steps)
		loaded := (rested + math.Sqrt(rested*rested-4*b.pack*power(V))) / 2
		if loaded < cells*b.of("floor LiPo") {
			break
		}
		time += b.charge * usable / steps * loaded / power(V)
	}
	near("hover time", time, c.HoverTime)

	// The temperature of the windings in hover.
	wash := 2 * math.Sqrt(T/(2*b.kept*b.rho*math.Pi/4*d.Diameter*d.Diameter))
	G := b.of("G") * math.Pow(b.motor/b.of("m_G"), 2.0/3) * math.Pow(b.rho*wash/b.of("flux_G"),
		b.of("G exponent of the wash"))
	copper := b.R20 * I * I
	zero := b.of("T_20")
	steady := zero + (m.Air.Temperature-zero+(copper+2*math.Pi*n*b.lost(n)+chopping(V))/G)/(1-b.of("alpha Cu")*copper/G)
	near("motor temperature in hover", steady, finding.Metric("motor-temperature").Of(c))

	// What is asked of the stator and the pack.
	volume := b.of("V_s burst")
	near("use of the stator's torque", full.Torque/(b.of("Q/V_s burst")*b.volume*math.Cbrt(b.volume/volume)),
		finding.Metric("torque-load").Of(c))
	near("rim speed", math.Pi*d.Stator.Diameter*d.KV/60*cells*b.rested[0], finding.Metric("rim-speed").Of(c))
	ah := d.Capacity / 3600
	limit := math.Min(b.of("I limit scale")*math.Sqrt(1e3*ah/(1e3*b.of("high-rate R C")/ah)), b.of("I limit rate")*ah)
	near("use of the pack's rating", full.PackCurrent/(b.of("I burst")*limit), finding.Metric("pack-load").Of(c))
}

// CT and CP at rest come out of the polar, the blade and the equations of sheet Basis as
// the table has them, which is within 0.1 % of the solver.
func TestRotorByHand(t *testing.T) {
	t.Parallel()
	d, frozen, err := trial.SomeDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	m, err := model.New(frozen.Model.Assume) // Basis has the nominal parameters
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	of := func(s string) float64 { return of(t, s) }
	air := c.Model.Air
	rad := math.Pi / 180
	in := unit.Length.Unit("in").FromSI(d.Diameter)
	chord := of("c75/R") * math.Pow(in/of("D_c"), of("n_c small")) * of("k_cB") // below D_small, three blades
	pitch := d.Pitch * math.Pow(in/of("D_small"), of("n_P")) * of("k_PB")
	var shape, twist, angle interp.FritschButland
	x, cs := curve("c/c75")
	kx, ks := curve("kappa")
	if err := twist.Fit(kx, ks); err != nil {
		t.Fatal(err)
	}
	beta := make([]float64, len(x))
	for i := range x {
		beta[i] = twist.Predict(x[i]) * math.Atan(pitch/(math.Pi*x[i]*d.Diameter))
		cs[i] *= chord
	}
	if shape.Fit(x, cs) != nil || angle.Fit(x, beta) != nil {
		t.Fatal("no blade")
	}
	soft := func(z, by float64) float64 { return by * math.Log(1+math.Exp(z/by)) }
	polar := func(x, Re, M, cr float64) (cl, cd float64) {
		u, L := math.Abs(x), math.Log(math.Max(Re, of("Re0"))/of("Re_ref"))
		g := math.Sqrt(math.Max(1-M*M, of("g0")))
		slope := 2 * math.Pi * of("eta") * math.Exp(of("nl")*L) / g
		stall := (of("ast") + of("k3")*math.Min(cr, 1)) * rad * g
		us, ur := soft(u-stall, of("delta")*rad), soft(-u-stall, of("delta")*rad)
		cl = slope * (u - (1-of("m"))*(us-ur))
		cd = (of("cd0")+of("kd")*cl*cl)*math.Exp(-of("nd")*L) + of("ks")*(us+ur)
		w := 1 / (1 + math.Exp((of("alpha_p")*rad-u)/(of("delta_p")*rad)))
		cl = (1-w)*cl + w*of("c_p")*math.Sin(u)*math.Cos(u)
		cd = (1-w)*cd + w*(of("cd0")+of("c_p")*math.Pow(math.Sin(u), 2))
		if over := M - (of("Mcr_0") - of("k_cl")*cl); over > 0 {
			cd += of("k_M") * math.Pow(over, of("n_M"))
		}
		return math.Copysign(cl, x), cd
	}
	loss := func(k, s float64) float64 { return 2 / math.Pi * math.Acos(math.Exp(-k/s)) }
	R, B := d.Diameter/2, float64(d.Blades)
	for _, rpm := range []float64{8000, 15000, 22000} {
		n := rpm / 60
		T, Q := 0.0, 0.0
		const strips = 24
		edge := func(i int) float64 {
			return of("r_0/R") + (1-of("r_0/R"))*(1-math.Pow(1-float64(i)/strips, 1.5))
		}
		for i := range strips {
			y := (edge(i) + edge(i+1)) / 2
			r, dr, ch := y*R, (edge(i+1)-edge(i))*R, shape.Predict(y)
			U := 2 * math.Pi * n * r
			Re, M := air.Density*U*ch*R/air.Viscosity, U/air.SoundSpeed
			sigma := B * ch / (2 * math.Pi * y)
			at := func(phi float64) (cl, cd, kl float64) {
				cl, cd = polar(angle.Predict(y)-of("alpha0")*rad-phi, Re, M, ch/y)
				s := math.Sin(phi)
				F := loss(B/2*(1-y)/y, s) * loss(B/2*(y-of("r_h/R"))/y, s)
				return cl, cd, sigma * cl / (4 * F)
			}
			phi := fall(1e-6, math.Pi/2, func(phi float64) float64 { // at rest V is 0
				_, _, kl := at(phi)
				return kl*math.Cos(phi) - math.Pow(math.Sin(phi), 2)
			})
			cl, cd, kl := at(phi)
			s, co := math.Sincos(phi)
			q := air.Density / 2 * math.Pow(U/(co+kl), 2) * ch * R * dr
			T += B * q * (cl*co - cd*s)
			Q += B * q * (cl*s + cd*co) * r
		}
		CT := T / (air.Density * n * n * math.Pow(d.Diameter, 4))
		CP := 2 * math.Pi * Q / (air.Density * n * n * math.Pow(d.Diameter, 5))
		wantCT, wantCP := c.Powertrain.Propeller.Table.Static(n)
		if math.Abs(CT/wantCT-1) > 1e-3 || math.Abs(CP/wantCP-1) > 1e-3 {
			t.Errorf("%g rpm: CT %.5f, CP %.5f by hand, the table has %.5f, %.5f", rpm, CT, CP, wantCT, wantCP)
		}
		t.Logf("%g rpm: CT off by %+.2g, CP by %+.2g", rpm, CT/wantCT-1, CP/wantCP-1)
	}
}
