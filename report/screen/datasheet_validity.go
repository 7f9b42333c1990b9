package screen

import (
	"rotorsieve/model"
	"rotorsieve/report/words"
)

// validity prints in what a craft lies outside the limits of the model, a line each
// that begins with !, and then in what it lies beyond what was measured at its size,
// which is noted by ~.
func (s *dataSheet) validity(c *model.Craft) {
	marks := c.Warnings()
	if len(marks) == 0 {
		s.line("  within the limits of the model")
	}
	for _, m := range marks {
		s.hung("  ! ", words.Mark(m))
	}
	for _, m := range c.Extrapolations() {
		s.hung("  ~ ", words.Mark(m))
	}
}
