package pack

import (
	"math"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g within %g", what, got, want, tol)
	}
}

var (
	warm    = Condition{Temperature: 298.15}
	nominal = Nominal()
)

func made(t *testing.T, grade string, cells int, mAh float64, c Condition) Pack {
	t.Helper()
	g, err := ParseGrade(grade)
	if err != nil {
		t.Fatal(err)
	}
	p, err := nominal.New(g, cells, mAh*3.6, c)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// draw solves V I = power for the current in A and the loaded voltage in V at
// the rested voltage voc. It reports false where the pack cannot give it.
func draw(p *Pack, voc, power float64) (i, v float64, ok bool) {
	disc := voc*voc - 4*p.R*power
	if !(disc >= 0) {
		return 0, 0, false
	}
	root := math.Sqrt(disc)
	i = 2 * power / (voc + root) // the same as (voc - root)/(2R), without the cancellation
	return i, (voc + root) / 2, true
}

// Values worked by hand from the resistance law and V I = P.
func TestDraw(t *testing.T) {
	p := made(t, "high-rate", 4, 1500, warm)
	near(t, "R", p.R, 19.6e-3, 1e-9)
	i, v, ok := draw(&p, 16.8, 130)
	if !ok {
		t.Fatal("130 W cannot be drawn")
	}
	near(t, "current", i, 7.809, 5e-4)
	near(t, "voltage", v, 16.647, 5e-4)
	if _, _, ok := draw(&p, 16.8, 16.8*16.8/(4*p.R)*1.0001); ok {
		t.Error("more than the most power was drawn")
	}
	near(t, "mean rested voltage of a LiPo cell", p.Mean/4, 3.916, 5e-4)
}

func TestEndurance(t *testing.T) {
	p := made(t, "high-rate", 4, 1500, warm)
	near(t, "130 W", p.Endurance(130), 515, 0.5)
	near(t, "600 W", p.Endurance(600), 107, 0.5)
}

// The closed form against a sum of many small steps, over powers from a trickle
// to past what the floor allows.
func TestEnduranceAgainstSteps(t *testing.T) {
	for _, grade := range []string{"high-rate", "long-flight", "21700-power"} {
		mAh := 4200.0
		p := made(t, grade, 4, mAh, warm)
		for _, power := range []float64{1, 50, 300, 900, 1500, 3000, 6000} {
			const steps = 200000
			usable := p.chem.usable
			sum := 0.0
			for k := range steps {
				i, v, ok := draw(&p, p.Rested((float64(k)+0.5)/steps*usable), power)
				if !ok || v < p.Floor {
					break
				}
				sum += p.charge * usable / steps / i
			}
			got := p.Endurance(power)
			near(t, grade, got, sum, 2e-4*sum+1e-3)
		}
	}
}

// What is drawn ends at the usable share less the landing reserve, and what is kept changes
// nothing else: the voltage of operating points is that of the whole usable charge.
func TestUse(t *testing.T) {
	for _, x := range []struct {
		grade string
		use   Use
		drawn float64
	}{
		{"high-rate", Use{}, 0.8}, {"high-rate", Use{Usable: 0.8}, 0.8}, {"high-rate", Use{Reserve: 0.2}, 0.64},
		{"high-rate", Use{Usable: 0.95}, 0.95}, {"high-rate", Use{Usable: 0.2, Reserve: 0.5}, 0.1},
		{"21700-power", Use{Usable: 0.7, Reserve: 0.1}, 0.63}, {"21700-power", Use{Reserve: 0.3}, 0.63},
	} {
		g, err := ParseGrade(x.grade)
		if err != nil {
			t.Fatal(err)
		}
		used := g.Used(x.use)
		if plain := x.drawn == g.chem.usable; plain != (used == g) {
			t.Errorf("%s, %+v: the grade itself: %v, want %v", x.grade, x.use, used == g, plain)
		}
		p, err := nominal.New(used, 4, 4200*3.6, warm)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := nominal.New(g.Used(Use{Usable: x.use.Usable}), 4, 4200*3.6, warm)
		if err != nil {
			t.Fatal(err)
		}
		if p.Mean != whole.Mean || p.Usable() != whole.Usable() || p.R != whole.R || p.Mass != whole.Mass {
			t.Errorf("%s, %+v: a landing reserve changes more than times", x.grade, x.use)
		}
		for _, power := range []float64{20, 300, 900} {
			const steps = 20000
			sum := 0.0
			for k := range steps {
				i, v, ok := draw(&p, p.Rested((float64(k)+0.5)/steps*x.drawn), power)
				if !ok || v < p.Floor {
					break
				}
				sum += p.charge * x.drawn / steps / i
			}
			near(t, x.grade, p.Endurance(power), sum, 1e-3*sum)
		}
		v, ok := p.Loaded(300)
		if i, want, _ := draw(&p, p.Mean, 300); !ok || math.Abs(v-want) > 1e-12 || math.Abs(v*i-300) > 1e-9 {
			t.Errorf("%s: loaded to %g V by 300 W, want %g V", x.grade, v, want)
		}
		if _, ok := p.Loaded(1e6); ok {
			t.Errorf("%s gives a megawatt", x.grade)
		}
	}
}

// The series is the closed form, wherever it is used.
func TestSeries(t *testing.T) {
	for name, c := range map[string]*chemistry{"LiPo": lipo, "Li-ion": liion,
		"LiPo, with a reserve": Grades[0].Used(Use{Reserve: 0.3}).chem,
		"Li-ion, to the end":   Grades[3].Used(Use{Usable: MostUsable}).chem} {
		for k := range 1000 {
			x := c.within * float64(k) / 1000
			if got, want := c.series.at(x), c.pieces(x); math.Abs(got-want) > 2e-11*want {
				t.Errorf("%s: reach(%g) = %.14g by series, %.14g piece by piece", name, x, got, want)
			}
		}
		if c.within < 1.5 && c.usable < MostUsable {
			t.Errorf("%s: the series serves only to %g V2", name, c.within)
		}
	}
}

func BenchmarkEndurance(b *testing.B) {
	p, err := nominal.New(Grades[0], 4, 1500*3.6, warm)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		p.Endurance(130)
	}
}

func TestCold(t *testing.T) {
	near(t, "0 degC", coldResistance(273.15), 2.093, 5e-4)
	near(t, "-20 degC", coldResistance(253.15), 4.196, 5e-4)
	w, c := made(t, "middle", 4, 1500, warm), made(t, "middle", 4, 1500, Condition{Temperature: 263.15})
	if !(c.R > w.R) {
		t.Error("a cold pack has no higher resistance")
	}
	near(t, "cold capacity", c.charge/w.charge, 0.78, 1e-12)
	a := made(t, "middle", 4, 1500, Condition{Temperature: 298.15, Aged: true})
	near(t, "aged capacity", a.charge/w.charge, 0.9, 1e-12)
	near(t, "aged resistance", a.R/w.R, 1.3, 1e-12)
}

func TestGrades(t *testing.T) {
	for i, g := range Grades {
		if int(g.index) != i || len(Grades) != int(grades) {
			t.Errorf("%s stands at %d of %d, not at %d of %d", g.Name, i, len(Grades), g.index, grades)
		}
	}
	p := made(t, "21700-power", 6, 8400, warm)
	near(t, "mass of 6S2P", p.Mass, 4e-3+1.06*12*69e-3, 1e-12)
	near(t, "R of 6S2P", p.R, 6*(7e-3+0.4e-3)+2e-3, 1e-12)
	near(t, "limit of 6S2P", p.Limit, 76, 1e-12)
	l := made(t, "high-rate", 4, 1500, warm)
	near(t, "mass", l.Mass, 2e-3+1.06*26e-3*1.5*4, 1e-12)
	near(t, "limit", l.Limit, 2.5*math.Sqrt(1500/4.0), 1e-9)
	// 2.5 sqrt(C^2/rho) is C 2.5/sqrt(rho Ah) A: 32 C for this grade, below the cap.
	near(t, "limit of a small pack", made(t, "high-rate", 4, 300, warm).Limit, 2.5*math.Sqrt(300/20.0), 1e-9)
}

func TestRefusals(t *testing.T) {
	g := Grades[3]
	for _, c := range []struct {
		cells    int
		capacity float64
		want     string
	}{
		{0, 3600, "at least 1 cell"},
		{4, 0, "capacity above 0"},
		{4, math.NaN(), "capacity above 0"},
		{4, 3.6 * 3000, "multiple of 3400 mAh"},
	} {
		if _, err := nominal.New(g, c.cells, c.capacity, warm); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("New(%d, %g): error %v, want one with %q", c.cells, c.capacity, err, c.want)
		}
	}
	if _, err := ParseGrade("best"); err == nil || !strings.Contains(err.Error(), "high-rate") {
		t.Errorf("ParseGrade: error %v, want one that names the grades", err)
	}
}
