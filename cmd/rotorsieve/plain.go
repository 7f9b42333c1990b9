package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// plain refuses what no name, label or path may hold: it would break a line, a terminal,
// a workbook or the flag file of a run.
func plain(text string) error {
	if !utf8.ValidString(text) {
		return errors.New("is not UTF-8, want plain text on one line")
	}
	for _, r := range text {
		what := ""
		switch {
		case unicode.IsControl(r):
			what = "a control character"
		case unicode.In(r, unicode.Zl, unicode.Zp):
			what = "a line break"
		case unicode.Is(unicode.Bidi_Control, r):
			what = "which turns the direction of text"
		case unicode.Is(unicode.Noncharacter_Code_Point, r):
			what = "which is no character"
		default:
			continue
		}
		return fmt.Errorf("holds %U, %s, want plain text on one line", r, what)
	}
	return nil
}

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
