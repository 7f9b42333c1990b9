package report

import (
	"time"

	"rotorsieve/sweep"
)

// Run is one run of a study, with what a reader needs to know of how it came
// about.
type Run struct {
	Study  *sweep.Study
	Result *sweep.Result

	Flags    []string // lines of a flag file that reproduces the study
	Defaults []string // what was left at its default, for example "--pack-grade high-rate"
	Version  string   // of the program
	Started  time.Time
	Host     string // where it ran; may be empty

	Figures []string // names of those to draw, of FigureNames or AllFigures; nil for all usual ones
	DPI     int      // of the figures, dots per inch; 0 for 200

	undrawn   []string // figures left out, and why; see drawFigures
	evaluator *sweep.Evaluator
	evaluated []finding // by class; see findings
}

// Figure is one picture of a report.
type Figure struct {
	Name          string // path in the report's folder, for example "figures/size.png"
	Title         string // the finding or the question
	Caption       string
	PNG           []byte
	Width, Height int // pixels
}

// Names of the files of a report in its folder.
const (
	WorkbookName = "review.xlsx"
	RankingName  = "ranking.csv"
	FrontName    = "front.csv" // where the study has a front
	SizeName     = "size.csv"  // what the figure of sizes is drawn from
	FlagsName    = "effective.flags"
	RecordName   = "run.json"
)

// auditRecord is the self-audit of a run.
func auditRecord(a *sweep.Audit) AuditRecord {
	o := AuditRecord{Checked: a.Checked, Breaches: a.Breaches}
	if b := a.First; b != nil {
		u := exportUnit(b.Metric)
		o.First = &BreachRecord{Index: b.Index, Metric: b.Metric.Name, AtLeast: b.Least,
			Bound: quantity{orNull(u.FromSI(b.Bound)), u.Symbol}, Value: quantity{orNull(u.FromSI(b.Value)), u.Symbol}}
	}
	return o
}
