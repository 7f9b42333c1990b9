package words

import (
	"fmt"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

// RunMark is what must be said of a run wherever its results are shown, "" for nothing:
// that it did not judge the whole grid, or that its self-audit failed.
func RunMark(r *finding.Run) string {
	var marks []string
	if m := incompleteMark(r); m != "" {
		marks = append(marks, m)
	}
	if a := &r.Result.Audit; a.Breaches > 0 {
		marks = append(marks, fmt.Sprintf("SELF-AUDIT FAILED: %s not kept in %s designs checked",
			texts.Plural(int(a.Breaches), "a bound", texts.Grouped(a.Breaches)+" bounds"), texts.Grouped(a.Checked)))
	}
	return strings.Join(marks, "; ")
}

// incompleteMark marks a run that did not judge the whole grid: "INCOMPLETE: 41.2 %
// of the designs judged". It is "" for one that did.
func incompleteMark(r *finding.Run) string {
	if r.Result.Complete {
		return ""
	}
	return fmt.Sprintf("INCOMPLETE: %s %% of the designs judged", DoneShare(r.Result.Done, r.Study.Grid.Size()))
}

// DoneShare is rounded down, so that nothing unfinished reads 100.
func DoneShare(done, size uint64) string {
	permille := uint64(float64(done) / float64(size) * 1000)
	if done < size {
		permille = min(permille, 999)
	}
	return fmt.Sprintf("%d.%d", permille/10, permille%10)
}
