package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"

	"rotorsieve/model"
	"rotorsieve/model/rotor"
)

const pointsUsage = "CSV of propellers measured at rest, columns diameter_in, pitch_in, blades, rpm, thrust_N or thrust_g, power_W or torque_Nm"

// readSpecimens reads the file of --rotor-points.
func readSpecimens(path string) ([]rotor.Specimen, error) {
	f, err := openTable(path)
	if err != nil {
		return nil, fmt.Errorf("--rotor-points %s: %w, want a CSV of measurements", path, err)
	}
	defer f.Close()
	return rotor.ReadPoints(bufio.NewReader(f), path)
}

// openTable opens a file to read; the error does not say the path.
func openTable(path string) (*os.File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, cause(err)
	}
	if at, err := f.Stat(); err == nil && at.IsDir() {
		return nil, errors.Join(errors.New("is a folder"), f.Close())
	}
	return f, nil
}

// calibrate corrects the generic blade by each specimen of the file at path.
func calibrate(path string, all []rotor.Specimen) ([]model.Measured, error) {
	var out []model.Measured
	for _, s := range all {
		m, err := model.Calibrate(s)
		if err != nil {
			return nil, specimenError(path, &s, err)
		}
		out = append(out, m)
	}
	return out, nil
}

// specimenError names the propeller and where its measurements begin.
func specimenError(path string, s *rotor.Specimen, err error) error {
	return fmt.Errorf("%s:%d: propeller %.4g x %.4g in, %d blades: %w", path, s.Line, s.Diameter/0.0254, s.Pitch/0.0254, s.Blades, err)
}
