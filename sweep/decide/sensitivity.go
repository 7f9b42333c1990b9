package decide

import (
	"cmp"
	"context"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// mostSensitivities is how many are kept.
const mostSensitivities = 20

// scores are merits of the builds that are told of, by models.
type scores struct {
	models int
	all    []outcome // [build*models + model]
}

func (r *runner) score(ctx context.Context, e ensemble, builds []*build) (*scores, error) {
	n := e.Draws()
	s := &scores{n, make([]outcome, len(builds)*n)}
	r.expect(s.models * len(builds))
	for i := range s.all {
		s.all[i].gate = sweep.GateOperating
	}
	return s, r.pass(ctx, e, builds, func(w *bench, k int, b *build, at int) { s.all[at*n+k] = w.judge(b) })
}

// first is the merit of the first build by a model, and the diameter of the best then, by
// rank among equals; 0 where all fail.
func (s *scores) first(builds []*build, m int) (merit, size float64) {
	best := -1
	for i := range builds {
		x := &s.all[i*s.models+m]
		if x.gate == kept && (best < 0 || x.merit > s.all[best*s.models+m].merit) {
			best = i
		}
	}
	if best >= 0 {
		size = builds[best].design.Diameter
	}
	return s.all[m].merit, size
}

// sensitivities are what each source of error and other assumptions move of the first of
// builds, with the pack that is bought then, and which size is the best of builds.
func (r *runner) sensitivities(ctx context.Context, builds []*build) ([]Sensitivity, error) {
	var all []Sensitivity
	m := r.nominal.model
	for _, from := range m.Sources() {
		all = append(all, Sensitivity{Name: from.Name, Meaning: from.Meaning})
	}
	s, err := r.score(ctx, shifts{r.nominal.models()}, builds)
	if err != nil {
		return nil, err
	}
	for i := range all {
		all[i].Low, all[i].LowSize = s.first(builds, 2*i)
		all[i].High, all[i].HighSize = s.first(builds, 2*i+1)
	}
	assumed, err := r.assumed(ctx, builds)
	if err != nil {
		return nil, err
	}
	all = append(all, assumed...)
	slices.SortStableFunc(all, func(a, b Sensitivity) int {
		return cmp.Compare(b.span(builds[0].nominal), a.span(builds[0].nominal))
	})
	return all[:min(mostSensitivities, len(all))], nil
}

// span is how far apart merits lie, that of the nominal model being one of them.
func (s *Sensitivity) span(nominal float64) float64 {
	low, high := min(s.High, nominal), max(s.High, nominal)
	if !s.Assumption {
		low, high = min(low, s.Low), max(high, s.Low)
	}
	return high - low
}

// alternative is another value of an assumption.
type alternative struct {
	of    string // name of the assumption
	text  string // its other value in place of its own
	with  model.Assumptions
	blows bool // the air is other, so that propellers are solved anew

	number int // among all that there are, whatever the bounds of some leave out
}

const (
	frameStep       = 0.2    // of the frame factor, either way
	airStep         = 15     // K, either way
	coldPack        = 278.15 // K
	warmPack        = 298.15 // K
	fullCharge      = 1.0
	halfCharge      = 0.5
	nearlyHalf      = 0.7 // a charge up to which full is the alternative, not half
	nearlyCold      = 283.15
	shownFigures    = 4
	inPlaceOf       = " in place of "
	grade           = "pack-grade"
	frameFactor     = "frame-factor"
	charge          = "charge"
	temperature     = "temperature"
	packAged        = "pack-aged"
	packTemperature = "pack-temperature"
)

// alternatives are other values that the assumptions of a study may as well have: the
// neighbouring grades of the same chemistry, a frame a fifth lighter or heavier, full or half
// charge at full throttle, warmer and colder air, a worn pack, and a cold one.
func alternatives(m *model.Model) (out []alternative) {
	number := 0
	quantity := func(name string, value float64) {
		number++
		d, _ := model.LookupAssumption(name)
		q, ok := d.Form.(*model.Quantity)
		if !ok || !q.Bound.Contains(value) {
			return
		}
		x := alternative{of: name, with: m.Assume, blows: name == temperature, number: number}
		was := *q.At(&x.with)
		if was == 0 && q.Known != nil {
			was = q.Known(m)
		}
		*q.At(&x.with) = value
		text := func(v float64) string { return q.Unit().Format(v, shownFigures) }
		if q.Kind == unit.Ratio && q.Shown == "" {
			text = func(v float64) string { return q.Unit().Number(v, shownFigures) }
		}
		x.text = text(value) + inPlaceOf + text(was)
		out = append(out, x)
	}
	a := &m.Assume
	at := slices.Index(pack.Grades, a.PackGrade)
	for _, i := range []int{at - 1, at + 1} {
		number++
		if i < 0 || i >= len(pack.Grades) || pack.Grades[i].Chemistry() != a.PackGrade.Chemistry() {
			continue
		}
		x := alternative{of: grade, text: pack.Grades[i].Name + inPlaceOf + a.PackGrade.Name, with: *a,
			number: number}
		x.with.PackGrade = pack.Grades[i]
		out = append(out, x)
	}
	quantity(frameFactor, a.FrameFactor*(1-frameStep))
	quantity(frameFactor, a.FrameFactor*(1+frameStep))
	if a.Charge > nearlyHalf {
		quantity(charge, halfCharge)
	} else {
		quantity(charge, fullCharge)
	}
	quantity(temperature, m.Air.Temperature-airStep)
	quantity(temperature, m.Air.Temperature+airStep)
	number++
	worn := alternative{of: packAged, text: "aged" + inPlaceOf + "new", with: *a, number: number}
	if a.PackAged {
		worn.text = "new" + inPlaceOf + "aged"
	}
	worn.with.PackAged = !a.PackAged
	out = append(out, worn)
	if a.PackTemperature > nearlyCold {
		quantity(packTemperature, coldPack)
	} else {
		quantity(packTemperature, warmPack)
	}
	return out
}

// alternativesIn are alternatives in all scenarios, by scenario: of what these do not differ in.
func alternativesIn(in []*model.Model) (out [][]alternative) {
	differ := model.Differing(in)
	for _, x := range alternatives(in[0]) {
		if slices.ContainsFunc(differ, func(d *model.AssumptionDef) bool { return d.Name == x.of }) {
			continue
		}
		every := []alternative{x}
		for _, m := range in[1:] {
			all := alternatives(m)
			at := slices.IndexFunc(all, func(o alternative) bool { return o.number == x.number })
			if at < 0 {
				break
			}
			every = append(every, all[at])
		}
		if len(every) == len(in) {
			out = append(out, every)
		}
	}
	return out
}

// models are those of a draw in all scenarios.
func (d *draw) models() []*model.Model {
	all := []*model.Model{d.model}
	for i := range d.others {
		all = append(all, d.others[i].model)
	}
	return all
}

// assumed are the sensitivities to other assumptions. Propellers and their flight follow
// from the air alone: in other air those of the first build and of the best of the next seven
// diameters by rank are solved anew, and the size is told of these; other assumptions are put upon
// the propellers that there are, for all builds.
func (r *runner) assumed(ctx context.Context, builds []*build) (out []Sensitivity, err error) {
	var same models
	var of []int
	in := r.nominal.models()
	all := alternativesIn(in)
	for i, every := range all {
		x := every[0]
		other, err := otherwise(in, every)
		if err != nil {
			return nil, err
		}
		out = append(out, Sensitivity{Name: x.of, Meaning: x.text, Assumption: true})
		if x.blows {
			if out[i].High, out[i].HighSize, err = r.inAir(ctx, other, builds); err != nil {
				return nil, err
			}
			continue
		}
		same, of = append(same, together(other, refitted)), append(of, i)
	}
	s, err := r.score(ctx, same, builds)
	if err != nil {
		return nil, err
	}
	for k, i := range of {
		out[i].High, out[i].HighSize = s.first(builds, k)
	}
	return out, nil
}

// otherwise are models with other assumptions.
func otherwise(in []*model.Model, every []alternative) (other []*model.Model, err error) {
	for n, of := range in {
		m, err := model.NewWith(every[n].with, of.Parameters())
		if err != nil {
			return nil, err
		}
		m.Store = of.Store
		other = append(other, m)
	}
	return other, nil
}

// airSizes is how many diameters are looked at in other air.
const airSizes = 8

// inAir scores the first build, and the best of some other diameters, by a model of other
// air, with the propellers solved in it.
func (r *runner) inAir(ctx context.Context, m []*model.Model, builds []*build) (merit, size float64, err error) {
	var some []*build
	has := map[float64]bool{}
	for _, b := range builds {
		if !has[b.design.Diameter] && len(some) < airSizes {
			has[b.design.Diameter] = true
			some = append(some, b)
		}
	}
	other := newRunner(r.rules, m, r.workers)
	other.stage, other.works = r.stage, r.works
	s, err := other.score(ctx, models{other.nominal}, some)
	if err != nil {
		return 0, 0, err
	}
	merit, size = s.first(some, 0)
	return merit, size, nil
}
