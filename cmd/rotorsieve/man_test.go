package main

import (
	"bytes"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// The manual page has every command, flag and topic, and no line is a request
// that was not meant as one.
func TestManPage(t *testing.T) {
	root := newRoot()
	page := manPage(root)
	for _, c := range commandsOf(root) {
		if !strings.Contains(page, "\n.SS \""+c.Name()+"\"\n") {
			t.Errorf("no section of %s", c.Name())
		}
		for _, fs := range groupsOf(c) {
			fs.VisitAll(func(f *pflag.Flag) {
				if !strings.Contains(page, "\n.B \""+roff("--"+f.Name)) {
					t.Errorf("%s --%s is missing", c.Name(), f.Name)
				}
			})
		}
	}
	for i := range topics {
		if !strings.Contains(page, "\n.SH \""+topics[i].heading()+"\"\n") {
			t.Errorf("no section of %s", topics[i].name)
		}
	}
	request := regexp.MustCompile(`^\.(TH|SH|SS|PP|TP|B|RS|RE|EX|EE|nh|nr HY 0|ad l)( ".*")*$`)
	depth := 0
	for line := range strings.Lines(page) {
		line = strings.TrimSuffix(line, "\n")
		if (strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'")) && !request.MatchString(line) {
			t.Errorf("a line would be read as a request: %s", line)
		}
		switch {
		case strings.HasPrefix(line, ".EX"):
			depth++
		case line == ".EE":
			depth--
		}
		if depth < 0 || depth > 1 {
			t.Fatalf("examples are %d deep at %s", depth, line)
		}
	}
	if depth != 0 {
		t.Error("an example is not ended")
	}
}

func TestProse(t *testing.T) {
	var p page
	p.prose("One line\nand another.\n\n  an example -x\n  .dot\n\nAfter it.\n")
	want := "One line and another.\n.PP\n.RS \"2\"\n.EX\nan example \\-x\n\\&.dot\n.EE\n.RE\n.PP\nAfter it.\n"
	if got := p.b.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Where there is a formatter, it has nothing to complain of and shows what the
// help shows.
func TestManPageFormats(t *testing.T) {
	groff, err := exec.LookPath("groff")
	if err != nil {
		t.Skip("no groff here")
	}
	c := exec.Command(groff, "-man", "-ww", "-Tascii", "-P-cbou", "-rLL=80n")
	c.Stdin = strings.NewReader(manPage(newRoot()))
	var out, complaints bytes.Buffer
	c.Stdout, c.Stderr = &out, &complaints
	if err := c.Run(); err != nil || complaints.Len() > 0 {
		t.Fatalf("%v\n%s", err, complaints.String())
	}
	for _, want := range []string{"--diameter VALUES\n", "hover-time>=6min", "rotorsieve sweep --class 249g\n",
		"EXIT STATUS", "disk-loading=7.5g/in2, "} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the page does not show %q", want)
		}
	}
	for line := range strings.Lines(out.String()) {
		if len(line) > helpWidth+1 {
			t.Errorf("a line of %d columns: %s", len(line)-1, line)
		}
	}
}
