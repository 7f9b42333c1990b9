package main

import (
	"strings"
)

// likeliest finds the candidate that a mistyped name most likely means: the one
// of which it is the start, or the one with the smallest edit distance, up to
// a third of the name's length. The earlier candidate wins a tie.
func likeliest(name string, candidates []string) (string, bool) {
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

// mostMeant is the number of candidates that a question may offer.
const mostMeant = 8

// meant asks for what a mistyped name most likely means: all candidates that
// have it as one of their words, up to mostMeant of them, or the likeliest. prefix is
// set before each. It is empty where nothing is near.
func meant(name, prefix string, candidates []string) string {
	var likely []string
	typed := strings.ToLower(name)
	for _, c := range candidates {
		if len(typed) >= 3 && strings.Contains("-"+c+"-", "-"+typed+"-") {
			likely = append(likely, prefix+c)
		}
	}
	if len(likely) == 0 || len(likely) > mostMeant {
		c, ok := likeliest(name, candidates)
		if !ok {
			return ""
		}
		likely = []string{prefix + c}
	}
	question := strings.Join(likely, ", ")
	if last := len(likely) - 1; last > 0 {
		question = strings.Join(likely[:last], ", ") + " or " + likely[last]
	}
	return "did you mean " + question + "?"
}

// wanted says what would be right in place of a name: what it most likely means,
// or all candidates.
func wanted(name string, candidates []string) string {
	if q := meant(name, "", candidates); q != "" {
		return q
	}
	return "want one of " + strings.Join(candidates, ", ")
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
