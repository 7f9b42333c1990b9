package words

import ()

// Deviation is the relative error of a quantity against measurements, in per cent:
// half of them are nearer than the median, nine of ten than the 90th percentile.
// The bias is their median with its sign, above 0 where the model says too much.
type Deviation struct{ Median, Ninety, Bias float64 }

// comparison is the error of the rotor model against wind-tunnel measurements of
// small propellers: of thrust and power coefficient and of CP/CT^1.5 at rest, and
// in axial flight where CT exceeds 0.3 of that at rest.
type comparison struct {
	Known          string // what of the propeller the model was told
	Propellers     int
	CT, CP         Deviation // at rest
	Hover          Deviation // of CP/CT^1.5 at rest, as which power goes for a given thrust
	WindCT, WindCP Deviation
}

// sizeBand is a range of diameters that errors are told by.
type sizeBand struct {
	name string
	has  func(inches float64) bool
}

// sizeBands are from the smallest to the largest.
var sizeBands = [...]sizeBand{
	{"below 7 in", func(D float64) bool { return D < 7-rounded }},
	{"7 to 10 in", func(D float64) bool { return D >= 7-rounded && D <= 10+rounded }},
	{"above 10 in", func(D float64) bool { return D > 10+rounded }},
}

const rounded = 1e-6 // in, by which a diameter in m may miss a round one

// bladeBands are the numbers of blades that errors are told by.
var bladeBands = [...]string{"two blades", "three and four blades"}

// sized is a comparison in each of sizeBands, and bladed in each of bladeBands.
type (
	sized  [len(sizeBands)]comparison
	bladed [len(bladeBands)]comparison
)

// comparisons are as the validation of package rotor measures them; a test holds
// them against its table for contributors.
var (
	bySize = comparison{"diameter, pitch and blades", 165, Deviation{9.0, 27.1, 1.4},
		Deviation{11.2, 28.5, -1.6},
		Deviation{11.7, 26.8, -0.2}, Deviation{12.5, 33.8, -6.4}, Deviation{11.0, 30.4, -3.7}}
	byChord = comparison{"diameter, pitch, blades and chord", 91, Deviation{6.4, 18.8, 0.3},
		Deviation{11.4, 27.5, -4.1},
		Deviation{9.3, 20.0, -2.0}, Deviation{13.3, 35.0, -7.3}, Deviation{13.6, 37.4, -8.0}}
	calibrated = comparison{"diameter, pitch, blades and one point at rest", 165, Deviation{1.8, 6.7, 0},
		Deviation{2.2, 8.2, -0.1},
		Deviation{2.9, 12.5, 0.2}, Deviation{6.6, 19.3, -2.7}, Deviation{5.8, 17.2, -0.7}}

	bySizeSized = sized{
		{bySize.Known, 23, Deviation{11.5, 38.8, -1.9}, Deviation{19.2, 51.6, -3.1},
			Deviation{11.4, 31.4, 1.2}, Deviation{15.6, 47.2, 2.1}, Deviation{18.1, 54.6, 4.5}},
		{bySize.Known, 77, Deviation{11.1, 27.4, 2.7}, Deviation{11.0, 27.4, -5.2},
			Deviation{11.1, 29.3, -4.8}, Deviation{12.9, 33.8, -4.7}, Deviation{10.9, 30.8, -5.3}},
		{bySize.Known, 65, Deviation{6.8, 21.9, 1.1}, Deviation{9.7, 24.3, 1.6},
			Deviation{12.5, 22.5, 5.2}, Deviation{11.8, 31.3, -9.0}, Deviation{9.9, 27.5, -2.7}},
	}
	bySizeBladed = bladed{
		{bySize.Known, 160, Deviation{8.7, 26.0, 1.5}, Deviation{11.0, 27.5, -1.6},
			Deviation{11.5, 26.3, -0.4}, Deviation{12.3, 33.7, -6.4}, Deviation{10.8, 30.2, -3.8}},
		{bySize.Known, 5, Deviation{19.9, 37.4, -10.0}, Deviation{24.6, 40.3, 6.6},
			Deviation{17.1, 32.7, 13.3}, Deviation{23.8, 44.0, 4.8}, Deviation{24.9, 37.4, 11.3}},
	}
	byChordSized = sized{
		{byChord.Known, 23, Deviation{10.4, 41.8, 4.8}, Deviation{19.6, 60.2, -5.0},
			Deviation{10.7, 21.7, -5.9}, Deviation{16.7, 67.7, 6.9}, Deviation{24.2, 67.5, 6.2}},
		{byChord.Known, 39, Deviation{5.5, 15.4, 0.9}, Deviation{8.7, 21.5, -2.1},
			Deviation{7.3, 20.1, -2.2}, Deviation{12.2, 32.1, -7.3}, Deviation{12.9, 33.4, -8.6}},
		{byChord.Known, 29, Deviation{6.2, 12.8, -3.2}, Deviation{10.8, 22.4, -6.3},
			Deviation{10.3, 19.4, 2.8}, Deviation{14.0, 29.6, -11.5}, Deviation{12.3, 29.3, -9.2}},
	}
	byChordBladed = bladed{
		{byChord.Known, 86, Deviation{6.2, 16.9, -0.5}, Deviation{11.4, 27.2, -4.9},
			Deviation{9.6, 20.1, -1.5}, Deviation{13.0, 34.5, -7.9}, Deviation{13.3, 36.7, -8.5}},
		{byChord.Known, 5, Deviation{16.1, 23.0, 16.1}, Deviation{19.4, 41.4, 19.4},
			Deviation{6.4, 14.2, -4.3}, Deviation{22.2, 51.7, 22.2}, Deviation{25.1, 55.4, 25.1}},
	}
	calibratedSized = sized{
		{calibrated.Known, 23, Deviation{2.5, 7.5, -0.7}, Deviation{2.9, 11.6, -0.6},
			Deviation{3.9, 11.3, 0.2}, Deviation{5.7, 26.4, -0.8}, Deviation{6.6, 22.9, 1.4}},
		{calibrated.Known, 77, Deviation{1.5, 6.1, 0.1}, Deviation{1.9, 6.5, 0},
			Deviation{2.5, 11.2, 0.1}, Deviation{6.3, 18.4, -1.3}, Deviation{5.5, 16.1, -0.7}},
		{calibrated.Known, 65, Deviation{1.8, 7.0, -0.1}, Deviation{2.4, 9.1, -0.4},
			Deviation{3.1, 15.4, 0.2}, Deviation{7.0, 19.4, -4.6}, Deviation{6.0, 16.8, -1.2}},
	}
	calibratedBladed = bladed{
		{calibrated.Known, 160, Deviation{1.7, 6.7, 0}, Deviation{2.2, 8.0, -0.1},
			Deviation{2.9, 12.6, 0.1}, Deviation{6.6, 19.1, -2.9}, Deviation{5.7, 16.9, -0.9}},
		{calibrated.Known, 5, Deviation{2.0, 7.1, -0.5}, Deviation{1.7, 12.5, -0.1},
			Deviation{1.8, 6.6, 0.6}, Deviation{10.6, 40.0, 10.6}, Deviation{11.2, 30.0, 10.8}},
	}
)

// Comparisons lists what is compared, each whole, then by size and by blades.
func Comparisons() []comparison {
	var out []comparison
	for _, k := range []struct {
		all    comparison
		sizes  sized
		blades bladed
	}{
		{bySize, bySizeSized, bySizeBladed},
		{byChord, byChordSized, byChordBladed},
		{calibrated, calibratedSized, calibratedBladed},
	} {
		out = append(out, k.all)
		for i, c := range k.sizes {
			c.Known += "; " + sizeBands[i].name
			out = append(out, c)
		}
		for i, c := range k.blades {
			c.Known += "; " + bladeBands[i]
			out = append(out, c)
		}
	}
	return out
}

// ComparisonNote heads a table of comparisons, comparisonSource names the measurements,
// and scatter is what bounds any model of a propeller known by its size.
const (
	ComparisonNote = "Relative error in per cent, by what the model was told of a propeller, for all, by size and by " +
		"blades (three and four are five propellers alone, four of them of research, whose chord does not follow the " +
		"trade's); the bias is the median with its sign, above 0 where the model says too much. Power to hover with " +
		"a " +
		"given thrust goes as CP/CT^1.5 at rest. " + scatter + " Source of the measurements: " + comparisonSource + "."
	comparisonSource = "J.B. Brandt, R.W. Deters, G.K. Ananda, O.D. Dantsker, M.S. Selig, " +
		"UIUC Propeller Database, Vols 1-3"
	scatter = "Two specimens of one propeller differ by 6 to 14 % in CT themselves."
)

// Misfit is the relative error of a quantity against a thrust stand, in per cent: mean,
// above 0 where the model says too much, and root mean square.
type Misfit struct{ Mean, RMS float64 }

// standing is the error of motor, controller and propeller, known by their labels,
// against a thrust stand: at full throttle at the measured voltage, and below it
// electrical power and thrust at the measured voltage and speed.
type standing struct {
	Propellers             string
	Rows                   int
	Speed, Current, Thrust Misfit // at full throttle
	Power, Lift            Misfit // below it
}

// The stands' errors, of 5 in with all blades and with each number of them, and of a
// stand whose voltage and current are not calibrated, as the validation of
// package model measures them; a test holds them against its table for contributors.
var (
	onStand = standing{"5 in", 942, Misfit{-0.3, 3.4}, Misfit{2.4, 11.4},
		Misfit{-1.7, 9.5}, Misfit{1.0, 12.7}, Misfit{-1.9, 7.7}}
	onStandBladed = [...]standing{ // two, three and four
		{"5 in, two blades", 299, Misfit{-1.1, 3.3}, Misfit{3.7, 11.3},
			Misfit{1.6, 8.7}, Misfit{2.3, 12.1}, Misfit{0.8, 5.3}},
		{"5 in, three blades", 483, Misfit{-0.5, 3.3}, Misfit{3.5, 11.7},
			Misfit{-5.1, 10.4}, Misfit{3.8, 12.8}, Misfit{-2.3, 8.6}},
		{"5 in, four blades (one propeller)", 160, Misfit{1.6, 3.6}, Misfit{-3.6, 10.8},
			Misfit{2.3, 7.7}, Misfit{-9.6, 13.5}, Misfit{-5.7, 8.4}},
	}
	onStandElsewhere = standing{"8 and 9.4 in, two blades, not calibrated", 24, Misfit{17.2, 17.6}, Misfit{6.9, 20.4},
		Misfit{23.2, 27.8}, Misfit{-25.8, 30.6}, Misfit{-12.2, 18.8}}
)

const (
	// StandNote says how to read the errors of the stands, and where they come from.
	StandNote = "Relative error in per cent of motor, controller and propeller known by their labels: at full " +
		"throttle at " +
		"the measured voltage, below it at the measured voltage and speed; the mean is above 0 where the model says " +
		"too " +
		"much. The electrical losses and the blades of more than two were fitted to the first source. Sources of the " +
		"measurements: P. Cao, J. Strawson, Motor and propeller testing, 2018 (8 motors of 18 to 23 mm, 6 propellers " +
		"of " +
		"5 in); Multi-robot Systems Group, Czech Technical University, Motor tests (8 and 9.4 in, voltage and " +
		"current " +
		"as the controller reports them)."

	// threeOverTwo is what three blades cost in electrical power over two of the same
	// pitch, at 100 to 250 g of thrust on one motor, in per cent: of two pitches each.
	threeOverTwoLow, threeOverTwoHigh           = 3.1, 6.6 // measured
	threeOverTwoModelLow, threeOverTwoModelHigh = 4.5, 5.6
)

// Standings lists the thrust stands' errors: 5 in with all blades, then by blades, and
// the stand that is not calibrated.
func Standings() []standing {
	return append(append([]standing{onStand}, onStandBladed[:]...), onStandElsewhere)
}
