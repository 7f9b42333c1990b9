package words

import (
	"fmt"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// stretched prints both ends of a range, or the one value: "1500-1600".
func stretched(u unit.Unit, of finding.Ends, digits int) string {
	from, to := u.Number(of.Least, digits), u.Number(of.Most, digits)
	if from == to {
		return from
	}
	return from + "-" + to
}

// AlikeKV is the KV of alike designs: "1500-1600".
func AlikeKV(a *finding.Alike) string { return stretched(sweep.KV.Unit, a.KV, 5) }

// AlikePack is their capacity in mAh: "650-700".
func AlikePack(a *finding.Alike) string { return stretched(finding.MAh, a.Capacity, 6) }

// AlikeStators are their stators, the best first: "2306,2207".
func AlikeStators(a *finding.Alike) string {
	all := Each(a.Stators, func(code float64) string { return unit.Stator.SI().Format(code, 6) })
	if len(all) > 2 {
		all = append(all[:1], "+"+strconv.Itoa(len(all)-1))
	}
	return strings.Join(all, ",")
}

// AlikeNote says what a table of alike designs shows: how many it stands for and where the
// rest is.
func AlikeNote(lines []finding.Alike) string {
	n := 0
	for i := range lines {
		n += len(lines[i].Ranks)
	}
	if n == len(lines) {
		return ""
	}
	return fmt.Sprintf("a line stands for alike designs, %s in all: stator, KV and pack within %.0f %% of its best, "+
		"whose numbers it has; each is in %s", texts.Grouped(uint64(n)), 100*finding.AlikeShare, finding.RankingName)
}

// Ranges are what the n-th metric that is told of builds comes to over the draws, P10 to P90, in
// the unit in which it is shown: "7.4-10.1"; "-" of a build that has it in no draw.
func Ranges(m *model.Metric, builds []*decide.Build, n int) []string {
	var ends []float64
	for _, b := range builds {
		if n < len(b.Metrics) {
			ends = append(ends, b.Metrics[n].P10, b.Metrics[n].P90)
		}
	}
	decimals := KnownDecimals(m, ends)
	return Each(builds, func(b *decide.Build) string {
		if n >= len(b.Metrics) || !finding.Finite(b.Metrics[n].P10) || !finding.Finite(b.Metrics[n].P90) {
			return "-"
		}
		from := strconv.FormatFloat(m.Unit.FromSI(b.Metrics[n].P10), 'f', decimals, 64)
		to := strconv.FormatFloat(m.Unit.FromSI(b.Metrics[n].P90), 'f', decimals, 64)
		if from == to {
			return from
		}
		return from + "-" + to
	})
}
