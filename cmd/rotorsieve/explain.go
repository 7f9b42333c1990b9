package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"rotorsieve/model"
	"rotorsieve/report"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/abandon"
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

Of a finished run it takes the folder in place of the flags, and gives the design
of a rank, or of an index of the grid; without either the build that the run
recommends, or else the first of the ranking. Flags beside it change the design or
what it is judged by. --against holds it against a second one: a rank of the same
run or the word recommended, the folder of another run, alone or with :RANK, or a
flag file. It prints both side by side, which is better and by which terms of the
merit, and, where the run has draws, in how many of them.

  rotorsieve explain out/ridge-scout --class 900g --rank 3
  rotorsieve explain out/ridge-scout --class 900g --against 2
  rotorsieve explain out/ridge-scout --class 900g --against out/heavier:1

With --format json it writes one object with the same members for every design:
design, run (where it is from), named_parts (those that exist, by kind and name),
inputs, assumptions, air, masses, parts (what goes into the formulas),
operating_points, hover_power (where it goes), no_operating_point (why there is
none), metrics, limited_by, class, requirements, validity, warnings, extrapolations
(what is beyond the measurements of its size, by theory: ~ in the text) and
cautions. A number of inputs, assumptions, air, masses, parts, hover_power and
metrics holds value and unit (SI, but rpm), shown (as in the text), title, symbol,
meaning, formula, worked (the formula with its values put in, in the units of
shown) and source, so that --why adds nothing. Under lists of --altitude and the
like, each combination of which is a scenario, all are told in the one of the least
merit, or in the first that breaks a requirement, and scenarios has what the design
is judged by in each, and which of them binds. The thrust of an operating point is
the mass that it would hold. A requirement holds metric, sense, bound, value, unit,
kept and default. What is not kept is named on stderr as well.
`

// sheetOptions say of which design a sheet is printed, and how.
type sheetOptions struct {
	format string
	draw   drawing
	why    bool
	cache  cacheFlag
	choose choosing
}

// explaining is one reading of the flags of explain.
type explaining struct {
	*studyFlags
	o sheetOptions
}

func newExplaining() *explaining {
	x := &explaining{studyFlags: newStudyFlags("explain", oneDefaults)}
	s, o := x.studyFlags, &x.o
	o.choose.declare(s.group("Design of a finished run"))
	f := s.group("Output")
	over := s.passed()
	s.output(over)
	new(sweepOptions).declare(over, over)
	f.Var(newFormat(&o.format), "format", "text or json (SI units)")
	f.BoolVar(&o.why, "why", false, "formula and source of each number, which json always has")
	s.choice.declareSpread(f)
	o.cache.declare(f)
	o.draw.declare(f, "for rotor.png, the curves of the propeller with hover and full throttle, "+
		"and envelope.png, its level flight")
	return x
}

func explainCommand() *cobra.Command {
	x := newExplaining()
	return x.command(&cobra.Command{
		GroupID: ofDesigns, Short: "compute one design and print every number", Long: explainHead,
		ValidArgsFunction: folders,
	}, func(c *cobra.Command, beside []argument) error {
		return x.explain(c.Context(), beside, c.OutOrStdout(), c.ErrOrStderr())
	})
}

// explain computes the design that the flags state, or that of a run, and prints its sheet,
// or holds it against another.
func (x *explaining) explain(ctx context.Context, beside []argument, stdout, stderr io.Writer) error {
	var a *taken
	err := abandon.Run(ctx, func() (err error) {
		a, err = x.take(beside)
		return err
	})
	if err != nil {
		return err
	}
	x = a.by
	o := &x.o
	if err := o.draw.room(report.RotorName, report.EnvelopeName); err != nil {
		return err
	}
	x.require.tell(stderr)
	x.tellUnfilled(stderr)
	learnt(stderr, a.study.Model.Assume.Evidence)
	if err := a.compute(&o.cache, stderr); err != nil {
		return err
	}
	if o.choose.against != "" {
		return x.versus(ctx, a, stdout, stderr)
	}
	st, d, c := a.study, a.design, a.craft
	if o.draw.folder != "" && a.operates {
		p := figure.CraftRotor(d, c)
		if _, err := report.WriteRotor(ctx, o.draw.folder, &p); err != nil {
			return fmt.Errorf("--draw %s: %w, want a folder to write in", o.draw.folder, cause(err))
		}
		if _, err := report.WriteEnvelope(ctx, o.draw.folder, d, c); err != nil {
			return fmt.Errorf("--draw %s: %w, want a folder to write in", o.draw.folder, cause(err))
		}
	}
	over, err := x.choice.spread(ctx, st, d, c, a.operates)
	if err != nil {
		return err
	}
	if o.format == "json" {
		err = screen.InHandJSON(stdout, a.of, d, c, finding.ScenariosOf(st, a.crafts), over, st.Require...)
	} else if err = screen.Taken(stdout, a.of, columns(stdout)); err == nil {
		err = screen.DataSheet(stdout, d, c, finding.ScenariosOf(st, a.crafts), o.why, over, st.Require...)
	}
	if err != nil {
		return err
	}
	if o.format == "json" {
		stdout = stderr // the object is whole; what is not kept stands beside it
	}
	if err := unkept(stdout, st, a.crafts, a.operates); err != nil {
		return err
	}
	if !a.operates {
		return errUnkept // which the sheet says
	}
	return nil
}

// unkept names each requirement that the craft does not keep in some scenario, of its mass alone
// where it does not operate.
func unkept(w io.Writer, st *sweep.Study, crafts []*model.Craft, operates bool) error {
	var lines []string
	for _, k := range st.Classes {
		if c := crafts[0]; c.Mass > k.Limit {
			lines = append(lines, fmt.Sprintf("class %s: all-up weight is %.4g g, want at most %.4g g",
				words.ClassLabel(k), c.Mass*1e3, k.Limit*1e3))
		}
	}
	for i, c := range crafts {
		where := ""
		if in := st.Models(); len(in) > 1 {
			where = ", " + model.ScenarioName(c.Model, in)
		}
		for _, r := range st.Require {
			if !operates && i == len(crafts)-1 && r.Metric.Stage > model.StageMass {
				continue // the sheet says why there is no such number
			}
			if v := r.Metric.Of(c); !r.Kept(v) {
				lines = append(lines, fmt.Sprintf("%s: %s is %s%s", requirementText(r), r.Metric.Name,
					r.Metric.Unit.Format(v, 4), where))
			}
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
