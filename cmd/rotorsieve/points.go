package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
	"rotorsieve/model/table"
)

const (
	pointsUsage = "CSV of propellers measured at rest, columns diameter_in, pitch_in, blades, rpm, " +
		"thrust_N or thrust_g, power_W or torque_Nm"
	recordsUsage = "CSV of what was measured of propellers, motors, frames, packs and crafts, columns " +
		"kind, key, quantity, value, unit, sigma"
)

// evidenceFlags are the files of what was measured.
type evidenceFlags struct {
	points  string    // of --rotor-points
	records []string  // of --measured
	told    io.Writer // of what takes long; nil for nobody
	of      []string  // the kinds of parts that the command has; nil for all

	hashes *fileHashes // nil where files are not held against any

	unfilled []string // of the files that were read, what is left empty in each
}

// declare puts the flags into a group; effect says what measurements do there.
func (e *evidenceFlags) declare(f *pflag.FlagSet, effect string) {
	f.Var(newFile(&e.points), "rotor-points", pointsUsage+"; "+effect)
	f.Var(newFiles(&e.records), "measured", recordsUsage+
		"; they correct those parts and, less with distance, their neighbours; KV is on the label's scale, of which "+
		"the "+
		"model takes 0.86 under load; may be repeated")
}

// any says whether there are files.
func (e *evidenceFlags) any() bool { return e.points != "" || len(e.records) > 0 }

// files are those that are stated, for messages.
func (e *evidenceFlags) files() []string {
	if e.points == "" {
		return e.records
	}
	return append([]string{e.points}, e.records...)
}

// newFiles is the value of a flag that takes paths of files.
func newFiles(to *[]string) *list[string] {
	l := &list[string]{to: to, item: aFile, comma: true,
		parse: func(text string) (string, error) { return text, nil },
		clash: func(a, b string) error {
			if a == b {
				return errors.New("the same file twice, want each once")
			}
			return nil
		},
	}
	return l.start()
}

// read reads all files. Records of what the command does not have are left out, and counted;
// a file of nothing else is an error.
func (e *evidenceFlags) read() (specimens []rotor.Specimen, records []record.Record, left int, err error) {
	if e.points != "" {
		if specimens, err = readTable(e.hashes, "rotor-points", "--rotor-points", e.points, "measurements",
			rotor.ReadPoints); err != nil {
			return nil, nil, 0, err
		}
	}
	e.unfilled = nil
	for i, path := range e.records {
		empty := 0
		read := func(r io.Reader, name string) (all []record.Record, err error) {
			all, empty, err = record.ReadPlan(r, name)
			return all, err
		}
		all, err := readTable(e.hashes, fmt.Sprintf("measured:%d", i+1), "--measured", path, "records", read)
		if err != nil {
			return nil, nil, 0, err
		}
		if empty > 0 {
			e.unfilled = append(e.unfilled, fmt.Sprintf("%s: %d of %d values not filled in, left out", path, empty,
				empty+len(all)))
		}
		some := all
		if e.of != nil {
			some = slices.DeleteFunc(slices.Clone(all), func(r record.Record) bool {
				return !slices.Contains(e.of, r.Subject.Kind)
			})
		}
		if len(some) == 0 {
			r := &all[0]
			return nil, nil, 0, fmt.Errorf("%s: a %s says nothing here, and nor does any other record of the file; "+
				"want one of a %s, or the file in sweep or explain", r.Place, r.Subject.Kind,
				strings.Join(e.of, " or a "))
		}
		left += len(all) - len(some)
		records = append(records, some...)
	}
	return specimens, records, left, nil
}

// Fitting a propeller takes some 4 ms for each of its measurements, which is said of many.
const (
	manyMeasured   = 250
	perMeasurement = 4 * time.Millisecond
)

// evidence is what the files say under assumptions; nil where there are none.
func (e *evidenceFlags) evidence(a *model.Assumptions) (*model.Evidence, error) {
	if !e.any() {
		return nil, nil
	}
	specimens, records, _, err := e.read()
	if err != nil {
		return nil, err
	}
	if n := model.Measurements(specimens, records); n >= manyMeasured && e.told != nil {
		fmt.Fprintf(e.told, "rotorsieve: fitting propellers to %d measurements takes about %s; a mean at each speed "+
			"would tell as much\n",
			n, spell(time.Duration(n)*perMeasurement))
	}
	return model.EvidenceFor(a, specimens, records)
}

// readTable reads the file of a flag, which is of a key among those with hashes.
func readTable[T any](by *fileHashes, key, flag, path, what string, read func(r io.Reader, name string) ([]T,
	error)) ([]T, error) {
	f, done, err := by.open(key, flag+" "+path, path, table.MaxBytes)
	if err != nil {
		return nil, fmt.Errorf("%s %s: %w, want a CSV of %s", flag, path, err, what)
	}
	all, err := read(bufio.NewReader(f), path)
	if err == nil {
		err = done()
	}
	return all, errors.Join(err, f.Close())
}

// tellUnfilled prints how many records of each file have no value yet.
func (e *evidenceFlags) tellUnfilled(w io.Writer) {
	for _, line := range e.unfilled {
		fmt.Fprintln(w, "rotorsieve:", line)
	}
}

// learnt prints what is known of each thing measured.
func learnt(w io.Writer, e *model.Evidence) {
	for _, line := range e.Learnt() {
		fmt.Fprintln(w, "rotorsieve: learnt of", line)
	}
}

// ownSpecimen is the measured propeller with a diameter and number of blades,
// which a blade of the user's describes.
func ownSpecimen(files []string, all []rotor.Specimen, diameter float64, blades int) (*rotor.Specimen, error) {
	var own *rotor.Specimen
	for i := range all {
		s := &all[i]
		if s.Blades != blades || !sameSize(s.Diameter, diameter) {
			continue
		}
		if own != nil {
			return nil, fmt.Errorf("%s: another propeller of %.4g in and %d blades is at %s, "+
				"want the one that --blade describes", s.Place, s.Diameter/0.0254, s.Blades, own.Place)
		}
		own = s
	}
	if own == nil {
		return nil, fmt.Errorf("%s: no propeller of %.4g in and %d blades, "+
			"want measurements of the one that --blade describes",
			strings.Join(files, ", "), diameter/0.0254, blades)
	}
	return own, nil
}

// recordsText says what records hold, for the manual.
func recordsText() string {
	var said []string
	for _, kind := range record.Kinds {
		var names []string
		for _, q := range record.Quantities {
			if q.Kind == kind {
				names = append(names, q.Example())
			}
		}
		said = append(said, fmt.Sprintf("%s, key %s: %s", kind, record.ExampleKey(kind), strings.Join(names, ", ")))
	}
	return record.Header + " (of one standard deviation, in the unit of the value or as 3 %); kinds are " +
		strings.Join(said, "; ") + ". KV is on the scale of the label: under load the model takes 0.86 of it. " +
		"Chopping is a " +
		"factor on the model's loss at the pulse rate of the stand's controller; a craft of another rate takes it on " +
		"its own loss. Cooling is " + record.Cooling.Meaning + ". The mass of a frame is that " +
		record.FrameMass.Meaning + ", and is held against frames of the study's factor; that of a pack " +
		record.PackMass.Meaning + ". The resistance of a pack is " + record.PackResistance.Meaning +
		", and its current-limit the current " + record.CurrentLimit.Meaning + ". A pack that states no grade is " +
		"of the study's. Hover-power is the power " + record.HoverPower.Meaning + "; it corrects the propeller, with " +
		"all else as the model has it under the study's assumptions"
}
