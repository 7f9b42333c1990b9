package main

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// dryRun prints what a run of the study would compute, without running it or
// writing anything: in words, or with --format json as an object.
func dryRun(stdout io.Writer, st *sweep.Study, s *studyFlags, o *sweepOptions) error {
	width := max(columns(stdout), helpWidth)
	var b strings.Builder
	told := finding.Object{{Name: "study", Value: st.Name}, {Name: "designs", Value: st.Grid.Size()}}
	tell := func(name string, v any) { told = append(told, finding.Member{Name: name, Value: v}) }
	fmt.Fprintf(&b, "%s: %s designs; nothing is run or written\n\n", st.Name, texts.Grouped(st.Grid.Size()))

	flags, defaults := s.effective(st)
	t, axes := s.axesForeseen(st, flags, defaults)
	b.WriteString(t.Text(width, "AXIS", "VALUES", "", "AS STATED"))
	tell("axes", axes)

	blocks, size, err := sweep.Blocks(st)
	if err != nil {
		return err
	}
	fmt.Fprintf(&b, "\nWorked through in %s %s of %s %s.\n", texts.Grouped(blocks),
		texts.Plural(int(min(blocks, 2)), "block", "blocks"),
		texts.Grouped(size), texts.Plural(int(min(size, 2)), "design", "designs"))
	tell("blocks", blocks)
	tell("block_designs", size)
	b.WriteString("\nChecked in this order; a design is counted at the first that it does not pass:\n\n")
	t, gates := gatesForeseen(st)
	b.WriteString(t.Text(width, "", "REQUIREMENT", "", "WANTS"))
	tell("requirements", gates)

	about, err := s.foresee(st, o)
	if err != nil {
		return err
	}
	b.WriteString("\n")
	t = texts.Listing{}
	var terms, maps, front []string
	for _, m := range st.Merit {
		terms = append(terms, termText(m))
	}
	for _, m := range st.Maps {
		maps = append(maps, m.Name())
	}
	for _, m := range st.Front {
		front = append(front, m.Name)
	}
	stated := s.stated(flags, defaults)
	for _, x := range stated {
		t.Add("stated", x)
	}
	if len(st.Others) > 0 {
		t.Add("scenarios", words.Scenarios(st))
	}
	t.Add("merit", strings.Join(terms, ", "))
	if price := words.PriceOf(st.Grid); price != "" {
		t.Add("price", price)
	}
	t.Add("ranking", fmt.Sprintf("the best %s of each class", texts.Grouped(uint64(st.Top))))
	t.Add("maps", listed(maps))
	t.Add("Pareto front", listed(front))
	t.Add("figures", listed(s.drawn()))
	tell("stated", stated)
	tell("merit", terms)
	tell("top", st.Top)
	tell("maps", finding.List(maps))
	tell("front", finding.List(front))
	tell("figures", finding.List(s.drawn()))
	shard := any(nil)
	if o.sharded() {
		t.Add("shard", o.place.String())
		shard = o.place.String()
	}
	workers := o.workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	t.Add("time", fmt.Sprintf("about %s with %d %s, %s of processor time, choice and report aside, as judged from "+
		"%s of trial", spellFinely(about.sweep.Time), workers, texts.Plural(workers, "worker", "workers"),
		spellFinely(about.sweep.CPU), spell(trial)))
	tell("shard", shard)
	tell("workers", workers)
	tell("sweep_s", threeDecimals(about.sweep.Time))
	tell("sweep_processor_s", threeDecimals(about.sweep.CPU))
	weighed, written := any(nil), any(nil)
	if c := about.choice; c != nil {
		t.Add("choice", fmt.Sprintf("about %s, %s of processor time: %s builds in %s draws, the best in more",
			spellFinely(c.Time), spellFinely(c.CPU), texts.Grouped(uint64(c.Builds)),
			texts.Grouped(uint64(s.choice.draws))))
		weighed = finding.Object{{Name: "time_s", Value: threeDecimals(c.Time)},
			{Name: "processor_s", Value: threeDecimals(c.CPU)},
			{Name: "builds", Value: c.Builds}, {Name: "draws", Value: s.choice.draws}}
	}
	if cost := about.report; cost == nil {
		t.Add("report", "none: rotorsieve merge writes it")
	} else {
		drawn := "no pictures"
		if cost.Pictures > 0 {
			drawn = fmt.Sprintf("%d %s of %s million dots in all", cost.Pictures,
				texts.Plural(cost.Pictures, "picture", "pictures"),
				strconv.FormatFloat(cost.Dots/1e6, 'f', 0, 64))
		}
		t.Add("report", fmt.Sprintf("%s; about %s of processor time and %s MB", drawn, spellFinely(cost.CPU),
			megabytes(cost.Memory)))
		written = finding.Object{{Name: "pictures", Value: cost.Pictures},
			{Name: "processor_s", Value: threeDecimals(cost.CPU)},
			{Name: "memory_MB", Value: math.Round(cost.Memory / 1e6)}}
	}
	standing := (&folder{dir: o.out}).standing(o, s.report(st))
	t.Add("memory", fmt.Sprintf("about %s MB; it does not grow with the grid", megabytes(about.memory)))
	t.Add("results", o.out+" "+standing)
	t.Add("dump", o.dump.text())
	t.Add("defaults", listed(defaults))
	tell("choice", weighed)
	tell("report", written)
	tell("memory_MB", math.Round(about.memory/1e6))
	tell("folder", filepath.ToSlash(o.out))
	tell("standing", strings.Trim(standing, "()"))
	tell("dump", o.dump.text())
	tell("defaults", finding.List(defaults))
	if o.format == "json" {
		return finding.WriteJSON(stdout, told)
	}
	b.WriteString(t.Text(width))
	_, err = io.WriteString(stdout, b.String())
	return err
}

// axesForeseen lists the axes of a study as they are stated.
func (s *studyFlags) axesForeseen(st *sweep.Study, flags, defaults []string) (t texts.Listing, all []finding.Object) {
	for _, a := range st.Grid.Axes() {
		if a.Of != nil {
			continue // its parts have it
		}
		name, stated, mark := a.Def.Name, "", ""
		of := func(k partKind) bool { return a.Def.IsPart() && k.One == name }
		if at := slices.IndexFunc(partKinds, of); at >= 0 {
			stated = s.path(&partKinds[at])
		} else {
			for _, f := range flags {
				if v, ok := strings.CutPrefix(f, "--"+name+"="); ok {
					stated = v
					break
				}
			}
			if slices.Contains(defaults, "--"+name+"="+stated) {
				mark = "default"
			}
		}
		t.Add(name, strconv.Itoa(len(a.Values)), mark, stated)
		all = append(all, finding.Object{{Name: "name", Value: name}, {Name: "values", Value: len(a.Values)},
			{Name: "stated", Value: stated}, {Name: "default", Value: mark != ""}})
	}
	return t, all
}

// gatesForeseen lists the requirements of a study in the order in which they are checked.
func gatesForeseen(st *sweep.Study) (t texts.Listing, all []finding.Object) {
	for i, g := range st.Gates() {
		wants, mark := "hover and full throttle exist", ""
		switch {
		case g.Requirement == nil && i == sweep.GateClass:
			var classes []string
			for _, c := range st.Classes {
				classes = append(classes, words.ClassName(c))
			}
			wants = "all-up weight within the limit, by class: " + strings.Join(classes, ", ")
		case g.Requirement != nil:
			if wants = requirementText(*g.Requirement); g.Requirement.Default {
				mark = "default"
			}
		}
		t.Add(strconv.Itoa(i+1), g.Name, mark, wants)
		all = append(all, finding.Object{{Name: "name", Value: g.Name}, {Name: "wants", Value: wants},
			{Name: "default", Value: mark != ""}})
	}
	return t, all
}

// stated lists the flags that were given, by where: one text for the command line and for
// each flag file, where a flag stands with the place that had the last word.
func (s *studyFlags) stated(effective, defaults []string) []string {
	var places []string
	given := map[string][]string{} // by place
	s.all.VisitAll(func(f *pflag.Flag) {
		a, ok := s.set[f.Name]
		if !ok || f.Name == "dry-run" {
			return
		}
		place := a.from.file
		if place == "" {
			place = "command line"
		}
		if _, ok := given[place]; !ok {
			places = append(places, place)
		}
		n := len(given[place])
		for _, e := range effective {
			byTool := f.Name == "require" && slices.Contains(defaults, e)
			if strings.HasPrefix(e, "--"+f.Name+"=") && !byTool {
				given[place] = append(given[place], e)
			}
		}
		if len(given[place]) == n { // it does not change what is found
			given[place] = append(given[place], "--"+f.Name+"="+f.Value.String())
		}
	})
	var out []string
	for _, p := range places {
		out = append(out, p+": "+strings.Join(given[p], ", "))
	}
	if out == nil {
		return []string{none}
	}
	return out
}

func megabytes(b float64) string { return strconv.FormatFloat(b/1e6, 'f', 0, 64) }

// standing says what is in the folder of the results, and what a run would say
// of it.
func (f *folder) standing(o *sweepOptions, r *finding.Run) string {
	force, resume := o.force, o.resume
	complete, of, broken := f.complete()
	unfinished := f.has(checkpointName) && !complete
	names := report.Names(r)
	switch {
	case unfinished && resume:
		return "(holds an unfinished run, which --resume goes on with)"
	case (unfinished || complete || broken != nil) && force:
		return "(holds an earlier run, which --force replaces)"
	case unfinished:
		return "(holds an unfinished run: a run there wants --resume or --force)"
	case broken != nil:
		return "(holds a " + finding.RecordName + " that cannot be read: a run there wants it restored or --force)"
	case complete && resume && of.fingerprint == f.finishedAs(r.Study):
		if why := f.again(report.ReadEarlier(f.dir), r, names, &o.dump); why != "" {
			return "(holds this study, finished, but " + why + ": that alone is written again)"
		}
		return "(holds this study, finished: nothing is left to do)"
	case complete:
		return "(holds the results of a run: another there wants --force)"
	}
	if err := f.room(force, names); err != nil {
		return "(cannot be written: " + strings.TrimPrefix(err.Error(), "--out "+f.dir+": ") + ")"
	}
	return "(free)"
}
