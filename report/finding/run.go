package finding

import (
	"slices"
	"time"

	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Run is one run of a study, with what a reader needs to know of how it came
// about.
type Run struct {
	Study  *sweep.Study
	Result *sweep.Result

	// Decision is what the spreads of the model make of the result, its classes as those
	// there; nil where it was not asked for or the run is unfinished.
	Decision *decide.Decision
	Draws    int // that were asked for, before there is a Decision; 0 for none

	Flags    []string // lines of a flag file that reproduces the study
	Paths    []string // names of the flags whose values are files to read
	Defaults []string // what was left at its default, for example "--pack-grade high-rate"
	Parts    []PartList
	Version  string // of the program
	Started  time.Time
	Host     string // where it ran; may be empty

	Figures []string // names of those to draw, UsualFigures or AllFigures; nil for the usual ones
	DPI     int      // of the figures, dots per inch; 0 for 200

	Dump *DumpRecord // where every feasible design is kept; nil for nowhere

	// Origin is how the run came about whose report this one writes again; nil for its own.
	Origin *OriginRecord
	Aside  []string // files of the user that made room for those of the report, by their new paths

	Undrawn   []string // figures left out, and why, as figure.Draw says
	Evaluator *sweep.Evaluator
	evaluated []Class // by class; see Findings
}

// PartList is a list of parts that exist, as a run has read it.
type PartList struct {
	Kind   string `json:"kind"` // as its flag: "motors"
	File   string `json:"file"` // as its flag names it
	SHA256 string `json:"sha256"`
	Parts  int    `json:"parts"`
}

// Among the names of the figures to draw these stand for those that follow from the study and
// its result, and for every one that the study can have.
const (
	UsualFigures = "usual"
	AllFigures   = "all"
)

// AsksFigures says whether some figure was asked for by its name.
func (r *Run) AsksFigures() bool {
	return slices.ContainsFunc(r.Figures, func(name string) bool { return name != AllFigures && name != UsualFigures })
}

// Names of the files of a report in its folder.
const (
	WorkbookName = "review.xlsx"
	RankingName  = "ranking.csv" // of all classes
	FrontName    = "front.csv"   // where the study has a front
	SizeName     = "size.csv"    // what the figure of sizes is drawn from

	// Where the run has a Decision: builds over the draws, and values of axes held against
	// the recommended build.
	RobustName     = "robust.csv"
	ConfidenceName = "confidence.csv"

	// What to measure of the recommended builds, in the form that --measured takes once it is filled in.
	TestPlanName = "test-plan.csv"

	FlagsName  = "effective.flags" // with which the study is run again
	RecordName = "run.json"        // RunRecord
)

// MaxRecord is more than the record of a run of the largest study has, in bytes.
const MaxRecord = 64 << 20

// AuditRecordOf is the self-audit of a run.
func AuditRecordOf(s *sweep.Study, a *sweep.Audit) AuditRecord {
	o := AuditRecord{Checked: a.Checked, Breaches: a.Breaches}
	if b := a.First; b != nil {
		u := ExportUnit(b.Metric)
		o.First = &BreachRecord{Index: b.Index, Metric: b.Metric.Name, AtLeast: b.Least,
			Bound: Quantity{OrNull(u.FromSI(b.Bound)), u.Symbol}, Value: Quantity{OrNull(u.FromSI(b.Value)), u.Symbol}}
		if len(s.Others) > 0 {
			o.First.Scenario = b.Scenario + 1
		}
	}
	return o
}
