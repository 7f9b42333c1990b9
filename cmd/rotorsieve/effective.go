package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"rotorsieve/sweep"
)

// effective lists the flags that reproduce the study, and those of them that
// have their default, whoever set them: a run from its effective flags must
// not differ from the first.
func (s *studyFlags) effective(st *sweep.Study) (flags, defaults []string) {
	add := func(name, value string, standing bool) {
		flags = append(flags, "--"+name+"="+value)
		if standing {
			defaults = append(defaults, "--"+name+"="+value)
		}
	}
	ofRun := pflag.NewFlagSet("run", pflag.ContinueOnError)
	new(sweepOptions).declare(ofRun, ofRun)
	s.all.VisitAll(func(f *pflag.Flag) {
		if ofRun.Lookup(f.Name) != nil {
			return // it does not change what is found
		}
		text := f.Value.String()
		standing := text == f.DefValue
		if d, ok := sweep.LookupAxis(f.Name); ok {
			if s.stands(d) {
				add(f.Name, text, standing || text == s.under(d))
			}
			return
		}
		if path, ok := s.listed[f.Name]; ok {
			if *path != "" && *path != noFile {
				add(f.Name, text, false)
			}
			return
		}
		switch f.Name {
		case "like":
			add(f.Name, likeText(s.assume.Like), standing)
		case "merit":
			for _, t := range st.Merit {
				add(f.Name, termText(t), standing && len(s.like) == 0)
			}
		case "require":
			for _, r := range st.Require {
				add(f.Name, requirementText(r), r.Default)
			}
			for _, text := range s.require.liftedDefaults() {
				add(f.Name, text, false)
			}
		case "map":
			for _, m := range s.maps {
				add(f.Name, mapText(m), standing)
			}
			if len(s.maps) == 0 {
				add(f.Name, none, false)
			}
		case "rotor-points": // the fingerprint has what the file says
			if text != "" {
				add(f.Name, text, false)
			}
		case "part":
			for _, name := range s.picks {
				add(f.Name, name, false)
			}
		case "parts-hash":
			for _, l := range s.lists {
				add(f.Name, l.Kind+"="+l.SHA256, false)
			}
		case "file-hash":
			for _, h := range s.held.noted {
				add(f.Name, h.key+"="+h.sum, false)
			}
		case "measured":
			for _, file := range s.records {
				add(f.Name, file, false)
			}
		case "over":
			if len(st.Others) > 0 {
				add(f.Name, text, standing)
			}
		case "name":
			add(f.Name, st.Name, false)
		default:
			if l, ok := f.Value.(interface{ GetSlice() []string }); ok {
				if f.Name == "front" {
					standing = text == s.frontDefault()
				}
				for _, v := range l.GetSlice() {
					add(f.Name, v, standing)
				}
				return
			}
			add(f.Name, text, standing)
		}
	})
	return flags, defaults
}

func mapText(m sweep.MapSpec) string {
	if m.X == nil {
		return allMaps
	}
	s := m.X.Name + "," + m.Y.Name
	if m.Metric != nil {
		s += ":" + m.Metric.Name
	}
	return s
}

func termText(t sweep.Term) string {
	return fmt.Sprintf("%s:%g:%s:%s", t.Metric.Name, t.Weight, valueText(t.Metric, t.Worst),
		valueText(t.Metric, t.Best))
}

func requirementText(r sweep.Requirement) string {
	return r.Metric.Name + side(r.AtLeast) + valueText(r.Metric, r.Bound)
}
