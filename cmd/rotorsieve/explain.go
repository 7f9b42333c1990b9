package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"rotorsieve/model"
	"rotorsieve/report"
	"rotorsieve/report/figure"
	"rotorsieve/report/screen"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

const explainHead = `rotorsieve explain computes one design and prints its masses, operating points
and limits. It takes the flags of a study, each axis with one value; a study's
flag file may be given first and made single on the command line. What such a
file says of ranking, files and the run is passed over. It ends with status 1
where a requirement is not kept, and names it.

  rotorsieve explain --diameter 5in --stator 2207 --kv 1300 --why
  rotorsieve explain @configs/ridge-scout.flags --diameter 5in \
      --pitch-ratio 0.8 --blades 3 --stator 2207 --kv 1300 --cells 6 \
      --capacity 1300mAh --payload 60g --class 900g

With --format json it writes one object with the same members for every design:
design, named_parts (those that exist, by kind and name), inputs, assumptions,
air, masses, parts (what goes into the formulas),
operating_points, hover_power (where it goes), no_operating_point (why there is
none), metrics, limited_by, class, requirements, validity, warnings, extrapolations
(what is beyond the measurements of its size, by theory: ~ in the text) and
cautions. A number of inputs, assumptions, air, masses, parts, hover_power and
metrics holds value and unit (SI, but rpm), shown (as in the text), title, symbol,
meaning, formula, worked (the formula with its values put in, in the units of
shown) and source, so that --why adds nothing. The thrust of an operating point is
the mass that it would hold. A requirement holds metric, sense, bound, value, unit,
kept and default. What is not kept is named on stderr as well.
`

// sheetOptions say how the sheet of one design is printed.
type sheetOptions struct {
	format string
	draw   drawing
	why    bool
	cache  cacheFlag
}

func explainCommand() *cobra.Command {
	s := newStudyFlags("explain", oneDefaults)
	f := s.group("Output")
	over := s.passed()
	s.output(over)
	new(sweepOptions).declare(over, over)
	var o sheetOptions
	f.Var(newFormat(&o.format), "format", "text or json (SI units)")
	f.BoolVar(&o.why, "why", false, "formula and source of each number, which json always has")
	s.choice.declareSpread(f)
	o.cache.declare(f)
	o.draw.declare(f, "for rotor.png, the curves of the propeller with hover and full throttle, "+
		"and envelope.png, its level flight")
	return s.command(&cobra.Command{
		GroupID: ofDesigns, Short: "compute one design and print every number", Long: explainHead,
	}, func(c *cobra.Command, _ []argument) error {
		return explain(c.Context(), s, &o, c.OutOrStdout(), c.ErrOrStderr())
	})
}

// explain computes the design that the flags state and prints its sheet.
func explain(ctx context.Context, s *studyFlags, o *sheetOptions, stdout, stderr io.Writer) error {
	s.name, s.maps = "explain", nil
	st, err := s.study()
	if err != nil {
		return err
	}
	for _, a := range st.Grid.Axes() {
		n := len(a.Values)
		if at := slices.IndexFunc(partKinds, func(k partKind) bool { return k.One == a.Def.Name }); n != 1 && at >= 0 {
			k := &partKinds[at]
			return fmt.Errorf("--%s %s: %d %s, want one: --part NAME picks it", k.Many, s.path(k), n, k.Many)
		}
		if n != 1 {
			return fmt.Errorf("--%s: %d values, want one: explain takes a single design", a.Def.Name, n)
		}
	}
	if err := o.draw.room(report.RotorName, report.EnvelopeName); err != nil {
		return err
	}
	if err := o.cache.serve(st.Model, false, stderr); err != nil {
		return err
	}
	learnt(stderr, st.Model.Assume.Evidence)
	d := st.Grid.Design(0)
	c, err := st.Model.Evaluate(d)
	operates := !errors.Is(err, model.ErrNoOperatingPoint)
	if err != nil && operates {
		return err
	}
	if operates {
		c.Explain()
	}
	if s.origin("class") == "default" {
		st.Classes = nil // none was asked for
	}
	if len(st.Classes) == 1 {
		c.Limit = st.Classes[0].Limit
	}
	st.Require = slices.DeleteFunc(st.Require, func(r sweep.Requirement) bool {
		return r.Metric.ByClass && c.Limit == 0
	})
	if o.draw.folder != "" && operates {
		p := figure.CraftRotor(d, c)
		if _, err := report.WriteRotor(o.draw.folder, &p); err != nil {
			return fmt.Errorf("--draw %s: %w, want a folder to write in", o.draw.folder, cause(err))
		}
		if _, err := report.WriteEnvelope(o.draw.folder, d, c); err != nil {
			return fmt.Errorf("--draw %s: %w, want a folder to write in", o.draw.folder, cause(err))
		}
	}
	over, err := s.choice.spread(ctx, st, d, c, operates)
	if err != nil {
		return err
	}
	if o.format == "json" {
		err = screen.DataSheetJSON(stdout, d, c, over, st.Require...)
	} else {
		err = screen.DataSheet(stdout, d, c, o.why, over, st.Require...)
	}
	if err != nil {
		return err
	}
	if o.format == "json" {
		stdout = stderr // the object is whole; what is not kept stands beside it
	}
	if err := unkept(stdout, st, c, operates); err != nil {
		return err
	}
	if !operates {
		return errUnkept // which the sheet says
	}
	return nil
}

// unkept names each requirement that the craft does not keep, of its mass alone
// where it does not operate.
func unkept(w io.Writer, st *sweep.Study, c *model.Craft, operates bool) error {
	var lines []string
	for _, k := range st.Classes {
		if c.Mass > k.Limit {
			lines = append(lines, fmt.Sprintf("class %s: all-up weight is %.4g g, want at most %.4g g",
				words.ClassLabel(k), c.Mass*1e3, k.Limit*1e3))
		}
	}
	for _, r := range st.Require {
		if !operates && r.Metric.Stage > model.StageMass {
			continue // the sheet says why there is no such number
		}
		if v := r.Metric.Of(c); !r.Kept(v) {
			lines = append(lines, fmt.Sprintf("%s: %s is %s", requirementText(r), r.Metric.Name,
				r.Metric.Unit.Format(v, 4)))
		}
	}
	if len(lines) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nRequirements not kept:")
	for _, l := range lines {
		fmt.Fprintln(w, "  "+l)
	}
	return errUnkept
}
