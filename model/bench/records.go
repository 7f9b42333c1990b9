package bench

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
)

// recorded are the quantities of a motor under which terms are recorded.
var recorded = [terms]*record.Quantity{KV: record.KV, Resistance: record.Resistance, Loss: record.Loss,
	Chopping: record.Chopping}

// Records are what the rows of a fit say: of the propeller CT and CP at the middle
// of the measured speeds, of the motor its KV, resistance and factors on the losses of
// the model as New of package motor has them. What the rows say nothing of is not among
// them. The resistance is that of the winding, though what was fitted is a factor on it
// and the leads together. A rig whose pitch is not known has no records of its propeller.
//
// They leave out the fit's priors, which model.NewEvidence adds again: each is the
// measurement that with its prior comes to the estimate of the fit and its
// uncertainty.
func (f *Fit) Records() []record.Record {
	var out []record.Record
	add := func(s record.Subject, q *record.Quantity, at record.Conditions, value float64, term int, l likelihood) {
		if t := &f.Terms[term]; t.Known && l.known {
			v := rounded(value/t.Factor*math.Exp(l.ln), 4)
			out = append(out, record.Record{Subject: s, Quantity: q, At: at, Value: v, Sigma: rounded(v*l.sigma, 2)})
		}
	}
	r := f.Rig
	if r.Pitch != 0 {
		a := r.Rotor.Air()
		at := record.Conditions{N: f.n, Altitude: a.Altitude}
		if std, err := air.Standard(a.Altitude); err != nil || std.Temperature != a.Temperature {
			at.Temperature = a.Temperature
		}
		p := record.Subject{Kind: record.Propeller, Diameter: r.Diameter, Pitch: r.Pitch, Blades: r.Blades,
			Chord: r.Chord}
		CT0, CP0 := r.Propulsor.Table.Static(at.N)
		l := likelihoods(&f.Terms[CT], &f.Terms[CP], f.together)
		add(p, record.CT, at, CT0*r.Thrust, CT, l[0])
		add(p, record.CP, at, CP0*r.Power, CP, l[1])
	}
	m := &r.Motor
	s := m.Stator
	plain := motor.New(s, m.KV, r.Use)
	of := record.Subject{Kind: record.Motor, Stator: 1e5*s.Diameter + 1e3*s.Height, KV: m.KV}
	of.Stator = math.Round(of.Stator*1e6) / 1e6
	value := [terms]float64{
		KV:         m.KV * m.EffectiveKV() / plain.EffectiveKV(),
		Resistance: m.ColdResistance(),
		Loss:       m.LossSlope() / plain.LossSlope(),
		Chopping:   m.ChopScale(1) / plain.ChopScale(1),
	}
	for k, q := range recorded {
		if q == nil {
			continue
		}
		at := record.Conditions{}
		if k == Chopping {
			at.PulseRate = r.Use.PulseRate
		}
		add(of, q, at, value[k], k, likelihoodOf(&f.Terms[k], model.MotorSpread(q)))
	}
	return out
}

// likelihood is what measurements say of a logarithm without the prior.
type likelihood struct {
	ln, sigma float64
	known     bool // they say something, to better than a factor of e, so that it is plausible when read
}

// without is a likelihood of the precision w; before is that of the prior.
func without(ln, w, before float64) likelihood {
	const least = 1/(knownBetter*knownBetter) - 1 // of the prior's precision
	return likelihood{ln: ln, sigma: 1 / math.Sqrt(w), known: w >= least*before*(1-1e-9) && w > 1}
}

// likelihoodOf takes a prior of a standard deviation out of a term: precisions of
// normal distributions add, and their means weigh by them.
func likelihoodOf(t *Term, before float64) likelihood {
	p, w0 := 1/(t.After*t.After), 1/(before*before)
	l := without(math.Log(t.Factor)*p/(p-w0), p-w0, w0)
	l.known = l.known && math.Abs(l.ln) <= mostOff*math.Hypot(before, l.sigma)
	return l
}

// likelihoods are those of two terms that go together a priori: the two independent
// measurements that with the prior come to the estimates of the terms and their
// uncertainties. Where one of them informs the other only through the prior, only that
// one is returned (derived here).
func likelihoods(a, b *Term, together float64) (l [2]likelihood) {
	free := 1 - together*together
	wa, wb := 1/(a.Before*a.Before*free), 1/(b.Before*b.Before*free) // the prior's precision matrix
	wab := -together / (a.Before * b.Before * free)
	va, vb := a.After*a.After, b.After*b.After
	// With the precision matrix (x wab; wab y) and D its determinant, va = y/D and vb = x/D.
	D := (1 + math.Sqrt(1+4*va*vb*wab*wab)) / (2 * va * vb)
	la, lb := vb*D-wa, va*D-wb
	ma, mb := math.Log(a.Factor), math.Log(b.Factor)
	l[0] = without(ma+(wa*ma+wab*mb)/la, la, wa*free)
	l[1] = without(mb+(wab*ma+wb*mb)/lb, lb, wb*free)
	switch {
	case l[0].known && !l[1].known:
		l[0] = likelihoodOf(a, a.Before)
	case l[1].known && !l[0].known:
		l[1] = likelihoodOf(b, b.Before)
	}
	return l
}

// middle is the median speed of rows in rev/s, a round number of rpm.
func middle(rows []Row, r *Rig) float64 {
	var n []float64
	for i := range rows {
		if v := rows[i].Speed; v > 0 {
			n = append(n, v)
		} else if p, ok := r.at(&rows[i], false); ok {
			n = append(n, p.Speed)
		}
	}
	slices.SortFunc(n, cmp.Compare)
	const round = 100 // rpm
	return math.Max(1, math.Round(60*n[len(n)/2]/round)) * round / 60
}

// rounded is v to so many digits.
func rounded(v float64, digits int) float64 {
	x, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	if err != nil {
		panic(err) // it was just written
	}
	return x
}
