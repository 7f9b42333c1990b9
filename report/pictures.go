package report

import (
	"bytes"
	"context"
	"io"
	"path/filepath"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep/abandon"
	"rotorsieve/sweep/whole"
)

// Names of the pictures of one design, propeller or stand in their folder.
const (
	EnvelopeName = "envelope.png"
	RotorName    = "rotor.png"
	StandName    = "stand.png"
)

// WriteEnvelope draws the level flight of one design into envelope.png in a
// folder, which it makes where it is missing, and returns the path: "" for a
// craft that does not fly level.
func WriteEnvelope(ctx context.Context, dir string, d model.Design, c *model.Craft) (string, error) {
	if !c.Flight.OK || c.Flight.Top.Airspeed == 0 {
		return "", nil
	}
	one := []figure.Flown{{Craft: c, Class: words.Mass(c.Mass) + words.Star(len(c.Warnings()) > 0),
		Limits: []string{words.Mass(c.Mass)}}}
	f := figure.Envelope(one, figure.EnvelopeTitle(one), words.Design(d))
	return writePicture(ctx, dir, EnvelopeName, f)
}

// WriteRotor draws the curves into rotor.png in a folder, which it makes where
// it is missing, and returns the path.
func WriteRotor(ctx context.Context, dir string, r *figure.RotorCurves) (string, error) {
	f, err := r.Figure()
	if err != nil {
		return "", err
	}
	return writePicture(ctx, dir, RotorName, f)
}

// WriteStand draws the curves into stand.png in a folder, which it makes where it is
// missing, and returns the path.
func WriteStand(ctx context.Context, dir string, s *figure.StandCurves) (string, error) {
	f, err := s.Figure()
	if err != nil {
		return "", err
	}
	return writePicture(ctx, dir, StandName, f)
}

// writePicture draws a figure in memory and writes it at once, so that nothing lies half
// written where the drawing is abandoned.
func writePicture(ctx context.Context, dir, name string, f *chart.Figure) (string, error) {
	var b bytes.Buffer
	if err := f.WritePNG(&b); err != nil {
		return "", err
	}
	var file finding.FileRecord
	err := abandon.Finish(ctx, func() (err error) {
		whole.Clear(filepath.Join(dir, name)) // nothing locks the folder
		file, err = writeFile(ctx, dir, name, func(w io.Writer) error { _, err := b.WriteTo(w); return err })
		return err
	})
	return filepath.Join(dir, file.Name), err
}
