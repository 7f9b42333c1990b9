package words

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// MeritSplit says what each term gives to the merit of a craft, of how much: "hover time 0.18
// of 0.40 (8.99 min) + thrust to weight 0.52 of 0.60 (9.72)".
func MeritSplit(merit sweep.Merit, c *model.Craft) string {
	sum := 0.0
	for _, t := range merit {
		sum += t.Weight
	}
	var all []string
	for _, t := range merit {
		v := t.Metric.Of(c)
		all = append(all, fmt.Sprintf("%s %.2f of %.2f (%s)", texts.Lower(t.Metric.Title), t.Weight/sum*t.Score(v),
			t.Weight/sum, t.Metric.Unit.Format(v, 3)))
	}
	return strings.Join(all, " + ")
}
