package rotor

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/interp"

	"rotorsieve/model/record"
	"rotorsieve/model/table"
)

// Blade is the shape of a blade: chord over radius and pitch angle along the
// radius. It is immutable and may be copied. Between stations it is
// interpolated by monotone cubics (Fritsch, Butland, A method for constructing
// local monotone piecewise cubic interpolants, 1984), so that but for rounding it
// never overshoots the stations; outside them it is constant.
type Blade struct{ shape *shape }

type shape struct {
	chord, pitch interp.FritschButland
	stations     []float64 // all that the two follow from: every x, then every chord, then every pitch angle
	prior        *prior    // of a calibration
}

// At returns chord over radius and the pitch angle of the chord line in
// radians at x = r/R.
func (b Blade) At(x float64) (chord, pitch float64) {
	return b.shape.chord.Predict(x), b.shape.pitch.Predict(x)
}

// newBlade makes a blade of stations with x increasing.
func newBlade(x, chord, pitch []float64) (Blade, error) {
	s := shape{stations: slices.Concat(x, chord, pitch)}
	if err := errors.Join(s.chord.Fit(x, chord), s.pitch.Fit(x, pitch)); err != nil {
		return Blade{}, err
	}
	s.prior = &knownPrior
	return Blade{&s}, nil
}

// DefaultChord returns the usual chord over radius at 75 % radius of a propeller of
// a diameter in metres:
//
//	c75/R = 0.157 (D/8 in)^-0.30, from 8 in up; ^-0.22 below
//
// for two blades, and 0.76 of that for more: propellers on sale with more blades have
// narrower ones. The law for two is that of the scanned blades, below 8 in of the forces
// in the wind tunnel as well; the factor for more is from thrust stands with three and
// four blades of 5 in. Few other sizes with more than two were measured.
func (p *Parameters) DefaultChord(diameter float64, blades int) float64 {
	power := chordPower
	if diameter < smallDiameter {
		power = chordPowerSmall
	}
	c := p.Chord * math.Pow(diameter/chordDiameter, power)
	if blades > 2 {
		c *= p.ChordMore
	}
	return c
}

// TruePitch returns the pitch that the blade of a propeller known by its label alone
// has on average: that of the label from 8 in up, less below, where it goes with
// (D/8 in)^0.08, and 1.03 times as much with more than two blades. It
// belongs to DefaultChord: forces determine only both together, in the wind tunnel and on
// thrust stands, and where the chord is stated the pitch is better as it is stated.
func (p *Parameters) TruePitch(diameter, pitch float64, blades int) float64 {
	if diameter < smallDiameter {
		pitch *= math.Pow(diameter/smallDiameter, p.PitchSmall)
	}
	if blades > 2 {
		pitch *= p.PitchMore
	}
	return pitch
}

// rounded is how far a pitch over a diameter may be past a bound that it was computed
// to meet.
const rounded = 1e-9

// Generic returns the typical blade of small propellers for a diameter and a
// pitch in metres, as sold, a number of blades from 2 and a chord over radius at 75 %
// radius; chord 0 stands for DefaultChord. It errs outside a pitch of 0.1 to 2
// diameters and a chord of 0.03 to 0.5.
//
// Its planform is the mean of the scanned blades, its twist nearly their median over
// that of a helix: of the pitch that the label says on average where the chord is the
// usual one, see TruePitch, otherwise of that stated. It does not carry the means that
// the prior of Calibrate has for it: these tell where a propeller that was measured lies,
// help thrust and harm power. What errs most is the pitch angle itself, which the label
// tells to 1.5 degrees (1 sigma). DEVELOPERS.md has the errors and how it was chosen.
func (p *Parameters) Generic(diameter, pitch float64, blades int, chord float64) (Blade, error) {
	if !(diameter >= 0.02 && diameter <= 1) {
		return Blade{}, fmt.Errorf("rotor: diameter %g m: want 0.02 to 1 m", diameter)
	}
	if q := pitch / diameter; !(q >= 0.1-rounded && q <= 2+rounded) {
		return Blade{}, fmt.Errorf("rotor: pitch %.4g m is %.3g of the diameter: want 0.1 to 2", pitch, q)
	}
	chordKnown := chord != 0
	if !chordKnown {
		chord, pitch = p.DefaultChord(diameter, blades), p.TruePitch(diameter, pitch, blades)
	}
	if !(chord >= 0.03 && chord <= 0.5) {
		return Blade{}, fmt.Errorf("rotor: chord/radius %g at 75 %% radius: want 0.03 to 0.5", chord)
	}
	var planform, twist interp.FritschButland
	if err := errors.Join(planform.Fit(planformX[:], planformC[:]), twist.Fit(twistX[:], twistK[:])); err != nil {
		return Blade{}, err
	}
	x := make([]float64, len(planformX))
	c := make([]float64, len(x))
	beta := make([]float64, len(x))
	for i := range x {
		x[i] = planformX[i]
		c[i] = chord * planformC[i]
		beta[i] = twist.Predict(x[i]) * math.Atan(pitch/(math.Pi*x[i]*diameter))
	}
	b, err := newBlade(x, c, beta)
	if err != nil {
		return Blade{}, err
	}
	b.shape.prior = genericPrior(diameter, blades, chordKnown)
	return b, nil
}

// maxStations is more than a scan of a blade has.
const maxStations = 1000

// ReadBlade reads a blade's shape from CSV with the header r/R,c/R,beta: the
// radius and the chord over the tip radius, and the pitch angle of the chord
// line in degrees. Lines that start with # are comments. The radius must rise
// from at most 0.25 to at least 0.95 in 4 stations or more. Errors start with
// name and line.
func ReadBlade(r io.Reader, name string) (Blade, error) {
	in := table.NewReader(r, name, "want three fields r/R,c/R,beta")
	in.Uneven()
	var x, c, beta []float64
	line := 0
	fail := func(format string, args ...any) (Blade, error) {
		return Blade{}, fmt.Errorf("%s:%d: %s", name, line, fmt.Sprintf(format, args...))
	}
	header := true
	for {
		row, err := in.Next()
		if err == io.EOF {
			break
		} else if err != nil {
			return Blade{}, err
		}
		line = in.Line()
		if header {
			if by := record.Separated(row); by != "" {
				return fail("the columns are separated by %s, want commas", by)
			}
			if len(row) != 3 || row[0] != "r/R" || row[1] != "c/R" || row[2] != "beta" {
				return fail("header %.80s; want r/R,c/R,beta", fmt.Sprintf("%q", row))
			}
			header = false
			continue
		}
		if len(row) != 3 {
			return fail("%d fields; want 3: r/R,c/R,beta", len(row))
		}
		var v [3]float64
		for i, text := range row {
			if v[i], err = strconv.ParseFloat(text, 64); err != nil {
				return fail("%.80q is no number; want %s", text, [...]string{"r/R from 0 to 1", "c/R from 0 to 1",
					"beta in degrees"}[i])
			}
		}
		switch {
		case !(v[0] >= 0 && v[0] <= 1):
			return fail("r/R %g; want 0 to 1", v[0])
		case len(x) > 0 && v[0] <= x[len(x)-1]:
			return fail("r/R %g after %g; want it to increase", v[0], x[len(x)-1])
		case !(v[1] > 0 && v[1] <= 1):
			return fail("c/R %g; want above 0, at most 1", v[1])
		case !(v[2] >= -30 && v[2] <= 90):
			return fail("beta %g°; want -30 to 90", v[2])
		}
		if len(x) == maxStations {
			return fail("more than %d stations; want fewer", maxStations)
		}
		x = append(x, v[0])
		c = append(c, v[1])
		beta = append(beta, v[2]*deg)
	}
	switch {
	case header:
		line = 1
		return fail("no header; want r/R,c/R,beta")
	case len(x) < 4:
		return fail("%d stations; want at least 4", len(x))
	case x[0] > 0.25:
		return fail("the first station is at r/R %g; want it at 0.25 or less", x[0])
	case x[len(x)-1] < 0.95:
		return fail("the last station is at r/R %g; want it at 0.95 or more", x[len(x)-1])
	}
	return newBlade(x, c, beta)
}
