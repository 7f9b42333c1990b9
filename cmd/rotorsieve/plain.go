package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// portable refuses a name of a file or folder that cannot be one on every system.
func portable(name string) error {
	switch base, _, _ := strings.Cut(name, "."); {
	case device.MatchString(strings.TrimRight(base, " ")):
		return fmt.Errorf("%q is the name of a device on Windows, want another", name)
	case strings.HasSuffix(name, "."), strings.HasSuffix(name, " "):
		return fmt.Errorf("%q ends in what Windows drops, want no dot or space there", name)
	}
	return nil
}

// device is a name that Windows keeps, with any extension (common practice).
var device = regexp.MustCompile(`(?i)^(con|prn|aux|nul|(com|lpt)[0-9¹²³]|con(in|out)\$)$`)

// portablePath is portable for those folders and files of a path that are to be made:
// those that exist are the user's.
func portablePath(path string) error {
	path = filepath.Clean(path)
	if made, err := os.Stat(path); err == nil && made.IsDir() {
		return nil
	}
	folder, name := filepath.Split(path)
	if folder = filepath.Clean(folder); folder != path {
		if err := portablePath(folder); err != nil {
			return err
		}
	}
	if name == ".." || name == "" {
		return nil
	}
	return portable(name)
}
