package main

import (
	"bufio"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep/whole"
)

const versionHead = `rotorsieve version prints the version of the program and of the model, whose
numbers change with it, what it was built with, and the processor: the last digits
of results may differ between kinds of processors.

  rotorsieve version
  rotorsieve version --format json
`

func versionCommand() *cobra.Command {
	g := newFlagGroups("version")
	var format string
	g.group("Output").Var(newFormat(&format), "format", "text or json")
	return g.command(&cobra.Command{
		GroupID: ofProgram, Short: "print the version", Long: versionHead,
	}, func(c *cobra.Command, _ []argument) error {
		return printVersion(c.OutOrStdout(), format)
	})
}

// version is stamped by the build.
var version = "dev"

// programVersion is the stamped version, or what the build knows of its source.
func programVersion() string {
	if version != "dev" {
		return version
	}
	if b, ok := debug.ReadBuildInfo(); ok {
		for _, s := range b.Settings {
			if s.Key == "vcs.revision" && len(s.Value) >= 12 {
				return "dev-" + s.Value[:12]
			}
		}
	}
	return version
}

func printVersion(stdout io.Writer, format string) error {
	modules := []finding.Object{}
	var lines []string
	if b, ok := debug.ReadBuildInfo(); ok {
		for _, m := range b.Deps {
			modules = append(modules, finding.Object{{Name: "path", Value: m.Path},
				{Name: "version", Value: m.Version}})
			lines = append(lines, m.Path+" "+m.Version)
		}
	}
	platform := runtime.GOOS + "/" + runtime.GOARCH
	if format == "json" {
		return finding.WriteJSON(stdout, finding.Object{{Name: "name", Value: "rotorsieve"},
			{Name: "version", Value: programVersion()}, {Name: "model", Value: model.Version},
			{Name: "go", Value: runtime.Version()}, {Name: "platform", Value: platform},
			{Name: "processor", Value: processor()}, {Name: "processors", Value: runtime.NumCPU()},
			{Name: "modules", Value: modules}})
	}
	var t texts.Listing
	t.Add("model", model.Version)
	t.Add("go", runtime.Version())
	t.Add("processor", strings.TrimSpace(fmt.Sprintf("%d, %s %s", runtime.NumCPU(), platform, processor())))
	for i, line := range lines {
		head := ""
		if i == 0 {
			head = "modules"
		}
		t.Add(head, line)
	}
	_, err := fmt.Fprint(stdout, "rotorsieve "+programVersion()+"\n"+t.Text(max(columns(stdout), helpWidth)))
	return err
}

// processor is the name that the system has of the processor; "" where it tells none.
func processor() string {
	const most = 1 << 20 // bytes
	f, err := whole.Open("/proc/cpuinfo", most)
	if err != nil {
		return ""
	}
	defer f.Close()
	s := bufio.NewScanner(io.LimitReader(f, most))
	for s.Scan() {
		if name, value, ok := strings.Cut(s.Text(), ":"); ok && strings.TrimSpace(name) == "model name" {
			return texts.OneLine(strings.TrimSpace(value))
		}
	}
	return ""
}
