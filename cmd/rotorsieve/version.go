package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

const versionHead = `rotorsieve version prints the version of the program.

  rotorsieve version
`

func versionCommand() *cobra.Command {
	return newFlagGroups("version").command(&cobra.Command{
		GroupID: ofProgram, Short: "print the version", Long: versionHead,
	}, func(c *cobra.Command, _ []argument) error {
		_, err := fmt.Fprintln(c.OutOrStdout(), "rotorsieve", programVersion())
		return err
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
