package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// again says what a finished run, which r is to go on with, has to write again: a file is
// missing or was changed since, or it is asked for with other names or figures. It is ""
// where there is nothing.
func (f *folder) again(earlier *report.Earlier, r *finding.Run, names []string, d *dumpFlags) string {
	if earlier.Record == nil {
		return finding.RecordName + " is of another version"
	}
	why := append(earlier.Amiss(names), otherFlags(earlier.Record.Study.Flags, r.Flags)...)
	if lacks := d.lacks(earlier, f.dir); lacks != "" {
		why = append(why, lacks)
	}
	const most = 6
	if n := len(why); n > most {
		why = append(why[:most:most], fmt.Sprintf("and %d more", n-most))
	}
	return strings.Join(why, ", ")
}

// amiss tells what there is to write again, and gives the study whose state that is written
// from, nil for nothing. It errs where no checkpoint was kept, and where that lacks a map.
// What is written is of the run that found it.
func (f *folder) amiss(r *finding.Run, names []string, d *dumpFlags, stderr io.Writer) (*sweep.Study, error) {
	earlier := report.ReadEarlier(f.dir)
	why := f.again(earlier, r, names, d)
	if why == "" {
		return nil, nil
	}
	if !f.has(checkpointName) {
		return nil, place{"--out", f.dir}.errorf("%s, and no %s is there to write it from, "+
			"want it restored, or --force to run the study again", why, checkpointName)
	}
	of, err := f.kept(r.Study)
	if err != nil {
		return nil, err
	}
	if earlier.Record != nil {
		r.Origin, r.Dump = &earlier.Record.Run, earlier.Record.Dump
	}
	fmt.Fprintf(stderr, "rotorsieve: %s holds this study, finished, but %s: that alone is written again\n", f.dir, why)
	return of, nil
}

// otherFlags says in what flags a report is asked for that differ from those before.
func otherFlags(before, now []string) (out []string) {
	there := func(flags []string) map[string]bool {
		m := make(map[string]bool, len(flags))
		for _, f := range flags {
			m[f] = true
		}
		return m
	}
	was, is := there(before), there(now)
	for _, flag := range now {
		if !was[flag] {
			out = append(out, fmt.Sprintf("%.80q is asked for", flag))
		}
	}
	for _, flag := range before {
		if !is[flag] {
			out = append(out, fmt.Sprintf("%.80q was before", flag))
		}
	}
	return out
}

// tellAside says where files are now that were not the program's own.
func tellAside(w io.Writer, r *finding.Run) {
	for _, name := range r.Aside {
		fmt.Fprintf(w, "rotorsieve: what stood there and was not the program's own is now %s\n", name)
	}
}

// withCandidates is the study of a fingerprint that has this one's grid: it keeps candidates though nothing is
// chosen, as runs of before always did. It is the study itself where the fingerprint is not of that.
func withCandidates(st *sweep.Study, fingerprint string) *sweep.Study {
	if with := *st; with.Nominal {
		if with.Nominal = false; with.Fingerprint() == fingerprint {
			return &with
		}
	}
	return st
}

// gatheredAs is the study of a fingerprint with the maps, and with candidates or without, that flags ask for in
// place of its own.
func gatheredAs(st *sweep.Study, flags []string, fingerprint string) *sweep.Study {
	var specs []sweep.MapSpec
	asked := newMaps(&specs)
	for _, f := range flags {
		if text, ok := strings.CutPrefix(f, "--map="); ok && asked.Set(text) != nil {
			return st // of another version, or made up
		}
	}
	other := *st
	other.Maps, other.Nominal = nil, slices.Contains(flags, noDraws)
	for _, spec := range specs {
		if spec.X == nil {
			other.Maps = append(other.Maps, impliedMaps(st, specs)...)
		} else {
			other.Maps = append(other.Maps, spec)
		}
	}
	return withCandidates(&other, fingerprint)
}

// finishedAs is the fingerprint of the run of the study that the folder's record is of, be
// it with other maps; that of the study where it is of none.
func (f *folder) finishedAs(st *sweep.Study) string {
	if e := report.ReadEarlier(f.dir); e.Record != nil {
		if s := &e.Record.Study; gatheredAs(st, s.Flags, s.Fingerprint).Fingerprint() == s.Fingerprint {
			return s.Fingerprint
		}
	}
	return st.Fingerprint()
}

// kept is the study that the state in the folder is of, which may have more maps, and candidates. These are
// gathered as designs are judged: what it does not have is not made of it.
func (f *folder) kept(st *sweep.Study) (*sweep.Study, error) {
	state, err := sweep.ReadState(f.path(checkpointName))
	if err != nil {
		return nil, withFlags(err)
	}
	of := gatheredAs(st, state.Flags, state.Fingerprint)
	if of.Fingerprint() != state.Fingerprint {
		return st, nil // which the run refuses, and says why
	}
	if of.Nominal && !st.Nominal {
		return nil, place{"--out", f.dir}.errorf("the run there has kept no candidates to choose among (%s), "+
			"want another folder, or --force to run the study again", noDraws)
	}
	for _, m := range st.Maps {
		if mapAt(of.Maps, m) < 0 {
			return nil, place{"--out", f.dir}.errorf("the run there has gathered no map %s, want another folder, "+
				"or --force to run the study again", m.Name())
		}
	}
	return of, nil
}

// noDraws is the flag of a study that chooses nothing, as a record has it.
const noDraws = "--draws=0"

func mapAt(maps []sweep.MapSpec, m sweep.MapSpec) int {
	return slices.IndexFunc(maps, func(x sweep.MapSpec) bool { return x.Name() == m.Name() })
}

// narrow leaves of a result the maps of the study, in their order.
func narrow(k *sweep.Result, st *sweep.Study) {
	for i := range k.Classes {
		c := &k.Classes[i]
		var maps []sweep.Map
		for _, m := range st.Maps {
			at := slices.IndexFunc(c.Maps, func(x sweep.Map) bool { return x.Spec.Name() == m.Name() })
			if at < 0 {
				continue
			}
			x := c.Maps[at]
			x.Spec = m
			maps = append(maps, x)
		}
		c.Maps = maps
	}
}
