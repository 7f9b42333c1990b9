package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

const manHead = `rotorsieve man prints the manual page, in the man macros of roff. It is made of
the same text as the help.

  rotorsieve man > rotorsieve.1
`

func manCommand() *cobra.Command {
	return newFlagGroups("man").command(&cobra.Command{
		GroupID: ofProgram, Short: "print the manual page", Long: manHead,
	}, func(c *cobra.Command, _ []argument) error {
		_, err := io.WriteString(c.OutOrStdout(), manPage(c.Root()))
		return err
	})
}

// manPage is the manual page of the program in the macros of man(7).
func manPage(root *cobra.Command) string {
	var p page
	p.macro(".TH", "ROTORSIEVE", "1", "", "rotorsieve "+programVersion(), "User commands")
	p.macro(".nr HY 0") // names of flags and files are not to be broken, in paragraphs too
	p.macro(".nh")
	p.macro(".ad l")
	p.macro(".SH", "NAME")
	p.line("rotorsieve - sweep the design space of small electric multirotors")
	p.macro(".SH", "SYNOPSIS")
	p.line(root.Use)
	p.macro(".SH", "DESCRIPTION")
	p.prose(root.Long)
	p.macro(".SH", "COMMANDS")
	for _, c := range commandsOf(root) {
		m := manualOf(c)
		p.macro(".SS", c.Name())
		p.prose(m.prose)
		for _, fs := range m.groups {
			p.macro(".PP")
			p.line(fs.Name() + ":")
			fs.VisitAll(func(f *pflag.Flag) {
				p.macro(".TP")
				p.macro(".B", flagForm(f))
				p.text(flagText(f))
			})
		}
	}
	p.macro(".SH", "LISTS")
	p.prose(listHelp)
	for i := range topics {
		p.macro(".SH", topics[i].heading())
		p.prose(topics[i].text())
	}
	p.macro(".SH", "CAUTIONS")
	p.text(strings.Join(words.Cautions, " "))
	return p.b.String()
}

// page is roff that is being written.
type page struct{ b strings.Builder }

// macro writes a request with its arguments, each in quotes.
func (p *page) macro(name string, args ...string) {
	p.b.WriteString(name)
	for _, a := range args {
		fmt.Fprintf(&p.b, ` "%s"`, strings.ReplaceAll(roff(a), `"`, `\(dq`))
	}
	p.b.WriteByte('\n')
}

// line writes a line of running text.
func (p *page) line(text string) {
	text = roff(text)
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		text = `\&` + text // it would be read as a request
	}
	p.b.WriteString(text + "\n")
}

// text writes a paragraph that comes in one line.
func (p *page) text(text string) {
	for _, l := range texts.Wrap(text, helpWidth) {
		p.line(l)
	}
}

// prose writes the paragraphs of a manual, and as they stand the lines that are
// set in.
func (p *page) prose(text string) {
	const running, standing, between = 0, 1, 2
	state := between
	for line := range strings.Lines(filled(text)) {
		line = strings.TrimSuffix(line, "\n")
		switch in := strings.HasPrefix(line, "  "); {
		case line == "":
			if state == standing {
				p.macro(".EE")
				p.macro(".RE")
			}
			if state != between {
				p.macro(".PP")
			}
			state = between
		case in && state != standing:
			p.macro(".RS", "2")
			p.macro(".EX")
			state = standing
			p.line(line[2:])
		case in:
			p.line(line[2:])
		default:
			if state == standing {
				p.macro(".EE")
				p.macro(".RE")
			}
			state = running
			p.line(line)
		}
	}
	if state == standing {
		p.macro(".EE")
		p.macro(".RE")
	}
}

// roff keeps a text from being read as roff. Signs of flags are those that can
// be typed, not hyphens.
var roffSigns = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`, "°",
	`\(de`, "·", `\(pc`, "²", `\(S2`, "³", `\(S3`)

func roff(text string) string { return roffSigns.Replace(text) }
