package decide

// Stage is a part of a choice.
type Stage int

// Stages of the choice in a class, in their order.
const (
	Planning   Stage = iota // the capacity that is best by the nominal model
	FirstDraws              // all candidates
	MoreDraws               // the best of them
	Weighing                // in which range of weights the first stays first
	Loosening               // bounds, one by one
	Telling                 // what is told of builds on fresh draws
	Moving                  // sources of error and assumptions, one by one
	Measuring               // what is worth it, and what it will come to
	Stages
)

var stageNames = [Stages]string{"planning", "first draws", "more draws", "weighing", "loosening", "telling", "moving",
	"measuring"}

func (s Stage) String() string { return stageNames[s] }

// Work is how much a stage does of what takes time, or is foretold to.
type Work struct {
	Solved int // propellers, by the nominal models
	Traced int // propellers whose flight was traced for draws
	Draws  int // that propellers were taken into, by lots of propellers
	Varied int // propellers taken into a draw, once for each of its draws
	Builds int // builds in draws
	Packs  int // that were put on a build in a draw
}

// Works are those of all stages.
type Works [Stages]Work

// begin notes that what is done from here on is of a stage, and tells of the one before.
func (r *runner) begin(s Stage) {
	if r.stage = s; r.staged != nil {
		r.staged(s)
	}
}

// count adds what has been done to the work of the stage.
func (r *runner) count(w Work) {
	r.mu.Lock()
	defer r.mu.Unlock()
	t := &r.works[r.stage]
	t.Solved += w.Solved
	t.Traced += w.Traced
	t.Draws += w.Draws
	t.Varied += w.Varied
	t.Builds += w.Builds
	t.Packs += w.Packs
}
