package finding

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"rotorsieve/report/texts"
)

// RecordFormat is the version of RunRecord. It changes with what a member means and
// where one goes; not where one is added that a reader may do without.
const RecordFormat = 2

// RunRecord is run.json: what ran, what it found and the files it left. Only the
// member "run" differs between two runs of one study. Values are in SI units, but
// speeds of rotation in rpm.
type RunRecord struct {
	Format  int           `json:"format"` // RecordFormat of the version that wrote it; 0 before there was one
	Program ProgramRecord `json:"program"`
	Study   StudyRecord   `json:"study"`
	Result  ResultRecord  `json:"result"`
	Dump    *DumpRecord   `json:"dump,omitempty"` // nil for none
	Run     OriginRecord  `json:"run"`
	Files   []FileRecord  `json:"files,omitzero"` // in the order in which they were written; nil on a terminal
}

// ProgramRecord names the versions that ran.
type ProgramRecord struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Model   string `json:"model"`
	Go      string `json:"go"`
}

// StudyRecord is what was asked.
type StudyRecord struct {
	Name        string           `json:"name"`
	Fingerprint string           `json:"fingerprint"`
	Grid        GridRecord       `json:"grid"`
	Assumptions Named[any]       `json:"assumptions"`         // number, text or whether it holds
	Scenarios   []ScenarioRecord `json:"scenarios,omitempty"` // nil for one alone
	Over        string           `json:"over,omitempty"`      // what ranks a design over them
	Classes     []ClassRecord    `json:"classes"`
	Gates       []GateRecord     `json:"requirements"`
	Merit       []TermRecord     `json:"merit"`
	Maps        []string         `json:"maps"`
	Front       []string         `json:"front"`
	Top         int              `json:"top"`
	Defaults    []string         `json:"defaults"`        // flags that nobody set
	Flags       []string         `json:"flags"`           // that make the study again
	Parts       []PartList       `json:"parts,omitempty"` // lists of parts that exist; nil for none
	Draws       *DrawsRecord     `json:"draws,omitempty"` // nil without a decision
}

// ScenarioRecord is a scenario, with what scenarios differ in.
type ScenarioRecord struct {
	Name        string     `json:"name"`
	Assumptions Named[any] `json:"assumptions"`
}

// GridRecord is the design space.
type GridRecord struct {
	Designs uint64       `json:"designs"`
	Axes    []AxisRecord `json:"axes"`
}

// AxisRecord is one axis with its values; those of parts that exist count them from 0.
type AxisRecord struct {
	Name   string    `json:"name"`
	Unit   string    `json:"unit"`
	Values []float64 `json:"values"`
	// Of is the axis of parts that bring the values, "" where they vary by themselves.
	Of    string       `json:"of,omitempty"`
	Parts *PartsRecord `json:"parts,omitempty"` // nil for an axis of numbers
}

// ClassRecord is a weight class.
type ClassRecord struct {
	Label string `json:"label"`
	Note  string `json:"note"`
	Limit Number `json:"limit"`
}

// GateRecord is what designs are checked for.
type GateRecord struct {
	Name         string `json:"name"`
	*BoundRecord        // nil where the gate is no requirement
}

// BoundRecord is the bound of a requirement.
type BoundRecord struct {
	AtLeast bool   `json:"at_least"`
	Bound   Number `json:"bound"`
	Default bool   `json:"default"`
}

// TermRecord is one term of the merit.
type TermRecord struct {
	Metric string  `json:"metric"`
	Weight float64 `json:"weight"`
	Worst  Number  `json:"worst"`
	Best   Number  `json:"best"`
}

// ResultRecord is what was found.
type ResultRecord struct {
	Complete *bool   `json:"complete"` // nil where the file is no record of a run
	Done     uint64  `json:"done"`
	Share    float64 `json:"share"` // of the designs
	// of each diameter in every class, and nil where all were
	Judged   []JudgedRecord `json:"judged,omitempty"`
	Classes  []FoundRecord  `json:"classes"`
	Warnings []string       `json:"warnings"`
	LeftOut  []string       `json:"figures_left_out"`
}

// FoundRecord is what was found in a class.
type FoundRecord struct {
	Class    string           `json:"class"`
	Rejected []RejectedRecord `json:"rejected"` // by gate
	Feasible uint64           `json:"feasible"`
	Best     *DesignRecord    `json:"best"`
	// where there is no best: what came nearest, and its shortfall
	Nearest   *string         `json:"nearest,omitempty"`
	ByPayload []*DesignRecord `json:"by_payload,omitempty"` // nil where no design carries the payload
	Leaders   []LeaderRecord  `json:"leaders"`              // of the diameters
	Ranking   []DesignRecord  `json:"ranking,omitzero"`     // its beginning, on a terminal alone
	Decision  *DecisionRecord `json:"decision,omitempty"`   // nil for none
	Rest      *RestRecord     `json:"rest,omitempty"`       // nil where all designs were judged
}

// JudgedRecord is how many designs of a diameter were judged.
type JudgedRecord struct {
	Diameter Number  `json:"diameter"`
	Designs  uint64  `json:"designs"`
	Share    float64 `json:"share"` // of those of the diameter
}

// RestRecord estimates how much better than the best the designs may be that were not judged.
type RestRecord struct {
	Chance float64  `json:"chance"`         // that one is better
	Gain   *float64 `json:"gain,omitempty"` // of merit, in the mean; nil where too little was judged to tell
	Most   *float64 `json:"most,omitempty"` // in nine of ten runs
}

// RejectedRecord counts the designs that a gate has rejected.
type RejectedRecord struct {
	Gate    string   `json:"requirement"`
	Designs uint64   `json:"designs"`
	In      []uint64 `json:"by_scenario,omitempty"` // each in the first in which it fails; nil for one alone
}

// DesignRecord is one design with its metrics.
type DesignRecord struct {
	Rank     int            `json:"rank,omitempty"` // from 1; 0 where it was not asked for
	Index    uint64         `json:"index"`
	Merit    float64        `json:"merit"`
	Scenario int            `json:"scenario,omitempty"` // from 1, that all of it is told in; 0 where there is one alone
	Parts    []NamedPart    `json:"parts,omitempty"`    // that exist
	Inputs   Named[float64] `json:"inputs"`
	Metrics  Named[float64] `json:"metrics"`
	Warnings []string       `json:"warnings"`
	Outside  []string       `json:"outside,omitempty"`  // the same in few words, in their order
	AtLeast  []string       `json:"at_least,omitempty"` // metrics that may be more
}

// NamedPart is a part of a design that exists.
type NamedPart struct {
	Kind string `json:"kind"` // "motor"
	Name string `json:"name"`
}

// LeaderRecord is the best design of a diameter, with what charts of size show of it.
type LeaderRecord struct {
	Diameter Number         `json:"diameter"`
	Index    uint64         `json:"index"`
	Merit    float64        `json:"merit"`
	Scenario int            `json:"scenario,omitempty"` // as of a design
	Metrics  Named[float64] `json:"metrics"`
}

// OriginRecord is how the run came about: what merges shards has no workers, and its
// time is that of joining them.
type OriginRecord struct {
	Started string      `json:"started"` // RFC 3339, UTC
	Elapsed Number      `json:"elapsed"`
	Workers int         `json:"workers,omitempty"`
	Merged  bool        `json:"merged,omitempty"`
	Audit   AuditRecord `json:"audit"`
	Host    string      `json:"host"`
	System  string      `json:"system"`
}

// AuditRecord is the self-audit of the run. What is checked depends on what was found
// when, so that it stands with the timings.
type AuditRecord struct {
	Checked  uint64        `json:"checked"`         // designs
	Breaches uint64        `json:"breaches"`        // bounds that did not hold
	First    *BreachRecord `json:"first,omitempty"` // of the lowest index
}

// BreachRecord is a bound that did not hold.
type BreachRecord struct {
	Index    uint64   `json:"index"`              // of the design
	Scenario int      `json:"scenario,omitempty"` // its number; none of a study of one
	Metric   string   `json:"metric"`
	AtLeast  bool     `json:"at_least"` // otherwise at most
	Bound    Quantity `json:"bound"`    // null for not finite
	Value    Quantity `json:"value"`
}

// DumpRecord is where every feasible design is kept, and how much of it was there.
type DumpRecord struct {
	Folder string  `json:"folder"` // from that of the report, with slashes, or an absolute path
	Merit  float64 `json:"merit_at_least"`
	Files  uint64  `json:"files"`
	Of     uint64  `json:"files_of_all"`
	Rows   uint64  `json:"rows"`
	Bytes  uint64  `json:"bytes"`
	SHA256 string  `json:"sha256,omitempty"` // of what sha256sum prints of the files by name; "" of a part
}

// FileRecord is what the record says of a file.
type FileRecord struct {
	Name   string `json:"name"` // in the report's folder, with slashes
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// Valued is a value with the symbol of its unit, "" for a pure number.
type Valued[T any] struct {
	Value T      `json:"value"`
	Unit  string `json:"unit"`
}

// Number is a number with its unit.
type Number = Valued[float64]

// Quantity is a value with its unit: a number, or null for one that is not finite.
type Quantity = Valued[any]

// Named are values by name, in an order that JSON keeps.
type Named[T any] []namedValue[T]

type namedValue[T any] struct {
	Name string
	Valued[T]
}

// Add appends a value.
func (n *Named[T]) Add(name string, v T, symbol string) {
	*n = append(*n, namedValue[T]{name, Valued[T]{v, symbol}})
}

// Of is the value of a name, and whether there is one.
func (n Named[T]) Of(name string) (v T, ok bool) {
	if i := slices.IndexFunc(n, func(x namedValue[T]) bool { return x.Name == name }); i >= 0 {
		return n[i].Value, true
	}
	return v, false
}

// MarshalJSON writes an object whose members stand in their order.
func (n Named[T]) MarshalJSON() ([]byte, error) {
	o := make(Object, len(n))
	for i, x := range n {
		o[i] = Member{x.Name, x.Valued}
	}
	return o.MarshalJSON()
}

// UnmarshalJSON reads an object in the order of its members.
func (n *Named[T]) UnmarshalJSON(text []byte) error {
	*n = nil
	d := json.NewDecoder(bytes.NewReader(text))
	switch t, err := d.Token(); {
	case err != nil:
		return err
	case t == nil: // null
		return nil
	case t != json.Delim('{'):
		return fmt.Errorf("%v where an object is wanted", t)
	}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return err
		}
		var v Valued[T]
		if err := d.Decode(&v); err != nil {
			return err
		}
		key, _ := name.(string) // as all are
		n.Add(key, v.Value, v.Unit)
	}
	_, err := d.Token() // }
	return err
}

// ParseRecord reads a record, and refuses what is none and one of another format.
func ParseRecord(text []byte) (*RunRecord, error) {
	r := new(RunRecord)
	err := json.Unmarshal(text, r)
	known := r.Result.Complete != nil && len(r.Study.Classes) > 0
	switch {
	case r.Format > RecordFormat:
		return nil, fmt.Errorf("is of format %d, and this version reads %d: want the version that wrote it, %s",
			r.Format, RecordFormat, cmp.Or(texts.OneLine(r.Program.Version), "which it does not name"))
	case known && r.Format < RecordFormat:
		return nil, fmt.Errorf("is of an earlier format, and this version reads %d: want the study run again, "+
			"from the %s beside it", RecordFormat, FlagsName)
	case err != nil:
		return nil, fmt.Errorf("%w, want the record of a finished run", err)
	case !known:
		return nil, errors.New("is not the record of a run, want the folder of a finished run")
	}
	return r, nil
}
