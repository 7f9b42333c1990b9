package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
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

// SoFar is what follows on all that a run has found and none was found better than, since
// not all of its designs were judged: " so far"; "" where all were.
func SoFar(r *finding.Run) string {
	if r.Result.Complete {
		return ""
	}
	return " so far"
}

// JudgedShares says which share of each diameter was judged, neighbours alike together:
// "2 in 41.2 %, 2.5 to 6 in 40.9 %".
func JudgedShares(r *finding.Run) string {
	var out []string
	var from finding.Judged
	var share string
	n := len(r.Result.Judged)
	for d := range n {
		j := r.Judged(d)
		if s := DoneShare(j.Done, j.Of); d == 0 || s != share {
			from, share = j, s
		}
		if next := d + 1; next < n {
			if j := r.Judged(next); DoneShare(j.Done, j.Of) == share {
				continue
			}
		}
		out = append(out, Diameters(finding.Stretch{From: from.Diameter, To: j.Diameter})+" "+share+" %")
	}
	return strings.Join(out, ", ")
}

// Rest says what the designs of a class that were not judged may hold, with something
// feasible found or not.
func Rest(e sweep.Rest, found bool) string {
	if !found {
		return "whether the designs not judged hold a feasible one is not told"
	}
	text := "a better design is left with a chance of " + chance(e.Chance)
	if e.Blocks == 0 {
		return text + "; by how much is not told, too little was judged"
	}
	return text + fmt.Sprintf("; estimated gain of merit %s in the mean, at most %s in nine of ten runs",
		gained(e.Typical), gained(e.Most))
}

// chance is a probability in per cent, certain neither way.
func chance(p float64) string {
	switch percent := 100 * p; {
	case percent < 1:
		return "< 1 %"
	case percent > 99:
		return "> 99 %"
	default:
		return fmt.Sprintf("%.0f %%", percent)
	}
}

// gained is a gain of merit to about the digits that an estimate deserves.
func gained(v float64) string {
	if v < 0.0001 {
		return "< 0.0001"
	}
	return strconv.FormatFloat(v, 'f', max(2, 1-int(math.Floor(math.Log10(v)))), 64)
}

// NoneKeeps says that no design is feasible.
func NoneKeeps(r *finding.Run) string {
	if r.Result.Complete {
		return "No design of the grid keeps every requirement"
	}
	return "No design judged so far keeps every requirement"
}
