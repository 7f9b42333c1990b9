package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"rotorsieve/model/table"
	"rotorsieve/sweep/whole"
)

// Bounds on flag files, beyond which one is some other file or takes in others without end.
const (
	maxFlagFile  = 8 << 20   // bytes: the hashes of two files of each propeller of a long list
	maxFlagLine  = 128 << 10 // bytes: what systems take as one argument
	maxFileDepth = 8         // flag files that name flag files
	maxFlagFiles = 100       // that are read, each time anew
	maxFlags     = 40_000    // in all of them
)

// source is one reading of a flag file, or the command line where file is "".
type source struct{ file string }

// argument is one argument and where it was written.
type argument struct {
	text string
	from *source
	line int // in from.file, counted from 1
	turn int // in which it was read, among all flags
}

// origin says where the argument was written: "configs/a.flags:3" or "command line".
func (a argument) origin() string {
	if a.from.file == "" {
		return "command line"
	}
	return fmt.Sprintf("%s:%d", a.from.file, a.line)
}

// errorf is an error that begins with the place of the argument in its file;
// what stands on the command line is before the user's eyes already.
func (a argument) errorf(format string, args ...any) error {
	err := fmt.Errorf(format, args...)
	if a.from.file == "" {
		return err
	}
	return fmt.Errorf("%s: %w", a.origin(), err)
}

// expandFlagFiles replaces each argument @file before "--" by the flags in that
// file. A flag file has one flag a line, --name=value or --name value, where
// the name ends at the first space or equals sign and the value is the rest of
// the line as it stands, without quotes. @- is standard input. Lines that are blank or begin with #
// are skipped, and @file takes in another file, relative to the one it stands
// in, and so does the path of a file to read that is there; another is that of the folder
// in which the program runs. A value that begins with @ is written --name=@value.
func expandFlagFiles(args []string) ([]argument, error) {
	commandLine := new(source)
	var x expansion
	var all []argument
	for i, text := range args {
		a := argument{text: text, from: commandLine}
		switch {
		case text == "--":
			for _, rest := range args[i:] {
				all = append(all, argument{text: rest, from: commandLine})
			}
			return all, nil
		case strings.HasPrefix(text, "@"):
			flags, err := x.read(a, nil)
			if err != nil {
				return nil, err
			}
			all = append(all, flags...)
		default:
			all = append(all, a)
		}
	}
	return all, nil
}

// expansion counts what flag files have come to.
type expansion struct{ files, flags int }

// read reads the file that the argument at names. open are the files whose reading led
// to it.
func (x *expansion) read(at argument, open []string) ([]argument, error) {
	name := strings.TrimSpace(at.text[1:])
	if name == "" {
		return nil, at.errorf("@ without a file name, want @file")
	}
	if err := table.Plain(name); err != nil {
		return nil, at.errorf("flag file %.80q: %w", name, err)
	}
	path := filepath.Clean(name)
	if !filepath.IsAbs(path) && at.from.file != "" {
		path = filepath.Join(filepath.Dir(at.from.file), path)
	}
	if slices.Contains(open, path) {
		return nil, at.errorf("flag file %s takes itself in, want files that do not", path)
	}
	if len(open) == maxFileDepth {
		return nil, at.errorf("flag file %s is more than %d files deep, want fewer that take each other in", path,
			maxFileDepth)
	}
	if x.files++; x.files > maxFlagFiles {
		return nil, at.errorf("flag file %s is one of more than %d that are taken in, want fewer", path, maxFlagFiles)
	}
	read := func() (string, error) { return readText(path) }
	if name == "-" && at.from.file == "" {
		path, read = inputName, standardInput
	}
	text, err := read()
	if err != nil {
		return nil, at.errorf("flag file %s: %w", path, err)
	}

	from := &source{file: path}
	var all []argument
	n := 0
	for line := range strings.Lines(text) {
		n++
		a := argument{text: strings.TrimSpace(line), from: from, line: n}
		switch {
		case a.text == "" || a.text[0] == '#':
		case len(a.text) > maxFlagLine:
			return nil, a.errorf("a line of %d bytes, want up to %d", len(a.text), maxFlagLine)
		case a.text[0] == '@':
			flags, err := x.read(a, append(slices.Clip(open), path))
			if err != nil {
				return nil, err
			}
			all = append(all, flags...)
		case !strings.HasPrefix(a.text, "--") || len(a.text) == len("--"):
			return nil, a.errorf("%.80q is not a flag, want a line such as --diameter=5in, @file or # a comment",
				a.text)
		default:
			if x.flags++; x.flags > maxFlags {
				return nil, a.errorf("more than %d flags in files, want fewer", maxFlags)
			}
			a.text = joinFlag(a.text)
			all = append(all, a)
		}
	}
	return all, nil
}

// readText reads a flag file whole.
func readText(path string) (string, error) {
	b, err := whole.Read(path, maxFlagFile)
	if errors.Is(err, fs.ErrNotExist) {
		return "", errors.New("no such file, want the path of a file of flags")
	} else if err != nil {
		return "", fmt.Errorf("%w, want a file of flags", err)
	}
	return asText(b)
}

// inputName is that of standard input in messages.
const inputName = "standard input"

// standardInput reads standard input whole, once.
var standardInput = sync.OnceValues(func() (string, error) {
	b, err := io.ReadAll(io.LimitReader(os.Stdin, maxFlagFile+1))
	if err != nil {
		return "", fmt.Errorf("%w, want flags", cause(err))
	}
	if len(b) > maxFlagFile {
		return "", fmt.Errorf("more than %d bytes, want flags", maxFlagFile)
	}
	return asText(b)
})

// asText is what a flag file holds.
func asText(b []byte) (string, error) {
	b = bytes.TrimPrefix(b, []byte("\ufeff"))
	if !utf8.Valid(b) || bytes.IndexByte(b, 0) >= 0 {
		return "", errors.New("not a text file, want a file of flags")
	}
	return string(b), nil
}

// cause strips a path error of its path, which the caller says better.
func cause(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	return err
}

// joinFlag makes one argument --name=value of a line that has a value.
func joinFlag(line string) string {
	i := strings.IndexFunc(line, func(r rune) bool { return r == '=' || unicode.IsSpace(r) })
	if i < 0 {
		return line
	}
	name, value := line[:i], strings.TrimSpace(line[i:])
	return name + "=" + strings.TrimSpace(strings.TrimPrefix(value, "="))
}
