package sweep

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"rotorsieve/model"
)

// Fingerprint names the computation: the SHA-256, in hexadecimal, of a canonical
// text of all that its numbers depend on, the version of the model among it.
// Names, labels, workers and folders are not part of it.
func (s *Study) Fingerprint() string {
	sum := sha256.New()
	line := func(format string, args ...any) { fmt.Fprintf(sum, format+"\n", args...) }
	line("model %s", model.Version)
	for _, a := range s.Grid.Axes() {
		if a.Of != nil {
			continue
		}
		line("axis %s %v", a.Def.Name, a.Values)
		for _, r := range a.Def.rows {
			line("part %s", r.text)
		}
	}
	for _, m := range s.Models() {
		assume := m.Assume
		line("grade %s", assume.PackGrade.Name)
		assume.PackGrade = nil // a pointer prints as an address
		line("evidence %s", assume.Evidence)
		assume.Evidence = nil
		line("assume %+v", assume)
	}
	if len(s.Others) > 0 {
		line("over %v", s.Over)
	}
	if p := s.Model.Parameters(); p != model.Nominal() {
		line("parameters %v", p)
	}
	for _, k := range s.Classes {
		line("class %v", k.Limit)
	}
	for _, q := range s.Require {
		line("require %s %v %v", q.Metric.FirstName(), q.AtLeast, q.Bound)
	}
	for _, t := range s.Merit {
		line("merit %s %v %v %v", t.Metric.FirstName(), t.Weight, t.Worst, t.Best)
	}
	for _, m := range s.Maps {
		line("map %s", m.named((*model.Metric).FirstName))
	}
	for _, m := range s.Front {
		line("front %s", m.FirstName())
	}
	line("keep %d %d", s.Top, s.SizeBins)
	if s.Nominal {
		line("no candidates")
	}
	return hex.EncodeToString(sum.Sum(nil))
}
