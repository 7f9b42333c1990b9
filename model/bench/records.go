package bench

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"rotorsieve/model/air"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
)

// Records are what a fit to rows has learnt: of the propeller CT and CP at the middle
// of the measured speeds, of the motor its KV under load, resistance and factors on
// the losses of the model as New of package motor has them. What the data say nothing
// of is not among them. The resistance is that of the winding, though what was
// fitted is a factor on it and the leads together. A rig whose pitch is not known
// has no records of its propeller.
func (f *Fit) Records(u *Used) []record.Record {
	var out []record.Record
	add := func(s record.Subject, q *record.Quantity, at record.Conditions, term int, value float64) {
		if t := &f.Terms[term]; t.Known {
			v := rounded(value, 4)
			out = append(out, record.Record{Subject: s, Quantity: q, At: at, Value: v, Sigma: rounded(v*t.After, 2)})
		}
	}
	r := f.Rig
	if r.Pitch != 0 {
		a := r.Rotor.Air()
		at := record.Conditions{N: middle(u.Rows, r), Altitude: a.Altitude}
		if std, err := air.Standard(a.Altitude); err != nil || std.Temperature != a.Temperature {
			at.Temperature = a.Temperature
		}
		p := record.Subject{Kind: record.Propeller, Diameter: r.Diameter, Pitch: r.Pitch, Blades: r.Blades, Chord: r.Chord}
		CT0, CP0 := r.Propulsor.Table.Static(at.N)
		add(p, record.CT, at, CT, CT0*r.Thrust)
		add(p, record.CP, at, CP, CP0*r.Power)
	}
	m := &r.Motor
	s := m.Stator
	plain := motor.New(s, m.KV, r.Use)
	of := record.Subject{Kind: record.Motor, Stator: 1e5*s.Diameter + 1e3*s.Height, KV: m.KV}
	of.Stator = math.Round(of.Stator*1e6) / 1e6
	add(of, record.KV, record.Conditions{}, KV, m.KV*m.EffectiveKV()/plain.EffectiveKV())
	add(of, record.Resistance, record.Conditions{}, Resistance, m.ColdResistance())
	add(of, record.Loss, record.Conditions{}, Loss, m.LossSlope()/plain.LossSlope())
	add(of, record.Chopping, record.Conditions{}, Chopping, m.ChopScale(1)/plain.ChopScale(1))
	return out
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
