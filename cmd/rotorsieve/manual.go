package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// manual is what the program says of one of its commands: help prints it, and man
// is made of it.
//
// In its prose a line that begins with two spaces stands as it is, as examples
// and tables do; the lines between make paragraphs.
type manual struct {
	prose  string
	groups []*pflag.FlagSet
}

// manualOf is the manual of a command.
func manualOf(c *cobra.Command) *manual { return &manual{c.Long, groupsOf(c)} }

// show prints the manual.
func (m *manual) show(stdout io.Writer) {
	fmt.Fprint(stdout, filled(m.prose))
	lists := false
	for _, fs := range m.groups {
		fmt.Fprintf(stdout, "\n%s:\n", fs.Name())
		fs.VisitAll(func(f *pflag.Flag) {
			if _, ok := f.Value.(renewer); ok {
				lists = true
			}
			printFlag(stdout, f)
		})
	}
	if lists {
		fmt.Fprintf(stdout, "\n%s", filled(listHelp))
	}
}

// filled breaks the paragraphs of prose at the width of help.
func filled(prose string) string {
	var b strings.Builder
	var paragraph strings.Builder
	end := func() {
		for _, l := range wrapped(paragraph.String(), helpWidth) {
			b.WriteString(l + "\n")
		}
		paragraph.Reset()
	}
	for line := range strings.Lines(prose) {
		if strings.TrimSpace(line) != "" && !strings.HasPrefix(line, "  ") {
			paragraph.WriteString(line)
			continue
		}
		end()
		b.WriteString(line)
	}
	end()
	return b.String()
}

const (
	helpWidth = 80
	setInMost = 73 // of lines that stand as they are: a manual page sets them in further
	flagWidth = 26 // of a flag and what it takes; a longer one has its own line
)

func printFlag(w io.Writer, f *pflag.Flag) {
	head := "  " + flagForm(f)
	indent := strings.Repeat(" ", flagWidth)
	for i, line := range wrapped(flagText(f), helpWidth-flagWidth) {
		switch {
		case i > 0:
			fmt.Fprintln(w, indent+line)
		case utf8.RuneCountInString(head)+2 > flagWidth:
			fmt.Fprintf(w, "%s\n%s%s\n", head, indent, line)
		default:
			fmt.Fprintf(w, "%-*s%s\n", flagWidth, head, line)
		}
	}
}

// flagForm is how a flag is written: "--altitude LENGTH".
func flagForm(f *pflag.Flag) string {
	s := "--" + f.Name
	if f.Shorthand != "" {
		s = "-" + f.Shorthand + ", " + s
	}
	if f.NoOptDefVal == "" {
		s += " " + strings.ToUpper(placeholder(f))
	}
	return s
}

// placeholder names what a flag takes: what stands between back quotes in its
// usage, or its type.
func placeholder(f *pflag.Flag) string {
	switch name, _ := pflag.UnquoteUsage(f); name {
	case "int":
		return "number"
	case "string":
		return "text"
	default:
		return name
	}
}

// flagText says what a flag does and what stands where it is not given.
func flagText(f *pflag.Flag) string {
	_, usage := pflag.UnquoteUsage(f)
	switch f.DefValue {
	case "", "false", none:
		return usage
	}
	return usage + " (default " + f.DefValue + ")"
}

// wrapped breaks a text between words into lines of up to width characters. A longer
// word is broken after its commas, and exceeds the width where it has none.
func wrapped(text string, width int) []string {
	var lines []string
	line := ""
	add := func(word, gap string) {
		if line != "" && utf8.RuneCountInString(line+gap+word) > width {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += gap
		}
		line += word
	}
	for _, word := range strings.Fields(text) {
		if utf8.RuneCountInString(word) <= width {
			add(word, " ")
			continue
		}
		gap := " "
		for part := range strings.SplitAfterSeq(word, ",") {
			add(part, gap)
			gap = ""
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
