package table

import "strings"

// Nearest finds the candidate that a mistyped name most likely means: the one
// of which it is the start, or the one with the smallest edit distance, up to
// a third of the name's length. The earlier candidate wins a tie.
func Nearest(name string, candidates []string) (string, bool) {
	typed := strings.ToLower(name)
	best, least := "", max(1, len(typed)/3)+1
	for _, c := range candidates {
		d := distance(typed, strings.ToLower(c))
		if len(typed) >= 3 && strings.HasPrefix(c, typed) {
			d = min(d, 1)
		}
		if d < least {
			best, least = c, d
		}
	}
	return best, best != ""
}

// distance is the number of bytes to insert, delete or replace to make b of a
// (V.I. Levenshtein, Binary Codes Capable of Correcting Deletions, Insertions
// and Reversals, 1966, from memory).
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			d := diagonal
			if a[i] != b[j] {
				d++
			}
			diagonal = row[j+1]
			row[j+1] = min(d, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
