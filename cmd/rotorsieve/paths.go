package main

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"
)

// isPath says whether a flag takes paths of files to read.
func isPath(f *pflag.Flag) bool {
	switch v := f.Value.(type) {
	case *phrase:
		return v.read
	case *list[string]:
		return v.item == aFile
	}
	return false
}

// paths are the names of those flags.
func (g *flagGroups) paths() (names []string) {
	g.all.VisitAll(func(f *pflag.Flag) {
		if isPath(f) {
			names = append(names, f.Name)
		}
	})
	return names
}

// found are paths, with commas between, as they are written in a flag file: from its own
// folder where there is such a file, which is how a run writes them, and otherwise from that
// in which the program runs. On the command line they stay.
func (s *source) found(paths string) string {
	if s.file == "" {
		return paths
	}
	dir := filepath.Dir(s.file)
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real // a way up goes by what links lead to
	}
	parts := strings.Split(paths, ",")
	for i, p := range parts {
		p = strings.TrimSpace(p)
		beside := filepath.Join(dir, filepath.FromSlash(p))
		if _, err := os.Stat(beside); p != "" && !filepath.IsAbs(p) && err == nil {
			parts[i] = beside
		}
	}
	return strings.Join(parts, ",")
}
