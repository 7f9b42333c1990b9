package chart

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"
)

var update = flag.Bool("update", false, "write the golden picture anew")

// goldenFigure is small and has a bit of everything: bands, boundary, hatching,
// gates, overlays, callout, legend.
func goldenFigure() *Figure {
	f := mapFigure(1, short, 1)
	f.Width = 4.5
	return f
}

// goldenFigures are those whose pictures are kept, at screen resolution but for
// the first.
func goldenFigures() map[string]*Figure {
	out := map[string]*Figure{"golden": goldenFigure()}
	plain := plainSamples()
	for name, f := range map[string]*Figure{
		"strips": cellFigure(false), "cells": cellFigure(true), "tally": plain["tally-1"], "mass": plain["mass-1"],
		"front": plain["front"], "size": sizeFigure(3), "curves": plain["curves"], "multiples": plain["multiples"],
		"overlay": plain["overlay"], "areas": areaFigure(2), "lying": plain["lying"],
	} {
		f.DPI = 72
		out[name] = f
	}
	return out
}

func TestGolden(t *testing.T) {
	t.Parallel()
	for name, f := range goldenFigures() {
		file := filepath.Join("testdata", name+".png")
		if *update {
			write(t, f, file)
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var got bytes.Buffer
		if err := f.WritePNG(&got); err != nil {
			t.Fatal(err)
		}
		same, err := cmpimg.EqualApprox("png", got.Bytes(), want, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		if !same {
			if *pictures != "" {
				write(t, f, filepath.Join(*pictures, name+"-got.png"))
			}
			t.Errorf("picture differs from %s; look at it with -pictures, accept it with -update", file)
		}
	}
}
