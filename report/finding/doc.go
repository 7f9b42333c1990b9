// Package finding tells what is true of a result, as typed values: the best designs
// evaluated, leads and ties, bounds that hold a design, what came nearest, knees, what
// differs between finished runs. It reads finished runs back, and holds the record of
// a run, run.json. It has no sentences and draws nothing: package words phrases each
// finding once, and figure, sheet and screen show them.
//
// It computes no physics: every number comes from the model's registry of metrics, in
// SI units (KV in rpm/V).
package finding
