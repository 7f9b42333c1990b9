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
	{exitUnusable, "a flag, a file or a folder that cannot be used: one line on standard error says what is wrong, " +
		"where, " +
		"and what would be right, and nothing is written; or standard output cannot be written"},
	{exitEarly, "ended early by a signal or --max-time: --resume goes on with a run or a shard; " +
		"what else was interrupted begins anew"},
	{exitAudit, "a self-audit failed: a bound by which designs are passed by did not hold; the results are written " +
		"and marked, " +
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

An interrupt, SIGTERM or the end of the terminal ends every command within about a
second; a second one ends it at once. nohup keeps the end of the terminal from it.
Files are written whole or not at all: where a report is interrupted, those that are
there are whole, and the state of the run is kept.

Where standard output cannot be written, as on a full disk, results that are written
as files stay, and 3 or 4 says more than 2. Where its reader has gone, as head goes,
nothing is said of it.

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

	errInterrupted = &exitError{exitEarly, "interrupted"}
)
