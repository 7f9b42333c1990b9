package model

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"sync"
	"testing"

	"rotorsieve/model/motor"
)

// Motors that are too hot in hover are told of, and those too hot in cruise, each
// just where the metric says so.
func TestHotMarks(t *testing.T) {
	t.Parallel()
	m := newModel(t, nil)
	d := freestyle
	d.Stator, d.KV = stator(14, 5), 1700
	seen := map[[2]bool]int{}
	runs := 0
	for d.Payload = 0; d.Payload < 2; d.Payload += 0.01 {
		c, err := m.Evaluate(d)
		if err != nil {
			break
		}
		says := func(at Moment, hotter float64) bool {
			return slices.ContainsFunc(c.Warnings(), func(x Mark) bool {
				return x.Limit == validHeat && x.At == at && x.Value > hotter
			})
		}
		flies := c.Flight.Endurance.Airspeed > 0
		hover, cruise := value(t, c, "motor-temperature") >= motor.BurstLimit,
			flies && value(t, c, "cruise-motor-temperature") >= motor.BurstLimit
		if says(Hovering, 0) != hover || says(Cruising, 0) != cruise {
			t.Errorf("payload %g kg: too hot in hover %v, in cruise %v, but told %+v", d.Payload, hover, cruise,
				c.Warnings())
		}
		if flies {
			seen[[2]bool{hover, cruise}]++
			if says(Cruising, math.MaxFloat64) {
				runs++
			}
		}
	}
	if seen[[2]bool{false, false}] == 0 || seen[[2]bool{true, false}] == 0 || seen[[2]bool{true, true}] == 0 ||
		runs == 0 {
		t.Errorf("hot in hover and cruise: %v, %d run away in cruise", seen, runs)
	}
}

// The time at full throttle against small steps of the heat balance, from what hover
// comes to up to the temperature that the metric's meaning names.
func TestBurstTimeIsToWhatItSays(t *testing.T) {
	t.Parallel()
	x, _ := LookupMetric("burst-time")
	said := regexp.MustCompile(`in hover to ([0-9]+) degC`).FindStringSubmatch(x.Meaning)
	if said == nil {
		t.Fatalf("%q names no temperature", x.Meaning)
	}
	end, err := strconv.ParseFloat(said[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	d := freestyle
	d.Stator = stator(18, 4) // small for what it turns
	c := evaluate(t, newModel(t, nil), d)
	m, full := &c.Powertrain.Drive.Motor, c.fullHeat()
	const (
		zero, reference = 273.15, 20.0 // K, degC
		alpha, heat     = 0.00393, 480 // 1/K and J/(kg K) of copper, of a motor
		dt              = 1e-4
	)
	// The resistance at 20 degC from that in use.
	r20 := m.R / (1 + alpha*(c.Model.Assume.Winding-zero-reference))
	idle := 2*math.Pi*full.Speed*m.LossTorque(full.Speed) + full.Chopping
	T, s := value(t, c, "motor-temperature")-zero, 0.0
	for T < end && s < 60 {
		loss := idle + r20*(1+alpha*(T-reference))*full.Current*full.Current
		T += dt * (loss - full.Conductance*(T-full.Air+zero)) / (heat * m.Mass)
		s += dt
	}
	if got := value(t, c, "burst-time"); !(math.Abs(got/s-1) <= 5e-3) || s < 1 || s >= 60 {
		t.Errorf("%g s at full throttle, by small steps to %g degC %g s", got, end, s)
	}
}

// What is kept of heat is read by the metrics that start from it, and by no others, and
// all are the same to the last bit without it. A craft whose windings are past their
// limit in hover already has no time at full throttle at all.
func TestHeatIsKept(t *testing.T) {
	m := newModel(t, nil)
	hot := Design{Diameter: 5 * in, Pitch: 4 * in, Blades: 2, Stator: motor.Stator{Diameter: 14e-3, Height: 4e-3},
		KV: 2600, Cells: 4, Capacity: 4000 * 3.6, Payload: 0.6}
	for _, d := range []Design{freestyle, hot} {
		c := evaluate(t, m, d)
		train := *c.Powertrain
		train.cooling = 0
		cold, wrong := *c, *c
		cold.Powertrain, cold.hoverSteady, cold.hoverPerWatt, cold.hasBurst = &train, 0, 0, false
		wrong.hoverSteady++
		wrong.fullTime++
		for _, x := range Metrics {
			if x.Stage == StageExplain {
				continue
			}
			v := x.Of(&cold)
			if got := x.Of(c); math.Float64bits(got) != math.Float64bits(v) {
				t.Errorf("%s: %v with what is kept, %v without", x.Name, got, v)
			}
			if x.Of(&wrong) != v && !math.IsNaN(v) && x.start == nil {
				t.Errorf("%s starts from what is kept of heat, but does not say so", x.Name)
			}
		}
		if cold.hoverSteady != 0 || cold.hasBurst || train.cooling != 0 {
			t.Error("reading metrics writes to the craft")
		}
	}
	if v := evaluate(t, m, hot).burst(); v != 0 {
		t.Errorf("%g s at full throttle, want none", v)
	}
}

// A craft may be read by several at once, whether anything is kept or not: the race
// detector sees to it.
func TestMetricReaders(t *testing.T) {
	c := evaluate(t, newModel(t, nil), freestyle)
	train := *c.Powertrain
	train.cooling = 0
	cold := *c
	cold.Powertrain, cold.hoverSteady, cold.hasBurst = &train, 0, false
	var all sync.WaitGroup
	for range 2 {
		all.Go(func() {
			for _, x := range Metrics {
				x.Of(&cold)
				x.Worked(&cold)
			}
			cold.Points()
			cold.Warnings()
		})
	}
	all.Wait()
}

// Thin air cools less: a rotor that carries the same mass makes a faster wash, as
// rho^-1/2 (momentum theory), but its mass flux falls as rho^1/2, and a cylinder in cross
// flow passes heat with its power of 0.55. ISO 2533 has 0.7423 of the density of sea level
// at 3000 m.
func TestThinAirCools(t *testing.T) {
	low, high := newModel(t, nil), newModel(t, func(a *Assumptions) { a.Altitude = 3000 })
	sea, d := evaluate(t, low, freestyle), freestyle
	d.Payload += sea.Mass - evaluate(t, high, d).Mass // a smaller controller does up there
	up := evaluate(t, high, d)
	if math.Abs(sea.Mass-up.Mass) > 1e-12 {
		t.Fatalf("%g kg at sea level, %g kg at 3000 m: not the same craft", sea.Mass, up.Mass)
	}
	want := math.Pow(0.7423, 0.55/2) // 0.921
	if got := up.hoverHeat().Conductance / sea.hoverHeat().Conductance; math.Abs(got-want) > 5e-4 {
		t.Errorf("in hover at 3000 m the air takes %.4f of what it does at sea level, want %.4f", got, want)
	}
	// At full throttle, in level flight and at top speed the wash follows from the craft.
	for _, x := range []struct {
		what string
		heat func(*Craft) motor.Heat
		wash func(*Craft) float64
	}{
		{"full throttle", (*Craft).fullHeat, func(c *Craft) float64 {
			return c.Powertrain.Propeller.Wash(c.Powertrain.Full.Thrust)
		}},
		{"cruise", (*Craft).cruiseHeat, func(c *Craft) float64 { _, v := c.attitude(&c.Flight.Endurance); return v }},
	} {
		want := math.Pow(0.7423*x.wash(up)/x.wash(sea), 0.55)
		if got := x.heat(up).Conductance / x.heat(sea).Conductance; math.Abs(got-want) > 5e-4 {
			t.Errorf("%s at 3000 m: %.4f of the conductance at sea level, want %.4f", x.what, got, want)
		}
	}
}
