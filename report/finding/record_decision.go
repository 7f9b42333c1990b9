package finding

// DrawsRecord is what draws a decision rests on.
type DrawsRecord struct {
	Draws      int      `json:"draws"` // of the choice
	Fresh      int      `json:"fresh"` // of what is told of builds
	Seed       uint64   `json:"seed"`
	ByThrottle []string `json:"by_throttle"` // metrics of requirements that the pilot keeps
}

// DecisionRecord is what the draws make of a class. Shares are of the fresh draws.
type DecisionRecord struct {
	Judged        int                 `json:"judged"` // builds
	Recommended   *BuildRecord        `json:"recommended"`
	PlannedAUW    *float64            `json:"planned_auw,omitempty"` // of the recommended, kg, by the nominal model
	Nominal       *BuildRecord        `json:"nominal"`               // nil where it was not drawn
	Surest        *BuildRecord        `json:"surest"`
	Tied          []string            `json:"tied"` // builds that are not told from the recommended one
	Line          []LineRecord        `json:"line"`
	Axes          []AgainstRecord     `json:"axes"` // those that were swept
	Worth         []WorthRecord       `json:"worth"`
	Sensitivities []SensitivityRecord `json:"sensitivities"` // the largest
	// Drawn is the merit of the recommended build in each of the first fresh draws, 0 in
	// one that fails: two runs with the same draws are paired by it.
	Drawn []float64 `json:"drawn"`
}

// QuantilesRecord are quantiles over the draws; nil for one that is not finite.
type QuantilesRecord struct {
	P10  *float64 `json:"p10"`
	P50  *float64 `json:"p50"`
	P90  *float64 `json:"p90"`
	Unit string   `json:"unit"`
}

// NamedQuantiles are those of a metric.
type NamedQuantiles struct {
	Name string `json:"metric"`
	QuantilesRecord
}

// BuildRecord is a build over the draws, with the design that was planned of it.
type BuildRecord struct {
	Build      string           `json:"build"` // its name
	Index      uint64           `json:"index"` // of the planned design
	Rank       int              `json:"rank"`
	Inputs     Named[float64]   `json:"inputs"` // of the planned design
	Filled     bool             `json:"filled"` // the class limit holds the pack
	Feasible   float64          `json:"p_feasible"`
	Cause      string           `json:"cause"`       // requirement that most draws break; "" for none
	CauseShare float64          `json:"cause_share"` // of all draws, whatever else they do
	Cautious   float64          `json:"cautious"`
	Planned    float64          `json:"nominal_merit"`
	Merit      QuantilesRecord  `json:"merit"`
	Regret     float64          `json:"regret"`
	Tied       bool             `json:"tied"`
	Pack       QuantilesRecord  `json:"pack"`
	Metrics    []NamedQuantiles `json:"metrics"` // of the merit
}

// LineRecord is the best that can be had at a P(feasible); nil where no build has as much.
type LineRecord struct {
	Feasible float64  `json:"p_feasible"`
	Build    *string  `json:"build"`
	Cautious *float64 `json:"cautious"`
	Median   *float64 `json:"median"`
}

// AgainstRecord holds each value of an axis against the recommended build.
type AgainstRecord struct {
	Axis   string        `json:"axis"`
	Unit   string        `json:"unit"`
	Values []ValueRecord `json:"values"`
}

// ValueRecord is the best build of a value against the recommended one.
type ValueRecord struct {
	Value  float64         `json:"value"`
	Build  *string         `json:"build"` // nil where no candidate has the value; then nothing follows
	Paired *StandingRecord `json:"against,omitempty"`
}

// StandingRecord is how a build stands against the recommended one, draw by draw.
type StandingRecord struct {
	Ahead      float64 `json:"ahead"`
	Level      float64 `json:"level"`
	Behind     float64 `json:"behind"`
	Better     float64 `json:"p_better"`
	Difference float64 `json:"difference"`
	Standard   float64 `json:"se"`
	Loss       float64 `json:"behind_mean"`
}

// WorthRecord is something worth measuring.
type WorthRecord struct {
	What    string  `json:"what"`
	Another string  `json:"another,omitempty"` // of a pair
	Build   string  `json:"build"`
	Class   string  `json:"class"`
	Gain    float64 `json:"gain"`
	Noise   float64 `json:"noise"`
}

// SensitivityRecord is what a source of error moves of the recommended build.
type SensitivityRecord struct {
	Name       string   `json:"name"`
	Meaning    string   `json:"meaning"`
	Assumption bool     `json:"assumption"`
	Low        *float64 `json:"low"` // merit a sigma below; nil of an assumption
	High       float64  `json:"high"`
	LowSize    *float64 `json:"low_diameter"` // m; nil of an assumption
	HighSize   float64  `json:"high_diameter"`
}

// ShownSensitivities is how many a record tells of.
const ShownSensitivities = 10
