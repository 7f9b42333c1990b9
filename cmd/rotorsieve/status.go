package main

import (
	"fmt"
	"strings"

	"rotorsieve/report/texts"
)

// Exit statuses of the program.
const (
	exitDone     = 0
	exitUnkept   = 1
	exitUnusable = 2
	exitEarly    = 3
	exitAudit    = 4
)

// exitStatuses is what they mean: in the help, the manual page, the doc comment of the
// program and README.md.
var exitStatuses = []struct {
	status  int
	meaning string
}{
	{exitDone, "done; a study of which no design is feasible is done as well"},
	{exitUnkept, "explain: the design does not keep a requirement, or does not fly"},
	{exitUnusable, "a flag, a file or a folder that cannot be used: one line on standard error says what is wrong, where, " +
		"and what would be right, and nothing is written"},
	{exitEarly, "a run, or a shard, that was ended early by an interrupt or --max-time: --resume goes on with it"},
	{exitAudit, "a self-audit failed: a bound by which designs are passed by did not hold; the results are written and marked, " +
		"and one line on standard error says what to report"},
}

// statusTable is the table of exit statuses for a help text.
func statusTable() string {
	var t texts.Listing
	for _, s := range exitStatuses {
		t.Add(fmt.Sprint(s.status), s.meaning)
	}
	return t.Text(setInMost)
}

func statusText() string {
	var b strings.Builder
	b.WriteString("What a command ends with, for scripts and job arrays:\n\n")
	b.WriteString(statusTable())
	b.WriteString(`
A self-audit: designs that by bounds on their flight cannot better anything are
passed by without being flown. The bounds are measured, with a margin, not
proved, so that about one in a thousand of these designs is flown all the same
and held against them. run.json has the count.

A shard that is not finished cannot be merged, which is status 2 of merge.

  rotorsieve help sweep
`)
	return b.String()
}

// exitError ends a command with an exit status, and a line on standard error where what
// it found is not said elsewhere.
type exitError struct {
	status int
	line   string
}

func (e *exitError) Error() string { return e.line }

var (
	errUnkept = &exitError{status: exitUnkept}
	errEarly  = &exitError{status: exitEarly}
)
