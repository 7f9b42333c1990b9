package main

import (
	"strings"

	"rotorsieve/report/texts"
)

// objectFields are the fields of the objects that --progress json writes, by type.
var objectFields = []struct{ of, name, meaning string }{
	{"all", "type", "status, note, error or summary"},
	{"", "time", "when it was said, RFC 3339 in UTC"},
	{"status", "study", "its name, with the shard"},
	{"", "phase", "start, join (of shards), sweep, choice, dump or report"},
	{"", "elapsed_s", "since the phase began"},
	{"", "designs_done, designs_total", "of sweep and dump"},
	{"", "feasible", "in at least one class, so far"},
	{"", "designs_per_s, left_s", "null where nothing is known"},
	{"", "best", "so far, of each class that has one: class, diameter_m, merit"},
	{"", "builds_done, builds_total", "of choice"},
	{"note", "text", "what is said besides"},
	{"error", "text", "what is wrong, where, and what would be right"},
	{"", "exit_status", "what the command ends with"},
	{"summary", "study, folder, files", "what was written; of a shard, and where the report was not reached, no files"},
	{"", "complete", "whether all designs were judged"},
	{"", "designs_done, designs_total", "of the study or the shard"},
	{"", "classes", "class and feasible of each"},
	{"", "elapsed_s", "of the whole command"},
	{"", "exit_status", "what the command ends with"},
}

func progressText() string {
	var b strings.Builder
	b.WriteString(`sweep and merge say on standard error how far they are, in the form of --progress:

auto is a bar on a terminal and a line every 30 s elsewhere, plain such lines on a
terminal too, none leaves them out, and --quiet all notes besides. With json all of
standard error is JSON, one object a line: a status as each phase begins and once a
second, a note for what is said besides, an error, and at the end a summary of what
was found. An error in flags is one as well where --progress json stands on the
command line. Fields, of which later versions may have more:

`)
	var t texts.Listing
	last := ""
	for _, f := range objectFields {
		if f.of != "" {
			last = f.of
		}
		t.Add(last+": "+f.name, f.meaning)
	}
	b.WriteString(t.Text(setInMost))
	b.WriteString(`
--log FILE appends all that goes to standard error to a file, each line whole and
with its time before it (RFC 3339 in UTC), in words whatever --progress is; of a bar
it has the lines of plain. Shares of one study may append to one file. A file that
holds something else than such lines, or is among the run's own outputs, is refused.

SIGUSR1, and SIGINFO (Ctrl-T) on systems that have it, print one line that says how
far the command is, with --quiet too:

  kill -USR1 PID
`)
	return b.String()
}
