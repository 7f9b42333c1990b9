package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// A list that is read is made again, item by item, by the texts it gives.
func FuzzLists(f *testing.F) {
	for i, text := range []string{"249g=scout,500g", "hover-time>=6min,auw<=240g", "hover-time:0.4:4min:12min",
		"diameter,kv:hover-time", "auw,range",
		"disk-loading=7.5g/in2,diameter=5in", "none", ",", "=", ">="} {
		f.Add(i%6, text)
	}
	f.Fuzz(func(t *testing.T, flag int, text string) {
		type value interface {
			pflag.Value
			GetSlice() []string
		}
		made := func() (value, func() string) {
			switch flag {
			case 0:
				to := new([]sweep.Class)
				return newClasses(to), func() string { return fmt.Sprint(*to) }
			case 1:
				to := new(requirements)
				return to, func() string { return fmt.Sprint(to.GetSlice()) }
			case 2:
				to := new(sweep.Merit)
				return newMerit(to), func() string { return fmt.Sprint(*to) }
			case 3:
				to := new([]sweep.MapSpec)
				return newMaps(to), func() string { return fmt.Sprint(*to) }
			case 4:
				to := new([]*model.Metric)
				return newFront(to), func() string { return fmt.Sprint(*to) }
			default:
				to := new([]likePart)
				return newLike(to), func() string { return fmt.Sprint(*to) }
			}
		}
		first, got := made()
		if first.Set(text) != nil {
			return
		}
		again, want := made()
		for _, v := range first.GetSlice() {
			if err := again.Set(v); err != nil {
				t.Fatalf("%q gives %q, which is not read: %v", text, v, err)
			}
		}
		if got() != want() {
			t.Fatalf("%q is %s, and from its own texts %s", text, got(), want())
		}
	})
}

// Whatever a flag file holds, it is refused in words or gives flags that stand
// where they say; written out again, one a line, they are the same flags.
func FuzzFlagFile(f *testing.F) {
	for _, text := range []string{"", "--a 1\n# no\n\n--b=2", "@other\n--a", "@fuzzed", "a", "--", "\x00", "\xff",
		"\ufeff--a 1\r\n--b\r\n", "--a\u00a0= @x"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		writeFiles(t, map[string]string{"fuzzed": text, "other": "--other 1\n"})
		flags, err := expandFlagFiles([]string{"@fuzzed"})
		if err != nil {
			if !strings.Contains(err.Error(), "fuzzed") {
				t.Fatalf("%q: %v does not name the file", text, err)
			}
			return
		}
		var again strings.Builder
		for _, a := range flags {
			if !strings.HasPrefix(a.text, "--") || strings.ContainsAny(a.text, "\n") {
				t.Fatalf("%q gives %q", text, a.text)
			}
			if a.from.file == "fuzzed" && (a.line < 1 || a.line > strings.Count(text, "\n")+1) {
				t.Fatalf("%q: %q is said to stand at %s", text, a.text, a.origin())
			}
			again.WriteString(a.text + "\n")
		}
		writeFiles(t, map[string]string{"fuzzed": again.String()})
		same, err := expandFlagFiles([]string{"@fuzzed"})
		if err != nil || len(same) != len(flags) {
			t.Fatalf("%q written out is %q: %d flags of %d, %v", text, again.String(), len(same), len(flags), err)
		}
		for i := range flags {
			if same[i].text != flags[i].text {
				t.Fatalf("%q becomes %q", flags[i].text, same[i].text)
			}
		}
	})
}

// Whatever stands on a command line, it is understood or refused in one line.
func FuzzArguments(f *testing.F) {
	for _, text := range []string{"sweep\n--diameter\n3:5:1in", "explain\n--kv=1750", "rotor\n--pitch\n4in",
		"merge\nout", "help\nunits", "sweep\n-q", "--\n--", "sweep\n--like=auw=1,diameter=5"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		args := strings.Split(text, "\n")
		for _, a := range args {
			if strings.HasPrefix(a, "@") {
				return // files are for FuzzFlagFile
			}
		}
		// A flag that ends every command, so that none is run.
		var stdout, stderr strings.Builder
		status := run(t.Context(), append(args[:1:1], append([]string{"--never"}, args[1:]...)...), &stdout, &stderr)
		if status == exitUnusable && strings.Count(stderr.String(), "\n") != 1 || status != exitUnusable &&
			status != exitDone {
			t.Fatalf("%q: status %d, %q", args, status, stderr.String())
		}
		s := newStudyFlags("sweep", sweepDefaults)
		s.output(s.group("Output"))
		expanded, err := expandFlagFiles(args[1:])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.parse(expanded); err == nil {
			_ = s.all.FlagUsages() // every value that was taken can be printed
		}
	})
}

// A line of a flag file keeps its name and its value, and stays one flag.
func FuzzJoinFlag(f *testing.F) {
	for _, line := range []string{"--a", "--a=1", "--a 1", "--a = 1", "--a\t=1 = 2", "--a=", "--=1"} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		line = strings.TrimSpace(line)
		if !strings.HasPrefix(line, "--") {
			return
		}
		joined := joinFlag(line)
		name, value, ok := strings.Cut(joined, "=")
		if !strings.HasPrefix(line, name) || strings.ContainsAny(name, " \t\n") {
			t.Fatalf("%q became %q", line, joined)
		}
		if ok && (!strings.HasSuffix(line, value) || value != strings.TrimSpace(value)) {
			t.Fatalf("%q became %q", line, joined)
		}
	})
}
