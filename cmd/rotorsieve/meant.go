package main

import (
	"strings"

	"rotorsieve/model/table"
)

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
		c, ok := table.Nearest(name, candidates)
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
